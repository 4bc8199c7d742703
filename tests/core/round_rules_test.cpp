// The rules for more than one unit in protocols: what the shipped ones say, and that they may be left out.

#include "core/protocol/compare.hpp"
#include "core/protocol/read.hpp"
#include "core/protocol/write.hpp"
#include "core/words/round_words.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;

TEST_CASE("the shipped protocols disagree about several units as their sources do", "[round]") {
    const auto rules = [](const char* id) {
        const Protocol p = test::shipped_protocol(id);
        REQUIRE(p.round.has_value());
        return *p.round;
    };
    CHECK(rules("general-ward").set_use.value == SetUse::new_for_each);      // INS 48, quoted
    CHECK(rules("children-by-weight").set_use.value == SetUse::new_for_each);  // Lifeblood: at completion
    CHECK(rules("removal-clock").set_use.value == SetUse::may_be_kept);      // NHSBT 2009: 12 h
    CHECK(rules("half-hour-checks").set_use.value == SetUse::may_be_kept);   // NZ: the same product
    CHECK(rules("half-hour-checks").set_change.value == SetChange::any);
    CHECK(rules("removal-clock").set_change.value == SetChange::as_component_says);
    CHECK(rules("removal-clock").reassess.value == Reassess::each_unit);     // NICE QS138
    CHECK(rules("half-hour-checks").reassess.value == Reassess::at_risk);
    CHECK_FALSE(rules("half-hour-checks").end_check_is_baseline.value);
    CHECK(rules("general-ward").end_check_is_baseline.value);                // JPAC 4.11
}

TEST_CASE("a protocol without rules for several units is read, and written as it was", "[round]") {
    Protocol p = test::shipped_protocol("general-ward");
    p.round.reset();
    const auto read = read_protocol(write_protocol(p));
    REQUIRE(read.ok());
    CHECK_FALSE(read.value().round);
    CHECK(read.value() == p);
}

TEST_CASE("every rule for several units is among a protocol's rules: a change of one is a difference",
          "[round]") {
    const Protocol p = test::shipped_protocol("general-ward");
    int changes = 0;
    const auto differs = [&](auto change) {
        Protocol other = p;
        change(*other.round);
        ++changes;
        INFO(changes);
        CHECK(compare(p, other).size() == 1);
        const auto read = read_protocol(write_protocol(other));
        if (!read.ok()) FAIL(read.error().where << ": " << read.error().problem);
        CHECK(read.value() == other);
    };
    differs([](RoundRules& r) { r.set_use.value = SetUse::may_be_kept; });
    differs([](RoundRules& r) { r.set_change.value = SetChange::as_component_says; });
    differs([](RoundRules& r) { r.reassess.value = Reassess::at_risk; });
    differs([](RoundRules& r) { r.reassess_takes = minutes(25); });
    differs([](RoundRules& r) { r.end_check_is_baseline.value = false; });
    differs([](RoundRules& r) { r.call.ready = minutes(35); });
    differs([](RoundRules& r) { r.call.transport = minutes(15); });
    differs([](RoundRules& r) { r.match_takes.value = minutes(15); });
    differs([](RoundRules& r) { r.attended.value = minutes(20); });
    differs([](RoundRules& r) { r.check_takes.value = minutes(4); });
}

TEST_CASE("rules for several units that contradict others are refused", "[round]") {
    Protocol p = test::shipped_protocol("general-ward");
    SECTION("checks less than a slot of the grid late") {
        p.checks.grace = minutes(4);
        const auto read = read_protocol(write_protocol(p));
        REQUIRE_FALSE(read.ok());
        CHECK(read.error().where == "checks.grace.late_after_min");
    }
    SECTION("time for looking again that nobody is asked to do") {
        p.round->reassess.value = Reassess::not_asked;
        const auto read = read_protocol(write_protocol(p));
        REQUIRE_FALSE(read.ok());
        CHECK(read.error().where == "round.reassessment.takes_min");
    }
}

TEST_CASE("every code of several units has a spelling of its own, and words", "[round]") {
    for (int i = 0; i < code_count<NewSet>(); ++i) {
        const auto x = static_cast<NewSet>(i);
        CHECK(code_from<NewSet>(code(x)) == x);
        CHECK_FALSE(name(x).empty());
    }
    CHECK(code_count<NewSet>() == 7);
    CHECK(code_count<CallHold>() == 4);
    CHECK(code_count<SetUse>() == 2);
    CHECK(code_count<SetChange>() == 2);
    CHECK(code_count<Reassess>() == 3);
}
