#include "core/reckon/live.hpp"

#include "core/reckon/parts.hpp"

#include <memory>

namespace hangtime {

namespace {

void earliest(std::optional<Instant>& into, std::optional<Instant> at, Instant now) {
    if (at && *at > now && (!into || *at < *into)) into = at;
}

std::optional<Instant> good_until(const Session& s, Item item) {
    switch (item) {
    case Item::sample:
        if (s.sample_drawn && s.protocol->session) return *s.sample_drawn + s.protocol->session->sample_valid.value;
        break;
    case Item::baseline:
        if (s.next_baseline) return s.next_baseline->when.at + s.protocol->checks.baseline_within.value;
        for (const CheckDone& done : s.state.checks_done)
            if (done.kind == CheckKind::baseline && done.index == 0) return done.when.at + s.protocol->checks.baseline_within.value;
        break;
    case Item::match:
        if (s.protocol->match) return good_until(s.match, *s.protocol->match);
        break;
    case Item::in_date:
        if (s.state.unit.expires) return s.state.unit.expires->at - Seconds{1};
        break;
    case Item::authorisation:
    case Item::consent:
    case Item::overload_risk:
    case Item::can_report:
    case Item::premedication:
    case Item::access:
    case Item::set_and_saline:
    case Item::second_checker:
    case Item::plan_fits:
    case Item::report_explained:
    case Item::bag_looked_at:
    case Item::only_saline:
    case Item::warmer_considered:
    case Item::line_connected:
    case Item::groups:
    case Item::rate_read_back: break;
    }
    return std::nullopt;
}

// Whether it is to be noted before this bag hangs, and is not.
bool groups_open(const Session& s) { return groups_needed(s) && !s.state.times.spiked && !(s.groups && s.groups->settled()); }

// Once a unit is closed the plan that counts is the one for the next.
bool next_fits(const Session& s, Instant now) {
    const Session next = with_next_unit(s);
    Assumed assumed;
    const State state = assumed_state(next, now, assumed);
    const auto r = std::make_unique<Reckoning>();
    reckon(*next.protocol, state, now, *r);
    return r->planned && r->judgement.verdict != Verdict::does_not_fit;
}

ItemState standing(const Session& s, const Live& live, Item item, Instant now) {
    ItemState state = state_of(s, item, now);
    if (state != ItemState::confirmed) return state;
    if (item == Item::groups && groups_open(s)) return ItemState::open;
    if (item == Item::plan_fits) {
        if (s.phase == Phase::closed) return next_fits(s, now) ? ItemState::confirmed : ItemState::open;
        const Reckoning& r = live.reckoning;
        return r.planned && r.judgement.verdict != Verdict::does_not_fit ? ItemState::confirmed : ItemState::open;
    }
    if (item == Item::rate_read_back) return s.phase >= Phase::running ? ItemState::confirmed : ItemState::open;
    return state;
}

void list_ready(const Session& s, Live& out, Instant now) {
    for (int i = 0; i < item_count; ++i) {
        const Item item = static_cast<Item>(i);
        if (item == Item::groups && !s.groups && !groups_open(s)) continue;  // nobody asked, and it hangs
        ReadyItem ready{item, standing(s, out, item, now), before_call(item), good_until(s, item)};
        out.ready.add(ready);
        const bool open = ready.state == ItemState::open || ready.state == ItemState::failed;
        if (open && ready.before_call && !out.open_before_call) out.open_before_call = item;
        // The rate is read back by the start itself, and a plan that does not fit is said by the verdict.
        const bool asked = item != Item::rate_read_back && item != Item::plan_fits;
        if (open && asked && !out.open_before_start) out.open_before_start = item;
        // A bag that hangs was matched; what was waived or not needed does not get old.
        const bool ages = ready.state == ItemState::confirmed && !(item == Item::match && s.state.times.spiked);
        if (ready.good_until && ages) earliest(out.next_change, *ready.good_until + Seconds{1}, now);
    }
}

// The last set that was taken since the start, and in which something was compared, if it says: hold and ask.
const ObservedSet* set_that_stops(const Session& s) {
    if (!s.state.times.start || !s.baseline) return nullptr;
    for (std::size_t i = s.sets.size(); i-- > 0;) {
        const ObservedSet& set = s.sets[i];
        if (set.when.at < s.state.times.start->when.at || (set.kind == CheckKind::baseline && !set.extra)) continue;
        const std::optional<Change> change = change_of(s, set);
        if (!change || (change->prompts.empty() && change->missing.size() >= sign_count - 1)) continue;
        return asks_to_hold(s, set) ? &set : nullptr;
    }
    return nullptr;
}

// What the observations and what was decided on them leave open.
struct Hold {
    bool flagged = false;  // the last set says: hold and ask
    bool asked = false;    // and nobody has set a rate or gone on since
    bool held = false;     // it stands still, and whether it goes on is somebody's decision
};

Hold hold_of(const Session& s) {
    Hold hold;
    const ObservedSet* set = set_that_stops(s);
    hold.flagged = set != nullptr;
    if (set && !s.reaction && !s.state.run.flows.empty()) {
        const Flow& last = s.state.run.flows.back();
        hold.asked = last.paused || last.from <= set->when.at;
    }
    const bool decided_elsewhere = s.reaction || s.refused || s.pause_reason == PauseReason::symptoms;
    hold.held = s.state.run.paused() && (decided_elsewhere || hold.asked);
    return hold;
}

// The early checks and the fixed ceilings, while an entry is missing and nothing can be reckoned.
std::optional<Refusal> refuses_unplanned(const Session& s, const facts::RateSet& f, bool raised) {
    if (raised && !f.waived_by && s.state.times.start) {
        const auto& early = s.protocol->checks.early;
        for (std::size_t i = 0; i < early.size(); ++i)
            if (!parts::early_check_in(s.state, i, s.state.times.start->when.at + early[i].counts_from))
                return Refusal::early_check_open;
    }
    bool above = s.state.slowed_to && f.rate > *s.state.slowed_to;
    if (s.state.order.most) above = above || f.rate > *s.state.order.most;
    if (s.state.unit.component)
        if (const auto& most = s.protocol->rules(*s.state.unit.component).most) above = above || f.rate > most->value;
    return above ? std::optional(Refusal::rate_above_ceiling) : std::nullopt;
}

class Doings {
public:
    Doings(const Session& s, Live& live, const Hold& hold, Instant now)
        : s_(s), out_(live), r_(live.reckoning), hold_(hold), now_(now) {}

