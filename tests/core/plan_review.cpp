// What a review of the numbers found; each was a wrong or missing word to a nurse.

#include "tests/core/plan_support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

TEST_CASE("a plan that fits but can no longer begin in time does not fit") {
    const Protocol p = plain_protocol();
    State s = ordinary(p);
    CHECK(reckoned(p, s, at("10:30")).judgement.verdict == Verdict::fits);
    const Reckoning late = reckoned(p, s, at("10:30:01"));
    CHECK(reasoned(late, Reason::latest_start_passed));
    CHECK(late.judgement.verdict == Verdict::does_not_fit);
    CHECK(advised(late, Advice::send_back));
    CHECK_FALSE(advised(late, Advice::no_earlier_start));
    s.times.start->happened = true;
    CHECK(reckoned(p, s, at("10:30:01")).judgement.verdict == Verdict::fits);
}

TEST_CASE("an early check that is not in stays first, and holds up the higher rate") {
    const Protocol p = plain_protocol();
    State s = ordinary(p);
    s.times.start->happened = true;
    const auto early_first = [&](const char* clock) {
        const Reckoning r = reckoned(p, s, at(clock));
        const Step& first = r.next[0];
        return first.kind == StepKind::check && r.checks[static_cast<std::size_t>(first.check)].kind == CheckKind::early &&
               r.next[r.next[1].kind == StepKind::check ? 2 : 1].kind == StepKind::raise_rate &&
               warned(r, Warning::early_check_open);
    };
    CHECK(early_first("10:45"));  // due since 10:30
    CHECK(early_first("11:20"));  // missed: the next one has fallen due
    s.checks_done.add({CheckKind::early, 0, {at("10:31"), Precision::minute}});
    CHECK_FALSE(early_first("10:45"));

    // Where nobody records checks, none is called missed.
    s.checks_done.clear();
    s.charting = false;
    CHECK(check_of(reckoned(p, s, at("11:20")), CheckKind::early).state == CheckState::not_recorded);
    CHECK_FALSE(warned(reckoned(p, s, at("11:20")), Warning::early_check_open));
}

TEST_CASE("once it runs, no higher rate is named that was reckoned from the start") {
    const Protocol p = plain_protocol();
    State s = ordinary(p);
    s.order.most = ml_per_h(60);
    s.times.start->happened = true;
    CHECK_FALSE(advised(reckoned(p, s, at("13:00")), Advice::ask_prescriber_rate));
}

TEST_CASE("an early check that saline has not left behind is named, with or without a slow stage") {
    Protocol p = plain_protocol();  // the early check counts from 10 min
    State s = ordinary(p);
    s.line = {ml(12), Primed::saline, true, {}};  // 14 min 24 s at 50 mL/h
    CHECK(warned(reckoned(p, s), Warning::early_check_before_component));
    s.line.holds = ml(8);  // 9 min 36 s
    CHECK_FALSE(warned(reckoned(p, s), Warning::early_check_before_component));
    s.line.holds = ml(20);
    red_cells(p).slow.reset();
    s.order.duration = minutes(220);
    CHECK(warned(reckoned(p, s), Warning::early_check_before_component) ==
          (reckoned(p, s).first_component > at("10:25")));
}

TEST_CASE("over at least: no split is named, because the order's rate follows the volume") {
    const Protocol p = plain_protocol();
    State s = plain_state(p, ml(280), at("10:00"), at("10:12"));
    s.order.pace = Order::Pace::at_least;
    s.order.duration = minutes(240);
    const Reckoning r = reckoned(p, s);
    CHECK(r.judgement.verdict == Verdict::does_not_fit);
    CHECK_FALSE(advised(r, Advice::ask_split));
    CHECK(advised(r, Advice::ask_prescriber_rate));
}

TEST_CASE("nothing can be given: no split is named") {
    const Protocol p = plain_protocol();
    State s = ordinary(p);
    s.line.lost = ml(6);
    s.times.start->when.at = at("14:05");
    CHECK(reasoned(reckoned(p, s), Reason::limit_before_start));
    CHECK_FALSE(advised(reckoned(p, s), Advice::ask_split));
}

TEST_CASE("expired before the start is said, also where the expiry is a limit on the end") {
    Protocol p = plain_protocol();
    p.expiry.value = ExpiryRule::finish_before;
    State s = ordinary(p);
    s.unit.expires = Stated{at("10:08"), Precision::minute};
    const Reckoning r = reckoned(p, s);
    CHECK(reasoned(r, Reason::expires_first));
    CHECK(advised(r, Advice::send_back));
}

TEST_CASE("the latest start of an order that is slower than the slow stage") {
    Protocol p = plain_protocol();
    State s = ordinary(p);
    s.unit.bag = ml(150);
    s.order.pace = Order::Pace::at_least;
    s.order.duration = minutes(210);
    set_limit(p, LimitKind::hang, Anchor::issued, minutes(120));
    const Reckoning r = reckoned(p, s);
    REQUIRE(r.judgement.latest_start);
    // 150 mL in 210 min is 42.86, set 42 mL/h: 3 h 34 min 18 s before 14:00.
    CHECK(clock_of(*r.judgement.latest_start) == "10:25:42");
    s.times.start->when.at = at("10:25:42");
    CHECK(reckoned(p, s).judgement.verdict != Verdict::does_not_fit);
    s.times.start->when.at = at("10:25:43");
    CHECK(reckoned(p, s).judgement.verdict == Verdict::does_not_fit);
}

TEST_CASE("somebody at risk: a duration shorter than usual for them is said") {
    Protocol p = plain_protocol();
    red_cells(p).most_per_kg_at_risk.reset();
    red_cells(p).usual.least = minutes(60);
    red_cells(p).usual_at_risk = UsualPace{minutes(150), minutes(210), {}, {}};
    State s = ordinary(p);
    CHECK_FALSE(warned(reckoned(p, s), Warning::duration_unusual));
    s.recipient.overload_risk = Answer::yes;
    CHECK(warned(reckoned(p, s), Warning::duration_unusual));
}
