#include "core/session/fold.hpp"

#include <algorithm>

namespace hangtime::fold {

namespace {

bool has_started(const Session& s) { return s.state.times.start && s.state.times.start->happened; }
bool runs(const Session& s) { return has_started(s) && !s.state.run.ended; }

// The device cannot have moved more than there was to move, and its own error.
bool beyond_the_bag(const Session& s, Volume moved) {
    const Volume most = s.state.unit.bag.value_or(bounds::volume) + s.state.line.holds + s.state.line.holds;
    const std::int64_t tenths = 1000 + s.protocol->reserve.accuracy_tenths_percent;
    return static_cast<Wide>(moved.units) * 1000 > static_cast<Wide>(most.units) * tenths;
}

}  // namespace

// Filling a set, or another device: what its total says from here on is no measure of what was given (hazard 8).
void forget_total(Session& s) {
    s.total_base.reset();
    s.total_read.reset();
}

// Everything that changes the flow begins a stretch of its own, with what had been moved by then.
void begin_flow(Session& s, Instant at, Rate rate, bool paused) {
    Run& run = s.state.run;
    const Volume before = run.moved_at(at);
    run.flows.push_back({at, rate, before, paused});
}

Refused rate_is_possible(const Session& s, Rate rate) {
    if (rate <= Rate{}) return Refusal::rate_zero;
    const Device& device = s.state.device;
    if (device.kind == DeviceKind::pump && rate > device.most) return Refusal::rate_above_device;
    return std::nullopt;
}

void end_run(Session& s, Instant at, bool stopped) {
    s.state.run.ended = at;
    s.state.run.stopped = stopped;
    s.phase = Phase::ended;
}

Refused started(Session& s, const Event& e) {
    const auto& f = facts_of<facts::RateSet>(e);
    if (has_started(s)) return Refusal::started_already;
    if (s.phase < Phase::here) return Refusal::not_issued;
    if (s.state.run.ended) return Refusal::ended_already;  // stopped for good before it had started
    if (s.match.standing == MatchStanding::differed) return Refusal::match_differed;
    if (unit_is_closed(s)) return Refusal::unit_closed;
    if (s.refused) return Refusal::consent_refused;
    if (const auto refused = rate_is_possible(s, f.rate)) return refused;
    if (s.judged(e.at.at)) {
        if (!s.state.times.spiked) return Refusal::not_spiked;
        if (!s.connected) return Refusal::not_connected;
        if (!f.as_it_happened && first_open(s, false, e.at.at)) return Refusal::not_ready;
    }
    s.state.times.start = Start{e.at, true};
    s.state.run.flows.clear();
    s.state.run.flows.push_back({e.at.at, f.rate, {}, false});
    s.items[static_cast<std::size_t>(Item::rate_read_back)] = {ItemState::confirmed, {}, {}, false, e.at.at, e.number, {}};
    s.phase = Phase::running;
    return std::nullopt;
}

Refused rate_set(Session& s, const Event& e) {
    const auto& f = facts_of<facts::RateSet>(e);
    if (!has_started(s)) return Refusal::not_started;
    if (!runs(s)) return Refusal::ended_already;
    if (s.state.run.paused()) return Refusal::not_running;
    if (const auto refused = rate_is_possible(s, f.rate)) return refused;
    begin_flow(s, e.at.at, f.rate, false);
    s.state.run.rate_was_set = true;
    return std::nullopt;
}

Refused paused(Session& s, const Event& e) {
    if (!has_started(s)) return Refusal::not_started;
    if (!runs(s)) return Refusal::ended_already;
    if (s.state.run.paused()) return Refusal::not_running;
    begin_flow(s, e.at.at, {}, true);
    s.pause_reason = facts_of<facts::Paused>(e).reason;
    s.phase = Phase::paused;
    return std::nullopt;
}

// The rate that was set stays: nothing is caught up (design rule 4).
Refused resumed(Session& s, const Event& e) {
    if (!runs(s)) return has_started(s) ? Refusal::ended_already : Refusal::not_started;
    if (!s.state.run.paused()) return Refusal::not_paused;
    if (s.reaction && s.pause_reason == PauseReason::symptoms) return Refusal::needs_restart;
    const bool symptoms = s.version >= 2 && s.pause_reason == PauseReason::symptoms;
    if (symptoms && !facts_of<facts::Resumed>(e).decided_by) return Refusal::needs_decision;
    begin_flow(s, e.at.at, rate_to_go_on(s.state), false);
    s.phase = Phase::running;
    return std::nullopt;
}

// What a device shows may hold what priming pushed: only what it showed before the start, or that it was zeroed,
// makes a total of it (hazard 8).
Refused device_total(Session& s, const Event& e) {
    const auto& f = facts_of<facts::DeviceTotal>(e);
    if (s.phase < Phase::preparing || s.phase == Phase::closed) return Refusal::unit_closed;
    const Volume moved = s.state.run.moved_at(e.at.at);
    if (f.kind == TotalKind::zeroed) {
        s.total_base = Volume{} - moved;
        s.total_read = Volume{};
        return std::nullopt;
    }
    if (s.total_read && f.total < *s.total_read) return Refusal::total_goes_back;
    if (!has_started(s)) {
        s.total_base = f.total;
        s.total_read = f.total;
        return std::nullopt;
    }
    if (!s.total_base) {
        s.state.run.total_unsure = true;
        s.total_read = f.total;  // cannot tell what of it is priming: noted, and the rates go on being reckoned with
        return std::nullopt;
    }
    const Volume since_start = f.total - *s.total_base;
    if (beyond_the_bag(s, since_start)) return Refusal::total_beyond_bag;
    s.total_read = f.total;
    Run& run = s.state.run;
    run.reckoned = moved;
    run.read_off = since_start;
    // Of an empty bag it is known what has left it, whatever the device has counted.
    if (run.ended || run.bag_empty) return std::nullopt;
    run.flows.push_back({e.at.at, run.paused() ? Rate{} : run.rate_in_force(), since_start, run.paused()});
    return std::nullopt;
}

// An empty bag says exactly what has left it, whatever the device has counted.
Refused bag_empty(Session& s, const Event& e) {
    if (!has_started(s)) return Refusal::not_started;
    if (!runs(s)) return Refusal::ended_already;
    Run& run = s.state.run;
    if (run.bag_empty) return Refusal::ended_already;
    const Volume moved = bag_at_start(s.state);
    run.bag_empty = Anchored{e.at.at, moved};
    run.flows.push_back({e.at.at, run.paused() ? Rate{} : run.rate_in_force(), moved, run.paused()});
    return std::nullopt;
}

Refused clearing_begun(Session& s, const Event&) {
    if (!has_started(s)) return Refusal::not_started;
    if (!runs(s)) return Refusal::ended_already;
    // Where a dose smaller than the bag is given, clearing would push what stands in the line beyond it (hazard 10).
    if (!s.state.line.cleared || to_push(s.state) <= bag_at_start(s.state)) return Refusal::nothing_to_clear;
    s.state.run.cleared = true;
    return std::nullopt;
}

// What stood in the old set is lost; the new one begins with what it is filled with.
Refused set_changed(Session& s, const Event& e) {
    const auto& f = facts_of<facts::SetChanged>(e);
    if (has_started(s) && !runs(s)) return Refusal::ended_already;
    const Volume filled = f.set.with == Primed::component ? f.set.holds + f.set.lost : f.set.lost;
    if (!has_started(s)) {
        const bool hung = s.state.times.spiked.has_value();
        if (f.set.with == Primed::component && !hung) return Refusal::not_spiked;
        // What filled the set before is lost with it.
        const bool held = s.primed && hung && s.state.line.primed_with == Primed::component;
        const Volume lost = s.state.line.lost + (held ? s.state.line.holds : Volume{});
        if (s.state.unit.bag && lost + filled >= *s.state.unit.bag) return Refusal::volume_missing;
        s.state.times.set_since.reset();
        if (hung) s.state.times.set_since = e.at.at;
        s.primed = e.at.at;
        forget_total(s);
        s.connected.reset();
        s.state.line.primed_with = f.set.with;
        s.state.line.from_last_unit = false;
        s.state.line.carried.reset();
        s.state.line.units_before = 0;
        s.state.line.holds = f.set.holds;
        s.state.line.lost = lost + f.set.lost;
        return std::nullopt;
    }
    Run& run = s.state.run;
    const Volume moved = run.moved_at(e.at.at);
    const Volume in_bag = bag_at_start(s.state) > moved ? bag_at_start(s.state) - moved : Volume{};
    if (filled > in_bag) return Refusal::volume_missing;  // the bag does not hold what would fill it
    s.state.times.set_since = e.at.at;
    forget_total(s);
    OldSet old;
    old.moved = moved;
    const Volume most = most_moved(s.state);  // by the rates it may be more than there was
    old.given = given_of(s.state, moved < most ? moved : most);
    old.bag_left = in_bag > filled ? in_bag - filled : Volume{};
    const Volume all = s.state.unit.bag.value_or(Volume{}) - s.state.line.lost;
    const Volume before = run.old_set ? run.old_set->lost : Volume{};
    old.lost = all - old.given - in_bag;
    if (old.lost < before) old.lost = before;
    const Line& line = s.state.line;
    old.component_after = run.old_set ? run.old_set->component_after : line.other_first() ? line.holds : Volume{};
    if (old.given == Volume{}) old.component_after = moved + (f.set.with == Primed::saline ? f.set.holds : Volume{});
    run.old_set = old;
    s.state.line.primed_with = f.set.with;
    s.state.line.from_last_unit = false;
    s.state.line.carried.reset();
    s.state.line.units_before = 0;
    s.state.line.holds = f.set.holds;
    s.state.line.lost = s.state.line.lost + f.set.lost;
    return std::nullopt;
}

Refused all_in(Session& s, const Event& e) {
    if (!has_started(s)) return Refusal::not_started;
    if (s.state.run.ended) return Refusal::ended_already;
    // What was stopped for a suspected reaction has not all gone in: it goes on as a restart, or is stopped for good.
    if (s.reaction && s.state.run.paused() && s.pause_reason == PauseReason::symptoms) return Refusal::not_running;
    end_run(s, e.at.at, false);
    return std::nullopt;
}

Refused stopped(Session& s, const Event& e) {
    if (s.phase < Phase::here) return Refusal::not_issued;
    if (s.state.run.ended) return Refusal::ended_already;
    if (s.disposal) return Refusal::unit_closed;
    end_run(s, e.at.at, true);
    s.stop_reason = facts_of<facts::Stopped>(e).reason;
    return std::nullopt;
}

// A refusal is never waived: what runs is stopped, and nothing of it goes back to stock once it hangs.
Refused consent_withdrawn(Session& s, const Event& e) {
    s.refused = e.at.at;
    s.refusal_reason = facts_of<facts::ConsentWithdrawn>(e).reason;
    s.items[static_cast<std::size_t>(Item::consent)] = {ItemState::failed, {}, {}, false, e.at.at, e.number, {}};
    if (runs(s)) {
        end_run(s, e.at.at, true);
        s.stop_reason = StopReason::refusal;
    }
    return std::nullopt;
}

}  // namespace hangtime::fold
