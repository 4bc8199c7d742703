#include "core/reckon/parts.hpp"

namespace hangtime::parts {

namespace {

// What will have been moved by `at`, as the stages have it from the last event on.
Volume moved_by(const Context& c, const Reckoning& out, Instant at) {
    const Flow& last = c.state.run.flows.back();
    Volume moved = last.before;
    for (const Stage& stage : out.stages) {
        const Instant from = stage.from < last.from ? last.from : stage.from;
        const Instant to = stage.to < at ? stage.to : at;
        if (to > from) moved = moved + stage.rate * (to - from);
    }
    return moved < c.whole_push ? moved : c.whole_push;
}

// Since when the limit has been out of reach at the rates that were set: the first event after which each
// stretch would have ended too late, or the moment in a pause at which going on would have been too late.
std::optional<Instant> out_of_reach_since(const Context& c, const Reckoning& out) {
    const auto& flows = c.state.run.flows;
    const Instant limit = *out.finish_by;
    std::optional<Instant> since;
    for (std::size_t i = flows.size(); i-- > 0;) {
        const Flow& flow = flows[i];
        Rate rate = flow.rate;
        Instant from = flow.from;
        for (std::size_t k = i; flow.paused && k-- > 0;)
            if (!flows[k].paused) {
                rate = flows[k].rate;
                break;
            }
        if (rate <= Rate{}) return since;
        // In the slow stage the plan is to raise: it is not judged as if it ran on like that.
        if (i == 0 && c.slow && rate < out.rates.set) return since;
        const Volume rest = c.whole_push > flow.before ? c.whole_push - flow.before : Volume{};
        const Instant latest = limit - time_for(rest, rate);
        if (flow.paused) {
            const Instant until = i + 1 < flows.size() ? flows[i + 1].from : out.as_if;
            if (until <= latest) return since;
            since = latest < from ? from : latest + Seconds{1};
            if (latest >= from) return since;
        } else {
            if (from <= latest) return since;
            since = from;
        }
    }
    return since;
}

void find_resume(const Context& c, Reckoning& out) {
    // Only while it stands still: of what runs there is no such moment.
    const Flow& last = c.state.run.flows.back();
    const Rate rate = rate_to_go_on(c.state);
    if (!last.paused || rate <= Rate{}) return;
    const Volume rest = c.whole_push > last.before ? c.whole_push - last.before : Volume{};
    const Seconds needs = time_for(rest, rate);
    out.judgement.latest_start = *out.finish_by - needs;
    out.judgement.latest_start_sum = sum_of(SumKind::latest_start, *out.finish_by, needs, *out.finish_by - needs);
}

// A device at the slow end of its accuracy, over everything since the start or since the bag was seen empty.
bool in_time_when_slow(const Context& c, const Reckoning& out) {
    const auto& empty = c.state.run.bag_empty;
    const Volume base = empty ? empty->moved : Volume{};
    const std::int64_t kept = 1000 - c.protocol.reserve.accuracy_tenths_percent;
    const Flow& last = c.state.run.flows.back();
    // At the rates as they stand the device would go on until the limit.
    Volume by_limit = last.before;
    Instant at = last.from;
    for (const Stage& stage : out.stages) {
        if (stage.to <= at) continue;
        const Instant from = stage.from < at ? at : stage.from;
        const bool final = &stage == &out.stages.back();
        const Instant to = final || stage.to > *out.finish_by ? *out.finish_by : stage.to;
        if (to > from) by_limit = by_limit + stage.rate * (to - from);
    }
    return static_cast<Wide>((by_limit - base).units) * kept >= static_cast<Wide>((c.whole_push - base).units) * 1000;
}

void advise(Context& c, Reckoning& out) {
    Judgement& j = out.judgement;
    const Volume moved = moved_by(c, out, out.as_if);
    const Seconds left = *out.finish_by - out.as_if;
    const Rate highest = round_down(out.rates.ceiling.rate, device_step(c.state.device));
    if (left > Seconds{} && c.whole_push > moved && !c.state.no_faster) {
        // Somebody's decision, within the highest rate; never the tool's own (design rule 4).
        const RateRatio needed = (c.whole_push - moved) / left;
        const Rate rate = round_up(needed, device_step(c.state.device));
        if (rate <= highest)
            j.advice.add({Advice::ask_prescriber_rate, {Figure(rate)},
                          sum_of(SumKind::rest_to_limit, c.whole_push, moved, left, needed, rate)});
    }
    j.advice.add({Advice::stop_at_limit, {Figure(*out.finish_by)}, {}});
    j.advice.add({Advice::ask_blood_bank, {}, {}});
}

}  // namespace

void judge_run(Context& c, Reckoning& out) {
    Judgement& j = out.judgement;
    j = {};
    j.can_give = out.volumes.given;
    if (!out.finish_by) return;
    if (out.ended) {
        if (out.all_in > *out.finish_by && !c.state.run.stopped) {
            j.verdict = Verdict::does_not_fit;
            j.reasons.add(Reason::ended_late);
            j.over_by = out.all_in - *out.finish_by;
            j.over_sum = sum_of(SumKind::over_by, out.all_in, *out.finish_by, j.over_by);
        }
        return;
    }
    find_resume(c, out);
    if (out.all_in > *out.finish_by) {
        j.verdict = Verdict::does_not_fit;
        j.reasons.add(Reason::will_pass_limit);
        judge_cut(out, given_of(c.state, moved_by(c, out, *out.finish_by)));
        if (!out.drifts) {
            // What would be needed from now on grows with every minute.
            out.drifts = true;
            out.as_if = full_minute_from(out.now);
            c.horizon.reached(out.as_if + Seconds{1});
        }
        if (const auto since = out_of_reach_since(c, out))
            out.warnings.add({Warning::fits_no_more_since, Severity::caution, {Figure(*since)}, {}});
        advise(c, out);
        return;
    }
    if (!in_time_when_slow(c, out)) j.reasons.add(Reason::reserve_accuracy);
    if (*out.finish_by - out.all_in < c.protocol.reserve.minutes) j.reasons.add(Reason::reserve_minutes);
    if (!j.reasons.empty()) j.verdict = Verdict::fits_without_reserve;
}

}  // namespace hangtime::parts
