#include "core/words/spelling.hpp"

namespace hangtime {

// One `switch` an enumeration, without a default, so that -Wswitch names a code that has no spelling yet.

std::string_view code(Grade value) {
    switch (value) {
    case Grade::published: return "published";
    case Grade::quoted: return "quoted";
    case Grade::common_practice: return "common_practice";
    case Grade::from_memory: return "from_memory";
    }
    return {};
}

std::string_view code(Anchor value) {
    switch (value) {
    case Anchor::issued: return "issued";
    case Anchor::left_storage: return "left_storage";
    case Anchor::thawed: return "thawed";
    case Anchor::spiked: return "spiked";
    case Anchor::started: return "started";
    case Anchor::label_expiry: return "label_expiry";
    }
    return {};
}

std::string_view code(LimitKind value) {
    switch (value) {
    case LimitKind::decide: return "decide";
    case LimitKind::send_back: return "send_back";
    case LimitKind::hang: return "hang";
    case LimitKind::start: return "start";
    case LimitKind::finish: return "finish";
    case LimitKind::change_set: return "change_set";
    }
    return {};
}

std::string_view code(WindowState value) {
    switch (value) {
    case WindowState::not_recorded: return "not_recorded";
    case WindowState::not_running: return "not_running";
    case WindowState::open: return "open";
    case WindowState::closing: return "closing";
    case WindowState::passed: return "passed";
    case WindowState::met: return "met";
    }
    return {};
}

std::string_view code(CheckKind value) {
    switch (value) {
    case CheckKind::baseline: return "baseline";
    case CheckKind::start: return "start";
    case CheckKind::early: return "early";
    case CheckKind::interval: return "interval";
    case CheckKind::end: return "end";
    case CheckKind::after: return "after";
    }
    return {};
}

std::string_view code(CheckState value) {
    switch (value) {
    case CheckState::to_come: return "to_come";
    case CheckState::due: return "due";
    case CheckState::done: return "done";
    case CheckState::done_late: return "done_late";
    case CheckState::missed: return "missed";
    case CheckState::not_needed: return "not_needed";
    case CheckState::not_recorded: return "not_recorded";
    }
    return {};
}

std::string_view code(Verdict value) {
    switch (value) {
    case Verdict::fits: return "fits";
    case Verdict::fits_without_reserve: return "fits_without_reserve";
    case Verdict::does_not_fit: return "does_not_fit";
    }
    return {};
}

std::string_view code(Reason value) {
    switch (value) {
    case Reason::ceiling_below_floor: return "ceiling_below_floor";
    case Reason::no_step_between: return "no_step_between";
    case Reason::slow_stage_too_long: return "slow_stage_too_long";
    case Reason::limit_before_start: return "limit_before_start";
    case Reason::line_holds_all: return "line_holds_all";
    case Reason::latest_start_passed: return "latest_start_passed";
    case Reason::hang_too_late: return "hang_too_late";
    case Reason::expires_first: return "expires_first";
    case Reason::reserve_accuracy: return "reserve_accuracy";
    case Reason::reserve_minutes: return "reserve_minutes";
    case Reason::will_pass_limit: return "will_pass_limit";
    case Reason::ended_late: return "ended_late";
    case Reason::reserve_drop: return "reserve_drop";
    }
    return {};
}

std::string_view code(CeilingKind value) {
    switch (value) {
    case CeilingKind::none: return "none";
    case CeilingKind::component: return "component";
    case CeilingKind::weight: return "weight";
    case CeilingKind::overload_risk: return "overload_risk";
    case CeilingKind::order: return "order";
    case CeilingKind::device: return "device";
    case CeilingKind::slowed: return "slowed";
    }
    return {};
}

std::string_view code(RateRule value) {
    switch (value) {
    case RateRule::target: return "target";
    case RateRule::raised_to_floor: return "raised_to_floor";
    case RateRule::held_at_ceiling: return "held_at_ceiling";
    case RateRule::rounded_down: return "rounded_down";
    case RateRule::slow_stage_only: return "slow_stage_only";
    case RateRule::partial: return "partial";
    }
    return {};
}

std::string_view code(StageKind value) {
    switch (value) {
    case StageKind::slow: return "slow";
    case StageKind::main: return "main";
    case StageKind::pause: return "pause";
    }
    return {};
}

std::string_view code(Severity value) {
    switch (value) {
    case Severity::note: return "note";
    case Severity::caution: return "caution";
    case Severity::stop: return "stop";
    }
    return {};
}

std::string_view code(Warning value) {
    switch (value) {
    case Warning::protocol_is_example: return "protocol_is_example";
    case Warning::component_after_slow_stage: return "component_after_slow_stage";
    case Warning::line_not_given: return "line_not_given";
    case Warning::weight_estimated: return "weight_estimated";
    case Warning::overload_risk_not_recorded: return "overload_risk_not_recorded";
    case Warning::report_not_recorded: return "report_not_recorded";
    case Warning::thaw_not_recorded: return "thaw_not_recorded";
    case Warning::expiry_not_recorded: return "expiry_not_recorded";
    case Warning::spike_taken_as_start: return "spike_taken_as_start";
    case Warning::storage_taken_as_issue: return "storage_taken_as_issue";
    case Warning::volume_unusual: return "volume_unusual";
    case Warning::duration_unusual: return "duration_unusual";
    case Warning::duration_not_met: return "duration_not_met";
    case Warning::raised_to_limit: return "raised_to_limit";
    case Warning::slow_stage_lowered: return "slow_stage_lowered";
    case Warning::dose_exceeds_bag: return "dose_exceeds_bag";
    case Warning::child_whole_bag: return "child_whole_bag";
    case Warning::gauge_small: return "gauge_small";
    case Warning::gauge_not_recorded: return "gauge_not_recorded";
    case Warning::count_exactly: return "count_exactly";
    case Warning::return_by_temperature: return "return_by_temperature";
    case Warning::set_changes_during_run: return "set_changes_during_run";
    case Warning::start_in_the_past: return "start_in_the_past";
    case Warning::slow_stage_one_step: return "slow_stage_one_step";
    case Warning::line_filled_from_saline: return "line_filled_from_saline";
    case Warning::controlled_delivery: return "controlled_delivery";
    case Warning::never_by_pump: return "never_by_pump";
    case Warning::never_by_gravity: return "never_by_gravity";
    case Warning::early_check_open: return "early_check_open";
    case Warning::early_check_before_component: return "early_check_before_component";
    case Warning::shares_ceiling: return "shares_ceiling";
    case Warning::rate_above_ceiling: return "rate_above_ceiling";
    case Warning::total_differs: return "total_differs";
    case Warning::total_may_hold_priming: return "total_may_hold_priming";
    case Warning::stood_still: return "stood_still";
    case Warning::fits_no_more_since: return "fits_no_more_since";
    case Warning::set_held_component: return "set_held_component";
    case Warning::end_overdue: return "end_overdue";
    case Warning::early_check_flagged: return "early_check_flagged";
    case Warning::dose_run_over: return "dose_run_over";
    case Warning::ended_before_rates: return "ended_before_rates";
    case Warning::new_set_asked: return "new_set_asked";
    }
    return {};
}

std::string_view code(Advice value) {
    switch (value) {
    case Advice::ask_split: return "ask_split";
    case Advice::ask_prescriber_rate: return "ask_prescriber_rate";
    case Advice::ask_prescriber_dose: return "ask_prescriber_dose";
    case Advice::start_earlier: return "start_earlier";
    case Advice::send_back: return "send_back";
    case Advice::finer_device: return "finer_device";
    case Advice::ask_blood_bank: return "ask_blood_bank";
    case Advice::no_earlier_start: return "no_earlier_start";
    case Advice::stop_at_limit: return "stop_at_limit";
    }
    return {};
}

std::string_view code(Clearing value) {
    switch (value) {
    case Clearing::required: return "required";
    case Clearing::optional: return "optional";
    case Clearing::forbidden: return "forbidden";
    }
    return {};
}

std::string_view code(Primed value) {
    switch (value) {
    case Primed::saline: return "saline";
    case Primed::component: return "component";
    }
    return {};
}

std::string_view code(CountsFrom value) {
    switch (value) {
    case CountsFrom::start: return "start";
    case CountsFrom::rate_change: return "rate_change";
    }
    return {};
}

std::string_view code(SlowFrom value) {
    switch (value) {
    case SlowFrom::start: return "start";
    case SlowFrom::vein: return "vein";
    }
    return {};
}

std::string_view code(ExpiryRule value) {
    switch (value) {
    case ExpiryRule::start_before: return "start_before";
    case ExpiryRule::finish_before: return "finish_before";
    }
    return {};
}

std::string_view code(LineKind value) {
    switch (value) {
    case LineKind::plain: return "plain";
    case LineKind::extension: return "extension";
    case LineKind::warmer: return "warmer";
    }
    return {};
}

std::string_view code(DeviceKind value) {
    switch (value) {
    case DeviceKind::pump: return "pump";
    case DeviceKind::gravity: return "gravity";
    }
    return {};
}

std::string_view code(Answer value) {
    switch (value) {
    case Answer::not_recorded: return "not_recorded";
    case Answer::no: return "no";
    case Answer::yes: return "yes";
    }
    return {};
}

std::string_view code(StepKind value) {
    switch (value) {
    case StepKind::hang: return "hang";
    case StepKind::check: return "check";
    case StepKind::start: return "start";
    case StepKind::raise_rate: return "raise_rate";
    case StepKind::set_rate: return "set_rate";
    case StepKind::bag_empty: return "bag_empty";
    case StepKind::clear_line: return "clear_line";
    case StepKind::all_in: return "all_in";
    case StepKind::send_back: return "send_back";
    case StepKind::resume: return "resume";
    }
    return {};
}

std::string_view code(SumKind value) {
    switch (value) {
    case SumKind::none: return "none";
    case SumKind::after: return "after";
    case SumKind::before: return "before";
    case SumKind::as_stated: return "as_stated";
    case SumKind::dose_by_weight: return "dose_by_weight";
    case SumKind::dose_as_ordered: return "dose_as_ordered";
    case SumKind::whole_bag: return "whole_bag";
    case SumKind::pushed: return "pushed";
    case SumKind::slow_volume: return "slow_volume";
    case SumKind::rate_by_weight: return "rate_by_weight";
    case SumKind::rest_in_time: return "rest_in_time";
    case SumKind::rest_to_limit: return "rest_to_limit";
    case SumKind::rate_as_limited: return "rate_as_limited";
    case SumKind::runs_out: return "runs_out";
    case SumKind::can_be_given: return "can_be_given";
    case SumKind::can_be_given_after_line: return "can_be_given_after_line";
    case SumKind::left_over: return "left_over";
    case SumKind::largest_bag: return "largest_bag";
    case SumKind::drops: return "drops";
    case SumKind::latest_start: return "latest_start";
    case SumKind::over_by: return "over_by";
    case SumKind::weight_needed: return "weight_needed";
    }
    return {};
}

}  // namespace hangtime
