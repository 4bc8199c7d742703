// What must hold of a change from baseline whatever the numbers are: making a sign worse never removes a
// prompt, and what is missing never counts as normal.

#include "tests/core/observe_support.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <functional>
#include <random>

using namespace hangtime;
using namespace hangtime::test;

namespace {

class Random {
public:
    explicit Random(unsigned seed) : engine_(seed) {}
    int pick(int least, int most) {
        return least + static_cast<int>(engine_() % static_cast<unsigned>(most - least + 1));
    }
    bool once_in(int n) { return pick(1, n) == 1; }
    std::uint64_t bits() { return static_cast<std::uint64_t>(engine_()) << 32 | engine_(); }

private:
    std::mt19937 engine_;
};

Observation any_set(Random& r) {
    Observation o;
    o.temperature = r.once_in(2) ? tenths_c(r.pick(350, 405)) : tenths_f(r.pick(950, 1049));
    o.pulse_per_min = number(r.pick(45, 160));
    o.systolic_mmhg = number(r.pick(60, 220));
    o.diastolic_mmhg = number(r.pick(30, *o.systolic_mmhg - 5));
    o.mean_mmhg = number(r.pick(*o.diastolic_mmhg, *o.systolic_mmhg));
    o.respirations_per_min = number(r.pick(8, 45));
    o.saturation_percent = number(r.pick(80, 100));
    o.on_oxygen = r.once_in(3);
    o.consciousness = static_cast<Consciousness>(r.once_in(4) ? r.pick(0, consciousness_count - 1) : 0);
    o.lungs = static_cast<Lungs>(r.once_in(3) ? r.pick(0, 3) : 0);
    o.site = static_cast<Site>(r.once_in(4) ? r.pick(0, 3) : 0);
    o.urine = static_cast<Urine>(r.once_in(4) ? r.pick(0, 3) : 0);
    constexpr std::uint64_t all = (std::uint64_t{1} << symptom_count) - 1;
    o.symptoms = Symptoms{r.bits() & r.bits() & r.bits() & r.bits() & all};
    for (int i = 0; i < sign_count; ++i)
        if (r.once_in(12)) o.clear(static_cast<Sign>(i));
    return o;
}

Person any_person(Random& r) {
    Person p;
    if (!r.once_in(6)) p.age = static_cast<AgeGroup>(r.pick(0, age_group_count - 1));
    if (!r.once_in(4)) p.weight = Mass{r.pick(3'000, 90'000)};
    return p;
}

// One step further from well, and for pressures further from the baseline; false where there is no such step.
bool worsen(Sign sign, const Observation& baseline, Observation& o, Random& r) {
    const auto further = [&](std::optional<std::int16_t>& now, const std::optional<std::int16_t>& before) {
        if (!now || !before) return false;
        const int by = r.pick(1, 12);
        now = number(*now >= *before ? *now + by : *now - by);
        return true;
    };
    switch (sign) {
        case Sign::temperature:
            if (!o.temperature) return false;
            o.temperature->tenths = static_cast<std::int16_t>(o.temperature->tenths + r.pick(1, 15));
            return true;
        case Sign::pulse:
            if (!o.pulse_per_min) return false;
            o.pulse_per_min = number(*o.pulse_per_min + r.pick(1, 20));
            return true;
        case Sign::systolic: return further(o.systolic_mmhg, baseline.systolic_mmhg);
        case Sign::diastolic: return further(o.diastolic_mmhg, baseline.diastolic_mmhg);
        case Sign::mean_pressure: return further(o.mean_mmhg, baseline.mean_mmhg);
        case Sign::respirations:
            if (!o.respirations_per_min) return false;
            o.respirations_per_min = number(*o.respirations_per_min + r.pick(1, 10));
            return true;
        case Sign::saturation:
            if (!o.saturation_percent) return false;
            o.saturation_percent = number(*o.saturation_percent - r.pick(1, 10));
            return true;
        case Sign::oxygen:
            if (o.on_oxygen != false) return false;
            o.on_oxygen = true;
            return true;
        case Sign::consciousness:
            if (!o.consciousness || *o.consciousness == Consciousness::unresponsive) return false;
            o.consciousness = static_cast<Consciousness>(static_cast<int>(*o.consciousness) + 1);
            return true;
        case Sign::lungs:
            if (!o.lungs) return false;
            o.lungs = static_cast<Lungs>(static_cast<int>(*o.lungs) | r.pick(1, 3));
            return true;
        case Sign::site:
            if (o.site != Site::good) return false;
            o.site = static_cast<Site>(r.pick(1, 3));
            return true;
        case Sign::urine:
            if (o.urine != Urine::usual) return false;
            o.urine = static_cast<Urine>(r.pick(1, 3));
            return true;
        case Sign::symptoms:
            if (!o.symptoms) return false;
            o.symptoms->add(static_cast<Symptom>(r.pick(0, symptom_count - 1)));
            return true;
    }
    return false;
}

void each_case(int rounds, const std::function<void(const ObserveRules&, const RuleSet&, const Person&,
                                                    const Observation&, const Observation&, Random&)>& test) {
    Random r(20);
    for (const std::string& name : demo_names("protocols")) {
        const Protocol protocol = shipped_protocol(name);
        for (const RuleSet& set : protocol.observations.rule_sets)
            for (int i = 0; i < rounds; ++i) {
                const Observation baseline = any_set(r);
                test(protocol.observations, set, any_person(r), baseline, any_set(r), r);
            }
    }
}

bool lists(const Change& change, Sign sign) {
    for (const NotCompared& m : change.missing)
        if (m.sign == sign) return true;
    return false;
}

}  // namespace

