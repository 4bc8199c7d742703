#include "core/reckon/parts.hpp"

namespace hangtime::parts {

namespace {

// When the event that a limit is counted from happened, or will, by what is known.
std::optional<Instant> moment_of(const Context& c, Anchor anchor) {
    const Times& times = c.state.times;
    switch (anchor) {
        case Anchor::issued: return times.issued ? std::optional(times.issued->at) : std::nullopt;
        case Anchor::left_storage: return c.left_storage;
        case Anchor::thawed: return times.thawed ? std::optional(times.thawed->at) : std::nullopt;
        case Anchor::spiked: return c.spiked;
        case Anchor::started: return times.start ? std::optional(times.start->when.at) : std::nullopt;
        case Anchor::label_expiry: return std::nullopt;
    }
    return std::nullopt;
}

// What a limit is counted from. A set that was changed on the way, or that has carried a unit before this one, has a
// life of its own.
std::optional<Instant> opened_at(const Context& c, const Limit& limit) {
    if (limit.kind == LimitKind::change_set && c.state.times.set_since) return c.state.times.set_since;
    return moment_of(c, limit.from);
}

bool assumed(const Context& c, Anchor anchor) {
    return (anchor == Anchor::left_storage && !c.state.times.left_storage) ||
           (anchor == Anchor::spiked && !c.state.times.spiked);
}

// The moment at which what the window asks for has happened, if it is known to have.
std::optional<Instant> happened_at(const Context& c, LimitKind kind) {
    const Times& times = c.state.times;
    const auto started = times.start && times.start->happened ? std::optional(times.start->when.at) : std::nullopt;
    const auto hung = times.spiked ? std::optional(times.spiked->at) : started;
    switch (kind) {
        case LimitKind::decide:
        case LimitKind::send_back:
        case LimitKind::hang: return hung;
        case LimitKind::start: return started;
        case LimitKind::finish: return c.state.run.ended;
        case LimitKind::change_set: return std::nullopt;
    }
    return std::nullopt;
}

// The rules that a limit goes by: those in force when it was met, and where it had passed before a change of protocol,
// the ones under which it had. Nothing gives the minutes back.
const Protocol& rules_for(const Context& c, LimitKind kind) {
    const auto done = happened_at(c, kind);
    std::optional<Instant> from;
    for (const PastRules& past : c.state.past_rules) {
        for (const Limit& limit : past.protocol->rules(*c.state.unit.component).limits) {
            const auto opened = limit.kind == kind ? opened_at(c, limit) : std::nullopt;
            if (!opened) continue;
            const Instant latest = *opened + limit.within;
            const bool in_force = (!from || latest >= *from) && latest < past.until;
            if (in_force && (!done || *done > latest)) return *past.protocol;
        }
        from = past.until;
    }
    return done ? rules_at(c, *done) : c.protocol;
}

void add_window(Context& c, Reckoning& out, const Limit& limit) {
    Window w;
    w.kind = limit.kind;
    w.from = limit.from;
    w.within = limit.within;
    w.basis = limit.basis;
    w.opened = opened_at(c, limit);
    w.opened_assumed = w.opened && assumed(c, limit.from);
    if (w.opened) {
        w.latest = *w.opened + limit.within;
        w.sum = sum_of(SumKind::after, *w.opened, limit.within, *w.latest);
    }
    out.windows.add(w);
}

// The same for the expiry on the label: what it had ended keeps the rule by which it did.
const Protocol& expiry_rules(const Context& c) {
    const Instant expires = c.state.unit.expires->at;
    std::optional<Instant> from;
    for (const PastRules& past : c.state.past_rules) {
        const bool finish = past.protocol->expiry.value == ExpiryRule::finish_before;
        const auto done = happened_at(c, finish ? LimitKind::finish : LimitKind::start);
        const bool in_force = (!from || expires >= *from) && expires < past.until;
        if (in_force && (!done || *done > expires)) return *past.protocol;
        from = past.until;
    }
    const auto ended = happened_at(c, LimitKind::finish);
    return ended ? rules_at(c, *ended) : c.protocol;
}

void add_expiry(Context& c, Reckoning& out) {
    if (!c.state.unit.expires) return;
    Window w;
    const Instant expires = c.state.unit.expires->at;
    const Given<ExpiryRule>& rule = expiry_rules(c).expiry;
    w.kind = rule.value == ExpiryRule::finish_before ? LimitKind::finish : LimitKind::start;
    w.from = Anchor::label_expiry;
    w.opened = c.state.times.issued ? c.state.times.issued->at : expires;
    if (*w.opened > expires) w.opened = expires;
    w.latest = expires;
    w.basis = rule.basis;
    w.sum = sum_of(SumKind::as_stated, expires);
    out.windows.add(w);
}

// Marks the earliest window of each kind.
void mark_binding(Reckoning& out) {
    for (int kind = 0; kind < limit_kind_count; ++kind) {
        Window* first = nullptr;
        for (Window& w : out.windows)
            if (w.kind == static_cast<LimitKind>(kind) && w.latest && (!first || *w.latest < *first->latest))
                first = &w;
        if (first) first->binds = true;
    }
}

std::optional<Instant> planned_moment(const Context& c, const Reckoning& out, LimitKind kind) {
    switch (kind) {
        case LimitKind::decide:
        case LimitKind::send_back: return std::nullopt;
        case LimitKind::hang: return c.spiked;
        case LimitKind::start:
            return c.state.times.start ? std::optional(c.state.times.start->when.at) : std::nullopt;
        case LimitKind::finish:
        case LimitKind::change_set: return out.planned ? std::optional(out.all_in) : std::nullopt;
    }
    return std::nullopt;
}

WindowState state_of(Context& c, const Window& w) {
    if (!w.latest) return WindowState::not_recorded;
    if (const auto done = happened_at(c, w.kind); done && *done <= *w.latest && c.horizon.reached(*done))
        return WindowState::met;
    if (!c.horizon.reached(*w.opened)) return WindowState::not_running;
    const Seconds one{1};
    if (c.horizon.reached(*w.latest + one)) return WindowState::passed;
    if (c.horizon.reached(*w.latest - c.protocol.closing + one)) return WindowState::closing;
    return WindowState::open;
}

}  // namespace

void open_windows(Context& c, Reckoning& out) {
    const Times& times = c.state.times;
    c.spiked = times.spiked ? std::optional(times.spiked->at)
               : times.start ? std::optional(times.start->when.at)
                             : std::nullopt;
    c.left_storage = times.left_storage ? std::optional(times.left_storage->at)
                     : times.issued     ? std::optional(times.issued->at)
                                        : std::nullopt;
    for (const Limit& limit : c.rules.limits)
        if (&rules_for(c, limit.kind) == &c.protocol) add_window(c, out, limit);
    // What was over before the protocol was changed keeps the old rule.
    for (int kind = 0; kind < limit_kind_count; ++kind) {
        const Protocol& then = rules_for(c, static_cast<LimitKind>(kind));
        if (&then == &c.protocol) continue;
        for (const Limit& limit : then.rules(*c.state.unit.component).limits)
            if (limit.kind == static_cast<LimitKind>(kind)) add_window(c, out, limit);
    }
    add_expiry(c, out);
    mark_binding(out);
    for (const Window& w : out.windows) {
        if (!w.binds) continue;
        if (w.kind == LimitKind::finish) out.finish_by = w.latest;
        const bool hung = c.state.times.spiked.has_value();  // then the limit for it bounds the start no more
        if ((w.kind == LimitKind::hang && !hung) || w.kind == LimitKind::start)
            if (!out.start_by || *w.latest < *out.start_by) out.start_by = w.latest;
    }
}

void settle_windows(Context& c, Reckoning& out) {
    for (Window& w : out.windows) {
        w.planned = planned_moment(c, out, w.kind);
        w.kept = !w.latest || !w.planned || *w.planned <= *w.latest;
        w.state = state_of(c, w);
    }
}

}  // namespace hangtime::parts
