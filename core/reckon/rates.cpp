#include "core/reckon/parts.hpp"

namespace hangtime::parts {

namespace {

bool below(RateRatio a, RateRatio b) { return compare_ratio(a, b) < 0; }

Rate grid_floor(const Context& c, RateRatio r) { return round_down(r, device_step(c.state.device)); }
Rate grid_ceil(const Context& c, RateRatio r) { return round_up(r, device_step(c.state.device)); }

// The floor for what is left when the slow stage (if any) is over; none when the limit
// does not even leave room for the slow stage (then no rate meets it).
void find_floor(const Reckoning& out, const std::optional<Slow>& slow, Rates& rates) {
    rates.floor.reset();
    const Seconds lasts = slow ? slow->lasts : Seconds{};
    const Volume done = slow ? slow->volume : Volume{};
    const Seconds left = *out.finish_by - out.start - lasts;
    if (left <= Seconds{} || out.volumes.pushed <= done) return;
    rates.floor = (out.volumes.pushed - done) / left;
    rates.floor_sum = sum_of(SumKind::rest_to_limit, out.volumes.pushed, done, left, *rates.floor);
}

// The wished flow after the slow stage (or throughout, without one); none when the wish cannot be met.
std::optional<RateRatio> target_of(const Pace& pace, Volume pushed, const std::optional<Slow>& slow) {
    if (pace.names_rate()) return pace.rate;
    const Volume rest = slow ? pushed - slow->volume : pushed;
    const bool inside = slow && pace.counts_from == CountsFrom::start;
    const Seconds time = inside ? pace.duration - slow->lasts : pace.duration;
    if (time <= Seconds{} || rest <= Volume{}) return std::nullopt;
    return rest / time;
}

// The wished flow if the whole of it went at one rate.
std::optional<RateRatio> flat_target(const Pace& pace, Volume pushed, const Slow& slow) {
    if (pace.names_rate()) return pace.rate;
    const Seconds time =
        pace.counts_from == CountsFrom::rate_change ? pace.duration + slow.lasts : pace.duration;
    if (time <= Seconds{}) return std::nullopt;
    return pushed / time;
}

bool rounds_down(const Pace& pace) {
    return pace.kind == Order::Pace::at_least || pace.names_rate();
}

// The target rounded to the device, held between floor and ceiling (design section 5, "Rates").
struct Choice {
    Rate set{};
    RateRule rule = RateRule::target;
    bool meets_floor = true;
};
Choice choose(const Context& c, const Rates& rates, const Pace& pace) {
    const Rate highest = grid_floor(c, rates.ceiling.rate);
    Choice choice;
    if (!rates.target) {
        choice = {rates.floor ? grid_ceil(c, *rates.floor) : highest, RateRule::raised_to_floor, true};
    } else if (rounds_down(pace)) {
        choice = {grid_floor(c, *rates.target), RateRule::rounded_down, true};
        // An order slower than the device's first step: the step itself if the ceiling allows it.
        if (choice.set == Rate{}) choice.set = device_step(c.state.device);
    } else {
        choice = {grid_ceil(c, *rates.target), RateRule::target, true};
    }
    if (choice.set > highest) choice = {highest, RateRule::held_at_ceiling, true};
    if (rates.floor && below(exactly(choice.set), *rates.floor)) {
        const Rate raised = grid_ceil(c, *rates.floor);
        if (raised <= highest) {
            choice = {raised, RateRule::raised_to_floor, true};
        } else {
            choice = {highest, RateRule::partial, false};
        }
    }
    return choice;
}

void add_ceiling(Rates& rates, Ceiling ceiling) {
    rates.ceilings.add(ceiling);
    if (rates.ceiling.kind == CeilingKind::none || below(ceiling.rate, rates.ceiling.rate)) rates.ceiling = ceiling;
}

Ceiling as_stated(CeilingKind kind, const Context& c, RateRatio rate, const Basis& basis = {}) {
    return {kind, rate, basis, sum_of(SumKind::rate_as_limited, rate, grid_floor(c, rate))};
}

// "Over at least": the rate that would take just that long is the order's ceiling.
void limit_to_target(const Context& c, Rates& rates) {
    add_ceiling(rates, as_stated(CeilingKind::order, c, *rates.target));
}

Ceiling by_weight(CeilingKind kind, const Context& c, const Given<RatePerKg>& most) {
    const RateRatio rate = most.value * c.state.recipient.weight;
    return {kind, rate, most.basis,
            sum_of(SumKind::rate_by_weight, most.value, c.state.recipient.weight, rate, grid_floor(c, rate))};
}

// What runs into the same person through another line is taken off what the person may have at most: the ceilings
// of the component and of the weight, not those of the order and the device.
void share_with_other_line(const Context& c, Rates& rates) {
    const Rate other = c.state.other_line;
    if (other <= Rate{}) return;
    rates.ceiling = {};
    for (Ceiling& ceiling : rates.ceilings) {
        if (ceiling.kind != CeilingKind::order && ceiling.kind != CeilingKind::device) {
            const std::int64_t taken = other.units_per_s * ceiling.rate.den;
            ceiling.rate.num = ceiling.rate.num > taken ? ceiling.rate.num - taken : 0;
            ceiling.sum = sum_of(SumKind::rate_as_limited, ceiling.rate, grid_floor(c, ceiling.rate));
        }
        if (rates.ceiling.kind == CeilingKind::none || below(ceiling.rate, rates.ceiling.rate)) rates.ceiling = ceiling;
    }
}

}  // namespace

Rate device_step(const Device& device) {
    return device.kind == DeviceKind::gravity ? drops_per_min(1, device.drops) : device.step;
}

void find_ceilings(Context& c, Reckoning& out) {
    out.rates.step = device_step(c.state.device);
    Rates& rates = out.rates;
    const ComponentRules& rules = c.rules;
    const Order& order = c.state.order;
    const Device& device = c.state.device;
    if (rules.most)
        add_ceiling(rates, as_stated(CeilingKind::component, c, exactly(rules.most->value), rules.most->basis));
    if (rules.most_per_kg) add_ceiling(rates, by_weight(CeilingKind::weight, c, *rules.most_per_kg));
    if (c.state.recipient.overload_risk == Answer::yes && rules.most_per_kg_at_risk)
        add_ceiling(rates, by_weight(CeilingKind::overload_risk, c, *rules.most_per_kg_at_risk));
    if (order.most) add_ceiling(rates, as_stated(CeilingKind::order, c, exactly(*order.most)));
    // What is usual at a rate is no ceiling; what was ordered at a rate is.
    const Pace pace = pace_of(c, out);
    if (order.pace != Order::Pace::usual && pace.names_rate())
        add_ceiling(rates, as_stated(CeilingKind::order, c, pace.rate));
    share_with_other_line(c, rates);
    if (c.state.slowed_to) add_ceiling(rates, as_stated(CeilingKind::slowed, c, exactly(*c.state.slowed_to)));
    const bool pump = device.kind == DeviceKind::pump;
    add_ceiling(rates, as_stated(CeilingKind::device, c, exactly(pump ? device.most : bounds::rate)));
}

const UsualPace& usual_for(const Context& c) {
    const bool at_risk = c.state.recipient.overload_risk == Answer::yes;
    return at_risk && c.rules.usual_at_risk ? *c.rules.usual_at_risk : c.rules.usual;
}

Pace usual_pace(const Context& c, const Reckoning& out) {
    const UsualPace& usual = usual_for(c);
    Pace pace{Order::Pace::within, {}, c.protocol.duration_counts_from.value, {}, usual.basis};
    if (usual.rate_per_kg) {
        pace.kind = Order::Pace::at_rate_per_kg;
        pace.rate = *usual.rate_per_kg * c.state.recipient.weight;
    } else if (usual.most) {
        pace.duration = *usual.most;
    } else {
        // Nothing is usual here: as slowly as the limit allows.
        pace.duration = out.finish_by ? *out.finish_by - out.start : hours(4);
        pace.counts_from = CountsFrom::start;
    }
    return pace;
}

Pace pace_of(const Context& c, const Reckoning& out) {
    const Order& order = c.state.order;
    if (order.pace == Order::Pace::usual) {
        Pace pace = usual_pace(c, out);
        if (order.counts_from) pace.counts_from = *order.counts_from;
        return pace;
    }
    Pace pace{order.pace, order.duration, order.counts_from.value_or(c.protocol.duration_counts_from.value), {}, {}};
    if (order.pace == Order::Pace::at_rate) pace.rate = exactly(order.rate);
    if (order.pace == Order::Pace::at_rate_per_kg) pace.rate = order.rate_per_kg * c.state.recipient.weight;
    return pace;
}

void find_slow_stage(Context& c, Reckoning& out) {
    if (!c.rules.slow) return;
    const SlowStage& rule = *c.rules.slow;
    RateRatio wanted = rule.rate ? exactly(*rule.rate) : *rule.rate_per_kg * c.state.recipient.weight;
    if (rule.rate && rule.rate_per_kg) {
        const RateRatio by_mass = *rule.rate_per_kg * c.state.recipient.weight;
        if (below(by_mass, wanted)) wanted = by_mass;
    }
    Slow slow;
    slow.wanted = wanted;
    slow.lowered = below(out.rates.ceiling.rate, wanted);
    slow.rate = grid_floor(c, slow.lowered ? out.rates.ceiling.rate : wanted);
    if (slow.rate == Rate{}) {
        // The device cannot go as slowly as the protocol says: its first step, unless a ceiling forbids it.
        slow.one_step = true;
        slow.rate = device_step(c.state.device);
        if (below(out.rates.ceiling.rate, exactly(slow.rate))) return;
    }
    slow.lasts = rule.lasts;
    if (c.protocol.slow_counts_from.value == SlowFrom::vein)
        slow.lasts = slow.lasts + time_for(out.volumes.saline_first, slow.rate);
    slow.volume = slow.rate * slow.lasts;
    slow.basis = rule.basis;
    slow.sum = sum_of(SumKind::slow_volume, slow.rate, slow.lasts, slow.volume);
    c.slow_rule = slow;
    c.slow = slow;
}

namespace {

// The one line behind the rate to set.
void explain_rate(const Context& c, Rates& rates, Volume pushed, const Pace& pace) {
    const Volume slow_volume = c.slow ? c.slow->volume : Volume{};
    const Volume rest = pushed > slow_volume ? pushed - slow_volume : Volume{};
    if (rates.rule == RateRule::held_at_ceiling || rates.rule == RateRule::partial) {
        rates.set_sum = sum_of(SumKind::rate_as_limited, rates.ceiling.rate, rates.set);
    } else if (rates.rule == RateRule::raised_to_floor && rates.floor) {
        rates.set_sum = sum_of(SumKind::rate_as_limited, *rates.floor, rates.set);
    } else if (rates.target && (pace.names_rate() || rates.target->num == 0)) {
        rates.set_sum = sum_of(SumKind::rate_as_limited, *rates.target, rates.set);
    } else if (rates.target) {
        const Seconds span{floor_div(static_cast<Wide>(rest.units) * rates.target->den, rates.target->num)};
        rates.set_sum = sum_of(SumKind::rest_in_time, pushed, slow_volume, span, *rates.target, rates.set);
    }
}

// One way to run it: what it aims for and what that comes to on the device.
struct Way {
    Rates rates;
    Choice choice;
    bool slow_only = false;  // over before the slow stage is
};

// At one rate throughout.
Way at_one_rate(const Context& c, const Reckoning& out, const Pace& pace) {
    Way way{out.rates, {}, false};
    way.rates.target = flat_target(pace, out.volumes.pushed, *c.slow);
    find_floor(out, std::nullopt, way.rates);
    const bool small = out.volumes.pushed <= c.slow->volume;
    way.slow_only = small && (!way.rates.target || below(exactly(c.slow->rate), *way.rates.target));
    if (way.slow_only) way.rates.target = exactly(c.slow->rate);
    if (pace.kind == Order::Pace::at_least && !way.slow_only) limit_to_target(c, way.rates);
    way.choice = choose(c, way.rates, pace);
    return way;
}

// In stages: the slow one first, if there is one.
Way in_stages(Context& c, const Reckoning& out, const Pace& pace) {
    const Volume pushed = out.volumes.pushed;
    Way way{out.rates, {}, false};
    way.rates.target = target_of(pace, pushed, c.slow);
    if (way.rates.target) {
        if (pace.kind == Order::Pace::at_least) limit_to_target(c, way.rates);
    } else {
        // The wish is shorter than the slow stage. Where the rules or the order name a highest rate it is held there, as a
        // wish is that is only a little longer. The tool does not answer with the highest rate that a device can do:
        // then it goes back to what is usual. A warning says that a wish for "within" is not met.
        c.pace_met = pace.kind != Order::Pace::within;
        const bool ordered = c.state.order.pace == Order::Pace::within && (!c.slow || pushed > c.slow->volume);
        if (ordered && way.rates.ceiling.kind != CeilingKind::device) {
            way.rates.target = way.rates.ceiling.rate;
            find_floor(out, c.slow, way.rates);
            way.choice = choose(c, way.rates, pace);
            const Rate highest = grid_floor(c, way.rates.ceiling.rate);
            if (way.choice.meets_floor) way.choice = {highest, RateRule::held_at_ceiling, true};
            return way;
        }
        Pace usual = usual_pace(c, out);
        usual.counts_from = CountsFrom::rate_change;
        way.rates.target = target_of(usual, pushed, c.slow);
    }
    find_floor(out, c.slow, way.rates);
    way.choice = choose(c, way.rates, pace);
    return way;
}

// Somebody who is to have it at the slow rate or slower has it at one rate: then there is no slow stage of its
// own, unless a limit asks for more than the slow rate and the order does not forbid it.
bool goes_at_one_rate(const Context& c, const Pace& pace, const Way& way) {
    if (way.choice.set > c.slow->rate) return false;
    if (way.choice.meets_floor) return way.choice.set > Rate{};
    return pace.kind == Order::Pace::at_least && !way.slow_only && !below(exactly(c.slow->rate), *way.rates.target);
}

}  // namespace

void find_rates(Context& c, Reckoning& out) {
    const Volume pushed = out.volumes.pushed;
    const Pace pace = pace_of(c, out);
    const Seconds left = *out.finish_by - out.start;

    Way way;
    bool one_rate = false;
    if (left > Seconds{} && c.slow) {
        way = at_one_rate(c, out, pace);
        one_rate = goes_at_one_rate(c, pace, way);
    }
    if (!one_rate) way = in_stages(c, out, pace);
    if (one_rate) c.slow.reset();

    Rates& rates = out.rates = way.rates;
    rates.set = way.choice.set;
    rates.rule = way.choice.rule;
    if (one_rate && way.slow_only) rates.rule = RateRule::slow_stage_only;
    const bool slower = rates.target && below(exactly(rates.set), *rates.target);
    if (pace.kind == Order::Pace::within && (slower || rates.rule == RateRule::slow_stage_only)) c.pace_met = false;

    // Reasons not to fit that come from the rates alone.
    Judgement& j = out.judgement;
    if (pushed <= out.volumes.saline_first) {
        j.reasons.add(Reason::line_holds_all);
    } else if (left <= Seconds{}) {
        j.reasons.add(Reason::limit_before_start);
    } else if (c.slow && left <= c.slow->lasts && pushed > c.slow->rate * left) {
        j.reasons.add(Reason::slow_stage_too_long);
    } else if (!way.choice.meets_floor) {
        j.reasons.add(compare_ratio(*rates.floor, rates.ceiling.rate) > 0 ? Reason::ceiling_below_floor
                                                                          : Reason::no_step_between);
    }
    if (!j.reasons.empty()) {
        // As much as can be given until the limit, at the highest rate.
        rates.rule = RateRule::partial;
        rates.set = grid_floor(c, rates.ceiling.rate);
    }
    explain_rate(c, rates, pushed, pace);
    if (rates.rule == RateRule::slow_stage_only) rates.set_sum = c.slow_rule->sum;
}

}  // namespace hangtime::parts