TEST_CASE("making any sign worse never removes a prompt and never lowers one", "[observe]") {
    int worsened = 0;
    each_case(1500, [&](const ObserveRules& rules, const RuleSet& set, const Person& person,
                        const Observation& baseline, const Observation& now, Random& r) {
        const Change before = change_from(rules, set, person, baseline, now);
        for (int i = 0; i < sign_count; ++i) {
            Observation worse = now;
            if (!worsen(static_cast<Sign>(i), baseline, worse, r)) continue;
            ++worsened;
            const Change after = change_from(rules, set, person, baseline, worse);
            for (const Prompt& prompt : before.prompts) {
                const Prompt* still = after.find(prompt.code);
                if (!still || still->severity < prompt.severity ||
                    (prompt.overload.bits & ~still->overload.bits) != 0 ||
                    (prompt.symptoms.bits & ~still->symptoms.bits) != 0)
                    FAIL_CHECK(set.id << ": " << i << " worse, and prompt "
                                      << static_cast<int>(prompt.code) << " is gone or less");
            }
        }
    });
    CHECK(worsened > 50'000);
}

TEST_CASE("a missing value never counts as normal", "[observe]") {
    // Taken away on either side, a sign is said to be missing; whatever prompted on other signs still does.
    int prompts = 0;
    each_case(1500, [&](const ObserveRules& rules, const RuleSet& set, const Person& person,
                        const Observation& baseline, const Observation& now, Random&) {
        const Change before = change_from(rules, set, person, baseline, now);
        for (int i = 0; i < sign_count; ++i) {
            const Sign sign = static_cast<Sign>(i);
            if (!now.has(sign) || !baseline.has(sign)) continue;
            for (const bool in_baseline : {true, false}) {
                Observation a = baseline, b = now;
                (in_baseline ? a : b).clear(sign);
                const Change after = change_from(rules, set, person, a, b);
                if (!lists(after, sign)) FAIL_CHECK("a missing sign is not listed: " << i);
                for (const Prompt& prompt : before.prompts) {
                    ++prompts;
                    if (after.find(prompt.code)) continue;
                    // It has gone with its own sign, or with one of the two kinds that make overload.
                    const bool either_kind =
                        sign == Sign::systolic || sign == Sign::diastolic || sign == Sign::respirations ||
                        sign == Sign::saturation || sign == Sign::oxygen || sign == Sign::lungs ||
                        sign == Sign::symptoms;
                    const bool own = prompt.sign == sign ||
                                     (prompt.code == PromptCode::overload_signs && either_kind);
                    if (!own) FAIL_CHECK(set.id << ": without " << i << " prompt "
                                                << static_cast<int>(prompt.code) << " is gone");
                }
            }
        }
    });
    CHECK(prompts > 100'000);
}

TEST_CASE("a set in which nothing was recorded prompts for nothing and says that nothing was compared",
          "[observe]") {
    const Protocol protocol = shipped_protocol("general-ward");
    const RuleSet& set = protocol.observations.rule_sets[0];
    const Change change = change_from(protocol.observations, set, adult(), unremarkable(), {});
    CHECK(change.prompts.empty());
    CHECK(change.missing.size() == sign_count);
    const Change blind = change_from(protocol.observations, set, adult(), {}, unremarkable());
    CHECK(blind.prompts.empty());
    CHECK(blind.missing.size() == sign_count);
    // Without a baseline, whatever is not as it should be counts as new.
    Observation now = unremarkable();
    now.symptoms->add(Symptom::chills);
    now.consciousness = Consciousness::confused;
    now.lungs = Lungs::crackles;
    now.site = Site::swollen;
    now.urine = Urine::red;
    now.temperature = tenths_c(380);
    now.saturation_percent = number(89);
    const Change all = change_from(protocol.observations, set, adult(), {}, now);
    for (const PromptCode code : {PromptCode::new_symptom, PromptCode::consciousness_worse,
                                  PromptCode::lung_sounds_new, PromptCode::site_worse,
                                  PromptCode::urine_changed, PromptCode::fever, PromptCode::saturation_low})
        CHECK(all.find(code));
}

TEST_CASE("any one new symptom is enough to stop, under every rule set", "[observe]") {
    for (const std::string& name : demo_names("protocols")) {
        const Protocol protocol = shipped_protocol(name);
        for (const RuleSet& set : protocol.observations.rule_sets) {
            for (int i = 0; i < symptom_count; ++i) {
                Observation now = unremarkable();
                now.symptoms->add(static_cast<Symptom>(i));
                CHECK(change_from(protocol.observations, set, adult(), unremarkable(), now).stops());
                // One that was there before is not new.
                CHECK_FALSE(change_from(protocol.observations, set, adult(), now, now).stops());
            }
        }
    }
}

TEST_CASE("rule sets disagree: the same numbers, other prompts", "[observe]") {
    const Protocol ward = shipped_protocol("general-ward"), removal = shipped_protocol("removal-clock"),
                   nz = shipped_protocol("half-hour-checks");
    Observation before = unremarkable(), now = unremarkable();
    before.temperature = tenths_c(364);
    now.temperature = tenths_c(379);
    const auto codes = [&](const Protocol& p, const char* id) {
        const Change change = change_from(p.observations, rule_set(p, id), adult(), before, now);
        return std::pair(change.find(PromptCode::fever) != nullptr,
                         change.find(PromptCode::severe_fever) != nullptr);
    };
    CHECK(codes(ward, "both-limbs") == std::pair(false, false));
    CHECK(codes(ward, "either-limit") == std::pair(true, true));
    CHECK(codes(removal, "rise-only") == std::pair(true, false));
    CHECK(codes(nz, "more-than") == std::pair(true, false));
    CHECK(codes(nz, "baseline-37") == std::pair(false, false));
}

TEST_CASE("a baseline that is already abnormal is said before the start", "[observe]") {
    const Protocol ward = shipped_protocol("general-ward");
    const RuleSet& set = ward.observations.rule_sets[0];
    CHECK(baseline_of(ward.observations, set, adult(), unremarkable()).empty());
    CHECK(baseline_of(ward.observations, set, child(20'000), unremarkable()).empty());

    Observation o = unremarkable();
    o.temperature = tenths_c(387);
    auto said = baseline_of(ward.observations, set, adult(), o);
    REQUIRE(said.size() == 1);  // 38.7 is not above 38.7
    CHECK(said[0].code == PromptCode::baseline_out_of_range);
    CHECK(said[0].severity == Severity::note);
    said = baseline_of(ward.observations, set, child(20'000), o);
    REQUIRE(said.size() == 1);
    CHECK(said[0].severity == Severity::caution);
    o.temperature = tenths_f(1017);  // 38.72
    said = baseline_of(ward.observations, set, adult(), o);
    REQUIRE(said.size() == 2);
    CHECK(said[0].code == PromptCode::baseline_fever);
    CHECK(said[0].severity == Severity::stop);

    o = unremarkable();
    o.respirations_per_min = number(24);
    o.pulse_per_min = number(91);
    o.symptoms->add(Symptom::cough);
    said = baseline_of(ward.observations, set, adult(), o);
    REQUIRE(said.size() == 3);
    CHECK(said[0].code == PromptCode::baseline_symptom);
    CHECK(said[1].sign == Sign::respirations);
    CHECK(said[1].severity == Severity::caution);
    CHECK(said[2].sign == Sign::pulse);
    o = unremarkable();
    o.saturation_percent = number(89);
    o.consciousness = Consciousness::voice;
    CHECK(baseline_of(ward.observations, set, child(20'000), o).size() == 2);
}

TEST_CASE("the case definitions ask, in questions; without a prompt nothing is asked and nothing is said",
          "[observe]") {
    const Protocol ward = shipped_protocol("general-ward");
    const RuleSet& set = ward.observations.rule_sets[0];
    const auto asked = [&](const Observation& now) {
        return questions_for(change_from(ward.observations, set, adult(), unremarkable(), now));
    };
    const auto has = [](const CaseQuestions& all, CaseQuestion q) {
        for (const CaseQuestion one : all)
            if (one == q) return true;
        return false;
    };
    CHECK(asked(unremarkable()).empty());
    Observation o = unremarkable();
    o.respirations_per_min = number(30);
    CHECK(has(asked(o), CaseQuestion::fluid_balance));
    CHECK(has(asked(o), CaseQuestion::both_lungs_image));
    CHECK_FALSE(has(asked(o), CaseQuestion::cultures));
    o = unremarkable();
    o.temperature = tenths_c(390);
    CHECK(has(asked(o), CaseQuestion::cultures));
    CHECK(has(asked(o), CaseQuestion::bag_and_label));
    o = unremarkable();
    o.systolic_mmhg = number(78);
    CHECK(has(asked(o), CaseQuestion::settled_after_stop));
}
