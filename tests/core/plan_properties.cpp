// What holds for any protocol and any transfusion. Each property runs over the same random plans; a failure
// names the seed that made it.

#include "core/reckon/reckoning.hpp"
#include "tests/core/plan_support.hpp"
#include "tests/core/random_plans.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

namespace {

constexpr int plans = 4000;

struct Made {
    Protocol protocol;
    State state;
    Instant now;
    Reckoning r;
};

// Calls `check` on each random plan that has everything it needs.
template <class F>
int for_each_plan(std::uint64_t salt, F check) {
    int seen = 0;
    for (int seed = 0; seed < plans; ++seed) {
        Random random(salt * 1'000'003 + static_cast<std::uint64_t>(seed));
        Made made;
        made.protocol = random_protocol(random);
        made.state = random_state(random, made.protocol);
        made.now = made.state.times.issued->at + Seconds{random.between(-4'000, 30'000)};
        reckon(made.protocol, made.state, made.now, made.r);
        INFO("salt " << salt << ", seed " << seed);
        REQUIRE(made.r.planned);
        ++seen;
        check(made, random);
    }
    return seen;
}

bool rates_short(const Reckoning& r) {
    return reasoned(r, Reason::ceiling_below_floor) || reasoned(r, Reason::no_step_between) ||
           reasoned(r, Reason::slow_stage_too_long) || reasoned(r, Reason::limit_before_start);
}

}  // namespace

TEST_CASE("no plan ends after its earliest limit without saying so") {
    int late = 0;
    for_each_plan(1, [&](const Made& m, Random&) {
        REQUIRE(m.r.finish_by);
        for (const Window& w : m.r.windows) {
            if (w.kind != LimitKind::finish || !w.latest) continue;
            CHECK(*m.r.finish_by <= *w.latest);
        }
        if (m.r.all_in <= *m.r.finish_by) return;
        CHECK(m.r.judgement.verdict == Verdict::does_not_fit);
        ++late;
    });
    CHECK(late > 0);  // such plans are among them: the limit has passed before the start
}

TEST_CASE("no stage runs faster than any ceiling") {
    for_each_plan(2, [](const Made& m, Random&) {
        for (const Stage& stage : m.r.stages)
            for (const Ceiling& ceiling : m.r.rates.ceilings)
                CHECK(compare_ratio(exactly(stage.rate), ceiling.rate) <= 0);
    });
}

TEST_CASE("what is given never exceeds the dose nor what the bag holds") {
    for_each_plan(3, [](const Made& m, Random&) {
        const Volumes& v = m.r.volumes;
        CHECK(v.given <= v.wanted);
        CHECK(v.given <= v.bag - v.lost);
        CHECK(v.left_in_bag >= Volume{});
        CHECK(v.left_in_line >= Volume{});
        CHECK(v.given + v.left_in_bag + v.left_in_line + v.lost == v.bag);
    });
}

TEST_CASE("stages follow one another and add up exactly") {
    for_each_plan(4, [](const Made& m, Random&) {
        Volume sum{};
        Instant at = m.r.start;
        for (const Stage& stage : m.r.stages) {
            CHECK(stage.from == at);
            CHECK(stage.volume > Volume{});
            CHECK(stage.rate * (stage.to - stage.from) >= stage.volume);
            CHECK(stage.rate * (stage.to - stage.from - Seconds{1}) < stage.volume);
            sum = sum + stage.volume;
            at = stage.to;
        }
        CHECK(m.r.all_in == at);
        CHECK(sum == m.r.volumes.pushed);
        CHECK(running_at(m.r, m.r.all_in).pushed == m.r.volumes.pushed);
        CHECK(running_at(m.r, m.r.all_in).given == m.r.volumes.given);
        CHECK(running_at(m.r, m.r.start).pushed == Volume{});
    });
}

TEST_CASE("every rate lies on the device's grid, and drops are counted whole") {
    for_each_plan(5, [](const Made& m, Random&) {
        for (const Stage& stage : m.r.stages) {
            CHECK(stage.rate.units_per_s % m.r.rates.step.units_per_s == 0);
            if (m.state.device.kind != DeviceKind::gravity) continue;
            CHECK(drops_per_min(stage.drops_per_min, m.state.device.drops) == stage.rate);
            CHECK(stage.count_drops * 60 == stage.drops_per_min * stage.count_over.count);
        }
    });
}

