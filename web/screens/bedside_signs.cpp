#include "core/words/words.hpp"
#include "web/screens/bedside.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

/// Where observations and a suspected reaction meet the session: what their screens wish is noted here.

namespace hangtime::screens {

using ui::Box;
using ui::Ui;

// It was suspected, and something of what follows from it is still to be done.
bool Bedside::reaction_stands() const {
    const Session& s = session();
    if (!s.reaction)
        return false;
    const bool held = s.state.run.paused() && s.pause_reason == PauseReason::symptoms;
    const ActionList list = action_list(s.protocol->reaction, s.actions);
    return held || std::any_of(list.begin(), list.end(), [](const ActionLine& line) { return !line.at; });
}

float Bedside::signs(Ui& ui, Box box) {
    const bool may = desk_.store().may_write() && !case_->read_only();
    const float height = signs_.build(ui, box, {case_->log, live(), day_, may});
    auto wish = signs_.take_wish();
    if (wish && wish->kind == EventKind::rule_set_chosen)
        ask(ui, wish->kind);
    else if (wish && quiet_ms(platform::now_ms()) < 0)
        note(ui, wish->kind, std::move(wish->facts));
    return height;
}

float Bedside::reaction(Ui& ui, Box box) {
    const bool may = desk_.store().may_write() && !case_->read_only();
    const float top = box.y;
    if (session().reaction)
        for (const desk::Case* other : desk_.other_lines(*case_))
            if (other->session().reaction)
                box.cut_top(ui::caution(ui, ui.keep(joined({"reaction.other.", name(other->session().object)})), box, "The other line",
                                        joined({"the ", name(other->session().object),
                                                ": it is noted as stopped as well. Stop it at the bedside, and tick its own list."})),
                            ui.px(8));
    const float height = box.y - top + reaction_.build(ui, box, {case_->log, live(), now_, wall_, day_, may});
    auto wish = reaction_.take_wish();
    if (!wish || quiet_ms(platform::now_ms()) >= 0)
        return height;
    switch (wish->kind) {
    case ReactionView::Wish::Kind::observe:
        observe(ui, facts::Observed{CheckKind::interval, 0, true, {}}, "Observations after the stop");
        break;
    case ReactionView::Wish::Kind::print_report: wishes_.report = true; break;
    case ReactionView::Wish::Kind::print_slip: wishes_.slip = true; break;
    case ReactionView::Wish::Kind::note: {
        if (!wish->at && wish->replaces.empty()) {
            note(ui, wish->event, std::move(wish->facts));
            break;
        }
        const Stated at = wish->at ? Stated{*wish->at, Precision::minute} : Stated{now_, Precision::second};
        const auto no = desk_.note(*case_, wish->event, std::move(wish->facts), at, machine_now_, std::move(wish->replaces));
        said_ = no ? why(*no) : std::string();
        ui.change_screen();
        break;
    }
    }
    return height;
}

// After a set was noted: what it shows comes first, and of a suspected reaction it is one of the actions.
void Bedside::observed(Ui& ui, Instant at) {
    const Session& s = session();
    if (s.reaction && at >= *s.reaction) {
        const bool ticked = std::any_of(s.actions.begin(), s.actions.end(),
                                        [](const ActionDone& a) { return a.kind == ActionKind::observe; });
        const auto& order = s.protocol->reaction.order;
        if (!ticked && std::find(order.begin(), order.end(), ActionKind::observe) != order.end())
            desk_.note(*case_, EventKind::action_done, facts::ActionTicked{ActionKind::observe}, {at, Precision::second}, machine_now_);
        return;
    }
    for (std::size_t i = s.sets.size(); i-- > 0;) {
        if (s.sets[i].when.at != at)
            continue;
        if (asks_to_hold(s, s.sets[i]))
            go_to(ui, Tab::signs);
        return;
    }
}

} // namespace hangtime::screens
