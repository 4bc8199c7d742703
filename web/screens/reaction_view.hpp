#pragma once

/// A suspected reaction: one press stops the clock of delivery and shows what to do, stop first; each action is ticked
/// in any order with its time. Beside it what the call needs, what the case definitions would ask, when observations
/// fall due, and whether what was stopped may go on, which is never this tool's word. No treatment, no drugs, no doses.

#include "core/observe/reaction.hpp"
#include "core/reckon/live.hpp"
#include "core/session/log.hpp"
#include "core/words/format.hpp"
#include "web/screens/time_entry.hpp"
#include "web/widgets/keypad.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::screens {

class ReactionView {
public:
    struct Shown {
        const Log& log;
        const Live& live;
        Instant now{}; // by the charted clock
        const WallClock& wall;
        const DayClock& day;
        bool may_note = true; // false: the session can only be read
    };
    struct Wish {
        enum class Kind : std::uint8_t { note, observe, print_report, print_slip };
        Kind kind{};
        EventKind event{};         // of `note`
        Facts facts;
        std::optional<Instant> at; // none: now
        std::vector<std::int32_t> replaces;
    };

    /// Returns the height that it took; it stands in a part that scrolls.
    float build(ui::Ui& ui, ui::Box box, const Shown& shown);
    std::optional<Wish> take_wish();
    /// True while something is typed: a scan is then kept from it by its owner.
    bool editing() const { return edit_ != Edit::nothing; }
    void scan_leaked(const WallClock& wall);
    /// Another session is shown, or it was noted: nothing stays open.
    void reset();

private:
    enum class Edit : std::uint8_t { nothing, suspect, stop, action, rate };

    float suspect(ui::Ui& ui, ui::Box box, const Shown& shown);
    float actions(ui::Ui& ui, ui::Box box, const Shown& shown);
    float action(ui::Ui& ui, ui::Box box, const Shown& shown, const ActionLine& line);
    float identity(ui::Ui& ui, ui::Box box, const Shown& shown);
    float time(ui::Ui& ui, ui::Box box, const Shown& shown);
    float call(ui::Ui& ui, ui::Box box, const Shown& shown);
    float restart(ui::Ui& ui, ui::Box box, const Shown& shown);
    float going_on(ui::Ui& ui, ui::Box box, const Shown& shown);
    float papers(ui::Ui& ui, ui::Box box, const Shown& shown);
    void edit_time(ui::Ui& ui, Edit what, std::optional<Instant> current, const Shown& shown);
    void note(EventKind event, Facts facts, std::optional<Instant> at = {}, std::vector<std::int32_t> replaces = {});
    std::optional<Rate> rate(const Device& device) const;
    std::string rate_problem(const Shown& shown) const;

    std::optional<Wish> wish_;
    Edit edit_ = Edit::nothing;
    ActionKind edited_{};
    std::optional<ActionKind> open_; // the ticked action whose time can be changed
    TimeEntry time_;
    ui::Digits rate_;
    std::string rate_before_;
    std::optional<Role> role_;
};

} // namespace hangtime::screens
