#pragma once

/// What follows from a session at a moment: the reckoning of its transfusion, what is ready and what is open, and what
/// to do now. The one value that the screens of a session, its reminders and a replay are made of.
///
/// Before the bag is here, what is not known yet is taken as it usually is (the volume that was expected, the time that
/// the blood bank usually takes, a start right after): the plan is judged before the bag is called for, because
/// afterwards it is too late to ask for a split. `assumed` says what of it was taken so.

#include "core/reckon/reckoning.hpp"
#include "core/session/log.hpp"

#include <optional>

namespace hangtime {

/// One thing to do: when it is due (now, or later), and what it is about.
struct ToDo {
    Doing what{};
    Instant at{};
    bool due = false;                // now, or past
    std::int32_t check = -1;         // index into Reckoning::checks
    Rate rate{};
    std::optional<Instant> latest;   // until when it is right, where there is such a moment

    friend bool operator==(const ToDo&, const ToDo&) = default;
};

struct ReadyItem {
    Item item{};
    ItemState state{};
    bool before_call = false;
    std::optional<Instant> good_until;  // a confirmed one that goes stale: sample, baseline, match

    friend bool operator==(const ReadyItem&, const ReadyItem&) = default;
};

/// What was not known and was taken as it usually is.
struct Assumed {
    bool volume = false, issue = false, start = false;
    std::optional<Instant> stands_until;  // the last moment at which the same is taken; none: nothing hangs on now

    friend bool operator==(const Assumed&, const Assumed&) = default;
};

struct Live {
    Phase phase{};
    Reckoning reckoning;
    Assumed assumed;
    FixedList<ReadyItem, item_count> ready;
    std::optional<Item> open_before_call;    // the first; none: the unit can be called for
    std::optional<Item> open_before_start;
    std::optional<Instant> back_to_stock_until;
    std::optional<Instant> attended_until;   // somebody stays at the bedside until then
    FixedList<ToDo, 12> to_do;               // the first is the primary one; never empty
    RunningBand running;
    std::size_t uncharted = 0;
    std::optional<Instant> next_change;      // nothing but a running volume comes out differently before this
};

/// Reckons a session at `now`. Never fails; `out` is overwritten. The session has been opened. `other_line` is what runs
/// into the same recipient through another session.
void reckon_live(const Session& session, Instant now, Live& out, Rate other_line = {});

/// The state that is reckoned with: the session's own, with what is assumed filled in.
State assumed_state(const Session& session, Instant now, Assumed& assumed);

/// Whether a record may be added now: what the log itself refuses, and what needs a reckoning (a unit called for while
/// the plan does not fit; a rate above the ceiling that is not said to have happened).
std::optional<Refusal> refuses(const Log& log, const Event& event, Instant now, Rate other_line = {});

/// What to enter on a device for what is left: the volume to be infused and the rate; and what a device that was told
/// a duration instead would make of it, since it divides what is left in the bag and not what must reach the vein.
struct DeviceEntry {
    Volume to_infuse{};
    Rate rate{};
    Seconds duration{};
    Rate told_duration{};     // the rate that a device comes to from the volume in the bag and the duration
    bool disagrees = false;   // by more than one step
};
/// `at`: the rate that is about to be set; none: the one that is set, or the first one.
std::optional<DeviceEntry> device_entry(const State& state, const Reckoning& reckoning, std::optional<Rate> at = {});

}  // namespace hangtime
