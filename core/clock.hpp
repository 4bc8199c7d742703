#pragma once

/// Moments and the clock on the wall.
///
/// A moment is whole seconds of UTC. What the clock on the wall shows is that plus an offset, and the offset
/// comes from outside (a browser, or the file): core/ holds no time-zone rules and reads no clock. A session
/// may cross midnight and may cross one or more changes of the offset.

#include "core/quantity.hpp"
#include "core/result.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace hangtime {

/// Seconds since 1970-01-01T00:00:00Z, leap seconds not counted.
struct Instant {
    std::int64_t utc = 0;

    friend constexpr auto operator<=>(Instant, Instant) = default;
    friend constexpr Instant operator+(Instant a, Seconds s) { return {a.utc + s.count}; }
    friend constexpr Instant operator-(Instant a, Seconds s) { return {a.utc - s.count}; }
    friend constexpr Seconds operator-(Instant a, Instant b) { return {a.utc - b.utc}; }
};

/// The first second of the minute that a moment lies in (also before 1970), and the full minute at or after it.
constexpr Instant minute_of(Instant at) { return {at.utc - ((at.utc % 60) + 60) % 60}; }
constexpr Instant full_minute_from(Instant at) { return minute_of(at + Seconds{59}); }

/// Readers take moments of the years 2000 to 2099 only.
namespace bounds {
inline constexpr Instant earliest = {946'684'800};
inline constexpr Instant latest = {4'102'444'799};
}  // namespace bounds

/// A reading of a wall clock. Fields are in their usual ranges.
struct LocalTime {
    int year = 0, month = 0, day = 0;
    int hour = 0, minute = 0, second = 0;

    friend constexpr auto operator<=>(const LocalTime&, const LocalTime&) = default;
};

/// Days since 1970-01-01 of a calendar date, and back (proleptic Gregorian).
std::int64_t days_from_civil(int year, int month, int day);
LocalTime civil_from_seconds(std::int64_t seconds_since_1970);

/// The wall clock: one offset, and the moments at which it changes.
class WallClock {
public:
    struct Change {
        Instant at;
        Seconds offset;  // from then on, east positive
    };
    static constexpr std::size_t most_changes = 4;

    WallClock() = default;
    explicit WallClock(Seconds offset) : first_(offset) {}

    /// Adds a later change; false (and unchanged) when it is not later than the last, when there are too many
    /// or when the offset is beyond 15 hours or not whole minutes.
    bool add_change(Instant at, Seconds offset);

    Seconds offset_at(Instant at) const;
    LocalTime local(Instant at) const;
    std::int64_t local_day(Instant at) const;  // days since 1970-01-01 as the wall calendar counts them

    /// The moment at which the wall clock shows `local`: none where the clock jumps over it, two where it is
    /// put back (then `second` is set as well).
    struct Resolved {
        std::optional<Instant> first;
        std::optional<Instant> second;
    };
    Resolved resolve(const LocalTime& local) const;

    const std::array<Change, most_changes>& changes() const { return changes_; }
    std::size_t change_count() const { return count_; }
    Seconds first_offset() const { return first_; }

private:
    Seconds first_{0};
    std::array<Change, most_changes> changes_{};
    std::size_t count_ = 0;
};

/// How exactly a time was entered. A minute is placed at its first second.
enum class Precision : std::uint8_t { minute, second };

/// A time that somebody stated.
struct Stated {
    Instant at;
    Precision precision = Precision::minute;

    friend constexpr bool operator==(const Stated&, const Stated&) = default;
};

/// Reads "2026-03-14T13:40", "...:40:30", with "Z" or an offset "+01:00" or none (then the wall clock decides).
/// Refuses a time that the wall clock never shows, one that it shows twice (unless an offset tells which),
/// and an offset that the wall clock does not have at that moment. `where` goes into the error.
Result<Stated> read_time(std::string_view text, const WallClock& wall, std::string_view where);

/// "2026-03-14T13:40:00+01:00"
std::string iso_text(Instant at, const WallClock& wall);

}  // namespace hangtime
