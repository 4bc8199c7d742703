/// Sequences of units for one recipient. The rules on sets disagree from source to source; each that
/// disagrees has a fixture here, with what it says (as collected and graded in the shipped protocols).

#include "core/round/sequence.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::rounds;

namespace {

constexpr Instant ten = {1773482400};  // 2026-03-14T10:00Z

// What a source says about sets: hours, units, kept or not, and which change of component.
Protocol with_set(int hours_of_life, int units, SetUse use, SetChange change) {
    Protocol p = test::shipped_protocol("removal-clock");
    for (ComponentRules& rules : p.components)
        for (Limit& limit : rules.limits)
            if (limit.kind == LimitKind::change_set) limit.within = hours(hours_of_life);
    p.set_units.reset();
    if (units > 0) p.set_units = Given<std::int32_t>{units, {}};
    p.round->set_use.value = use;
    p.round->set_change.value = change;
    p.round->reassess.value = Reassess::not_asked;
    p.round->reassess_takes = {};
    return p;
}

Sequence of(const Protocol& p, std::vector<Component> components) {
    Sequence s;
    s.common = new_state(p);
    s.common.recipient.overload_risk = Answer::no;
    s.common.recipient.can_report = Answer::yes;
    for (const Component c : components) {
        SequenceUnit unit;
        unit.component = c;
        unit.bag = ml(280);
        s.units.push_back(unit);
    }
    s.first_start = ten;
    return s;
}

std::vector<NewSet> sets(const Protocol& p, std::vector<Component> components) {
    std::vector<NewSet> out;
    for (const auto& unit : plan_sequence(p, of(p, components)).units) out.push_back(unit.set);
    return out;
}

using C = Component;
using S = NewSet;
const std::vector<C> five_red(5, C::red_cells);

}  // namespace

TEST_CASE("the set across units: each source that disagrees, whichever limit comes first", "[sequence]") {
    // Each red cell unit takes two hours here, and the next starts 10 min after it.
    SECTION("INS standard 48 (quoted): each unit, or 4 h") {
        CHECK(sets(with_set(4, 0, SetUse::new_for_each, SetChange::any), five_red) ==
              std::vector<S>{S::first_unit, S::each_unit, S::each_unit, S::each_unit, S::each_unit});
    }
    SECTION("INS 2021 (from memory): several units through one set, inside 4 h") {
        // The second would end after 4 h 10 min: a new set before it is hung, said beforehand.
        CHECK(sets(with_set(4, 0, SetUse::may_be_kept, SetChange::any), five_red) ==
              std::vector<S>{S::first_unit, S::would_expire, S::would_expire, S::would_expire,
                      S::would_expire});
    }
    SECTION("NHSBT 2009 and Lifeblood: every 12 h") {
        CHECK(sets(with_set(12, 0, SetUse::may_be_kept, SetChange::as_component_says), five_red) ==
              std::vector<S>{S::first_unit, S::kept, S::kept, S::kept, S::kept});
    }
    SECTION("WHO handbook (quoted): after 4 units within 12 h") {
        CHECK(sets(with_set(12, 4, SetUse::may_be_kept, SetChange::as_component_says), five_red) ==
              std::vector<S>{S::first_unit, S::kept, S::kept, S::kept, S::units});
    }
    SECTION("NZ Blood Service, plasma page: the same product, 8 h") {
        CHECK(sets(with_set(8, 0, SetUse::may_be_kept, SetChange::any), five_red) ==
              std::vector<S>{S::first_unit, S::kept, S::kept, S::would_expire, S::kept});
        CHECK(sets(with_set(8, 0, SetUse::may_be_kept, SetChange::any), {C::plasma, C::red_cells}) ==
              std::vector<S>{S::first_unit, S::component_changes});
    }
    SECTION("a site example (quoted): 2 units or 4 h; a Korean study: after 2 units") {
        CHECK(sets(with_set(12, 2, SetUse::may_be_kept, SetChange::any), five_red) ==
              std::vector<S>{S::first_unit, S::kept, S::units, S::kept, S::units});
        CHECK(sets(with_set(4, 2, SetUse::may_be_kept, SetChange::any), {C::red_cells, C::red_cells}) ==
              std::vector<S>{S::first_unit, S::would_expire});
    }
}

