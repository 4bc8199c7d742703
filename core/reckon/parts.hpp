#pragma once

/// The parts of a reckoning, in the order in which `reckon` calls them. Each reads what is known and what the
/// parts before it found, and writes its own fields of the result. Nobody outside core/reckon/ includes this.

#include "core/reckon/reckoning.hpp"

#include <optional>

namespace hangtime::parts {

/// Finds the first moment after `now` at which something comes out differently: every comparison with `now`
/// that a part makes is also told to this.
class Horizon {
public:
    explicit Horizon(Instant now) : now_(now) {}

    /// True from `at` on.
    bool reached(Instant at) {
        if (at > now_ && (!next_ || at < *next_)) next_ = at;
        return now_ >= at;
    }
    Instant now() const { return now_; }
    std::optional<Instant> next() const { return next_; }

private:
    Instant now_;
    std::optional<Instant> next_;
};

/// The slow stage as it will be set. `lasts` includes the time that saline in the line takes to run in,
/// where the protocol counts from the first component in the vein.
struct Slow {
    Rate rate{};
    RateRatio wanted{};     // what the protocol says
    Seconds lasts{};
    Volume volume{};
    Basis basis{};
    Sum sum{};
    bool lowered = false;   // below what the protocol says, by a ceiling
    bool one_step = false;  // the protocol's rate is below the device's first step
};

/// What the parts share.
struct Context {
    const Protocol& protocol;
    const State& state;
    const ComponentRules& rules;  // of the component; of red cells while none is chosen (and nothing is read)
    Horizon horizon;
    std::optional<Slow> slow_rule;    // the slow stage that the protocol asks for
    std::optional<Slow> slow;         // as it is run: none where the transfusion is that slow throughout
    Volume bag_at_start{};            // in the bag when the device starts
    Volume whole_push{};              // what the device has to move for the whole of it, before a partial plan cuts it
    std::optional<Instant> spiked;    // stated, or the start in its place
    std::optional<Instant> left_storage;
    bool pace_met = true;             // the wished duration comes out
};

/// What the parts begin with.
Context context_of(const Protocol& protocol, const State& state, Instant now);
/// The rules that were in force at a moment.
const Protocol& rules_at(const Context& c, Instant at);

Rate device_step(const Device& device);

/// What is usual for this person: at risk of overload it is a pace of its own, where the protocol has one.
const UsualPace& usual_for(const Context& c);

/// An early check that is not in: it holds up the higher rate, also when the next check has fallen due meanwhile.
bool holds_up_rate(const Context& c, const Check& check);

/// The early check of this number is in: taken when it counts, and without a change that was flagged.
bool early_check_in(const State& state, std::size_t index, Instant counts_from);

/// An early check shows a change from the baseline: then nothing is raised but as somebody's decision.
bool early_check_flagged(const Context& c);

/// What reaches the vein, and what is left where, when the device has moved `pushed` in all.
void settle_volumes(const Context& c, Volumes& volumes, Volume pushed);

void open_windows(Context& c, Reckoning& out);     // opened, latest, finish_by
void settle_windows(Context& c, Reckoning& out);   // planned, kept, state; after the stages are known
void find_volumes(Context& c, Reckoning& out);
void find_ceilings(Context& c, Reckoning& out);    // all but the order's "over at least"
void find_slow_stage(Context& c, Reckoning& out);
void find_rates(Context& c, Reckoning& out);       // floor, target, the rate to set; fills reasons
void lay_stages(Context& c, Reckoning& out);       // stages, first component, bag empty, all in
void lay_run(Context& c, Reckoning& out);          // the same for a transfusion whose flow is on record
void list_checks(Context& c, Reckoning& out);
void judge(Context& c, Reckoning& out);            // verdict, reserve, options
void judge_run(Context& c, Reckoning& out);        // the same for one that runs or is over
/// What the limit cuts off where all would be in only after it, of which `by_limit` is in by then: over by, left over.
void judge_cut(Reckoning& out, Volume by_limit);
void list_next(Context& c, Reckoning& out);
void warn(Context& c, Reckoning& out);

/// The time from the start at which `volume` has been moved, rounded up to a second.
Seconds time_to_push(const Context& c, const Reckoning& out, Volume volume);

/// What can be moved in `span` at the slow stage and then at `rate`.
Volume pushed_in(const std::optional<Slow>& slow, Seconds span, Rate rate);

/// How long `volume` takes at the slow stage and then at `rate` (positive), rounded up to a second.
Seconds span_for(const std::optional<Slow>& slow, Volume volume, Rate rate);

/// The pace to plan by: the order's, or the protocol's usual one.
struct Pace {
    Order::Pace kind = Order::Pace::usual;
    Seconds duration{};
    CountsFrom counts_from = CountsFrom::start;
    RateRatio rate{};  // for the two kinds that name a rate
    Basis basis{};

    bool names_rate() const { return kind == Order::Pace::at_rate || kind == Order::Pace::at_rate_per_kg; }
};
Pace pace_of(const Context& c, const Reckoning& out);
Pace usual_pace(const Context& c, const Reckoning& out);

}  // namespace hangtime::parts
