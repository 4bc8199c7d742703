// The National Early Warning Score 2 as published by the Royal College of Physicians, London, December 2017
// (chart 1, the scoring system; chart 4, the responses). Grades of what is below:
// - bands: read in a copy of chart 1 without its columns. The second scale fills all seven columns, so its points follow
//   from the order; those of the other rows were read with their points in a second, independent reproduction that gives
//   the points of each band (respirations 3 1 0 2 3, first scale 3 2 1 0, oxygen 2, systolic 3 2 1 0 3, pulse 3 1 0 1 2 3,
//   temperature 3 1 0 1 2), and the sum of the highest is the published range of 0 to 20 (RCP journals). Published.
// - the points for consciousness (alert 0, else 3): the chart's last column, and the same range. Published.
// - thresholds 5, 7 and 3 in one part: read in the RCP's table of cut points. Published.
// - not under 16 years, not in pregnancy: read in secondary texts about NEWS2 only, not in the report. Secondary.

#include "core/observe/news2.hpp"
#include "tests/core/observe_support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <vector>

using namespace hangtime;
using namespace hangtime::test;

namespace {

struct Row {
    int from, to, points;
};

// Every value from the first row's start to the last row's end.
template <class Set>
void table(ScorePart part, const std::vector<Row>& rows, const Set& set, const Person& person = adult()) {
    int next = rows.front().from;
    for (const Row& row : rows) {
        REQUIRE(row.from == next);  // no gap and no overlap
        for (int value = row.from; value <= row.to; ++value) {
            Observation o;
            set(o, value);
            INFO(value);
            CHECK(news2(person, o).of(part) == row.points);
        }
        next = row.to + 1;
    }
}

}  // namespace

TEST_CASE("NEWS2, the whole table", "[observe]") {
    table(ScorePart::respirations, {{0, 8, 3}, {9, 11, 1}, {12, 20, 0}, {21, 24, 2}, {25, 150, 3}},
          [](Observation& o, int v) { o.respirations_per_min = number(v); });
    table(ScorePart::saturation, {{20, 91, 3}, {92, 93, 2}, {94, 95, 1}, {96, 100, 0}},
          [](Observation& o, int v) { o.saturation_percent = number(v); });
    table(ScorePart::systolic, {{10, 90, 3}, {91, 100, 2}, {101, 110, 1}, {111, 219, 0}, {220, 320, 3}},
          [](Observation& o, int v) { o.systolic_mmhg = number(v); });
    table(ScorePart::pulse,
          {{0, 40, 3}, {41, 50, 1}, {51, 90, 0}, {91, 110, 1}, {111, 130, 2}, {131, 320, 3}},
          [](Observation& o, int v) { o.pulse_per_min = number(v); });
    table(ScorePart::temperature,
          {{250, 350, 3}, {351, 360, 1}, {361, 380, 0}, {381, 390, 1}, {391, 460, 2}},
          [](Observation& o, int v) { o.temperature = tenths_c(v); });
    // 95.0, 96.8, 100.4 and 102.2 F are 35.0, 36.0, 38.0 and 39.0 C.
    table(ScorePart::temperature,
          {{770, 950, 3}, {951, 968, 1}, {969, 1004, 0}, {1005, 1022, 1}, {1023, 1148, 2}},
          [](Observation& o, int v) { o.temperature = tenths_f(v); });
    Observation o;
    o.on_oxygen = true;
    CHECK(news2(adult(), o).of(ScorePart::oxygen) == 2);
    o.on_oxygen = false;
    CHECK(news2(adult(), o).of(ScorePart::oxygen) == 0);
    for (int i = 0; i < consciousness_count; ++i) {
        o.consciousness = static_cast<Consciousness>(i);
        CHECK(news2(adult(), o).of(ScorePart::consciousness) == (i == 0 ? 0 : 3));
    }
}

