#include "core/reckon/parts.hpp"

namespace hangtime::parts {

namespace {

// What the device would have to move, and what the bag would have to hold, are apart by the line: the inverse
// of find_volumes for a whole bag.
Volume bag_for_pushed(const Context& c, Volume pushed) {
    const Line& line = c.state.line;
    const bool saline = line.other_first();
    Volume bag = pushed;
    if (saline && line.cleared) bag = pushed - line.holds;
    if (!saline && !line.cleared) bag = pushed + line.holds;
    bag = bag + line.lost;
    return bag > Volume{} ? bag : Volume{};
}

bool has(const Judgement& judgement, Reason reason) {
    for (const Reason there : judgement.reasons)
        if (there == reason) return true;
    return false;
}

bool whole_bag(const Order& order) { return !order.dose && !order.dose_per_kg; }

bool rates_short(const Judgement& j) {
    return has(j, Reason::no_step_between) || has(j, Reason::ceiling_below_floor) ||
           has(j, Reason::slow_stage_too_long) || has(j, Reason::limit_before_start);
}

void find_latest_start(const Context& c, Reckoning& out);
void find_late_start(const Context& c, Reckoning& out);

// What would come of another state: why it would not fit, and by when it would have to start. Nothing is advised
// that was not reckoned like this first; under "over at least", say, a smaller volume also has a lower ceiling.
struct Trial {
    Judgement judgement;
    std::optional<Instant> start_by;
};
Trial try_out(const Context& c, const State& state) {
    Context other = context_of(c.protocol, state, c.horizon.now());
    Reckoning out;
    open_windows(other, out);
    out.start = state.times.start->when.at;
    find_volumes(other, out);
    find_ceilings(other, out);
    find_slow_stage(other, out);
    find_rates(other, out);
    find_latest_start(other, out);
    find_late_start(other, out);
    const std::optional<Instant> latest = out.judgement.latest_start;
    if (latest && (!out.start_by || *latest < *out.start_by)) out.start_by = latest;
    return {out.judgement, out.start_by};
}

// Would it fit, begun from now on?
bool would_fit(Context& c, const State& state) {
    const Trial trial = try_out(c, state);
    return trial.judgement.reasons.empty() &&
           !(trial.start_by && c.horizon.reached(*trial.start_by + Seconds{1}));
}

// What is asked for "at most" is asked for as it can be told: in whole tenths of a millilitre, never rounded up.
Volume in_tenths(Volume v) { return {v.units / tenths_of_ml(1).units * tenths_of_ml(1).units}; }

State with_bag(const Context& c, Volume bag) {
    State state = c.state;
    state.unit.bag = bag;
    return state;
}

// By how much the end would be late at the highest rate there is, and what could be given until the limit.
void find_shortfall(const Context& c, Reckoning& out) {
    Judgement& j = out.judgement;
    const Volume saline = out.volumes.saline_first;
    const Volume wanted = c.whole_push > saline ? c.whole_push - saline : Volume{};
    const Instant limit = *out.finish_by;
    const Seconds left = limit - out.start;
    const Rate highest = out.rates.set;  // a partial plan runs at the highest rate

    j.can_give = out.volumes.given;
    j.would_be_left = wanted - j.can_give;
    if (has(j, Reason::line_holds_all)) return;  // no rate and no time would give any of it
    j.left_sum = sum_of(SumKind::left_over, wanted, j.can_give, j.would_be_left);
    if (left > Seconds{} && highest > Rate{}) {
        const Seconds slow = c.slow ? (c.slow->lasts < left ? c.slow->lasts : left) : Seconds{};
        const Rate slow_rate = c.slow ? c.slow->rate : Rate{};
        // The device also counts what stands in the line first (saline); what is given comes out without it.
        j.can_give_sum = out.volumes.given < out.volumes.pushed
                             ? sum_of(SumKind::can_be_given_after_line, slow_rate * slow, highest, left - slow,
                                      out.volumes.pushed - out.volumes.given, out.volumes.given)
                             : sum_of(SumKind::can_be_given, slow_rate, slow, highest, left - slow, out.volumes.pushed);
    }
    if (highest > Rate{}) {
        const Instant end = out.start + span_for(c.slow, c.whole_push, highest);
        if (end > limit) j.over_by = end - limit;
        j.over_sum = sum_of(SumKind::over_by, end, limit, j.over_by);
    }
    if (whole_bag(c.state.order) && j.can_give > Volume{}) {
        const Volume exact = bag_for_pushed(c, out.volumes.pushed);
        const Volume bag = in_tenths(exact);
        if (bag == Volume{} || rates_short(try_out(c, with_bag(c, bag)).judgement)) return;
        j.largest_bag = bag;
        j.largest_bag_sum =
            sum_of(SumKind::largest_bag, out.volumes.pushed - (exact - bag), out.volumes.line, out.volumes.lost, bag);
    }
}

// From which weight the ceiling by weight would do, by the exact ratio and with the device's steps. It is named only
// if the plan fits at it: another ceiling may bind next, and a dose by weight grows with the weight.
void find_weight_needed(const Context& c, Reckoning& out) {
    const Rates& rates = out.rates;
    const bool at_risk = rates.ceiling.kind == CeilingKind::overload_risk;
    if (!at_risk && rates.ceiling.kind != CeilingKind::weight) return;
    if (!rates.floor || (c.slow && c.slow->lowered)) return;
    const RatePerKg per_kg = at_risk ? c.rules.most_per_kg_at_risk->value : c.rules.most_per_kg->value;
    const std::int64_t unit = per_kg.units_per_s;
    const Rate on_grid = round_up(*rates.floor, device_step(c.state.device));
    State heavier = c.state;
    heavier.recipient.weight = Mass{ceil_div(static_cast<Wide>(on_grid.units_per_s) * 1000, unit)};
    if (heavier.recipient.weight > bounds::mass || !try_out(c, heavier).judgement.reasons.empty()) return;
    out.judgement.weight_exact =
        Mass{ceil_div(static_cast<Wide>(rates.floor->num) * 1000, rates.floor->den * unit)};
    out.judgement.weight_on_grid = heavier.recipient.weight;
}

// The latest start from which the whole of it still fits at the highest rate. Limits that are counted from
// the start move with it: they are met from every start or from none.
void find_latest_start(const Context& c, Reckoning& out) {
    const Rate highest = round_down(out.rates.ceiling.rate, device_step(c.state.device));
    if (highest <= Rate{} || c.whole_push <= out.volumes.saline_first) return;
    // As slow as the slow stage throughout: then there is none of its own.
    const bool staged = c.slow_rule && highest > c.slow_rule->rate;
    const Seconds needs = span_for(staged ? c.slow_rule : std::nullopt, c.whole_push, highest);
    std::optional<Instant> latest;
    Sum sum{};
    for (const Window& w : out.windows) {
        if (!w.latest) continue;
        std::optional<Instant> bound;
        Sum bound_sum{};
        if (w.kind == LimitKind::finish) {
            const bool moves = w.from == Anchor::started || (w.from == Anchor::spiked && w.opened_assumed);
            if (moves && needs > w.within) return;
            if (moves) continue;
            bound = *w.latest - needs;
            bound_sum = sum_of(SumKind::latest_start, *w.latest, needs, *bound);
        } else if (w.kind == LimitKind::start || (w.kind == LimitKind::hang && !c.state.times.spiked)) {
            bound = *w.latest;
            bound_sum = w.sum;
        }
        if (bound && (!latest || *bound < *latest)) {
            latest = bound;
            sum = bound_sum;
        }
    }
    const Instant earliest = c.state.times.issued->at;
    if (latest && *latest < earliest) return;
    out.judgement.latest_start = latest;
    out.judgement.latest_start_sum = sum;
}

// Would the end still be inside the limit if the device ran `tenths_percent` slow, or a step slower?
bool in_time_at(const Context& c, const Reckoning& out, std::int64_t tenths_percent, Rate step_off) {
    const Seconds left = *out.finish_by - out.start;
    const Rate set = out.rates.set - step_off;
    if (set <= Rate{}) return false;
    const std::int64_t kept = 1000 - tenths_percent;
    const Seconds slow_span = c.slow ? c.slow->lasts : Seconds{};
    const Volume slow = c.slow ? c.slow->volume : Volume{};
    const Wide needed = static_cast<Wide>(out.volumes.pushed.units) * 1000;
    const Wide moved = (static_cast<Wide>(slow.units) +
                        static_cast<Wide>(set.units_per_s) * (left - slow_span).count) * kept;
    return moved >= needed;
}

void find_reserve(const Context& c, Reckoning& out) {
    Judgement& j = out.judgement;
    if (!out.finish_by || out.stages.empty()) return;
    const auto& reserve = c.protocol.reserve;
    const bool gravity = c.state.device.kind == DeviceKind::gravity;
    if (!gravity && !in_time_at(c, out, reserve.accuracy_tenths_percent, Rate{}))
        j.reasons.add(Reason::reserve_accuracy);
    if (gravity && !in_time_at(c, out, 0, device_step(c.state.device))) j.reasons.add(Reason::reserve_drop);
    if (*out.finish_by - out.all_in < reserve.minutes) j.reasons.add(Reason::reserve_minutes);
}

// Reasons not to fit that come from windows other than the one for "all in".
void find_late_start(const Context& c, Reckoning& out) {
    for (const Window& w : out.windows) {
        if (!w.latest) continue;
        const bool label = w.from == Anchor::label_expiry;
        const bool hang = w.binds && w.kind == LimitKind::hang && c.spiked && *c.spiked > *w.latest;
        const bool start = w.kind == LimitKind::start && (w.binds || label) && out.start > *w.latest;
        const bool expired = w.kind == LimitKind::finish && label && out.start >= *w.latest;
        if (!hang && !start && !expired) continue;
        const Reason reason = label ? Reason::expires_first : Reason::hang_too_late;
        if (!has(out.judgement, reason)) out.judgement.reasons.add(reason);
    }
}

void list_advice(Context& c, Reckoning& out) {
    Judgement& j = out.judgement;
    const bool step_short = has(j, Reason::no_step_between);
    const bool short_of_rate = rates_short(j);
    const bool hang_late = has(j, Reason::hang_too_late);
    const bool expired = has(j, Reason::expires_first);
    const bool start_passed = has(j, Reason::latest_start_passed);
    const bool running = c.state.times.start->happened;
    if (short_of_rate && !running) {
        State smaller = with_bag(c, j.largest_bag);
        if (whole_bag(c.state.order) && j.largest_bag > Volume{} && would_fit(c, smaller))
            j.advice.add({Advice::ask_split, {Figure(j.largest_bag)}, j.largest_bag_sum});
        smaller = c.state;
        smaller.order.dose_per_kg.reset();
        const Volume dose = in_tenths(j.can_give);
        smaller.order.dose = dose;
        if (!whole_bag(c.state.order) && dose > Volume{} && would_fit(c, smaller))
            j.advice.add({Advice::ask_prescriber_dose, {Figure(dose)}, j.can_give_sum});
    }
    if (short_of_rate && !running && out.rates.ceiling.kind == CeilingKind::order && out.rates.floor) {
        // Only the order stands in the way: a higher rate inside every other ceiling is the prescriber's to give.
        const Rate needed = round_up(*out.rates.floor, device_step(c.state.device));
        State faster = c.state;
        faster.order.pace = Order::Pace::at_rate;
        faster.order.rate = needed;
        if (faster.order.most && *faster.order.most < needed) faster.order.most = needed;
        if (would_fit(c, faster)) j.advice.add({Advice::ask_prescriber_rate, {Figure(needed)}, out.rates.floor_sum});
    }
    if (step_short) j.advice.add({Advice::finer_device, {Figure(out.rates.step)}, {}});
    bool ahead = false;
    if ((short_of_rate || hang_late || expired) && !running) {
        if (j.latest_start && out.start > *j.latest_start) {
            State earlier = c.state;
            earlier.times.start->when.at = *j.latest_start;
            // What was to be spiked only after that is spiked earlier too; what hangs already hangs.
            if (earlier.times.spiked && earlier.times.spiked->at > *j.latest_start)
                earlier.times.spiked->at = *j.latest_start;
            ahead = try_out(c, earlier).judgement.reasons.empty() &&
                    !c.horizon.reached(*j.latest_start + Seconds{1});
        }
        if (ahead) {
            j.advice.add({Advice::start_earlier, {Figure(*j.latest_start)}, j.latest_start_sum});
        } else {
            j.advice.add({Advice::no_earlier_start, {}, {}});
        }
    }
    // While an earlier start would still do, a bag in date is not sent back in the same breath.
    const bool too_late = (hang_late || start_passed) && !ahead;
    if ((too_late || expired) && !running) j.advice.add({Advice::send_back, {}, {}});
    if (short_of_rate || expired || start_passed || running || has(j, Reason::line_holds_all))
        j.advice.add({Advice::ask_blood_bank, {}, {}});
}

}  // namespace

void judge_cut(Reckoning& out, Volume by_limit) {
    Judgement& j = out.judgement;
    const Volume all = out.volumes.given;
    j.over_by = out.all_in - *out.finish_by;
    j.over_sum = sum_of(SumKind::over_by, out.all_in, *out.finish_by, j.over_by);
    j.can_give = by_limit;
    j.would_be_left = all - by_limit;
    j.left_sum = sum_of(SumKind::left_over, all, by_limit, j.would_be_left);
}

void judge(Context& c, Reckoning& out) {
    Judgement& j = out.judgement;
    if (out.rates.rule == RateRule::partial) {
        find_shortfall(c, out);
        find_weight_needed(c, out);
    } else {
        j.can_give = out.volumes.given;
    }
    if (out.drifts && out.all_in > *out.finish_by) {  // it fitted, and its rate has not been raised since
        j.reasons.add(Reason::will_pass_limit);
        judge_cut(out, running_at(out, *out.finish_by).given);
    }
    find_latest_start(c, out);
    find_late_start(c, out);
    if (j.latest_start && (!out.start_by || *j.latest_start < *out.start_by)) out.start_by = j.latest_start;

    // The plan may fit as it stands and yet be too late to begin.
    const bool waiting = !c.state.times.start->happened && out.start_by;
    if (waiting && j.reasons.empty() && c.horizon.reached(*out.start_by + Seconds{1}))
        j.reasons.add(Reason::latest_start_passed);

    if (!j.reasons.empty()) {
        j.verdict = Verdict::does_not_fit;
        list_advice(c, out);
        return;
    }
    find_reserve(c, out);
    if (!j.reasons.empty()) j.verdict = Verdict::fits_without_reserve;
}

}  // namespace hangtime::parts
