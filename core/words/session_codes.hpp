#pragma once

/// The codes of a live session: what can happen to it, what has to be ready, and why something is refused.
/// Codes are stable. Spelled in session_spelling.cpp, put into words in session_words.cpp.

#include <cstdint>

namespace hangtime {

/// What a record of the log says happened (design section 4). The facts of each are in core/session/events.hpp.
enum class EventKind : std::uint8_t {
    opened,             // the first record: object, protocol, wall clock
    clock_set,          // the wall clock's offset, or how far this machine's clock is from the one charted by
    protocol_changed,
    linked,             // another session runs into the same recipient
    joined,             // taken up half-way: what came before may stay "not recorded"
    ordered,
    recipient_told,
    equipment_chosen,
    item_noted,         // a ready item confirmed, withdrawn or waived
    sample_drawn,
    requested,          // the unit called for
    issued,
    storage_noted,      // transport box opened, controlled storage left or entered again
    received,
    bag_temperature,
    match_noted,
    primed,
    device_total,       // zeroed or read
    spiked,
    connected,
    started,
    rate_set,
    paused,
    resumed,
    observed,
    handed_over,
    taken_over,
    moved,
    reaction_suspected,
    consent_withdrawn,
    stopped,            // for good
    bag_empty,
    clearing_begun,
    all_in,
    set_changed,
    returned,
    discarded,
    bag_kept,
    charted,            // records of these numbers are in the ward's own record
    withdrawn,          // records of these numbers did not happen
    action_done,        // one of the actions after a suspected reaction
    ceiling_lowered,    // slowed down: at most this rate for the rest
    restarted,          // after a suspected reaction, on a clinician's word, at a rate
    groups_judged,      // whether groups and special requirements fit, or who decides it
    other_fluid,        // what has run in through other lines
    rule_set_chosen,    // by which of the named rule sets a change from the baseline is judged from now on
};
inline constexpr int event_kind_count = 46;

/// What has to be ready, before the bag is called for and before the start.
enum class Item : std::uint8_t {
    authorisation,    // to transfuse, with the number of units that it covers
    sample,
    consent,
    baseline,         // comes from observations; never confirmed by hand
    overload_risk,
    can_report,
    premedication,
    access,
    set_and_saline,
    second_checker,
    plan_fits,        // comes from the reckoning; never confirmed by hand
    report_explained, // from here on: before the start
    bag_looked_at,
    match,            // comes from the match
    in_date,          // comes from the expiry
    only_saline,
    warmer_considered,
    line_connected,   // comes from the log
    rate_read_back,   // comes from the start itself: the priming rate is no longer set
    groups,           // groups and special requirements fit, or somebody has decided; before the bag hangs
};
inline constexpr int item_count = 20;

enum class ItemGroup : std::uint8_t { recipient, order, line, bag };

enum class ItemHow : std::uint8_t { confirmed, not_needed, withdrawn, waived };
enum class ItemState : std::uint8_t { open, confirmed, not_needed, waived, failed };

enum class WaiverReason : std::uint8_t { emergency, not_possible, clinician_decides, already_done_elsewhere };
enum class Role : std::uint8_t { nurse, second_checker, nurse_in_charge, prescriber, blood_bank, outreach };

enum class StorageChange : std::uint8_t { box_opened, left, entered };
enum class TotalKind : std::uint8_t { zeroed, read };

enum class PauseReason : std::uint8_t {
    access_failed, device_alarm, line_needed, person_away, symptoms, waiting_for_word, other_care,
};
enum class StopReason : std::uint8_t {
    time_limit, reaction, refusal, access_lost, bag_damaged, order_changed, person_transferred,
};
enum class RefusalReason : std::uint8_t { changed_mind, discomfort, belief, wants_to_talk, not_said };
enum class ReturnTo : std::uint8_t { stock, blood_bank };  // to be kept in stock, or for the blood bank to deal with
enum class ReturnReason : std::uint8_t {
    not_needed, too_late, no_access, refused, mismatch, damaged, unwell, plan_does_not_fit, reaction, part_given,
};
enum class Place : std::uint8_t { same_ward, other_ward, theatre, imaging, critical_care, home };

/// How far a session has come. Derived from the log, never stored.
enum class Phase : std::uint8_t {
    preparing,   // nothing called for
    called,      // the unit is called for
    here,        // issued: the windows run
    hung,        // spiked, not started
    running,
    paused,
    ended,       // all in, or stopped for good; checks and disposal are still to come
    closed,      // returned, discarded or kept, and nothing is open
};

/// What to do; in the order in which it usually comes.
enum class Doing : std::uint8_t {
    enter_order, get_ready, call, wait_for_unit, decide, match, prime, hang, connect, settle_open, start, stay,
    observe, raise_rate, go_on, look_at_end, clear_line, end, ask_about_limit, dispose, chart, react, settle_groups, finished,
    hold_and_ask, stop,
};

/// Why a record is refused.
enum class Refusal : std::uint8_t {
    not_opened,             // the first record must open the session
    opened_already,
    newer_version,
    in_the_future,
    too_far_apart,          // more than five days from the first record
    no_such_record,         // it corrects or withdraws a number that is not there
    other_kind,             // it corrects a record of another kind
    opening_cannot_change,
    unit_closed,            // returned, discarded or differed: nothing more can be given of it
    not_ready,              // something in the ready list is open
    cannot_be_waived,
    comes_by_itself,        // the item follows from other records
    units_not_covered,      // more units than the authorisation covers
    not_requested,
    requested_already,
    not_issued,
    issued_already,
    not_thawed_kind,        // a thaw time for a component that is not thawed
    match_missing,
    match_stale,            // too long ago: all of it again
    match_out_of_order,     // not the step that comes next
    match_differed,
    not_primed,
    not_spiked,
    spiked_already,
    not_connected,
    connected_already,
    started_already,
    not_started,
    not_running,
    not_paused,
    ended_already,
    not_ended,
    rate_zero,
    rate_above_device,
    rate_above_ceiling,
    early_check_open,       // the rate is raised only when the early check is in and shows no flagged change
    needs_restart,          // it was stopped for a suspected reaction: it goes on only on a clinician's word
    restart_barred,         // not after what was seen
    total_goes_back,        // a device's total below an earlier one, without having been zeroed
    total_beyond_bag,
    back_to_stock_spiked,   // once spiked nothing goes back to stock
    back_to_stock_late,
    back_to_stock_warm,
    temperature_missing,    // the protocol judges a return by temperature
    not_with_component,     // the order and the bag are of different components
    volume_missing,
    expired,
    same_object,
    check_unknown,          // the protocol has no such check
    nothing_to_clear,
    consent_refused,        // the person has said no
    groups_open,            // whether the groups fit is not noted, or needs a decision first
    groups_not_decidable,   // an answer that nothing waives, or that does not need to be decided
    needs_decision,         // it was stopped for symptoms: somebody decides that it goes on
    temperature_old,        // the last reading of the bag's temperature is too long ago
    back_to_stock_reason,   // a bag that comes back for this is none to keep
    rule_set_unknown,       // the protocol has no rule set of that name
};
inline constexpr int refusal_count = 58;

}  // namespace hangtime
