#include "core/session/fold.hpp"

namespace hangtime::fold {

namespace {

// Checks that are over keep the interval that they fell due by.
void note_interval(Session& s, const Given<Seconds>* before, Instant at) {
    const Given<Seconds>* after = interval_for(*s.protocol, s.state.recipient);
    const bool runs = s.state.times.start && s.state.times.start->happened && !s.state.run.ended;
    if (!runs || !before || (after && after->value == before->value)) return;
    s.state.past_intervals.push_back({at, before->value, before->basis});
}

}  // namespace

Refused opened(Session& s, const Event& e) {
    if (s.protocol) return Refusal::opened_already;
    const auto& f = facts_of<facts::Opened>(e);
    if (f.version > log_version) return Refusal::newer_version;
    s.version = f.version;
    s.object = f.object;
    s.opened = e.at.at;
    s.wall = f.wall;
    s.protocol = f.rules.protocol;
    s.rehearsal = f.rehearsal;
    s.state = new_state(*s.protocol);
    begin_change_rules(s, e.at.at);
    return std::nullopt;
}

Refused clock_set(Session& s, const Event& e) {
    const auto& f = facts_of<facts::ClockSet>(e);
    s.wall = f.wall;
    s.ahead = f.ahead;
    return std::nullopt;
}

// What is over keeps the old rule, what is open takes the new one: the reckoning needs both.
Refused protocol_changed(Session& s, const Event& e) {
    s.state.past_rules.push_back({e.at.at, s.protocol});
    const std::shared_ptr<const Protocol> old = s.protocol;
    s.protocol = facts_of<facts::ProtocolChanged>(e).rules.protocol;
    // Rules that come back are rules of their own, as they are when the log is read from a file.
    for (const PastRules& past : s.state.past_rules)
        if (past.protocol == s.protocol) {
            s.protocol = std::make_shared<Protocol>(*s.protocol);
            break;
        }
    note_interval(s, interval_for(*old, s.state.recipient), e.at.at);
    begin_change_rules(s, e.at.at);
    if (s.phase <= Phase::here) {
        // Nothing hangs yet: what the new protocol has as its own line, device and clearing holds, unless it was chosen.
        const State fresh = new_state(*s.protocol);
        if (!s.primed && !s.line_chosen) s.state.line = fresh.line;
        // Whether the line is cleared at the end is chosen only where the rules leave it open.
        if (s.protocol->clearing.value != Clearing::optional) s.state.line.cleared = fresh.line.cleared;
        s.groups.reset();  // answered by the choices of the rules before
    }
    return std::nullopt;
}

Refused linked(Session& s, const Event& e) {
    const SpokenObject other = facts_of<facts::Linked>(e).object;
    if (other == s.object) return Refusal::same_object;
    s.linked = other;
    return std::nullopt;
}

Refused joined(Session& s, const Event& e) {
    s.joined = true;
    s.joined_at = e.at.at;
    return std::nullopt;
}

Refused ordered(Session& s, const Event& e) {
    const auto& f = facts_of<facts::Ordered>(e);
    if (s.phase == Phase::closed) {
        s.next_order = f;  // what is over keeps the order by which it was given
        return std::nullopt;
    }
    if (s.state.unit.component && s.phase >= Phase::here && *s.state.unit.component != f.component)
        return Refusal::not_with_component;
    s.ordered = f.component;
    s.state.unit.component = f.component;
    s.state.order = f.order;
    s.expected = f.expected;
    return std::nullopt;
}

Refused recipient_told(Session& s, const Event& e) {
    const Given<Seconds>* before = interval_for(*s.protocol, s.state.recipient);
    s.state.recipient = facts_of<facts::RecipientTold>(e).recipient;
    note_interval(s, before, e.at.at);
    s.recipient_told = true;
    return std::nullopt;
}

Refused equipment_chosen(Session& s, const Event& e) {
    const auto& f = facts_of<facts::EquipmentChosen>(e);
    if (s.state.times.start && s.state.times.start->happened && !s.state.run.ended) {
        // The set is changed by an event of its own; the device may be swapped while it runs.
        forget_total(s);
        s.state.device = f.device;
        return std::nullopt;
    }
    s.state.device = f.device;
    forget_total(s);
    if (!s.primed) {
        // What the set has carried is known from the log, and chosen by nobody.
        const Line before = s.state.line;
        s.state.line = f.line;
        s.state.line.from_last_unit = before.from_last_unit;
        s.state.line.carried = before.carried;
        s.state.line.units_before = before.units_before;
        s.line_chosen = true;
    }
    return std::nullopt;
}

namespace {

// Who leaves the bedside between the match and the hanging has to begin the match again.
void leave_bedside(Session& s, const Event& e) {
    const bool waits = s.phase == Phase::here || (s.phase == Phase::hung && match_comes_late(s));
    if (!waits) return;
    const Advanced next = advance(s.match, script_of(s), {MatchOutcome::interrupted, 0, e.at.at});
    if (next.refusal == MatchRefusal::none) s.match = next.state;
}

}  // namespace

Refused handed(Session& s, const Event& e) {
    if (e.kind == EventKind::moved) {
        s.place = facts_of<facts::Moved>(e).place;
        leave_bedside(s, e);
        return std::nullopt;
    }
    // Whoever takes over has seen neither the person nor the bag.
    if (s.version >= 2 && s.match.standing != MatchStanding::not_begun) leave_bedside(s, e);
    s.with = facts_of<facts::HandedOver>(e).role;
    s.offered = e.kind == EventKind::handed_over;
    return std::nullopt;
}

Refused numbers(Session& s, const Event& e) {
    if (e.kind == EventKind::withdrawn) return std::nullopt;  // the log has left them out already
    for (const std::int32_t number : facts_of<facts::Numbers>(e).of) {
        const auto n = static_cast<std::size_t>(number);
        if (s.is_charted.size() <= n) s.is_charted.resize(n + 1);
        s.is_charted[n] = true;
    }
    return std::nullopt;
}

}  // namespace hangtime::fold
