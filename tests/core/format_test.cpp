// Safe writing of numbers and times. Sources: the ISMP list of error-prone abbreviations, symbols and dose
// designations (no trailing zero, a leading zero, a space before the unit, mL); NHS Common User Interface
// guides, "Date Display" / "Time Display" (24-hour HH:mm, seconds only if needed, durations in whole units
// with the zero units left out, "Not recorded" and never a blank).

#include "core/words/format.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;

TEST_CASE("a dose number has no trailing zero and keeps its leading one") {
    CHECK(dose_number(50, 1, 2) == "50");
    CHECK(dose_number(500, 10, 2) == "50");
    CHECK(dose_number(1, 2, 2) == "0.5");
    CHECK(dose_number(5, 100, 2) == "0.05");
    CHECK(dose_number(1050, 1000, 3) == "1.05");
    CHECK(dose_number(0, 7, 2) == "0");
    CHECK(dose_number(-1, 2, 2) == "-0.5");
    CHECK(dose_number(-1, 1000, 2) == "0");  // never "-0"
}

TEST_CASE("rounding goes the way that is asked for") {
    CHECK(dose_number(2, 3, 2) == "0.67");
    CHECK(dose_number(2, 3, 2, Rounding::down) == "0.66");
    CHECK(dose_number(1, 3, 2, Rounding::up) == "0.34");
    CHECK(dose_number(1, 8, 2) == "0.13");  // a half goes up
    CHECK(dose_number(-1, 3, 2, Rounding::up) == "-0.33");
    CHECK(dose_number(-1, 3, 2, Rounding::down) == "-0.34");
    CHECK(dose_number(999, 1000, 2) == "1");  // carries into the whole number
    // A product that only fits 128 bits.
    CHECK(dose_number(static_cast<Wide>(4'000'000'000'000'000'000), 1'000'000'000'000'000'000, 2) == "4");
}

TEST_CASE("a measured number keeps the digit that was measured") {
    CHECK(measured_number(370) == "37.0");
    CHECK(measured_number(368) == "36.8");
    CHECK(measured_number(-5) == "-0.5");
    CHECK(measured_number(0) == "0.0");
}

TEST_CASE("volumes") {
    CHECK(volume_text(ml(316)) == "316 mL");
    CHECK(volume_text(tenths_of_ml(2175)) == "217.5 mL");
    CHECK(volume_text(Volume{ml(217).units + units_per_ml * 46 / 100}) == "217.5 mL");
    CHECK(volume_text(Volume{ml(217).units + units_per_ml * 46 / 100}, Rounding::down) == "217.4 mL");
    CHECK(volume_text(hundredths_of_ml(855)) == "8.55 mL");  // a neonate's
    CHECK(volume_text(ml(0)) == "0 mL");
    CHECK(exact_volume_text(hundredths_of_ml(1275)) == "12.75 mL");
}

TEST_CASE("a rate has no more digits than its step") {
    CHECK(rate_text(ml_per_h(174)) == "174 mL/h");
    CHECK(rate_text(tenths_of_ml_per_h(580)) == "58 mL/h");
    CHECK(rate_text(tenths_of_ml_per_h(585)) == "58.5 mL/h");
    CHECK(rate_text(hundredths_of_ml_per_h(5)) == "0.05 mL/h");
    CHECK(rate_text(drops_per_min(11, {10})) == "66 mL/h");
    CHECK(rate_text(drops_per_min(1, {20})) == "3 mL/h");
    for (int n = 1; n < 3000; ++n) {
        CHECK(rate_text(ml_per_h(n)).find('.') == std::string::npos);
        const std::string tenths = rate_text(tenths_of_ml_per_h(n));
        const auto point = tenths.find('.');
        CHECK((point == std::string::npos || tenths.find(' ') - point == 2));
    }
}

