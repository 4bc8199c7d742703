#include "core/words/match_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/bag_and_tag.hpp"
#include "web/screens/match_parts.hpp"
#include "web/widgets/controls.hpp"

#include <array>

/// What the blood bank's tag and the order say of the person, as far as the answer about groups needs it.

namespace hangtime::screens {
namespace {

using ui::Box;
using ui::Face;
using ui::Ui;

constexpr int no_group = 8, two_groups = 9;

// In the order of the choices.
enum Special : int { not_looked_at, none_asked, some_asked };
enum Asked : int { not_asked, label_not_read, on_label, not_on_label };

constexpr std::array<std::string_view, requirement_count> requirement_ids = {
    "tag.irradiated", "tag.cmv", "tag.washed", "tag.leucodepleted", "tag.hla", "tag.antigen", "tag.iga"};

Answer answer(const Form& form, std::string_view id) {
    return form.chosen(id) <= 0 ? Answer::not_recorded : static_cast<Answer>(form.chosen(id));
}

std::vector<std::string> answers() {
    std::vector<std::string> out;
    for (const Answer a : {Answer::not_recorded, Answer::no, Answer::yes})
        out.emplace_back(name(a));
    return out;
}

} // namespace

// Who is grown up is neither under four months nor a child: that is known already and need not be asked.
void BagAndTag::ask(std::optional<AgeGroup> age) {
    const bool grown = age == AgeGroup::adult || age == AgeGroup::youth;
    form_.clear();
    asked_ = true;
    std::vector<std::string> groups;
    for (int i = 0; i < 2 * abo_count; ++i)
        groups.push_back(group_text(static_cast<Abo>(i / 2), static_cast<Rhd>(i % 2)));
    groups.emplace_back("no group is stated");
    groups.emplace_back("two results differ");
    form_.choice("tag.group", "Recipient's group on the tag", std::move(groups)).needed = true;
    form_.choice("tag.infant", "Under four months", answers(), grown ? static_cast<int>(Answer::no) : -1).needed = true;
    form_.choice("tag.transplant", "After a stem-cell transplant", answers()).needed = true;
    form_
        .choice("tag.special", "Special requirements",
                {"not looked at", "none on the order or tag", "some, as below"})
        .needed = true;
    for (int i = 0; i < requirement_count; ++i) {
        auto& f =
            form_.choice(requirement_ids[static_cast<std::size_t>(i)], name(static_cast<Requirement>(i)),
                         {"not asked for", "asked for, label not read", "asked for, on the label",
                          "asked for, not on the label"},
                         not_asked);
        f.applies = [](const Form& form) { return form.chosen("tag.special") == some_asked; };
    }
    form_.choice("tag.listed", "Must have RhD negative", answers());
    form_.choice("tag.child", "A child", answers(), age == AgeGroup::adult ? static_cast<int>(Answer::no) : -1);
    form_.choice("tag.titre", "Low titre on the label", answers());
}

RecipientFacts BagAndTag::recipient(bool emergency) const {
    RecipientFacts r;
    r.emergency = emergency;
    const int group = form_.chosen("tag.group");
    if (group >= 0 && group < no_group) {
        r.abo = static_cast<Abo>(group / 2);
        r.rhd = static_cast<Rhd>(group % 2);
    }
    r.conflicting = group == two_groups;
    r.infant = answer(form_, "tag.infant");
    r.transplant = answer(form_, "tag.transplant");
    r.child = answer(form_, "tag.child");
    r.rhd_listed = answer(form_, "tag.listed");
    const int special = form_.chosen("tag.special");
    if (special == none_asked)
        r.required = RequirementSet{};
    if (special == some_asked) {
        RequirementSet all;
        for (int i = 0; i < requirement_count; ++i)
            if (form_.chosen(requirement_ids[static_cast<std::size_t>(i)]) > not_asked)
                all.add(static_cast<Requirement>(i));
        if (!all.empty()) // "some", and none named: nobody has looked
            r.required = all;
    }
    return r;
}

UnitFacts BagAndTag::unit(const Context& context) const {
    UnitFacts u;
    u.component = context.component;
    if (bag_.group)
        u.group = *bag_.group;
    u.low_titre = answer(form_, "tag.titre");
    RequirementSet stated;
    for (int i = 0; i < requirement_count; ++i) {
        const int how = form_.chosen(requirement_ids[static_cast<std::size_t>(i)]);
        if (how == label_not_read)
            return u; // not all of it has been looked for
        if (how == on_label)
            stated.add(static_cast<Requirement>(i));
    }
    u.stated = stated;
    return u;
}

Compatibility BagAndTag::judged(const Context& context) const {
    Compatibility c = judge_compatibility(context.rules ? &context.rules->compatibility : nullptr,
                                          recipient(context.emergency), unit(context));
    // Nobody has looked at the tag yet. That is not the same as a tag that states no group, for which there
    // are rules: until then nothing can be told, unless the bag is out of the question whatever the group is.
    if (form_.chosen("tag.group") < 0 && !context.emergency) {
        c.abo = {Compatible::cannot_tell, CompatibleReason::group_missing};
        c.rhd = {Compatible::cannot_tell, CompatibleReason::rhd_missing};
        c.overall = c.label.is == Compatible::no          ? c.label
                    : c.requirements.is == Compatible::no ? c.requirements
                                                          : c.abo;
    }
    return c;
}

float BagAndTag::person_part(Ui& ui, Box box, const Context& context) {
    const float top = box.y, gap = ui.px(12);
    box.cut_top(groups_answer(ui, box, judged(context)), gap);
    box.cut_top(
        ui::paragraph(ui, "tag.note", box,
                      "As it stands on the blood bank's tag, never from memory and never from another paper.",
                      Face::small, true),
        ui.px(8));
    box.cut_top(form_.fields(ui, box, box.w < ui.px(420) ? 1 : 2), gap);
    if (context.rules && form_.chosen("tag.listed") <= 0) {
        const CompatibilityRules& rules = context.rules->compatibility;
        std::string text = "Must have RhD negative by these rules: anti-D, regular transfusions";
        if (rules.rhd_female_up_to_years > 0)
            text += ", girls and women up to " + dose_number(rules.rhd_female_up_to_years, 1, 0) + " years";
        if (rules.rhd_male_up_to_years > 0)
            text += ", boys and men up to " + dose_number(rules.rhd_male_up_to_years, 1, 0) + " years";
        box.cut_top(ui::paragraph(ui, "tag.listed_note", box, text + ".", Face::small, true), gap);
    }
    box.cut_top(decision_part(ui, box, context), gap);
    return box.y - top;
}

} // namespace hangtime::screens
