#include "core/session/fold.hpp"

namespace hangtime::fold {

namespace {

bool hangs(const Session& s) { return s.state.times.spiked.has_value(); }
bool runs(const Session& s) { return s.state.times.start && s.state.times.start->happened; }

ItemState stands(ItemHow how) {
    switch (how) {
    case ItemHow::confirmed: return ItemState::confirmed;
    case ItemHow::not_needed: return ItemState::not_needed;
    case ItemHow::withdrawn: return ItemState::open;
    case ItemHow::waived: break;
    }
    return ItemState::waived;
}

// The check at or after the end of the last unit is the baseline of the next one, as far as its window goes.
void end_check_as_baseline(const Session& last, Session& next) {
    for (const ObservedSet& set : last.sets) {
        if (set.extra || (set.kind != CheckKind::end && set.kind != CheckKind::after)) continue;
        next.state.checks_done.clear();
        next.state.checks_done.add({CheckKind::baseline, 0, set.when});
        next.sets = {set};
        next.sets.front().kind = CheckKind::baseline;
        next.sets.front().index = 0;
        next.baseline = 0;
    }
}

}  // namespace

bool unit_is_closed(const Session& s) { return s.disposal.has_value() || s.match.standing == MatchStanding::differed; }

namespace {

// The rules ask for a new set where another component comes through it: it has to be primed anew before anything is
// connected. What the rules say beyond that (a new one for each unit, so many units at most) is a warning.
bool set_cannot_be_kept(const Session& s, Component carried, Component next) {
    if (carried == next) return false;
    const bool any = !s.protocol->round || s.protocol->round->set_change.value == SetChange::any;
    return any || s.protocol->rules(next).new_set;
}

void take_next_order(Session& s, State& fresh) {
    if (!s.next_order) return;
    fresh.order = s.next_order->order;
    s.ordered = s.next_order->component;
    s.expected = s.next_order->expected;
    s.next_order.reset();
}

}  // namespace

void begin_next_unit(Session& s) {
    PastUnit past;
    past.component = s.state.unit.component.value_or(Component::red_cells);
    past.digits = s.digits;
    if (runs(s)) past.started = s.state.times.start->when.at;
    past.ended = s.state.run.ended;
    if (past.ended) {
        const Volume most = most_moved(s.state);
        const Volume moved = s.state.run.stopped ? s.state.run.moved_at(*past.ended) : most;
        past.given = given_of(s.state, moved < most ? moved : most);
        past.fluid = fluid_moved(s, moved < most ? moved : most);
    } else {
        past.fluid.other_lines = s.other_fluid;
    }
    s.past_units.push_back(past);

    // The order, the person and the device stay; everything that belongs to one unit begins again. A set that
    // has carried a unit holds component, until a new one is primed.
    const bool set_used = past.started.has_value();
    State fresh = s.state;
    fresh.unit.bag.reset();
    fresh.unit.expires.reset();
    fresh.unit.expires_far = false;
    take_next_order(s, fresh);
    fresh.unit.component = s.ordered;
    fresh.times = {};
    if (set_used) {
        fresh.times.set_since = s.state.times.set_since;
        if (!fresh.times.set_since && s.state.times.spiked) fresh.times.set_since = s.state.times.spiked->at;
    }
    fresh.run = {};
    fresh.past_intervals.clear();
    fresh.checks_done.clear();
    fresh.slowed_to.reset();
    fresh.line.lost = {};
    if (set_used && s.state.run.cleared) fresh.line.primed_with = Primed::saline;
    fresh.line.from_last_unit = set_used && !s.state.run.cleared;
    if (set_used) {
        fresh.line.carried = past.component;
        ++fresh.line.units_before;
        if (s.ordered && set_cannot_be_kept(s, past.component, *s.ordered)) {
            fresh.times.set_since.reset();
            fresh.line.primed_with = s.protocol->primed_with.value;
            fresh.line.from_last_unit = false;
            s.primed.reset();
        }
    }
    s.joined = false;  // what was not seen is of the unit that was running; this one is seen from the beginning
    s.state = fresh;
    s.phase = Phase::preparing;
    s.digits.reset();
    s.requested.reset();
    s.received.reset();
    s.bag_tenths_c.reset();
    s.bag_read_at.reset();
    s.connected.reset();
    s.match = {};
    s.can_say.reset();
    s.groups.reset();
    s.other_fluid = {};
    s.total_base.reset();
    s.total_read.reset();
    s.disposal.reset();
    s.reaction.reset();
    s.actions.clear();
    s.identity_agrees.reset();
    s.identity_at.reset();
    s.sets.clear();
    s.baseline.reset();
    s.next_baseline.reset();
}

void clear_items_of_unit(Session& s) {
    for (const Item item : {Item::baseline, Item::plan_fits, Item::second_checker, Item::bag_looked_at, Item::match,
                            Item::in_date, Item::only_saline, Item::line_connected, Item::rate_read_back})
        s.items[static_cast<std::size_t>(item)] = {};
}

namespace {

std::int32_t units_begun(const Session& s) {
    const bool waits = s.phase >= Phase::called && s.phase < Phase::running;
    return s.units_drawn() - (waits && s.units_drawn() > 0 ? 1 : 0);
}

}  // namespace

// The unit that is called for or here and has not begun is covered no more either.
void take_back_authorisation(Session& s) {
    s.units_covered = units_begun(s);
    s.items[static_cast<std::size_t>(Item::authorisation)] = {};
}

Refused item_noted(Session& s, const Event& e) {
    const auto& f = facts_of<facts::ItemNoted>(e);
    if (f.how == ItemHow::waived) {
        if (!can_be_waived(f.item)) return Refusal::cannot_be_waived;
        if (only_in_emergency(f.item) && !f.emergency) return Refusal::cannot_be_waived;
    } else if (comes_by_itself(f.item) && f.how != ItemHow::withdrawn) {
        return Refusal::comes_by_itself;
    }
    if (f.how == ItemHow::not_needed && always_needed(f.item)) return Refusal::cannot_be_waived;
    // Consent that was withdrawn by the person is not confirmed again by a tick for the same unit.
    if (f.item == Item::consent && s.refused && f.how != ItemHow::withdrawn) return Refusal::cannot_be_waived;
    if (f.item == Item::authorisation) {
        // Said again it takes the place of the one before: so many units from the next that has not begun.
        if (f.how == ItemHow::confirmed) s.units_covered = f.count + (s.version >= 2 ? units_begun(s) : s.units_covered);
        if (f.how == ItemHow::withdrawn) take_back_authorisation(s);
    }
    const bool emergency = is_emergency(s);
    s.items[static_cast<std::size_t>(f.item)] = {stands(f.how), f.reason, f.role,    f.emergency,
                                                 e.at.at,       e.number, f.checker};
    // Another script: what was matched by the one before does not count.
    const bool begun = s.match.standing == MatchStanding::under_way || s.match.standing == MatchStanding::passed;
    if (is_emergency(s) != emergency && begun && !s.state.times.spiked) {
        const Advanced next = advance(s.match, script_of(s), {MatchOutcome::interrupted, 0, e.at.at});
        if (next.refusal == MatchRefusal::none) s.match = next.state;
    }
    // What was answered under the rule for emergencies holds for one only, and the other way round.
    if (is_emergency(s) != emergency && !s.state.times.spiked) s.groups.reset();
    return std::nullopt;
}

Refused sample_drawn(Session& s, const Event& e) {
    s.sample_drawn = e.at.at;
    return std::nullopt;
}

Refused requested(Session& s, const Event& e) {
    if (s.phase == Phase::called) return Refusal::requested_already;
    if (s.phase != Phase::preparing && s.phase != Phase::closed) return Refusal::issued_already;
    if (s.refused) return Refusal::consent_refused;
    if (!s.ordered && !s.next_order) return Refusal::not_ready;
    if (s.judged(e.at.at) || s.phase == Phase::closed) {
        if (s.units_drawn() >= s.units_covered)
            return s.units_covered > 0 ? Refusal::units_not_covered : Refusal::not_ready;
        // What belongs to the last unit counts no more.
        Session next;
        const bool again = s.phase == Phase::closed;
        if (again) next = with_next_unit(s);
        if (first_open(again ? next : s, true, e.at.at)) return Refusal::not_ready;
        if (again) s = std::move(next);
    }
    ++s.units_requested;
    s.requested = e.at.at;
    s.phase = Phase::called;
    return std::nullopt;
}

Refused issued(Session& s, const Event& e) {
    const auto& f = facts_of<facts::Issued>(e);
    const bool none = s.phase == Phase::closed || s.phase == Phase::preparing;
    if (none && (s.judged(e.at.at) || s.phase == Phase::closed))
        return s.units_covered > 0 && s.units_drawn() >= s.units_covered ? Refusal::units_not_covered
                                                                         : Refusal::not_requested;
    if (!none && s.phase != Phase::called) return Refusal::issued_already;
    const bool frozen = f.component == Component::plasma || f.component == Component::cryoprecipitate;
    if (f.thawed && !frozen) return Refusal::not_thawed_kind;
    if (f.bag <= Volume{}) return Refusal::volume_missing;
    if (s.ordered && *s.ordered != f.component) return Refusal::not_with_component;
    s.state.unit = {f.component, f.bag, f.expires, f.expires_far};
    s.state.times.issued = e.at;
    s.state.times.thawed = f.thawed;
    s.digits = f.digits;
    if (none && s.version >= 2) ++s.units_requested;  // called for before somebody joined
    s.phase = Phase::here;
    return std::nullopt;
}

Refused storage_noted(Session& s, const Event& e) {
    if (s.phase < Phase::here) return Refusal::not_issued;
    if (unit_is_closed(s)) return Refusal::unit_closed;
    // A unit that goes back into storage keeps the first time that it left it: no source gives the minutes back.
    const auto change = facts_of<facts::StorageNoted>(e).change;
    if (change != StorageChange::entered && !s.state.times.left_storage) s.state.times.left_storage = e.at;
    return std::nullopt;
}

Refused received(Session& s, const Event& e) {
    if (s.phase < Phase::here) return Refusal::not_issued;
    if (unit_is_closed(s)) return Refusal::unit_closed;
    s.received = e.at.at;
    return std::nullopt;
}

Refused bag_temperature(Session& s, const Event& e) {
    if (s.phase < Phase::here) return Refusal::not_issued;
    if (s.disposal) return Refusal::unit_closed;
    // The warmest that was read: a bag does not become one that was kept cold by being cold again.
    const std::int32_t read = facts_of<facts::BagTemperature>(e).tenths_c;
    if (!s.bag_tenths_c || read > *s.bag_tenths_c) s.bag_tenths_c = read;
    s.bag_read_at = e.at.at;
    return std::nullopt;
}

Refused match_noted(Session& s, const Event& e) {
    if (s.phase < Phase::here) return Refusal::not_issued;
    if (unit_is_closed(s)) return Refusal::unit_closed;
    if (hangs(s) && !(match_comes_late(s) && s.judged(e.at.at))) return Refusal::spiked_already;
    if (s.state.run.ended) return Refusal::ended_already;
    const auto& f = facts_of<facts::MatchNoted>(e);
    if (f.can_say && !s.match.passed.empty()) return Refusal::match_out_of_order;
    const Advanced next =
        advance(s.match, script_of(s), {f.outcome, static_cast<std::uint8_t>(f.step), e.at.at});
    switch (next.refusal) {
    case MatchRefusal::none: break;
    case MatchRefusal::closed: return Refusal::match_differed;
    case MatchRefusal::not_next:
    case MatchRefusal::complete:
    case MatchRefusal::earlier: return Refusal::match_out_of_order;
    }
    s.match = next.state;
    // Whoever begins again asks again.
    if (f.outcome == MatchOutcome::interrupted) s.can_say.reset();
    else if (f.can_say) s.can_say = f.can_say;
    return std::nullopt;
}

Refused primed(Session& s, const Event& e) {
    if (s.connected) return Refusal::connected_already;  // priming while connected is a bolus (hazard 7)
    if (runs(s)) return Refusal::started_already;
    const auto& f = facts_of<facts::PrimedWith>(e);
    if (f.with == Primed::component) {
        if (!hangs(s)) return Refusal::not_spiked;
        if (s.state.unit.bag && f.holds + f.lost >= *s.state.unit.bag) return Refusal::volume_missing;
    }
    s.primed = e.at.at;
    forget_total(s);
    s.state.times.set_since.reset();  // a new set: its life begins with this unit
    s.state.line.primed_with = f.with;
    s.state.line.from_last_unit = false;
    s.state.line.carried.reset();
    s.state.line.units_before = 0;
    s.state.line.holds = f.holds;
    s.state.line.lost = f.lost;
    return std::nullopt;
}

Refused spiked(Session& s, const Event& e) {
    if (s.phase < Phase::here) return Refusal::not_issued;
    if (s.match.standing == MatchStanding::differed) return Refusal::match_differed;
    if (unit_is_closed(s)) return Refusal::unit_closed;
    if (s.refused) return Refusal::consent_refused;
    if (hangs(s)) return Refusal::spiked_already;
    if (runs(s)) return Refusal::started_already;
    if (s.state.run.ended) return Refusal::ended_already;
    if (const auto refused = match_forbids(s, e.at.at); refused && s.judged(e.at.at)) return refused;
    if (s.groups && !s.groups->settled()) return Refusal::groups_open;
    if (s.state.unit.expires && e.at.at >= s.state.unit.expires->at) return Refusal::expired;
    s.state.times.spiked = e.at;
    s.phase = Phase::hung;
    return std::nullopt;
}

Refused connected(Session& s, const Event& e) {
    if (unit_is_closed(s)) return Refusal::unit_closed;
    if (s.refused) return Refusal::consent_refused;
    if (runs(s)) return Refusal::started_already;
    if (!s.primed && s.judged(e.at.at)) return Refusal::not_primed;
    if (s.connected) return Refusal::connected_already;
    s.connected = e.at.at;
    return std::nullopt;
}

}  // namespace hangtime::fold

namespace hangtime {

Session with_next_unit(const Session& s) {
    Session next = s;
    fold::begin_next_unit(next);
    if (s.protocol->round && s.protocol->round->end_check_is_baseline.value) fold::end_check_as_baseline(s, next);
    if (s.next_baseline) {
        next.state.checks_done.clear();
        next.state.checks_done.add({CheckKind::baseline, 0, s.next_baseline->when});
        next.sets = {*s.next_baseline};
        next.baseline = 0;
    }
    return next;
}

}  // namespace hangtime
