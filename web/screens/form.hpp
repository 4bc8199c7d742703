#pragma once

/// The entries that belong to one action: numbers, digits, times and choices, and where they are typed. Draws, and
/// keeps what was entered until the action is noted or given up. There is no free text.

#include "core/words/format.hpp"
#include "web/widgets/keypad.hpp"
#include "web/widgets/ui.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::screens {

class Form;

struct FormField {
    enum class Kind : std::uint8_t { number, code, time, choice };
    std::string id, label, unit;
    Kind kind{};
    int whole = 4, places = 0;
    std::int64_t least = 0, most = 0; // of a number, in its last place
    std::string accepted;             // said where a number lies outside of them
    std::vector<std::string> choices;
    std::string empty{"not recorded"};
    bool needed = false;
    bool whole_row = false; // beside no other
    bool (*applies)(const Form&) = nullptr; // null: always

    // what was entered
    ui::Digits typed;
    int chosen = -1;
    std::optional<Instant> at;
    std::string refused;
};

class Form {
public:
    void clear();

    // --- what is asked for; a later change of a field that was returned is fine until the next `add` ---
    FormField& number(std::string_view id, std::string_view label, std::string_view unit, int whole, int places,
                      std::int64_t least, std::int64_t most, std::string_view accepted,
                      std::optional<std::int64_t> value = std::nullopt);
    FormField& code(std::string_view id, std::string_view label, int digits, std::string_view value = {});
    FormField& time(std::string_view id, std::string_view label, std::optional<Instant> value = std::nullopt);
    FormField& choice(std::string_view id, std::string_view label, std::vector<std::string> choices, int chosen = -1);

    FormField& last() { return fields_.back(); }

    // --- what was entered; fields that do not apply say nothing ---
    bool has(std::string_view id) const;
    std::optional<std::int64_t> number(std::string_view id) const;
    std::string_view code(std::string_view id) const;
    std::optional<Instant> time(std::string_view id) const;
    int chosen(std::string_view id) const; // -1: none
    int count(std::string_view id) const;  // of its choices
    void choose(std::string_view id, int place);
    /// Puts digits into a number, a code or a time as if they were typed.
    void put(std::string_view id, std::string_view digits);
    /// True when nothing that is needed is missing, and nothing is refused.
    bool complete() const;
    const FormField* first_missing() const;
    bool empty() const { return fields_.empty(); }
    /// True when nothing that was entered is refused.
    bool refused_nothing() const;

    // --- in a frame ---
    void tell_time(Instant now, const WallClock& wall, const DayClock& day);
    bool editing() const { return editing_ >= 0; }
    /// The entries in `columns`; returns the height that they took.
    float fields(ui::Ui& ui, ui::Box box, int columns);
    float dock_height(const ui::Ui& ui, float width) const;
    /// Keypad or choices for what is being entered. True when something was entered or given up.
    bool dock(ui::Ui& ui, ui::Box box);
    /// Opens the first field that is needed and missing; false: there is none.
    bool open_missing(ui::Ui& ui);
    void open(ui::Ui& ui, std::string_view id);
    void close(ui::Ui& ui);
    /// A scan began to be typed into the field that is open: what stood there before comes back.
    void give_back();

private:
    bool shown(const FormField& f) const { return !f.applies || f.applies(*this); }
    const FormField* find(std::string_view id) const;
    std::string value_of(const FormField& f) const;
    void take(FormField& f);
    struct Twice {
        Instant moments[2];
    };
    std::optional<Twice> twice(const FormField& f) const;
    void open_at(ui::Ui& ui, int n);
    void go_on(ui::Ui& ui);
    bool choices(ui::Ui& ui, ui::Box box, FormField& f);

    std::vector<FormField> fields_;
    int editing_ = -1;
    std::optional<FormField> before_;
    Instant now_{};
    WallClock wall_;
    DayClock day_;
};

} // namespace hangtime::screens
