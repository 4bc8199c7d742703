#pragma once

/// The match at the bedside as a list of steps, and how far it has come. No identity is ever typed: each step
/// is answered by "the same" or "differs", with the time.
///
/// The log has `match` events {step passed | differed | interrupted}; fold each through `advance`. One
/// difference ends it for this unit. An interruption, also after the last step (somebody leaves the bedside
/// before the bag hangs), restarts all of it. `good_until` says how long a match counts; whoever reckons
/// compares that with now.

#include "core/clock.hpp"
#include "core/fixed_list.hpp"
#include "core/protocol/match_rules.hpp"

#include <cstdint>
#include <optional>

namespace hangtime {

/// One step. `compare`: the reader reads `field` aloud from `from`, the other compares it with each of
/// `against`; with one person the two are the same, and so they are where each works alone.
struct MatchStep {
    MatchStepKind kind{};
    MatchField field{};      // of `compare` only
    MatchPlace from{};
    PlaceSet against{};
    MatchPerson reader = MatchPerson::first;
    MatchPerson comparer = MatchPerson::first;
    std::uint8_t pass = 1;   // the second time through: roles swapped, or the second person alone
    Basis basis{};           // of the line of the protocol

    friend bool operator==(const MatchStep&, const MatchStep&) = default;
};

/// Two passes over every field, the person and the bag.
inline constexpr std::size_t most_match_steps = 2 * (MatchRules::most_lines + 2);
using MatchScript = FixedList<MatchStep, most_match_steps>;

/// `can_say`: whether the person can say who they are.
MatchScript match_script(const MatchRules& rules, bool can_say);

/// An emergency unit of group O, handed out without tag or sample: there is nothing to compare the bag with,
/// so its number, group and expiry are read on the bag itself, and the bag is looked at. Whose it is to
/// decide that this is an emergency is the ward's rule; the answer for the group is judge_compatibility's.
MatchScript emergency_script(const MatchRules& rules);

/// One event of the log. `step` counts from 0; of an interruption it is not used.
struct MatchEvent {
    MatchOutcome outcome{};
    std::uint8_t step = 0;
    Instant at{};

    friend bool operator==(const MatchEvent&, const MatchEvent&) = default;
};

struct MatchState {
    MatchStanding standing = MatchStanding::not_begun;  // never `stale`: that depends on now
    FixedList<Instant, most_match_steps> passed;        // when each step was passed, from the first
    std::optional<std::uint8_t> differed_step;
    std::optional<Instant> last;                        // the last event, also of an earlier attempt
    std::uint8_t restarts = 0;

    /// The step that comes next; none when it is over or complete.
    std::optional<std::uint8_t> next(const MatchScript& script) const;

    friend bool operator==(const MatchState&, const MatchState&) = default;
};

/// The state after an event, or the reason why it is not accepted (then `state` is as it was).
struct Advanced {
    MatchState state;
    MatchRefusal refusal = MatchRefusal::none;
};
Advanced advance(const MatchState& state, const MatchScript& script, const MatchEvent& event);

/// The last moment at which a match that is under way or passed still counts, if the bag does not hang: the
/// protocol's minutes after its last step. None where there is nothing to get old.
std::optional<Instant> good_until(const MatchState& state, const MatchRules& rules);

/// The standing at a moment: `stale` after `good_until`, unless the bag was hung by then.
MatchStanding standing_at(const MatchState& state, const MatchRules& rules, Instant now,
                          std::optional<Instant> hung);

/// Whether the bag may be hung at `at` as far as the match goes: passed, and not stale.
bool may_be_hung(const MatchState& state, const MatchRules& rules, Instant at);

}  // namespace hangtime
