#include "core/reckon/parts.hpp"

namespace hangtime::parts {

namespace {

constexpr std::size_t most_past_stages = 24;

StageKind kind_of(const Context& c, const Flow& flow, bool raised) {
    if (flow.paused) return StageKind::pause;
    return !raised && c.slow_rule && flow.rate <= c.slow_rule->rate ? StageKind::slow : StageKind::main;
}

void add_stage(Context& c, Reckoning& out, StageKind kind, Instant from, Instant to, Rate rate, Volume volume) {
    if (to <= from) return;
    if (!out.stages.empty()) {
        // What was read off or seen in between changes the volume, not the stretch.
        Stage& last = out.stages.back();
        if (last.kind == kind && last.rate == rate && last.to == from) {
            last.to = to;
            last.volume = last.volume + volume;
            return;
        }
    }
    Stage stage;
    stage.kind = kind;
    stage.from = from;
    stage.to = to;
    stage.rate = rate;
    stage.volume = volume;
    if (kind == StageKind::slow && c.slow_rule) stage.basis = c.slow_rule->basis;
    if (c.state.device.kind == DeviceKind::gravity && rate > Rate{}) {
        stage.drops_per_min = static_cast<std::int32_t>(rate.units_per_s / device_step(c.state.device).units_per_s);
        stage.count_drops = stage.drops_per_min;
        stage.count_over = minutes(1);
    }
    out.stages.add(stage);
}

// The stretches that are over. Of a very long run only the latest are kept.
bool lay_past(Context& c, Reckoning& out) {
    const auto& flows = c.state.run.flows;
    const std::size_t begin = flows.size() > most_past_stages ? flows.size() - most_past_stages : 0;
    bool raised = false;
    Rate first = flows.front().rate;
    for (std::size_t i = 0; i < flows.size(); ++i) {
        const Flow& flow = flows[i];
        raised = raised || (!flow.paused && flow.rate != first);
        if (i < begin || i + 1 == flows.size()) continue;
        const Instant to = flows[i + 1].from;
        add_stage(c, out, kind_of(c, flow, raised), flow.from, to, flow.rate, flow.rate * (to - flow.from));
    }
    return raised || c.state.run.rate_was_set;
}

// When the device had moved, or will have moved, `volume`.
std::optional<Instant> moment_of(const Context& c, const Reckoning& out, Volume volume) {
    const auto& flows = c.state.run.flows;
    for (std::size_t i = 0; i + 1 < flows.size(); ++i) {
        if (flows[i].before >= volume) return flows[i].from;
        const Volume moved = flows[i].rate * (flows[i + 1].from - flows[i].from);
        if (flows[i].before + moved >= volume) return flows[i].from + time_for(volume - flows[i].before, flows[i].rate);
    }
    const Flow& last = flows.back();
    if (last.before >= volume) return last.from;
    // What is planned: the stages from the last event on.
    Volume moved = last.before;
    for (const Stage& stage : out.stages) {
        if (stage.to <= last.from || stage.rate <= Rate{}) continue;
        const Instant from = stage.from < last.from ? last.from : stage.from;
        const Volume here = stage.rate * (stage.to - from);
        if (moved + here >= volume) return from + time_for(volume - moved, stage.rate);
        moved = moved + here;
    }
    return std::nullopt;
}

// From `at` on nothing is changed any more: at the rate that is set until all is moved.
void lay_rest(Context& c, Reckoning& out, Instant at, Volume moved, Rate rate, StageKind kind) {
    const Volume rest = c.whole_push > moved ? c.whole_push - moved : Volume{};
    Instant to = at;
    if (rest > Volume{} && rate > Rate{}) {
        to = at + time_for(rest, rate);
        add_stage(c, out, kind, at, to, rate, rest);
    }
    out.all_in = to;
    out.all_in_sum = sum_of(SumKind::runs_out, at, rest, rate, to);
}

// What the plan raises to after the slow stage. One that never fitted is raised to what was wished: the highest rate
// there is would be catching up, and that is somebody's decision (design rule 4).
Rate raised_to(const Context& c, const Reckoning& out) {
    const Rates& rates = out.rates;
    if (rates.rule != RateRule::partial) return rates.set;
    if (!rates.target) return rate_to_go_on(c.state);
    const Rate step = device_step(c.state.device);
    const Pace pace = pace_of(c, out);
    const bool down = pace.kind == Order::Pace::at_least || pace.names_rate();
    const Rate wished = down ? round_down(*rates.target, step) : round_up(*rates.target, step);
    return wished < rates.set ? wished : rates.set;
}

}  // namespace

const Protocol& rules_at(const Context& c, Instant at) {
    for (const PastRules& past : c.state.past_rules)
        if (at < past.until) return *past.protocol;
    return c.protocol;
}

bool early_check_flagged(const Context& c) {
    for (const CheckDone& done : c.state.checks_done)
        if (done.kind == CheckKind::early && done.flagged) return true;
    return false;
}

void lay_run(Context& c, Reckoning& out) {
    const Run& run = c.state.run;
    const Rate planned = raised_to(c, out);
    const Flow& last = run.flows.back();
    const Instant now = c.horizon.now();
    out.live = true;
    const bool raised = lay_past(c, out);
    const Rate rate = rate_to_go_on(c.state);
    out.in_force = last.paused || run.ended ? Rate{} : rate;
    out.held = c.state.held && last.paused && !run.ended;

    if (run.ended) {
        out.ended = true;
        out.stopped = run.stopped;
        add_stage(c, out, kind_of(c, last, raised), last.from, *run.ended, last.rate, last.rate * (*run.ended - last.from));
        out.all_in = *run.ended;
        const Volume most = most_moved(c.state);
        const Volume moved = run.stopped ? run.moved_at(*run.ended) : most;
        settle_volumes(c, out.volumes, moved < most ? moved : most);
    } else if (const Volume most = most_moved(c.state); most > c.whole_push) {
        settle_volumes(c, out.volumes, most);  // it was run over: what was measured stands
    }
    if (run.ended) {
        // nothing is to come
    } else if (last.paused) {
        out.drifts = true;
        out.as_if = full_minute_from(now);  // so that what is reckoned "as if it went on now" stands for a minute
        // The last moment to go on lies inside this minute: until then it still fits.
        if (out.finish_by && rate > Rate{} && c.whole_push > last.before) {
            const Instant latest = *out.finish_by - time_for(c.whole_push - last.before, rate);
            if (latest < out.as_if && !c.horizon.reached(latest + Seconds{1})) out.as_if = latest;
        }
        add_stage(c, out, StageKind::pause, last.from, out.as_if, {}, {});
        lay_rest(c, out, out.as_if, last.before, rate, raised ? StageKind::main : StageKind::slow);
    } else if (!raised && c.slow && planned > rate && !c.state.no_faster && !early_check_flagged(c)) {
        // The slow stage runs: it is raised when it is over, and it lasts until somebody does. After a change from the
        // baseline nothing is raised but as somebody's decision, so nothing faster is planned.
        Instant raise = out.start + c.slow->lasts;
        if (raise < last.from) raise = last.from;
        if (c.horizon.reached(raise + Seconds{1})) {
            out.drifts = true;
            raise = out.as_if = full_minute_from(now);
        }
        const Volume slow = rate * (raise - last.from);
        const Volume moved = last.before + slow;
        if (moved >= c.whole_push) {
            lay_rest(c, out, last.from, last.before, rate, StageKind::slow);
        } else {
            add_stage(c, out, StageKind::slow, last.from, raise, rate, slow);
            lay_rest(c, out, raise, moved, planned, StageKind::main);
        }
    } else {
        lay_rest(c, out, last.from, last.before, rate, kind_of(c, last, raised));
        out.rates.set = rate;
        out.rates.rule = RateRule::target;
        out.rates.set_sum = {};
    }
    if (out.rates.rule == RateRule::partial) {
        out.rates.set = planned;
        out.rates.rule = RateRule::target;
        out.rates.set_sum = out.rates.target ? sum_of(SumKind::rate_as_limited, *out.rates.target, planned) : Sum{};
    }
    if (last.paused && raised) out.rates.set = rate;

    // The saline of a set that was changed on the way is no first component: what the first set gave came before.
    const Volume saline = run.old_set ? run.old_set->component_after : out.volumes.saline_first;
    out.first_component = moment_of(c, out, saline + Volume{1}).value_or(out.all_in);
    if (saline == Volume{}) out.first_component = out.start;
    if (run.bag_empty) out.bag_empty = run.bag_empty->at;
    else if (c.whole_push > c.bag_at_start && !run.ended) out.bag_empty = moment_of(c, out, c.bag_at_start);

    for (std::size_t i = 0; i < out.stages.size(); ++i) {
        const bool begun = c.horizon.reached(out.stages[i].from);
        const bool over = c.horizon.reached(out.stages[i].to);
        if (begun && !over) out.stage_now = static_cast<std::int32_t>(i);
    }
    // As if it went on at the next full minute: after that minute it comes out differently.
    if (out.drifts) c.horizon.reached(out.as_if + Seconds{1});
}

}  // namespace hangtime::parts

