// After a suspected reaction: the order of actions, what may go on, and what the fluid adds up to.

#include "core/observe/reaction.hpp"
#include "core/words/observe_words.hpp"
#include "tests/core/observe_support.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <vector>

using namespace hangtime;
using namespace hangtime::test;

namespace {

constexpr Instant at(int minute) { return Instant{1'773'446'400 + minute * 60}; }

struct Ward {
    Protocol protocol = shipped_protocol("general-ward");
    const RuleSet& set = protocol.observations.rule_sets[0];
    const ReactionRules& rules = protocol.reaction;

    Change change(const Observation& now, const Observation& before = unremarkable()) const {
        return change_from(protocol.observations, set, adult(), before, now);
    }
    RestartAnswer restart(const Change& worst, std::optional<bool> agrees = true) const {
        return restart_of(rules, worst, agrees, at(20), at(25), at(240));
    }
};

Observation with(Symptom symptom) {
    Observation out = unremarkable();
    out.symptoms->add(symptom);
    return out;
}

}  // namespace

TEST_CASE("stop comes first under every protocol, and every needed action is on its list", "[observe]") {
    std::vector<std::vector<ActionKind>> orders;
    for (const std::string& name : demo_names("protocols")) {
        const Protocol protocol = shipped_protocol(name);
        const ActionList list = action_list(protocol.reaction, {});
        CHECK(list[0].kind == ActionKind::stop);
        CHECK(list[0].next);
        std::vector<ActionKind> order;
        for (const ActionLine& line : list) order.push_back(line.kind);
        for (const ActionKind needed : needed_actions)
            CHECK(std::find(order.begin(), order.end(), needed) != order.end());
        CHECK(std::find(orders.begin(), orders.end(), order) == orders.end());  // they disagree
        orders.push_back(order);
    }
    // Even for rules that were never read from a file.
    CHECK(action_list(ReactionRules{}, {})[0].kind == ActionKind::stop);
}

TEST_CASE("actions are ticked in any order, each with its own time", "[observe]") {
    const Ward ward;
    const ActionDone done[] = {{ActionKind::call_clinician, at(22)}, {ActionKind::stop, at(20)},
                               {ActionKind::stop, at(21)},           {ActionKind::inspect, at(30)}};
    const ActionList list = action_list(ward.rules, done);
    CHECK(list.size() == ward.rules.order.size() + 1);
    CHECK(list[0].at == at(20));  // the earlier of two
    CHECK(list[1].kind == ActionKind::observe);
    CHECK(list[1].next);
    int next = 0;
    for (const ActionLine& line : list) {
        next += line.next;
        if (line.kind == ActionKind::call_clinician) CHECK(line.at == at(22));
    }
    CHECK(next == 1);
    CHECK(list.back().kind == ActionKind::inspect);  // not on this ward's list, and not lost
    CHECK(list.back().at == at(30));
}

TEST_CASE("observations fall due at the stop, then at the protocol's interval", "[observe]") {
    const Ward ward;
    CHECK(next_observations(ward.rules, at(20), std::nullopt) == at(20));
    CHECK(next_observations(ward.rules, at(20), at(15)) == at(20));
    CHECK(next_observations(ward.rules, at(20), at(20)) == at(35));
    CHECK(next_observations(ward.rules, at(20), at(33)) == at(48));
    CHECK(keep_bag_until(ward.rules, at(0)) == at(24 * 60));
    CHECK(report_late_until(ward.rules, at(0)) == at(24 * 60));
}

TEST_CASE("only what is mild may go on, and only on a clinician's word", "[observe]") {
    const Ward ward;
    for (int i = 0; i < symptom_count; ++i) {
        const auto symptom = static_cast<Symptom>(i);
        const bool mild = symptom == Symptom::itching || symptom == Symptom::hives ||
                          symptom == Symptom::rash || symptom == Symptom::flushing;
        INFO(code(symptom));
        CHECK((ward.restart(ward.change(with(symptom))).may == Restart::on_a_clinicians_word) == mild);
    }
    Observation warm = unremarkable();
    warm.temperature = tenths_c(384);
    const RestartAnswer fever = ward.restart(ward.change(warm));
    CHECK(fever.may == Restart::on_a_clinicians_word);
    CHECK(fever.not_before == at(50));
    warm.temperature = tenths_c(390);
    CHECK(ward.restart(ward.change(warm)).may == Restart::no);
    CHECK(ward.restart(ward.change(warm)).bars[0] == RestartBar::severe_fever);
    Observation low = unremarkable();
    low.systolic_mmhg = number(80);
    CHECK(ward.restart(ward.change(low)).bars[0] == RestartBar::pressure_fall);
    Observation fast = unremarkable();
    fast.respirations_per_min = number(19);
    CHECK(ward.restart(ward.change(fast)).bars[0] == RestartBar::other_sign);
    // Never a plain yes, even where nothing is met.
    CHECK(ward.restart(ward.change(unremarkable())).may == Restart::on_a_clinicians_word);
}

TEST_CASE("a restart is barred by identity, by missing signs, by the limit and by rules that never restart",
          "[observe]") {
    const Ward ward;
    const Change mild = ward.change(with(Symptom::itching));
    CHECK(ward.restart(mild, false).may == Restart::no);
    CHECK(ward.restart(mild, false).bars[0] == RestartBar::identity_differs);
    CHECK(ward.restart(mild, std::nullopt).may == Restart::cannot_tell);
    CHECK(restart_of(ward.rules, mild, true, at(20), at(240), at(240)).may == Restart::no);
    CHECK(restart_of(ward.rules, mild, true, at(20), at(239), at(240)).may == Restart::on_a_clinicians_word);
    CHECK(restart_of(ward.rules, mild, true, at(20), at(239), std::nullopt).may ==
          Restart::on_a_clinicians_word);
    for (const Sign sign : {Sign::temperature, Sign::pulse, Sign::systolic, Sign::respirations,
                            Sign::saturation, Sign::consciousness, Sign::symptoms}) {
        Observation less = with(Symptom::itching);
        less.clear(sign);
        CHECK(ward.restart(ward.change(less)).may == Restart::cannot_tell);
    }
    const Protocol children = shipped_protocol("children-by-weight");
    const RestartAnswer never = restart_of(children.reaction, mild, true, at(20), at(25), at(240));
    CHECK(never.may == Restart::no);
    CHECK(never.bars[0] == RestartBar::rules_never);
}

TEST_CASE("what was there once bars a restart, although a later set no longer shows it", "[observe]") {
    const Ward ward;
    Change worst = ward.change(with(Symptom::stridor));
    take_worst(worst, ward.change(with(Symptom::itching)));
    CHECK(ward.restart(worst).may == Restart::no);
    REQUIRE(worst.find(PromptCode::new_symptom));
    CHECK(worst.find(PromptCode::new_symptom)->symptoms.has(Symptom::itching));
    CHECK(worst.find(PromptCode::new_symptom)->symptoms.has(Symptom::stridor));

    Observation less = with(Symptom::itching);
    less.clear(Sign::temperature);
    Change parts = ward.change(less);
    CHECK(ward.restart(parts).may == Restart::cannot_tell);
    take_worst(parts, ward.change(with(Symptom::itching)));  // the temperature came with the next set
    CHECK(ward.restart(parts).may == Restart::on_a_clinicians_word);
}

TEST_CASE("slowing down: half of the rate that runs, on the device's step, never more", "[observe]") {
    const Ward ward;
    CHECK(slowed_rate(ward.rules, ml_per_h(174), ml_per_h(1)) == ml_per_h(87));
    CHECK(slowed_rate(ward.rules, ml_per_h(175), ml_per_h(1)) == ml_per_h(87));
    CHECK(slowed_rate(ward.rules, ml_per_h(175), tenths_of_ml_per_h(1)) == tenths_of_ml_per_h(875));
    CHECK(slowed_rate(ward.rules, ml_per_h(1), ml_per_h(1)) == Rate{0});
    CHECK(slowed_rate(ward.rules, ml_per_h(2), ml_per_h(1)) == ml_per_h(1));
    const Protocol children = shipped_protocol("children-by-weight");
    CHECK(slowed_rate(children.reaction, ml_per_h(50), tenths_of_ml_per_h(1)) == ml_per_h(20));
}

TEST_CASE("all the fluid in one total, against weight", "[observe]") {
    const FluidParts parts{ml(316), ml(20), ml(50), ml(125)};
    CHECK(parts.total() == ml(511));
    CHECK(fluid_text(parts, Mass{70'000}) == "511 mL, 7.3 mL/kg");
    CHECK(fluid_text(parts, Mass{}) == "511 mL");
    CHECK(compare_ratio(*per_kg(parts, Mass{70'000}), RateRatio{511, 70}) == 0);
    CHECK_FALSE(per_kg(parts, Mass{}));
    CHECK(fluid_text({bounds::volume, bounds::volume, bounds::volume, bounds::volume}, bounds::least_mass) ==
          "20000 mL, 100000 mL/kg");
}

TEST_CASE("no action and no sentence gives a drug, a dose or a diagnosis", "[observe]") {
    std::string all;
    for (int i = 0; i < action_kind_count; ++i) all += action_sentence(static_cast<ActionKind>(i));
    for (int i = 0; i < case_question_count; ++i) all += sentence(static_cast<CaseQuestion>(i));
    for (int i = 0; i < restart_bar_count; ++i) all += sentence(static_cast<RestartBar>(i));
    for (const char* word : {"drenaline", "pinephrine", "ntihistamine", "aracetamol", "iuretic", "ydrocortisone",
                             "antipyretic", " mg", "give oxygen"})
        CHECK(all.find(word) == std::string::npos);
}