TEST_CASE("NEWS2, the second scale for saturation", "[observe]") {
    Person person = adult();
    person.saturation_scale_2 = true;
    const auto on = [](bool oxygen) {
        return [oxygen](Observation& o, int v) {
            o.saturation_percent = number(v);
            o.on_oxygen = oxygen;
        };
    };
    table(ScorePart::saturation, {{20, 83, 3}, {84, 85, 2}, {86, 87, 1}, {88, 100, 0}}, on(false), person);
    table(ScorePart::saturation,
          {{20, 83, 3}, {84, 85, 2}, {86, 87, 1}, {88, 92, 0}, {93, 94, 1}, {95, 96, 2}, {97, 100, 3}}, on(true),
          person);
    Observation o;
    o.saturation_percent = number(93);  // harmless on air only, and which it is is not recorded
    CHECK(news2(person, o).of(ScorePart::saturation) == News2::not_recorded);
    o.saturation_percent = number(92);
    CHECK(news2(person, o).of(ScorePart::saturation) == 0);
}

TEST_CASE("NEWS2: from 0 to 20, and the published responses", "[observe]") {
    const News2 least = news2(adult(), unremarkable());
    CHECK(least.total == 0);
    CHECK(least.given);
    CHECK(least.complete());
    CHECK(least.limits.empty());
    CHECK(least.band == ScoreBand::zero);

    Observation worst = unremarkable();
    worst.respirations_per_min = number(25);
    worst.saturation_percent = number(91);
    worst.on_oxygen = true;
    worst.systolic_mmhg = number(90);
    worst.pulse_per_min = number(131);
    worst.consciousness = Consciousness::confused;
    worst.temperature = tenths_c(350);
    CHECK(news2(adult(), worst).total == 20);
    CHECK(news2(adult(), worst).band == ScoreBand::high);

    Observation o = unremarkable();
    o.systolic_mmhg = number(110);
    CHECK(news2(adult(), o).band == ScoreBand::low);           // 1
    o.systolic_mmhg = number(90);
    CHECK(news2(adult(), o).band == ScoreBand::three_in_one);  // 3 in one
    o.pulse_per_min = number(91);
    CHECK(news2(adult(), o).band == ScoreBand::three_in_one);  // 4
    o.pulse_per_min = number(111);
    CHECK(news2(adult(), o).band == ScoreBand::medium);        // 5
    o.temperature = tenths_c(381);
    CHECK(news2(adult(), o).band == ScoreBand::medium);        // 6
    o.temperature = tenths_c(391);
    CHECK(news2(adult(), o).band == ScoreBand::high);          // 7
}

TEST_CASE("NEWS2 is not given to children or in pregnancy, and says what is missing", "[observe]") {
    const Observation set = unremarkable();
    CHECK_FALSE(news2(child(20'000), set).given);
    CHECK(news2(child(20'000), set).limits[0] == ScoreLimit::not_for_this_age);
    CHECK(news2({AgeGroup::youth, {}, {}, false}, set).given);
    const News2 unknown = news2({}, set);
    CHECK(unknown.given);
    CHECK(unknown.limits[0] == ScoreLimit::age_not_recorded);
    Person person = adult();
    person.pregnant = true;
    CHECK_FALSE(news2(person, set).given);
    CHECK(news2(person, set).limits[0] == ScoreLimit::not_in_pregnancy);
    for (int i = 0; i < sign_count; ++i) {
        Observation less = set;
        less.clear(static_cast<Sign>(i));
        const News2 score = news2(adult(), less);
        const Sign sign = static_cast<Sign>(i);
        const bool part = sign != Sign::diastolic && sign != Sign::mean_pressure && sign != Sign::lungs &&
                          sign != Sign::site && sign != Sign::urine && sign != Sign::symptoms;
        CHECK(score.complete() != part);
        CHECK(score.limits.empty() != part);
    }
}

TEST_CASE("NEWS2 misses what the rules for transfusions find", "[observe]") {
    Observation o = unremarkable();
    o.temperature = tenths_c(380);  // from 36.5: fever by both limbs
    o.systolic_mmhg = number(111);  // from 145
    CHECK(news2(adult(), o).total == 0);
}
