#pragma once

/// Everything that follows from what is known: the one value that screens, sheets and reminders are made of.
/// `reckon` is a pure function; it allocates nothing and it never fails: what cannot be said yet is absent,
/// and `missing` says what to ask for.

#include "core/fixed_list.hpp"
#include "core/protocol/protocol.hpp"
#include "core/session/state.hpp"
#include "core/words/codes.hpp"
#include "core/words/figure.hpp"

#include <cstdint>
#include <optional>

namespace hangtime {

/// A limit and where we are in it.
struct Window {
    LimitKind kind{};
    Anchor from{};
    std::optional<Instant> opened;   // when what it is counted from happened or will happen
    bool opened_assumed = false;     // another event stands in for it (a warning says which)
    std::optional<Instant> latest;   // the last second that still meets it
    std::optional<Instant> planned;  // when the plan meets it
    bool binds = false;              // the earliest of its kind
    bool kept = true;                // the plan stays inside it (true while unknown)
    WindowState state = WindowState::not_recorded;
    Seconds within{};
    Basis basis{};
    Sum sum{};

    friend bool operator==(const Window&, const Window&) = default;
};

/// The volumes, which are never confused: see design section 5.
struct Volumes {
    Volume bag{};            // on the label
    Volume lost{};           // in priming
    Volume line{};           // what the set holds
    Volume wanted{};         // the dose: what should reach the vein
    Volume pushed{};         // what the device has to move for it
    Volume given{};          // what reaches the vein of the component
    Volume left_in_bag{};    // at the end
    Volume left_in_line{};   // component that stands in the line at the end
    Volume saline_first{};   // saline that is pushed in before the component
    Sum wanted_sum{}, pushed_sum{};

    friend bool operator==(const Volumes&, const Volumes&) = default;
};

struct Ceiling {
    CeilingKind kind = CeilingKind::none;
    RateRatio rate{};
    Basis basis{};
    Sum sum{};

    friend bool operator==(const Ceiling&, const Ceiling&) = default;
};

/// A stretch at one rate.
struct Stage {
    StageKind kind{};
    Instant from{}, to{};    // `to` is the first whole second at which its volume has run
    Rate rate{};
    Volume volume{};
    std::int32_t drops_per_min = 0;  // gravity only
    std::int32_t count_drops = 0;    // count this many ...
    Seconds count_over{};            // ... in this time
    Basis basis{};
    Sum sum{};

    friend bool operator==(const Stage&, const Stage&) = default;
};

struct Rates {
    std::optional<RateRatio> floor;   // to be all in inside the earliest limit
    std::optional<RateRatio> target;  // from the order or the usual pace
    FixedList<Ceiling, 7> ceilings;   // each that applies
    Ceiling ceiling;                  // the least of them
    Rate set{};                       // the rate to set after the slow stage (or from the start)
    RateRule rule = RateRule::target;
    Rate step{};                      // the device's grid
    Sum floor_sum{}, set_sum{};

    friend bool operator==(const Rates&, const Rates&) = default;
};

struct Check {
    CheckKind kind{};
    std::int32_t index = 0;         // among the checks of its kind
    Instant due{};
    Instant counts_from{};          // earlier than this it does not count
    CheckState state = CheckState::to_come;
    std::optional<Instant> done;
    bool flagged = false;           // done, and it shows a change from the baseline
    Basis basis{};
    Sum sum{};

    friend bool operator==(const Check&, const Check&) = default;
};

struct Warned {
    Warning code{};
    Severity severity = Severity::note;
    std::array<Figure, 3> figures{};
    Basis basis{};

    friend bool operator==(const Warned&, const Warned&) = default;
};

struct Advised {
    Advice code{};
    std::array<Figure, 2> figures{};
    Sum sum{};

