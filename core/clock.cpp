#include "core/clock.hpp"

#include <chrono>

namespace hangtime {

namespace {

constexpr std::int64_t day_seconds = 86'400;

// Reads exactly `digits` decimal digits at `pos` and moves on; -1 when they are not there.
int take_number(std::string_view text, std::size_t& pos, int digits) {
    int value = 0;
    for (int i = 0; i < digits; ++i, ++pos) {
        if (pos >= text.size() || text[pos] < '0' || text[pos] > '9') return -1;
        value = value * 10 + (text[pos] - '0');
    }
    return value;
}

bool take(std::string_view text, std::size_t& pos, char wanted) {
    if (pos >= text.size() || text[pos] != wanted) return false;
    ++pos;
    return true;
}

std::string two(int n) {
    std::string out;
    out += static_cast<char>('0' + n / 10 % 10);
    out += static_cast<char>('0' + n % 10);
    return out;
}

std::string offset_text(Seconds offset) {
    const bool west = offset.count < 0;
    const int minutes_off = static_cast<int>((west ? -offset.count : offset.count) / 60);
    return (west ? "-" : "+") + two(minutes_off / 60) + ":" + two(minutes_off % 60);
}

std::int64_t seconds_of(const LocalTime& t) {
    return days_from_civil(t.year, t.month, t.day) * day_seconds + t.hour * 3600 + t.minute * 60 + t.second;
}

constexpr std::string_view accepted_form =
    "a time such as 2026-03-14T13:40 or 2026-03-14T13:40:30, with or without an offset (+01:00 or Z)";

}  // namespace

std::int64_t days_from_civil(int year, int month, int day) {
    using namespace std::chrono;
    const auto date = std::chrono::year{year} / month / day;
    return sys_days{date}.time_since_epoch().count();
}

LocalTime civil_from_seconds(std::int64_t seconds) {
    using namespace std::chrono;
    const std::int64_t day = floor_div(seconds, day_seconds);
    const int rest = static_cast<int>(seconds - day * day_seconds);
    const year_month_day date{sys_days{days{static_cast<int>(day)}}};
    return {static_cast<int>(date.year()),
            static_cast<int>(static_cast<unsigned>(date.month())),
            static_cast<int>(static_cast<unsigned>(date.day())),
            rest / 3600, rest / 60 % 60, rest % 60};
}

bool WallClock::add_change(Instant at, Seconds offset) {
    if (count_ == most_changes) return false;
    if (count_ > 0 && at <= changes_[count_ - 1].at) return false;
    if (offset < hours(-15) || offset > hours(15) || offset.count % 60 != 0) return false;
    changes_[count_++] = {at, offset};
    return true;
}

Seconds WallClock::offset_at(Instant at) const {
    Seconds offset = first_;
    for (std::size_t i = 0; i < count_ && changes_[i].at <= at; ++i) offset = changes_[i].offset;
    return offset;
}

LocalTime WallClock::local(Instant at) const { return civil_from_seconds(at.utc + offset_at(at).count); }

std::int64_t WallClock::local_day(Instant at) const {
    return floor_div(at.utc + offset_at(at).count, day_seconds);
}

WallClock::Resolved WallClock::resolve(const LocalTime& local) const {
    const std::int64_t shown = seconds_of(local);
    Resolved found;
    // Each stretch between changes has one offset and so one candidate; it counts if it lies in its stretch.
    for (std::size_t i = 0; i <= count_; ++i) {
        const Seconds offset = i == 0 ? first_ : changes_[i - 1].offset;
        const Instant candidate{shown - offset.count};
        if (i > 0 && candidate < changes_[i - 1].at) continue;
        if (i < count_ && candidate >= changes_[i].at) continue;
        if (!found.first) {
            found.first = candidate;
        } else if (candidate != *found.first) {
            found.second = candidate;
        }
    }
    return found;
}

Result<Stated> read_time(std::string_view text, const WallClock& wall, std::string_view where) {
    const auto fail = [&](std::string problem, std::string_view accepted) {
        return Error{std::string(where), std::move(problem), std::string(accepted)};
    };
    std::size_t pos = 0;
    LocalTime t;
    Stated stated;
    const auto malformed = [&] { return fail("\"" + std::string(text) + "\" is not a time", accepted_form); };

    if ((t.year = take_number(text, pos, 4)) < 0 || !take(text, pos, '-')) return malformed();
    if ((t.month = take_number(text, pos, 2)) < 0 || !take(text, pos, '-')) return malformed();
    if ((t.day = take_number(text, pos, 2)) < 0 || !take(text, pos, 'T')) return malformed();
    if ((t.hour = take_number(text, pos, 2)) < 0 || !take(text, pos, ':')) return malformed();
    if ((t.minute = take_number(text, pos, 2)) < 0) return malformed();
    if (take(text, pos, ':')) {
        if ((t.second = take_number(text, pos, 2)) < 0) return malformed();
        stated.precision = Precision::second;
    }
    const std::chrono::year_month_day date{std::chrono::year{t.year} / t.month / t.day};
    if (!date.ok() || t.hour > 23 || t.minute > 59 || t.second > 59)
        return fail("\"" + std::string(text) + "\" is not on the calendar or the clock", accepted_form);

    if (pos == text.size()) {
        const auto found = wall.resolve(t);
        if (!found.first)
            return fail("\"" + std::string(text) + "\" does not exist: the clock jumps over it",
                        "a time that the clock on the wall shows that day");
        if (found.second)
            return fail("\"" + std::string(text) + "\" comes twice that day: the clock is put back",
                        "the same time with its offset, " + offset_text(wall.offset_at(*found.first)) +
                            " or " + offset_text(wall.offset_at(*found.second)));
        stated.at = *found.first;
    } else {
        Seconds offset{0};
        if (!take(text, pos, 'Z')) {
            const bool west = pos < text.size() && text[pos] == '-';
            if (!west && !(pos < text.size() && text[pos] == '+')) return malformed();
            ++pos;
            const int h = take_number(text, pos, 2);
            if (h < 0 || !take(text, pos, ':')) return malformed();
            const int m = take_number(text, pos, 2);
            if (m < 0 || h > 15 || m > 59) return malformed();
            offset = minutes(h * 60 + m);
            if (west) offset = -offset;
        }
        if (pos != text.size()) return malformed();
        stated.at = {seconds_of(t) - offset.count};
        const bool zulu = text.back() == 'Z';
        if (!zulu && wall.offset_at(stated.at) != offset)
            return fail("\"" + std::string(text) + "\" has an offset that the clock does not have then",
                        "the offset " + offset_text(wall.offset_at(stated.at)) +
                            " (or none, or Z), as \"clock\" says");
    }
    if (stated.at < bounds::earliest || stated.at > bounds::latest)
        return fail("\"" + std::string(text) + "\" is out of range", "a year from 2000 to 2099");
    return stated;
}

std::string iso_text(Instant at, const WallClock& wall) {
    const LocalTime t = wall.local(at);
    return two(t.year / 100) + two(t.year % 100) + "-" + two(t.month) + "-" + two(t.day) + "T" + two(t.hour) +
           ":" + two(t.minute) + ":" + two(t.second) + offset_text(wall.offset_at(at));
}

}  // namespace hangtime
