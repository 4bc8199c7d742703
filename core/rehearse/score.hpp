#pragma once

/// What came of a rehearsal: each scored item by itself, and what it all came to. Nothing is hidden in one number: the
/// points are a sum of parts that are listed, and each part says what it would have meant.

#include "core/rehearse/run.hpp"
#include "core/rehearse/units.hpp"

#include <optional>
#include <vector>

namespace hangtime {

/// One scored item.
struct Part {
    std::size_t scored = 0;          // index into the scenario's
    bool met = false;
    bool came_to_it = true;          // false: what it is counted from never happened
    std::optional<Instant> due;      // of checks, limits and "within"
    std::optional<Instant> done;
    std::optional<Volume> volume;    // what ran between what it is counted from and the doing; or what was given
    std::optional<Rate> rate;        // rate_not_raised: the highest after it
    bool hung = false;               // difference_found: the bag was hung all the same
    std::optional<Basis> protocol_basis;  // where the rule is the protocol's
};

/// What came of one unit.
struct UnitCost {
    Component component{};
    Volume bag{}, given{};
    Volume wasted{};                 // neither given nor back in stock
    std::optional<Instant> issued, started, ended, limit;
    bool stopped = false;
    Seconds over_limit{};            // all in, or still running, so long after the limit
    Seconds stood_still{};
    std::int32_t checks = 0, late = 0, missed = 0;  // from the start on, of those that fell due
};

/// What the world did, and how long it went unanswered.
struct Unanswered {
    std::size_t told = 0;            // index into Rehearsal::told
    std::optional<Instant> answered; // the flow was stopped; none: never
    Seconds span{};
    Volume ran{};                    // by the rates that were set
};

struct Outcome {
    std::vector<Part> parts;
    std::int32_t points = 0, most = 0;
    std::vector<UnitCost> units;
    std::vector<Unanswered> unanswered;  // of pump_stops, line_fails, complaint, signs_change and refusal, while it ran
    std::vector<UnitEnd> ends;           // with the sessions, for whoever needs more
};

/// At the rehearsal's present moment; a debrief is made at its end.
Outcome outcome_of(const Rehearsal& rehearsal);

}  // namespace hangtime
