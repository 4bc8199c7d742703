#pragma once

/// The append-only log of one session (design section 4). A mistake is mended by a later record that replaces or
/// withdraws earlier ones by number; nothing is rewritten. Corrections are applied first, then the records are
/// ordered by when they happened, ties by number, and folded. Whether a record is legal is judged on the whole log
/// that would result: if it is not, it is refused with the reason and the log stays as it was.

#include "core/session/events.hpp"
#include "core/session/session.hpp"

#include <optional>
#include <vector>

namespace hangtime {

class Log {
public:
    /// Adds a record and gives it the next number. A time to the minute is placed inside its minute where that keeps
    /// the log legal. `now` is the moment of noting, by the clock that people chart by; what has happened lies at or
    /// before it. Costs the same however long the log is, unless the record lies before another one or corrects
    /// something: then the whole log is folded again.
    std::optional<Refusal> append(Event event, Instant now);

    /// The same for a record that is read back: its `noted` counts as now.
    std::optional<Refusal> adopt(Event event) {
        const Instant noted = event.noted;
        return append(std::move(event), noted);
    }

    /// A log of records that were judged before, one by one, as they were noted: folded once, whatever their order.
    /// None where a record has not been placed in its minute yet, or where something speaks against one after all.
    static std::optional<Log> of(std::vector<Event> events);
    /// The same; the records are taken out of `events` only where a log comes of them.
    static std::optional<Log> take(std::vector<Event>& events);

    /// What would `append` say? The log is not changed.
    std::optional<Refusal> would_refuse(Event event, Instant now) const;

    const std::vector<Event>& events() const { return events_; }
    const Session& session() const { return session_; }
    bool empty() const { return events_.empty(); }
    std::int32_t next_number() const { return static_cast<std::int32_t>(events_.size()) + 1; }

    /// True where a later record has taken its place or withdrawn it.
    bool is_void(std::int32_t number) const { return void_[static_cast<std::size_t>(number - 1)]; }

    /// The log as it stood when the last record that was noted at or before `then` had been added.
    Log as_noted_at(Instant then) const;

private:
    /// `before`: how many records there are before this one.
    std::optional<Refusal> check_numbers(const Event& event, std::int32_t before) const;
    std::optional<Refusal> check_record(const Event& event, Instant now) const;
    bool stands_last(const Event& event) const;
    std::optional<Refusal> place(Event& event, Session& next, std::vector<bool>& next_void) const;

    std::vector<Event> events_;
    std::vector<bool> void_;          // by number - 1
    Session session_;
    std::optional<Instant> last_at_;  // the latest moment in the log
};

}  // namespace hangtime