    void list() {
        switch (s_.phase) {
        case Phase::preparing: preparing(); break;
        case Phase::called: add(Doing::wait_for_unit, now_); break;
        case Phase::here:
        case Phase::hung: before_start(); break;
        case Phase::running:
        case Phase::paused: running(); break;
        case Phase::ended: ended(); break;
        case Phase::closed: closed(); break;
        }
        react();
        if (out_.to_do.empty()) add(Doing::finished, now_);
    }

private:
    void add(Doing what, Instant at, std::int32_t check = -1, Rate rate = {}, std::optional<Instant> latest = {}) {
        out_.to_do.add({what, at, at <= now_, check, rate, latest});
    }

    // Before everything else, until each action of the list is ticked: also after the end.
    void react() {
        if (!s_.reaction) return;
        const ReactionRules& rules = s_.protocol->reaction;
        const ActionList list = action_list(rules, s_.actions);
        bool open = false;
        for (const ActionLine& line : list) open = open || !line.at;
        if (s_.phase == Phase::paused) add(Doing::observe, *observations_due(s_));
        if (open) add(Doing::react, *s_.reaction);
        sort();
        for (std::size_t i = out_.to_do.size(); open && i-- > 1;)
            if (out_.to_do[i].what == Doing::react) std::swap(out_.to_do[i], out_.to_do[i - 1]);
    }

    void preparing() {
        if (s_.refused) {
            if (out_.uncharted > 0) add(Doing::chart, now_);
            return;
        }
        if (!s_.ordered) add(Doing::enter_order, now_);
        else if (out_.open_before_call) add(Doing::get_ready, now_);
        else add(Doing::call, now_);
    }

