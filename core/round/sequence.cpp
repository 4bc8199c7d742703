#include "core/round/sequence.hpp"

#include "core/reckon/reckoning.hpp"

#include <algorithm>
#include <memory>

namespace hangtime::rounds {

namespace {

std::optional<Seconds> life_of(const Protocol& protocol, Component c) {
    std::optional<Seconds> least;
    for (const Limit& limit : protocol.rules(c).limits)
        if (limit.kind == LimitKind::change_set && (!least || limit.within < *least)) least = limit.within;
    return least;
}

// A start is planned to the minute: up to the next one.
Instant to_the_minute(Instant at) { return {ceil_div(at.utc, 60) * 60}; }

// What of the person's ceiling is left for this line, the least of them.
std::optional<RateRatio> persons_ceiling(const Reckoning& r) {
    std::optional<RateRatio> least;
    for (const Ceiling& ceiling : r.rates.ceilings) {
        if (ceiling.kind == CeilingKind::device || ceiling.kind == CeilingKind::order ||
            ceiling.kind == CeilingKind::none)
            continue;
        if (!least || compare_ratio(ceiling.rate, *least) < 0) least = ceiling.rate;
    }
    return least;
}

}  // namespace

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

std::optional<Instant> set_expires(const Protocol& protocol, const SetSoFar& set, Component next) {
    if (!set.hung) return std::nullopt;
    std::optional<Seconds> least;
    for (int i = 0; i < component_count; ++i) {
        const auto c = static_cast<Component>(i);
        if (c != next && (set.carried & component_bit(c)) == 0) continue;
        const auto life = life_of(protocol, c);
        if (life && (!least || *life < *least)) least = life;
    }
    if (!least) return std::nullopt;
    return *set.hung + *least;
}

NewSet set_for(const Protocol& protocol, const SetSoFar& set, Component next, Instant all_in) {
    if (!set.hung || set.units == 0) return NewSet::first_unit;
    if (protocol.round->set_use.value == SetUse::new_for_each) return NewSet::each_unit;
    if (protocol.rules(next).new_set && (set.carried & ~component_bit(next)) != 0) return NewSet::component_asks;
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
    out.carried = static_cast<std::uint8_t>(out.carried | component_bit(component));
    return out;
}

State sequence_state(const Sequence& sequence, const SequencePlan::Unit& planned, std::size_t index) {
    const SequenceUnit& unit = sequence.units[index];
    State state = sequence.common;
    state.unit = {};
    state.unit.component = unit.component;
    state.unit.bag = unit.bag;
    state.unit.expires = unit.expires;
    state.order = unit.order;
    state.times = {};
    state.times.issued = Stated{planned.issued, Precision::minute};
    state.times.start = Start{Stated{planned.start, Precision::minute}, false};
    state.checks_done.clear();
    if (planned.set == NewSet::kept) {
        // What it still holds goes first: the unit before, or the saline that cleared it.
        state.times.set_since = planned.set_hung;
        state.line.lost = {};
        state.line.from_last_unit = !planned.old_set_flushed;
        if (planned.old_set_flushed) state.line.primed_with = Primed::saline;
    }
    return state;
}

namespace {

class Planner {
public:
    Planner(const Protocol& protocol, const Sequence& sequence)
        : protocol_(protocol), rules_(*protocol.round), sequence_(sequence), set_(sequence.set),
          ready_(sequence.ready.value_or(rules_.call.ready)),
          transport_(sequence.transport.value_or(rules_.call.transport)), r_(std::make_unique<Reckoning>()) {}