TEST_CASE("nothing but running volumes changes before next_change, and something changes at it") {
    int with_next = 0;
    for_each_plan(6, [&](const Made& m, Random& random) {
        Reckoning again;
        if (!m.r.next_change) {
            reckon(m.protocol, m.state, m.now + hours(200), again);
            again.now = m.r.now;
            CHECK(again == m.r);
            return;
        }
        ++with_next;
        const Seconds quiet = *m.r.next_change - m.now;
        REQUIRE(quiet > Seconds{});
        for (int i = 0; i < 3; ++i) {
            const Instant later = i == 0 ? *m.r.next_change - Seconds{1}
                                         : m.now + Seconds{random.between(0, quiet.count - 1)};
            reckon(m.protocol, m.state, later, again);
            again.now = m.r.now;
            CHECK(again == m.r);
        }
        reckon(m.protocol, m.state, *m.r.next_change, again);
        again.now = m.r.now;
        again.next_change = m.r.next_change;
        CHECK_FALSE(again == m.r);
    });
    CHECK(with_next > plans / 2);
}

TEST_CASE("the latest start fits, and a second later does not") {
    int found = 0;
    for_each_plan(7, [&](const Made& m, Random&) {
        if (!m.r.judgement.latest_start) return;
        State s = m.state;
        s.times.start->when.at = *m.r.judgement.latest_start;
        if (s.times.spiked && s.times.spiked->at > s.times.start->when.at) return;  // not a legal state
        // A wish counted from the start depends on it; an order by rate or "at least" has ceilings that do.
        Reckoning latest;
        reckon(m.protocol, s, s.times.start->when.at, latest);
        if (s.order.pace == Order::Pace::at_least) return;
        if (reasoned(m.r, Reason::hang_too_late) && m.state.times.spiked) return;
        ++found;
        CHECK(latest.judgement.verdict != Verdict::does_not_fit);
        s.times.start->when.at = *m.r.judgement.latest_start + Seconds{1};
        reckon(m.protocol, s, s.times.start->when.at, latest);
        CHECK(latest.judgement.verdict == Verdict::does_not_fit);
    });
    CHECK(found > 500);
}

TEST_CASE("the largest bag is whole tenths of a millilitre and fits, and a tenth more does not") {
    int found = 0;
    for_each_plan(8, [&](const Made& m, Random&) {
        const bool whole = !m.state.order.dose && !m.state.order.dose_per_kg;
        if (m.r.drifts) return;  // it runs, and its rate waits to be raised: no split is asked for any more
        if (!whole || !rates_short(m.r) || m.r.judgement.largest_bag <= m.state.line.lost) return;
        if (m.state.order.pace == Order::Pace::at_least) return;  // its ceiling follows the volume
        if (!m.state.line.cleared && m.r.judgement.largest_bag <= m.state.line.holds + m.state.line.lost) return;
        State s = m.state;
        s.unit.bag = m.r.judgement.largest_bag;
        Reckoning split;
        reckon(m.protocol, s, m.now, split);
        ++found;
        CHECK(s.unit.bag->units % tenths_of_ml(1).units == 0);
        CHECK_FALSE(rates_short(split));
        *s.unit.bag = *s.unit.bag + tenths_of_ml(1);
        reckon(m.protocol, s, m.now, split);
        CHECK(rates_short(split));
    });
    CHECK(found > 100);
}

TEST_CASE("at the weight that is named it fits, and a gram below it does not") {
    int found = 0;
    for_each_plan(14, [&](const Made& m, Random&) {
        if (!m.r.judgement.weight_on_grid) return;
        ++found;
        REQUIRE(m.r.judgement.weight_exact);
        CHECK(*m.r.judgement.weight_exact <= *m.r.judgement.weight_on_grid);
        State s = m.state;
        s.recipient.weight = *m.r.judgement.weight_on_grid;
        Reckoning there;
        reckon(m.protocol, s, m.now, there);
        for (const Reason reason : there.judgement.reasons)
            CHECK((there.judgement.verdict != Verdict::does_not_fit || reason == Reason::latest_start_passed ||
                   reason == Reason::will_pass_limit));  // it fits, and was begun too late or not raised in time
        if (m.protocol.rules(*s.unit.component).slow && m.protocol.rules(*s.unit.component).slow->rate_per_kg) return;
        s.recipient.weight.grams -= 1;
        reckon(m.protocol, s, m.now, there);
        CHECK(rates_short(there));
    });
    CHECK(found > 50);
}

TEST_CASE("the sum of what can be given comes out at what is said to be given") {
    int found = 0, after_line = 0;
    for_each_plan(15, [&](const Made& m, Random&) {
        const Sum& sum = m.r.judgement.can_give_sum;
        if (reasoned(m.r, Reason::line_holds_all)) CHECK(sum.kind == SumKind::none);
        if (sum.kind == SumKind::none) return;
        ++found;
        after_line += sum.kind == SumKind::can_be_given_after_line;
        CHECK(Volume{sum.figures[4].a} == m.r.judgement.can_give);
        CHECK(m.r.judgement.can_give <= m.r.volumes.bag);
    });
    CHECK(found > 100);
    CHECK(after_line > 50);
}

