// The worked results that the plan has to come out with, one test each, in the order in which the project's
// first requirement lists them. The arithmetic was done by hand there; the values are exact.

#include "core/words/words.hpp"
#include "tests/core/plan_support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

namespace {
using Clocks = std::vector<std::string>;
}  // namespace

TEST_CASE("an adult's unit in two hours from the start") {
    const Protocol p = plain_protocol();
    State s = plain_state(p, ml(316), at("13:40"), at("13:52"));
    Reckoning r = reckoned(p, s);

    REQUIRE(r.planned);
    CHECK(clock_of(*window(r, LimitKind::hang).latest) == "14:10");
    CHECK(clock_of(*r.start_by) == "14:10");
    CHECK(clock_of(*r.finish_by) == "17:40");
    REQUIRE(r.stages.size() == 2);
    CHECK(r.stages[0].rate == ml_per_h(50));
    CHECK(clock_of(r.stages[1].from) == "14:07");
    CHECK(r.stages[1].rate == ml_per_h(174));
    // 303.5 mL in 6300 s is 173.428... mL/h.
    CHECK(compare_ratio(*r.rates.target, exactly(hundredths_of_ml_per_h(17342))) > 0);
    CHECK(compare_ratio(*r.rates.target, exactly(hundredths_of_ml_per_h(17343))) < 0);
    CHECK(clock_of(r.all_in) == "15:51:40");
    CHECK(check_times(r) == Clocks{"13:52", "14:07", "14:52", "15:51:40", "16:51:40"});
    CHECK(r.judgement.verdict == Verdict::fits);
    CHECK(r.volumes.given == ml(316));

    SECTION("one second earlier it is not all in") {
        const Running before = running_at(r, r.all_in - Seconds{1});
        CHECK(before.given < ml(316));
        CHECK(running_at(r, r.all_in).given == ml(316));
    }
    SECTION("the duration counted from the rate change") {
        s.order.counts_from = CountsFrom::rate_change;
        CHECK(reckoned(p, s).rates.set == ml_per_h(152));
    }
}

TEST_CASE("a long transfusion: checks are counted from the start and a late one moves none") {
    Protocol p = plain_protocol();
    set_limit(p, LimitKind::finish, Anchor::started, minutes(300));
    State s = plain_state(p, ml(450), at("09:00"), at("09:20"));
    s.order.duration = minutes(280);
    s.times.start->happened = true;
    const Instant now = at("13:20");
    Reckoning r = reckoned(p, s, now);
    const auto until_now = [&](const Reckoning& made) {
        Clocks times;
        for (const Check& check : made.checks)
            if (check.kind != CheckKind::baseline && check.kind != CheckKind::start && check.due <= now)
                times.push_back(clock_of(check.due));
        return times;
    };
    REQUIRE(r.all_in > now);
    CHECK(clock_of(*r.finish_by) == "14:20");
    CHECK(until_now(r) == Clocks{"09:35", "10:20", "11:20", "12:20", "13:20"});

    s.checks_done.add({CheckKind::early, 0, {at("09:49"), Precision::minute}});
    const Reckoning late = reckoned(p, s, now);
    CHECK(until_now(late) == Clocks{"09:35", "10:20", "11:20", "12:20", "13:20"});
    for (const Check& check : late.checks)
        if (check.kind == CheckKind::early) CHECK(check.state == CheckState::done_late);
}

