#include "core/words/session_words.hpp"

namespace hangtime {

std::string_view name(EventKind value) {
    switch (value) {
    case EventKind::opened: return "Session opened";
    case EventKind::clock_set: return "Clock set";
    case EventKind::protocol_changed: return "Other rules from here on";
    case EventKind::linked: return "Another line into the same person";
    case EventKind::joined: return "Taken up half-way";
    case EventKind::ordered: return "Order entered";
    case EventKind::recipient_told: return "Person described";
    case EventKind::equipment_chosen: return "Device and set chosen";
    case EventKind::item_noted: return "Ready item noted";
    case EventKind::sample_drawn: return "Sample drawn";
    case EventKind::requested: return "Unit called for";
    case EventKind::issued: return "Unit issued";
    case EventKind::storage_noted: return "Storage noted";
    case EventKind::received: return "Unit here";
    case EventKind::bag_temperature: return "Temperature of the bag read";
    case EventKind::match_noted: return "Match";
    case EventKind::primed: return "Set primed";
    case EventKind::device_total: return "Device total";
    case EventKind::spiked: return "Bag spiked";
    case EventKind::connected: return "Line connected";
    case EventKind::started: return "Started";
    case EventKind::rate_set: return "Rate changed";
    case EventKind::paused: return "Paused";
    case EventKind::resumed: return "Went on";
    case EventKind::observed: return "Observations taken";
    case EventKind::handed_over: return "Handed over";
    case EventKind::taken_over: return "Taken over";
    case EventKind::moved: return "Moved to another place";
    case EventKind::reaction_suspected: return "Reaction suspected";
    case EventKind::consent_withdrawn: return "The person refuses";
    case EventKind::stopped: return "Stopped for good";
    case EventKind::bag_empty: return "Bag empty";
    case EventKind::clearing_begun: return "Clearing the line";
    case EventKind::all_in: return "All in";
    case EventKind::set_changed: return "Set changed";
    case EventKind::returned: return "Unit sent back";
    case EventKind::discarded: return "Unit discarded";
    case EventKind::bag_kept: return "Empty bag kept";
    case EventKind::charted: return "Charted";
    case EventKind::withdrawn: return "Taken back";
    case EventKind::action_done: return "Done";
    case EventKind::ceiling_lowered: return "Slowed down";
    case EventKind::restarted: return "Went on after a suspected reaction";
    case EventKind::groups_judged: return "Groups and requirements";
    case EventKind::other_fluid: return "Fluid through other lines";
    case EventKind::rule_set_chosen: return "Rules for a change chosen";
    }
    return {};
}

std::string_view name(Item value) {
    switch (value) {
    case Item::authorisation: return "Authorisation to transfuse";
    case Item::sample: return "Valid sample";
    case Item::consent: return "Consent";
    case Item::baseline: return "Baseline observations";
    case Item::overload_risk: return "Risk of circulatory overload";
    case Item::can_report: return "Can report symptoms";
    case Item::premedication: return "Premedication";
    case Item::access: return "Venous access";
    case Item::set_and_saline: return "Set and saline";
    case Item::second_checker: return "Second checker";
    case Item::plan_fits: return "The plan fits";
    case Item::report_explained: return "What to report is explained";
    case Item::bag_looked_at: return "The bag is looked at";
    case Item::match: return "Bag matched to the person";
    case Item::in_date: return "In date";
    case Item::only_saline: return "Nothing but saline beside it";
    case Item::warmer_considered: return "Blood warmer";
    case Item::line_connected: return "Line connected";
    case Item::rate_read_back: return "Running rate read back";
    case Item::groups: return "Groups and requirements";
    }
    return {};
}

std::string_view question(Item value) {
    switch (value) {
    case Item::authorisation: return "Is there an authorisation to transfuse (not only the request to the blood bank), and for how many units?";
    case Item::sample: return "Does the blood bank have a sample that is still valid?";
    case Item::consent: return "Has the person consented, as your policy asks?";
    case Item::baseline: return "Are baseline observations taken inside their window?";
    case Item::overload_risk: return "Has the risk of circulatory overload been considered?";
    case Item::can_report: return "Can the person tell you about symptoms?";
    case Item::premedication: return "If it was ordered, has premedication been given?";
    case Item::access: return "Is the venous access patent, and wide enough?";
    case Item::set_and_saline: return "Are the right set and 0.9 % saline at hand, and the set prepared?";
    case Item::second_checker: return "Is a second checker at hand, if these rules ask for one?";
    case Item::plan_fits: return "Does the plan fit, before the bag is called for?";
    case Item::report_explained: return "Does the person know what to report, and how to call?";
    case Item::bag_looked_at: return "Have you looked at the bag: leaks, clots, colour, seal?";
    case Item::match: return "Is the bag matched to the person, and is that not too long ago?";
    case Item::in_date: return "Is the bag in date, to the minute?";
    case Item::only_saline: return "Does nothing but 0.9 % saline run beside it?";
    case Item::warmer_considered: return "Is a blood warmer indicated, by your policy?";
    case Item::line_connected: return "Is the line connected?";
    case Item::rate_read_back: return "Has the rate that runs been read back from the device?";
    case Item::groups: return "Do the groups and the special requirements fit, by the tag and the label, or who decides it?";
    }
    return {};
}

std::string_view name(ItemGroup value) {
    switch (value) {
    case ItemGroup::recipient: return "The person";
    case ItemGroup::order: return "The order";
    case ItemGroup::line: return "The line";
    case ItemGroup::bag: return "The bag";
    }
    return {};
}

std::string_view name(ItemHow value) {
    switch (value) {
    case ItemHow::confirmed: return "confirmed";
    case ItemHow::not_needed: return "not needed";
    case ItemHow::withdrawn: return "taken back";
    case ItemHow::waived: return "waived";
    }
    return {};
}

std::string_view name(ItemState value) {
    switch (value) {
    case ItemState::open: return "open";
    case ItemState::confirmed: return "confirmed";
    case ItemState::not_needed: return "not needed";
    case ItemState::waived: return "waived";
    case ItemState::failed: return "failed";
    }
    return {};
}

std::string_view name(WaiverReason value) {
    switch (value) {
    case WaiverReason::emergency: return "emergency";
    case WaiverReason::not_possible: return "not possible here";
    case WaiverReason::clinician_decides: return "the clinician decides so";
    case WaiverReason::already_done_elsewhere: return "done elsewhere";
    }
    return {};
}

std::string_view name(Role value) {
    switch (value) {
    case Role::nurse: return "nurse";
    case Role::second_checker: return "second checker";
    case Role::nurse_in_charge: return "nurse in charge";
    case Role::prescriber: return "prescriber";
    case Role::blood_bank: return "blood bank";
    case Role::outreach: return "critical care outreach";
    }
    return {};
}

std::string_view name(StorageChange value) {
    switch (value) {
    case StorageChange::box_opened: return "transport box opened";
    case StorageChange::left: return "left controlled storage";
    case StorageChange::entered: return "back in controlled storage";
    }
    return {};
}

std::string_view name(TotalKind value) {
    switch (value) {
    case TotalKind::zeroed: return "zeroed";
    case TotalKind::read: return "read";
    }
    return {};
}

std::string_view name(PauseReason value) {
    switch (value) {
    case PauseReason::access_failed: return "the access failed";
    case PauseReason::device_alarm: return "the device stopped";
    case PauseReason::line_needed: return "the line was needed";
    case PauseReason::person_away: return "the person was away";
    case PauseReason::symptoms: return "symptoms";
    case PauseReason::waiting_for_word: return "waiting for word";
    case PauseReason::other_care: return "other care";
    }
    return {};
}

std::string_view name(StopReason value) {
    switch (value) {
    case StopReason::time_limit: return "the time limit";
    case StopReason::reaction: return "a suspected reaction";
    case StopReason::refusal: return "the person refuses";
    case StopReason::access_lost: return "the access is lost";
    case StopReason::bag_damaged: return "the bag is damaged";
    case StopReason::order_changed: return "the order was changed";
    case StopReason::person_transferred: return "the person was transferred";
    }
    return {};
}

std::string_view name(RefusalReason value) {
    switch (value) {
    case RefusalReason::changed_mind: return "changed their mind";
    case RefusalReason::discomfort: return "discomfort";
    case RefusalReason::belief: return "belief";
    case RefusalReason::wants_to_talk: return "wants to talk first";
    case RefusalReason::not_said: return "not said";
    }
    return {};
}

std::string_view name(ReturnTo value) {
    switch (value) {
    case ReturnTo::stock: return "back to stock";
    case ReturnTo::blood_bank: return "to the blood bank";
    }
    return {};
}

std::string_view name(ReturnReason value) {
    switch (value) {
    case ReturnReason::not_needed: return "no longer needed";
    case ReturnReason::too_late: return "too late to hang";
    case ReturnReason::no_access: return "no venous access";
    case ReturnReason::refused: return "the person refuses";
    case ReturnReason::mismatch: return "the match differs";
    case ReturnReason::damaged: return "the bag is damaged";
    case ReturnReason::unwell: return "the person is unwell";
    case ReturnReason::plan_does_not_fit: return "the plan does not fit";
    case ReturnReason::reaction: return "a suspected reaction";
    case ReturnReason::part_given: return "given, or part of it";
    }
    return {};
}

std::string_view name(Place value) {
    switch (value) {
    case Place::same_ward: return "this ward";
    case Place::other_ward: return "another ward";
    case Place::theatre: return "theatre";
    case Place::imaging: return "imaging";
    case Place::critical_care: return "critical care";
    case Place::home: return "home";
    }
    return {};
}

std::string_view name(Phase value) {
    switch (value) {
    case Phase::preparing: return "Getting ready";
    case Phase::called: return "Called for";
    case Phase::here: return "Bag issued";
    case Phase::hung: return "Hung, not started";
    case Phase::running: return "Running";
    case Phase::paused: return "Standing still";
    case Phase::ended: return "Ended";
    case Phase::closed: return "Closed";
    }
    return {};
}

std::string_view name(Doing value) {
    switch (value) {
    case Doing::enter_order: return "Enter the order";
    case Doing::get_ready: return "Get ready";
    case Doing::call: return "Call for the unit";
    case Doing::wait_for_unit: return "Wait for the unit";
    case Doing::decide: return "Decide now: hang it or send it back";
    case Doing::match: return "Match the bag to the person";
    case Doing::prime: return "Prime the set";
    case Doing::hang: return "Hang the bag";
    case Doing::connect: return "Connect the line";
    case Doing::settle_open: return "Settle what is open";
    case Doing::start: return "Start";
    case Doing::stay: return "Stay at the bedside";
    case Doing::observe: return "Take observations";
    case Doing::raise_rate: return "Raise the rate";
    case Doing::go_on: return "Go on, if it is right to";
    case Doing::look_at_end: return "Look at the bag: it should be empty";
    case Doing::clear_line: return "Clear the line with saline";
    case Doing::end: return "Record that all is in";
    case Doing::ask_about_limit: return "Ask about the limit";
    case Doing::dispose: return "Say where the bag goes";
    case Doing::chart: return "Chart what is not charted";
    case Doing::react: return "Follow the list for a suspected reaction";
    case Doing::settle_groups: return "Groups and requirements: read bag and tag";
    case Doing::finished: return "Nothing more to do";
    case Doing::hold_and_ask: return "Hold it and ask: see what changed";
    case Doing::stop: return "Stop: what is not in by the limit is not given";
    }
    return {};
}

std::string_view sentence(Refusal value) {
    switch (value) {
    case Refusal::not_opened: return "The session is not opened: open one first.";
    case Refusal::opened_already: return "The session is open already.";
    case Refusal::newer_version: return "This was written by a newer version: open it with that one.";
    case Refusal::in_the_future: return "That is in the future. Enter a time that has passed.";
    case Refusal::too_far_apart: return "That is more than 5 days from the beginning. Check the date.";
    case Refusal::no_such_record: return "There is no record of that number.";
    case Refusal::other_kind: return "That record is of another kind: a record is corrected by one of its own kind.";
    case Refusal::opening_cannot_change: return "The first record cannot be changed. Open another session.";
    case Refusal::unit_closed: return "Nothing more is given of this unit.";
    case Refusal::not_ready: return "Something is still open. It is listed.";
    case Refusal::cannot_be_waived: return "That cannot be waived.";
    case Refusal::comes_by_itself: return "That follows from what is recorded. It is not ticked by hand.";
    case Refusal::units_not_covered: return "The authorisation covers no further unit. A new one is needed.";
    case Refusal::not_requested: return "The unit has not been called for.";
    case Refusal::requested_already: return "The unit is called for already.";
    case Refusal::not_issued: return "The unit has not been issued.";
    case Refusal::issued_already: return "A unit is here already. One bag at a time.";
    case Refusal::not_thawed_kind: return "This component is not thawed. Check the component.";
    case Refusal::match_missing: return "The match is not complete. Do it before you hang the bag.";
    case Refusal::match_stale: return "The match is too long ago. Do all of it again.";
    case Refusal::match_out_of_order: return "That is not the next step of the match.";
    case Refusal::match_differed: return "Something differed. Do not give it: send it back and tell the blood bank.";
    case Refusal::not_primed: return "The set is not primed.";
    case Refusal::not_spiked: return "The bag is not spiked.";
    case Refusal::spiked_already: return "The bag is spiked already.";
    case Refusal::not_connected: return "The line is not connected.";
    case Refusal::connected_already: return "The line is connected: disconnect before you prime.";
    case Refusal::started_already: return "It has started already.";
    case Refusal::not_started: return "It has not started.";
    case Refusal::not_running: return "It stands still.";
    case Refusal::not_paused: return "It does not stand still.";
    case Refusal::ended_already: return "It has ended already.";
    case Refusal::not_ended: return "It still runs. Stop it first.";
    case Refusal::rate_zero: return "A rate of nothing is a pause.";
    case Refusal::rate_above_device: return "The device cannot run so fast.";
    case Refusal::rate_above_ceiling: return "That is above the highest rate allowed. Read the running rate again.";
    case Refusal::early_check_open:
        return "The early check is not in, or it shows a change. The rate stays, unless a clinician decides otherwise.";
    case Refusal::needs_restart:
        return "It was stopped for a suspected reaction. It goes on only on a clinician's word, as a restart.";
    case Refusal::restart_barred: return "After what was seen, or not recorded, it does not go on.";
    case Refusal::total_goes_back: return "The total is lower than before, and the device was not zeroed. Read it again.";
    case Refusal::total_beyond_bag: return "That is more than the bag and the line hold. Read it again.";
    case Refusal::back_to_stock_spiked: return "A bag that was spiked never goes back to stock. It goes to the blood bank.";
    case Refusal::back_to_stock_late: return "It is too late for stock. It goes to the blood bank all the same.";
    case Refusal::back_to_stock_warm: return "The bag is too warm for stock. It goes to the blood bank all the same.";
    case Refusal::temperature_missing: return "These rules judge it by temperature. Read the temperature of the bag.";
    case Refusal::not_with_component: return "This is not the component that was ordered. Ask the blood bank.";
    case Refusal::volume_missing: return "The volume is missing or too small. Read it on the label.";
    case Refusal::expired: return "The bag has expired. Do not give it.";
    case Refusal::same_object: return "That is this session.";
    case Refusal::check_unknown: return "These rules have no such check.";
    case Refusal::nothing_to_clear: return "The line is not cleared under this plan.";
    case Refusal::consent_refused: return "The person has said no. Nothing is given.";
    case Refusal::groups_open: return "Whether groups and requirements fit is not settled: read bag and tag, or note who decides it.";
    case Refusal::groups_not_decidable: return "Nothing waives that answer. Do not give this unit: send it back and tell the blood bank.";
    case Refusal::needs_decision:
        return "It was stopped for symptoms. If a reaction is suspected, say so; else say who decides that it goes on.";
    case Refusal::temperature_old: return "The bag's temperature was read too long ago. Read it again.";
    case Refusal::back_to_stock_reason:
        return "A bag that comes back for this reason is none to keep in stock. It goes to the blood bank to deal with.";
    case Refusal::rule_set_unknown: return "The rules in force have no such set of rules for a change.";
    }
    return {};
}

std::string_view emergency_sentence() { return "Follow your local procedure for emergencies."; }

}  // namespace hangtime
