#include "web/screens/reaction_view.hpp"

#include "core/words/observe_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/reaction_parts.hpp"
#include "web/screens/signs_view.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>
#include <cmath>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Typed;
using ui::Ui;

using namespace reaction_parts;
std::optional<ReactionView::Wish> ReactionView::take_wish() {
    auto out = std::move(wish_);
    wish_.reset();
    return out;
}

void ReactionView::reset() { *this = {}; }

void ReactionView::scan_leaked(const WallClock& wall) {
    if (edit_ == Edit::rate)
        rate_.start(rate_.kind, rate_.whole, rate_.places, rate_before_);
    else if (editing())
        time_.give_back(wall);
}

void ReactionView::note(EventKind event, Facts facts, std::optional<Instant> at, std::vector<std::int32_t> replaces) {
    wish_ = Wish{Wish::Kind::note, event, std::move(facts), at, std::move(replaces)};
}

void ReactionView::edit_time(Ui& ui, Edit what, std::optional<Instant> current, const Shown& shown) {
    edit_ = what;
    time_.start(current, shown.wall);
    ui.change_screen(false);
    ui.reveal("key.done");
}

// --- the time of something ------------------------------------------------------------------------------

float ReactionView::time(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y;
    box.w = std::min(box.w, ui.px(460));
    const std::string text = time_.shown();
    heading(ui, box, "reaction.time", ui.keep(joined({"It was at ", text.empty() ? std::string_view("--:--") : std::string_view(text)})));
    const float h = time_.height(ui);
    const Typed typed = time_.build(ui, box.cut_top(h, ui.px(ui::gap_px)), shown.now, shown.wall, "Done");
    const bool back = ui::button(ui, "reaction.time.back", box.cut_top(ui.px(ui::row_px), ui.px(ui::gap_px)), "Leave it as it is");
    if (back || typed == Typed::cancelled) {
        edit_ = Edit::nothing;
        ui.change_screen(false);
    } else if (typed == Typed::done && time_.at()) {
        const Instant at = *time_.at();
        switch (edit_) {
        case Edit::suspect:
            note(EventKind::reaction_suspected, std::monostate{}, at);
            break;
        case Edit::stop:
            note(EventKind::reaction_suspected, std::monostate{}, at, records_of(shown.log, EventKind::reaction_suspected));
            break;
        case Edit::action:
            note(EventKind::action_done,
                 facts::ActionTicked{edited_, edited_ == ActionKind::identity ? shown.log.session().identity_agrees
                                                                              : std::nullopt},
                 at,
                 records_of(shown.log, EventKind::action_done, edited_));
            break;
        case Edit::nothing:
        case Edit::rate:
            break;
        }
        edit_ = Edit::nothing;
        open_.reset();
        ui.change_screen(false);
    }
    return box.y - top;
}

// --- before ---------------------------------------------------------------------------------------------

float ReactionView::suspect(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(10);
    const Session& s = shown.log.session();
    const bool given = has_started(s) || std::any_of(s.past_units.begin(), s.past_units.end(),
                                                     [](const PastUnit& u) { return u.started.has_value(); });
    const bool runs = has_started(s) && !s.state.run.ended;
    box.cut_top(ui::paragraph(ui, "reaction.any_symptom", box, any_symptom_sentence()), gap);
    box.cut_top(ui::paragraph(ui, "reaction.what", box,
                              runs ? std::string_view("One press notes the stop at this moment, and shows what to do in the order of these rules.")
                                   : std::string_view("After the end too: one press notes it at this moment, and shows what to do in the order of these rules."),
                              Face::body, true),
                gap);
    if (edit_ == Edit::suspect) {
        box.cut_top(time(ui, box, shown), gap);
        return box.y - top;
    }
    Box row = box.cut_top(ui.px(64), gap);
    const bool may = shown.may_note && given;
    if (ui::button(ui, "reaction.earlier", row.cut_right(std::min(row.w * 0.36f, ui.px(240)), ui.px(ui::gap_px)), "At another time ...",
                   ui::Look::plain, may))
        edit_time(ui, Edit::suspect, shown.now, shown);
    else if (ui::button(ui, "reaction.suspect", row, "Suspect a reaction: stop now", ui::Look::primary, may))
        note(EventKind::reaction_suspected, std::monostate{});
    if (!given)
        box.cut_top(ui::paragraph(ui, "reaction.not_started", box, "Nothing has been given yet."), gap);
    return box.y - top;
}

float ReactionView::papers(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const Session& s = shown.log.session();
    const ReactionRules& rules = s.protocol->reaction;
    heading(ui, box, "reaction.papers", "On paper");
    const Box row = box.cut_top(ui.px(ui::row_px), gap);
    if (ui::button(ui, "reaction.report", row.cell(2, 1, 0, 0, gap), "Print the report"))
        wish_ = Wish{Wish::Kind::print_report, {}, {}, {}, {}};
    if (ui::button(ui, "reaction.slip", row.cell(2, 1, 1, 0, gap), "Print the slip", ui::Look::plain, true, "Print the slip about late symptoms"))
        wish_ = Wish{Wish::Kind::print_slip, {}, {}, {}, {}};
    std::string keep = "The report says nothing of who it is: the ward's own form adds that.";
    if (s.state.run.ended)
        keep += joined({" Keep the bag until ", clock_text(keep_bag_until(rules, *s.state.run.ended), shown.day), " (",
                        basis_text(*s.protocol, rules.keep_bag.basis), "), or longer where the blood bank asks for it."});
    box.cut_top(ui::paragraph(ui, "reaction.keep", box, keep, Face::small, true), gap);
    return box.y - top;
}

float ReactionView::build(Ui& ui, Box box, const Shown& shown) {
    const Session& s = shown.log.session();
    const float top = box.y, gap = ui.px(14);
    if (editing())
        ui.set_editing(true);
    if (!s.reaction) {
        box.cut_top(suspect(ui, box, shown), gap);
        return box.y - top;
    }
    const std::string title = joined({"Stopped at ", minute_text(*s.reaction, shown.day)});
    const std::string_view detail = "Stop first, and clamp at the patient. For trouble with airway, breathing or circulation call "
                                    "emergency help. Your own procedure goes before this list.";
    const float h = ui.line_height(Face::title) + ui.text_height(Face::body, detail, box.w - ui.px(90)) + ui.px(30);
    ui::verdict(ui, "reaction.stopped", box.cut_top(h, gap), ui::Seal::broken, title, detail);
    if (box.w >= ui.px(860)) {
        Box left = box, right = box;
        left.w = std::floor(box.w * 0.54f);
        right.cut_left(left.w + ui.px(24));
        const float from = box.y;
        left.cut_top(actions(ui, left, shown), gap);
        right.cut_top(call(ui, right, shown), gap);
        right.cut_top(restart(ui, right, shown), gap);
        right.cut_top(papers(ui, right, shown), gap);
        box.cut_top(std::max(left.y, right.y) - from);
    } else {
        box.cut_top(actions(ui, box, shown), gap);
        box.cut_top(call(ui, box, shown), gap);
        box.cut_top(restart(ui, box, shown), gap);
        box.cut_top(papers(ui, box, shown), gap);
    }
    box.cut_top(ui::paragraph(ui, "reaction.any_symptom", box, any_symptom_sentence(), Face::small, true), gap);
    return box.y - top;
}

} // namespace hangtime::screens