    void before_start() {
        const bool closed = s_.match.standing == MatchStanding::differed || s_.refused;
        if (closed) {
            add(Doing::dispose, now_);
            return;
        }
        const auto hang_by = r_.start_by;
        const bool hung = s_.state.times.spiked.has_value();
        for (const Window& w : r_.windows)
            if (w.kind == LimitKind::decide && w.latest && !hung && now_ > *w.latest)
                add(Doing::decide, now_, -1, {}, out_.back_to_stock_until);
        // What does not fit is not begun, unless somebody has decided so: the options come first.
        const bool decided = s_.item(Item::plan_fits).state == ItemState::waived;
        if (r_.planned && r_.judgement.verdict == Verdict::does_not_fit && !decided) {
            add(Doing::ask_about_limit, now_);
            return;
        }
        // Groups first, with the label in hand: a match goes stale in minutes.
        if (groups_open(s_)) add(Doing::settle_groups, now_, -1, {}, hang_by);
        const bool matched = state_of(s_, Item::match, now_) == ItemState::confirmed;
        if (!matched && (!hung || match_comes_late(s_))) add(Doing::match, now_, -1, {}, hung ? std::nullopt : hang_by);
        else if (!hung && !groups_open(s_)) add(Doing::hang, now_, -1, {}, hang_by);
        if (!s_.primed) add(Doing::prime, now_);
        if (hung && !s_.connected) add(Doing::connect, now_);
        if (hung && s_.connected) {
            if (out_.open_before_start) add(Doing::settle_open, now_);
            const Rate first = r_.stages.empty() ? Rate{} : r_.stages[0].rate;
            add(Doing::start, now_, -1, first, hang_by);
        }
    }

    void checks(bool after_end) {
        for (std::size_t i = 0; i < r_.checks.size(); ++i) {
            const Check& check = r_.checks[i];
            if (check.kind == CheckKind::baseline) continue;
            const bool late_kind = check.kind == CheckKind::end || check.kind == CheckKind::after;
            if (late_kind != after_end) continue;
            // An early check that was missed is still asked for: until it is in, the rate stays.
            const bool holds_up = check.kind == CheckKind::early && check.state == CheckState::missed && !s_.state.run.rate_was_set;
            if (check.state != CheckState::due && check.state != CheckState::to_come && !holds_up) continue;
            add(Doing::observe, check.due, static_cast<std::int32_t>(i));
            if (check.state == CheckState::to_come) break;
        }
    }

    bool held_up() const {
        for (const Check& check : r_.checks)
            if (check.kind == CheckKind::early &&
                (check.state == CheckState::due || check.state == CheckState::missed || (check.done && check.flagged)))
                return true;
        return hold_.flagged;
    }

    void running() {
        const bool restarts = s_.reaction && s_.phase == Phase::paused;  // it goes on only as a restart
        if (restarts) return;
        const bool held = hold_.held;
        if (held || hold_.asked) add(Doing::hold_and_ask, now_);
        // Past the limit there is one way: what is left is not given.
        if (r_.finish_by && now_ > *r_.finish_by) {
            add(Doing::stop, *r_.finish_by);
            checks(false);
            sort();
            return;
        }
        if (r_.planned && r_.judgement.verdict == Verdict::does_not_fit) add(Doing::ask_about_limit, now_);
        if (s_.phase == Phase::paused && !held) add(Doing::go_on, now_, -1, rate_to_go_on(s_.state), r_.judgement.latest_start);
        else if (s_.phase == Phase::running && out_.attended_until && now_ < *out_.attended_until) add(Doing::stay, *out_.attended_until);
        checks(false);
        const std::optional<Instant> cut = r_.cut_at();
        if (cut) add(Doing::stop, *cut);
        for (const Step& step : r_.next) {
            if (cut && step.at > *cut) continue;
            if (step.kind == StepKind::raise_rate && !held_up()) add(Doing::raise_rate, step.at, -1, step.rate);
            if (step.kind == StepKind::bag_empty) add(Doing::look_at_end, step.at);
            if (step.kind == StepKind::clear_line) add(Doing::clear_line, step.at);
            if (step.kind == StepKind::all_in) add(Doing::end, step.at);
        }
        sort();
    }

