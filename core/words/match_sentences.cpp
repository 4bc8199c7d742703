#include "core/words/match_words.hpp"

namespace hangtime {

std::string_view sentence(ScanReason value) {
    switch (value) {
        case ScanReason::understood: return "Confirm it against the label.";
        case ScanReason::empty: return "Scan again, or type it.";
        case ScanReason::too_long: return "It was dropped unread. Scan one bar code of the bag at a time.";
        case ScanReason::not_bag_data:
            return "It was dropped unread. Scan the bar codes on the bag or on its tag only.";
        case ScanReason::not_needed:
            return "It was dropped. Scan the number, the group, the product code or the expiry.";
        case ScanReason::not_a_bag:
            return "This number belongs to a tube, a sample or a record. Scan the bag itself.";
        case ScanReason::not_blood:
            return "This product is not a blood component. It is not covered here, follow your procedure.";
        case ScanReason::check_failed:
            return "The check in the bar code does not fit the number. Scan again, then read the label.";
        case ScanReason::bad_date: return "Read the date on the label.";
        case ScanReason::bad_volume: return "Read the volume on the label.";
        case ScanReason::contradicts:
            return "One scan says two different things. Scan one bar code at a time, then read the label.";
        case ScanReason::broken_message: return "Not all of the message arrived. Scan again.";
    }
    return {};
}

std::string_view sentence(TypedReason value) {
    switch (value) {
        case TypedReason::right: return "Confirm it against the label.";
        case TypedReason::too_short:
            return "Type the thirteen characters and the check character in the box.";
        case TypedReason::too_long:
            return "Type only the thirteen characters and the check character in the box.";
        case TypedReason::wrong_character:
            return "Letters stay letters and digits stay digits: the letter O is not the digit 0.";
        case TypedReason::check_failed:
            return "One character is wrong, or two are swapped. Read the label again, character by "
                   "character.";
    }
    return {};
}

std::string_view sentence(MatchStanding value) {
    switch (value) {
        case MatchStanding::not_begun:
            return "Match the bag to the person at the bedside before it is hung.";
        case MatchStanding::under_way:
            return "Go on with the next step. If you are interrupted, begin again.";
        case MatchStanding::passed:
            return "All of it is the same. Hang the bag now and stay at the bedside.";
        case MatchStanding::differed: return "Do not give this unit. Send it back and tell the blood bank.";
        case MatchStanding::interrupted: return "The match was interrupted. Do all of it again.";
        case MatchStanding::stale: return "The match is too old. Do all of it again at the bedside.";
    }
    return {};
}

std::string_view sentence(MatchRefusal value) {
    switch (value) {
        case MatchRefusal::none: return "Taken.";
        case MatchRefusal::closed: return "This unit did not match: it is closed for use.";
        case MatchRefusal::not_next: return "Another step comes first.";
        case MatchRefusal::complete: return "Every step is done.";
        case MatchRefusal::earlier: return "The time is before the step before it.";
    }
    return {};
}

std::string_view sentence(CompatibleReason value) {
    switch (value) {
        case CompatibleReason::identical: return "The same group.";
        case CompatibleReason::fits: return "Another group, and it fits.";
        case CompatibleReason::rhd_not_needed: return "RhD does not count for this component.";
        case CompatibleReason::low_titre:
            return "Only because these rules allow a low titre, and the label states it.";
        case CompatibleReason::any_group:
            return "Only because these rules allow any group for this component.";
        case CompatibleReason::emergency_unit:
            return "No group is known: only by the ward's rule for emergencies.";
        case CompatibleReason::emergency_label: return "The label says that it is for emergencies only.";
        case CompatibleReason::rhd_by_blood_bank:
            return "RhD positive for somebody RhD negative: the blood bank decides.";
        case CompatibleReason::rhd_in_emergency:
            return "RhD positive for somebody RhD negative: only in an emergency, by local rule.";
        case CompatibleReason::red_cells_clash:
            return "The recipient has antibodies against these red cells. Do not give this unit.";
        case CompatibleReason::plasma_clash:
            return "The plasma in this unit has antibodies against the recipient's red cells.";
        case CompatibleReason::not_identical: return "Whole blood of another group does not fit.";
        case CompatibleReason::titre_not_low:
            return "The label does not state the low titre that these rules ask for.";
        case CompatibleReason::unknown_needs_o: return "While no group is known, only group O.";
        case CompatibleReason::unknown_needs_other:
            return "While no group is known, this group does not fit everybody.";
        case CompatibleReason::rhd_listed:
            return "The recipient is on the list of those who must have RhD negative.";
        case CompatibleReason::rhd_not_allowed: return "These rules do not allow RhD positive here.";
        case CompatibleReason::label_forbids: return "The label says that it must not be transfused.";
        case CompatibleReason::requirement_not_met:
            return "A special requirement is not on the label. Ask the blood bank.";
        case CompatibleReason::unit_group_missing:
            return "The group of the unit is not recorded. Read the label.";
        case CompatibleReason::unit_rhd_missing: return "RhD of the unit is not recorded. Read the label.";
        case CompatibleReason::group_missing:
            return "The group of the recipient is not recorded. Take it from the blood bank's tag.";
        case CompatibleReason::group_conflicts:
            return "Two results for the group of the recipient differ. Ask the blood bank.";
        case CompatibleReason::rhd_missing:
            return "RhD of the recipient is not recorded. Take it from the blood bank's tag.";
        case CompatibleReason::listed_missing:
            return "Whether the recipient must have RhD negative is not recorded.";
        case CompatibleReason::titre_missing: return "Whether the label states a low titre is not recorded.";
        case CompatibleReason::infant_missing:
            return "Whether the recipient is under four months is not recorded.";
        case CompatibleReason::transplant_missing:
            return "Whether there was a stem-cell transplant is not recorded.";
        case CompatibleReason::child_missing: return "Whether the recipient is a child is not recorded.";
        case CompatibleReason::infant: return "Under four months: follow the laboratory's instruction.";
        case CompatibleReason::transplant:
            return "After a stem-cell transplant: follow the laboratory's instruction.";
        case CompatibleReason::label_reserved:
            return "The label reserves this unit for somebody. Ask the blood bank.";
        case CompatibleReason::label_unread:
            return "The group code is not one of the eight groups. Read the label.";
        case CompatibleReason::requirements_missing:
            return "Special requirements, or what the label says of them, are not recorded.";
        case CompatibleReason::no_rules:
            return "These rules say nothing about compatibility. Follow your own policy.";
    }
    return {};
}

std::string_view sentence(LookFor value) {
    switch (value) {
        case LookFor::leak: return "No leak anywhere, also when the bag is pressed gently.";
        case LookFor::seal: return "The seal is whole, and nobody has opened it.";
        case LookFor::ports: return "The ports are closed and not damaged.";
        case LookFor::clots: return "No clots and no clumps.";
        case LookFor::colour:
            return "The colour is what it usually is for this component, the same in the bag and in its "
                   "segments.";
        case LookFor::haemolysis: return "No red or purple tinge above the red cells.";
        case LookFor::cloudiness: return "Not cloudy, no bubbles of gas.";
        case LookFor::swirl: return "The platelets swirl when the bag is tilted against the light.";
        case LookFor::label: return "The label is whole, can be read and sits on the bag.";
        case LookFor::expiry: return "The expiry, with its time, has not passed.";
    }
    return {};
}

std::string_view look_failed_sentence() {
    return "Do not give this unit. Keep it, send it back and tell the blood bank.";
}

}  // namespace hangtime
