// Volumes, rates and masses: exactness, rounding and bounds. Checked by counting, against the definitions of
// the units; published examples of drip rates stand in tests/reference/.

#include "core/quantity.hpp"

#include <catch2/catch_test_macros.hpp>

#include <cstdint>

using namespace hangtime;

namespace {

struct Random {
    std::uint64_t state = 1;
    std::int64_t operator()(std::int64_t least, std::int64_t most) {
        state = state * 6'364'136'223'846'793'005u + 1'442'695'040'888'963'407u;
        return least +
               static_cast<std::int64_t>((state >> 20) % static_cast<std::uint64_t>(most - least + 1));
    }
};

} // namespace

TEST_CASE("every rate that a device can be set to runs a whole number of units each second") {
    for (std::int64_t n = 1; n <= 60'000; ++n) {
        // n hundredths of a mL/h, for an hour, is n hundredths of a mL.
        if (hundredths_of_ml_per_h(n) * hours(1) != hundredths_of_ml(n))
            FAIL(n);
    }
    CHECK(ml_per_h(1).units_per_s == 600);
    CHECK(tenths_of_ml_per_h(1).units_per_s == 60);
    CHECK(ml(1).units == 2'160'000);
    CHECK(ml_per_h(174) * minutes(60) == ml(174));
    CHECK(minutes(15) * ml_per_h(50) == tenths_of_ml(125));
}

TEST_CASE("drops a minute are exact for the drop factors of sets, and for no others") {
    int factors = 0;
    for (std::int32_t f = 1; f <= 60; ++f) {
        if (!is_drop_factor(f))
            continue;
        ++factors;
        for (std::int64_t drops = 1; drops <= 200; ++drops) {
            // As many minutes as there are drops in a mL: as many mL as drops a minute.
            if (drops_per_min(drops, {f}) * minutes(f) != ml(drops))
                FAIL(drops << " at " << f);
        }
    }
    CHECK(factors == 24); // 36 000 is 2^5 x 3^2 x 5^3: 72 divisors, of which 24 are at most 60
    for (const std::int64_t f : {10, 15, 20, 60})
        CHECK(is_drop_factor(f));
    for (const std::int64_t f : {0, -10, 7, 11, 13, 14, 17, 61, 72, 120})
        CHECK_FALSE(is_drop_factor(f));
    CHECK(drops_per_min(11, {10}) == ml_per_h(66));
}

