#include "core/words/words.hpp"

#include "core/words/fill.hpp"

namespace hangtime {

// No `default` anywhere: -Wswitch names a code that has no words yet, and tests/core/words_test.cpp fails on
// an empty text.

std::string_view name(Component value) {
    switch (value) {
        case Component::red_cells: return "Red cells";
        case Component::platelets: return "Platelets";
        case Component::plasma: return "Plasma";
        case Component::cryoprecipitate: return "Cryoprecipitate";
        case Component::whole_blood: return "Whole blood";
        case Component::granulocytes: return "Granulocytes";
    }
    return {};
}

std::string_view name(NotCovered value) {
    switch (value) {
        case NotCovered::albumin: return "Albumin";
        case NotCovered::immunoglobulin: return "Immunoglobulin";
        case NotCovered::clotting_factors: return "Clotting factors";
        case NotCovered::salvaged_blood: return "Salvaged blood";
        case NotCovered::exchange_transfusion: return "Exchange transfusion";
        case NotCovered::rapid_infuser: return "Rapid infuser";
        case NotCovered::cell_therapy: return "Cell therapy";
    }
    return {};
}

std::string_view name(LimitKind value) {
    switch (value) {
        case LimitKind::decide: return "Decide by";
        case LimitKind::send_back: return "Send back by";
        case LimitKind::hang: return "Hang by";
        case LimitKind::start: return "Start by";
        case LimitKind::finish: return "All in by";
        case LimitKind::change_set: return "Change the set by";
    }
    return {};
}

std::string_view name(Anchor value) {
    switch (value) {
        case Anchor::issued: return "issue";
        case Anchor::left_storage: return "leaving storage";
        case Anchor::thawed: return "thaw";
        case Anchor::spiked: return "spiking";
        case Anchor::started: return "the start";
        case Anchor::label_expiry: return "the expiry on the label";
    }
    return {};
}

std::string_view name(WindowState value) {
    switch (value) {
        case WindowState::not_recorded: return "not recorded";
        case WindowState::not_running: return "not running yet";
        case WindowState::open: return "open";
        case WindowState::closing: return "closing soon";
        case WindowState::passed: return "passed";
        case WindowState::met: return "met";
    }
    return {};
}

std::string_view name(CheckKind value) {
    switch (value) {
        case CheckKind::baseline: return "Baseline";
        case CheckKind::start: return "At the start";
        case CheckKind::early: return "Early check";
        case CheckKind::interval: return "While it runs";
        case CheckKind::end: return "At the end";
        case CheckKind::after: return "After the end";
    }
    return {};
}

std::string_view name(CheckState value) {
    switch (value) {
        case CheckState::to_come: return "to come";
        case CheckState::due: return "due now";
        case CheckState::done: return "done";
        case CheckState::done_late: return "done late";
        case CheckState::missed: return "missed";
        case CheckState::not_needed: return "no longer needed";
        case CheckState::not_recorded: return "not recorded";
    }
    return {};
}

std::string_view name(Verdict value) {
    switch (value) {
        case Verdict::fits: return "Fits";
        case Verdict::fits_without_reserve: return "Fits, but with less than the reserve";
        case Verdict::does_not_fit: return "Does not fit";
    }
    return {};
}

std::string_view name(StageKind value) {
    switch (value) {
        case StageKind::slow: return "Slow stage";
        case StageKind::main: return "Main stage";
        case StageKind::pause: return "Standing still";
    }
    return {};
}

std::string_view name(CeilingKind value) {
    switch (value) {
        case CeilingKind::none: return "no highest rate";
        case CeilingKind::component: return "highest rate for the component";
        case CeilingKind::weight: return "highest rate by weight";
        case CeilingKind::overload_risk: return "highest rate by weight at risk of overload";
        case CeilingKind::order: return "highest rate by the order";
        case CeilingKind::device: return "highest rate of the device";
        case CeilingKind::slowed: return "slowed down to";
    }
    return {};
}

std::string_view name(RateRule value) {
    switch (value) {
        case RateRule::target: return "from the time or rate that was asked for";
        case RateRule::raised_to_floor: return "raised, so that the limit is met";
        case RateRule::held_at_ceiling: return "held at the highest rate allowed";
        case RateRule::rounded_down: return "rounded down, as the order asks";
        case RateRule::slow_stage_only: return "all in before the slow stage is over";
        case RateRule::partial: return "the highest rate allowed, until the limit";
    }
    return {};
}

std::string_view name(Severity value) {
    switch (value) {
        case Severity::note: return "Note";
        case Severity::caution: return "Caution";
        case Severity::stop: return "Hold and ask";
    }
    return {};
}

std::string_view name(Grade value) {
    switch (value) {
        case Grade::published: return "published";
        case Grade::quoted: return "published, read as quoted elsewhere";
        case Grade::common_practice: return "common practice, no source";
        case Grade::from_memory: return "from memory, to be verified";
    }
    return {};
}

std::string_view name(Clearing value) {
    switch (value) {
        case Clearing::required: return "cleared with saline at the end";
        case Clearing::optional: return "may be cleared with saline at the end";
        case Clearing::forbidden: return "must not be cleared with saline";
    }
    return {};
}

std::string_view name(Primed value) {
    switch (value) {
        case Primed::saline: return "primed with saline";
        case Primed::component: return "primed with component";
    }
    return {};
}

std::string_view name(CountsFrom value) {
    switch (value) {
        case CountsFrom::start: return "from the start";
        case CountsFrom::rate_change: return "from the rate change";
    }
    return {};
}

std::string_view name(SlowFrom value) {
    switch (value) {
        case SlowFrom::start: return "from the start";
        case SlowFrom::vein: return "from the first component in the vein";
    }
    return {};
}

std::string_view name(ExpiryRule value) {
    switch (value) {
        case ExpiryRule::start_before: return "start before it expires";
        case ExpiryRule::finish_before: return "all in before it expires";
    }
    return {};
}

std::string_view name(LineKind value) {
    switch (value) {
        case LineKind::plain: return "plain set";
        case LineKind::extension: return "set with extension";
        case LineKind::warmer: return "set with warmer";
    }
    return {};
}

std::string_view name(DeviceKind value) {
    switch (value) {
        case DeviceKind::pump: return "pump";
        case DeviceKind::gravity: return "gravity";
    }
    return {};
}

std::string_view name(Answer value) {
    switch (value) {
        case Answer::not_recorded: return not_recorded_text;
        case Answer::no: return "no";
        case Answer::yes: return "yes";
    }
    return {};
}

std::string_view name(StepKind value) {
    switch (value) {
        case StepKind::hang: return "Hang the bag";
        case StepKind::check: return "Take observations";
        case StepKind::start: return "Start";
        case StepKind::raise_rate: return "Raise the rate";
        case StepKind::set_rate: return "Set the rate";
        case StepKind::bag_empty: return "Bag empty, blood still in the line";
        case StepKind::clear_line: return "Clear the line with saline";
        case StepKind::all_in: return "All in";
        case StepKind::send_back: return "Send the bag back";
        case StepKind::resume: return "Go on";
    }
    return {};
}

std::string_view not_covered_sentence() { return "Not covered here, follow your procedure."; }

std::string_view check_title(CheckKind value) {
    switch (value) {
        case CheckKind::baseline: return "Baseline observations";
        case CheckKind::start: return "Observations at the start";
        case CheckKind::early: return "Early check";
        case CheckKind::interval: return "Observations";
        case CheckKind::end: return "Observations at the end";
        case CheckKind::after: return "Observations after the end";
    }
    return {};
}

std::string_view meaning_sentence(LimitKind value) {
    switch (value) {
        case LimitKind::decide: return "Hang the bag or send it back: by then it is decided.";
        case LimitKind::send_back: return "After this the blood bank cannot keep the bag.";
        case LimitKind::hang: return "The bag is spiked by then.";
        case LimitKind::start: return "Blood is running into the person by then.";
        case LimitKind::finish: return "All of it is in the vein by then, or what is left is not given.";
        case LimitKind::change_set: return "The administration set is replaced by then.";
    }
    return {};
}

std::string_view passed_sentence(LimitKind value) {
    switch (value) {
        case LimitKind::decide: return "The time to decide has passed. Ask the blood bank.";
        case LimitKind::send_back:
            return "The blood bank can no longer keep this bag. Ask them what to do with it.";
        case LimitKind::hang:
            return "The time to hang this bag has passed. Ask the blood bank before you hang it.";
        case LimitKind::start:
            return "The time to start this bag has passed. Ask the blood bank before you start.";
        case LimitKind::finish:
            return "The time to be all in has passed. Follow your policy for what is left.";
        case LimitKind::change_set: return "The time to change the set has passed. Follow your policy.";
    }
    return {};
}

std::string_view sentence(Reason value) {
    switch (value) {
        case Reason::ceiling_below_floor:
            return "To be all in by the limit it would have to run faster than the highest rate allowed.";
        case Reason::no_step_between:
            return "The device has no step that is fast enough for the limit and slow enough to be allowed.";
        case Reason::slow_stage_too_long: return "The limit falls inside the slow stage.";
        case Reason::limit_before_start: return "The limit has passed before the transfusion starts.";
        case Reason::line_holds_all:
            return "The line holds all there is to give: none of it would reach the vein.";
        case Reason::latest_start_passed: return "The latest moment to start has passed.";
        case Reason::hang_too_late: return "The start is later than the bag may be hung.";
        case Reason::expires_first: return "The bag expires first.";
        case Reason::reserve_accuracy:
            return "A device that runs as slowly as its accuracy allows would pass the limit.";
        case Reason::reserve_minutes:
            return "Fewer minutes are left before the limit than are kept in reserve.";
        case Reason::will_pass_limit: return "At the rate that is set it is all in only after the limit.";
        case Reason::ended_late: return "It was all in only after the limit.";
        case Reason::reserve_drop: return "One drop a minute fewer would pass the limit.";
    }
    return {};
}

namespace {

std::string_view pattern_of(Warning value) {
    switch (value) {
        case Warning::protocol_is_example:
            return "These rules are an example. No ward has adopted them: check each against your policy.";
        case Warning::component_after_slow_stage:
            return "The line is full of saline: the first blood reaches the vein[ at {0},] after the slow "
                   "stage, "
                   "and would then run at the full rate[ of {1}].";
        case Warning::line_not_given:
            return "What stands in the line at the end[, {0},] is not given[: {1} are given].";
        case Warning::weight_estimated: return "The weight[ of {0}] is an estimate.";
        case Warning::overload_risk_not_recorded:
            return "Risk of circulatory overload is not recorded. If there is one, other rates apply.";
        case Warning::report_not_recorded:
            return "Whether the person can report symptoms is not recorded. If not, checks may be closer.";
        case Warning::thaw_not_recorded:
            return "The time of thaw is not recorded: limits that count from it cannot be told.";
        case Warning::expiry_not_recorded: return "The expiry is not recorded: read it on the label.";
        case Warning::spike_taken_as_start:
            return "The time of spiking is not recorded: the start[, {0},] is taken for it.";
        case Warning::storage_taken_as_issue:
            return "When the bag left controlled storage is not recorded: the issue[, {0},] is taken for it.";
        case Warning::volume_unusual:
            return "This is not a usual volume for one bag[: {0}][, usually {1} to {2}]. Check the label.";
        case Warning::duration_unusual:
            return "This is not a usual duration[: {0}][, usually {1} to {2}]. Check the order.";
        case Warning::duration_not_met:
            return "It takes longer than was asked for[: {1} instead of {0}].[ The highest rate allowed, {2}, is "
                   "reached.]";
        case Warning::raised_to_limit:
            return "Because of the limit the rate is higher than it would be[: {1} instead of {0}].";
        case Warning::slow_stage_lowered:
            return "The slow stage runs slower than usual[, {1} instead of {0},] to stay within the highest "
                   "rate "
                   "allowed.";
        case Warning::dose_exceeds_bag: return "The dose[ of {0}] is more than the bag holds[, {1}].";
        case Warning::child_whole_bag:
            return "The whole bag[ of {0}] is planned. For a child the order is in mL: check it.";
        case Warning::gauge_small:
            return "The cannula[, {0} G,] is narrower than[ the {1} G of] these rules.";
        case Warning::gauge_not_recorded:
            return "The size of the cannula is not recorded[; these rules ask for {0} G or wider].";
        case Warning::count_exactly:
            return "Count exactly[: {0} drops in {1} s].";
        case Warning::return_by_temperature:
            return "A bag that has become too warm cannot be kept, even in time.";
        case Warning::set_changes_during_run:
            return "The set has to be changed[ at {0}] while the bag is running.";
        case Warning::start_in_the_past: return "The planned start[, {0},] is in the past.";
        case Warning::slow_stage_one_step:
            return "The device cannot go as slowly as the slow stage asks[: it is set to {0}, its lowest "
                   "step].";
        case Warning::line_filled_from_saline:
            return "Saline in the line goes in first[: {0}]. The device counts it as well.";
        case Warning::controlled_delivery:
            return "These rules ask for a pump or another controlled device here.";
        case Warning::never_by_pump: return "These rules never give this component by pump.";
        case Warning::never_by_gravity: return "These rules never give this component by gravity.";
        case Warning::early_check_open:
            return "The early check[, due at {0},] is not recorded. Until it is in, the rate stays as it is.";
        case Warning::early_check_flagged:
            return "The early check[, done at {0},] shows a change from the baseline. Ask; the rate is raised only if somebody "
                   "decides so.";
        case Warning::dose_run_over:
            return "The dose[ of {0}] was due to be in[ at {1}], and no end is noted. Stop it. Unless the device stopped by "
                   "itself, more than the dose may be in: look at the bag and read the total off the device.";
        case Warning::early_check_before_component:
            return "Saline runs in first: the component reaches the vein only[ at {0}]. The early check[, due at {1},] "
                   "may come before it.";
        case Warning::shares_ceiling:
            return "Another line runs into the same person[ at {0}]: both share the highest rate.";
        case Warning::rate_above_ceiling:
            return "The rate that is set[, {0},] is above the highest allowed[, {1}].";
        case Warning::total_differs:
            return "The device's total[, {0},] is not what the rates come to[, {1}]: check device, bag and line.";
        case Warning::total_may_hold_priming:
            return "The device was not zeroed and not read before the start: its total may hold what priming pushed.";
        case Warning::stood_still: return "It has stood still[ for {0}]. No limit has moved for that.";
        case Warning::fits_no_more_since: return "It does not fit any more[, since {0}].";
        case Warning::set_held_component: return "What stood in the old set[, {0},] is not given.";
        case Warning::end_overdue:
            return "By the rates that were set it should be all in[ since {0}]. Look at the bag.";
        case Warning::ended_before_rates:
            return "All in was noted long before the rates allow for it[: they come to {0} of {1}]. Look again whether it was stopped.";
        case Warning::new_set_asked: return "These rules ask for a new administration set for this unit.";
    }
    return {};
}

std::string_view pattern_of(Advice value) {
    switch (value) {
        case Advice::ask_split: return "Ask the blood bank for a split[ of at most {0}].";
        case Advice::ask_prescriber_rate:
            return "Ask the prescriber whether a higher rate is allowed[: {0} would fit].";
        case Advice::ask_prescriber_dose:
            return "Ask the prescriber about the dose[: at most {0} would fit].";
        case Advice::start_earlier: return "Start earlier[: at {0} at the latest].";
        case Advice::send_back: return "Send the bag back to the blood bank now.";
        case Advice::finer_device: return "A device with finer steps[ than {0}] would do.";
        case Advice::ask_blood_bank: return "Ask the blood bank before you go on.";
        case Advice::no_earlier_start: return "An earlier start does not help.";
        case Advice::stop_at_limit: return "Stop[ at {0}]: what is left then is not given.";
    }
    return {};
}

}  // namespace

std::string warning_text(Warning code, const std::array<Figure, 3>& figures, const DayClock& day) {
    if (code == Warning::return_by_temperature && figures[0].kind != FigureKind::none)
        return "A bag that is warmer than " + dose_number(figures[0].a, 10, 1) +
               " degrees C cannot be kept, even in time.";
    if (code == Warning::count_exactly) {  // by the second hand: 60 s, not 1 min
        const Figure counted[] = {
            figures[0],
            {figures[1].kind == FigureKind::none ? FigureKind::none : FigureKind::count, figures[1].a}};
        const std::string_view breaks = figures[2].a == 1   ? " One drop more breaks a limit."
                                        : figures[2].a == 2 ? " One drop fewer breaks a limit."
                                                            : " One drop more or fewer breaks a limit.";
        return joined({words::fill(pattern_of(code), counted, 2, day), breaks});
    }
    // A wish by rate has no time of its own.
    if (code == Warning::duration_not_met && figures[0].a == 0) {
        const Figure without[] = {{}, {}, figures[2]};
        return words::fill(pattern_of(code), without, 3, day);
    }
    return words::fill(pattern_of(code), figures.data(), figures.size(), day);
}

std::string advice_text(Advice code, const std::array<Figure, 2>& figures, const DayClock& day) {
    return words::fill(pattern_of(code), figures.data(), figures.size(), day);
}

std::string_view caution(std::size_t index) {
    switch (index) {
        case 0:
            return "Hangtime works out times and rates. It is not a medical device, not an alarm and not a "
                   "record.";
        case 1:
            return "Your local policy, the label on the bag and your own licensed practice come first. Where "
                   "they "
                   "differ from what stands here, follow them.";
        case 2: return "It does not watch the patient, the bag or the pump. You do.";
        case 3: return "Check every number against the order and the bag before you use it.";
    }
    return {};
}

std::string_view example_label() { return "example, not adopted by a ward"; }

}  // namespace hangtime
