// One rule a test, named for the case. Limits are met to the second: each is looked at on both sides.

#include "tests/core/plan_support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

TEST_CASE("a window is open, closing and passed at the second") {
    Protocol p = plain_protocol();  // closing: the last 10 min
    const State s = ordinary(p);
    const auto state_at = [&](const char* clock) {
        return window(reckoned(p, s, at(clock)), LimitKind::hang).state;
    };
    CHECK(state_at("09:59:59") == WindowState::not_running);
    CHECK(state_at("10:00") == WindowState::open);
    CHECK(state_at("10:20") == WindowState::open);
    CHECK(state_at("10:20:01") == WindowState::closing);
    CHECK(state_at("10:30") == WindowState::closing);
    CHECK(state_at("10:30:01") == WindowState::passed);
}

TEST_CASE("a window is met by what happened, not by what is planned") {
    Protocol p = plain_protocol();
    State s = ordinary(p);
    CHECK(window(reckoned(p, s, at("10:29")), LimitKind::hang).state == WindowState::closing);
    s.times.start->happened = true;
    CHECK(window(reckoned(p, s, at("10:14:59")), LimitKind::hang).state == WindowState::open);
    CHECK(window(reckoned(p, s, at("10:29")), LimitKind::hang).state == WindowState::met);
    CHECK(window(reckoned(p, s, at("11:00")), LimitKind::hang).state == WindowState::met);
    // Only the end ends the one for "all in".
    CHECK(window(reckoned(p, s, at("14:00:01")), LimitKind::finish).state == WindowState::passed);
}

TEST_CASE("a start at the last second of the window fits, one second later it does not") {
    const Protocol p = plain_protocol();
    State s = ordinary(p);
    s.times.start->when.at = at("10:30");
    CHECK(reckoned(p, s).judgement.verdict == Verdict::fits);
    s.times.start->when.at = at("10:30:01");
    const Reckoning late = reckoned(p, s);
    CHECK(late.judgement.verdict == Verdict::does_not_fit);
    CHECK(reasoned(late, Reason::hang_too_late));
    CHECK(advised(late, Advice::start_earlier));
    CHECK_FALSE(advised(late, Advice::send_back));  // not yet: an earlier start would still do
    const Reckoning passed = reckoned(p, s, at("10:30:01"));
    CHECK_FALSE(advised(passed, Advice::start_earlier));
    CHECK(advised(passed, Advice::send_back));
}

TEST_CASE("each limit counts from the event that it names, and the earliest wins") {
    // The same 240 minutes from four events, as sources have them (the facts' section A1).
    Protocol p = plain_protocol();
    red_cells(p).limits = {{LimitKind::finish, Anchor::issued, minutes(240), {}},
                           {LimitKind::finish, Anchor::left_storage, minutes(240), {}},
                           {LimitKind::finish, Anchor::spiked, minutes(240), {}},
                           {LimitKind::finish, Anchor::started, minutes(240), {}},
                           {LimitKind::finish, Anchor::thawed, minutes(300), {}}};
    State s = ordinary(p);
    s.times.left_storage = Stated{at("09:50"), Precision::minute};
    s.times.spiked = Stated{at("10:10"), Precision::minute};
    s.times.thawed = Stated{at("08:30"), Precision::minute};
    const Reckoning r = reckoned(p, s);
    CHECK(clock_of(*window(r, LimitKind::finish, Anchor::issued).latest) == "14:00");
    CHECK(clock_of(*window(r, LimitKind::finish, Anchor::left_storage).latest) == "13:50");
    CHECK(clock_of(*window(r, LimitKind::finish, Anchor::spiked).latest) == "14:10");
    CHECK(clock_of(*window(r, LimitKind::finish, Anchor::started).latest) == "14:15");
    CHECK(clock_of(*window(r, LimitKind::finish, Anchor::thawed).latest) == "13:30");
    CHECK(clock_of(*r.finish_by) == "13:30");
    int binding = 0;
    for (const Window& w : r.windows) binding += w.binds;
    CHECK(binding == 1);

    SECTION("an event without a time is said, never guessed to be in order") {
        s.times.thawed.reset();
        const Reckoning unknown = reckoned(p, s);
        CHECK(window(unknown, LimitKind::finish, Anchor::thawed).state == WindowState::not_recorded);
        CHECK(warned(unknown, Warning::thaw_not_recorded));
        CHECK(clock_of(*unknown.finish_by) == "13:50");
    }
    SECTION("spiking and leaving storage may be stood in for, and that is said") {
        s.times.spiked.reset();
        s.times.left_storage.reset();
        const Reckoning assumed = reckoned(p, s);
        CHECK(clock_of(*window(assumed, LimitKind::finish, Anchor::spiked).latest) == "14:15");
        CHECK(warned(assumed, Warning::spike_taken_as_start));
        CHECK(warned(assumed, Warning::storage_taken_as_issue));
    }
}

