#include "core/words/match_words.hpp"

#include "core/words/format.hpp"

namespace hangtime {

// No `default` anywhere: -Wswitch names a code that has no words yet, and tests/core/match_words_test.cpp
// fails on an empty text.

std::string_view name(Abo value) {
    switch (value) {
        case Abo::o: return "O";
        case Abo::a: return "A";
        case Abo::b: return "B";
        case Abo::ab: return "AB";
    }
    return {};
}

std::string_view name(Rhd value) {
    switch (value) {
        case Rhd::negative: return "RhD negative";
        case Rhd::positive: return "RhD positive";
    }
    return {};
}

std::string_view name(ScanReason value) {
    switch (value) {
        case ScanReason::understood: return "understood";
        case ScanReason::empty: return "nothing was scanned";
        case ScanReason::too_long: return "too long for a bag, not kept";
        case ScanReason::not_bag_data: return "not bag data, not kept";
        case ScanReason::not_needed: return "label data that is not needed here, not kept";
        case ScanReason::not_a_bag: return "not a bag: a tube, a sample or a record";
        case ScanReason::not_blood: return "not a blood component";
        case ScanReason::check_failed: return "the check in the number does not fit";
        case ScanReason::bad_date: return "not a date that a bag carries";
        case ScanReason::bad_volume: return "not a volume that a bag holds";
        case ScanReason::contradicts: return "says two things that differ";
        case ScanReason::broken_message: return "not all of the message arrived";
    }
    return {};
}

std::string_view name(TypedReason value) {
    switch (value) {
        case TypedReason::right: return "the check character fits";
        case TypedReason::too_short: return "too short";
        case TypedReason::too_long: return "too long";
        case TypedReason::wrong_character: return "a character that cannot stand there";
        case TypedReason::check_failed: return "the check character does not fit";
    }
    return {};
}

std::string_view name(LabelUse value) {
    switch (value) {
        case LabelUse::not_stated: return "use not stated";
        case LabelUse::directed: return "for one named person only";
        case LabelUse::emergency: return "for emergencies only";
        case LabelUse::directed_biohazard: return "for one named person only, biohazard";
        case LabelUse::directed_crossover: return "for one named person, may be released to others";
        case LabelUse::autologous_crossover: return "for its donor, may be released to others";
        case LabelUse::autologous: return "for its donor only";
        case LabelUse::autologous_biohazard: return "for its donor only, biohazard";
        case LabelUse::no_group: return "no group on the label";
        case LabelUse::biohazard: return "biohazard";
        case LabelUse::discard: return "to be discarded";
        case LabelUse::fractionation: return "for fractionation";
        case LabelUse::quarantine: return "in quarantine";
        case LabelUse::research: return "for research";
        case LabelUse::not_for_transfusion: return "not for transfusion";
        case LabelUse::tissue: return "tissue";
        case LabelUse::not_recognised: return "group code not recognised";
    }
    return {};
}

std::string_view name(MatchField value) {
    switch (value) {
        case MatchField::names: return "Family and given name";
        case MatchField::birth_date: return "Date of birth";
        case MatchField::person_number: return "Number on the wristband";
        case MatchField::recipient_group: return "Group of the recipient";
        case MatchField::donation_number: return "Donation number";
        case MatchField::product_code: return "Product code with division";
        case MatchField::component: return "Component";
        case MatchField::unit_group: return "Group of the unit";
        case MatchField::expiry: return "Expiry";
        case MatchField::requirements: return "Special requirements";
    }
    return {};
}

std::string_view name(MatchPlace value) {
    switch (value) {
        case MatchPlace::wristband: return "wristband";
        case MatchPlace::tag: return "tag";
        case MatchPlace::bag: return "bag";
        case MatchPlace::order: return "order";
        case MatchPlace::lab_form: return "lab's form";
    }
    return {};
}

std::string_view name(MatchPeople value) {
    switch (value) {
        case MatchPeople::one: return "one person";
        case MatchPeople::two_read_back: return "two people: one reads, the other compares, then they swap";
        case MatchPeople::two_independent: return "two people, one after the other, each alone";
    }
    return {};
}

std::string_view name(CannotSay value) {
    switch (value) {
        case CannotSay::wristband_only: return "the wristband alone, by the ward's rule";
        case CannotSay::ask_companion: return "somebody who knows the person says it";
    }
    return {};
}

std::string_view name(MatchStepKind value) {
    switch (value) {
        case MatchStepKind::ask_person: return "Ask the person";
        case MatchStepKind::ask_companion: return "Ask somebody who knows the person";
        case MatchStepKind::wristband_only: return "Wristband alone";
        case MatchStepKind::compare: return "Compare";
        case MatchStepKind::read: return "Read";
        case MatchStepKind::look: return "Look at the bag";
    }
    return {};
}

std::string_view name(MatchPerson value) {
    switch (value) {
        case MatchPerson::first: return "first person";
        case MatchPerson::second: return "second person";
        case MatchPerson::both: return "both";
    }
    return {};
}

std::string_view name(MatchOutcome value) {
    switch (value) {
        case MatchOutcome::passed: return "the same";
        case MatchOutcome::differed: return "differs";
        case MatchOutcome::interrupted: return "interrupted";
    }
    return {};
}

std::string_view name(MatchStanding value) {
    switch (value) {
        case MatchStanding::not_begun: return "not begun";
        case MatchStanding::under_way: return "under way";
        case MatchStanding::passed: return "matched";
        case MatchStanding::differed: return "does not match";
        case MatchStanding::interrupted: return "interrupted";
        case MatchStanding::stale: return "too old";
    }
    return {};
}

std::string_view name(Agreement value) {
    switch (value) {
        case Agreement::same: return "the same";
        case Agreement::differs: return "differs";
        case Agreement::cannot_tell: return "cannot tell";
    }
    return {};
}

std::string_view name(Compatible value) {
    switch (value) {
        case Compatible::yes: return "yes";
        case Compatible::local_rule: return "only by local rule";
        case Compatible::no: return "no";
        case Compatible::cannot_tell: return "cannot tell";
    }
    return {};
}

std::string_view name(GroupsBy value) {
    switch (value) {
        case GroupsBy::answer: return "by what was read";
        case GroupsBy::laboratory: return "the laboratory's instruction is followed";
        case GroupsBy::waiver: return "somebody decides it";
    }
    return {};
}

std::string_view name(PlasmaRule value) {
    switch (value) {
        case PlasmaRule::compatible_only: return "only what fits";
        case PlasmaRule::low_titre_a_or_b: return "also A and B with a low titre";
        case PlasmaRule::low_titre: return "also any group with a low titre";
        case PlasmaRule::any_group: return "any group";
    }
    return {};
}

std::string_view name(UnknownPlasma value) {
    switch (value) {
        case UnknownPlasma::ab_only: return "AB only";
        case UnknownPlasma::ab_or_low_titre_a: return "AB, or A with a low titre";
    }
    return {};
}

std::string_view name(WholeBloodRule value) {
    switch (value) {
        case WholeBloodRule::identical_only: return "the same group only";
        case WholeBloodRule::low_titre_o: return "the same group, or O with a low titre";
    }
    return {};
}

std::string_view name(RhdRule value) {
    switch (value) {
        case RhdRule::ask_blood_bank: return "the blood bank decides";
        case RhdRule::emergency_only: return "in an emergency only";
        case RhdRule::never: return "never";
    }
    return {};
}

std::string_view name(Requirement value) {
    switch (value) {
        case Requirement::irradiated: return "Irradiated";
        case Requirement::cmv_negative: return "CMV negative";
        case Requirement::washed: return "Washed";
        case Requirement::leucodepleted: return "Leucodepleted";
        case Requirement::hla_matched: return "HLA matched";
        case Requirement::antigen_negative: return "Negative for named antigens";
        case Requirement::iga_deficient: return "IgA deficient";
    }
    return {};
}

std::string_view name(RequirementState value) {
    switch (value) {
        case RequirementState::not_asked: return "not asked for";
        case RequirementState::met: return "on the label";
        case RequirementState::not_on_label: return "not on the label";
        case RequirementState::cannot_tell: return "cannot tell";
    }
    return {};
}

std::string_view name(LookFor value) {
    switch (value) {
        case LookFor::leak: return "Leaks";
        case LookFor::seal: return "Seal";
        case LookFor::ports: return "Ports";
        case LookFor::clots: return "Clots";
        case LookFor::colour: return "Colour";
        case LookFor::haemolysis: return "Haemolysis";
        case LookFor::cloudiness: return "Cloudiness";
        case LookFor::swirl: return "Swirling";
        case LookFor::label: return "Label";
        case LookFor::expiry: return "Expiry";
    }
    return {};
}

std::string group_text(std::optional<Abo> abo, std::optional<Rhd> rhd) {
    if (!abo && !rhd) return std::string(not_recorded_text);
    return (abo ? std::string(name(*abo)) : "group not recorded") + ", " +
           (rhd ? std::string(name(*rhd)) : "RhD not stated");
}

}  // namespace hangtime
