#pragma once

/// What somebody has to be reminded of: ahead of a due check or of a limit, at it, and after it. Ahead is the
/// protocol's closing minutes, after is its grace. Times by the charted clock. A reminder is words in the title and on
/// the screen, and one soft sound where that is switched on; it is no alarm.

#include "web/desk/desk.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtime::desk {

enum class Remind : std::uint8_t { not_yet, ahead, at, after };

struct Reminder {
    const Case* of = nullptr;
    std::string what;      // "Early check", "All in by"
    bool limit = false;
    Instant ahead{}, at{}, after{};

    Remind stage(Instant now) const {
        return now >= after ? Remind::after : now >= at ? Remind::at : now >= ahead ? Remind::ahead : Remind::not_yet;
    }
};

/// All that lies ahead or is open, of one session that was reckoned.
std::vector<Reminder> reminders_of(const Case& c);
/// The one that presses most at `now`, of all sessions; none where nothing is near.
std::optional<Reminder> pressing(const Desk& desk, Instant now);
/// The next moment after `now` at which a reminder is given.
std::optional<Instant> next_reminder(const Desk& desk, Instant now);
/// Whether one was given in (`from`, `until`].
bool reminded(const Desk& desk, Instant from, Instant until);

/// "kite 4821: Early check, due since 14:07"
std::string reminder_text(const Reminder& reminder, Instant now);

} // namespace hangtime::desk
