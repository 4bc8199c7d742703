#include "core/reckon/parts.hpp"

namespace hangtime::parts {

namespace {

// Steps in the order of their times; at the same time in the order of adding. What is past is left out, unless it
// is still to be done.
void add_step(Reckoning& out, Context& c, const Step& step, bool still_open = false) {
    if (!still_open && c.horizon.reached(step.at + Seconds{1})) return;
    if (!out.next.add(step)) {
        // The list is full of earlier steps, or this one takes the place of the last.
        if (out.next.back().at <= step.at) return;
        out.next.back() = step;
    }
    for (std::size_t i = out.next.size() - 1; i > 0 && out.next[i].at < out.next[i - 1].at; --i)
        std::swap(out.next[i], out.next[i - 1]);
}

bool settled(CheckState state) {
    return state == CheckState::done || state == CheckState::done_late || state == CheckState::not_needed;
}

void add_checks(Reckoning& out, Context& c, bool before_rate_change) {
    for (std::size_t i = 0; i < out.checks.size(); ++i) {
        const Check& check = out.checks[i];
        const bool first = check.kind == CheckKind::baseline || check.kind == CheckKind::early;
        if (first != before_rate_change || settled(check.state)) continue;
        const bool open = check.state == CheckState::due || holds_up_rate(c, check);
        add_step(out, c, {StepKind::check, check.due, {}, static_cast<std::int32_t>(i)}, open);
    }
}

// Since when the rate should be raised: not the minute that the rest is reckoned from, which moves on.
Instant raise_due(const Context& c, const Reckoning& out, Instant reckoned) {
    const bool overdue = out.drifts && !c.state.run.paused() && c.slow;
    return overdue && out.start + c.slow->lasts < reckoned ? out.start + c.slow->lasts : reckoned;
}

// While it runs: what is on the way to the end, whatever the clock says about when it should have been.
void list_run(Context& c, Reckoning& out) {
    if (out.ended || out.held) return;
    if (c.state.run.paused())
        add_step(out, c, {StepKind::resume, out.as_if, rate_to_go_on(c.state), -1}, true);
    const std::size_t n = out.stages.size();
    if (n > 1 && out.stages[n - 1].kind == StageKind::main && out.stages[n - 2].kind == StageKind::slow &&
        !c.state.run.rate_was_set && !c.state.no_faster && !early_check_flagged(c))
        add_step(out, c, {StepKind::raise_rate, raise_due(c, out, out.stages[n - 1].from), out.stages[n - 1].rate, -1}, true);
    if (!c.state.run.bag_empty && out.bag_empty && *out.bag_empty < out.all_in)
        add_step(out, c, {StepKind::bag_empty, *out.bag_empty, {}, -1}, true);
    if (out.bag_empty && *out.bag_empty < out.all_in && !c.state.run.cleared)
        add_step(out, c, {StepKind::clear_line, *out.bag_empty, {}, -1}, true);
    add_step(out, c, {StepKind::all_in, out.all_in, {}, -1}, true);
}

}  // namespace

void list_next(Context& c, Reckoning& out) {
    // What does not fit is not to be started: then the options come first, and there is nothing to do next.
    const bool running = c.state.times.start->happened;
    if (out.judgement.verdict == Verdict::does_not_fit && !running) return;

    add_checks(out, c, true);  // the rate goes up only after the early check is in
    if (out.live) {
        list_run(c, out);
        add_checks(out, c, false);
        return;
    }
    bool held_up = false;
    for (const Check& check : out.checks) held_up = held_up || holds_up_rate(c, check);
    for (std::size_t i = 0; i < out.stages.size(); ++i) {
        const Stage& stage = out.stages[i];
        add_step(out, c, {i == 0 ? StepKind::start : StepKind::raise_rate, stage.from, stage.rate, -1},
                 i > 0 && held_up);
    }
    if (out.bag_empty && *out.bag_empty < out.all_in) add_step(out, c, {StepKind::clear_line, *out.bag_empty, {}, -1});
    add_step(out, c, {StepKind::all_in, out.all_in, {}, -1});
    add_checks(out, c, false);
}

}  // namespace hangtime::parts
