#pragma once

/// What follows once a reaction is suspected: the action list in the protocol's order with stop first,
/// whether what is mild may go on (never on the tool's word), when the next observations fall due, how long
/// the bag is kept and late symptoms are to be reported, and what all the fluid adds up to.
///
/// How a session and a screen use it: the log event `reaction` stops the clock of delivery at its `at` (which
/// can be corrected) and is the first ActionDone, of kind `stop`; each tick is a later event with its own
/// kind and time, in any order. `action_list` then gives what the screen shows. The flow that was running is
/// over with the stop; a restart is an event of its own with a role and a rate, allowed only where
/// `restart_of` says so, and its rate and its latest end are reckoned again: no source gives the time back.

#include "core/clock.hpp"
#include "core/observe/change.hpp"

#include <optional>
#include <span>

namespace hangtime {

/// One action that was ticked, and when it was done.
struct ActionDone {
    ActionKind kind{};
    Instant at{};

    friend bool operator==(const ActionDone&, const ActionDone&) = default;
};

struct ActionLine {
    ActionKind kind{};
    std::optional<Instant> at{};  // none: not done yet
    bool next = false;            // the first one that is not done
};
using ActionList = FixedList<ActionLine, action_kind_count>;

/// In the protocol's order; of two ticks of one action the earlier one counts. What the protocol does not
/// list and was ticked all the same comes at the end.
ActionList action_list(const ReactionRules& rules, std::span<const ActionDone> done);

/// When observations fall due after a suspected reaction: an interval after the last ones, and after the
/// stop where there are none yet, at once.
Instant next_observations(const ReactionRules& rules, Instant stopped, std::optional<Instant> last);

struct RestartAnswer {
    Restart may{};
    FixedList<RestartBar, restart_bar_count> bars;  // why not, or why it cannot be told
    Instant not_before{};                           // the protocol's wait; only where it may
    Basis basis{};
};

/// Whether what was stopped may go on, on a clinician's word. `worst` are the prompts of all sets since the
/// reaction began, taken together by `take_worst`; `identity_agrees` the check at the bedside; `latest_end`
/// the earliest limit for "all in", which no stop has moved.
RestartAnswer restart_of(const ReactionRules& rules, const Change& worst,
                         std::optional<bool> identity_agrees, Instant stopped, Instant now,
                         std::optional<Instant> latest_end);

/// Adds what `other` has and `into` has not: every prompt that was ever there bars a restart. A sign is
/// missing in the sum where it is missing in every set.
void take_worst(Change& into, const Change& other);

/// How long the empty bag is kept after all in, and until when late symptoms are to be reported.
Instant keep_bag_until(const ReactionRules& rules, Instant all_in);
Instant report_late_until(const ReactionRules& rules, Instant ended);

/// All fluid that a transfusion brings with it; what is not given is 0.
struct FluidParts {
    Volume component, priming, clearing, other_lines;

    constexpr Volume total() const { return component + priming + clearing + other_lines; }
    friend constexpr bool operator==(const FluidParts&, const FluidParts&) = default;
};
/// The total against weight: num / den mL/kg; none without a weight.
std::optional<RateRatio> per_kg(const FluidParts& parts, Mass weight);

/// "436 mL", "436 mL, 7.3 mL/kg"
std::string fluid_text(const FluidParts& parts, Mass weight);
/// "component 250 mL, saline that filled the line 20 mL, other lines 100 mL"; parts of nothing are left out.
std::string fluid_parts_text(const FluidParts& parts);

}  // namespace hangtime
