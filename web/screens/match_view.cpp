#include "web/screens/match_view.hpp"

#include "core/match/look.hpp"
#include "core/match/match_text.hpp"
#include "core/words/match_words.hpp"
#include "web/screens/match_parts.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>
#include <string>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr float between_px = 12;
constexpr float same_px = 56;     // as high as the primary action of the other screens
constexpr float narrow_px = 560; // below it the two buttons stand one above the other

ui::Seal seal_of(MatchStanding standing) {
    switch (standing) {
    case MatchStanding::passed: return ui::Seal::whole;
    case MatchStanding::differed: return ui::Seal::broken;
    case MatchStanding::interrupted:
    case MatchStanding::stale: return ui::Seal::thin;
    case MatchStanding::not_begun:
    case MatchStanding::under_way: return ui::Seal::none;
    }
    return ui::Seal::broken;
}

// Another unit than the tag's, or one that nothing makes fit.
bool stops(const MatchView::Shown& shown) {
    if (shown.unit != nullptr && shown.unit->unit == Agreement::differs)
        return true;
    return shown.compatibility != nullptr && shown.compatibility->overall.is == Compatible::no &&
           !may_be_waived(shown.compatibility->overall.why);
}

} // namespace

bool MatchView::take_wish_to_read() {
    const bool out = wish_to_read_;
    wish_to_read_ = false;
    return out;
}

std::optional<bool> MatchView::take_says() {
    const auto out = says_;
    says_.reset();
    return out;
}

std::optional<MatchView::Wish> MatchView::take_wish() {
    const auto out = wish_;
    wish_.reset();
    return out;
}

void MatchView::build(Ui& ui, Box box, Box foot, const Shown& shown) {
    // Who it is is asked first, in the body, with buttons of its own: it has the room of the foot too.
    const bool asks_who = shown.asks_who && !stops(shown);
    if (asks_who && foot.y >= box.bottom())
        box.h = foot.bottom() - box.y;
    Box at = ui.begin_scroll("match.scroll", box);
    const float top = at.y, gap = ui.px(20);
    at.h = 1e6f;
    at.w -= ui.px(14); // beside the bar that shows how far it is scrolled
    ui.note({.id = "match.title",
             .label = "Match the bag to the person",
             .role = ui::Role::heading,
             .box = {at.x, at.y, at.w, ui.line_height(Face::title)}});
    ui.put_text(at.cut_top(ui.line_height(Face::title), gap / 2), Face::title, ui.palette().ink,
                "Match the bag to the person");
    const bool wide = at.w >= ui.px(880);
    Box left = at;
    Box right = wide ? left.cut_right(at.w / 2 - gap / 2, gap) : Box{};
    if (shown.rules == nullptr || shown.script == nullptr || shown.state == nullptr) {
        left.cut_top(ui::paragraph(ui, "match.no_rules", left,
                                   "These rules say nothing about the match. Follow your own policy."),
                     gap);
    } else {
        left.cut_top(standing(ui, left, shown), gap / 2);
        left.cut_top(asks_who ? who_says(ui, left, *shown.rules, says_) : step(ui, left, shown), gap);
        left.cut_top(match_rules_note(ui, left, *shown.rules), gap);
    }
    Box& other = wide ? right : left;
    if (shown.reads &&
        ui::button(ui, "match.read", other.cut_top(ui.px(ui::row_px), gap / 2), "Bag and tag: scan or type"))
        wish_to_read_ = true;
    if (shown.compatibility != nullptr)
        other.cut_top(groups_answer(ui, other, *shown.compatibility), gap);
    if (shown.unit != nullptr)
        other.cut_top(bag_beside_tag(ui, other, *shown.unit), gap);
    ui.end_scroll(std::max(left.y, wide ? right.y : left.y) - top);
    if (shown.rules != nullptr && shown.script != nullptr && shown.state != nullptr && !asks_who)
        buttons(ui, foot, shown);
}

