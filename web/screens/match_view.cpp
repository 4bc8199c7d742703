#include "web/screens/match_view.hpp"

#include "core/match/look.hpp"
#include "core/match/match_text.hpp"
#include "core/words/match_words.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/side_by_side.hpp"

#include <algorithm>
#include <string>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr float between_px = 12;

std::string with_capital(std::string_view text) {
    std::string out(text);
    if (!out.empty() && out[0] >= 'a' && out[0] <= 'z')
        out[0] = static_cast<char>(out[0] - 'a' + 'A');
    return out;
}

float sealed(Ui& ui, std::string_view id, Box box, ui::Seal seal, std::string_view title, std::string_view detail) {
    const float w = box.w - ui.px(32) - ui.px(48);
    box.h = std::max(ui.px(64), ui.px(22) + ui.text_height(Face::title, title, w) +
                                    ui.text_height(Face::body, detail, w) + ui.px(10));
    ui::verdict(ui, id, box, seal, title, detail);
    return box.h;
}

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

ui::Seal seal_of(Compatible is) {
    switch (is) {
    case Compatible::yes: return ui::Seal::whole;
    case Compatible::local_rule: return ui::Seal::noted;
    case Compatible::cannot_tell: return ui::Seal::thin;
    case Compatible::no: return ui::Seal::broken;
    }
    return ui::Seal::broken;
}

std::string_view title_of(Compatible is) {
    switch (is) {
    case Compatible::yes: return "Compatible";
    case Compatible::local_rule: return "Only by local rule";
    case Compatible::cannot_tell: return "Cannot tell: do not hang it yet";
    case Compatible::no: return "Not compatible";
    }
    return {};
}

// Another unit than the tag's, or one that nothing makes fit.
bool stops(const MatchView::Shown& shown) {
    if (shown.unit != nullptr && shown.unit->unit == Agreement::differs)
        return true;
    return shown.compatibility != nullptr && shown.compatibility->overall.is == Compatible::no &&
           !may_be_waived(shown.compatibility->overall.why);
}

} // namespace

std::optional<MatchView::Wish> MatchView::take_wish() {
    const auto out = wish_;
    wish_.reset();
    return out;
}

void MatchView::build(Ui& ui, Box box, const Shown& shown) {
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
        left.cut_top(step(ui, left, shown), gap);
    }
    Box& other = wide ? right : left;
    if (shown.compatibility != nullptr)
        other.cut_top(compatibility(ui, other, shown), gap);
    if (shown.unit != nullptr)
        other.cut_top(unit(ui, other, shown), gap);
    ui.end_scroll(std::max(left.y, wide ? right.y : left.y) - top);
}

float MatchView::standing(Ui& ui, Box box, const Shown& shown) {
    if (shown.standing == MatchStanding::under_way)
        return 0;
    std::string detail(sentence(shown.standing));
    if (shown.standing == MatchStanding::passed && shown.day != nullptr)
        if (const auto until = good_until(*shown.state, *shown.rules))
            detail += " It counts until " + clock_text(*until, *shown.day) + ".";
    return sealed(ui, "match.standing", box, seal_of(shown.standing), with_capital(name(shown.standing)), detail);
}

