#pragma once

/// One set of observations, entered in one pass: each sign in the order of a chart, Done leads to the next, and each
/// may be "not recorded". What cannot be is refused and what is unusual is asked about before the set is kept.

#include "core/observe/observation.hpp"
#include "core/words/format.hpp"
#include "web/screens/time_entry.hpp"
#include "web/widgets/keypad.hpp"
#include "web/widgets/ui.hpp"

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace hangtime::screens {

class ObserveEntry {
public:
    struct Context {
        Instant now{}; // by the charted clock
        const WallClock& wall;
        const DayClock& day;
        const Observation* baseline = nullptr; // what the values are read against; none: not recorded, or this is it
        const Observation* seen = nullptr;     // in a rehearsal: what there is to be seen
    };
    struct Taken {
        Observation set;
        std::optional<Instant> at; // none: now
    };

    /// `unit`: in which the ward charts temperatures. `old`: a set that is put right, and when it was taken.
    void open(ui::Ui& ui, std::string title, TemperatureUnit unit, const Observation* old = nullptr,
              std::optional<Instant> at = std::nullopt);
    void close(ui::Ui& ui);
    const std::string& title() const { return title_; }
    bool is_open() const { return open_; }

    /// One frame; the buttons stand in `foot`.
    void build(ui::Ui& ui, ui::Box body, ui::Box foot, const Context& context);
    /// The set, once: it stays open until it is closed, so that a refusal has its place.
    std::optional<Taken> take();
    /// The log said no.
    void refuse(std::string why) { refused_ = std::move(why); }
    /// The unit of temperature was changed: to be kept as a setting.
    std::optional<TemperatureUnit> take_unit();
    /// A scan began to be typed into the entry that is open: what stood there before comes back.
    void scan_leaked(const WallClock& wall);

    const Observation& set() const { return set_; }

private:
    static constexpr int no_place = -1, time_place = sign_count;

    bool editing() const { return place_ != no_place; }
    Sign sign() const { return static_cast<Sign>(place_); }
    void open_at(ui::Ui& ui, int place, const Context& context);
    void leave(ui::Ui& ui);
    void go_on(ui::Ui& ui, const Context& context);
    void give_back(const WallClock& wall);
    void read_digits();
    bool in_pass(Sign sign, const Context& context) const;
    std::string problem_text(Sign sign) const;

    float seen(ui::Ui& ui, ui::Box box, const Observation& what);
    float fields(ui::Ui& ui, ui::Box box, int columns, const Context& context);
    float dock_height(const ui::Ui& ui, float width) const;
    void dock(ui::Ui& ui, ui::Box box, const Context& context);
    void number(ui::Ui& ui, ui::Box box, const Context& context);
    void choices(ui::Ui& ui, ui::Box box, const Context& context);
    void symptoms(ui::Ui& ui, ui::Box box, const Context& context);
    void questions(ui::Ui& ui, ui::Box box);
    void buttons(ui::Ui& ui, ui::Box box, const Context& context, bool may_enter);

    bool open_ = false;
    std::string title_;
    TemperatureUnit unit_{};
    std::optional<TemperatureUnit> unit_wished_;
    Observation set_, before_;
    std::array<bool, sign_count> passed_{};
    int place_ = no_place;
    bool settled_ = false;   // Done was pressed on a number that cannot be: only then is a low one called so
    bool asked_ = false;     // the questions are shown
    bool start_ = false;     // the first entry is to be opened in the next frame
    ui::Digits typed_;
    TimeEntry time_;
    std::optional<Instant> at_;
    std::string refused_;
    std::optional<Taken> taken_;
};

} // namespace hangtime::screens
