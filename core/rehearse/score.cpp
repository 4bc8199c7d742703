#include "core/rehearse/score.hpp"

#include <algorithm>

namespace hangtime {

namespace {

// What the device moved in one unit until `at`, by its rates; nothing moves after its end.
Volume moved_until(const Session& s, Instant at) {
    const Run& run = s.state.run;
    if (run.flows.empty() || at < run.flows.front().from) return {};
    return run.moved_at(run.ended ? std::min(at, *run.ended) : at);
}

class Scorer {
public:
    Scorer(const Rehearsal& r) : r_(r), s_(r.scenario()), order_(in_order(r.log())), live_(std::make_unique<Live>()) {
        out_.ends = units_of(r.log(), r.now());
    }

    Outcome score() {
        for (std::size_t i = 0; i < s_.scored.size(); ++i) {
            Part part;
            part.scored = i;
            judge(s_.scored[i], part);
            out_.most += s_.scored[i].points;
            if (part.met) out_.points += s_.scored[i].points;
            out_.parts.push_back(part);
        }
        for (const UnitEnd& unit : out_.ends) out_.units.push_back(cost_of(unit));
        find_unanswered();
        return std::move(out_);
    }

private:
    void judge(const Scored& s, Part& part) {
        switch (s.kind) {
        case ScoreKind::check_on_time: return check(s, part);
        case ScoreKind::window_kept: return window(s, part);
        case ScoreKind::done_within: return done(s, part);
        case ScoreKind::never_done: return never(s, part);
        case ScoreKind::done_before: return before(s, part);
        case ScoreKind::rate_not_raised: return rate(s, part);
        case ScoreKind::given_at_most:
        case ScoreKind::given_at_least: return given(s, part);
        case ScoreKind::difference_found: return difference(s, part);
        case ScoreKind::not_tried: return tried(s, part);
        }
    }

    const UnitEnd* unit(std::int32_t n) const {
        const auto i = static_cast<std::size_t>(n - 1);
        return i < out_.ends.size() ? &out_.ends[i] : nullptr;
    }

    const Reckoning& reckoned(const UnitEnd& unit) {
        reckon_live(unit.session, unit.until, *live_);
        return live_->reckoning;
    }

    void check(const Scored& s, Part& part) {
        const UnitEnd* u = unit(s.unit);
        part.came_to_it = false;
        if (!u || !u->session.state.times.start || !u->session.state.times.start->happened) return;
        for (const Check& c : reckoned(*u).checks) {
            if (c.kind != s.check || c.index != s.index) continue;
            part.came_to_it = true;
            part.due = c.due;
            part.done = c.done;
            part.met = c.state == CheckState::done;
            part.protocol_basis = c.basis;
        }
    }

    void window(const Scored& s, Part& part) {
        const UnitEnd* u = unit(s.unit);
        part.came_to_it = false;
        if (!u) return;
        for (const Window& w : reckoned(*u).windows) {
            if (w.kind != s.limit || !w.binds || !w.latest) continue;
            part.came_to_it = true;
            part.due = w.latest;
            part.met = w.state == WindowState::met;
            part.protocol_basis = w.basis;
            const Times& t = u->session.state.times;
            if (s.limit == LimitKind::finish || s.limit == LimitKind::change_set) part.done = u->session.state.run.ended;
            else if (s.limit != LimitKind::start && t.spiked) part.done = t.spiked->at;
            else if (t.start && t.start->happened) part.done = t.start->when.at;
        }
    }

    std::optional<Instant> moment(const Since& since) const {
        if (!since.happening.empty()) {
            for (const Told& told : r_.told())
                if (told.happening < s_.happenings.size() && s_.happenings[told.happening].id == since.happening)
                    return told.at;
            return std::nullopt;
        }
        if (!since.record) return s_.begins;
        std::int32_t left = since.nth;
        for (const Event* e : order_)
            if (since.record->matches(*e) && --left == 0) return e->at.at;
        return std::nullopt;
    }

    bool by_learner(const Event& e) const {
        for (const Told& told : r_.told())
            if (told.record == e.number) return false;
        return true;
    }

    // The first record of the learner's at or after a moment.
    std::optional<Instant> first(const Filter& filter, Instant from) const {
        for (const Event* e : order_)
            if (e->at.at >= from && filter.matches(*e) && by_learner(*e)) return e->at.at;
        return std::nullopt;
    }

    Volume ran(Instant from, Instant to) const {
        Volume all;
        for (const UnitEnd& u : out_.ends)
            if (to > from) all = all + (moved_until(u.session, to) - moved_until(u.session, from));
        return all;
    }

    void done(const Scored& s, Part& part) {
        const auto since = moment(s.since);
        part.came_to_it = since.has_value();
        if (!since) return;
        part.done = first(s.done, *since);
        if (s.within) part.due = *since + *s.within;
        part.met = part.done && (!part.due || *part.done <= *part.due);
        part.volume = ran(*since, part.done ? *part.done : r_.now());
    }

    void never(const Scored& s, Part& part) {
        const auto since = moment(s.since);
        part.came_to_it = since.has_value();
        if (!since) return;
        part.done = first(s.done, *since);
        part.met = !part.done;
    }

    void before(const Scored& s, Part& part) {
        part.done = first(s.done, {});
        part.due = first(*s.then, {});
        // At the same moment the order of the log decides, and a correction stands where it was made.
        part.met = part.done && (!part.due || *part.done <= *part.due);
    }