namespace hangtime {

RunningBand running_band(const Protocol& protocol, const State& state, const Reckoning& r, Instant now) {
    RunningBand band;
    if (state.run.flows.empty()) {
        const Running plain = running_at(r, now);
        band.pushed = plain.pushed;
        band.given = band.least_given = band.most_given = plain.given;
        return band;
    }
    // Also while nothing can be planned because an entry is missing: what was moved was moved.
    const Volume most = r.ended && !r.stopped ? r.volumes.pushed : most_moved(state);
    // A device that was not told the dose runs past it.
    const Volume beyond = r.ended && !r.stopped ? most : most_unstopped(state);
    const auto within = [&](Volume v) { return v < most ? v : most; };
    const Volume moved = state.run.moved_at(now);
    const Volume base = state.run.bag_empty && state.run.bag_empty->at <= now ? state.run.bag_empty->moved : Volume{};
    // What a set gave that was changed on the way carries the error of its own time, whatever stands in the new line.
    const auto off = [&](Volume from, Volume to) {
        return to > from ? Volume{(to - from).units / 1000 * protocol.reserve.accuracy_tenths_percent} : Volume{};
    };
    const auto& old = state.run.old_set;
    const Volume before = old ? old->moved : Volume{}, by_old = old ? old->given : Volume{};
    const Volume saline = state.line.other_first() ? state.line.holds : Volume{};
    const Volume off_old = off(base, before), off_new = off(before > base ? before : base, moved);
    const auto given_at = [&](Volume pushed, Volume by_old_set) {
        if (pushed > before + saline) return by_old_set + (pushed - before - saline);
        return moved < before && pushed < by_old_set ? pushed : by_old_set;  // a total was read that is lower
    };
    const auto lesser = [](Volume a, Volume b) { return a < b ? a : b; };
    band.pushed = within(moved);
    band.given = given_of(state, band.pushed);
    band.least_given = lesser(given_at(within(moved - off_new), by_old > off_old ? by_old - off_old : Volume{}), band.given);
    band.most_given = lesser(given_at(lesser(moved + off_new, beyond), by_old + off_old), given_of(state, beyond));
    return band;
}

}  // namespace hangtime
