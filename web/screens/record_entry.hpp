#pragma once

/// Where one record of a session is entered, or one that is there is put right: what it asks for, the time at which it
/// happened, and why it is refused.

#include "core/match/label.hpp"
#include "web/desk/desk.hpp"
#include "web/screens/form.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtime::screens {

class RecordEntry {
public:
    /// What is known when it is opened, and in each frame.
    struct Context {
        const desk::Case& c;
        const std::vector<Protocol>& protocols;
        std::vector<SpokenObject> others; // of the other sessions
        Instant now{};                    // by the charted clock
        const WallClock& wall;
        const DayClock& day;
    };
    /// What belongs to it beyond its kind.
    struct About {
        Item item{};
        CheckKind check{};
        std::int32_t index = 0;
        bool extra = false;
        Rate rate{};           // that is expected
        std::string_view title = {};
        bool time_only = false; // what it says is known: `known`
        Facts known = {};
    };
    struct Wish {
        EventKind kind{};
        Facts facts;
        Stated at;
        std::vector<std::int32_t> replaces;
    };

    bool is_open() const { return open_; }
    bool editing() const { return open_ && form_.editing(); }
    EventKind kind() const { return kind_; }
    void open(ui::Ui& ui, EventKind kind, const Context& context, const About& about);
    void correct(ui::Ui& ui, const Event& event, const Context& context);
    void close(ui::Ui& ui);

    /// One frame in the body of the screen; the buttons stand in `foot`.
    void build(ui::Ui& ui, ui::Box body, ui::Box foot, const Context& context);
    std::vector<Wish> take_wishes();
    /// The log said no: it stays open, with the reason.
    void refuse(const std::string& why, std::optional<Refusal> refusal);
    void scan_leaked() { form_.give_back(); }
    /// The issue of a bag and what stands for it when a session is joined: both can be scanned.
    bool takes_label() const { return open_ && (kind_ == EventKind::issued || kind_ == EventKind::joined); }
    /// What was scanned of the bag's label, into what is asked for; nothing where it was refused. `said` is shown.
    void scanned(const LabelData* label, std::string_view said, const Context& context);

private:
    // record_fields.cpp: what is asked for
    void ask(const Context& context, const Event* old);
    void ask_order(const Context& context, const Event* old);
    void ask_person(const Context& context, const Event* old);
    void ask_equipment(const Context& context, const Event* old);
    void ask_item(const Context& context, const Event* old);
    void ask_issued(const Context& context, const Event* old);
    void ask_set(const Context& context, const facts::PrimedWith* old);
    void ask_joined(const Context& context);
    void ask_rate(const Context& context, std::string_view id, std::string_view label, std::optional<Rate> value);
    // record_facts.cpp: what was entered, as facts
    Facts facts(const Context& context) const;
    facts::Ordered ordered() const;
    facts::PrimedWith set() const;
    facts::Issued issued(const Context& context) const;
    Rate rate(const Context& context, std::string_view id) const;
    std::vector<Wish> wishes(const Context& context) const;
    void wish_joined(const Context& context, std::vector<Wish>& out) const;

    std::string note(const Context& context) const;

    bool open_ = false;
    EventKind kind_{};
    About about_;
    std::string title_;
    Form form_;
    std::int32_t replaces_ = 0; // 0: a new record
    bool keeps_ = false;
    Facts kept_;                // of a record whose facts are not entered here: its time alone is put right
    std::string refused_;
    std::string scan_said_;
    std::optional<Instant> label_expired_; // by the label; no choice of a day holds it
    bool as_it_happened_ = false; // offered after a refusal that allows for it
    std::vector<Wish> wished_;
};

} // namespace hangtime::screens