    void ended() {
        checks(true);
        add(Doing::dispose, now_);
        sort();
    }

    void closed() {
        if (!s_.state.run.flows.empty()) checks(true);
        if (out_.uncharted > 0) add(Doing::chart, now_);
        sort();
    }

    // What is due comes first, then by time; the order of adding breaks ties.
    void sort() {
        auto& list = out_.to_do;
        const auto before = [](const ToDo& a, const ToDo& b) {
            if (a.due != b.due) return a.due;
            return !a.due && a.at < b.at;
        };
        for (std::size_t i = 1; i < list.size(); ++i)
            for (std::size_t k = i; k > 0 && before(list[k], list[k - 1]); --k) std::swap(list[k], list[k - 1]);
    }

    const Session& s_;
    Live& out_;
    const Reckoning& r_;
    Hold hold_;
    Instant now_;
};

}  // namespace

State assumed_state(const Session& s, Instant now, Assumed& assumed) {
    State state = s.state;
    if (!state.unit.component) return state;
    const ComponentRules& rules = s.protocol->rules(*state.unit.component);
    if (!state.unit.bag) {
        assumed.volume = true;
        if (s.expected) state.unit.bag = s.expected;
        else if (rules.usual_volume) state.unit.bag = rules.usual_volume->most;  // the largest that is usual
    }
    Instant ready = full_minute_from(now);
    if (!state.times.issued || !state.times.start) assumed.stands_until = ready;
    if (!state.times.issued) {
        // Called for, it takes the blood bank its usual time; not called for, it is as if it were called for now.
        assumed.issue = true;
        const auto& round = s.protocol->round;
        if (round) {
            const Instant from = s.requested ? *s.requested : ready;
            const Instant issue = from + round->call.ready;
            if (issue > ready) {
                ready = issue;
                if (s.requested) assumed.stands_until = minute_of(issue);
            }
        }
        state.times.issued = Stated{ready, Precision::minute};
        if (round) ready = ready + round->call.transport + round->match_takes.value;
    }
    if (!state.times.start) {
        assumed.start = true;
        if (state.times.spiked && ready < state.times.spiked->at) ready = state.times.spiked->at;
        state.times.start = Start{{ready, Precision::minute}, false};
    }
    return state;
}

void reckon_live(const Session& s, Instant now, Live& out, Rate other_line) {
    out.phase = s.phase;
    out.assumed = {};
    out.ready.clear();
    out.to_do.clear();
    out.open_before_call.reset();
    out.open_before_start.reset();
    out.attended_until.reset();
    out.next_change.reset();
    State state = assumed_state(s, now, out.assumed);
    state.other_line = other_line;
    const bool symptoms = s.state.run.paused() && s.pause_reason == PauseReason::symptoms;
    const Hold hold = hold_of(s);
    state.no_faster = s.reaction || symptoms || hold.flagged;
    state.held = hold.held;
    reckon(*s.protocol, state, now, out.reckoning);
    out.next_change = out.reckoning.next_change;
    if (out.assumed.stands_until) earliest(out.next_change, *out.assumed.stands_until + Seconds{1}, now);
    out.running = running_band(*s.protocol, state, out.reckoning, now);
    out.uncharted = s.uncharted();

    out.back_to_stock_until = s.state.times.spiked ? std::nullopt : back_to_stock_until(s);
    if (out.back_to_stock_until) earliest(out.next_change, *out.back_to_stock_until + Seconds{1}, now);
    if (s.protocol->round && s.state.times.start && s.state.times.start->happened && !s.state.run.ended) {
        const bool vein = s.protocol->slow_counts_from.value == SlowFrom::vein && out.reckoning.planned;
        const Instant from = vein ? out.reckoning.first_component : s.state.times.start->when.at;
        out.attended_until = from + s.protocol->round->attended.value;
        earliest(out.next_change, out.attended_until, now);
    }
    list_ready(s, out, now);
    Doings(s, out, hold, now).list();
    for (const ToDo& todo : out.to_do) earliest(out.next_change, todo.at, now);
}

std::optional<Refusal> refuses(const Log& log, const Event& event, Instant now, Rate other_line) {
    if (const auto refused = log.would_refuse(event, now)) return refused;
    if (event.kind == EventKind::spiked && groups_open(log.session())) return Refusal::groups_open;
    const bool rate = event.kind == EventKind::started || event.kind == EventKind::rate_set;
    const bool restart = event.kind == EventKind::restarted;
    if (!rate && !restart && event.kind != EventKind::requested) return std::nullopt;
    const auto live = std::make_unique<Live>();
    reckon_live(log.session(), now, *live, other_line);
    const Reckoning& r = live->reckoning;
    if (event.kind == EventKind::requested) {
        const bool waived = log.session().item(Item::plan_fits).state == ItemState::waived;
        if (waived || (!log.session().judged(event.at.at) && log.session().phase != Phase::closed)) return std::nullopt;
        if (log.session().phase == Phase::closed)
            return next_fits(log.session(), now) ? std::nullopt : std::optional(Refusal::not_ready);
        const bool fits = r.planned && r.judgement.verdict != Verdict::does_not_fit;
        return fits ? std::nullopt : std::optional(Refusal::not_ready);
    }
    if (restart) {
        // No source gives the time back: past the limit nothing is begun again, and the ceiling is what it is now.
        if (r.finish_by && event.at.at >= *r.finish_by) return Refusal::restart_barred;
        const bool above =
            r.planned && compare_ratio(exactly(facts_of<facts::Restarted>(event).rate), r.rates.ceiling.rate) > 0;
        return above ? std::optional(Refusal::rate_above_ceiling) : std::nullopt;
    }
    const auto& f = facts_of<facts::RateSet>(event);
    if (f.as_it_happened) return std::nullopt;
    // The rate goes up only after the early check is in and shows no flagged change, or somebody decides so.
    const bool raised = event.kind == EventKind::rate_set && f.rate > log.session().state.run.rate_in_force();
    if (raised && !f.waived_by && set_that_stops(log.session())) return Refusal::early_check_open;
    if (!r.planned) return refuses_unplanned(log.session(), f, raised);
    if (raised && !f.waived_by)
        for (const Check& check : r.checks)
            if (check.kind == CheckKind::early && (!check.done || check.flagged || *check.done < check.counts_from))
                return Refusal::early_check_open;
    // The rate that is read back may be the one that primed the set (hazard 6): it begins with the slow stage.
    const bool skips_slow = event.kind == EventKind::started && !f.waived_by && log.session().judged(event.at.at) && !r.stages.empty() &&
                            r.stages[0].kind == StageKind::slow && f.rate > r.stages[0].rate;
    if (skips_slow) return Refusal::rate_above_ceiling;
    if (compare_ratio(exactly(f.rate), r.rates.ceiling.rate) > 0) return Refusal::rate_above_ceiling;
    return std::nullopt;
}

std::optional<DeviceEntry> device_entry(const State& state, const Reckoning& r, std::optional<Rate> at) {
    if (!r.planned || r.ended || r.stages.empty()) return std::nullopt;
    DeviceEntry entry;
    const Volume moved = r.live ? state.run.moved_at(r.now) : Volume{};
    entry.to_infuse = r.volumes.pushed > moved ? r.volumes.pushed - moved : Volume{};
    entry.rate = r.live && r.in_force > Rate{} ? r.in_force : r.live ? rate_to_go_on(state) : r.stages[0].rate;
    if (at && *at > Rate{}) entry.rate = *at;
    if (entry.rate <= Rate{} || entry.to_infuse <= Volume{}) return std::nullopt;
    entry.duration = time_for(entry.to_infuse, entry.rate);
    const Volume full = bag_at_start(state);
    const Volume in_bag = full > moved ? full - moved : Volume{};
    const Seconds whole_minutes{(entry.duration.count + 59) / 60 * 60};
    entry.told_duration = round_down(in_bag / whole_minutes, Rate{1});
    const Rate step = r.rates.step;
    const Rate apart = entry.told_duration > entry.rate ? entry.told_duration - entry.rate : entry.rate - entry.told_duration;
    entry.disagrees = apart > step;
    return entry;
}

}  // namespace hangtime
