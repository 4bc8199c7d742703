#include "core/observe/change.hpp"
#include "core/observe/overload.hpp"
#include "core/observe/reaction.hpp"
#include "core/session/fold.hpp"

#include <algorithm>

namespace hangtime::fold {

namespace {

bool has_started(const Session& s) { return s.state.times.start && s.state.times.start->happened; }
bool runs(const Session& s) { return has_started(s) && !s.state.run.ended; }

// Keeps what was seen; true where it shows a change from the baseline that says: hold and ask.
bool keep_set(Session& s, const Event& e) {
    const auto& f = facts_of<facts::Observed>(e);
    s.sets.push_back({e.number, f.kind, f.index, f.extra, e.at, f.set, s.change_rules.size() - 1});
    if (f.kind == CheckKind::baseline && !f.extra) {
        s.baseline = s.sets.size() - 1;
        return false;
    }
    const std::optional<Change> change = change_of(s, s.sets.back());
    return change && change->stops();
}

}  // namespace

Refused observed(Session& s, const Event& e) {
    const auto& f = facts_of<facts::Observed>(e);
    if (f.extra) {
        keep_set(s, e);
        return std::nullopt;
    }
    // There is one of these: another number would stand for none.
    const bool single = f.kind == CheckKind::baseline || f.kind == CheckKind::start || f.kind == CheckKind::end;
    if (s.version >= 2 && single && f.index != 0) return Refusal::check_unknown;
    const CheckRules& rules = s.protocol->checks;
    const auto index = static_cast<std::size_t>(f.index);
    switch (f.kind) {
    case CheckKind::baseline:
        if (s.phase == Phase::closed) {
            s.next_baseline = ObservedSet{e.number, f.kind, f.index, false, e.at, f.set, s.change_rules.size() - 1};
            return std::nullopt;
        }
        if (has_started(s)) return Refusal::started_already;
        break;
    case CheckKind::early:
        if (index >= rules.early.size()) return Refusal::check_unknown;
        break;
    case CheckKind::after:
        if (index >= rules.after.size()) return Refusal::check_unknown;
        break;
    case CheckKind::interval:
        if (f.index > most_check_number) return Refusal::check_unknown;
        break;
    case CheckKind::start:
    case CheckKind::end: break;
    }
    if (f.kind != CheckKind::baseline && !has_started(s)) return Refusal::not_started;
    if ((f.kind == CheckKind::end || f.kind == CheckKind::after) && !s.state.run.ended) return Refusal::not_ended;
    const bool flagged = keep_set(s, e);
    // Taken again: the baseline is the later one. Of a check each is kept, since one that was taken too early does not
    // count (hazard 14); the reckoning takes the first that does.
    if (f.kind == CheckKind::baseline)
        for (CheckDone& done : s.state.checks_done)
            if (done.kind == CheckKind::baseline) {
                done.when = e.at;
                return std::nullopt;
            }
    s.state.checks_done.add({f.kind, f.index, e.at, flagged});
    return std::nullopt;
}

// One press stops the clock of delivery at that moment; also long after the end, when all was closed, and while the
// next unit is being prepared (hazard 17).
Refused reaction_suspected(Session& s, const Event& e) {
    const auto given = [](const PastUnit& unit) { return unit.started.has_value(); };
    if (!has_started(s) && std::none_of(s.past_units.begin(), s.past_units.end(), given)) return Refusal::not_started;
    s.reaction = e.at.at;
    s.identity_agrees.reset();  // it is to be checked again after each stop
    s.identity_at.reset();
    if (s.phase == Phase::closed && has_started(s)) s.phase = Phase::ended;
    s.actions.clear();
    s.actions.push_back({ActionKind::stop, e.at.at});
    take_back_authorisation(s);  // what has not begun needs somebody's word again
    if (runs(s)) {
        if (!s.state.run.paused()) begin_flow(s, e.at.at, {}, true);
        s.pause_reason = PauseReason::symptoms;
        s.phase = Phase::paused;
    }
    return std::nullopt;
}

Refused action_done(Session& s, const Event& e) {
    if (!s.reaction) return Refusal::not_started;
    const auto& f = facts_of<facts::ActionTicked>(e);
    s.actions.push_back({f.action, e.at.at});
    // Read again it may come out otherwise: the last reading counts. What once differed is told by the log.
    if (f.action == ActionKind::identity && f.agrees) {
        s.identity_agrees = f.agrees;
        s.identity_at = e.at.at;
    }
    return std::nullopt;
}

// Slowing down is an action of its own: the rest runs at most at this, and the plan is reckoned again.
Refused ceiling_lowered(Session& s, const Event& e) {
    const Rate most = facts_of<facts::CeilingLowered>(e).most;
    if (!runs(s)) return has_started(s) ? Refusal::ended_already : Refusal::not_started;
    if (const auto refused = rate_is_possible(s, most)) return refused;
    s.state.slowed_to = most;
    if (!s.state.run.paused() && s.state.run.rate_in_force() > most) {
        begin_flow(s, e.at.at, most, false);
        s.state.run.rate_was_set = true;
    }
    return std::nullopt;
}

void begin_change_rules(Session& s, Instant from) {
    ChangeRules next{s.protocol, 0, from, false};
    if (!s.change_rules.empty())
        if (const RuleSet* before = s.change_rules.back().rules(); before && s.change_rules.back().chosen) {
            const auto& sets = s.protocol->observations.rule_sets;
            for (std::size_t i = 0; i < sets.size(); ++i)
                if (sets[i].id == before->id) next.set = i, next.chosen = true;
        }
    s.change_rules.push_back(std::move(next));
}

// For what is observed from now on. What was seen before stays as it was judged, and its flags with it.
Refused rule_set_chosen(Session& s, const Event& e) {
    const auto& sets = s.protocol->observations.rule_sets;
    const std::string& wanted = facts_of<facts::RuleSetChosen>(e).rule_set;
    for (std::size_t i = 0; i < sets.size(); ++i)
        if (sets[i].id == wanted) {
            s.change_rules.push_back({s.protocol, i, e.at.at, true});
            return std::nullopt;
        }
    return Refusal::rule_set_unknown;
}

// Only what the protocol calls mild, on a clinician's word, at a rate that is given; no limit has moved.
Refused restarted(Session& s, const Event& e) {
    const auto& f = facts_of<facts::Restarted>(e);
    if (!runs(s)) return has_started(s) ? Refusal::ended_already : Refusal::not_started;
    if (!s.reaction || !s.state.run.paused()) return Refusal::not_paused;
    if (const auto refused = rate_is_possible(s, f.rate)) return refused;
    const RestartAnswer answer =
        restart_of(s.protocol->reaction, worst_since(s, *s.reaction), f.identity_agrees, *s.reaction, e.at.at, {});
    if (answer.may != Restart::on_a_clinicians_word) return Refusal::restart_barred;
    if (e.at.at < answer.not_before) return Refusal::restart_barred;  // the protocol's wait
    if (s.identity_agrees == false) return Refusal::restart_barred;
    s.identity_agrees = f.identity_agrees;
    if (!s.identity_at) s.identity_at = e.at.at;
    begin_flow(s, e.at.at, f.rate, false);
    s.state.run.rate_was_set = true;
    s.pause_reason = PauseReason::waiting_for_word;
    s.phase = Phase::running;
    return std::nullopt;
}

}  // namespace hangtime::fold
