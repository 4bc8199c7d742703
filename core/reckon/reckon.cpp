#include "core/reckon/parts.hpp"

namespace hangtime {

namespace {

using namespace parts;

bool weight_is_needed(const Protocol& protocol, const ComponentRules& rules, const State& state) {
    if (protocol.children) return true;
    if (rules.most_per_kg) return true;
    if (state.recipient.overload_risk == Answer::yes && rules.most_per_kg_at_risk) return true;
    if (state.order.dose_per_kg || state.order.pace == Order::Pace::at_rate_per_kg) return true;
    if (rules.slow && rules.slow->rate_per_kg) return true;
    return state.order.pace == Order::Pace::usual && rules.usual.rate_per_kg.has_value();
}

Missing missing_from(const Protocol& protocol, const State& state) {
    Missing missing;
    missing.component = !state.unit.component;
    missing.volume = !state.unit.bag;
    missing.issued = !state.times.issued;
    missing.start = !state.times.start;
    missing.weight = state.unit.component && state.recipient.weight.grams == 0 &&
                     weight_is_needed(protocol, protocol.rules(*state.unit.component), state);
    return missing;
}

}  // namespace

Context parts::context_of(const Protocol& protocol, const State& state, Instant now) {
    const Component component = state.unit.component.value_or(Component::red_cells);
    return {.protocol = protocol, .state = state, .rules = protocol.rules(component), .horizon = Horizon(now),
            .slow_rule = {}, .slow = {}, .bag_at_start = {}, .whole_push = {}, .spiked = {}, .left_storage = {},
            .pace_met = true};
}

void reckon(const Protocol& protocol, const State& state, Instant now, Reckoning& out) {
    Reckoning blank;  // not Reckoning{}: that would clear the lists' storage as well, which takes as long as the rest
    out = blank;
    out.now = now;
    out.missing = missing_from(protocol, state);
    Context c = context_of(protocol, state, now);

    if (!out.missing.component) open_windows(c, out);
    if (!out.missing.any() && out.finish_by) {  // a protocol that was read always has a limit for "all in"
        out.planned = true;
        out.start = state.times.start->when.at;
        find_volumes(c, out);
        find_ceilings(c, out);
        find_slow_stage(c, out);
        find_rates(c, out);
        const bool live = !state.run.flows.empty();
        if (live) lay_run(c, out);
        else lay_stages(c, out);
        list_checks(c, out);
        if (live) judge_run(c, out);
        else judge(c, out);
        list_next(c, out);
    }
    settle_windows(c, out);
    warn(c, out);
    out.next_change = c.horizon.next();
}

Running running_at(const Reckoning& reckoning, Instant now) {
    Running running;
    for (const Stage& stage : reckoning.stages) {
        if (now <= stage.from) break;
        const Volume so_far = stage.rate * (now - stage.from);
        running.pushed = running.pushed + (so_far < stage.volume ? so_far : stage.volume);
    }
    const Volume saline = reckoning.volumes.saline_first;
    if (running.pushed > saline) running.given = running.pushed - saline;
    return running;
}

}  // namespace hangtime
