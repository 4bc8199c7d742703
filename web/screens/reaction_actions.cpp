#include "core/words/observe_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/reaction_parts.hpp"
#include "web/screens/reaction_view.hpp"
#include "web/screens/signs_view.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/tick.hpp"

/// What is done after the stop: each action ticked with its time, and the check of identity with what it gave.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;
using namespace reaction_parts;

float ReactionView::action(Ui& ui, Box box, const Shown& shown, const ActionLine& line) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const bool checks = line.kind == ActionKind::identity;
    std::string at = line.at ? minute_text(*line.at, shown.day) : std::string();
    const std::optional<bool> agrees = shown.log.session().identity_agrees;
    if (checks && line.at)
        at += !agrees ? ", result not recorded" : *agrees ? ", all agree" : ", something differs";
    ui::Tick t;
    t.label = name(line.kind);
    t.behind = at;
    t.below = action_sentence(line.kind);
    t.ticked = line.at.has_value();
    t.next = line.next;
    t.enabled = shown.may_note;
    const std::string_view id = ui.keep(joined({"action.", code(line.kind)}));
    const bool enter = line.kind == ActionKind::observe;
    Box row = box;
    if (enter)
        row.w -= ui.px(120) + gap;
    row.h = ui::tick_height(ui, row.w, t);
    if (enter) {
        const Box side = {row.right() + gap, row.y, ui.px(120), row.h};
        if (ui::button(ui, "reaction.observe", side, "Enter them", ui::Look::plain, shown.may_note, "Enter the observations"))
            wish_ = Wish{Wish::Kind::observe, {}, {}, {}, {}};
    }
    box.cut_top(row.h, gap);
    if (ui::tick(ui, id, row, t) && shown.may_note) {
        if (!line.at && !checks) {
            note(EventKind::action_done, facts::ActionTicked{line.kind, {}});
        } else {
            open_ = open_ == line.kind ? std::nullopt : std::optional(line.kind);
            edit_ = Edit::nothing;
            ui.change_screen(false);
        }
    }
    // The check of identity is done with what it gave: one of two, each with its own button.
    if (checks && (!line.at || !agrees))
        box.cut_top(identity(ui, box, shown), gap);
    if (checks && agrees == false)
        box.cut_top(ui::caution(ui, "identity.stop", box, "Wrong bag?", identity_differs_sentence()), gap);
    if (open_ != line.kind || !line.at)
        return box.y - top;
    Box inner = box;
    inner.cut_left(ui.px(24));
    const float from = inner.y;
    const bool stop = line.kind == ActionKind::stop;
    if (edit_ == (stop ? Edit::stop : Edit::action) && (stop || edited_ == line.kind)) {
        inner.cut_top(time(ui, inner, shown), gap);
    } else {
        const Box buttons = inner.cut_top(ui.px(ui::row_px), gap);
        if (ui::button(ui, "action.time", buttons.cell(2, 1, 0, 0, gap), "Change its time", ui::Look::plain, shown.may_note)) {
            edited_ = line.kind;
            edit_time(ui, stop ? Edit::stop : Edit::action, line.at, shown);
        }
        if (!stop && ui::button(ui, "action.undo", buttons.cell(2, 1, 1, 0, gap), "Not done after all", ui::Look::plain, shown.may_note)) {
            open_.reset();
            note(EventKind::withdrawn, facts::Numbers{every_record_of(shown.log, line.kind)});
        }
    }
    box.cut_top(inner.y - from);
    return box.y - top;
}

float ReactionView::identity(Ui& ui, Box box, const Shown& shown) {
    const float gap = ui.px(ui::gap_px);
    Box row = box;
    row.cut_left(ui.px(24));
    row.h = ui.px(56);
    std::optional<bool> gave;
    if (ui::button(ui, "identity.agrees", row.cell(2, 1, 0, 0, gap), "All agree", ui::Look::plain, shown.may_note))
        gave = true;
    if (ui::button(ui, "identity.differs", row.cell(2, 1, 1, 0, gap), "Something differs", ui::Look::plain, shown.may_note))
        gave = false;
    if (!gave)
        return row.h;
    open_.reset();
    note(EventKind::action_done, facts::ActionTicked{ActionKind::identity, gave});
    return row.h;
}

float ReactionView::actions(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y;
    const Session& s = shown.log.session();
    const ReactionRules& rules = s.protocol->reaction;
    heading(ui, box, "reaction.actions", "What to do, in the order of these rules; tick in any order");
    for (const ActionLine& line : action_list(rules, s.actions))
        box.cut_top(action(ui, box, shown, line), 0);
    box.cut_top(ui::paragraph(ui, "reaction.order_from", box, joined({"This order: ", basis_text(*s.protocol, rules.order_basis), "."}),
                              Face::small, true),
                ui.px(8));
    return box.y - top;
}

} // namespace hangtime::screens
