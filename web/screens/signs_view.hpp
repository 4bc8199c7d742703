#pragma once

/// What was observed, against the baseline: each sign over time on one picture, what changed and by which rule, what
/// could not be compared, the early-warning score beside it, and slowing down where there are signs of overload. It
/// never says that there is no reaction.

#include "core/observe/change.hpp"
#include "core/reckon/live.hpp"
#include "core/session/log.hpp"
#include "core/words/format.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string_view>

namespace hangtime::screens {

class SignsView {
public:
    struct Shown {
        const Log& log;
        const Live& live;
        const DayClock& day;
        bool may_note = true; // false: the session can only be read
    };
    struct Wish {
        EventKind kind{}; // reaction_suspected or ceiling_lowered: to be noted now; rule_set_chosen: to be entered
        Facts facts;
    };

    /// Returns the height that it took; it stands in a part that scrolls.
    float build(ui::Ui& ui, ui::Box box, const Shown& shown);
    std::optional<Wish> take_wish();
    /// Whether the button that suspects a reaction stood there in the last frame.
    bool offers_to_stop() const { return offers_to_stop_; }

private:
    float hold(ui::Ui& ui, ui::Box box, const Shown& shown);
    float rules(ui::Ui& ui, ui::Box box, const Shown& shown);
    float slow(ui::Ui& ui, ui::Box box, const Shown& shown);
    float picture(ui::Ui& ui, ui::Box box, const Shown& shown);
    float sets(ui::Ui& ui, ui::Box box, const Shown& shown);

    std::optional<Wish> wish_;
    bool offers_to_stop_ = false;
};

/// One prompt with its figures, and below it the rule that is met and where that is from. Returns its height.
float prompt_lines(ui::Ui& ui, ui::Box box, std::string_view id, const ChangeRules& by, const Prompt& prompt,
                   const Observation& baseline, const Observation& now);
/// "published: Title (2018)" or "common practice, no source"
std::string basis_text(const Protocol& protocol, const Basis& basis);
/// What no longer fits, or that it still does, after the rate was lowered; empty where nothing can be told.
std::string fit_text(const Live& live, const DayClock& day);

} // namespace hangtime::screens
