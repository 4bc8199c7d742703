#pragma once

/// What is known about one transfusion: what was ordered, what arrived, what it runs through, and when what
/// happened. Holds nothing that says who the recipient is. Read from a file by core/session/read.hpp; later
/// the sum of a log.

#include "core/clock.hpp"
#include "core/component.hpp"
#include "core/fixed_list.hpp"
#include "core/protocol/protocol.hpp"
#include "core/quantity.hpp"
#include "core/words/observe_codes.hpp"

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

namespace hangtime {

/// What was ordered. With nothing set: the whole bag, at the protocol's usual pace.
struct Order {
    std::optional<Volume> dose;             // at most one of these two; neither: the whole bag
    std::optional<DosePerKg> dose_per_kg;

    enum class Pace : std::uint8_t { usual, within, at_least, at_rate, at_rate_per_kg };
    Pace pace = Pace::usual;
    Seconds duration{};                     // for within and at_least
    Rate rate{};                            // for at_rate
    RatePerKg rate_per_kg{};                // for at_rate_per_kg
    std::optional<CountsFrom> counts_from;  // of the duration; none: the protocol's
    std::optional<Rate> most;               // the order's own highest rate
};

/// The bag, from its label.
struct Unit {
    std::optional<Component> component;
    std::optional<Volume> bag;
    std::optional<Stated> expires;
    bool expires_far = false;  // a week or more away: known, and no limit for this transfusion
};

/// The person, as far as the arithmetic needs it.
struct Recipient {
    Mass weight{};  // 0: not recorded
    bool weight_estimated = false;
    Answer overload_risk = Answer::not_recorded;
    Answer can_report = Answer::not_recorded;  // symptoms: awake, old enough, a language shared
    std::int32_t gauge = 0;                    // of the venous access; 0: not recorded
    std::optional<AgeGroup> age{};             // for rules about observations
    std::optional<bool> pregnant{};
};

/// The administration set.
struct Line {
    Volume holds{};
    Primed primed_with = Primed::component;
    bool cleared = true;   // with saline at the end
    Volume lost{};         // of the component, in priming
    bool from_last_unit = false;  // it was kept, not cleared, and still holds the unit before this one
    std::optional<Component> carried{};  // by the set that is in use, before this unit; none: it is a new one
    std::int32_t units_before = 0;       // through that set

    /// Of this unit nothing stands in it at the start: something else goes first.
    bool other_first() const { return primed_with == Primed::saline || from_last_unit; }
};

struct Device {
    DeviceKind kind = DeviceKind::pump;
    Rate step = ml_per_h(1);
    Rate most = ml_per_h(999);
    DropFactor drops{20};  // for gravity
};

/// A start is planned until it has happened.
struct Start {
    Stated when;
    bool happened = false;
};

struct Times {
    std::optional<Stated> issued;
    std::optional<Stated> left_storage;  // controlled storage; none: taken as issued
    std::optional<Stated> thawed;
    std::optional<Stated> spiked;        // none: taken as the start
    std::optional<Start> start;
    std::optional<Instant> set_since;    // the set's life counts from here and not from this unit: it was changed
                                         // after the bag was spiked, or has carried an earlier unit
};

/// A stretch that ran, or stood still, since the start: from one event that changed the flow to the next.
struct Flow {
    Instant from{};
    Rate rate{};         // as set; 0 while it stands still
    Volume before{};     // what the device had moved by then, since the start
    bool paused = false;

    friend constexpr bool operator==(const Flow&, const Flow&) = default;
};

/// What was measured of the run rather than reckoned from its rates: from here the accuracy counts anew.
struct Anchored {
    Instant at{};
    Volume moved{};

    friend constexpr bool operator==(const Anchored&, const Anchored&) = default;
};

/// A set that was changed while it ran: what had happened until then.
struct OldSet {
    Volume moved{};     // by the device
    Volume given{};     // component that had reached the vein
    Volume bag_left{};  // in the bag, after the new set was filled
    Volume lost{};      // component that stood in the old set
    Volume component_after{};  // moved by the device before the first component reached the vein

