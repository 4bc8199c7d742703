#include "core/plan/record_words.hpp"
#include "core/words/match_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/bag_and_tag.hpp"
#include "web/screens/match_parts.hpp"
#include "web/widgets/controls.hpp"

/// What is settled of groups and requirements before the bag hangs: the answer itself where it fits; where it cannot be
/// told, the laboratory's instruction or a waiver with reason and role. What clashes leaves nothing to settle.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr int waiver_reasons = 4, roles = 6;

} // namespace

facts::GroupsJudged BagAndTag::judgement(const Context& context, GroupsBy by) const {
    const Compatibility c = judged(context);
    facts::GroupsJudged out;
    out.because = reasons_of(c);
    out.unmet = unmet_of(c);
    out.by = by;
    return out;
}

bool BagAndTag::to_be_settled(const Context& context) const {
    return context.settles && !(context.groups && context.groups->settled());
}

float BagAndTag::decision_part(Ui& ui, Box box, const Context& context) {
    if (!context.settles || differs()) // a bag that differs from its tag is closed, whatever its group
        return 0;
    const float top = box.y, gap = ui.px(ui::gap_px);
    const GroupsNote* noted = context.groups;
    if (noted)
        box.cut_top(ui::paragraph(ui, "groups.noted", box,
                                  joined({"Noted at ", minute_text(noted->at, context.day), ": ", groups_text(*noted)})),
                    gap);
    const bool entered = form_.chosen("tag.group") >= 0 || form_.chosen("tag.special") >= 0 || bag_.group.has_value();
    const facts::GroupsJudged now = judgement(context, GroupsBy::answer);
    const bool settled = noted && noted->settled();
    if (settled && (!entered || (now.because == noted->because && now.unmet == noted->unmet)))
        return box.y - top;
    const bool main = !form_.editing() && typing_ == Typing::nothing && !settled;
    const auto row = [&] { return box.cut_top(ui.px(ui::row_px), gap); };
    if (settles(now.because, GroupsBy::answer)) {
        if (ui::button(ui, "groups.note", row(), "Note this answer", main ? ui::Look::primary : ui::Look::plain,
                       context.writes))
            judged_ = now;
        return box.y - top;
    }
    const bool by_laboratory = settles(now.because, GroupsBy::laboratory), by_waiver = settles(now.because, GroupsBy::waiver);
    if (!by_laboratory && !by_waiver) {
        box.cut_top(ui::paragraph(ui, "groups.never", box, sentence(Refusal::groups_not_decidable)), gap);
        if (context.may_close &&
            ui::button(ui, "groups.close_unit", row(), "Close this unit", main ? ui::Look::primary : ui::Look::plain,
                       context.writes))
            close_unit_ = true;
        return box.y - top;
    }
    ui::subheading(ui, "groups.heading", box.cut_top(ui.line_height(Face::small), gap),
                   "Before it hangs somebody has to settle this");
    if (by_laboratory && ui::button(ui, "groups.laboratory", row(), "The laboratory's instruction is followed", ui::Look::plain,
                                    context.writes)) {
        judged_ = now;
        judged_->by = GroupsBy::laboratory;
    }
    if (by_waiver && ui::fold(ui, "groups.waive", row(), "Somebody decides it, with a reason", waiving_)) {
        waiving_ = !waiving_;
        ui.change_screen(false);
    }
    if (!by_waiver || !waiving_)
        return box.y - top;
    const int columns = box.w >= ui.px(420) ? 2 : 1;
    const auto one_of = [&](std::string_view id, std::string_view label, int count, int& chosen, auto name_of) {
        ui::subheading(ui, id, box.cut_top(ui.line_height(Face::small), ui.px(4)), label);
        Box line{};
        for (int i = 0; i < count; ++i) {
            if (i % columns == 0)
                line = row();
            if (ui::choice(ui, ui.id(id, i), line.cell(columns, 1, i % columns, 0, gap), name_of(i), chosen == i))
                chosen = i;
        }
    };
    one_of("groups.reason.", "Why", waiver_reasons, waive_reason_,
           [](int i) { return name(static_cast<WaiverReason>(i)); });
    one_of("groups.role.", "Who decides it", roles, waive_role_, [](int i) { return name(static_cast<Role>(i)); });
    const bool ready = context.writes && waive_reason_ >= 0 && waive_role_ >= 0;
    if (ui::button(ui, "groups.waiver", row(), "Note the waiver", ready && main ? ui::Look::primary : ui::Look::plain, ready)) {
        judged_ = now;
        judged_->by = GroupsBy::waiver;
        judged_->reason = static_cast<WaiverReason>(waive_reason_);
        judged_->role = static_cast<Role>(waive_role_);
    }
    return box.y - top;
}

std::optional<facts::GroupsJudged> BagAndTag::take_judged() {
    const auto out = judged_;
    judged_.reset();
    return out;
}

} // namespace hangtime::screens
