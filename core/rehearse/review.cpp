#include "core/rehearse/review.hpp"

#include "core/reckon/live.hpp"
#include "core/rehearse/units.hpp"

#include <algorithm>
#include <memory>

namespace hangtime {

namespace {

void count(ReviewGroup& g, Measure measure, bool yes) {
    Tally& tally = g.measures[static_cast<std::size_t>(measure)];
    ++tally.of;
    tally.yes += yes ? 1 : 0;
}

void count_limits(ReviewGroup& g, const State& state, const Reckoning& r) {
    for (const Window& w : r.windows) {
        if (!w.binds || !w.latest) continue;
        if (w.kind == LimitKind::hang && state.times.spiked)
            count(g, Measure::hung_in_time, state.times.spiked->at <= *w.latest);
        if (w.kind == LimitKind::finish && state.run.ended && !state.run.stopped)
            count(g, Measure::finished_in_time, *state.run.ended <= *w.latest);
    }
}

void count_checks(ReviewGroup& g, const Reckoning& r) {
    for (const Check& c : r.checks) {
        const bool done = c.state == CheckState::done || c.state == CheckState::done_late;
        if (c.kind == CheckKind::baseline || (!done && c.state != CheckState::missed)) continue;
        count(g, Measure::checks_done, done);
        if (c.kind == CheckKind::early) count(g, Measure::early_on_time, c.state == CheckState::done);
    }
}

void count_pauses(ReviewGroup& g, const State& state, Instant until) {
    const auto& flows = state.run.flows;
    bool stood = false;
    for (std::size_t i = 0; i < flows.size(); ++i) {
        if (!flows[i].paused) continue;
        const bool begins = i == 0 || !flows[i - 1].paused;  // a total that is read in a pause begins no other one
        g.pauses += begins ? 1 : 0;
        stood = true;
        const Instant end = i + 1 < flows.size() ? flows[i + 1].from : state.run.ended.value_or(until);
        g.paused = g.paused + (end - flows[i].from);
    }
    count(g, Measure::run_unpaused, !stood);
}

void count_end(ReviewGroup& g, const Session& s) {
    const bool ended = s.state.run.ended.has_value();
    if (!s.disposal && !ended) return;
    const bool in_stock = s.disposal && s.disposal->how == EventKind::returned && s.disposal->to == ReturnTo::stock;
    count(g, Measure::not_wasted, in_stock || (ended && !s.state.run.stopped));
    if (!s.disposal || s.disposal->how == EventKind::bag_kept) return;
    (s.disposal->how == EventKind::returned ? g.returned : g.discarded) += 1;
    ++g.reasons[static_cast<std::size_t>(s.disposal->reason)];
    if (s.state.times.issued) g.until_gone = g.until_gone + (s.disposal->at - s.state.times.issued->at);
}

}  // namespace

void ReviewGroup::add(const ReviewGroup& o) {
    units += o.units;
    for (std::size_t i = 0; i < measures.size(); ++i) {
        measures[i].yes += o.measures[i].yes;
        measures[i].of += o.measures[i].of;
    }
    pauses += o.pauses;
    returned += o.returned;
    discarded += o.discarded;
    paused = paused + o.paused;
    until_gone = until_gone + o.until_gone;
    for (std::size_t i = 0; i < reasons.size(); ++i) reasons[i] += o.reasons[i];
}

bool Review::add(const Log& log) {
    if (log.session().rehearsal) return false;
    ++sessions_;
    const auto live = std::make_unique<Live>();
    for (const UnitEnd& unit : units_of(log, log.events().back().noted)) {
        const Session& s = unit.session;
        const State& state = s.state;
        if (!state.times.issued || !state.unit.component) continue;
        ReviewGroup g;
        g.protocol = s.protocol->id;
        g.component = *state.unit.component;
        g.units = 1;
        reckon_live(s, unit.until, *live);
        count_limits(g, state, live->reckoning);
        if (state.times.start && state.times.start->happened) {
            count_checks(g, live->reckoning);
            count_pauses(g, state, unit.until);
        }
        count_end(g, s);
        const auto before = [](const ReviewGroup& a, const ReviewGroup& b) {
            return a.protocol != b.protocol ? a.protocol < b.protocol : a.component < b.component;
        };
        const auto at = std::lower_bound(groups_.begin(), groups_.end(), g, before);
        if (at != groups_.end() && at->protocol == g.protocol && at->component == g.component) at->add(g);
        else groups_.insert(at, g);
    }
    return true;
}

}  // namespace hangtime
