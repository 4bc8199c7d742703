#include "core/reckon/parts.hpp"

namespace hangtime::parts {

namespace {

void add(Reckoning& out, Warning code, Severity severity, std::array<Figure, 3> figures = {}, Basis basis = {}) {
    out.warnings.add({code, severity, figures, basis});
}

// The set has carried another unit: what the rules say about that, as for a sequence of units.
void warn_of_set(const Context& c, Reckoning& out) {
    const Line& line = c.state.line;
    if (!line.carried || !c.state.unit.component || !c.state.run.flows.empty()) return;
    const bool other = *line.carried != *c.state.unit.component;
    const auto& round = c.protocol.round;
    if (round && round->set_use.value == SetUse::new_for_each)
        add(out, Warning::new_set_asked, Severity::caution, {}, round->set_use.basis);
    else if (other && c.rules.new_set)
        add(out, Warning::new_set_asked, Severity::caution, {}, c.rules.new_set_basis);
    else if (other && round && round->set_change.value == SetChange::any)
        add(out, Warning::new_set_asked, Severity::caution, {}, round->set_change.basis);
    else if (c.protocol.set_units && line.units_before >= c.protocol.set_units->value)
        add(out, Warning::new_set_asked, Severity::caution, {}, c.protocol.set_units->basis);
}

void warn_of_entries(const Context& c, Reckoning& out) {
    const State& s = c.state;
    if (s.unit.bag && c.rules.usual_volume) {
        const auto& range = *c.rules.usual_volume;
        if (*s.unit.bag < range.least || *s.unit.bag > range.most)
            add(out, Warning::volume_unusual, Severity::caution, {Figure(*s.unit.bag), range.least, range.most},
                range.basis);
    }
    if (s.recipient.weight_estimated && s.recipient.weight.grams > 0)
        add(out, Warning::weight_estimated, Severity::caution, {Figure(s.recipient.weight)});
    if (s.recipient.overload_risk == Answer::not_recorded)
        add(out, Warning::overload_risk_not_recorded, Severity::note);
    if (s.recipient.can_report == Answer::not_recorded) add(out, Warning::report_not_recorded, Severity::note);
    if (!s.unit.expires && !s.unit.expires_far)
        add(out, Warning::expiry_not_recorded, Severity::note);
    if (c.protocol.keep_below_tenths_c)
        add(out, Warning::return_by_temperature, Severity::note,
            {Figure(FigureKind::count, c.protocol.keep_below_tenths_c->value)}, c.protocol.keep_below_tenths_c->basis);
    if (c.rules.least_gauge && s.recipient.gauge != 0 && s.recipient.gauge > c.rules.least_gauge->value)
        add(out, Warning::gauge_small, Severity::caution,
            {Figure(FigureKind::count, s.recipient.gauge), Figure(FigureKind::count, c.rules.least_gauge->value)},
            c.rules.least_gauge->basis);
    if (c.rules.least_gauge && s.recipient.gauge == 0)
        add(out, Warning::gauge_not_recorded, Severity::note,
            {Figure(FigureKind::count, c.rules.least_gauge->value)}, c.rules.least_gauge->basis);
    if (c.rules.controlled_delivery && s.device.kind == DeviceKind::gravity)
        add(out, Warning::controlled_delivery, Severity::caution, {}, c.rules.controlled_delivery_basis);
    if (c.rules.never_by && c.rules.never_by->value == s.device.kind)
        add(out, s.device.kind == DeviceKind::pump ? Warning::never_by_pump : Warning::never_by_gravity,
            Severity::stop, {}, c.rules.never_by->basis);
    warn_of_set(c, out);
    if (c.protocol.children && !s.order.dose && !s.order.dose_per_kg && s.unit.bag)
        add(out, Warning::child_whole_bag, Severity::caution, {Figure(*s.unit.bag)});
}

void warn_of_assumptions(const Context& c, Reckoning& out) {
    bool storage = false, spike = false, thaw = false;
    for (const Window& w : out.windows) {
        storage = storage || (w.from == Anchor::left_storage && w.opened_assumed);
        spike = spike || (w.from == Anchor::spiked && w.opened_assumed);
        thaw = thaw || (w.from == Anchor::thawed && !w.opened);
    }
    if (storage) add(out, Warning::storage_taken_as_issue, Severity::note, {Figure(*c.left_storage)});
    if (spike) add(out, Warning::spike_taken_as_start, Severity::note, {Figure(*c.spiked)});
    if (thaw) add(out, Warning::thaw_not_recorded, Severity::caution);
}

// An early check that may be done before the first component is in the vein sees nothing of it.
void warn_of_early_check(Reckoning& out) {
    for (const Check& check : out.checks)
        if (check.kind == CheckKind::early && check.counts_from < out.first_component) {
            add(out, Warning::early_check_before_component, Severity::caution,
                {Figure(out.first_component), Figure(check.due)});
            return;
        }
}

// Said before all others of its severity: saline runs in first, so that the person's first component would come at
// the full rate, and the early check would have seen nothing of it (hazard 9).
void warn_of_saline(const Context& c, Reckoning& out) {
    if (out.volumes.saline_first <= Volume{}) return;
    if (!c.state.line.from_last_unit)
        add(out, Warning::line_filled_from_saline, Severity::note, {Figure(out.volumes.saline_first)});
    if (c.slow && !out.stages.empty() && out.first_component >= out.stages[0].to)
        add(out, Warning::component_after_slow_stage, Severity::caution,
            {Figure(out.first_component), Figure(out.rates.set)});
    else
        warn_of_early_check(out);
}

void warn_of_plan(Context& c, Reckoning& out) {
    const Volumes& v = out.volumes;
    const bool fits = out.judgement.verdict != Verdict::does_not_fit;
    const Volume bag = v.bag - v.lost;

    for (const Check& check : out.checks) {
        if (c.state.run.rate_was_set || !holds_up_rate(c, check)) continue;  // somebody has decided
        const bool flagged = check.done && check.flagged;
        add(out, flagged ? Warning::early_check_flagged : Warning::early_check_open, Severity::caution,
            {Figure(flagged ? *check.done : check.due)}, check.basis);
    }

    if (!c.state.line.cleared && v.left_in_line > Volume{} && v.wanted > v.given)
        add(out, Warning::line_not_given, Severity::caution, {Figure(v.left_in_line), Figure(v.given)});
    if (v.wanted > bag)
        add(out, Warning::dose_exceeds_bag, Severity::caution, {Figure(v.wanted), Figure(bag)});
    const Seconds lasts = out.all_in - out.start;
    // Of what was ordered only: what is usual was asked for by nobody.
    if (!c.pace_met && fits && c.state.order.pace != Order::Pace::usual) {
        const bool highest = compare_ratio(exactly(out.rates.set + out.rates.step), out.rates.ceiling.rate) > 0;
        add(out, Warning::duration_not_met, Severity::caution,
            {Figure(pace_of(c, out).duration), Figure(lasts), highest ? Figure(out.rates.set) : Figure{}});
    }
    if (out.rates.rule == RateRule::raised_to_floor && out.rates.target)
        add(out, Warning::raised_to_limit, Severity::caution, {Figure(*out.rates.target), Figure(out.rates.set)});
    // Not where all of it goes at one rate that is slower still.
    if (c.slow_rule && c.slow_rule->lowered && (c.slow || out.rates.set == c.slow_rule->rate))
        add(out, Warning::slow_stage_lowered, Severity::note,
            {Figure(c.slow_rule->wanted), Figure(c.slow_rule->rate)}, c.slow_rule->basis);
    if (c.slow && c.slow->one_step)
        add(out, Warning::slow_stage_one_step, Severity::caution, {Figure(c.slow->rate)}, c.slow->basis);

    const UsualPace& usual = usual_for(c);
    const bool longer = usual.most && lasts > *usual.most && !c.pace_met && c.state.order.pace == Order::Pace::usual;
    if (fits && usual.most && (longer || (usual.least && lasts < *usual.least)))
        add(out, Warning::duration_unusual, Severity::caution,
            {Figure(lasts), Figure(usual.least.value_or(*usual.most)), Figure(*usual.most)}, usual.basis);
    for (const Window& w : out.windows)
        if (w.kind == LimitKind::change_set && w.binds && *w.latest < out.all_in)
            add(out, Warning::set_changes_during_run, Severity::caution, {Figure(*w.latest)}, w.basis);
    if (!c.state.times.start->happened && c.horizon.reached(out.start + minutes(1)))
        add(out, Warning::start_in_the_past, Severity::caution, {Figure(out.start)});
}

// All in long before the rates allow for it: by more than the device's accuracy, and than the minutes that things take.
void warn_of_early_end(const Context& c, Reckoning& out) {
    const Run& run = c.state.run;
    if (!run.ended || run.stopped) return;
    const Volume moved = run.moved_at(*run.ended);
    if (moved >= c.whole_push) return;
    const Volume short_of = c.whole_push - moved;
    const std::int64_t band = c.whole_push.units / 1000 * c.protocol.reserve.accuracy_tenths_percent;
    const Rate rate = run.rate_in_force();
    const bool long_before = rate <= Rate{} || time_for(short_of, rate) > c.protocol.reserve.minutes;
    if (short_of.units > band && long_before)
        add(out, Warning::ended_before_rates, Severity::caution, {Figure(moved), Figure(c.whole_push)},
            c.protocol.reserve.basis);
}

void warn_of_run(Context& c, Reckoning& out) {
    const Run& run = c.state.run;
    // Also while it stands still: it is the rate at which it would go on.
    const Rate rate = run.paused() ? rate_to_go_on(c.state) : out.in_force;
    if (!out.ended && compare_ratio(exactly(rate), out.rates.ceiling.rate) > 0)
        add(out, Warning::rate_above_ceiling, Severity::stop,
            {Figure(rate), Figure(round_down(out.rates.ceiling.rate, out.rates.step))}, out.rates.ceiling.basis);
    if (run.read_off && run.reckoned) {
        const Volume apart = *run.read_off > *run.reckoned ? *run.read_off - *run.reckoned : *run.reckoned - *run.read_off;
        const std::int64_t band = run.reckoned->units / 1000 * c.protocol.reserve.accuracy_tenths_percent;
        if (apart.units > band && apart >= ml(1))
            add(out, Warning::total_differs, Severity::caution, {Figure(*run.read_off), Figure(*run.reckoned)},
                c.protocol.reserve.basis);
    }
    if (run.total_unsure) add(out, Warning::total_may_hold_priming, Severity::caution);
    Seconds stood{};
    for (std::size_t i = 0; i < run.flows.size(); ++i) {
        if (!run.flows[i].paused) continue;
        Instant until = run.ended ? *run.ended : c.state.run.paused() && i + 1 == run.flows.size() ? out.as_if : run.flows[i].from;
        if (i + 1 < run.flows.size()) until = run.flows[i + 1].from;
        stood = stood + (until - run.flows[i].from);
    }
    if (stood > Seconds{}) add(out, Warning::stood_still, Severity::note, {Figure(stood)});
    if (run.old_set && run.old_set->lost > Volume{})
        add(out, Warning::set_held_component, Severity::note, {Figure(run.old_set->lost)});
    warn_of_early_end(c, out);
    if (!out.ended && !run.paused() && c.horizon.reached(out.all_in + Seconds{1}))
        add(out, Warning::end_overdue, Severity::caution, {Figure(out.all_in)});
    if (!out.ended && !run.paused() && most_unstopped(c.state) > out.volumes.pushed && c.horizon.reached(out.all_in + Seconds{1}))
        add(out, Warning::dose_run_over, Severity::stop, {Figure(out.volumes.wanted), Figure(out.all_in)});
}

}  // namespace

void warn(Context& c, Reckoning& out) {
    if (!c.protocol.adopted) add(out, Warning::protocol_is_example, Severity::note);
    if (out.missing.component) return;
    if (out.planned) warn_of_saline(c, out);
    warn_of_entries(c, out);
    warn_of_assumptions(c, out);
    if (c.state.other_line > Rate{})
        add(out, Warning::shares_ceiling, Severity::caution, {Figure(c.state.other_line)});
    if (out.planned) warn_of_plan(c, out);
    if (out.planned && out.live) warn_of_run(c, out);
}

}  // namespace hangtime::parts