TEST_CASE("a dose by weight and a limit by weight are never rounded") {
    CHECK(DosePerKg{100} * Mass{11'600} == ml(116)); // 10 mL/kg, 11.6 kg
    CHECK(DosePerKg{1} * Mass{1} == Volume{216});    // 0.1 mL/kg, 1 g
    CHECK(compare_ratio(hundredths_of_ml_per_kg_per_h(500) * Mass{11'600}, exactly(ml_per_h(58))) == 0);
    CHECK(compare_ratio(hundredths_of_ml_per_kg_per_h(500) * Mass{11'601}, exactly(ml_per_h(58))) > 0);
    CHECK(compare_ratio(hundredths_of_ml_per_kg_per_h(500) * Mass{11'599}, exactly(ml_per_h(58))) < 0);
}

TEST_CASE("exact flows are compared exactly, at the bounds too") {
    // The largest flows that can be asked for, which differ by one unit in a product of more than 64 bits.
    const RateRatio a{bounds::rate_per_kg.units_per_s * bounds::mass.grams, 1'000};
    const RateRatio b{a.num * 432'000, a.den * 432'000};
    CHECK(compare_ratio(a, b) == 0);
    CHECK(compare_ratio(a, RateRatio{b.num + 1, b.den}) < 0);
    CHECK(compare_ratio(RateRatio{b.num + 1, b.den}, a) > 0);
    CHECK(compare_ratio(ml(316) / hours(2), exactly(ml_per_h(158))) == 0);
    CHECK(compare_ratio(RateRatio{-1, 3}, RateRatio{0, 1}) < 0);
}

TEST_CASE("rounding up and down to a device's step gives the next step above and below") {
    Random random;
    for (const Rate step : {hundredths_of_ml_per_h(1), tenths_of_ml_per_h(1), ml_per_h(1), ml_per_h(5),
                            drops_per_min(1, {10}), drops_per_min(1, {20}), drops_per_min(1, {60})})
        for (int i = 0; i < 3000; ++i) {
            const RateRatio flow{random(0, ml(600).units), random(1, 86'400)};
            const Rate up = round_up(flow, step), down = round_down(flow, step);
            const bool on_step =
                up.units_per_s % step.units_per_s == 0 && down.units_per_s % step.units_per_s == 0;
            const bool above =
                compare_ratio(exactly(up), flow) >= 0 && compare_ratio(exactly(up - step), flow) < 0;
            const bool below =
                compare_ratio(exactly(down), flow) <= 0 && compare_ratio(exactly(down + step), flow) > 0;
            if (!on_step || !above || !below)
                FAIL(flow.num << "/" << flow.den << " in " << step.units_per_s);
        }
    // 173.43 mL/h is 174 upwards and 173 downwards; a flow that lies on a step stays where it is.
    const RateRatio wished = (ml(316) - tenths_of_ml(125)) / minutes(105);
    CHECK(round_up(wished, ml_per_h(1)) == ml_per_h(174));
    CHECK(round_down(wished, ml_per_h(1)) == ml_per_h(173));
    CHECK(round_up(exactly(ml_per_h(58)), tenths_of_ml_per_h(1)) == ml_per_h(58));
    CHECK(round_down(exactly(ml_per_h(58)), tenths_of_ml_per_h(1)) == ml_per_h(58));
    // One unit more than a step is a step more.
    CHECK(round_up(RateRatio{ml_per_h(58).units_per_s * 3 + 1, 3}, ml_per_h(1)) == ml_per_h(59));
}

TEST_CASE("the time for a volume is the first whole second by which it has run") {
    Random random;
    for (int i = 0; i < 20'000; ++i) {
        const Volume v{random(1, ml(5'000).units)};
        const Rate r{random(60, ml_per_h(6'000).units_per_s)};
        const Seconds t = time_for(v, r);
        if (r * t < v || r * (t - Seconds{1}) >= v)
            FAIL(v.units << " at " << r.units_per_s);
    }
    CHECK(time_for(tenths_of_ml(3'035), ml_per_h(174)) == minutes(104) + Seconds{40}); // 14:07 to 15:51:40
    CHECK(time_for(ml(116), ml_per_h(58)) == hours(2));
}

TEST_CASE("what flows in a time is rounded down, and dividing goes towards the right side of zero") {
    CHECK(flowed(RateRatio{10, 3}, Seconds{1}) == Volume{3});
    CHECK(flowed(RateRatio{10, 3}, Seconds{3}) == Volume{10});
    CHECK(floor_div(-7, 2) == -4);
    CHECK(floor_div(7, 2) == 3);
    CHECK(floor_div(-8, 2) == -4);
    CHECK(ceil_div(-7, 2) == -3);
    CHECK(ceil_div(7, 2) == 4);
    CHECK(ceil_div(8, 2) == 4);
}

TEST_CASE("spans, volumes and rates add up and are ordered") {
    CHECK(minutes(90) == hours(1) + minutes(30));
    CHECK(-minutes(1) == Seconds{-60});
    CHECK(minutes(1) - hours(1) < Seconds{0});
    CHECK(ml(3) - tenths_of_ml(5) == hundredths_of_ml(250));
    CHECK(ml_per_h(3) - tenths_of_ml_per_h(5) == hundredths_of_ml_per_h(250));
    CHECK(Mass{500} < Mass{501});
    CHECK(hundredths_of_ml_per_kg_per_h(100).units_per_s == ml_per_h(1).units_per_s);
}
