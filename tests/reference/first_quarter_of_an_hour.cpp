// What runs in the first 15 minutes, as sources print it:
//   NZ Blood Service ward guide, one district: at most 50 mL/h (read in the source's own text);
//   the same publisher, another district: "up to 50 mL", a volume (likewise): four times as much;
//   a US hospital laboratory's guideline, 2017, and a US skill sheet, 2022: about 2 mL/min, 120 mL/h (likewise);
//   AABB Technical Manual, red cells 1 to 2 mL/min (from memory, not read).
// The volumes beside the rates were computed in the facts that this project started from.

#include "tests/reference/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;

TEST_CASE("NZ ward guide: 50 mL/h for 15 min is 12.5 mL") {
    CHECK(ml_per_h(50) * minutes(15) == tenths_of_ml(125));
}

TEST_CASE("NZ ward guide, another district: 50 mL in 15 min is 200 mL/h, four times the other") {
    CHECK(compare_ratio(ml(50) / minutes(15), exactly(ml_per_h(200))) == 0);
    CHECK(ml_per_h(200) * minutes(15) == ml(50));
}

TEST_CASE("US guideline and skill sheet: 2 mL/min is 120 mL/h, 30 mL in 15 min") {
    CHECK(compare_ratio(ml(2) / minutes(1), exactly(ml_per_h(120))) == 0);
    CHECK(ml_per_h(120) * minutes(15) == ml(30));
}

TEST_CASE("AABB manual, from memory: 1 to 2 mL/min for 15 min is 15 to 30 mL") {
    CHECK(ml_per_h(60) * minutes(15) == ml(15));
    CHECK(ml_per_h(120) * minutes(15) == ml(30));
}
