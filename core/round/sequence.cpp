#include "core/round/sequence.hpp"

#include "core/reckon/reckoning.hpp"

#include <algorithm>
#include <memory>

namespace hangtime::rounds {

namespace {

constexpr std::uint8_t bit(Component c) { return static_cast<std::uint8_t>(1U << static_cast<unsigned>(c)); }

std::optional<Seconds> life_of(const Protocol& protocol, Component c) {
    std::optional<Seconds> least;
    for (const Limit& limit : protocol.rules(c).limits)
        if (limit.kind == LimitKind::change_set && (!least || limit.within < *least)) least = limit.within;
    return least;
}

// A start is planned to the minute: up to the next one.
Instant to_the_minute(Instant at) { return {ceil_div(at.utc, 60) * 60}; }

CallHold hold_for(const RoundRules& rules, Answer risk) {
    switch (rules.reassess.value) {
        case Reassess::each_unit: return risk == Answer::yes ? CallHold::at_risk : CallHold::reassess_first;
        case Reassess::at_risk:
            if (risk == Answer::yes) return CallHold::at_risk;
            return risk == Answer::not_recorded ? CallHold::risk_not_recorded : CallHold::none;
        case Reassess::not_asked: break;
    }
    return risk == Answer::yes ? CallHold::at_risk : CallHold::none;
}

// The least ceiling that is the person's or the order's, not the device's: what both lines share.
std::optional<RateRatio> shared_ceiling(const Reckoning& r) {
    std::optional<RateRatio> least;
    for (const Ceiling& ceiling : r.rates.ceilings) {
        if (ceiling.kind == CeilingKind::device || ceiling.kind == CeilingKind::none) continue;
        if (!least || compare_ratio(ceiling.rate, *least) < 0) least = ceiling.rate;
    }
    return least;
}

}  // namespace

std::optional<Instant> set_expires(const Protocol& protocol, const SetSoFar& set, Component next) {
    if (!set.hung) return std::nullopt;
    std::optional<Seconds> least;
    for (int i = 0; i < component_count; ++i) {
        const auto c = static_cast<Component>(i);
        if (c != next && (set.carried & bit(c)) == 0) continue;
        const auto life = life_of(protocol, c);
        if (life && (!least || *life < *least)) least = life;
    }
    if (!least) return std::nullopt;
    return *set.hung + *least;
}

NewSet set_for(const Protocol& protocol, const SetSoFar& set, Component next, Instant all_in) {
    if (!set.hung || set.units == 0) return NewSet::first_unit;
    if (protocol.round->set_use.value == SetUse::new_for_each) return NewSet::each_unit;
    if (protocol.rules(next).new_set && (set.carried & ~bit(next)) != 0) return NewSet::component_asks;
    const bool any_change = protocol.round->set_change.value == SetChange::any;
    if (next != set.last && any_change) return NewSet::component_changes;
    if (protocol.set_units && set.units >= protocol.set_units->value) return NewSet::units;
    const auto expires = set_expires(protocol, set, next);
    if (expires && all_in > *expires) return NewSet::would_expire;
    return NewSet::kept;
}

SetSoFar after_unit(const SetSoFar& set, NewSet choice, Component component, Instant start) {
    SetSoFar out = set;
    if (choice != NewSet::kept) out = {start, 0, component, 0};
    ++out.units;
    out.last = component;
    out.carried = static_cast<std::uint8_t>(out.carried | bit(component));
    return out;
}

SequencePlan plan_sequence(const Protocol& protocol, const Sequence& sequence) {
    const RoundRules& rules = *protocol.round;
    const auto r = std::make_unique<Reckoning>();
    SequencePlan out;
    SetSoFar set = sequence.set;
    bool all_before = true;
    for (std::size_t i = 0; i < sequence.units.size(); ++i) {
        const SequenceUnit& unit = sequence.units[i];
        SequencePlan::Unit plan;
        if (i == 0) {
            plan.start = sequence.first_start;
            plan.match_at = plan.start - rules.match_takes.value;
            plan.issued = plan.match_at - rules.call.transport;
            plan.call_at = plan.issued - rules.call.ready;
        } else {
            const Instant end = out.units.back().all_in;
            plan.hold = hold_for(rules, sequence.common.recipient.overload_risk);
            // It arrives when the last one ends, and not before; or is called for when somebody has looked
            // again.
            plan.call_at = plan.hold == CallHold::none ? end - rules.call.transport - rules.call.ready
                                                       : end + rules.reassess_takes;
            plan.call_at = to_the_minute(plan.call_at);
            plan.issued = plan.call_at + rules.call.ready;
            plan.match_at = plan.issued + rules.call.transport;
            plan.start = plan.match_at + rules.match_takes.value;
            // The one at the end, or one after it that may be taken as early as that.
            const bool looked = protocol.checks.at_end.value || !protocol.checks.after.empty();
            plan.baseline_is_end_check = rules.end_check_is_baseline.value && looked &&
                                         plan.start - end <= protocol.checks.baseline_within.value;
        }
        State state = sequence.common;
        state.unit = {};
        state.unit.component = unit.component;
        state.unit.bag = unit.bag;
        state.unit.expires = unit.expires;
        state.order = unit.order;
        state.times = {};
        state.times.issued = Stated{plan.issued, Precision::minute};
        state.times.start = Start{Stated{plan.start, Precision::minute}, false};
        state.checks_done.clear();
        reckon(protocol, state, plan.issued, *r);
        bool room = true;
        if (r->planned && sequence.other_line > Rate{}) {
            if (const auto ceiling = shared_ceiling(*r)) {
                // Both lines together stay under it: this one gets what the other leaves.
                const RateRatio left{ceiling->num - sequence.other_line.units_per_s * ceiling->den,
                        ceiling->den};
                plan.left_of_ceiling = left;
                state.order.most = Rate{floor_div(left.num, left.den)};
                room = *state.order.most > Rate{};
                if (room) reckon(protocol, state, plan.issued, *r);
            }
        }
        plan.verdict = r->planned && room ? r->judgement.verdict : Verdict::does_not_fit;
        plan.finish_by = r->finish_by;
        plan.all_in = r->planned ? r->all_in : plan.start;
        plan.over = plan.all_in;
        if (r->planned) {
            for (const Check& check : r->checks) plan.over = std::max(plan.over, check.due);
            for (const Stage& stage : r->stages) plan.most = std::max(plan.most, stage.rate);
            plan.given = r->volumes.given;
        }
        plan.set = set_for(protocol, set, unit.component, plan.all_in);
        set = after_unit(set, plan.set, unit.component, plan.start);
        plan.set_change_by = set_expires(protocol, set, unit.component);
        plan.before_hour = !sequence.over_by || plan.over <= *sequence.over_by;
        const bool fits = plan.verdict != Verdict::does_not_fit;
        all_before = all_before && fits && plan.before_hour;
        if (all_before) out.fit = i + 1;
        if (fits) {
            out.total = out.total + plan.given;
            out.most = std::max(out.most, plan.most + sequence.other_line);
        }
        out.units.push_back(plan);
        if (!fits) return out;
    }
    out.all_planned = true;
    return out;
}

}  // namespace hangtime::rounds
