// Two-stage test vectors, computed by hand in the facts that this project started from (no published worked
// example of a two-stage transfusion was found): 50 mL/h for 15 min, then the rest in the time that is left.

#include "tests/core/plan_support.hpp"
#include "tests/reference/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;
using namespace hangtime::reference;

namespace {
RateRatio second_rate(std::int64_t first, std::int64_t volume, std::int64_t total_min) {
    Protocol p = plain_protocol();
    red_cells(p).slow->rate = ml_per_h(first);
    State s = plain_state(p, ml(volume), at("10:00"), at("10:00"));
    s.order.duration = minutes(total_min);
    return *reckoned(p, s).rates.target;
}
}  // namespace

TEST_CASE("by hand: the second rate after 50 mL/h for 15 min") {
    CHECK(close_ml_per_h(second_rate(50, 350, 120), 19286, 4));   // 192.9
    CHECK(close_ml_per_h(second_rate(50, 300, 120), 16430, 4));   // 164.3
    CHECK(close_ml_per_h(second_rate(50, 300, 180), 10450, 5));   // 104.5
    CHECK(close_ml_per_h(second_rate(50, 300, 240), 7667, 4));    // 76.7
    CHECK(close_ml_per_h(second_rate(50, 280, 90), 21400, 1));    // 214
    CHECK(compare_ratio(second_rate(50, 280, 90), exactly(ml_per_h(214))) == 0);
}

TEST_CASE("by hand: the second rate after 120 mL/h for 15 min") {
    // Deviation: by hand the second rate would be 72 mL/h, lower than the first. We never run the first minutes
    // faster than the rest: 75 mL/h throughout.
    CHECK(compare_ratio((ml(300) - ml_per_h(120) * minutes(15)) / minutes(225), exactly(ml_per_h(72))) == 0);
    CHECK(compare_ratio(second_rate(120, 300, 240), exactly(ml_per_h(75))) == 0);
    CHECK(compare_ratio(second_rate(120, 280, 90), exactly(ml_per_h(200))) == 0);
}

TEST_CASE("by hand: whole drops, 250 mL in 4 h through 10 drops/mL rounded to the nearest breaks the limit") {
    CHECK(hundredths_of_drops(ml(250) / hours(4), {10}) == 1042);
    CHECK(time_for(ml(250), drops_per_min(10, {10})) == minutes(250));
    CHECK(drops_that_meet(ml(250) / hours(4), {10}) == 11);
}

TEST_CASE("by hand: more drop rates") {
    CHECK(hundredths_of_drops(ml(300) / hours(2), {20}) == 5000);
    CHECK(hundredths_of_drops(ml(300) / hours(3), {20}) == 3333);
    CHECK(hundredths_of_drops(ml(300) / hours(4), {15}) == 1875);
    CHECK(hundredths_of_drops(ml(350) / hours(4), {10}) == 1458);
    CHECK(hundredths_of_drops(ml(60) / hours(4), {60}) == 1500);
}