float MatchView::standing(Ui& ui, Box box, const Shown& shown) {
    if (shown.standing == MatchStanding::under_way)
        return 0;
    const bool hangs = shown.hung && shown.standing == MatchStanding::passed;
    std::string detail(hangs ? "All of it was the same, and the bag hangs." : sentence(shown.standing));
    if (shown.standing == MatchStanding::passed && !hangs && shown.day != nullptr)
        if (const auto until = good_until(*shown.state, *shown.rules))
            detail += " It counts until " + clock_text(*until, *shown.day) + ".";
    return sealed(ui, "match.standing", box, seal_of(shown.standing), with_capital(name(shown.standing)), detail);
}

float MatchView::step(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(between_px);
    const auto next = shown.state->next(*shown.script);
    if (shown.standing == MatchStanding::differed || shown.standing == MatchStanding::stale)
        return 0;
    if (stops(shown)) {
        // What was read already says no: nothing here may lead on, also after the last step.
        box.cut_top(ui::paragraph(ui, "match.stopped", box, sentence(MatchStanding::differed), Face::title), gap);
        return box.y - top;
    }
    if (!next)
        return 0;
    const MatchStep& step = (*shown.script)[*next];
    const std::string count =
        "Step " + std::to_string(*next + 1) + " of " + std::to_string(shown.script->size());
    ui::subheading(ui, "match.count", box.cut_top(ui.line_height(Face::small), gap / 2), count);
    if (step.pass == 2)
        box.cut_top(
            ui::caution(
                ui, "match.roles", box, "",
                shown.rules->people.value == MatchPeople::two_independent
                    ? "Second time through: the second person alone, without being told what the first found."
                    : "Second time through: the two have swapped roles."),
            gap);
    box.cut_top(ui::paragraph(ui, "match.step", box, match_step_text(step, shown.rules->people.value), Face::title),
                gap);
    if (step.kind == MatchStepKind::look) {
        int n = 0;
        for (const LookFor what : look_list(shown.component)) {
            const std::string line = std::string(name(what)) + ": " + std::string(sentence(what));
            box.cut_top(ui::paragraph(ui, ui.id("match.look.", n++), box, line), gap / 2);
        }
    }
    return box.y - top;
}

// --- the buttons ----------------------------------------------------------------------------------------

float MatchView::foot_height(const Ui& ui, float width) {
    const float row = ui.px(ui::row_px), gap = ui.px(between_px);
    return ui.px(same_px) + gap + row + (width < ui.px(narrow_px) ? gap + row : 0);
}

// From below: the same, it differs, interrupted; where there is room the first two stand beside each other.
void MatchView::buttons(Ui& ui, Box foot, const Shown& shown) {
    const float row = ui.px(ui::row_px), gap = ui.px(between_px);
    const bool narrow = foot.w < ui.px(narrow_px);
    Box same = foot.cut_bottom(ui.px(same_px), gap);
    const Box differs = narrow ? foot.cut_bottom(row, gap) : same.cut_right(same.w * 0.4f, ui.px(24));
    const Box interrupted = foot.cut_bottom(row);
    const auto put = [&](std::string_view id, Box box, std::string_view label, MatchOutcome outcome,
                         std::uint8_t index, ui::Look look) {
        if (ui::button(ui, id, box, label, look))
            wish_ = Wish{outcome, index};
    };
    if (shown.standing == MatchStanding::differed)
        return;
    const auto next = shown.state->next(*shown.script);
    if (shown.standing == MatchStanding::stale)
        return put("match.again", interrupted, "Begin again", MatchOutcome::interrupted, 0, ui::Look::primary);
    if (stops(shown))
        return put("match.differs", differs, "Close this unit", MatchOutcome::differed, next.value_or(0),
                   ui::Look::primary);
    if (!next) {
        if (!shown.hung) // then it is over, and there is no place for it
            put("match.interrupted", interrupted, "Somebody left the bedside", MatchOutcome::interrupted, 0, ui::Look::plain);
        return;
    }
    const bool look = (*shown.script)[*next].kind == MatchStepKind::look;
    put("match.same", same, look ? "All of it is right" : "It is the same", MatchOutcome::passed, *next,
        ui::Look::primary);
    put("match.differs", differs, look ? "Something is not right" : "It differs", MatchOutcome::differed, *next,
        ui::Look::plain);
    put("match.interrupted", interrupted, "We were interrupted", MatchOutcome::interrupted, *next, ui::Look::plain);
}

} // namespace hangtime::screens