TEST_CASE("platelets never go through a set that carried red cells; red cells may follow platelets",
        "[sequence]") {
    // JPAC 4.13, Lifeblood and the NZ Blood Service agree on the first; Lifeblood says the second.
    const Protocol p = with_set(12, 0, SetUse::may_be_kept, SetChange::as_component_says);
    CHECK(sets(p, {C::red_cells, C::platelets}) == std::vector<S>{S::first_unit, S::component_asks});
    CHECK(sets(p, {C::platelets, C::red_cells}) == std::vector<S>{S::first_unit, S::kept});
    // Also when something else went through it in between, and with a set that was in use before.
    CHECK(sets(p, {C::red_cells, C::plasma, C::platelets}) ==
          std::vector<S>{S::first_unit, S::kept, S::component_asks});
    Sequence s = of(p, {C::platelets});
    s.set = after_unit({}, NewSet::first_unit, C::red_cells, ten - hours(3));
    CHECK(plan_sequence(p, s).units[0].set == S::component_asks);
    // The shipped protocols all say so.
    for (const std::string& id : test::demo_names("protocols"))
        CHECK(test::shipped_protocol(id).rules(C::platelets).new_set);
}

TEST_CASE("a set is kept up to the second of its limit", "[sequence]") {
    const Protocol p = with_set(4, 0, SetUse::may_be_kept, SetChange::any);
    const SetSoFar set = after_unit({}, NewSet::first_unit, C::red_cells, ten);
    CHECK(set_for(p, set, C::red_cells, ten + hours(4)) == NewSet::kept);
    CHECK(set_for(p, set, C::red_cells, ten + hours(4) + Seconds{1}) == NewSet::would_expire);
}

TEST_CASE("the next bag is called for so that it arrives when the last one ends", "[sequence]") {
    const Protocol p = with_set(12, 0, SetUse::may_be_kept, SetChange::any);
    const SequencePlan plan = plan_sequence(p, of(p, {C::red_cells, C::red_cells}));
    REQUIRE(plan.all_planned);
    const auto &first = plan.units[0], &second = plan.units[1];
    CHECK(second.hold == CallHold::none);
    CHECK(second.match_at >= first.all_in);  // on the ward, and not before
    CHECK(second.match_at - first.all_in < minutes(1));
    CHECK(second.call_at == second.match_at - p.round->call.ready - p.round->call.transport);
    CHECK(second.start == second.match_at + p.round->match_takes.value);
}

TEST_CASE("one unit, then look again: when the next bag is not called for", "[sequence]") {
    // NICE QS138: after each unit. SHOT and MHRA 2024: at risk of overload, one unit and then review.
    Protocol p = test::shipped_protocol("removal-clock");
    Sequence s = of(p, {C::red_cells, C::red_cells});
    SECTION("after each unit") {
        const SequencePlan plan = plan_sequence(p, s);
        CHECK(plan.units[1].hold == CallHold::reassess_first);
        CHECK(plan.units[1].call_at >= plan.units[0].all_in + p.round->reassess_takes);
    }
    SECTION("at risk only: somebody without risk, with it, and where it is not recorded") {
        p.round->reassess.value = Reassess::at_risk;
        CHECK(plan_sequence(p, s).units[1].hold == CallHold::none);
        s.common.recipient.overload_risk = Answer::not_recorded;
        CHECK(plan_sequence(p, s).units[1].hold == CallHold::risk_not_recorded);
        s.common.recipient.overload_risk = Answer::yes;
        const SequencePlan plan = plan_sequence(p, s);
        REQUIRE(plan.units.size() == 2);
        CHECK(plan.units[1].hold == CallHold::at_risk);
        CHECK(plan.units[1].call_at >= plan.units[0].all_in + p.round->reassess_takes);
    }
    SECTION("a protocol that never asks still holds the call for somebody at risk") {
        p.round->reassess.value = Reassess::not_asked;
        s.common.recipient.overload_risk = Answer::yes;
        CHECK(plan_sequence(p, s).units[1].hold == CallHold::at_risk);
    }
}