TEST_CASE("an exact flow is written to a hundredth") {
    // (316 - 12.5) mL in 105 min: 173.428571...
    CHECK(ratio_text(tenths_of_ml(3035) / minutes(105)) == "173.43 mL/h");
    CHECK(ratio_text(hundredths_of_ml_per_kg_per_h(500) * Mass{11'600}) == "58 mL/h");
    CHECK(ratio_text(ml(280) / minutes(150), Rounding::down) == "112 mL/h");
}

TEST_CASE("masses, to the gram") {
    CHECK(mass_text({11'600}) == "11.6 kg");
    CHECK(mass_text({84'147}) == "84.147 kg");
    CHECK(mass_text({84'200}) == "84.2 kg");
    CHECK(mass_text({85'000}) == "85 kg");
    CHECK(mass_text({850}) == "0.85 kg");
    CHECK(mass_text({0}) == "not recorded");
}

TEST_CASE("by weight, by drops and in percent") {
    CHECK(rate_per_kg_text(hundredths_of_ml_per_kg_per_h(500)) == "5 mL/kg/h");
    CHECK(rate_per_kg_text(hundredths_of_ml_per_kg_per_h(250)) == "2.5 mL/kg/h");
    CHECK(dose_per_kg_text({100}) == "10 mL/kg");
    CHECK(dose_per_kg_text({75}) == "7.5 mL/kg");
    CHECK(drop_factor_text({20}) == "20 drops/mL");
    CHECK(drops_text(11) == "11 drops/min");
    CHECK(drops_text(1) == "1 drop/min");
    CHECK(percent_text(50) == "5 %");
    CHECK(percent_text(25) == "2.5 %");
}

TEST_CASE("durations leave out what is zero") {
    CHECK(span_text(minutes(105)) == "1 h 45 min");
    CHECK(span_text(hours(2)) == "2 h");
    CHECK(span_text(minutes(15)) == "15 min");
    CHECK(span_text({7180}) == "1 h 59 min 40 s");
    CHECK(span_text({3601}) == "1 h 1 s");
    CHECK(span_text({40}) == "40 s");
    CHECK(span_text({0}) == "0 min");
    CHECK(span_text(minutes(-4)) == "4 min");
    CHECK(span_text(hours(120)) == "120 h");
    CHECK(minutes_left_text({119}) == "1 min");
    CHECK(minutes_left_text({59}) == "0 min");
    CHECK(elapsed_text(minutes(15)) == "+0:15");
    CHECK(elapsed_text({7180}) == "+1:59:40");
    CHECK(elapsed_text(minutes(-20)) == "-0:20");
    CHECK(elapsed_text({0}) == "+0:00");
}

namespace {

Instant utc(int year, int month, int day, int hour, int minute, int second = 0) {
    return {days_from_civil(year, month, day) * 86'400 + hour * 3600 + minute * 60 + second};
}

}  // namespace

TEST_CASE("clock times say seconds only where there are any, and the day only where it is another") {
    const WallClock wall(hours(1));
    const DayClock day(wall, utc(2026, 3, 14, 22, 40));
    CHECK(clock_text(utc(2026, 3, 14, 12, 52), day) == "13:52");
    CHECK(clock_text(utc(2026, 3, 14, 14, 51, 40), day) == "15:51:40");
    CHECK(clock_text(utc(2026, 3, 14, 23, 10), day) == "00:10 day +1");
    CHECK(clock_text(utc(2026, 3, 13, 8, 5), day) == "09:05 day -1");
    CHECK(clock_text(utc(2026, 3, 16, 8, 5), day) == "09:05 day +2");
    CHECK(minute_text(utc(2026, 3, 14, 14, 51, 40), day) == "15:51");
}

TEST_CASE("where the clock is changed, the times after it say their offset") {
    WallClock back(hours(2));  // 03:00 summer time becomes 02:00
    const Instant change = utc(2026, 10, 25, 1, 0);
    REQUIRE(back.add_change(change, hours(1)));
    const DayClock day(back, utc(2026, 10, 24, 21, 40));
    CHECK(clock_text(utc(2026, 10, 24, 21, 52), day) == "23:52");
    CHECK(clock_text(utc(2026, 10, 25, 0, 30), day) == "02:30 UTC+2 day +1");  // comes twice
    CHECK(clock_text(utc(2026, 10, 25, 1, 30), day) == "02:30 UTC+1 day +1");
    CHECK(clock_text(utc(2026, 10, 25, 3, 0), day) == "04:00 UTC+1 day +1");
    CHECK(clock_text(utc(2026, 10, 24, 23, 30), day) == "01:30 day +1");
    CHECK(utc_offset_text(hours(0)) == "UTC");
    CHECK(utc_offset_text(minutes(-210)) == "UTC-3:30");
    CHECK(utc_offset_text(minutes(345)) == "UTC+5:45");
}

TEST_CASE("a figure is written by its kind, and nothing is ever blank") {
    const DayClock day(WallClock(Seconds{0}), utc(2026, 3, 14, 0, 0));
    CHECK(figure_text({}, day) == "not recorded");
    CHECK(figure_text(tenths_of_ml(125), day) == "12.5 mL");
    CHECK(figure_text(minutes(105), day) == "1 h 45 min");
    CHECK(figure_text(utc(2026, 3, 14, 13, 40), day) == "13:40");
    CHECK(figure_text(DropFactor{20}, day) == "20 drops/mL");
    CHECK(figure_text({FigureKind::count, 22}, day) == "22");
    CHECK(figure_text({FigureKind::percent_tenths, 50}, day) == "5 %");
    for (int kind = 0; kind <= static_cast<int>(FigureKind::percent_tenths); ++kind)
        CHECK_FALSE(figure_text({static_cast<FigureKind>(kind), 7}, day).empty());
}
