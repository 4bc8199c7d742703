// Moments and the clock on the wall. The table in tests/reference/clock_changes.cpp is from the tz database.

#include "tests/reference/clock_table.hpp"

#include "core/clock.hpp"

#include <catch2/catch_test_macros.hpp>

#include <array>

using namespace hangtime;

namespace {

WallClock wall_of(const reference::ClockCase& zone) {
    WallClock wall(minutes(zone.first_offset_min));
    for (const auto& change : zone.changes)
        REQUIRE(wall.add_change({change.utc}, minutes(change.offset_min)));
    return wall;
}

Error error_of(std::string_view text, const WallClock& wall = WallClock()) {
    const auto read = read_time(text, wall, "here");
    INFO(text);
    REQUIRE_FALSE(read.ok());
    CHECK(read.error().where == "here");
    CHECK_FALSE(read.error().accepted.empty());
    return read.error();
}

// The clock is put back from 3:00 to 2:00 at 01:00Z, and forward from 2:00 to 3:00 at 01:00Z in spring.
WallClock autumn() {
    WallClock wall(hours(2));
    REQUIRE(wall.add_change({1'792'890'000}, hours(1))); // 2026-10-25T01:00Z
    return wall;
}
WallClock spring() {
    WallClock wall(hours(1));
    REQUIRE(wall.add_change({1'774'746'000}, hours(2))); // 2026-03-29T01:00Z
    return wall;
}

} // namespace

TEST_CASE("the wall clock shows what the tz database says") {
    REQUIRE(reference::clock_cases().size() >= 8);
    for (const auto& zone : reference::clock_cases()) {
        const WallClock wall = wall_of(zone);
        for (const auto& shown : zone.shown) {
            INFO("zone " << zone.zone << ", " << shown.utc);
            CHECK(iso_text({shown.utc}, wall) == shown.local);
            const auto back = read_time(shown.local, wall, "");
            REQUIRE(back.ok());
            CHECK(back.value().at == Instant{shown.utc});
            CHECK(back.value().precision == Precision::second);
        }
    }
}

TEST_CASE("a local time is shown once, twice or never, as the tz database says") {
    for (const auto& zone : reference::clock_cases()) {
        const WallClock wall = wall_of(zone);
        for (const auto& reading : zone.readings) {
            INFO("zone " << zone.zone << ", " << reading.local);
            const auto read = read_time(reading.local, wall, "");
            CHECK(read.ok() == (reading.moments.size() == 1));
            if (reading.moments.size() == 1)
                CHECK(read.value().at == Instant{reading.moments[0]});
            if (reading.moments.empty())
                CHECK(read.error().problem.find("does not exist") != std::string::npos);
            if (reading.moments.size() == 2) {
                CHECK(read.error().problem.find("comes twice") != std::string::npos);
                // Both ways to say which are read, and they are the two moments.
                for (const std::int64_t moment : reading.moments) {
                    const auto sure = read_time(iso_text({moment}, wall), wall, "");
                    REQUIRE(sure.ok());
                    CHECK(sure.value().at == Instant{moment});
                    CHECK(iso_text({moment}, wall).starts_with(reading.local));
                }
            }
        }
    }
}

TEST_CASE("every day of the century is on the calendar, counted by hand") {
    std::int64_t seconds = 946'684'800; // 2000-01-01
    for (int year = 2000; year < 2100; ++year) {
        const bool leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
        const std::array<int, 12> lengths = {31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
        for (int month = 1; month <= 12; ++month)
            for (int day = 1; day <= lengths[static_cast<std::size_t>(month - 1)]; ++day) {
                const LocalTime start{year, month, day, 0, 0, 0}, end{year, month, day, 23, 59, 59};
                if (civil_from_seconds(seconds) != start || civil_from_seconds(seconds + 86'399) != end ||
                    days_from_civil(year, month, day) * 86'400 != seconds)
                    FAIL(year << "-" << month << "-" << day);
                seconds += 86'400;
            }
    }
    CHECK(seconds == bounds::latest.utc + 1);
    CHECK(civil_from_seconds(-1) == LocalTime{1969, 12, 31, 23, 59, 59});
}

TEST_CASE("a time is read to the minute or to the second, with an offset or without") {
    const WallClock wall(hours(1));
    const auto minute = read_time("2026-03-14T13:40", wall, "");
    REQUIRE(minute.ok());
    CHECK(minute.value() == Stated{{1'773'492'000}, Precision::minute});
    CHECK(read_time("2026-03-14T13:40:30", wall, "").value() == Stated{{1'773'492'030}, Precision::second});
    CHECK(read_time("2026-03-14T13:40+01:00", wall, "").value() == minute.value());
    CHECK(read_time("2026-03-14T12:40Z", wall, "").value() == minute.value());
    CHECK(read_time("2026-03-14T09:10-03:30", WallClock(minutes(-210)), "").value() == minute.value());
}

TEST_CASE("what is no time is refused") {
    for (const char* text : {"",
                             "13:40",
                             "2026-03-14",
                             "2026-03-14 13:40",
                             "2026-3-14T13:40",
                             "26-03-14T13:40",
                             "2026-03-14T13:40:3",
                             "2026-03-14T13:40:30.5",
                             "2026-03-14T13:40 ",
                             "2026-03-14T1340",
                             "2026-03-14t13:40",
                             "2026-03-14T13:40z",
                             "2026-03-14T13:40+1",
                             "2026-03-14T13:40+01",
                             "2026-03-14T13:40+0100",
                             "2026-03-14T13:40+01:00x",
                             "2026-03-14T13:40ZZ",
                             "2026-03-14T13:40-16:00",
                             "2026-03-14T13:40+01:60",
                             "2026-03-14T1:40 pm",
                             "-026-03-14T13:40",
                             "2026-03-14T13:4O"})
        CHECK(error_of(text).problem.ends_with("is not a time"));
    for (const char* text :
         {"2026-02-29T12:00", "2026-13-01T12:00", "2026-00-10T12:00", "2026-04-31T12:00", "2026-03-00T12:00",
          "2026-03-14T24:00", "2026-03-14T13:60", "2026-03-14T13:40:60"})
        CHECK(error_of(text).problem.ends_with("is not on the calendar or the clock"));
    for (const char* text :
         {"1999-12-31T23:59:59", "2100-01-01T00:00", "0001-01-01T00:00", "9999-12-31T00:00"})
        CHECK(error_of(text).problem.ends_with("is out of range"));
    CHECK(read_time("2000-01-01T00:00", WallClock(), "").ok());
    CHECK(read_time("2099-12-31T23:59:59", WallClock(), "").ok());
    CHECK(read_time("2024-02-29T12:00", WallClock(), "").ok());
}

TEST_CASE("a time that the clock jumps over, or shows twice, or an offset that it has not, is refused") {
    CHECK(error_of("2026-03-29T02:00", spring()).problem ==
          "\"2026-03-29T02:00\" does not exist: the clock jumps over it");
    CHECK(error_of("2026-03-29T02:59:59", spring()).problem.find("does not exist") != std::string::npos);
    CHECK(read_time("2026-03-29T01:59:59", spring(), "").ok());
    CHECK(read_time("2026-03-29T03:00", spring(), "").ok());

    const Error twice = error_of("2026-10-25T02:30", autumn());
    CHECK(twice.problem == "\"2026-10-25T02:30\" comes twice that day: the clock is put back");
    CHECK(twice.accepted == "the same time with its offset, +02:00 or +01:00");
    CHECK(read_time("2026-10-25T02:30+02:00", autumn(), "").value().at + hours(1) ==
          read_time("2026-10-25T02:30+01:00", autumn(), "").value().at);
    CHECK(read_time("2026-10-25T01:59:59", autumn(), "").ok());
    CHECK(read_time("2026-10-25T03:00", autumn(), "").ok());

    CHECK(error_of("2026-10-25T04:00+02:00", autumn())
              .problem.ends_with("has an offset that the clock does not have then"));
    CHECK(error_of("2026-10-25T04:00+02:00", autumn()).accepted ==
          "the offset +01:00 (or none, or Z), as \"clock\" says");
    CHECK(error_of("2026-10-25T02:30+00:00", autumn()).problem.ends_with("does not have then"));
}

TEST_CASE("clock changes are later than one another, few, and of whole minutes") {
    WallClock wall(hours(1));
    CHECK_FALSE(wall.add_change({1'000'000'000}, hours(15) + minutes(1)));
    CHECK_FALSE(wall.add_change({1'000'000'000}, -hours(15) - minutes(1)));
    CHECK_FALSE(wall.add_change({1'000'000'000}, Seconds{3'601}));
    CHECK(wall.change_count() == 0);
    CHECK(wall.add_change({1'000'000'000}, hours(2)));
    CHECK_FALSE(wall.add_change({1'000'000'000}, hours(1)));
    CHECK_FALSE(wall.add_change({999'999'999}, hours(1)));
    CHECK(wall.add_change({1'000'000'001}, hours(1)));
    CHECK(wall.add_change({1'000'000'002}, hours(2)));
    CHECK(wall.add_change({1'000'000'003}, hours(1)));
    CHECK_FALSE(wall.add_change({1'000'000'004}, hours(2)));
    CHECK(wall.change_count() == WallClock::most_changes);
    CHECK(wall.first_offset() == hours(1));
}

TEST_CASE("the wall calendar's day is the one on the wall") {
    CHECK(WallClock(hours(1)).local_day({946'684'800 + 23 * 3600}) ==
          WallClock().local_day({946'684'800}) + 1);
    CHECK(WallClock(hours(-1)).local_day({946'684'800}) == WallClock().local_day({946'684'800}) - 1);
    // The night on which the clock is put back has 25 hours, and is one day.
    const Instant first = autumn().resolve({2026, 10, 25, 0, 0, 0}).first.value();
    const Instant last = autumn().resolve({2026, 10, 25, 23, 59, 59}).first.value();
    CHECK(last - first == hours(25) - Seconds{1});
    CHECK(autumn().local_day(first) == autumn().local_day(last));
}