    void rate(const Scored& s, Part& part) {
        const auto since = moment(s.since);
        part.came_to_it = since.has_value();
        if (!since) return;
        Rate at_first, after;
        for (const UnitEnd& u : out_.ends)
            for (const Flow& flow : u.session.state.run.flows) {
                if (flow.from < *since) {
                    if (flow.rate > Rate{}) at_first = flow.rate;
                } else if (flow.rate > after) {
                    after = flow.rate;
                }
            }
        part.rate = after > at_first ? after : at_first;
        part.met = after <= at_first;
    }

    void given(const Scored& s, Part& part) {
        Volume all;
        for (const UnitEnd& u : out_.ends) all = all + given_of(u.session.state, moved_until(u.session, u.until));
        part.volume = all;
        part.met = s.kind == ScoreKind::given_at_most ? all <= s.volume : all >= s.volume;
    }

    void difference(const Scored& s, Part& part) {
        for (const UnitEnd& u : out_.ends) {
            const MatchState& match = u.session.match;
            part.hung = part.hung || u.session.state.times.spiked.has_value();
            if (!match.differed_step) continue;
            const MatchScript script = script_of(u.session);
            const MatchStep& step = script[*match.differed_step];
            if (step.kind != MatchStepKind::compare || step.field != s.field) continue;
            part.met = true;
            part.done = match.last;
        }
    }

    void tried(const Scored& s, Part& part) {
        part.met = true;
        for (const Tried& tried : r_.tried()) {
            if (tried.refusal != s.refusal || !part.met) continue;
            part.met = false;
            part.done = tried.event.at.at;
        }
    }

    UnitCost cost_of(const UnitEnd& u) {
        const State& state = u.session.state;
        const Reckoning& r = reckoned(u);
        UnitCost out;
        out.component = state.unit.component.value_or(Component::red_cells);
        out.bag = state.unit.bag.value_or(Volume{});
        out.given = std::min(out.bag, given_of(state, moved_until(u.session, u.until)));
        if (state.times.issued) out.issued = state.times.issued->at;
        if (state.times.start && state.times.start->happened) out.started = state.times.start->when.at;
        out.ended = state.run.ended;
        out.stopped = state.run.stopped;
        out.limit = r.finish_by;
        const bool in_stock = u.session.disposal && u.session.disposal->how == EventKind::returned &&
                              u.session.disposal->to == ReturnTo::stock;
        const bool over = state.run.ended || u.session.disposal;
        if (over && !in_stock && out.bag > out.given) out.wasted = out.bag - out.given;
        if (out.started && out.limit) {
            const Instant until = out.ended.value_or(u.until);
            if (until > *out.limit) out.over_limit = until - *out.limit;
        }
        const auto& flows = state.run.flows;
        for (std::size_t i = 0; i < flows.size(); ++i) {
            if (!flows[i].paused) continue;
            const Instant until = i + 1 < flows.size() ? flows[i + 1].from : out.ended.value_or(u.until);
            out.stood_still = out.stood_still + (until - flows[i].from);
        }
        if (out.started)
            for (const Check& c : r.checks) {
                if (c.kind == CheckKind::baseline) continue;
                if (c.state != CheckState::done && c.state != CheckState::done_late && c.state != CheckState::missed)
                    continue;
                ++out.checks;
                out.late += c.state == CheckState::done_late ? 1 : 0;
                out.missed += c.state == CheckState::missed ? 1 : 0;
            }
        return out;
    }

    static bool asks_for_a_stop(WorldKind kind) {
        return kind == WorldKind::pump_stops || kind == WorldKind::line_fails || kind == WorldKind::complaint ||
               kind == WorldKind::signs_change || kind == WorldKind::refusal;
    }

    void find_unanswered() {
        for (std::size_t i = 0; i < r_.told().size(); ++i) {
            const Told& told = r_.told()[i];
            if (told.happening >= s_.happenings.size() || !asks_for_a_stop(s_.happenings[told.happening].kind)) continue;
            const UnitEnd* running = nullptr;
            for (const UnitEnd& u : out_.ends) {
                const State& state = u.session.state;
                const bool runs = state.times.start && state.times.start->happened &&
                                  state.times.start->when.at <= told.at && (!state.run.ended || *state.run.ended > told.at);
                if (runs) running = &u;
            }
            if (!running) continue;
            Unanswered out;
            out.told = i;
            // From the first moment at or after it at which the flow stands.
            const Run& run = running->session.state.run;
            for (std::size_t k = 0; k < run.flows.size() && !out.answered; ++k) {
                const Instant until = k + 1 < run.flows.size() ? run.flows[k + 1].from : running->until;
                if (run.flows[k].paused && until >= told.at) out.answered = std::max(run.flows[k].from, told.at);
            }
            if (run.ended && (!out.answered || *run.ended < *out.answered)) out.answered = run.ended;
            const Instant until = out.answered.value_or(running->until);
            out.span = until - told.at;
            out.ran = ran(told.at, until);
            out_.unanswered.push_back(out);
        }
    }

    const Rehearsal& r_;
    const Scenario& s_;
    std::vector<const Event*> order_;
    std::unique_ptr<Live> live_;
    Outcome out_;
};

}  // namespace

Outcome outcome_of(const Rehearsal& rehearsal) { return Scorer(rehearsal).score(); }

}  // namespace hangtime
