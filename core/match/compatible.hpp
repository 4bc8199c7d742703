#pragma once

/// Whether a unit's group suits a recipient's, under the protocol's local choices.
///
/// Red cells, whole blood and granulocytes that the recipient has antibodies against are "no", whatever a
/// protocol says, and nothing waives it. The recipient's group is what the blood bank's tag states; it is
/// never guessed. What is missing is "cannot tell" or "no", never "yes".
///
/// Sources: facts in tests/reference/, each named there. In tests/core/match_compatible_test.cpp the tables
/// here are derived again from antigens and antibodies.

#include "core/component.hpp"
#include "core/fixed_list.hpp"
#include "core/match/label.hpp"
#include "core/protocol/match_rules.hpp"
#include "core/words/codes.hpp"

#include <array>
#include <optional>

namespace hangtime {

class RequirementSet {
public:
    constexpr void add(Requirement r) { bits_ = static_cast<std::uint16_t>(bits_ | bit(r)); }
    constexpr bool has(Requirement r) const { return (bits_ & bit(r)) != 0; }
    constexpr bool empty() const { return bits_ == 0; }

    friend constexpr bool operator==(RequirementSet, RequirementSet) = default;

private:
    static constexpr std::uint16_t bit(Requirement r) {
        return static_cast<std::uint16_t>(1U << static_cast<unsigned>(r));
    }
    std::uint16_t bits_ = 0;
};

/// What has to be known of the person; nothing of it says who that is.
struct RecipientFacts {
    std::optional<Abo> abo;  // from the blood bank's tag
    std::optional<Rhd> rhd;
    bool conflicting = false;                     // two results differ: then neither counts
    Answer infant = Answer::not_recorded;         // under four months
    Answer transplant = Answer::not_recorded;     // after a stem-cell transplant
    Answer child = Answer::not_recorded;          // by the ward's meaning of it
    Answer rhd_listed = Answer::not_recorded;     // on the protocol's list: must have RhD negative
    bool emergency = false;                       // the ward has declared it; no tag or sample is needed
    std::optional<RequirementSet> required;       // special requirements; none: nobody has looked
};

struct UnitFacts {
    Component component{};
    LabelGroup group{};
    Answer low_titre = Answer::not_recorded;  // stated on the label
    std::optional<RequirementSet> stated;     // what the label states; none: nobody has looked
};

struct Judged {
    Compatible is = Compatible::cannot_tell;
    CompatibleReason why = CompatibleReason::no_rules;

    friend constexpr bool operator==(Judged, Judged) = default;
};

struct Compatibility {
    Judged abo, rhd, label, requirements;
    /// The worst of the four: no, cannot tell, only by local rule, yes. Among equals the first.
    Judged overall;
    std::array<RequirementState, requirement_count> each{};
};

/// `rules` is null where the protocol has none; then only what needs no rule is answered.
Compatibility judge_compatibility(const CompatibilityRules* rules, const RecipientFacts& recipient,
                                  const UnitFacts& unit);

/// The answer that a reason stands for; each reason has one.
Compatible answer_of(CompatibleReason why);

/// Whether an answer may be settled so: by itself where it fits, by the laboratory's instruction or by a named
/// exception where it cannot be told or a requirement is not met. An ABO clash never, whatever is said; and
/// where the groups themselves are not known only the laboratory's instruction will do.
bool settles(CompatibleReason why, GroupsBy by);

/// The reasons that have to be settled, of the four parts: those that do not fit; where all fit, the group's.
using GroupReasons = FixedList<CompatibleReason, 4>;
GroupReasons reasons_of(const Compatibility& compatibility);
/// The special requirements that were asked for and are not met, or cannot be told.
RequirementSet unmet_of(const Compatibility& compatibility);
/// Whether each of them is settled so; nothing is not settled.
bool settles(const GroupReasons& reasons, GroupsBy by);

/// Whether a named exception with reason and role may stand against this answer. Never for ABO and never for
/// a unit that must not be transfused.
bool may_be_waived(CompatibleReason why);

}  // namespace hangtime
