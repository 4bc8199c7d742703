#pragma once

/// The local rules for matching a bag to a person, and the local choices in compatibility. A part of
/// core/protocol/protocol.hpp; a file that says nothing about it has none, and then nothing here is decided
/// for anybody: "follow your own policy".
///
/// What is not here is not a choice: red cells (and granulocytes) that the recipient has antibodies against
/// are never compatible, and missing data never is.

#include "core/fixed_list.hpp"
#include "core/protocol/given.hpp"
#include "core/quantity.hpp"
#include "core/words/match_codes.hpp"

#include <array>
#include <cstddef>
#include <cstdint>

namespace hangtime {

/// A set of places, for "compared with tag and order".
class PlaceSet {
public:
    constexpr void add(MatchPlace place) { bits_ = static_cast<std::uint8_t>(bits_ | bit(place)); }
    constexpr bool has(MatchPlace place) const { return (bits_ & bit(place)) != 0; }
    constexpr bool empty() const { return bits_ == 0; }

    friend constexpr bool operator==(PlaceSet, PlaceSet) = default;

private:
    static constexpr std::uint8_t bit(MatchPlace place) {
        return static_cast<std::uint8_t>(1U << static_cast<unsigned>(place));
    }
    std::uint8_t bits_ = 0;
};

/// One field: read out from one place and compared with the others.
struct MatchLine {
    MatchField field{};
    MatchPlace read_from{};
    PlaceSet compare_with{};
    Basis basis{};

    friend bool operator==(const MatchLine&, const MatchLine&) = default;
};

struct CompatibilityRules {
    Given<PlasmaRule> plasma;              // compatible_only or low_titre_a_or_b
    Given<UnknownPlasma> plasma_unknown;   // where no group of the recipient is known
    Given<PlasmaRule> cryoprecipitate;     // never low_titre: nothing was found that allows O to everybody so
    Given<PlasmaRule> platelets;           // never low_titre_a_or_b
    Given<WholeBloodRule> whole_blood;
    /// Who must have RhD negative if RhD negative: anti-D, regular transfusions, and by sex and age. The ages
    /// are shown; what the tool asks is only whether the list applies.
    Given<RhdRule> rhd_listed;
    std::int32_t rhd_female_up_to_years = 0, rhd_male_up_to_years = 0;
    Given<RhdRule> rhd_others;

    friend bool operator==(const CompatibilityRules&, const CompatibilityRules&) = default;
};

struct MatchRules {
    static constexpr std::size_t most_lines = match_field_count;

    Given<MatchPeople> people;
    Given<CannotSay> cannot_say;
    FixedList<MatchLine, most_lines> lines;  // each field once
    Given<bool> lab_form;                    // whether the lab's form may be used at the bedside
    Given<Seconds> stale;                    // hung within this after the last step, or all of it again
    CompatibilityRules compatibility;

    friend bool operator==(const MatchRules&, const MatchRules&) = default;
};

/// Whether a field can be read there: nothing that says who somebody is stands on the bag's own label, and
/// nothing of the unit on a wristband.
bool stands_there(MatchField field, MatchPlace place);

}  // namespace hangtime
