#include "core/reckon/parts.hpp"

namespace hangtime::parts {

namespace {

// The first that counts; where none does, the last that was taken. Of the baseline the last.
const CheckDone* done_check(const State& state, CheckKind kind, std::int32_t index, Instant counts_from) {
    const CheckDone* found = nullptr;
    for (const CheckDone& done : state.checks_done) {
        if (done.kind != kind || done.index != index) continue;
        const bool settled = found && kind != CheckKind::baseline && found->when.at >= counts_from;
        if (!settled || (done.when.at >= counts_from && done.when.at < found->when.at)) found = &done;
    }
    return found;
}

void add_check(const Context& c, Reckoning& out, CheckKind kind, std::int32_t index, Instant due,
               Instant counts_from, const Basis& basis, const Sum& sum) {
    Check check;
    check.kind = kind;
    check.index = index;
    check.due = due;
    check.counts_from = counts_from;
    check.basis = basis;
    check.sum = sum;
    if (const CheckDone* done = done_check(c.state, kind, index, counts_from)) {
        check.done = done->when.at;
        check.flagged = done->flagged;
    }
    out.checks.add(check);
    // Keep them in the order in which they fall due; they are almost in order already.
    for (std::size_t i = out.checks.size() - 1; i > 0 && out.checks[i].due < out.checks[i - 1].due; --i)
        std::swap(out.checks[i], out.checks[i - 1]);
}

bool due_at(const Reckoning& out, Instant at) {
    for (const Check& check : out.checks)
        if (check.due == at && check.kind != CheckKind::baseline) return true;
    return false;
}

// A check is done only by observations taken when they count; what falls due next closes it.
CheckState state_of(Context& c, const Check& check, const Check* following, bool started) {
    const bool counts = check.done && *check.done >= check.counts_from && c.horizon.reached(*check.done);
    if (counts) {
        const Seconds grace = rules_at(c, *check.done).checks.grace;
        const bool late = check.kind != CheckKind::baseline && *check.done > check.due + grace;
        return late ? CheckState::done_late : CheckState::done;
    }
    const CheckState passed = c.state.charting ? CheckState::missed : CheckState::not_recorded;
    if (check.kind == CheckKind::baseline) {
        if (started && c.horizon.reached(check.due)) return passed;
        return c.horizon.reached(check.counts_from) ? CheckState::due : CheckState::to_come;
    }
    // Before the start is known to have happened nothing falls due.
    if (!started) return CheckState::to_come;
    if (following && c.horizon.reached(following->due)) return passed;
    return c.horizon.reached(check.due) ? CheckState::due : CheckState::to_come;
}

}  // namespace

bool early_check_in(const State& state, std::size_t index, Instant counts_from) {
    for (const CheckDone& done : state.checks_done)
        if (done.kind == CheckKind::early && done.index == static_cast<std::int32_t>(index) && !done.flagged &&
            done.when.at >= counts_from)
            return true;
    return false;
}

bool holds_up_rate(const Context& c, const Check& check) {
    return check.kind == CheckKind::early && c.state.charting &&
           (check.state == CheckState::due || check.state == CheckState::missed || (check.done && check.flagged));
}

namespace {

// How long before it is due a set of observations counts for an interval check, or one after the end: as long as it
// may be late without being called late, the same both ways, but never more than half of the interval; half of it
// where no such time is set (common practice, no source). What was taken earlier stays noted and closes nothing.
Seconds counts_before(const Context& c, Instant due, Seconds every) {
    const Seconds grace = rules_at(c, due).checks.grace, half{every.count / 2};
    return grace > Seconds{} && grace < half ? grace : half;
}

// Counted from the start, so that a late check moves none of those after it. Where the interval changed while it
// ran, each one holds for its own stretch.
void list_intervals(Context& c, Reckoning& out) {
    const auto& past = c.state.past_intervals;
    const Given<Seconds>* last = interval_for(c.protocol, c.state.recipient);
    Instant from = out.start;
    for (std::size_t i = 0; i <= past.size(); ++i) {
        if (i == past.size() && !last) return;
        const Seconds every = i < past.size() ? past[i].every : last->value;
        const Basis basis = i < past.size() ? past[i].basis : last->basis;
        const Instant until = i < past.size() && past[i].until < out.all_in ? past[i].until : out.all_in;
        std::int32_t index = static_cast<std::int32_t>(i) * interval_numbers;
        for (Seconds after = every;; after = after + every) {
            const Instant due = out.start + after;
            if (due >= until || out.all_in - due < c.protocol.checks.merge_into_end) break;
            if (due < from) continue;
            const std::int32_t number = index++;
            if (due_at(out, due)) continue;
            if (out.checks.size() + 8 >= most_checks) break;  // room for the end and what comes after it
            add_check(c, out, CheckKind::interval, number, due, due - counts_before(c, due, every), basis,
                      sum_of(SumKind::after, out.start, after, due));
        }
        from = until;
    }
}

}  // namespace

void list_checks(Context& c, Reckoning& out) {
    const CheckRules& rules = c.protocol.checks;
    const Instant start = out.start;
    const Instant end = out.all_in;

    add_check(c, out, CheckKind::baseline, 0, start, start - rules.baseline_within.value,
              rules.baseline_within.basis,
              sum_of(SumKind::before, start, rules.baseline_within.value, start - rules.baseline_within.value));
    if (rules.at_start.value)
        add_check(c, out, CheckKind::start, 0, start, start, rules.at_start.basis,
                  sum_of(SumKind::as_stated, start));

    const bool vein = c.protocol.slow_counts_from.value == SlowFrom::vein;
    const Instant first = vein ? out.first_component : start;
    for (std::size_t i = 0; i < rules.early.size(); ++i) {
        const CheckRules::Early& early = rules.early[i];
        const Instant due = first + early.after;
        if (due >= end) continue;
        add_check(c, out, CheckKind::early, static_cast<std::int32_t>(i), due, first + early.counts_from,
                  early.basis, sum_of(SumKind::after, first, early.after, due));
    }

    list_intervals(c, out);

    if (rules.at_end.value)
        add_check(c, out, CheckKind::end, 0, end, end, rules.at_end.basis, out.all_in_sum);
    for (std::size_t i = 0; i < rules.after.size(); ++i) {
        const Instant due = end + rules.after[i].value;
        add_check(c, out, CheckKind::after, static_cast<std::int32_t>(i), due, due - counts_before(c, due, rules.after[i].value),
                  rules.after[i].basis, sum_of(SumKind::after, end, rules.after[i].value, due));
    }

    const bool started = c.state.times.start->happened;
    for (std::size_t i = 0; i < out.checks.size(); ++i) {
        const Check* following = i + 1 < out.checks.size() ? &out.checks[i + 1] : nullptr;
        out.checks[i].state = state_of(c, out.checks[i], following, started);
    }
}

}  // namespace hangtime::parts