float MatchView::step(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(between_px);
    const auto put = [&](std::string_view id, std::string_view label, MatchOutcome outcome, std::uint8_t index,
                         ui::Look look) {
        if (ui::button(ui, id, box.cut_top(ui.px(ui::row_px), gap), label, look))
            wish_ = Wish{outcome, index};
    };
    const auto next = shown.state->next(*shown.script);
    if (shown.standing == MatchStanding::differed)
        return 0;
    if (shown.standing == MatchStanding::stale) {
        put("match.again", "Begin again", MatchOutcome::interrupted, 0, ui::Look::primary);
        return box.y - top;
    }
    if (!next) {
        put("match.interrupted", "Somebody left the bedside", MatchOutcome::interrupted, 0, ui::Look::plain);
        return box.y - top;
    }
    if (stops(shown)) {
        // What was read already says no: nothing here may lead on.
        box.cut_top(ui::paragraph(ui, "match.stopped", box, sentence(MatchStanding::differed), Face::title), gap);
        put("match.differs", "Close this unit", MatchOutcome::differed, *next, ui::Look::primary);
        return box.y - top;
    }
    const MatchStep& step = (*shown.script)[*next];
    const std::string count =
        "Step " + std::to_string(*next + 1) + " of " + std::to_string(shown.script->size());
    ui::subheading(ui, "match.count", box.cut_top(ui.line_height(Face::small), gap / 2), count);
    box.cut_top(ui::paragraph(ui, "match.step", box, match_step_text(step, shown.rules->people.value), Face::title),
                gap);
    if (step.kind == MatchStepKind::look) {
        int n = 0;
        for (const LookFor what : look_list(shown.component)) {
            const std::string line = std::string(name(what)) + ": " + std::string(sentence(what));
            box.cut_top(ui::paragraph(ui, ui.id("match.look.", n++), box, line), gap / 2);
        }
        box.cut_top(gap / 2);
    }
    const bool look = step.kind == MatchStepKind::look;
    put("match.same", look ? "All of it is right" : "It is the same", MatchOutcome::passed, *next, ui::Look::primary);
    put("match.differs", look ? "Something is not right" : "It differs", MatchOutcome::differed, *next,
        ui::Look::plain);
    put("match.interrupted", "We were interrupted", MatchOutcome::interrupted, *next, ui::Look::plain);
    return box.y - top;
}

float MatchView::unit(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(between_px);
    ui::subheading(ui, "unit.heading", box.cut_top(ui.line_height(Face::small), gap / 2), "Bag and tag");
    if (shown.unit->unit == Agreement::differs)
        box.cut_top(sealed(ui, "unit.verdict", box, ui::Seal::broken, "Bag and tag differ",
                           sentence(MatchStanding::differed)),
                    gap);
    int n = 0;
    for (const FieldComparison& field : shown.unit->fields) {
        const std::string said = comparison_text(field);
        ui::side_by_side(ui, ui.id("unit.field.", n++), box.cut_top(ui::side_by_side_height(ui), gap),
                         {.label = name(field.field),
                          .said = said,
                          .upper_name = "bag",
                          .lower_name = "tag",
                          .upper = field.bag.view(),
                          .lower = field.tag.view(),
                          .differing = field.differing});
    }
    if (shown.unit->expiry)
        box.cut_top(ui::paragraph(ui, "unit.confirm_expiry", box,
                                  "The earlier expiry counts. Confirm it against the label: a bar code can be "
                                  "older than a time that was written on the bag."),
                    gap);
    return box.y - top;
}

float MatchView::compatibility(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(between_px);
    const Compatibility& c = *shown.compatibility;
    ui::subheading(ui, "compatible.heading", box.cut_top(ui.line_height(Face::small), gap / 2), "Groups");
    box.cut_top(sealed(ui, "compatible.verdict", box, seal_of(c.overall.is), title_of(c.overall.is),
                        sentence(c.overall.why)),
                gap);
    // The verdict is the worst of the four; the others are said too where something is to be known about them.
    int n = 0;
    for (const Judged& part : {c.abo, c.rhd, c.label, c.requirements})
        if (part.is != Compatible::yes && part.why != c.overall.why)
            box.cut_top(ui::paragraph(ui, ui.id("compatible.part.", n++), box, sentence(part.why)), gap / 2);
    for (int i = 0; i < requirement_count; ++i) {
        const RequirementState state = c.each[static_cast<std::size_t>(i)];
        if (state == RequirementState::not_asked || c.requirements.why == CompatibleReason::requirements_missing)
            continue;
        const std::string line =
            std::string(name(static_cast<Requirement>(i))) + ": " + std::string(name(state)) + ".";
        box.cut_top(ui::paragraph(ui, ui.id("compatible.requirement.", i), box, line), gap / 2);
    }
    return box.y - top;
}

} // namespace hangtime::screens