TEST_CASE("the check at the end of a unit is the next one's baseline while it is fresh, where allowed",
        "[sequence]") {
    Protocol p = with_set(12, 0, SetUse::may_be_kept, SetChange::any);
    const Sequence s = of(p, {C::red_cells, C::red_cells});
    CHECK(plan_sequence(p, s).units[1].baseline_is_end_check);
    p.round->end_check_is_baseline.value = false;  // "repeat for next unit", an NZ district
    CHECK_FALSE(plan_sequence(p, s).units[1].baseline_is_end_check);
    p.round->end_check_is_baseline.value = true;
    // The next starts 10 min after the end, and up to a minute more.
    p.checks.baseline_within.value = minutes(10);
    const SequencePlan plan = plan_sequence(p, s);
    CHECK(plan.units[1].baseline_is_end_check == (plan.units[1].start - plan.units[0].all_in <= minutes(10)));
    p.checks.baseline_within.value = minutes(9);
    CHECK_FALSE(plan_sequence(p, s).units[1].baseline_is_end_check);
}

TEST_CASE("two lines into one recipient share the ceiling", "[sequence]") {
    // 1 mL/kg/h for somebody at risk of overload, 80 kg: 80 mL/h for both lines together.
    Protocol p = test::shipped_protocol("general-ward");
    ComponentRules& rules = p.components[static_cast<std::size_t>(C::red_cells)];
    rules.slow.reset();
    rules.most_per_kg_at_risk = Given<RatePerKg>{hundredths_of_ml_per_kg_per_h(100), {}};
    Sequence s = of(p, {C::red_cells});
    s.units[0].bag = ml(200);
    s.common.recipient.weight = {80'000};
    s.common.recipient.overload_risk = Answer::yes;
    const SequencePlan alone = plan_sequence(p, s);
    REQUIRE(alone.all_planned);
    CHECK(alone.most <= ml_per_h(80));

    s.common.other_line = ml_per_h(20);
    const SequencePlan beside = plan_sequence(p, s);
    REQUIRE(beside.units.size() == 1);
    REQUIRE(beside.units[0].left_of_ceiling);
    CHECK(compare_ratio(*beside.units[0].left_of_ceiling, exactly(ml_per_h(60))) == 0);
    CHECK(beside.units[0].most <= ml_per_h(60));
    CHECK(beside.units[0].most + s.common.other_line <= ml_per_h(80));

    s.common.other_line = ml_per_h(80);  // takes all of it
    CHECK(plan_sequence(p, s).units[0].verdict == Verdict::does_not_fit);
    s.common.other_line = ml_per_h(81);
    CHECK(plan_sequence(p, s).units[0].verdict == Verdict::does_not_fit);
}

TEST_CASE("the longest sequence that is over before an hour counts the check after the end", "[sequence]") {
    const Protocol p = with_set(12, 0, SetUse::may_be_kept, SetChange::any);
    Sequence s = of(p, {C::red_cells, C::red_cells, C::red_cells});
    const SequencePlan open = plan_sequence(p, s);
    REQUIRE(open.units.size() == 3);
    CHECK(open.fit == 3);
    REQUIRE(open.units[1].over > open.units[1].all_in);  // the check after the end
    s.over_by = open.units[1].over;
    CHECK(plan_sequence(p, s).fit == 2);
    s.over_by = open.units[1].over - Seconds{1};
    CHECK(plan_sequence(p, s).fit == 1);
    s.over_by = open.units[1].all_in;  // all in, but the check after it would come later
    CHECK(plan_sequence(p, s).fit == 1);
    s.over_by = open.units[0].start;
    CHECK(plan_sequence(p, s).fit == 0);
}

TEST_CASE("a sequence says how much it gives in all, and stops at the first unit that does not fit",
        "[sequence]") {
    const Protocol p = with_set(12, 0, SetUse::may_be_kept, SetChange::any);
    Sequence s = of(p, {C::red_cells, C::red_cells});
    const SequencePlan plan = plan_sequence(p, s);
    CHECK(plan.total == plan.units[0].given + plan.units[1].given);
    s.units[0].order.most = ml_per_h(20);  // 280 mL never fit four hours at that
    const SequencePlan short_plan = plan_sequence(p, s);
    CHECK(short_plan.units.size() == 1);
    CHECK_FALSE(short_plan.all_planned);
    CHECK(short_plan.fit == 0);
}
