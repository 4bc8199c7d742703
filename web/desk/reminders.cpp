#include "web/desk/reminders.hpp"

#include "core/plan/record_words.hpp"
#include "core/words/words.hpp"

namespace hangtime::desk {

std::vector<Reminder> reminders_of(const Case& c) {
    std::vector<Reminder> out;
    if (c.unreadable || c.log.empty())
        return out;
    const Session& s = c.session();
    const Reckoning& r = c.live.reckoning;
    const Seconds ahead = s.protocol->closing, grace = s.protocol->checks.grace;
    const bool started = s.phase >= Phase::running && !s.state.run.flows.empty();
    if (started)
        for (const Check& check : r.checks) {
            if (check.kind == CheckKind::baseline)
                continue;
            if (check.state != CheckState::due && check.state != CheckState::to_come)
                continue;
            out.push_back({&c, std::string(name(check.kind)), false, check.due - ahead, check.due,
                           check.due + grace + Seconds{1}});
        }
    // After a suspected reaction the interval is another one, until the unit is closed or it runs again.
    if (const auto due = observations_due(s); due && (s.phase == Phase::paused || s.phase == Phase::ended))
        out.push_back({&c, "Observations after the stop", false, *due - ahead, *due, *due + grace + Seconds{1}});
    for (const Window& w : r.windows) {
        if (!w.binds || !w.latest || w.state == WindowState::met || w.state == WindowState::not_running ||
            w.state == WindowState::not_recorded)
            continue;
        const bool before = s.phase == Phase::here, hung = before || s.phase == Phase::hung;
        const bool runs = s.phase == Phase::running || s.phase == Phase::paused;
        const bool counts = w.kind == LimitKind::finish    ? hung || runs
                            : w.kind == LimitKind::start   ? hung
                            : w.kind == LimitKind::change_set ? runs
                                                              : before;
        if (!counts || s.disposal)
            continue;
        // To make up one's mind is said at its minute; it is nothing to be late for.
        const Seconds before_it = w.kind == LimitKind::decide ? Seconds{} : ahead;
        out.push_back({&c, std::string(name(w.kind)), true, *w.latest - before_it, *w.latest, *w.latest + Seconds{1}});
    }
    return out;
}

std::optional<Reminder> pressing(const Desk& desk, Instant now) {
    std::optional<Reminder> most;
    for (const auto& c : desk.cases())
        for (Reminder& reminder : reminders_of(*c)) {
            const Remind stage = reminder.stage(now);
            if (stage == Remind::not_yet)
                continue;
            if (!most || stage > most->stage(now) || (stage == most->stage(now) && reminder.at < most->at))
                most = std::move(reminder);
        }
    return most;
}

std::optional<Instant> next_reminder(const Desk& desk, Instant now) {
    std::optional<Instant> next;
    for (const auto& c : desk.cases())
        for (const Reminder& reminder : reminders_of(*c))
            for (const Instant at : {reminder.ahead, reminder.at, reminder.after})
                if (at > now && (!next || at < *next))
                    next = at;
    return next;
}

bool reminded(const Desk& desk, Instant from, Instant until) {
    for (const auto& c : desk.cases())
        for (const Reminder& reminder : reminders_of(*c))
            for (const Instant at : {reminder.ahead, reminder.at, reminder.after})
                if (at > from && at <= until)
                    return true;
    return false;
}

std::string reminder_text(const Reminder& reminder, Instant now) {
    const Session& s = reminder.of->session();
    const DayClock day = day_clock_of(s);
    std::string out = joined({name(s.object), s.digits ? " " : "",
                              s.digits ? std::string_view(s.digits->data(), 4) : std::string_view(), ": ",
                              reminder.what});
    const std::string at = clock_text(reminder.at, day);
    switch (reminder.stage(now)) {
    case Remind::not_yet: break;
    case Remind::ahead: return out + (reminder.limit ? ", closing, " + at + " at the latest" : ", soon, at " + at);
    case Remind::at: return out + (reminder.limit ? ", now, " + at : ", due since " + at);
    case Remind::after: return out + (reminder.limit ? ", passed at " + at : ", late, was due at " + at);
    }
    return out;
}

} // namespace hangtime::desk