    friend constexpr bool operator==(const OldSet&, const OldSet&) = default;
};

/// What has happened since the start. Empty before it, and in a plan.
struct Run {
    std::vector<Flow> flows;           // in the order of time, the last one is in force
    std::optional<Anchored> bag_empty; // the moment at which the bag was seen to be empty
    std::optional<OldSet> old_set;
    std::optional<Instant> ended;      // all in, or stopped for good
    bool stopped = false;              // ended before all was in
    bool cleared = false;              // clearing the line has begun
    bool rate_was_set = false;         // the rate of the start has been changed: nothing is raised by itself
    std::optional<Volume> read_off;    // the last total that was read off the device, since the start
    std::optional<Volume> reckoned;    // what the rates came to at that moment
    bool total_unsure = false;         // a total was read that may hold what priming pushed

    /// What the device has moved at `now`, by the rates that were set and the totals that were read.
    Volume moved_at(Instant now) const;
    Rate rate_in_force() const;        // the last rate that ran; 0 before the start
    bool paused() const { return !flows.empty() && !ended && flows.back().paused; }
};

/// A set of observations that was taken. `index` counts the checks of its kind from 0.
struct CheckDone {
    CheckKind kind{};
    std::int32_t index = 0;
    Stated when;
    bool flagged = false;  // it shows a change from the baseline
};
inline constexpr std::size_t most_checks = 320;

/// Rules that were in force until a change of protocol: what was over by then keeps them.
struct PastRules {
    Instant until{};
    std::shared_ptr<const Protocol> protocol;
};

/// How often observations fell due until that changed while it ran (another protocol, or somebody who can report
/// symptoms no more). What falls due after it is counted from the start by the new interval, and numbered from the
/// next hundred, so that a check keeps its number.
struct PastInterval {
    Instant until{};
    Seconds every{};
    Basis basis{};
};
inline constexpr std::int32_t interval_numbers = 100;
inline constexpr std::int32_t most_check_number = 9'999;

struct State {
    Unit unit;
    Order order;
    Recipient recipient;
    Line line;
    Device device;
    Times times;
    Run run;
    std::vector<PastRules> past_rules;
    std::vector<PastInterval> past_intervals;
    FixedList<CheckDone, most_checks> checks_done;
    std::optional<Rate> slowed_to;  // a lower ceiling for the rest, set while it ran
    Rate other_line{};  // what runs into the same recipient through another line; they share the ceilings of the person
    bool no_faster = false;  // a reaction is suspected, or what was seen last says hold and ask: nothing faster is offered
    bool held = false;       // it stands still, and whether it goes on is somebody's decision: nothing is planned from there
    bool charting = true;  // false: nobody records checks here, so that a check without a record is not a missed one
};

/// How often observations fall due between the early checks and the end, for this person; null: not at all.
const Given<Seconds>* interval_for(const Protocol& protocol, const Recipient& recipient);

/// What stands in the bag when the device starts to move what it hangs on, with the set that is in use.
Volume bag_at_start(const State& state);

/// What should reach the vein: the dose, or all that priming left in the bag.
Volume wanted_of(const State& state);

/// What the device has to move so that the vein gets that, the saline that stood in a line included.
Volume to_push(const State& state);

/// The same as far as it can be moved: an empty bag ends it where the line is not cleared.
Volume whole_push(const State& state);

/// The most that the device can have moved by what is known: what was planned, or more where a total that was read or
/// an empty bag says so (a dose smaller than the bag that was run over), never more than there is.
Volume most_moved(const State& state);

/// The most that can have been moved if the device was not told where to stop: more than a dose smaller than the bag.
Volume most_unstopped(const State& state);

/// The rate at which it goes on when what stands still goes on: the one that was set, or the lower one that was laid
/// down since. 0 before the start.
Rate rate_to_go_on(const State& state);

/// What of `moved` was component that reached the vein.
Volume given_of(const State& state, Volume moved);

/// A state with the protocol's own line, priming, clearing and device; nothing else is set.
State new_state(const Protocol& protocol);

}  // namespace hangtime