TEST_CASE("the rate for a wished duration is the lowest step that meets it") {
    // Brute force: try every step of the device and simulate.
    int found = 0;
    for_each_plan(9, [&](const Made& m, Random&) {
        if (m.r.rates.rule != RateRule::target || m.state.order.pace != Order::Pace::within) return;
        if (m.r.stages.size() != 2 || m.r.drifts) return;  // a slow stage that lasts longer leaves the rate as it was
        const CountsFrom counts = m.state.order.counts_from.value_or(m.protocol.duration_counts_from.value);
        const Instant wished = (counts == CountsFrom::start ? m.r.start : m.r.stages[0].to) + m.state.order.duration;
        const Volume rest = m.r.volumes.pushed - m.r.stages[0].volume;
        const Seconds time = wished - m.r.stages[0].to;
        if (time <= Seconds{}) return;  // shorter than the slow stage: there is no such step
        Rate lowest{};
        do lowest = lowest + m.r.rates.step;
        while (lowest * time < rest);
        ++found;
        CHECK(m.r.rates.set == lowest);
    });
    CHECK(found > 50);
}

TEST_CASE("a shorter wished duration never gives a slower rate") {
    int found = 0, shorter_than_slow = 0;
    for_each_plan(16, [&](const Made& m, Random& random) {
        if (m.state.order.pace != Order::Pace::within) return;
        if (m.r.judgement.verdict == Verdict::does_not_fit) return;
        State s = m.state;
        s.order.duration = Seconds{random.between(300, m.state.order.duration.count)};
        const Reckoning shorter = reckoned(m.protocol, s, m.now);
        if (shorter.judgement.verdict == Verdict::does_not_fit) return;
        const auto& slow = m.protocol.rules(*s.unit.component).slow;
        // A slow stage that was not raised in time is longer than the rules', and may be all there is.
        const bool inside = slow && !shorter.stages.empty() && shorter.stages[0].kind == StageKind::slow &&
                            s.order.duration <= shorter.stages[0].to - shorter.stages[0].from;
        shorter_than_slow += inside;
        // Without a highest rate of the rules or the order nothing that a device can do is taken for it (hazard 26).
        if (inside && shorter.rates.ceiling.kind == CeilingKind::device) return;
        ++found;
        INFO("from " << m.state.order.duration.count << " s to " << s.order.duration.count << " s, "
                     << m.r.rates.set.units_per_s << " to " << shorter.rates.set.units_per_s);
        CHECK(shorter.rates.set >= m.r.rates.set);
    });
    CHECK(found > 100);
    CHECK(shorter_than_slow > 5);
}

TEST_CASE("a sum stands behind a floor that there is, and behind no other") {
    int without = 0;
    for_each_plan(13, [&](const Made& m, Random&) {
        CHECK(m.r.rates.floor.has_value() == (m.r.rates.floor_sum.kind == SumKind::rest_to_limit));
        without += !m.r.rates.floor;
    });
    CHECK(without > 0);
}

TEST_CASE("somebody heavier never fits less well, where weight only sets the ceiling") {
    for_each_plan(10, [](const Made& m, Random&) {
        const ComponentRules& rules = m.protocol.rules(*m.state.unit.component);
        if (m.state.order.dose_per_kg || m.state.order.pace == Order::Pace::at_rate_per_kg) return;
        if (rules.usual.rate_per_kg || (rules.slow && rules.slow->rate_per_kg)) return;
        if (m.state.order.pace == Order::Pace::at_least) return;
        if (rates_short(m.r)) return;
        State s = m.state;
        s.recipient.weight.grams += 10'000;
        // With a higher ceiling the slow stage may only come closer to what the protocol says.
        CHECK_FALSE(rates_short(reckoned(m.protocol, s, m.now)));
    });
}

TEST_CASE("a plan that fits keeps every window it plans for") {
    for_each_plan(11, [](const Made& m, Random&) {
        if (m.r.judgement.verdict == Verdict::does_not_fit) return;
        for (const Window& w : m.r.windows)
            if (w.kind == LimitKind::hang || w.kind == LimitKind::start || w.kind == LimitKind::finish)
                CHECK(w.kept);
    });
}

TEST_CASE("checks are in order, each once, the interval ones at whole intervals from the start") {
    for_each_plan(12, [](const Made& m, Random&) {
        const CheckRules& rules = m.protocol.checks;
        const Instant* before = nullptr;
        for (const Check& check : m.r.checks) {
            if (before) CHECK(*before <= check.due);
            before = &check.due;
            if (check.kind == CheckKind::interval) {
                const bool cannot = m.state.recipient.can_report == Answer::no && rules.interval_cannot_report;
                const Seconds interval = cannot ? rules.interval_cannot_report->value : rules.interval->value;
                CHECK((check.due - m.r.start).count == interval.count * (check.index + 1));
                CHECK(check.due < m.r.all_in);
            }
        }
    });
}
