#include "core/rehearse/review.hpp"

#include "core/reckon/live.hpp"
#include "core/rehearse/units.hpp"
#include "core/session/record.hpp"

#include <algorithm>

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
    const Instant issued = state.times.issued->at;
    if (state.times.spiked) g.spread(Spread::until_hung).add(Spread::until_hung, state.times.spiked->at - issued);
    else ++g.spread(Spread::until_hung).none;
    const bool all_in = state.run.ended && !state.run.stopped;
    if (all_in) g.spread(Spread::until_in).add(Spread::until_in, *state.run.ended - issued);
    else ++g.spread(Spread::until_in).none;
}

void count_checks(ReviewGroup& g, const Reckoning& r) {
    for (const Check& c : r.checks) {
        const bool done = c.state == CheckState::done || c.state == CheckState::done_late;
        if (c.kind == CheckKind::baseline || (!done && c.state != CheckState::missed)) continue;
        count(g, Measure::checks_done, done);
        if (c.kind != CheckKind::early) continue;
        count(g, Measure::early_on_time, c.state == CheckState::done);
        if (done) g.spread(Spread::early_after_due).add(Spread::early_after_due, *c.done - c.due);
        else ++g.spread(Spread::early_after_due).none;
    }
}

// Why it stood still from a moment on: what the record of that moment says. A suspected reaction is one of symptoms.
PauseReason pause_reason_at(const Log& log, Instant at) {
    for (const Event& e : log.events())
        if (e.kind == EventKind::paused && e.at.at == at && !log.is_void(e.number)) return facts_of<facts::Paused>(e).reason;
    return PauseReason::symptoms;
}

void count_pauses(ReviewGroup& g, const Log& log, const State& state, Instant until) {
    const auto& flows = state.run.flows;
    bool stood = false;
    for (std::size_t i = 0; i < flows.size(); ++i) {
        if (!flows[i].paused) continue;
        stood = true;
        const bool begins = i == 0 || !flows[i - 1].paused;  // a total that is read in a pause begins no other one
        if (!begins) continue;
        std::size_t last = i;
        while (last + 1 < flows.size() && flows[last + 1].paused) ++last;
        const Instant end = last + 1 < flows.size() ? flows[last + 1].from : state.run.ended.value_or(until);
        const Seconds span = end - flows[i].from;
        ++g.pauses;
        g.spread(Spread::pause).add(Spread::pause, span);
        ByReason& why = g.paused_for[static_cast<std::size_t>(pause_reason_at(log, flows[i].from))];
        ++why.times;
        why.span = why.span + span;
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
    const Seconds span = s.disposal->at - s.state.times.issued->at;
    ByReason& why = g.gone_for[static_cast<std::size_t>(s.disposal->reason)];
    ++why.times;
    why.span = why.span + span;
    g.spread(Spread::until_gone).add(Spread::until_gone, span);
}

}  // namespace

const std::array<std::int32_t, spread_bins - 1>& edges_of(Spread spread) {
    static constexpr std::array<std::array<std::int32_t, spread_bins - 1>, spread_count> edges = {{
        {10, 20, 30, 40, 50, 60, 120},
        {60, 90, 120, 150, 180, 210, 240},
        {0, 5, 10, 15, 20, 30, 60},
        {2, 5, 10, 20, 30, 60, 120},
        {10, 20, 30, 60, 120, 240, 360},
    }};
    return edges[static_cast<std::size_t>(spread)];
}

void Distribution::add(Spread spread, Seconds span) {
    const auto& edges = edges_of(spread);
    std::size_t bin = 0;
    while (bin < edges.size() && span.count >= 60 * std::int64_t{edges[bin]}) ++bin;
    ++bins[bin];
    all = all + span;
}

void Distribution::add(const Distribution& other) {
    for (std::size_t i = 0; i < bins.size(); ++i) bins[i] += other.bins[i];
    none += other.none;
    all = all + other.all;
}

std::int32_t Distribution::counted() const {
    std::int32_t n = 0;
    for (const std::int32_t bin : bins) n += bin;
    return n;
}

void ReviewGroup::add(const ReviewGroup& o) {
    units += o.units;
    for (std::size_t i = 0; i < measures.size(); ++i) {
        measures[i].yes += o.measures[i].yes;
        measures[i].of += o.measures[i].of;
    }
    for (std::size_t i = 0; i < spreads.size(); ++i) spreads[i].add(o.spreads[i]);
    pauses += o.pauses;
    returned += o.returned;
    discarded += o.discarded;
    const auto sum = [](auto& to, const auto& from) {
        for (std::size_t i = 0; i < to.size(); ++i) {
            to[i].times += from[i].times;
            to[i].span = to[i].span + from[i].span;
        }
    };
    sum(paused_for, o.paused_for);
    sum(gone_for, o.gone_for);
}

Review::Review() : live_(std::make_unique<Live>()) {}
Review::~Review() = default;
Review::Review(Review&&) noexcept = default;
Review& Review::operator=(Review&&) noexcept = default;

bool Review::add(const Log& log) {
    if (log.session().rehearsal) return false;
    ++sessions_;
    for_each_unit(log, log.events().back().noted, [&](const Session& s, Instant until) {
        const State& state = s.state;
        if (!state.times.issued || !state.unit.component) return;
        ReviewGroup g;
        g.protocol = s.protocol->id;
        g.component = *state.unit.component;
        g.units = 1;
        reckon_live(s, until, *live_);
        count_limits(g, state, live_->reckoning);
        if (state.times.start && state.times.start->happened) {
            count_checks(g, live_->reckoning);
            count_pauses(g, log, state, until);
        }
        count_end(g, s);
        const auto before = [](const ReviewGroup& a, const ReviewGroup& b) {
            return a.protocol != b.protocol ? a.protocol < b.protocol : a.component < b.component;
        };
        const auto at = std::lower_bound(groups_.begin(), groups_.end(), g, before);
        if (at != groups_.end() && at->protocol == g.protocol && at->component == g.component) at->add(g);
        else groups_.insert(at, g);
    });
    return true;
}

std::optional<Error> Review::add_file(std::string_view text) {
    const Result<LogRead> read = read_log(text, &protocols_);
    if (!read.ok()) return read.error();
    if (!read.value().damaged.empty()) return read.value().damaged[0].error;
    if (!add(read.value().log)) return Error{"line 1", "is a rehearsal", "the log of a real session"};
    return std::nullopt;
}

}  // namespace hangtime