TEST_CASE("the label's expiry is a limit, on the start or on the end as the protocol says") {
    Protocol p = plain_protocol();
    red_cells(p).most = Given<Rate>{ml_per_h(300), {}};
    State s = ordinary(p);
    s.unit.expires = Stated{at("11:00"), Precision::minute};
    p.expiry.value = ExpiryRule::start_before;
    CHECK(reckoned(p, s).judgement.verdict == Verdict::fits);
    p.expiry.value = ExpiryRule::finish_before;
    CHECK(reckoned(p, s).judgement.verdict == Verdict::does_not_fit);
    CHECK(clock_of(*reckoned(p, s).finish_by) == "11:00");

    p.expiry.value = ExpiryRule::start_before;
    s.unit.expires = Stated{at("10:15"), Precision::minute};
    CHECK(reckoned(p, s).judgement.verdict == Verdict::fits);
    s.unit.expires = Stated{at("10:14"), Precision::minute};
    const Reckoning expired = reckoned(p, s);
    CHECK(reasoned(expired, Reason::expires_first));
    CHECK(advised(expired, Advice::send_back));
}

TEST_CASE("an early check counts from its earliest minute only") {
    const Protocol p = plain_protocol();  // due at 15 min, counts from 10
    State s = ordinary(p);
    s.times.start->happened = true;
    const auto done_at = [&](const char* clock) {
        State with = s;
        with.checks_done.add({CheckKind::early, 0, {at(clock), Precision::minute}});
        return check_of(reckoned(p, with, at("10:40")), CheckKind::early).state;
    };
    CHECK(done_at("10:24") == CheckState::due);   // 9 min: as if it had not been done
    CHECK(done_at("10:25") == CheckState::done);  // 10 min
    CHECK(done_at("10:30") == CheckState::done);  // 15 min
    CHECK(done_at("10:35") == CheckState::done);  // 5 min late: the protocol's grace
    CHECK(done_at("10:36") == CheckState::done_late);
}

TEST_CASE("a check is due until the next one is, and then it is missed") {
    const Protocol p = plain_protocol();
    State s = ordinary(p);
    s.times.start->happened = true;
    const auto state_at = [&](const char* clock) {
        return check_of(reckoned(p, s, at(clock)), CheckKind::early).state;
    };
    CHECK(state_at("10:29:59") == CheckState::to_come);
    CHECK(state_at("10:30") == CheckState::due);
    CHECK(state_at("11:14:59") == CheckState::due);
    CHECK(state_at("11:15") == CheckState::missed);
}

TEST_CASE("a baseline is worth its window and no more") {
    const Protocol p = plain_protocol();  // 30 min
    State s = ordinary(p);
    const auto state_with = [&](const char* clock) {
        State with = s;
        with.checks_done.add({CheckKind::baseline, 0, {at(clock), Precision::minute}});
        return check_of(reckoned(p, with, at("10:05")), CheckKind::baseline).state;
    };
    CHECK(state_with("09:45") == CheckState::done);
    CHECK(state_with("09:44") == CheckState::due);
    CHECK(check_of(reckoned(p, s, at("09:44")), CheckKind::baseline).state == CheckState::to_come);
    s.times.start->happened = true;
    CHECK(check_of(reckoned(p, s, at("10:20")), CheckKind::baseline).state == CheckState::missed);
}

