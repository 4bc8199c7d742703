#pragma once

/// Codes of the match between a bag and a person: blood groups, what a label says, the steps of the script,
/// compatibility and the look at the bag. Stable: they stand in protocol files, in output and in tests.
/// Spelling and words are in core/words/match_words.hpp.

#include <cstdint>

namespace hangtime {

enum class Abo : std::uint8_t { o, a, b, ab };
inline constexpr int abo_count = 4;

enum class Rhd : std::uint8_t { negative, positive };

/// What became of a scan. All but the first are refusals, and a refusal carries nothing of what was scanned.
enum class ScanReason : std::uint8_t {
    understood,
    empty,
    too_long,          // longer than anything that stands on a bag
    not_bag_data,      // on no list of ours: a wristband, a staff card, anything. Dropped unread
    not_needed,        // label data of a kind that nothing here asks for
    not_a_bag,         // the number of a tube, a sample or a record
    not_blood,         // a product that is no blood component
    check_failed,      // the check in the flags is not that of the number
    bad_date,          // no day of the calendar, or not one that a bag carries
    bad_volume,        // nothing, or more than any bag holds
    contradicts,       // the same kind of data twice, and not the same
    broken_message,    // a compound message that does not hold what it announces
};

/// What is wrong with a number that was typed.
enum class TypedReason : std::uint8_t {
    right,
    too_short,        // thirteen characters and the check character are needed
    too_long,
    wrong_character,  // a character that cannot stand there
    check_failed,     // a character is wrong, or two are swapped
};

/// What the group on a label says about the use of the bag.
enum class LabelUse : std::uint8_t {
    not_stated,  // the usual: nothing said about the use
    directed,
    emergency,
    directed_biohazard,
    directed_crossover,
    autologous_crossover,
    autologous,
    autologous_biohazard,
    no_group,        // the label carries no group
    biohazard,
    discard,
    fractionation,
    quarantine,
    research,
    not_for_transfusion,
    tissue,
    not_recognised,  // a code that is none of these: read the label
};

/// What is read and compared.
enum class MatchField : std::uint8_t {
    names,            // family and given name
    birth_date,
    person_number,    // the unique number on the wristband
    recipient_group,  // as the blood bank's tag states it
    donation_number,
    product_code,     // with its division
    component,
    unit_group,
    expiry,
    requirements,     // irradiated, CMV negative, ...
};
inline constexpr int match_field_count = 10;

/// Where it is read, or compared with.
enum class MatchPlace : std::uint8_t {
    wristband,
    tag,       // the blood bank's tag, attached to the bag
    bag,       // the bag's own label
    order,
    lab_form,  // the form that came with the bag; some places forbid it at the bedside
};
inline constexpr int match_place_count = 5;

/// How many people match, and how.
enum class MatchPeople : std::uint8_t {
    one,              // one person does all of it
    two_read_back,    // one reads and the other compares; then they swap and do it again
    two_independent,  // one does all of it, then the other does all of it without being told
};

/// What is done when the person cannot say who they are.
enum class CannotSay : std::uint8_t {
    wristband_only,  // the wristband alone, by the ward's rule for it
    ask_companion,   // somebody who knows the person says it
};

enum class MatchStepKind : std::uint8_t {
    ask_person,      // the person says who they are
    ask_companion,   // somebody who knows them does
    wristband_only,  // nobody can: the wristband alone
    compare,         // one field, read from one place and compared with others
    read,            // one field of the bag; in an emergency there is nothing to compare it with
    look,            // the bag itself
};

/// Whose turn it is. Roles, never names.
enum class MatchPerson : std::uint8_t { first, second, both };

enum class MatchOutcome : std::uint8_t { passed, differed, interrupted };

enum class MatchStanding : std::uint8_t {
    not_begun,
    under_way,
    passed,
    differed,     // it is over for this unit
    interrupted,  // all of it has to be done again
    stale,        // too long ago: all of it has to be done again
};

/// Why a step is not accepted.
enum class MatchRefusal : std::uint8_t { none, closed, not_next, complete, earlier };

/// Whether bag and tag agree in one field.
enum class Agreement : std::uint8_t { same, differs, cannot_tell };

enum class Compatible : std::uint8_t { yes, local_rule, no, cannot_tell };

/// Why a unit is or isn't compatible.
enum class CompatibleReason : std::uint8_t {
    identical,            // the same group
    fits,                 // another group that fits
    rhd_not_needed,       // RhD does not count for this component
    low_titre,            // only because the label states a low titre and the protocol allows it
    any_group,            // only because the protocol allows any group
    emergency_unit,       // no group is known: by the ward's rule for emergencies
    emergency_label,      // the label says: for emergencies only
    rhd_by_blood_bank,    // RhD positive for RhD negative: the blood bank decides
    rhd_in_emergency,     // likewise, in an emergency only
    red_cells_clash,      // the recipient has antibodies against the unit's red cells
    plasma_clash,         // the unit's plasma has antibodies against the recipient's red cells
    not_identical,        // whole blood of another group
    titre_not_low,        // the label does not state the low titre that would be needed
    unknown_needs_o,      // no group is known: only group O
    unknown_needs_other,  // no group is known, and this one does not fit everybody
    rhd_listed,           // must be RhD negative by the protocol's list
    rhd_not_allowed,      // the protocol does not allow RhD positive here
    label_forbids,        // the label says: not for transfusion
    requirement_not_met,  // a special requirement is not on the label
    unit_group_missing,
    unit_rhd_missing,
    group_missing,        // the recipient's group
    group_conflicts,      // two results for the recipient's group that differ
    rhd_missing,          // the recipient's
    listed_missing,       // whether the protocol's list for RhD applies
    titre_missing,
    infant_missing,       // whether the recipient is under four months
    transplant_missing,   // whether there was a stem-cell transplant
    child_missing,        // whether the recipient is a child
    infant,               // under four months: the laboratory says
    transplant,           // after a stem-cell transplant: the laboratory says
    label_reserved,       // the label reserves it for somebody
    label_unread,         // a group code that is not recognised
    requirements_missing,
    no_rules,             // the protocol has none for this
};

/// Who answers for the groups and the special requirements before the bag hangs.
enum class GroupsBy : std::uint8_t {
    answer,      // what was read answers by itself
    laboratory,  // the laboratory's instruction is followed
    waiver,      // somebody decides it, with a reason
};
inline constexpr int groups_by_count = 3;

/// Plasma in a component against the recipient's red cells, where it does not fit by antibodies.
enum class PlasmaRule : std::uint8_t {
    compatible_only,
    low_titre_a_or_b,  // group A or B with a low titre, across
    low_titre,         // any group with a low titre
    any_group,
};

enum class UnknownPlasma : std::uint8_t { ab_only, ab_or_low_titre_a };
enum class WholeBloodRule : std::uint8_t { identical_only, low_titre_o };

/// RhD positive red cells for somebody RhD negative.
enum class RhdRule : std::uint8_t { ask_blood_bank, emergency_only, never };

enum class Requirement : std::uint8_t {
    irradiated,
    cmv_negative,
    washed,
    leucodepleted,
    hla_matched,
    antigen_negative,
    iga_deficient,
};
inline constexpr int requirement_count = 7;

enum class RequirementState : std::uint8_t { not_asked, met, not_on_label, cannot_tell };

/// What the eye looks for before a bag is hung.
enum class LookFor : std::uint8_t {
    leak,
    seal,
    ports,
    clots,
    colour,
    haemolysis,
    cloudiness,
    swirl,
    label,
    expiry,
};
inline constexpr int look_for_count = 10;

}  // namespace hangtime
