#include "core/words/session_spelling.hpp"

namespace hangtime {

// One `switch` an enumeration, without a default, so that -Wswitch names a code that has no spelling yet.

std::string_view code(EventKind value) {
    switch (value) {
    case EventKind::opened: return "opened";
    case EventKind::clock_set: return "clock_set";
    case EventKind::protocol_changed: return "protocol_changed";
    case EventKind::linked: return "linked";
    case EventKind::joined: return "joined";
    case EventKind::ordered: return "ordered";
    case EventKind::recipient_told: return "recipient_told";
    case EventKind::equipment_chosen: return "equipment_chosen";
    case EventKind::item_noted: return "item_noted";
    case EventKind::sample_drawn: return "sample_drawn";
    case EventKind::requested: return "requested";
    case EventKind::issued: return "issued";
    case EventKind::storage_noted: return "storage_noted";
    case EventKind::received: return "received";
    case EventKind::bag_temperature: return "bag_temperature";
    case EventKind::match_noted: return "match_noted";
    case EventKind::primed: return "primed";
    case EventKind::device_total: return "device_total";
    case EventKind::spiked: return "spiked";
    case EventKind::connected: return "connected";
    case EventKind::started: return "started";
    case EventKind::rate_set: return "rate_set";
    case EventKind::paused: return "paused";
    case EventKind::resumed: return "resumed";
    case EventKind::observed: return "observed";
    case EventKind::handed_over: return "handed_over";
    case EventKind::taken_over: return "taken_over";
    case EventKind::moved: return "moved";
    case EventKind::reaction_suspected: return "reaction_suspected";
    case EventKind::consent_withdrawn: return "consent_withdrawn";
    case EventKind::stopped: return "stopped";
    case EventKind::bag_empty: return "bag_empty";
    case EventKind::clearing_begun: return "clearing_begun";
    case EventKind::all_in: return "all_in";
    case EventKind::set_changed: return "set_changed";
    case EventKind::returned: return "returned";
    case EventKind::discarded: return "discarded";
    case EventKind::bag_kept: return "bag_kept";
    case EventKind::charted: return "charted";
    case EventKind::withdrawn: return "withdrawn";
    case EventKind::action_done: return "action_done";
    case EventKind::ceiling_lowered: return "ceiling_lowered";
    case EventKind::restarted: return "restarted";
    case EventKind::groups_judged: return "groups_judged";
    case EventKind::other_fluid: return "other_fluid";
    case EventKind::rule_set_chosen: return "rule_set_chosen";
    }
    return {};
}

std::string_view code(Item value) {
    switch (value) {
    case Item::authorisation: return "authorisation";
    case Item::sample: return "sample";
    case Item::consent: return "consent";
    case Item::baseline: return "baseline";
    case Item::overload_risk: return "overload_risk";
    case Item::can_report: return "can_report";
    case Item::premedication: return "premedication";
    case Item::access: return "access";
    case Item::set_and_saline: return "set_and_saline";
    case Item::second_checker: return "second_checker";
    case Item::plan_fits: return "plan_fits";
    case Item::report_explained: return "report_explained";
    case Item::bag_looked_at: return "bag_looked_at";
    case Item::match: return "match";
    case Item::in_date: return "in_date";
    case Item::only_saline: return "only_saline";
    case Item::warmer_considered: return "warmer_considered";
    case Item::line_connected: return "line_connected";
    case Item::rate_read_back: return "rate_read_back";
    case Item::groups: return "groups";
    }
    return {};
}

std::string_view code(ItemGroup value) {
    switch (value) {
    case ItemGroup::recipient: return "recipient";
    case ItemGroup::order: return "order";
    case ItemGroup::line: return "line";
    case ItemGroup::bag: return "bag";
    }
    return {};
}

std::string_view code(ItemHow value) {
    switch (value) {
    case ItemHow::confirmed: return "confirmed";
    case ItemHow::not_needed: return "not_needed";
    case ItemHow::withdrawn: return "withdrawn";
    case ItemHow::waived: return "waived";
    }
    return {};
}

std::string_view code(ItemState value) {
    switch (value) {
    case ItemState::open: return "open";
    case ItemState::confirmed: return "confirmed";
    case ItemState::not_needed: return "not_needed";
    case ItemState::waived: return "waived";
    case ItemState::failed: return "failed";
    }
    return {};
}

std::string_view code(WaiverReason value) {
    switch (value) {
    case WaiverReason::emergency: return "emergency";
    case WaiverReason::not_possible: return "not_possible";
    case WaiverReason::clinician_decides: return "clinician_decides";
    case WaiverReason::already_done_elsewhere: return "already_done_elsewhere";
    }
    return {};
}

std::string_view code(Role value) {
    switch (value) {
    case Role::nurse: return "nurse";
    case Role::second_checker: return "second_checker";
    case Role::nurse_in_charge: return "nurse_in_charge";
    case Role::prescriber: return "prescriber";
    case Role::blood_bank: return "blood_bank";
    case Role::outreach: return "outreach";
    }
    return {};
}

std::string_view code(StorageChange value) {
    switch (value) {
    case StorageChange::box_opened: return "box_opened";
    case StorageChange::left: return "left";
    case StorageChange::entered: return "entered";
    }
    return {};
}

std::string_view code(TotalKind value) {
    switch (value) {
    case TotalKind::zeroed: return "zeroed";
    case TotalKind::read: return "read";
    }
    return {};
}

std::string_view code(PauseReason value) {
    switch (value) {
    case PauseReason::access_failed: return "access_failed";
    case PauseReason::device_alarm: return "device_alarm";
    case PauseReason::line_needed: return "line_needed";
    case PauseReason::person_away: return "person_away";
    case PauseReason::symptoms: return "symptoms";
    case PauseReason::waiting_for_word: return "waiting_for_word";
    case PauseReason::other_care: return "other_care";
    }
    return {};
}

std::string_view code(StopReason value) {
    switch (value) {
    case StopReason::time_limit: return "time_limit";
    case StopReason::reaction: return "reaction";
    case StopReason::refusal: return "refusal";
    case StopReason::access_lost: return "access_lost";
    case StopReason::bag_damaged: return "bag_damaged";
    case StopReason::order_changed: return "order_changed";
    case StopReason::person_transferred: return "person_transferred";
    }
    return {};
}

std::string_view code(RefusalReason value) {
    switch (value) {
    case RefusalReason::changed_mind: return "changed_mind";
    case RefusalReason::discomfort: return "discomfort";
    case RefusalReason::belief: return "belief";
    case RefusalReason::wants_to_talk: return "wants_to_talk";
    case RefusalReason::not_said: return "not_said";
    }
    return {};
}

std::string_view code(ReturnTo value) {
    switch (value) {
    case ReturnTo::stock: return "stock";
    case ReturnTo::blood_bank: return "blood_bank";
    }
    return {};
}

std::string_view code(ReturnReason value) {
    switch (value) {
    case ReturnReason::not_needed: return "not_needed";
    case ReturnReason::too_late: return "too_late";
    case ReturnReason::no_access: return "no_access";
    case ReturnReason::refused: return "refused";
    case ReturnReason::mismatch: return "mismatch";
    case ReturnReason::damaged: return "damaged";
    case ReturnReason::unwell: return "unwell";
    case ReturnReason::plan_does_not_fit: return "plan_does_not_fit";
    case ReturnReason::reaction: return "reaction";
    case ReturnReason::part_given: return "part_given";
    }
    return {};
}

std::string_view code(Place value) {
    switch (value) {
    case Place::same_ward: return "same_ward";
    case Place::other_ward: return "other_ward";
    case Place::theatre: return "theatre";
    case Place::imaging: return "imaging";
    case Place::critical_care: return "critical_care";
    case Place::home: return "home";
    }
    return {};
}

std::string_view code(Phase value) {
    switch (value) {
    case Phase::preparing: return "preparing";
    case Phase::called: return "called";
    case Phase::here: return "here";
    case Phase::hung: return "hung";
    case Phase::running: return "running";
    case Phase::paused: return "paused";
    case Phase::ended: return "ended";
    case Phase::closed: return "closed";
    }
    return {};
}

std::string_view code(Doing value) {
    switch (value) {
    case Doing::enter_order: return "enter_order";
    case Doing::get_ready: return "get_ready";
    case Doing::call: return "call";
    case Doing::wait_for_unit: return "wait_for_unit";
    case Doing::decide: return "decide";
    case Doing::match: return "match";
    case Doing::prime: return "prime";
    case Doing::hang: return "hang";
    case Doing::connect: return "connect";
    case Doing::settle_open: return "settle_open";
    case Doing::start: return "start";
    case Doing::stay: return "stay";
    case Doing::observe: return "observe";
    case Doing::raise_rate: return "raise_rate";
    case Doing::go_on: return "go_on";
    case Doing::look_at_end: return "look_at_end";
    case Doing::clear_line: return "clear_line";
    case Doing::end: return "end";
    case Doing::ask_about_limit: return "ask_about_limit";
    case Doing::dispose: return "dispose";
    case Doing::chart: return "chart";
    case Doing::react: return "react";
    case Doing::settle_groups: return "settle_groups";
    case Doing::finished: return "finished";
    case Doing::hold_and_ask: return "hold_and_ask";
    case Doing::stop: return "stop";
    }
    return {};
}

std::string_view code(Refusal value) {
    switch (value) {
    case Refusal::not_opened: return "not_opened";
    case Refusal::opened_already: return "opened_already";
    case Refusal::newer_version: return "newer_version";
    case Refusal::in_the_future: return "in_the_future";
    case Refusal::too_far_apart: return "too_far_apart";
    case Refusal::no_such_record: return "no_such_record";
    case Refusal::other_kind: return "other_kind";
    case Refusal::opening_cannot_change: return "opening_cannot_change";
    case Refusal::unit_closed: return "unit_closed";
    case Refusal::not_ready: return "not_ready";
    case Refusal::cannot_be_waived: return "cannot_be_waived";
    case Refusal::comes_by_itself: return "comes_by_itself";
    case Refusal::units_not_covered: return "units_not_covered";
    case Refusal::not_requested: return "not_requested";
    case Refusal::requested_already: return "requested_already";
    case Refusal::not_issued: return "not_issued";
    case Refusal::issued_already: return "issued_already";
    case Refusal::not_thawed_kind: return "not_thawed_kind";
    case Refusal::match_missing: return "match_missing";
    case Refusal::match_stale: return "match_stale";
    case Refusal::match_out_of_order: return "match_out_of_order";
    case Refusal::match_differed: return "match_differed";
    case Refusal::not_primed: return "not_primed";
    case Refusal::not_spiked: return "not_spiked";
    case Refusal::spiked_already: return "spiked_already";
    case Refusal::not_connected: return "not_connected";
    case Refusal::connected_already: return "connected_already";
    case Refusal::started_already: return "started_already";
    case Refusal::not_started: return "not_started";
    case Refusal::not_running: return "not_running";
    case Refusal::not_paused: return "not_paused";
    case Refusal::ended_already: return "ended_already";
    case Refusal::not_ended: return "not_ended";
    case Refusal::rate_zero: return "rate_zero";
    case Refusal::rate_above_device: return "rate_above_device";
    case Refusal::rate_above_ceiling: return "rate_above_ceiling";
    case Refusal::early_check_open: return "early_check_open";
    case Refusal::needs_restart: return "needs_restart";
    case Refusal::restart_barred: return "restart_barred";
    case Refusal::total_goes_back: return "total_goes_back";
    case Refusal::total_beyond_bag: return "total_beyond_bag";
    case Refusal::back_to_stock_spiked: return "back_to_stock_spiked";
    case Refusal::back_to_stock_late: return "back_to_stock_late";
    case Refusal::back_to_stock_warm: return "back_to_stock_warm";
    case Refusal::temperature_missing: return "temperature_missing";
    case Refusal::not_with_component: return "not_with_component";
    case Refusal::volume_missing: return "volume_missing";
    case Refusal::expired: return "expired";
    case Refusal::same_object: return "same_object";
    case Refusal::check_unknown: return "check_unknown";
    case Refusal::nothing_to_clear: return "nothing_to_clear";
    case Refusal::consent_refused: return "consent_refused";
    case Refusal::groups_open: return "groups_open";
    case Refusal::groups_not_decidable: return "groups_not_decidable";
    case Refusal::needs_decision: return "needs_decision";
    case Refusal::temperature_old: return "temperature_old";
    case Refusal::back_to_stock_reason: return "back_to_stock_reason";
    case Refusal::rule_set_unknown: return "rule_set_unknown";
    }
    return {};
}

}  // namespace hangtime
