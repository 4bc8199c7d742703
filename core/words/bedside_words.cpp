#include "core/words/bedside_words.hpp"

#include <array>

namespace hangtime {

std::string_view action(EventKind value) {
    switch (value) {
    case EventKind::opened: return "Open a session";
    case EventKind::clock_set: return "Set the clock";
    case EventKind::protocol_changed: return "Go on under other rules";
    case EventKind::linked: return "Another line into this person";
    case EventKind::joined: return "Join half-way";
    case EventKind::ordered: return "Enter the order";
    case EventKind::recipient_told: return "Describe the person";
    case EventKind::equipment_chosen: return "Choose device and set";
    case EventKind::item_noted: return "Settle the item";
    case EventKind::sample_drawn: return "When the sample was drawn";
    case EventKind::requested: return "Call for the unit";
    case EventKind::issued: return "The unit is issued";
    case EventKind::storage_noted: return "Box or storage";
    case EventKind::received: return "The unit is here";
    case EventKind::bag_temperature: return "Read the bag's temperature";
    case EventKind::match_noted: return "Match";
    case EventKind::primed: return "The set is primed";
    case EventKind::device_total: return "Read the device's total";
    case EventKind::spiked: return "The bag is spiked and hangs";
    case EventKind::connected: return "The line is connected";
    case EventKind::started: return "Start";
    case EventKind::rate_set: return "Change the rate";
    case EventKind::paused: return "Pause";
    case EventKind::resumed: return "Go on";
    case EventKind::observed: return "Observations taken";
    case EventKind::handed_over: return "Hand over";
    case EventKind::taken_over: return "Take over";
    case EventKind::moved: return "Move to another place";
    case EventKind::reaction_suspected: return "Reaction suspected";
    case EventKind::action_done: return "It is done";
    case EventKind::ceiling_lowered: return "Slow down for the rest";
    case EventKind::restarted: return "Go on, on a clinician's word";
    case EventKind::groups_judged: return "Groups and requirements";
    case EventKind::other_fluid: return "Fluid through other lines";
    case EventKind::rule_set_chosen: return "Choose the rules for a change";
    case EventKind::consent_withdrawn: return "The person refuses";
    case EventKind::stopped: return "Stop for good";
    case EventKind::bag_empty: return "The bag is empty";
    case EventKind::clearing_begun: return "Clear the line";
    case EventKind::all_in: return "All is in";
    case EventKind::set_changed: return "Change the set";
    case EventKind::returned: return "Send the unit back";
    case EventKind::discarded: return "Discard the unit";
    case EventKind::bag_kept: return "Keep the empty bag";
    case EventKind::charted: return "All of it is charted";
    case EventKind::withdrawn: return "Take it back";
    }
    return {};
}

std::string_view entry_sentence(EventKind value) {
    switch (value) {
    case EventKind::ordered: return "As it stands in the order, not in the request to the blood bank.";
    case EventKind::recipient_told: return "Only what the arithmetic needs. Nothing that says who it is.";
    case EventKind::issued: return "Read it off the bag's own label.";
    case EventKind::storage_noted: return "The first time that it left counts: no minutes are given back.";
    case EventKind::primed:
        return "Before the line is connected. What runs out of the bag while priming is lost for the person.";
    case EventKind::started:
        return "Start it, then read the rate that runs off the device. It must not be the rate that primed the set.";
    case EventKind::rate_set: return "Change it, then read the rate that runs off the device.";
    case EventKind::paused: return "No limit waits for a pause. The rate stays as it is set, and the end moves.";
    case EventKind::resumed: return "The rate stays as it was set. Nothing is caught up.";
    case EventKind::device_total: return "What priming pushed is in it, unless it was zeroed after priming.";
    case EventKind::set_changed: return "What stands in the old set is lost for the person.";
    case EventKind::reaction_suspected: return "Stop, keep the line open by your procedure, call for help.";
    case EventKind::ceiling_lowered: return "A ceiling for the rest of this unit. What no longer fits is said at once.";
    case EventKind::restarted: return "Only on a clinician's word. No limit has waited for the stop.";
    case EventKind::other_fluid: 
        return "All that has run in beside this bag since the start: it counts for overload too. Leave out what a linked session "
               "here counts: that is added by itself.";
    case EventKind::rule_set_chosen:
        return "They hold for what is observed from then on. What was seen before stays as it was judged. Any new symptom is "
               "enough to stop, whatever set is chosen.";
    case EventKind::consent_withdrawn: return "It stops. Nothing of this unit goes back to stock once it was spiked.";
    case EventKind::stopped: return "Nothing more is given of this unit.";
    case EventKind::returned: return "What was spiked never goes back to stock. It goes to the blood bank.";
    case EventKind::handed_over: return "Say it aloud, with the object and the last digits of the bag.";
    case EventKind::taken_over: return "Look at the person, the bag and the rate before you take over.";
    case EventKind::bag_temperature: return "By the ward's own device for it.";
    case EventKind::joined:
        return "The few facts that rebuild a running session. What is not known stays \"not recorded\".";
    case EventKind::protocol_changed: return "What is over keeps the old rules. What is open takes the new ones.";
    case EventKind::linked: return "Two lines into one person share one highest rate, and one reaction.";
    case EventKind::opened:
    case EventKind::clock_set:
    case EventKind::equipment_chosen:
    case EventKind::item_noted:
    case EventKind::sample_drawn:
    case EventKind::requested:
    case EventKind::received:
    case EventKind::match_noted:
    case EventKind::spiked:
    case EventKind::connected:
    case EventKind::observed:
    case EventKind::action_done:
    case EventKind::groups_judged:
    case EventKind::moved:
    case EventKind::bag_empty:
    case EventKind::clearing_begun:
    case EventKind::all_in:
    case EventKind::discarded:
    case EventKind::bag_kept:
    case EventKind::charted:
    case EventKind::withdrawn: break;
    }
    return {};
}

std::string_view overload_factor(std::size_t index) {
    static constexpr std::array<std::string_view, overload_factor_count> factors = {
        "the heart works poorly",
        "the kidneys work poorly",
        "low body weight",
        "low albumin in the blood",
        "too much fluid already",
        "a large volume for the weight",
        "severe anaemia of long standing",
        "severe pre-eclampsia",
    };
    return index < factors.size() ? factors[index] : std::string_view();
}

std::string_view overload_sentence() {
    return "Any of these makes overload likelier, at any age (MHRA alert NatPSA/2024/004). Ask the prescriber.";
}

std::string_view set_step(std::size_t index, Primed with) {
    switch (index) {
    case 0: return "Close all clamps.";
    case 1: return "Hang the saline first, and spike it.";
    case 2: return "Fill the chamber until the filter is covered.";
    case 3: return "Run saline to the end of the line until no air is left: so no blood is lost to the air.";
    case 4: return "Close the clamp to the saline. Nothing but 0.9 % saline runs beside blood.";
    case 5:
        return with == Primed::component
                   ? "After the match: spike the bag and fill the line with it, not connected to the person."
                   : "After the match: spike the bag. The saline in the line reaches the person first.";
    case 6: return "Zero the device's total, or note what it says. Only then connect.";
    default: break;
    }
    return {};
}

std::string_view set_sentence() {
    return "Common practice, no source: your ward's procedure and the maker's instructions go first.";
}

std::string_view warmer_case(std::size_t index) {
    static constexpr std::array<std::string_view, warmer_case_count> cases = {
        "a large volume that has to run fast",
        "a small child, or an exchange of the blood",
        "cold antibodies that the laboratory named",
        "a person who is cold already",
    };
    return index < cases.size() ? cases[index] : std::string_view();
}

std::string_view watch_sentence() {
    return "This page does not watch the person and is no alarm. Its reminders stop when the machine sleeps.";
}

std::string_view attended_sentence() { return "Stay where you can see and hear the person."; }

}  // namespace hangtime
