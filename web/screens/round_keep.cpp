#include "web/platform/platform.hpp"
#include "web/screens/round_view.hpp"

/// A round that is being made is kept as a text of this machine: what was entered, promised and has happened, and beside
/// it where starts were moved to by hand. It is no record: nothing in it was done, nothing in it says who anybody is, and it is gone with "clear this device".

namespace hangtime::screens {

using namespace rounds;

namespace {
constexpr std::string_view text_name = "round", rules_name = "round.rules", board_name = "round.board",
                           plan_name = "round.plan";
constexpr Seconds stale = hours(12);  // after its end nobody means it any more
} // namespace

void RoundView::recall() {
    if (recalled_)
        return;
    recalled_ = true;
    kept_plan_ = platform::load_text(plan_name);
    const std::string text = platform::load_text(text_name);
    const std::string last = platform::load_text(rules_name);
    for (std::size_t i = 0; i < with_rounds().size(); ++i)
        if (with_rounds()[i]->id == last)
            rules_ = static_cast<int>(i);
    if (text.empty())
        return;
    Result<KeptDraft> read = read_draft(text);
    if (!read.ok() || (read.value().draft.until && *read.value().draft.until + stale < now_)) {
        platform::save_text(text_name, {});
        return;
    }
    rules_ = -1;
    for (std::size_t i = 0; i < with_rounds().size(); ++i)
        if (with_rounds()[i]->id == read.value().protocol)
            rules_ = static_cast<int>(i);
    draft_ = std::move(read.value().draft);
    kept_ = text;
    check();
    if (rules_ < 0 || !round_ || platform::load_setting(board_name, 0) != 1)
        return;
    plan_it(*round_);
    if (const Result<KeptPlan> plan = read_kept_plan(kept_plan_); plan.ok())
        plan_->take_up(plan.value());
}

void RoundView::keep_plan() {
    if (fixed_ || !plan_)
        return;
    const std::optional<KeptPlan> plan = plan_->kept();
    std::string text = plan ? kept_plan_text(*plan) : std::string();
    if (text == kept_plan_)
        return;
    kept_plan_ = std::move(text);
    platform::save_text(plan_name, kept_plan_);
}

void RoundView::keep() {
    if (fixed_ || !draft_)
        return;
    const Protocol* rules = protocol();
    if (!rules)
        return;
    std::string text = draft_text(*draft_, *rules);
    platform::save_setting(board_name, mode_ == Mode::entries ? 0 : 1);
    if (text == kept_)
        return;
    kept_ = std::move(text);
    platform::save_text(text_name, kept_);
    platform::save_text(rules_name, rules->id);
}

} // namespace hangtime::screens
