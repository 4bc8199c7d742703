#include "web/screens/match_parts.hpp"

#include "core/match/match_text.hpp"
#include "core/words/format.hpp"
#include "core/words/match_words.hpp"
#include "web/input/wipe.hpp"
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

ui::Seal seal_of(Compatible is) {
    switch (is) {
    case Compatible::yes:
        return ui::Seal::whole;
    case Compatible::local_rule:
        return ui::Seal::noted;
    case Compatible::cannot_tell:
        return ui::Seal::thin;
    case Compatible::no:
        return ui::Seal::broken;
    }
    return ui::Seal::broken;
}

std::string_view title_of(Compatible is) {
    switch (is) {
    case Compatible::yes:
        return "Compatible";
    case Compatible::local_rule:
        return "Only by local rule";
    case Compatible::cannot_tell:
        return "Cannot tell: do not hang it yet";
    case Compatible::no:
        return "Not compatible";
    }
    return {};
}

} // namespace

std::string with_capital(std::string_view text) {
    std::string out(text);
    if (!out.empty() && out[0] >= 'a' && out[0] <= 'z')
        out[0] = static_cast<char>(out[0] - 'a' + 'A');
    return out;
}

float sealed(Ui& ui, std::string_view id, Box box, ui::Seal seal, std::string_view title,
             std::string_view detail) {
    const float w = box.w - ui.px(32) - ui.px(48);
    box.h = std::max(ui.px(64), ui.px(22) + ui.text_height(Face::title, title, w) +
                                    ui.text_height(Face::body, detail, w) + ui.px(10));
    ui::verdict(ui, id, box, seal, title, detail);
    return box.h;
}

float fields_side_by_side(Ui& ui, Box box, std::string_view prefix, const UnitComparison& unit) {
    const float top = box.y;
    int n = 0;
    for (const FieldComparison& field : unit.fields) {
        std::string said = comparison_text(field);
        ui::side_by_side(ui, ui.id(prefix, n++), box.cut_top(ui::side_by_side_height(ui), ui.px(between_px)),
                         {.label = name(field.field),
                          .said = said,
                          .upper_name = "bag",
                          .lower_name = "tag",
                          .upper = field.bag.view(),
                          .lower = field.tag.view(),
                          .differing = field.differing});
        input::wipe_bytes(said.data(), said.size());
    }
    return box.y - top;
}

float who_says(Ui& ui, Box box, const MatchRules& rules, std::optional<bool>& says) {
    const float top = box.y, gap = ui.px(between_px);
    box.cut_top(ui::paragraph(ui, "match.who", box, "Can the person say who they are?", Face::title), gap);
    box.cut_top(ui::paragraph(ui, "match.who.how", box,
                              joined({"Ask openly: never read it out for them to say yes to. If they cannot, these rules "
                                      "say: ",
                                      name(rules.cannot_say.value), "."})),
                gap);
    if (ui::button(ui, "match.says.yes", box.cut_top(ui.px(56), gap), "Yes, they say it themselves", ui::Look::primary))
        says = true;
    if (ui::button(ui, "match.says.no", box.cut_top(ui.px(56), gap), "No, they cannot", ui::Look::plain))
        says = false;
    return box.y - top;
}

float match_rules_note(Ui& ui, Box box, const MatchRules& rules) {
    return ui::paragraph(ui, "match.rules", box,
                         joined({"These rules: ", name(rules.people.value), "; the laboratory's form is ",
                                 rules.lab_form.value ? "one of the papers that may be used here"
                                                      : "not used at the bedside",
                                 "; the bag hangs within ", span_text(rules.stale.value),
                                 " of the last step, with nobody leaving, or all of it is done again."}),
                         Face::small, true);
}

float bag_beside_tag(Ui& ui, Box box, const UnitComparison& unit) {
    const float top = box.y, gap = ui.px(between_px);
    ui::subheading(ui, "unit.heading", box.cut_top(ui.line_height(Face::small), gap / 2), "Bag and tag");
    if (unit.unit == Agreement::differs)
        box.cut_top(sealed(ui, "unit.verdict", box, ui::Seal::broken, "Bag and tag differ",
                           sentence(MatchStanding::differed)),
                    gap);
    box.cut_top(fields_side_by_side(ui, box, "unit.field.", unit), 0);
    if (unit.expiry)
        box.cut_top(
            ui::paragraph(ui, "unit.confirm_expiry", box,
                          "The earlier expiry counts. Confirm it against the label: a bar code can be "
                          "older than a time that was written on the bag."),
            gap);
    return box.y - top;
}

float groups_answer(Ui& ui, Box box, const Compatibility& c) {
    const float top = box.y, gap = ui.px(between_px);
    ui::subheading(ui, "compatible.heading", box.cut_top(ui.line_height(Face::small), gap / 2), "Groups");
    box.cut_top(sealed(ui, "compatible.verdict", box, seal_of(c.overall.is), title_of(c.overall.is),
                       sentence(c.overall.why)),
                gap);
    // The verdict is the worst of the four; the others are said too where something is to be known about
    // them.
    int n = 0;
    for (const Judged& part : {c.abo, c.rhd, c.label, c.requirements})
        if (part.is != Compatible::yes && part.why != c.overall.why)
            box.cut_top(ui::paragraph(ui, ui.id("compatible.part.", n++), box, sentence(part.why)), gap / 2);
    for (int i = 0; i < requirement_count; ++i) {
        const RequirementState state = c.each[static_cast<std::size_t>(i)];
        if (state == RequirementState::not_asked ||
            c.requirements.why == CompatibleReason::requirements_missing)
            continue;
        const std::string line =
            std::string(name(static_cast<Requirement>(i))) + ": " + std::string(name(state)) + ".";
        box.cut_top(ui::paragraph(ui, ui.id("compatible.requirement.", i), box, line), gap / 2);
    }
    return box.y - top;
}

} // namespace hangtime::screens
