#include "core/match/expiry.hpp"

namespace hangtime {

namespace {

std::int64_t seconds_of(const LocalTime& t) {
    return days_from_civil(t.year, t.month, t.day) * 86'400 + t.hour * 3'600 + t.minute * 60;
}

// As the clock on the wall counts, whatever its offset.
std::int64_t wall_seconds(const LabelTime& expiry) {
    return seconds_of(expiry.at) + (expiry.end_of_day ? 60 : 0);
}

}  // namespace

std::optional<LabelTime> earliest_expiry(const std::optional<LabelTime>& a,
                                         const std::optional<LabelTime>& b) {
    if (!a) return b;
    if (!b) return a;
    return wall_seconds(*b) < wall_seconds(*a) ? b : a;
}

Instant expires_at(const LabelTime& expiry, const WallClock& wall) {
    std::int64_t seconds = wall_seconds(expiry);
    // A clock jumps by a few hours at most; one that jumped for longer than a day would show no such time.
    for (int minute = 0; minute < 24 * 60; ++minute, seconds -= 60) {
        const auto resolved = wall.resolve(civil_from_seconds(seconds));
        if (resolved.first) return *resolved.first;
    }
    return {seconds_of(expiry.at)};  // no clock is like that
}

}  // namespace hangtime
