#pragma once

/// Several units for one recipient, one after the other: the set for each, when to call for the next bag, and
/// how many are over before a given hour. Each unit has a plan of its own by `reckon`: a new match, a new
/// cycle of observations, limits of its own. Needs a protocol with `round`.

#include "core/clock.hpp"
#include "core/protocol/protocol.hpp"
#include "core/result.hpp"
#include "core/session/state.hpp"
#include "core/words/codes.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::rounds {

constexpr std::uint8_t component_bit(Component c) {
    return static_cast<std::uint8_t>(1U << static_cast<unsigned>(c));
}

/// What an administration set has carried so far.
struct SetSoFar {
    std::optional<Instant> hung;  // none: there is no set yet
    int units = 0;
    Component last{};
    std::uint8_t carried = 0;     // component_bit(c): c went through it
};

/// When a set has to be changed that was hung at `hung` and carries these components and `next`: the least of
/// their limits. None where no limit is known.
std::optional<Instant> set_expires(const Protocol& protocol, const SetSoFar& set, Component next);

/// Whether the next bag is called for while a unit runs, or only after somebody has looked again.
CallHold hold_for(const RoundRules& rules, Answer overload_risk);

/// Whether a unit gets a new set, and why; the first reason that applies. Whichever limit comes first: hours,
/// units or the change of component. A unit that would not be all in before the set has to be changed gets a
/// new one.
NewSet set_for(const Protocol& protocol, const SetSoFar& set, Component next, Instant all_in);

/// The set after this unit, hung at `start` where it is new.
SetSoFar after_unit(const SetSoFar& set, NewSet choice, Component component, Instant start);

struct SequenceUnit {
    Component component{};
    Volume bag{};
    Order order{};
    std::optional<Stated> expires{};
};

inline constexpr std::size_t most_sequence_units = 12;
inline constexpr std::int64_t most_units_through_a_set = 20;  // that a file or an entry may say

struct Sequence {
    std::string protocol;             // its id
    WallClock wall;
    State common;                     // recipient, line and device; unit, order and times are each unit's own.
                                      // With what runs into the same person through another line meanwhile
    std::vector<SequenceUnit> units;  // in order, at least one
    Instant first_start;
    SetSoFar set;                     // one that is in use already
    std::optional<Seconds> ready, transport;  // of this blood bank; none: the protocol's
    std::optional<Instant> over_by;   // the checks after the end included
};

/// The id of the protocol that a sequence file asks for.
Result<std::string> read_sequence_protocol_id(std::string_view json);

/// All of a sequence file (core/round/sequence.schema.json), or the first thing that is wrong with it: where, what,
/// and what would be accepted.
Result<Sequence> read_sequence(std::string_view json, const Protocol& protocol);

struct SequencePlan {
    struct Unit {
        Instant call_at, issued, match_at, start, all_in;
        Instant over;                        // the last check that is planned
        std::optional<Instant> finish_by;
        std::optional<Instant> set_hung;     // the set that it runs through, where that was used before
        std::optional<Instant> set_change_by;      // of the set that it runs through
        std::optional<Instant> old_set_change_by;  // of the set before it, with this component
        std::optional<Instant> latest_on_set;      // where the set is kept: started later, it would need a new one
        bool old_set_flushed = false;        // the kept set was cleared with saline after the unit before
        NewSet set{};
        CallHold hold{};                     // why it is not called for while the one before it runs
        bool baseline_is_end_check = false;  // of the unit before it
        Verdict verdict{};
        Volume given{};
        Rate most{};                         // the highest rate of its plan
        std::optional<RateRatio> left_of_ceiling;  // for this line, where another one runs
        bool before_hour = true;             // over by then
    };
    std::vector<Unit> units;   // up to the first that does not fit (it is the last of them)
    CallHold hold{};           // after any unit, before another is called for
    bool all_planned = false;  // every unit has a plan
    std::size_t fit = 0;       // so many, in order, fit and are over by the hour
    Volume total{};            // that all planned units give
    Rate most{};               // the highest rate of both lines together
};

/// Pure; never fails. A unit whose weight is missing does not fit.
SequencePlan plan_sequence(const Protocol& protocol, const Sequence& sequence);

/// What `reckon` is asked about unit `index` of a plan: its own limits, rates and checks.
State sequence_state(const Sequence& sequence, const SequencePlan::Unit& planned, std::size_t index);

}  // namespace hangtime::rounds
