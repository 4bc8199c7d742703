// Queen's University Belfast, numeracy skills for drug calculations, drip rates (read in the source's own text:
// the questions; the answers were not visible there, so the expected exact values are worked here by hand).
// Deviation: textbooks round to the nearest drop; where a limit has to be met we round up.

#include "tests/reference/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::reference;

TEST_CASE("QUB numeracy: 250 mL of blood over 4 h through 15 drops/mL") {
    const RateRatio flow = ml(250) / hours(4);
    CHECK(hundredths_of_drops(flow, {15}) == 1563);  // 15.625
    CHECK(drops_that_meet(flow, {15}) == 16);
    CHECK(time_for(ml(250), drops_per_min(16, {15})) <= hours(4));
    CHECK(time_for(ml(250), drops_per_min(15, {15})) > hours(4));
}

TEST_CASE("QUB numeracy: 1000 mL over 12 h through 20 drops/mL") {
    const RateRatio flow = ml(1000) / hours(12);
    CHECK(hundredths_of_drops(flow, {20}) == 2778);
    CHECK(drops_that_meet(flow, {20}) == 28);
}
