#include "core/session/state.hpp"

namespace hangtime {

State new_state(const Protocol& protocol) {
    State state;
    if (!protocol.lines.empty()) state.line.holds = protocol.lines.front().holds;
    state.line.primed_with = protocol.primed_with.value;
    // Where it is left open, clearing is planned: all in comes later with it, and a limit is not overlooked.
    state.line.cleared = protocol.clearing.value != Clearing::forbidden;
    state.device.step = protocol.pump.step;
    state.device.most = protocol.pump.most;
    state.device.drops = protocol.drop_factor;
    return state;
}

const Given<Seconds>* interval_for(const Protocol& protocol, const Recipient& recipient) {
    const CheckRules& rules = protocol.checks;
    if (recipient.can_report == Answer::no && rules.interval_cannot_report) return &*rules.interval_cannot_report;
    return rules.interval ? &*rules.interval : nullptr;
}

Volume Run::moved_at(Instant now) const {
    Volume moved{};
    if (ended && *ended < now) now = *ended;
    for (std::size_t i = flows.size(); i-- > 0;) {
        if (flows[i].from > now) continue;
        moved = flows[i].before + flows[i].rate * (now - flows[i].from);
        break;
    }
    return moved;
}

Rate Run::rate_in_force() const {
    for (std::size_t i = flows.size(); i-- > 0;)
        if (!flows[i].paused) return flows[i].rate;
    return {};
}

Volume bag_at_start(const State& state) {
    const Line& line = state.line;
    if (state.run.old_set) return state.run.old_set->moved + state.run.old_set->bag_left;
    const Volume full = state.unit.bag.value_or(Volume{});
    const Volume bag = line.lost < full ? full - line.lost : Volume{};
    const Volume in_line = line.other_first() ? Volume{} : (line.holds < bag ? line.holds : bag);
    return bag - in_line;
}

Volume wanted_of(const State& state) {
    if (state.order.dose_per_kg) return *state.order.dose_per_kg * state.recipient.weight;
    if (state.order.dose) return *state.order.dose;
    const Volume full = state.unit.bag.value_or(Volume{});
    return state.line.lost < full ? full - state.line.lost : Volume{};
}

Volume to_push(const State& state) {
    const Volume wanted = wanted_of(state);
    const Volume full = state.unit.bag.value_or(Volume{});
    const Volume bag = state.line.lost < full ? full - state.line.lost : Volume{};
    const bool saline = state.line.other_first();
    const Volume saline_first = saline ? state.line.holds : Volume{};
    const Volume in_line = saline ? Volume{} : (state.line.holds < bag ? state.line.holds : bag);
    if (const auto& old = state.run.old_set) {
        // A set was changed: what is still to come comes out of the bag, and of the new set where that fills it.
        const Volume to_come = wanted > old->given ? wanted - old->given : Volume{};
        const Volume there = old->bag_left + in_line;
        return old->moved + (to_come < there ? to_come : there) + saline_first;
    }
    return (wanted < bag ? wanted : bag) + saline_first;
}

Volume whole_push(const State& state) {
    const Volume all = to_push(state);
    const Volume bag = bag_at_start(state);
    return all > bag && !state.line.cleared ? bag : all;
}

namespace {

// All that there is to be moved.
Volume there_is(const State& state) {
    const Volume bag = bag_at_start(state);
    return state.line.cleared ? bag + state.line.holds : bag;
}

}  // namespace

Volume most_moved(const State& state) {
    const Volume all = there_is(state);
    // A dose by a weight that is not known (any more) says nothing of what was moved.
    const bool no_dose = state.order.dose_per_kg && state.recipient.weight.grams == 0;
    const Volume planned = no_dose ? all : whole_push(state);
    Volume measured = state.run.read_off.value_or(Volume{});
    if (state.run.bag_empty && measured < state.run.bag_empty->moved) measured = state.run.bag_empty->moved;
    if (measured > all) measured = all;
    return planned < measured ? measured : planned;
}

Volume most_unstopped(const State& state) {
    const Volume most = most_moved(state);
    const Volume bag = bag_at_start(state);
    const bool smaller = state.order.dose || state.order.dose_per_kg;
    return smaller && most < bag ? bag : most;
}

Rate rate_to_go_on(const State& state) {
    const Rate set = state.run.rate_in_force();
    return state.run.paused() && state.slowed_to && *state.slowed_to < set ? *state.slowed_to : set;
}

Volume given_of(const State& state, Volume moved) {
    const Volume saline = state.line.other_first() ? state.line.holds : Volume{};
    const Volume before = state.run.old_set ? state.run.old_set->moved : Volume{};
    const Volume given = state.run.old_set ? state.run.old_set->given : Volume{};
    if (moved > before + saline) return given + (moved - before - saline);
    return given < moved ? given : moved;  // a total may have been read since that is lower than what was reckoned
}

}  // namespace hangtime