    friend bool operator==(const Advised&, const Advised&) = default;
};

struct Judgement {
    Verdict verdict = Verdict::fits;
    FixedList<Reason, 8> reasons;
    Seconds over_by{};        // how late the end would be at the highest rate; 0 when it is in time
    Volume can_give{};        // until the limit, at the highest rate
    Volume would_be_left{};   // of what was wanted
    Volume largest_bag{};     // the largest bag (or split) that would fit, in whole tenths of a mL, never rounded up
    std::optional<Instant> latest_start;   // the latest start that still fits
    std::optional<Mass> weight_exact;      // by the exact ratio the ceiling would do from this weight
    std::optional<Mass> weight_on_grid;    // with the device's steps
    Sum can_give_sum{}, left_sum{}, largest_bag_sum{}, latest_start_sum{}, over_sum{};
    FixedList<Advised, 8> advice;

    friend bool operator==(const Judgement&, const Judgement&) = default;
};

/// What to do now and next, in order; the first one is the primary one.
struct Step {
    StepKind kind{};
    Instant at{};
    Rate rate{};               // for start, raise_rate
    std::int32_t check = -1;   // index into Reckoning::checks

    friend bool operator==(const Step&, const Step&) = default;
};

/// What has to be known before more can be said.
struct Missing {
    bool component = false, volume = false, issued = false, start = false, weight = false;
    bool any() const { return component || volume || issued || start || weight; }

    friend bool operator==(const Missing&, const Missing&) = default;
};

struct Reckoning {
    Instant now{};
    Missing missing;
    FixedList<Window, 24> windows;
    std::optional<Instant> start_by;    // the earliest of: hang, start, and the latest start that still fits
    std::optional<Instant> finish_by;   // the earliest limit for "all in"

    bool planned = false;               // everything below is there only when nothing is missing
    Volumes volumes;
    Rates rates;
    FixedList<Stage, 32> stages;        // what has run, and what is planned; of a long run the latest
    bool live = false;                  // it has started and its flow is on record: stages tell what happened
    bool ended = false;
    bool stopped = false;               // it ended before all was in
    bool held = false;                  // it stands still, and going on is somebody's decision: what is reckoned for the
                                        // rest is only what the volumes would come to
    bool drifts = false;                // it stands still, or waits to be raised: the end is as if that were over at
    Instant as_if{};                    // this minute, and moves with every minute that it is not
    Rate in_force{};                    // the rate that is set (live only); 0 while it stands still
    std::int32_t stage_now = -1;        // index into stages, -1 before the start and after the end
    Instant start{};
    Instant first_component{};          // component reaches the vein
    std::optional<Instant> bag_empty;   // before all in, where the line is cleared
    Instant all_in{};                   // or, where it does not fit, the moment at which to stop
    Sum all_in_sum{};
    FixedList<Check, most_checks> checks;
    Judgement judgement;
    FixedList<Step, 16> next;

    FixedList<Warned, 32> warnings;
    std::optional<Instant> next_change; // nothing but running volumes comes out differently before this

    /// While it runs: the limit at which it is stopped, where all would be in only after it. What is planned for later
    /// does not come. None while it is held: when it would end is not known then.
    std::optional<Instant> cut_at() const {
        const bool cut = live && !ended && !held && finish_by && all_in > *finish_by;
        return cut ? finish_by : std::nullopt;
    }

    friend bool operator==(const Reckoning&, const Reckoning&) = default;
};

/// Reckons `state` under `protocol` at `now`. `out` is overwritten.
void reckon(const Protocol& protocol, const State& state, Instant now, Reckoning& out);

/// The same, and how far it may be off by the device's accuracy, for a transfusion that runs: since the start, or
/// since the bag was seen to be empty.
struct RunningBand { Volume pushed{}, given{}, least_given{}, most_given{}; };
RunningBand running_band(const Protocol& protocol, const State& state, const Reckoning& reckoning, Instant now);

/// The running volume: what has been pushed, and what of it was component that reached the vein, at `now` by
/// the stages. This is the only thing that changes before `next_change`.
struct Running { Volume pushed{}, given{}; };
Running running_at(const Reckoning& reckoning, Instant now);

}  // namespace hangtime
