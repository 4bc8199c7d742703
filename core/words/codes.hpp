#pragma once

/// Every code that a result can carry. Codes are stable: they stand in output, in files and in tests.
/// Their spelling is in core/words/spelling.hpp and their words in core/words/words.hpp, each in one place;
/// nothing here has a text.

#include <cstdint>

namespace hangtime {

/// How far a value in a protocol can be trusted, as the protocol states it.
enum class Grade : std::uint8_t {
    published,        // read in the source's own text
    quoted,           // published, but read only as quoted by somebody else
    common_practice,  // what wards do; no source
    from_memory,      // believed to be in the source; not read; to be verified before it is relied on
};

/// The event that a limit is counted from. The last one stands only in results: the expiry on the label,
/// which is a limit of its own.
enum class Anchor : std::uint8_t { issued, left_storage, thawed, spiked, started, label_expiry };
inline constexpr int anchor_count = 6;

/// What has to have happened inside a limit.
enum class LimitKind : std::uint8_t {
    decide,      // hang it or send it back: make up your mind
    send_back,   // back at the blood bank, to be kept there
    hang,        // spiked
    start,       // running into the recipient
    finish,      // all in
    change_set,  // the administration set replaced
};
inline constexpr int limit_kind_count = 6;

enum class WindowState : std::uint8_t {
    not_recorded,  // the event that it is counted from has no time: cannot tell
    not_running,   // that event is still to come
    open,
    closing,  // less than the protocol's closing minutes are left
    passed,
    met,  // what it asks for has happened, inside it
};

enum class CheckKind : std::uint8_t { baseline, start, early, interval, end, after };

/// `not_recorded`: its time has passed, and nobody records checks here (a plan that is only looked at).
enum class CheckState : std::uint8_t { to_come, due, done, done_late, missed, not_needed, not_recorded };

enum class Verdict : std::uint8_t { fits, fits_without_reserve, does_not_fit };

/// Why a verdict is not "fits". The first ones are reasons not to fit, the others to be short of reserve.
enum class Reason : std::uint8_t {
    ceiling_below_floor,   // the rate that the limit asks for is above the highest allowed
    no_step_between,       // the device has no step between the two
    slow_stage_too_long,   // the limit falls inside the slow stage
    limit_before_start,    // the limit has passed when the transfusion starts
    line_holds_all,        // the line holds all there is and is not cleared: none reaches the vein
    latest_start_passed,   // it has not started, and no start from now on fits
    hang_too_late,         // hung or started after the limit for it
    expires_first,         // started (or all in, as the protocol says) only after the expiry on the label
    will_pass_limit,       // it runs, and at the rate that is set it ends after the limit
    ended_late,            // it is over, and was all in only after the limit
    reserve_accuracy,      // a device at the slow end of its accuracy would pass the limit
    reserve_minutes,       // fewer minutes are left than the protocol keeps in reserve
    reserve_drop,          // one drop a minute fewer would pass the limit
};
inline constexpr int reason_count = 13;

/// What names the least of the ceilings.
enum class CeilingKind : std::uint8_t {
    none,
    component,       // the protocol's highest rate for the component
    weight,          // the protocol's highest rate by weight
    overload_risk,   // the same for somebody at risk of circulatory overload
    order,           // the order's highest rate, or its "over at least"
    device,          // what the device can do
    slowed,          // slowed down while it ran: at most this for the rest
};

/// What decided the rate to set.
enum class RateRule : std::uint8_t {
    target,           // the wished duration or rate
    raised_to_floor,  // the limit asks for more than the wish
    held_at_ceiling,  // the ceiling allows less than the wish
    rounded_down,     // "over at least", or an ordered rate: rounded down
    slow_stage_only,  // all in before the slow stage is over
    partial,          // does not fit: as much as can be given until the limit
};

enum class StageKind : std::uint8_t { slow, main, pause };

enum class Severity : std::uint8_t { note, caution, stop };

/// What a person has to know beside the numbers; the figures that follow each code are given beside it (any
/// of them may be missing, then the sentence leaves them out).
enum class Warning : std::uint8_t {
    protocol_is_example,
    component_after_slow_stage,   // instant of the first component in the vein, rate that runs then:
                                  // a saline-primed line, the first component runs at the full rate
    line_not_given,               // volume in the line, volume given: what stands in the line is not given
    weight_estimated,             // mass
    overload_risk_not_recorded,
    report_not_recorded,          // whether the person can report symptoms
    thaw_not_recorded,
    expiry_not_recorded,
    spike_taken_as_start,         // instant
    storage_taken_as_issue,       // instant
    volume_unusual,               // volume, least, most
    duration_unusual,             // span, least, most
    duration_not_met,             // wished span, span that comes out, the highest rate if that makes it longer
    raised_to_limit,              // wished rate, rate set: faster than was wished, because a limit asks for it
    slow_stage_lowered,           // the protocol's rate, the rate it was lowered to
    dose_exceeds_bag,             // dose, bag
    child_whole_bag,              // bag: children's doses are in mL, not in bags
    gauge_small,                  // gauge, least gauge (counts)
    gauge_not_recorded,           // least gauge (count)
    count_exactly,                // drops (count), span; one drop more (1), fewer (2), either (3) breaks a limit
    return_by_temperature,        // tenths of a degree C (count)
    set_changes_during_run,       // instant
    start_in_the_past,            // instant
    slow_stage_one_step,          // rate: the device cannot go as slowly as the slow stage asks
    line_filled_from_saline,      // volume: saline in the line is pushed first, the pump counts it too
    controlled_delivery,          // gravity where a controlled device is asked for
    early_check_open,             // instant it was due: until it is in, the rate stays
    early_check_before_component, // instant of the first component in the vein, instant the check falls due:
                                  // saline runs in first, and the check may see none of the component
    never_by_pump,                // the rules forbid the device that was chosen
    never_by_gravity,
    shares_ceiling,               // rate that runs into the same person through another line
    rate_above_ceiling,           // rate in force, highest allowed
    total_differs,                // volume read off the device, volume by the rates that were set
    total_may_hold_priming,
    stood_still,                  // span of all pauses so far: no limit has moved for it
    fits_no_more_since,           // instant: from then on the rate that is set no longer meets the limit
    set_held_component,           // volume lost in a set that was changed
    end_overdue,                  // instant: by the rates that were set the bag should be all in since then
    ended_before_rates,           // volume by the rates until "all in", volume that was to be moved
    new_set_asked,                // the rules ask for a new administration set for this unit
    early_check_flagged,          // instant it was done: it shows a change, so that nothing is raised by itself
    dose_run_over,                // dose, instant it was due to be in: nobody has noted that it was stopped
};
inline constexpr int warning_count = 42;

/// What can be done where the numbers don't fit, as somebody's decision; figures as for warnings.
enum class Advice : std::uint8_t {
    ask_split,           // blood bank: a split of at most (volume)
    ask_prescriber_rate, // prescriber: may the rate be higher, up to (rate or ratio)
    ask_prescriber_dose, // prescriber: may the dose be at most (volume)
    start_earlier,       // start at the latest at (instant)
    send_back,           // send the unit back now
    finer_device,        // a device with finer steps than (rate)
    ask_blood_bank,      // ask the blood bank before anything else
    no_earlier_start,    // starting earlier does not help
    stop_at_limit,       // stop at (instant); what is left is not given
};

/// The choices that a protocol or a transfusion makes.
enum class Clearing : std::uint8_t { required, optional, forbidden };
enum class Primed : std::uint8_t { saline, component };
enum class CountsFrom : std::uint8_t { start, rate_change };
enum class SlowFrom : std::uint8_t { start, vein };
enum class ExpiryRule : std::uint8_t { start_before, finish_before };
enum class LineKind : std::uint8_t { plain, extension, warmer };
enum class DeviceKind : std::uint8_t { pump, gravity };
enum class Answer : std::uint8_t { not_recorded, no, yes };

/// A thing to do.
enum class StepKind : std::uint8_t { hang, check, start, raise_rate, set_rate,
                                    bag_empty, clear_line, all_in, send_back, resume };

/// The one line of arithmetic behind a number; what figures follow each is said in core/words/sums.cpp.
enum class SumKind : std::uint8_t {
    none,
    after,             // instant, span, instant:             13:40 + 30 min = 14:10
    before,            // instant, span, instant:             13:52 - 30 min = 13:22
    as_stated,         // instant:                            as stated: 14:10
    dose_by_weight,    // dose/kg, mass, volume
    dose_as_ordered,   // volume
    whole_bag,         // bag, lost, volume
    pushed,            // given, line, volume:                316 mL + 20 mL of the line = 336 mL
    slow_volume,       // rate, span, volume
    rate_by_weight,    // rate/kg, mass, ratio, rate
    rest_in_time,      // pushed, slow volume, span, ratio, rate
    rest_to_limit,     // pushed, slow volume, span, ratio
    rate_as_limited,   // ratio, rate:                        rounded to the device
    runs_out,          // instant, volume, rate, instant:     14:07 + 303.5 mL at 174 mL/h = 15:51:40
    can_be_given,      // slow rate, span, rate, span, volume
    can_be_given_after_line,  // slow volume, rate, span, what the line holds, volume
    left_over,         // wanted, given, left
    largest_bag,       // can be pushed, line, lost, volume
    drops,             // rate, drop factor, drops
    latest_start,      // limit, span of the whole, instant
    over_by,           // instant, limit, span
    weight_needed,     // ratio, rate/kg, mass
};

}  // namespace hangtime
