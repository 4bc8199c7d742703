// What is advised has to do: each piece of advice over random plans is taken and the whole is reckoned again.

#include "core/reckon/reckoning.hpp"
#include "tests/core/plan_support.hpp"
#include "tests/core/random_plans.hpp"

#include <catch2/catch_test_macros.hpp>

#include <map>

using namespace hangtime;
using namespace hangtime::test;

namespace {

constexpr int plans = 12000;

// The state after the advice was taken; false: the advice is no change of the plan (whom to ask, what to send).
bool take(const Advised& advice, State& s) {
    switch (advice.code) {
        case Advice::ask_split: s.unit.bag = Volume{advice.figures[0].a}; return true;
        case Advice::ask_prescriber_dose:
            s.order.dose_per_kg.reset();
            s.order.dose = Volume{advice.figures[0].a};
            return true;
        case Advice::ask_prescriber_rate: {
            const Rate rate{advice.figures[0].a};
            s.order.pace = Order::Pace::at_rate;
            s.order.rate = rate;
            if (s.order.most && *s.order.most < rate) s.order.most = rate;
            return true;
        }
        case Advice::start_earlier: {
            const Instant start{advice.figures[0].a};
            s.times.start->when.at = start;
            // A bag is spiked before it is started; that is still to come, or the advice could not be given.
            if (s.times.spiked && s.times.spiked->at > start) s.times.spiked->at = start;
            return true;
        }
        default: return false;
    }
}

}  // namespace

TEST_CASE("each split, smaller dose, rate and earlier start that is advised fits when it is taken", "[advice]") {
    std::map<Advice, int> seen;
    std::map<Order::Pace, int> splits;
    for (int seed = 0; seed < plans; ++seed) {
        Random random(77 * 1'000'003 + static_cast<std::uint64_t>(seed));
        const Protocol protocol = random_protocol(random);
        const State state = random_state(random, protocol);
        const Instant now = state.times.issued->at + Seconds{random.between(-4'000, 16'000)};
        const Reckoning r = reckoned(protocol, state, now);
        for (const Advised& advice : r.judgement.advice) {
            State taken = state;
            if (!take(advice, taken)) continue;
            ++seen[advice.code];
            if (advice.code == Advice::ask_split) ++splits[state.order.pace];
            // A volume is asked for as it is told: what stands there can be entered, and it fits.
            if (advice.figures[0].kind == FigureKind::volume) CHECK(advice.figures[0].a % tenths_of_ml(1).units == 0);
            if (advice.code == Advice::start_earlier) CHECK(taken.times.start->when.at >= now);
            if (advice.code == Advice::start_earlier && state.times.spiked != taken.times.spiked)
                CHECK(taken.times.spiked->at >= now);
            const Reckoning again = reckoned(protocol, taken, now);
            INFO("seed " << seed << ", advice " << static_cast<int>(advice.code) << ", pace "
                         << static_cast<int>(state.order.pace) << ", reason "
                         << (again.judgement.reasons.empty() ? -1 : static_cast<int>(again.judgement.reasons[0])));
            CHECK(again.judgement.verdict != Verdict::does_not_fit);
        }
    }
    // Each kind was there to be taken, also a split under "over at least".
    CHECK(seen[Advice::ask_split] > 100);
    CHECK(seen[Advice::ask_prescriber_dose] > 20);
    CHECK(seen[Advice::ask_prescriber_rate] > 20);
    CHECK(seen[Advice::start_earlier] > 100);
    CHECK(splits[Order::Pace::at_least] > 5);
}