TEST_CASE("somebody frail: the unit cannot be in by the limit at the rate they can bear") {
    Protocol p = plain_protocol();
    State s = plain_state(p, ml(300), at("10:00"), at("10:20"));
    s.order.pace = Order::Pace::usual;
    s.recipient.weight = Mass{60'000};
    s.recipient.overload_risk = Answer::yes;
    const Reckoning r = reckoned(p, s);

    CHECK(r.judgement.verdict == Verdict::does_not_fit);
    CHECK(reasoned(r, Reason::ceiling_below_floor));
    CHECK(r.judgement.can_give == tenths_of_ml(2175));
    CHECK(r.judgement.would_be_left == tenths_of_ml(825));
    CHECK(r.judgement.largest_bag == tenths_of_ml(2175));
    CHECK(advised(r, Advice::ask_split));
    CHECK(advised(r, Advice::no_earlier_start));
    CHECK_FALSE(advised(r, Advice::start_earlier));
    CHECK_FALSE(advised(r, Advice::ask_prescriber_rate));  // never a rate above what they can bear
    REQUIRE(r.judgement.weight_exact);
    CHECK(r.judgement.weight_exact->grams == 84'147);
    CHECK(r.judgement.weight_on_grid->grams == 85'000);
    CHECK(clock_of(r.all_in) == "14:00");  // it stops at the limit
    CHECK(r.next.empty());

    SECTION("with steps of 0.1 mL/h") {
        s.device.step = tenths_of_ml_per_h(1);
        CHECK(reckoned(p, s).judgement.weight_on_grid->grams == 84'200);
    }
    SECTION("the verdict turns exactly there, on a grid of 1 mL/h") {
        s.recipient.weight = Mass{84'999};
        CHECK(reckoned(p, s).judgement.verdict == Verdict::does_not_fit);
        CHECK(reasoned(reckoned(p, s), Reason::no_step_between));
        CHECK(advised(reckoned(p, s), Advice::finer_device));
        s.recipient.weight = Mass{85'000};
        CHECK(reckoned(p, s).judgement.verdict == Verdict::fits);
    }
    SECTION("and on a grid of 0.1 mL/h") {
        s.device.step = tenths_of_ml_per_h(1);
        s.recipient.weight = Mass{84'199};
        CHECK(reasoned(reckoned(p, s), Reason::no_step_between));
        s.recipient.weight = Mass{84'200};
        CHECK(reckoned(p, s).judgement.verdict == Verdict::fits);
    }
    SECTION("and by the exact ratio") {
        s.recipient.weight = Mass{84'146};
        CHECK(reasoned(reckoned(p, s), Reason::ceiling_below_floor));
        s.recipient.weight = Mass{84'147};
        CHECK(reasoned(reckoned(p, s), Reason::no_step_between));
    }
    SECTION("a split of that size fits, and one a tenth larger does not") {
        s.unit.bag = tenths_of_ml(2175);
        const Reckoning split = reckoned(p, s);
        CHECK(split.judgement.verdict == Verdict::fits);
        CHECK(split.all_in == *split.finish_by);
        s.unit.bag = tenths_of_ml(2176);
        CHECK(reckoned(p, s).judgement.verdict == Verdict::does_not_fit);
    }
}

TEST_CASE("gravity: whole drops that still meet the limit") {
    Protocol p = plain_protocol();
    red_cells(p).slow.reset();
    set_limit(p, LimitKind::finish, Anchor::started, minutes(240));
    State s = plain_state(p, ml(250), at("08:00"), at("08:10"));
    s.device.kind = DeviceKind::gravity;
    s.device.drops = {10};
    s.order.duration = minutes(240);
    const Reckoning r = reckoned(p, s);

    REQUIRE(r.stages.size() == 1);
    CHECK(r.stages[0].drops_per_min == 11);
    CHECK(r.rates.set == ml_per_h(66));
    // 250 mL at 66 mL/h: 227.27 min, so the first whole second after 227 min 16 s.
    CHECK(r.all_in - r.start == Seconds{227 * 60 + 17});
    CHECK(r.stages[0].count_over == Seconds{60});
    CHECK(r.stages[0].count_drops == 11);
    CHECK(warned(r, Warning::count_exactly));  // 10 in the minute would run 250 min
    for (const Warned& warned : r.warnings)  // and one more breaks nothing
        if (warned.code == Warning::count_exactly)
            CHECK(warning_text(warned.code, warned.figures, DayClock()) ==
                  "Count exactly: 11 drops in 60 s. One drop fewer breaks a limit.");
    CHECK(reasoned(r, Reason::reserve_drop));

    SECTION("a count over 15 s where it is whole and has room") {
        s.order.duration = minutes(104);  // 250 mL in 104 min is 24.04 drops a minute
        const Reckoning roomy = reckoned(p, s);
        CHECK(roomy.stages[0].drops_per_min == 25);
        s.order.duration = minutes(105);  // 23.8, so 24
        const Reckoning quarter = reckoned(p, s);
        CHECK(quarter.stages[0].drops_per_min == 24);
        CHECK(quarter.stages[0].count_over == Seconds{15});
        CHECK(quarter.stages[0].count_drops == 6);
        CHECK_FALSE(warned(quarter, Warning::count_exactly));
    }
    SECTION("22 a minute is not whole in 15 s, but in 30") {
        s.order.duration = minutes(118);
        const Reckoning half = reckoned(p, s);
        CHECK(half.stages[0].drops_per_min == 22);
        CHECK(half.stages[0].count_over == Seconds{30});
        CHECK(half.stages[0].count_drops == 11);
    }
}

TEST_CASE("a line of 20 mL, primed with saline or with component, cleared or not") {
    Protocol p = plain_protocol();
    State s = plain_state(p, ml(316), at("13:40"), at("13:52"));

    SECTION("primed with saline") {
        s.line.primed_with = Primed::saline;
        const Reckoning r = reckoned(p, s);
        CHECK(r.rates.set == ml_per_h(185));
        CHECK(clock_of(r.first_component) == "14:09:26");
        CHECK(warned(r, Warning::component_after_slow_stage));
        CHECK(clock_of(r.all_in) == "15:51:56");
        CHECK(r.volumes.pushed == ml(336));
        CHECK(r.volumes.given == ml(316));
    }
    SECTION("primed with saline, under a protocol that counts from the vein") {
        p.slow_counts_from.value = SlowFrom::vein;
        s.line.primed_with = Primed::saline;
        const Reckoning r = reckoned(p, s);
        // 20 mL at 50 mL/h take 24 min; the 15 min of the slow stage and of the early check count from then.
        CHECK(clock_of(r.first_component) == "14:16");
        CHECK(clock_of(r.stages[1].from) == "14:31");
        CHECK(check_times(r)[1] == "14:31");
        CHECK_FALSE(warned(r, Warning::component_after_slow_stage));
        CHECK(r.stages[0].volume == tenths_of_ml(325));
        CHECK(r.volumes.given == ml(316));
    }
    SECTION("primed with component: the bag is empty 20 mL before all in") {
        const Reckoning r = reckoned(p, s);
        REQUIRE(r.bag_empty);
        CHECK(running_at(r, *r.bag_empty - Seconds{1}).pushed < ml(296));
        CHECK(running_at(r, *r.bag_empty).pushed >= ml(296));
        CHECK(r.volumes.given == ml(316));
    }
    SECTION("primed with component, clearing forbidden: 20 mL fewer, and it says so") {
        s.line.cleared = false;
        const Reckoning r = reckoned(p, s);
        CHECK(r.volumes.given == ml(296));
        CHECK(r.volumes.left_in_line == ml(20));
        CHECK(warned(r, Warning::line_not_given));
    }
    SECTION("primed with saline, clearing forbidden: the bag runs through, 20 mL stand in the line") {
        s.line.primed_with = Primed::saline;
        s.line.cleared = false;
        const Reckoning r = reckoned(p, s);
        CHECK(r.volumes.pushed == ml(316));
        CHECK(r.volumes.given == ml(296));
        CHECK(r.volumes.left_in_line == ml(20));
        CHECK(warned(r, Warning::line_not_given));
    }
}

TEST_CASE("a child's dose from a larger bag: never push what stands in the line beyond it") {
    Protocol p = plain_protocol();
    red_cells(p).slow.reset();
    State s = plain_state(p, ml(205), at("10:00"), at("10:10"));
    s.recipient.weight = Mass{11'600};
    s.line.holds = ml(10);
    s.device.step = tenths_of_ml_per_h(1);
    s.order.dose = ml(116);
    s.order.pace = Order::Pace::at_rate_per_kg;
    s.order.rate_per_kg = hundredths_of_ml_per_kg_per_h(500);
    const Reckoning r = reckoned(p, s);

    CHECK(r.rates.set == ml_per_h(58));
    CHECK(r.all_in - r.start == hours(2));
    CHECK(r.volumes.given == ml(116));
    CHECK(r.volumes.pushed == ml(116));  // not 126
    CHECK(r.volumes.left_in_bag == ml(79));
    CHECK(r.volumes.left_in_line == ml(10));
    CHECK_FALSE(r.bag_empty);
    CHECK(r.judgement.verdict == Verdict::fits);

    SECTION("the same dose ordered by weight") {
        s.order.dose.reset();
        s.order.dose_per_kg = DosePerKg{100};
        CHECK(reckoned(p, s).volumes.given == ml(116));
    }
}

TEST_CASE("20 mL/kg at 5 mL/kg/h against a limit from issue: late by what passed before the start") {
    Protocol p = plain_protocol();
    red_cells(p).slow.reset();
    State s = plain_state(p, ml(250), at("10:00"), at("10:17"));
    s.recipient.weight = Mass{12'000};
    s.order.dose_per_kg = DosePerKg{200};
    s.order.pace = Order::Pace::at_rate_per_kg;
    s.order.rate_per_kg = hundredths_of_ml_per_kg_per_h(500);
    const Reckoning r = reckoned(p, s);
    CHECK(r.judgement.verdict == Verdict::does_not_fit);
    CHECK(r.judgement.over_by == minutes(17));

    s.times.start->when.at = at("10:00");
    CHECK(reckoned(p, s).judgement.verdict == Verdict::fits);
}

TEST_CASE("over at least two and a half hours: rounded down") {
    const Protocol p = plain_protocol();
    State s = plain_state(p, ml(280), at("10:00"), at("10:05"));
    s.order.pace = Order::Pace::at_least;
    s.order.duration = minutes(150);
    const Reckoning r = reckoned(p, s);
    CHECK(r.rates.set == ml_per_h(118));
    CHECK(r.rates.rule == RateRule::rounded_down);
    CHECK(r.all_in - r.start > minutes(150));
}

TEST_CASE("a finish four minutes before the limit is short of the reserve") {
    Protocol p = plain_protocol();
    p.reserve = {50, {}, {}};
    red_cells(p).slow.reset();
    State s = plain_state(p, ml(236), at("10:00"), at("10:00"));
    s.order.duration = minutes(236);
    const Reckoning r = reckoned(p, s);
    CHECK(*r.finish_by - r.all_in == minutes(4));
    CHECK(r.judgement.verdict == Verdict::fits_without_reserve);
    CHECK(reasoned(r, Reason::reserve_accuracy));

    s.order.duration = minutes(220);
    CHECK(reckoned(p, s).judgement.verdict == Verdict::fits);
}

// By hand: 12.5 mL in the slow stage, then 61 mL/h for 3 h 34 min = 217.5667 mL: 230.0667 mL in all until the limit.
TEST_CASE("a split is asked for in whole tenths of a millilitre, never rounded up") {
    const Protocol p = plain_protocol();
    State s = plain_state(p, ml(300), at("13:40"), at("13:51"));
    s.order.pace = Order::Pace::usual;
    s.recipient.weight = Mass{61'000};
    s.recipient.overload_risk = Answer::yes;
    const Reckoning r = reckoned(p, s);
    CHECK(r.judgement.can_give.units == 496'944'000);
    CHECK(r.judgement.largest_bag == ml(230));
    REQUIRE(advised(r, Advice::ask_split));
    for (const Advised& advised : r.judgement.advice)
        if (advised.code == Advice::ask_split) CHECK(Volume{advised.figures[0].a} == ml(230));

    SECTION("what is asked for fits, and a tenth more does not") {
        s.unit.bag = ml(230);
        CHECK(reckoned(p, s).judgement.verdict != Verdict::does_not_fit);
        s.unit.bag = tenths_of_ml(2301);
        CHECK(reckoned(p, s).judgement.verdict == Verdict::does_not_fit);
    }
    SECTION("a smaller dose likewise") {
        s.order.dose = ml(290);
        const Reckoning dose = reckoned(p, s);
        REQUIRE(advised(dose, Advice::ask_prescriber_dose));
        for (const Advised& advised : dose.judgement.advice)
            if (advised.code == Advice::ask_prescriber_dose) CHECK(Volume{advised.figures[0].a} == ml(230));
    }
}

TEST_CASE("a weight from which it would fit is named only where nothing else stands in the way") {
    const Protocol p = plain_protocol();
    State s = plain_state(p, ml(300), at("10:00"), at("10:20"));
    s.order.pace = Order::Pace::usual;
    s.recipient.weight = Mass{60'000};
    s.recipient.overload_risk = Answer::yes;
    // The limit asks for 84.15 mL/h, at 60 kg there are 60: an order of just that rate leaves the weight to decide ...
    s.order.most = ml_per_h(85);
    REQUIRE(reckoned(p, s).judgement.weight_on_grid);
    CHECK(reckoned(p, s).judgement.weight_on_grid->grams == 85'000);
    // ... and with one step less nobody is heavy enough.
    s.order.most = ml_per_h(84);
    CHECK_FALSE(reckoned(p, s).judgement.weight_on_grid);
    CHECK_FALSE(reckoned(p, s).judgement.weight_exact);
}