TEST_CASE("checks come closer for somebody who cannot report symptoms") {
    Protocol p = plain_protocol();
    p.checks.interval_cannot_report = Given<Seconds>{minutes(30), {}};
    State s = ordinary(p);
    CHECK(check_times(reckoned(p, s)).size() == 5);
    s.recipient.can_report = Answer::no;
    const auto times = check_times(reckoned(p, s));
    CHECK(times == std::vector<std::string>{"10:15", "10:30", "10:45", "11:15", "11:45",
                                            clock_of(reckoned(p, s).all_in),
                                            clock_of(reckoned(p, s).all_in + hours(1))});
}

TEST_CASE("an interval check close to the end is merged into it where the protocol says so") {
    Protocol p = plain_protocol();
    State s = ordinary(p);
    s.order.duration = minutes(125);  // all in just before 12:20
    CHECK(check_times(reckoned(p, s)).size() == 6);
    p.checks.merge_into_end = minutes(10);
    CHECK(check_times(reckoned(p, s)).size() == 5);
}

TEST_CASE("an interval that falls on the early check is one check, not two") {
    Protocol p = plain_protocol();
    p.checks.interval = Given<Seconds>{minutes(15), {}};
    const Reckoning r = reckoned(p, ordinary(p));
    int at_quarter_past = 0;
    for (const Check& check : r.checks) at_quarter_past += check.due == at("10:30");
    CHECK(at_quarter_past == 1);
}