    SequencePlan run() {
        out_.hold = hold_for(rules_, sequence_.common.recipient.overload_risk);
        bool all_before = true;
        for (std::size_t i = 0; i < sequence_.units.size(); ++i) {
            SequencePlan::Unit plan;
            if (i == 0) first(plan);
            else after(out_.units.back(), plan);
            choose_set(plan, i);
            plan.before_hour = !sequence_.over_by || plan.over <= *sequence_.over_by;
            const bool fits = plan.verdict != Verdict::does_not_fit;
            all_before = all_before && fits && plan.before_hour;
            if (all_before) out_.fit = i + 1;
            if (fits) {
                out_.total = out_.total + plan.given;
                out_.most = std::max(out_.most, plan.most + sequence_.common.other_line);
            }
            out_.units.push_back(plan);
            if (!fits) return std::move(out_);
        }
        out_.all_planned = true;
        return std::move(out_);
    }

private:
    void first(SequencePlan::Unit& plan) const {
        plan.start = sequence_.first_start;
        plan.match_at = plan.start - rules_.match_takes.value;
        plan.issued = plan.match_at - transport_;
        plan.call_at = plan.issued - ready_;
    }

    // It arrives when the last one ends, and not before; or is called for when somebody has looked again.
    void after(const SequencePlan::Unit& before, SequencePlan::Unit& plan) const {
        const Instant end = before.all_in;
        plan.hold = out_.hold;
        plan.call_at = plan.hold == CallHold::none ? end - transport_ - ready_ : end + rules_.reassess_takes;
        plan.call_at = to_the_minute(plan.call_at);
        plan.issued = plan.call_at + ready_;
        plan.match_at = plan.issued + transport_;
        plan.start = plan.match_at + rules_.match_takes.value;
        // The one at the end, or one after it that may be taken as early as that.
        const bool looked = protocol_.checks.at_end.value || !protocol_.checks.after.empty();
        plan.baseline_is_end_check = rules_.end_check_is_baseline.value && looked &&
                                     plan.start - end <= protocol_.checks.baseline_within.value;
    }

    // As with the old set, where that may be kept: what it holds goes first, so that the end may come later. Where it
    // would then expire, and in all other cases, as with a new one.
    void choose_set(SequencePlan::Unit& plan, std::size_t i) {
        const Component component = sequence_.units[i].component;
        plan.old_set_change_by = set_expires(protocol_, set_, component);
        plan.set_hung = set_.hung;
        plan.old_set_flushed = sequence_.common.line.cleared;
        plan.set = set_for(protocol_, set_, component, plan.start);
        if (plan.set == NewSet::kept) {
            reckon_unit(plan, i);
            plan.set = set_for(protocol_, set_, component, plan.all_in);
            if (plan.set == NewSet::kept && plan.old_set_change_by)
                plan.latest_on_set = *plan.old_set_change_by - (plan.all_in - plan.start);
        }
        if (plan.set != NewSet::kept) {
            plan.set_hung.reset();
            reckon_unit(plan, i);
        }
        set_ = after_unit(set_, plan.set, component, plan.start);
        plan.set_change_by = set_expires(protocol_, set_, component);
    }

    void reckon_unit(SequencePlan::Unit& plan, std::size_t i) {
        reckon(protocol_, sequence_state(sequence_, plan, i), plan.issued, *r_);
        plan.verdict = r_->planned ? r_->judgement.verdict : Verdict::does_not_fit;
        plan.finish_by = r_->finish_by;
        plan.all_in = r_->planned ? r_->all_in : plan.start;
        plan.over = plan.all_in;
        plan.most = {};
        plan.given = {};
        if (!r_->planned) return;
        for (const Check& check : r_->checks) plan.over = std::max(plan.over, check.due);
        for (const Stage& stage : r_->stages) plan.most = std::max(plan.most, stage.rate);
        plan.given = r_->volumes.given;
        if (sequence_.common.other_line > Rate{}) plan.left_of_ceiling = persons_ceiling(*r_);
    }

    const Protocol& protocol_;
    const RoundRules& rules_;
    const Sequence& sequence_;
    SetSoFar set_;
    Seconds ready_, transport_;
    std::unique_ptr<Reckoning> r_;
    SequencePlan out_;
};

}  // namespace

SequencePlan plan_sequence(const Protocol& protocol, const Sequence& sequence) {
    return Planner(protocol, sequence).run();
}

}  // namespace hangtime::rounds
