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
    const Volume in_line = line.primed_with == Primed::saline ? Volume{} : (line.holds < bag ? line.holds : bag);
    return bag - in_line;
}

Volume given_of(const State& state, Volume moved) {
    const Volume saline = state.line.primed_with == Primed::saline ? state.line.holds : Volume{};
    const Volume before = state.run.old_set ? state.run.old_set->moved : Volume{};
    const Volume given = state.run.old_set ? state.run.old_set->given : Volume{};
    return moved > before + saline ? given + (moved - before - saline) : given;
}

}  // namespace hangtime