TEST_CASE("the slow stage is never above the ceiling, by rate or by weight") {
    Protocol p = plain_protocol();
    State s = ordinary(p);
    s.unit.bag = ml(100);
    s.recipient.weight = Mass{40'000};
    s.recipient.overload_risk = Answer::yes;  // 40 mL/h
    s.order.duration = minutes(170);
    const Reckoning lowered = reckoned(p, s);
    CHECK(lowered.stages[0].rate == ml_per_h(36));  // so slow that it is one stage
    s.order.duration = minutes(120);
    CHECK(reckoned(p, s).stages[0].rate == ml_per_h(40));
    CHECK(warned(reckoned(p, s), Warning::slow_stage_lowered));

    red_cells(p).slow = SlowStage{{}, hundredths_of_ml_per_kg_per_h(50), minutes(15), {}};
    s.recipient.overload_risk = Answer::no;
    CHECK(reckoned(p, s).stages[0].rate == ml_per_h(20));
}

TEST_CASE("a wish that a limit cannot wait for is raised to the floor, and that is said") {
    const Protocol p = plain_protocol();
    State s = ordinary(p);
    s.order.duration = minutes(300);
    const Reckoning r = reckoned(p, s);
    CHECK(r.rates.rule == RateRule::raised_to_floor);
    CHECK(warned(r, Warning::raised_to_limit));
    CHECK(r.all_in <= *r.finish_by);
    CHECK(r.judgement.verdict != Verdict::does_not_fit);
}

TEST_CASE("a wish that the ceiling does not allow is held there, and that is said") {
    Protocol p = plain_protocol();
    red_cells(p).most = Given<Rate>{ml_per_h(150), {}};
    State s = ordinary(p);
    s.order.duration = minutes(60);
    const Reckoning r = reckoned(p, s);
    CHECK(r.rates.set == ml_per_h(150));
    CHECK(r.rates.rule == RateRule::held_at_ceiling);
    CHECK(r.rates.ceiling.kind == CeilingKind::component);
    CHECK(warned(r, Warning::duration_not_met));
    CHECK(r.judgement.verdict == Verdict::fits);
}

TEST_CASE("a wish shorter than the slow stage falls back on what is usual, never on the device's highest rate") {
    const Protocol p = plain_protocol();
    State s = ordinary(p);
    s.order.duration = minutes(10);
    const Reckoning r = reckoned(p, s);
    CHECK(r.rates.set == ml_per_h(144));  // 287.5 mL in the usual 2 h from the rate change
    CHECK(warned(r, Warning::duration_not_met));
}

TEST_CASE("a wish shorter than the slow stage is held at a highest rate of the rules, as one a little longer is") {
    Protocol p = plain_protocol();
    red_cells(p).most = Given<Rate>{ml_per_h(150), {}};
    State s = ordinary(p);
    for (const int wish : {16, 15, 10}) {
        s.order.duration = minutes(wish);
        const Reckoning r = reckoned(p, s);
        CHECK(r.rates.set == ml_per_h(150));
        CHECK(r.rates.rule == RateRule::held_at_ceiling);
        CHECK(warned(r, Warning::duration_not_met));
    }
    // What is usual was asked for by nobody.
    s.order.pace = Order::Pace::usual;
    red_cells(p).usual.most = minutes(15);
    CHECK_FALSE(warned(reckoned(p, s), Warning::duration_not_met));
}

TEST_CASE("drops are to be counted exactly only in a plan that fits") {
    Protocol p = plain_protocol();
    red_cells(p).slow.reset();
    State s = plain_state(p, ml(250), at("10:00"), at("10:00"));
    s.device.kind = DeviceKind::gravity;
    s.device.drops = {10};
    s.order.duration = minutes(240);
    CHECK(warned(reckoned(p, s), Warning::count_exactly));
    red_cells(p).most = Given<Rate>{ml_per_h(62), {}};  // 62.5 mL/h would be needed
    const Reckoning r = reckoned(p, s);
    CHECK(r.judgement.verdict == Verdict::does_not_fit);
    CHECK_FALSE(warned(r, Warning::count_exactly));
}

TEST_CASE("a slow stage is said to run slower only where there is one") {
    const Protocol p = plain_protocol();
    State s = ordinary(p);
    s.order.most = ml_per_h(45);
    s.order.dose = ml(100);
    // 33.3 mL/h throughout: below the slow stage, which the order would lower to 45.
    s.order.duration = hours(3);
    const Reckoning one = reckoned(p, s);
    REQUIRE(one.stages.size() == 1);
    CHECK(one.rates.set == ml_per_h(34));
    CHECK_FALSE(warned(one, Warning::slow_stage_lowered));
    for (const Warned& warned : one.warnings)
        for (const Figure& figure : warned.figures) CHECK_FALSE(figure == Figure(ml_per_h(45)));
}

TEST_CASE("an interval check counts from as early as it may be late, and what was taken before that moves nothing") {
    Protocol p = plain_protocol();
    p.checks.grace = minutes(10);
    State s = ordinary(p);  // starts at 10:15: the first hourly check at 11:15
    s.times.start->happened = true;
    const auto taken = [&](const char* clock) {
        State done = s;
        done.checks_done.add({CheckKind::interval, 0, {at(clock), Precision::second}});
        return check_of(reckoned(p, done, at("11:20")), CheckKind::interval);
    };
    CHECK(taken("10:16").state == CheckState::due);  // 59 min early
    CHECK(taken("11:04:59").state == CheckState::due);
    CHECK(taken("11:05").state == CheckState::done);
    CHECK(clock_of(*taken("10:16").done) == "10:16");  // it stays noted
    p.checks.grace = {};
    CHECK(taken("10:44:59").state == CheckState::due);  // no such time is set: the second half of the hour
    CHECK(taken("10:45").state == CheckState::done);
    p.checks.grace = minutes(45);
    CHECK(taken("10:44:59").state == CheckState::due);  // never more than half of it
    CHECK(taken("10:45").state == CheckState::done);
}

TEST_CASE("a check after the end counts near the time at which it is due, not from the end on") {
    Protocol p = plain_protocol();
    p.checks.grace = minutes(10);
    State s = ordinary(p);
    s.times.start->happened = true;
    s.checks_done.add({CheckKind::early, 0, {at("10:30"), Precision::minute}});
    const Instant due = check_of(reckoned(p, s, at("10:31")), CheckKind::after).due;
    const auto taken = [&](Instant when) {
        State done = s;
        done.checks_done.add({CheckKind::after, 0, {when, Precision::second}});
        return check_of(reckoned(p, done, due + minutes(5)), CheckKind::after).state;
    };
    CHECK(taken(due - minutes(59)) == CheckState::due);  // a minute after the end
    CHECK(taken(due - minutes(10) - Seconds{1}) == CheckState::due);
    CHECK(taken(due - minutes(10)) == CheckState::done);
}

TEST_CASE("only the order in the way: a higher rate is the prescriber's to give, inside every other ceiling") {
    Protocol p = plain_protocol();
    State s = ordinary(p);
    s.order.most = ml_per_h(60);
    const Reckoning r = reckoned(p, s);
    CHECK(r.judgement.verdict == Verdict::does_not_fit);
    CHECK(advised(r, Advice::ask_prescriber_rate));
    CHECK(advised(r, Advice::ask_split));

    red_cells(p).most = Given<Rate>{ml_per_h(70), {}};  // 82.1 mL/h would be needed
    CHECK_FALSE(advised(reckoned(p, s), Advice::ask_prescriber_rate));
}

TEST_CASE("a dose that the bag does not hold") {
    const Protocol p = plain_protocol();
    State s = ordinary(p);
    s.order.dose = ml(350);
    const Reckoning r = reckoned(p, s);
    CHECK(r.volumes.given == ml(300));
    CHECK(warned(r, Warning::dose_exceeds_bag));
}

TEST_CASE("part of a bag through a saline line: the saline is pushed as well, the bag keeps the rest") {
    // 142 mL from 240 mL (the hazard table's part-unit overdose).
    const Protocol p = plain_protocol();
    State s = plain_state(p, ml(240), at("10:00"), at("10:15"));
    s.order.dose = ml(142);
    SECTION("saline") {
        s.line.primed_with = Primed::saline;
        const Reckoning r = reckoned(p, s);
        CHECK(r.volumes.pushed == ml(162));
        CHECK(r.volumes.given == ml(142));
        CHECK(r.volumes.left_in_bag == ml(78));
        CHECK(r.volumes.left_in_line == ml(20));
    }
    SECTION("component") {
        const Reckoning r = reckoned(p, s);
        CHECK(r.volumes.pushed == ml(142));
        CHECK(r.volumes.left_in_bag == ml(78));
        CHECK(r.volumes.left_in_line == ml(20));
    }
    SECTION("nearly the whole bag: the last of it comes out of the line, and no more than that") {
        s.order.dose = ml(230);
        const Reckoning r = reckoned(p, s);
        CHECK(r.volumes.given == ml(230));
        CHECK(r.volumes.left_in_bag == ml(0));
        CHECK(r.volumes.left_in_line == ml(10));
        REQUIRE(r.bag_empty);
    }
}

TEST_CASE("what priming lost is off the bag") {
    const Protocol p = plain_protocol();
    State s = ordinary(p);
    s.line.lost = ml(5);
    const Reckoning r = reckoned(p, s);
    CHECK(r.volumes.given == ml(295));
    CHECK(r.volumes.lost == ml(5));
}

TEST_CASE("a small bag in a line that is not cleared never reaches the vein") {
    Protocol p = plain_protocol();
    State s = plain_state(p, ml(20), at("10:00"), at("10:15"));
    s.line.cleared = false;
    const Reckoning r = reckoned(p, s);
    CHECK(r.judgement.verdict == Verdict::does_not_fit);
    CHECK(reasoned(r, Reason::line_holds_all));
    CHECK(advised(r, Advice::ask_blood_bank));
}

TEST_CASE("a set that has to be changed before the end") {
    Protocol p = plain_protocol();
    set_limit(p, LimitKind::finish, Anchor::started, minutes(360));
    red_cells(p).limits.push_back({LimitKind::change_set, Anchor::spiked, minutes(240), {}});
    State s = ordinary(p);
    s.order.duration = minutes(300);
    const Reckoning r = reckoned(p, s);
    CHECK(warned(r, Warning::set_changes_during_run));
    CHECK(r.judgement.verdict != Verdict::does_not_fit);
}

TEST_CASE("what is missing is named, and what can be said is said") {
    const Protocol p = plain_protocol();
    State s;
    Reckoning r;
    reckon(p, s, at("10:00"), r);
    CHECK(r.missing.component);
    CHECK(r.windows.empty());

    s.unit.component = Component::red_cells;
    s.times.issued = Stated{at("10:00"), Precision::minute};
    reckon(p, s, at("10:00"), r);
    CHECK_FALSE(r.planned);
    CHECK(r.missing.volume);
    CHECK(r.missing.start);
    CHECK_FALSE(r.missing.weight);
    CHECK(clock_of(*r.start_by) == "10:30");   // needs no more than the time of issue
    CHECK(clock_of(*r.finish_by) == "14:00");

    s.recipient.overload_risk = Answer::yes;  // a rule by weight applies now
    reckon(p, s, at("10:00"), r);
    CHECK(r.missing.weight);
}

TEST_CASE("a child's protocol asks for the weight and says that a whole bag is unusual") {
    Protocol p = plain_protocol();
    p.children = true;
    State s = ordinary(p);
    CHECK(reckoned(p, s).missing.weight);
    s.recipient.weight = Mass{12'000};
    CHECK(warned(reckoned(p, s), Warning::child_whole_bag));
    s.order.dose = ml(120);
    CHECK_FALSE(warned(reckoned(p, s), Warning::child_whole_bag));
}

TEST_CASE("entries that look wrong are asked about") {
    Protocol p = plain_protocol();
    red_cells(p).usual_volume = ComponentRules::Range{ml(220), ml(340), {}};
    red_cells(p).least_gauge = Given<std::int32_t>{22, {}};
    State s = ordinary(p);
    s.recipient.gauge = 22;
    CHECK_FALSE(warned(reckoned(p, s), Warning::volume_unusual));
    CHECK_FALSE(warned(reckoned(p, s), Warning::gauge_small));
    s.unit.bag = ml(3160);
    s.recipient.gauge = 24;
    s.recipient.weight = Mass{60'000};
    s.recipient.weight_estimated = true;
    CHECK(warned(reckoned(p, s), Warning::volume_unusual));
    CHECK(warned(reckoned(p, s), Warning::gauge_small));
    CHECK(warned(reckoned(p, s), Warning::weight_estimated));
}

TEST_CASE("next is in order of time, the early check before the rate goes up") {
    const Protocol p = plain_protocol();
    const State s = ordinary(p);
    const Reckoning r = reckoned(p, s);
    REQUIRE(r.next.size() >= 6);
    CHECK(r.next[0].kind == StepKind::check);  // baseline
    CHECK(r.next[1].kind == StepKind::start);
    for (std::size_t i = 0; i + 1 < r.next.size(); ++i) {
        CHECK(r.next[i].at <= r.next[i + 1].at);
        if (r.next[i].kind == StepKind::raise_rate) FAIL_CHECK("the rate goes up before the early check");
        if (r.next[i].kind == StepKind::check && r.checks[static_cast<std::size_t>(r.next[i].check)].kind == CheckKind::early) {
            CHECK(r.next[i + 1].kind == StepKind::raise_rate);
            break;
        }
    }
}

TEST_CASE("a session across midnight and across a change of the clock keeps its seconds") {
    // Nothing in the reckoning knows of either: the same plan, 86 400 s later, is the same plan.
    const Protocol p = plain_protocol();
    const State s = plain_state(p, ml(316), at("23:40"), at("23:52"));
    const Reckoning r = reckoned(p, s);
    CHECK(clock_of(r.all_in) == "+1 01:51:40");
    CHECK(r.all_in - r.start == Seconds{7180});
}
