#include "core/reckon/parts.hpp"

namespace hangtime::parts {

namespace {

// How to count drops for a stage: the shortest of 15, 30 and 60 s that gives a whole number of drops and in
// which one drop more or less still breaks nothing. False where no such time exists: then it is 60 s, and the
// count has to be exact.
// `breaks`: 1 where only one drop more in the minute breaks a limit, 2 where only one fewer does, 3 where both do.
bool count_drops(const Context& c, const Reckoning& out, Stage& stage, std::int64_t& breaks) {
    const std::int64_t per_min = stage.rate.units_per_s / device_step(c.state.device).units_per_s;
    stage.drops_per_min = static_cast<std::int32_t>(per_min);
    for (const std::int64_t span : {15, 30, 60}) {
        if (per_min * span % 60 != 0) continue;
        const Rate slack = drops_per_min(60 / span, c.state.device.drops);
        const Rate more = stage.rate + slack;
        const Rate fewer = stage.rate - slack;
        const bool above = compare_ratio(exactly(more), out.rates.ceiling.rate) > 0;
        const bool under = stage.kind == StageKind::main && out.rates.floor &&
                           compare_ratio(exactly(fewer), *out.rates.floor) < 0;
        breaks = (above ? 1 : 0) + (fewer <= Rate{} || under ? 2 : 0);
        if (breaks != 0) continue;
        stage.count_over = Seconds{span};
        stage.count_drops = static_cast<std::int32_t>(per_min * span / 60);
        return true;
    }
    stage.count_over = minutes(1);
    stage.count_drops = stage.drops_per_min;
    return false;
}

// It has begun, checks are noted here, and an early one that has fallen due is not in or shows a change.
bool waits_for_early_check(Context& c, const Reckoning& out) {
    if (!c.state.times.start->happened || !c.state.charting) return false;
    const bool vein = c.protocol.slow_counts_from.value == SlowFrom::vein;
    const Instant first = vein ? out.start + time_to_push(c, out, out.volumes.saline_first) : out.start;
    const auto& early = c.protocol.checks.early;
    for (std::size_t i = 0; i < early.size(); ++i) {
        if (!early_check_in(c.state, i, first + early[i].counts_from) && c.horizon.reached(first + early[i].after)) return true;
    }
    return false;
}

// Until it is in the rate stays: the slow stage lasts until somebody raises it, which is not before the next full minute.
void stretch_slow_stage(Context& c, Reckoning& out) {
    if (!c.slow || !waits_for_early_check(c, out) || !c.horizon.reached(out.start + c.slow->lasts + Seconds{1})) return;
    out.drifts = true;
    out.as_if = full_minute_from(c.horizon.now());
    c.horizon.reached(out.as_if + Seconds{1});
    c.slow->lasts = out.as_if - out.start;
    c.slow->volume = c.slow->rate * c.slow->lasts;
    c.slow->sum = {};
}

}  // namespace

Volume pushed_in(const std::optional<Slow>& slow, Seconds span, Rate rate) {
    if (span <= Seconds{}) return {};
    if (!slow) return rate * span;
    if (span <= slow->lasts) return slow->rate * span;
    return slow->volume + rate * (span - slow->lasts);
}

Seconds span_for(const std::optional<Slow>& slow, Volume volume, Rate rate) {
    if (!slow) return time_for(volume, rate);
    if (volume <= slow->volume) return time_for(volume, slow->rate);
    return slow->lasts + time_for(volume - slow->volume, rate);
}

Seconds time_to_push(const Context& c, const Reckoning& out, Volume volume) {
    return volume <= Volume{} ? Seconds{} : span_for(c.slow, volume, out.rates.set);
}

void lay_stages(Context& c, Reckoning& out) {
    Volumes& v = out.volumes;
    Rates& rates = out.rates;
    const bool partial = rates.rule == RateRule::partial;
    stretch_slow_stage(c, out);

    if (partial) {
        // As much as can be given until the limit; then it has to stop.
        const Seconds left = out.finish_by ? *out.finish_by - out.start : Seconds{};
        const Volume possible = pushed_in(c.slow, left, rates.set);
        settle_volumes(c, v, possible < c.whole_push ? possible : c.whole_push);
    }

    Instant at = out.start;
    Volume rest = v.pushed;
    if (c.slow && rest > Volume{}) {
        const bool whole = rest > c.slow->volume;
        Stage stage;
        stage.kind = StageKind::slow;
        stage.from = at;
        stage.rate = c.slow->rate;
        stage.volume = whole ? c.slow->volume : rest;
        stage.to = whole ? at + c.slow->lasts : at + time_for(rest, stage.rate);
        stage.basis = c.slow->basis;
        stage.sum = c.slow->sum;
        out.stages.add(stage);
        at = stage.to;
        rest = rest - stage.volume;
    }
    if (rest > Volume{} && rates.set > Rate{}) {
        Stage stage;
        stage.kind = StageKind::main;
        stage.from = at;
        stage.rate = rates.set;
        stage.volume = rest;
        stage.to = at + time_for(rest, rates.set);
        stage.sum = rates.set_sum;
        out.stages.add(stage);
        at = stage.to;
    }
    out.all_in = at;
    if (!out.stages.empty()) {
        const Stage& last = out.stages.back();
        out.all_in_sum = sum_of(SumKind::runs_out, last.from, last.volume, last.rate, last.to);
    }
    if (c.state.device.kind == DeviceKind::gravity)
        for (Stage& stage : out.stages) {
            std::int64_t breaks = 0;
            // A plan that does not fit is not to be started: nothing is to be counted.
            if (!count_drops(c, out, stage, breaks) && !partial)
                out.warnings.add({Warning::count_exactly, Severity::caution,
                                  {Figure(FigureKind::count, stage.count_drops), Figure(stage.count_over),
                                   Figure(FigureKind::count, breaks)}, {}});
        }

    out.first_component = out.stages.empty() ? out.start : out.start + time_to_push(c, out, v.saline_first);
    if (v.pushed > c.bag_at_start) out.bag_empty = out.start + time_to_push(c, out, c.bag_at_start);

    for (std::size_t i = 0; i < out.stages.size(); ++i) {
        const bool begun = c.horizon.reached(out.stages[i].from);
        const bool over = c.horizon.reached(out.stages[i].to);
        if (begun && !over) out.stage_now = static_cast<std::int32_t>(i);
    }
}

}  // namespace hangtime::parts
