#include "core/session/log.hpp"

#include <algorithm>

namespace hangtime {

namespace {

// Stands from the beginning, whenever it was said.
bool stands_first(EventKind kind) {
    return kind == EventKind::opened || kind == EventKind::joined || kind == EventKind::linked;
}

// Which records no longer count. From the last one backwards, so that a withdrawn withdrawal gives back what it
// had taken. A correction that was corrected itself still holds what it replaced: the first version does not come
// back because there is a third one.
std::vector<bool> voided(const std::vector<Event>& events) {
    std::vector<bool> out(events.size()), replaced(events.size());
    for (std::size_t i = events.size(); i-- > 0;) {
        if (out[i] && !replaced[i]) continue;
        const Event& e = events[i];
        for (const std::int32_t n : e.replaces) out[static_cast<std::size_t>(n - 1)] = replaced[static_cast<std::size_t>(n - 1)] = true;
        if (e.kind == EventKind::withdrawn && !replaced[i])
            for (const std::int32_t n : facts_of<facts::Numbers>(e).of) out[static_cast<std::size_t>(n - 1)] = true;
    }
    return out;
}

std::optional<Refusal> fold_all(const std::vector<Event>& events, const std::vector<bool>& is_void, Session& out) {
    std::vector<const Event*> order;
    order.reserve(events.size());
    std::size_t sets = 0, flows = 0;
    for (std::size_t i = 0; i < events.size(); ++i) {
        if (is_void[i]) continue;
        order.push_back(&events[i]);
        sets += events[i].kind == EventKind::observed;
        flows += events[i].kind == EventKind::rate_set || events[i].kind == EventKind::paused ||
                 events[i].kind == EventKind::resumed || events[i].kind == EventKind::device_total;
    }
    const auto before = [](const Event* a, const Event* b) {
        const bool first_a = stands_first(a->kind), first_b = stands_first(b->kind);
        if (first_a != first_b) return first_a;
        if (first_a) return a->number < b->number;
        if (a->at.at != b->at.at) return a->at.at < b->at.at;
        return a->number < b->number;
    };
    if (!std::is_sorted(order.begin(), order.end(), before)) std::sort(order.begin(), order.end(), before);
    Session session;
    session.sets.reserve(sets);
    session.state.run.flows.reserve(flows + 1);
    session.to_chart.reserve(events.size() + 1);
    for (const Event* e : order)
        if (const auto refused = apply(session, *e)) return refused;
    out = std::move(session);
    return std::nullopt;
}

}  // namespace

std::optional<Refusal> Log::check_numbers(const Event& e, std::int32_t before) const {
    if (e.kind == EventKind::opened) return before == 0 ? std::nullopt : std::optional(Refusal::opened_already);
    if (before == 0) return Refusal::not_opened;
    const auto there = [&](std::int32_t n) { return n >= 1 && n <= before; };
    bool same_kind = e.replaces.empty();
    for (const std::int32_t n : e.replaces) {
        if (!there(n)) return Refusal::no_such_record;
        if (n == 1) return Refusal::opening_cannot_change;
        same_kind = same_kind || events_[static_cast<std::size_t>(n - 1)].kind == e.kind;
    }
    if (!same_kind) return Refusal::other_kind;
    if (const auto* numbers = std::get_if<facts::Numbers>(&e.facts))
        for (const std::int32_t n : numbers->of) {
            if (!there(n)) return Refusal::no_such_record;
            if (n == 1 && e.kind == EventKind::withdrawn) return Refusal::opening_cannot_change;
        }
    return std::nullopt;
}

// Finds where in its minute the record can stand, and what the log then adds up to.
std::optional<Refusal> Log::place(Event& event, Session& next, std::vector<bool>& next_void) const {
    const bool plain = event.replaces.empty() && event.kind != EventKind::withdrawn;
    const auto attempt = [&](Instant at) -> std::optional<Refusal> {
        event.at.at = at;
        const bool last = plain && !stands_first(event.kind) && (!last_at_ || at >= *last_at_);
        if (last) {
            next = session_;
            next_void = void_;
            next_void.push_back(false);
            return apply(next, event);
        }
        std::vector<Event> all = events_;
        all.push_back(event);
        next_void = voided(all);
        return fold_all(all, next_void, next);
    };
    if (event.at.precision == Precision::second || event.placed) return attempt(event.at.at);

    // To the minute: it stands after what was recorded of that minute before, if that is legal, else further to the
    // front. The places are the seconds of the other records of that minute, and its first one.
    std::vector<Instant> places;
    const Instant minute = minute_of(event.at.at);
    for (const Event& other : events_)
        if (minute_of(other.at.at) == minute) places.push_back(other.at.at);
    places.push_back(minute);
    std::sort(places.rbegin(), places.rend());
    places.erase(std::unique(places.begin(), places.end()), places.end());
    event.placed = true;
    std::optional<Refusal> first;
    for (const Instant at : places) {
        const std::optional<Refusal> refused = attempt(at);
        if (!refused) return std::nullopt;
        if (!first) first = refused;
    }
    return first;
}

std::optional<Refusal> Log::check_record(const Event& event, Instant now) const {
    if (const auto refused = check_numbers(event, next_number() - 1)) return refused;
    if (event.facts.index() != facts_index(event.kind)) return Refusal::other_kind;
    if (event.at.at > now) return Refusal::in_the_future;
    if (!events_.empty()) {
        const Seconds apart = event.at.at - session_.opened;
        if (apart > bounds::span || -apart > bounds::span) return Refusal::too_far_apart;
    }
    return std::nullopt;
}

// A record at the end that is legal as it stands needs no other order of what came before.
bool Log::stands_last(const Event& event) const {
    const bool plain = event.replaces.empty() && event.kind != EventKind::withdrawn && !stands_first(event.kind);
    return plain && !events_.empty() && (!last_at_ || event.at.at >= *last_at_);
}

std::optional<Refusal> Log::append(Event event, Instant now) {
    event.number = next_number();
    event.noted = now;
    if (const auto refused = check_record(event, now)) return refused;
    if (event.kind == EventKind::opened) {
        Session session;
        if (const auto refused = apply(session, event)) return refused;
        session_ = std::move(session);
        void_.push_back(false);
        events_.push_back(std::move(event));
        return std::nullopt;
    }
    if (stands_last(event)) {
        const bool was_placed = event.placed;
        event.placed = true;
        if (!apply(session_, event)) {
            last_at_ = event.at.at;
            void_.push_back(false);
            events_.push_back(std::move(event));
            return std::nullopt;
        }
        event.placed = was_placed;
    }
    Session next;
    std::vector<bool> next_void;
    if (const auto refused = place(event, next, next_void)) return refused;
    session_ = std::move(next);
    void_ = std::move(next_void);
    if (!stands_first(event.kind) && (!last_at_ || event.at.at > *last_at_)) last_at_ = event.at.at;
    events_.push_back(std::move(event));
    return std::nullopt;
}

std::optional<Log> Log::of(std::vector<Event> events) { return take(events); }

std::optional<Log> Log::take(std::vector<Event>& events) {
    Log out;
    std::swap(out.events_, events);  // whole: a log of many records is many megabytes
    const auto give_back = [&]() -> std::optional<Log> {
        std::swap(out.events_, events);
        return std::nullopt;
    };
    std::int32_t number = 0;
    for (const Event& e : out.events_) {
        if (e.number != ++number || e.facts.index() != facts_index(e.kind)) return give_back();
        if (e.at.precision == Precision::minute && !e.placed) return give_back();
        if (e.at.at > e.noted || out.check_numbers(e, number - 1)) return give_back();
        if (number == 1) continue;
        const Seconds apart = e.at.at - out.events_.front().at.at;
        if (apart > bounds::span || -apart > bounds::span) return give_back();
        if (!stands_first(e.kind) && (!out.last_at_ || e.at.at > *out.last_at_)) out.last_at_ = e.at.at;
    }
    out.void_ = voided(out.events_);
    if (fold_all(out.events_, out.void_, out.session_)) return give_back();
    return out;
}

std::optional<Refusal> Log::would_refuse(Event event, Instant now) const {
    event.number = next_number();
    event.noted = now;
    if (const auto refused = check_record(event, now)) return refused;
    Session next;
    if (event.kind == EventKind::opened) return apply(next, event);
    if (stands_last(event)) {
        next = session_;
        if (!apply(next, event)) return std::nullopt;
    }
    std::vector<bool> next_void;
    return place(event, next, next_void);
}

Log Log::as_noted_at(Instant then) const {
    std::vector<Event> by_then;
    for (const Event& event : events_) {
        if (event.noted > then) break;
        by_then.push_back(event);
    }
    if (std::optional<Log> whole = of(by_then)) return std::move(*whole);
    Log out;
    for (const Event& event : by_then)
        if (out.adopt(event)) break;  // cannot be refused: it was taken when it was noted
    return out;
}

}  // namespace hangtime
