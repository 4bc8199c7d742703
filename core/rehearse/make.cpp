// A scenario out of a log.

#include "core/rehearse/scenario.hpp"
#include "core/rehearse/units.hpp"

#include <algorithm>

namespace hangtime {

namespace {

Seconds whole_minutes(Seconds s) { return minutes(floor_div(s.count, 60)); }

const Event* first_of(const std::vector<const Event*>& events, EventKind kind) {
    for (const Event* e : events)
        if (e->kind == kind) return e;
    return nullptr;
}

// What was ready before the call: it is the beginning.
bool belongs_before(EventKind kind) {
    return kind == EventKind::equipment_chosen || kind == EventKind::item_noted || kind == EventKind::sample_drawn ||
           kind == EventKind::observed || kind == EventKind::primed;
}

void add_happening(Scenario& s, WorldKind kind, EventKind after, Seconds wait) {
    Happening h;
    h.id = "h" + std::to_string(s.happenings.size() + 1);
    h.kind = kind;
    h.when.since.record = Filter{after};
    h.when.wait = whole_minutes(wait);
    s.happenings.push_back(std::move(h));
}

void add_scored(Scenario& s, ScoreKind kind, CheckKind check, LimitKind limit, std::int32_t index = 0) {
    Scored scored;
    scored.kind = kind;
    scored.check = check;
    scored.limit = limit;
    scored.index = index;
    s.scored.push_back(scored);
}

// What was seen after the start becomes what will be seen, at the same distances from the start.
void add_signs(Scenario& s, const Session& session, Instant started) {
    Happening h;
    h.kind = WorldKind::signs_change;
    h.when.since.record = Filter{EventKind::started};
    for (const ObservedSet& seen : session.sets) {
        const Seconds after = whole_minutes(seen.when.at - started);
        if (seen.when.at < started || seen.set == Observation{}) continue;
        if (!h.signs.empty() && after <= h.signs.back().after) continue;
        if (s.signs.temperature && seen.set.temperature && s.signs.temperature->unit != seen.set.temperature->unit) continue;
        h.signs.push_back({after, seen.set});
        if (h.signs.size() == 50) break;
    }
    if (h.signs.empty()) return;
    h.id = "h" + std::to_string(s.happenings.size() + 1);
    s.happenings.push_back(std::move(h));
}

void add_trouble(Scenario& s, const std::vector<const Event*>& events, Instant started) {
    for (const Event* e : events) {
        if (e->at.at < started || s.happenings.size() >= 40) continue;
        const Seconds after = e->at.at - started;
        if (const auto* f = std::get_if<facts::Paused>(&e->facts)) {
            if (f->reason == PauseReason::access_failed) add_happening(s, WorldKind::line_fails, EventKind::started, after);
            if (f->reason == PauseReason::device_alarm) add_happening(s, WorldKind::pump_stops, EventKind::started, after);
            if (f->reason == PauseReason::line_needed) add_happening(s, WorldKind::drug_asked_for, EventKind::started, after);
        }
        if (e->kind == EventKind::resumed) add_happening(s, WorldKind::line_works, EventKind::started, after);
        if (e->kind == EventKind::consent_withdrawn) add_happening(s, WorldKind::refusal, EventKind::started, after);
        if (e->kind == EventKind::handed_over) add_happening(s, WorldKind::handover, EventKind::started, after);
        if (e->kind == EventKind::restarted) add_happening(s, WorldKind::word_to_go_on, EventKind::started, after);
    }
}

}  // namespace

Result<Scenario> scenario_from(const Log& log) {
    const std::vector<const Event*> events = in_order(log);
    const Event* issued = first_of(events, EventKind::issued);
    const Event* ordered = first_of(events, EventKind::ordered);
    if (!issued || !ordered)
        return Error{"the log", issued ? "holds no order" : "holds no unit that was issued",
                     "a log with an order and a unit that was issued"};
    // The last that was known before the unit came; the second unit of a session is another case.
    const Event* requested = first_of(events, EventKind::requested);
    const Event* second = nullptr;
    for (const Event* e : events)
        if (e->kind == EventKind::issued && e != issued && !second) second = e;
    const Instant call = requested ? requested->at.at : issued->at.at;

    Scenario s;
    s.id = "from-a-log";
    s.title = "From a recorded session";
    s.level = Level::middle;
    s.teaches = {"What this session asked for, at the times at which it asked for it."};
    s.rules = log.session().protocol;
    s.protocol = s.rules->id;
    s.whole_protocol = true;
    s.wall = log.session().wall;
    s.begins = call - minutes(1);
    s.begins = minute_of(s.begins);
    s.object = log.session().object;
    s.ordered = facts_of<facts::Ordered>(*ordered);
    for (const Event* e : events) {
        if (e->at.at > s.begins && e->at.at >= issued->at.at) break;
        if (const auto* f = std::get_if<facts::RecipientTold>(&e->facts)) s.recipient = f->recipient;
        if (e->kind == EventKind::ordered) s.ordered = facts_of<facts::Ordered>(*e);
        const auto* seen = std::get_if<facts::Observed>(&e->facts);
        if (seen && seen->kind == CheckKind::baseline && !seen->extra) s.signs = seen->set;
        if (!belongs_before(e->kind) || e->at.at > call || s.before.size() >= 200) continue;
        Before before;
        before.at = e->at.at < s.begins ? whole_minutes(e->at.at - s.begins) : Seconds{};
        before.record.kind = e->kind;
        before.record.facts = e->facts;
        s.before.push_back(std::move(before));
    }

    Happening bag;
    bag.id = "bag";
    bag.kind = WorldKind::bag_arrives;
    bag.when.since.record = Filter{EventKind::requested};
    bag.when.wait = whole_minutes(issued->at.at - call);
    bag.record = Event{};
    bag.record->kind = EventKind::issued;
    facts::Issued unit = facts_of<facts::Issued>(*issued);
    unit.digits.reset();
    bag.record->facts = unit;
    s.happenings.push_back(std::move(bag));

    std::vector<const Event*> of_this;
    for (const Event* e : events)
        if (!second || e->at.at < second->at.at) of_this.push_back(e);
    const Instant end = second ? second->at.at : events.back()->at.at;
    const std::vector<UnitEnd> ends = units_of(log, end);
    const Event* started = first_of(of_this, EventKind::started);
    if (started) {
        add_signs(s, ends.front().session, started->at.at);
        add_trouble(s, of_this, started->at.at);
    }
    s.lasts = whole_minutes(end - s.begins) + hours(2);
    if (s.lasts > bounds::span - minutes(1)) s.lasts = bounds::span - minutes(1);
    add_scored(s, ScoreKind::window_kept, {}, LimitKind::hang);
    add_scored(s, ScoreKind::window_kept, {}, LimitKind::finish);
    for (std::size_t i = 0; i < s.rules->checks.early.size(); ++i)
        add_scored(s, ScoreKind::check_on_time, CheckKind::early, {}, static_cast<std::int32_t>(i));
    if (s.rules->checks.at_end.value) add_scored(s, ScoreKind::check_on_time, CheckKind::end, {});
    return s;
}

}  // namespace hangtime
