#include "core/words/match_words.hpp"

namespace hangtime {

// One `switch` an enumeration, without a default, so that -Wswitch names a code that has no spelling yet.

std::string_view code(Abo value) {
    switch (value) {
    case Abo::o: return "o";
    case Abo::a: return "a";
    case Abo::b: return "b";
    case Abo::ab: return "ab";
    }
    return {};
}

std::string_view code(Rhd value) {
    switch (value) {
    case Rhd::negative: return "negative";
    case Rhd::positive: return "positive";
    }
    return {};
}

std::string_view code(ScanReason value) {
    switch (value) {
    case ScanReason::understood: return "understood";
    case ScanReason::empty: return "empty";
    case ScanReason::too_long: return "too_long";
    case ScanReason::not_bag_data: return "not_bag_data";
    case ScanReason::not_needed: return "not_needed";
    case ScanReason::not_a_bag: return "not_a_bag";
    case ScanReason::not_blood: return "not_blood";
    case ScanReason::check_failed: return "check_failed";
    case ScanReason::bad_date: return "bad_date";
    case ScanReason::bad_volume: return "bad_volume";
    case ScanReason::contradicts: return "contradicts";
    case ScanReason::broken_message: return "broken_message";
    }
    return {};
}

std::string_view code(TypedReason value) {
    switch (value) {
    case TypedReason::right: return "right";
    case TypedReason::too_short: return "too_short";
    case TypedReason::too_long: return "too_long";
    case TypedReason::wrong_character: return "wrong_character";
    case TypedReason::check_failed: return "check_failed";
    }
    return {};
}

std::string_view code(LabelUse value) {
    switch (value) {
    case LabelUse::not_stated: return "not_stated";
    case LabelUse::directed: return "directed";
    case LabelUse::emergency: return "emergency";
    case LabelUse::directed_biohazard: return "directed_biohazard";
    case LabelUse::directed_crossover: return "directed_crossover";
    case LabelUse::autologous_crossover: return "autologous_crossover";
    case LabelUse::autologous: return "autologous";
    case LabelUse::autologous_biohazard: return "autologous_biohazard";
    case LabelUse::no_group: return "no_group";
    case LabelUse::biohazard: return "biohazard";
    case LabelUse::discard: return "discard";
    case LabelUse::fractionation: return "fractionation";
    case LabelUse::quarantine: return "quarantine";
    case LabelUse::research: return "research";
    case LabelUse::not_for_transfusion: return "not_for_transfusion";
    case LabelUse::tissue: return "tissue";
    case LabelUse::not_recognised: return "not_recognised";
    }
    return {};
}

std::string_view code(MatchField value) {
    switch (value) {
    case MatchField::names: return "names";
    case MatchField::birth_date: return "birth_date";
    case MatchField::person_number: return "person_number";
    case MatchField::recipient_group: return "recipient_group";
    case MatchField::donation_number: return "donation_number";
    case MatchField::product_code: return "product_code";
    case MatchField::component: return "component";
    case MatchField::unit_group: return "unit_group";
    case MatchField::expiry: return "expiry";
    case MatchField::requirements: return "requirements";
    }
    return {};
}

std::string_view code(MatchPlace value) {
    switch (value) {
    case MatchPlace::wristband: return "wristband";
    case MatchPlace::tag: return "tag";
    case MatchPlace::bag: return "bag";
    case MatchPlace::order: return "order";
    case MatchPlace::lab_form: return "lab_form";
    }
    return {};
}

std::string_view code(MatchPeople value) {
    switch (value) {
    case MatchPeople::one: return "one";
    case MatchPeople::two_read_back: return "two_read_back";
    case MatchPeople::two_independent: return "two_independent";
    }
    return {};
}

std::string_view code(CannotSay value) {
    switch (value) {
    case CannotSay::wristband_only: return "wristband_only";
    case CannotSay::ask_companion: return "ask_companion";
    }
    return {};
}

std::string_view code(MatchStepKind value) {
    switch (value) {
    case MatchStepKind::ask_person: return "ask_person";
    case MatchStepKind::ask_companion: return "ask_companion";
    case MatchStepKind::wristband_only: return "wristband_only";
    case MatchStepKind::compare: return "compare";
    case MatchStepKind::read: return "read";
    case MatchStepKind::look: return "look";
    }
    return {};
}

std::string_view code(MatchPerson value) {
    switch (value) {
    case MatchPerson::first: return "first";
    case MatchPerson::second: return "second";
    case MatchPerson::both: return "both";
    }
    return {};
}

std::string_view code(MatchOutcome value) {
    switch (value) {
    case MatchOutcome::passed: return "passed";
    case MatchOutcome::differed: return "differed";
    case MatchOutcome::interrupted: return "interrupted";
    }
    return {};
}

std::string_view code(MatchStanding value) {
    switch (value) {
    case MatchStanding::not_begun: return "not_begun";
    case MatchStanding::under_way: return "under_way";
    case MatchStanding::passed: return "passed";
    case MatchStanding::differed: return "differed";
    case MatchStanding::interrupted: return "interrupted";
    case MatchStanding::stale: return "stale";
    }
    return {};
}

std::string_view code(MatchRefusal value) {
    switch (value) {
    case MatchRefusal::none: return "none";
    case MatchRefusal::closed: return "closed";
    case MatchRefusal::not_next: return "not_next";
    case MatchRefusal::complete: return "complete";
    case MatchRefusal::earlier: return "earlier";
    }
    return {};
}

std::string_view code(Agreement value) {
    switch (value) {
    case Agreement::same: return "same";
    case Agreement::differs: return "differs";
    case Agreement::cannot_tell: return "cannot_tell";
    }
    return {};
}

std::string_view code(Compatible value) {
    switch (value) {
    case Compatible::yes: return "yes";
    case Compatible::local_rule: return "local_rule";
    case Compatible::no: return "no";
    case Compatible::cannot_tell: return "cannot_tell";
    }
    return {};
}

std::string_view code(CompatibleReason value) {
    switch (value) {
    case CompatibleReason::identical: return "identical";
    case CompatibleReason::fits: return "fits";
    case CompatibleReason::rhd_not_needed: return "rhd_not_needed";
    case CompatibleReason::low_titre: return "low_titre";
    case CompatibleReason::any_group: return "any_group";
    case CompatibleReason::emergency_unit: return "emergency_unit";
    case CompatibleReason::emergency_label: return "emergency_label";
    case CompatibleReason::rhd_by_blood_bank: return "rhd_by_blood_bank";
    case CompatibleReason::rhd_in_emergency: return "rhd_in_emergency";
    case CompatibleReason::red_cells_clash: return "red_cells_clash";
    case CompatibleReason::plasma_clash: return "plasma_clash";
    case CompatibleReason::not_identical: return "not_identical";
    case CompatibleReason::titre_not_low: return "titre_not_low";
    case CompatibleReason::unknown_needs_o: return "unknown_needs_o";
    case CompatibleReason::unknown_needs_other: return "unknown_needs_other";
    case CompatibleReason::rhd_listed: return "rhd_listed";
    case CompatibleReason::rhd_not_allowed: return "rhd_not_allowed";
    case CompatibleReason::label_forbids: return "label_forbids";
    case CompatibleReason::requirement_not_met: return "requirement_not_met";
    case CompatibleReason::unit_group_missing: return "unit_group_missing";
    case CompatibleReason::unit_rhd_missing: return "unit_rhd_missing";
    case CompatibleReason::group_missing: return "group_missing";
    case CompatibleReason::group_conflicts: return "group_conflicts";
    case CompatibleReason::rhd_missing: return "rhd_missing";
    case CompatibleReason::listed_missing: return "listed_missing";
    case CompatibleReason::titre_missing: return "titre_missing";
    case CompatibleReason::infant_missing: return "infant_missing";
    case CompatibleReason::transplant_missing: return "transplant_missing";
    case CompatibleReason::child_missing: return "child_missing";
    case CompatibleReason::infant: return "infant";
    case CompatibleReason::transplant: return "transplant";
    case CompatibleReason::label_reserved: return "label_reserved";
    case CompatibleReason::label_unread: return "label_unread";
    case CompatibleReason::requirements_missing: return "requirements_missing";
    case CompatibleReason::no_rules: return "no_rules";
    }
    return {};
}

std::string_view code(GroupsBy value) {
    switch (value) {
    case GroupsBy::answer: return "answer";
    case GroupsBy::laboratory: return "laboratory";
    case GroupsBy::waiver: return "waiver";
    }
    return {};
}

std::string_view code(PlasmaRule value) {
    switch (value) {
    case PlasmaRule::compatible_only: return "compatible_only";
    case PlasmaRule::low_titre_a_or_b: return "low_titre_a_or_b";
    case PlasmaRule::low_titre: return "low_titre";
    case PlasmaRule::any_group: return "any_group";
    }
    return {};
}

std::string_view code(UnknownPlasma value) {
    switch (value) {
    case UnknownPlasma::ab_only: return "ab_only";
    case UnknownPlasma::ab_or_low_titre_a: return "ab_or_low_titre_a";
    }
    return {};
}

std::string_view code(WholeBloodRule value) {
    switch (value) {
    case WholeBloodRule::identical_only: return "identical_only";
    case WholeBloodRule::low_titre_o: return "low_titre_o";
    }
    return {};
}

std::string_view code(RhdRule value) {
    switch (value) {
    case RhdRule::ask_blood_bank: return "ask_blood_bank";
    case RhdRule::emergency_only: return "emergency_only";
    case RhdRule::never: return "never";
    }
    return {};
}

std::string_view code(Requirement value) {
    switch (value) {
    case Requirement::irradiated: return "irradiated";
    case Requirement::cmv_negative: return "cmv_negative";
    case Requirement::washed: return "washed";
    case Requirement::leucodepleted: return "leucodepleted";
    case Requirement::hla_matched: return "hla_matched";
    case Requirement::antigen_negative: return "antigen_negative";
    case Requirement::iga_deficient: return "iga_deficient";
    }
    return {};
}

std::string_view code(RequirementState value) {
    switch (value) {
    case RequirementState::not_asked: return "not_asked";
    case RequirementState::met: return "met";
    case RequirementState::not_on_label: return "not_on_label";
    case RequirementState::cannot_tell: return "cannot_tell";
    }
    return {};
}

std::string_view code(LookFor value) {
    switch (value) {
    case LookFor::leak: return "leak";
    case LookFor::seal: return "seal";
    case LookFor::ports: return "ports";
    case LookFor::clots: return "clots";
    case LookFor::colour: return "colour";
    case LookFor::haemolysis: return "haemolysis";
    case LookFor::cloudiness: return "cloudiness";
    case LookFor::swirl: return "swirl";
    case LookFor::label: return "label";
    case LookFor::expiry: return "expiry";
    }
    return {};
}

}  // namespace hangtime
