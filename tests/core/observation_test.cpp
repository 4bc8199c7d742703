// One set of observations: what is accepted, what is asked about, and what a file of it says.

#include "core/json/read.hpp"
#include "core/observe/observation.hpp"
#include "core/observe/news2.hpp"
#include "core/observe/symptoms.hpp"
#include "core/report/observe_sheet.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/spelling.hpp"
#include "tests/core/observe_support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <random>
#include <set>
#include <string>

using namespace hangtime;

namespace {

Result<Observation> read(const std::string& text) {
    const auto tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    const Observation out = read_observation(json::Field(report, &tree.value(), "sets[1].observed"));
    if (!report.ok()) return report.error();
    return out;
}

std::string refusal(const std::string& text) {
    const auto got = read(text);
    return got.ok() ? std::string() : got.error().where + ": " + got.error().problem;
}

std::string written(const Observation& set) {
    json::Writer out;
    write_observation(out, set);
    return out.take();
}

template <class E>
void spelled_and_named(int count) {
    REQUIRE(code_count<E>() == count);
    std::set<std::string> spellings, names;
    for (int i = 0; i < count; ++i) {
        const E value = static_cast<E>(i);
        CHECK(code_from<E>(code(value)) == value);
        CHECK(spellings.insert(std::string(code(value))).second);
        CHECK_FALSE(name(value).empty());
        CHECK(name(value).back() != '.');
        CHECK(names.insert(std::string(name(value))).second);
    }
}

template <class E>
void asked_or_said(int count, char ends_in) {
    REQUIRE(code_count<E>() == count);
    for (int i = 0; i < count; ++i) {
        const std::string text(sentence(static_cast<E>(i)));
        INFO(text);
        REQUIRE_FALSE(text.empty());
        CHECK(text.back() == ends_in);
        CHECK(text.find("larm") == std::string::npos);
    }
}

}  // namespace

TEST_CASE("every code of observations is spelled and named, each differently", "[observe]") {
    spelled_and_named<TemperatureUnit>(2);
    spelled_and_named<Sign>(sign_count);
    spelled_and_named<Consciousness>(consciousness_count);
    spelled_and_named<Lungs>(lungs_count);
    spelled_and_named<Site>(site_count);
    spelled_and_named<Urine>(urine_count);
    spelled_and_named<SymptomGroup>(symptom_group_count);
    spelled_and_named<Symptom>(symptom_count);
    spelled_and_named<AgeGroup>(age_group_count);
    spelled_and_named<Join>(join_count);
    spelled_and_named<PressureMeasures>(pressure_measures_count);
    spelled_and_named<PromptCode>(prompt_code_count);
    spelled_and_named<OverloadSign>(overload_sign_count);
    spelled_and_named<ActionKind>(action_kind_count);
    spelled_and_named<Restart>(restart_count);
    asked_or_said<CaseQuestion>(case_question_count, '?');
    asked_or_said<Restart>(restart_count, '.');
    asked_or_said<RestartBar>(restart_bar_count, '.');
    asked_or_said<ScoreLimit>(score_limit_count, '.');
    for (int i = 0; i < action_kind_count; ++i)
        CHECK(action_sentence(static_cast<ActionKind>(i)).ends_with("."));
}

TEST_CASE("no code says that there is no reaction", "[observe]") {
    // Row 18 of tests/hazards.md: what is not met is not listed, and nothing says that it is all right.
    for (int i = 0; i < prompt_code_count; ++i) {
        const std::string text(code(static_cast<PromptCode>(i)));
        for (const char* word : {"none", "no_", "normal", "ok", "fine", "safe"})
            CHECK(text.find(word) == std::string::npos);
    }
    CHECK(any_symptom_sentence().find("not ruled out") != std::string::npos);
}

TEST_CASE("a set says only what was recorded, and reads back as the same", "[observe]") {
    Observation set;
    CHECK(written(set) == "{}\n");
    for (int i = 0; i < sign_count; ++i) CHECK_FALSE(set.has(static_cast<Sign>(i)));
    set.temperature = tenths_c(370);
    set.pulse_per_min = std::int16_t{80};
    set.systolic_mmhg = std::int16_t{120};
    set.diastolic_mmhg = std::int16_t{80};
    set.on_oxygen = false;
    set.lungs = Lungs::wheeze_and_crackles;
    set.symptoms = Symptoms{};
    CHECK(written(set) == "{\"temperature_c\": 37, \"pulse_per_min\": 80, \"systolic_mmhg\": 120, "
                          "\"diastolic_mmhg\": 80, \"on_oxygen\": false, \"lungs\": \"wheeze_and_crackles\", "
                          "\"symptoms\": []}\n");
    set.symptoms->add(Symptom::itching);
    set.symptoms->add(Symptom::unusual_bleeding);
    const auto again = read(written(set));
    REQUIRE(again.ok());
    CHECK(again.value() == set);
    CHECK_FALSE(read("{\"symptoms\": []}").value() == Observation{});  // asked, and none
}

TEST_CASE("any set that can be is read as it was written; taking a sign away changes it", "[observe]") {
    std::mt19937 random(5);
    const auto pick = [&](int least, int most) {
        return static_cast<std::int16_t>(least + static_cast<int>(random() % static_cast<unsigned>(most - least + 1)));
    };
    for (int round = 0; round < 2000; ++round) {
        Observation set;
        const auto unit = random() % 2 ? TemperatureUnit::celsius : TemperatureUnit::fahrenheit;
        const SignRange t = range_of(Sign::temperature, unit);
        set.temperature = Temperature{pick(t.least, t.most), unit};
        set.pulse_per_min = pick(0, 320);
        set.systolic_mmhg = pick(100, 320);
        set.diastolic_mmhg = pick(5, 99);
        set.mean_mmhg = pick(*set.diastolic_mmhg, *set.systolic_mmhg);
        set.mean_mmhg = std::min<std::int16_t>(*set.mean_mmhg, 260);
        set.respirations_per_min = pick(0, 150);
        set.saturation_percent = pick(20, 100);
        set.on_oxygen = random() % 2 == 0;
        set.consciousness = static_cast<Consciousness>(pick(0, consciousness_count - 1));
        set.lungs = static_cast<Lungs>(pick(0, lungs_count - 1));
        set.site = static_cast<Site>(pick(0, site_count - 1));
        set.urine = static_cast<Urine>(pick(0, urine_count - 1));
        set.symptoms = Symptoms{(static_cast<std::uint64_t>(random()) << 32 | random()) &
                                ((std::uint64_t{1} << symptom_count) - 1)};
        for (int i = 0; i < sign_count; ++i) {
            Observation less = set;
            less.clear(static_cast<Sign>(i));
            CHECK_FALSE(less.has(static_cast<Sign>(i)));
            const auto again = read(written(less));
            REQUIRE(again.ok());
            CHECK(again.value() == less);
            CHECK_FALSE(again.value() == set);
        }
    }
}

TEST_CASE("a set that cannot be is refused where it is wrong", "[observe]") {
    const std::string at = "sets[1].observed";
    CHECK(refusal("{\"temperature_c\": 24.9}") == at + ".temperature_c: 24.9 is too small");
    CHECK(refusal("{\"temperature_c\": 25}").empty());
    CHECK(refusal("{\"temperature_c\": 46}").empty());
    CHECK(refusal("{\"temperature_c\": 98.6}") == at + ".temperature_c: 98.6 is too large");
    CHECK(refusal("{\"temperature_f\": 37}") == at + ".temperature_f: 37 is too small");
    CHECK(refusal("{\"temperature_f\": 98.64}") == at + ".temperature_f: 98.64 has too many decimals");
    CHECK(refusal("{\"temperature\": 37}") ==
          at + ".temperature: has no unit in its name; this tool reads \"temperature_c\" or \"temperature_f\"");
    CHECK(refusal("{\"temperature_c\": 37, \"temperature_f\": 98.6}") ==
          at + ".temperature_f: is there beside temperature_c");
    CHECK(refusal("{\"pulse_per_min\": 321}") == at + ".pulse_per_min: 321 is too large");
    CHECK(refusal("{\"pulse_per_min\": 0}").empty());
    CHECK(refusal("{\"systolic_mmhg\": 80, \"diastolic_mmhg\": 80}") ==
          at + ".diastolic_mmhg: is not below systolic_mmhg");
    CHECK(refusal("{\"systolic_mmhg\": 81, \"diastolic_mmhg\": 80}").empty());
    CHECK(refusal("{\"systolic_mmhg\": 120, \"mean_mmhg\": 121}") ==
          at + ".mean_mmhg: is not between the other two pressures");
    CHECK(refusal("{\"diastolic_mmhg\": 80, \"mean_mmhg\": 79}") ==
          at + ".mean_mmhg: is not between the other two pressures");
    CHECK(refusal("{\"diastolic_mmhg\": 80, \"mean_mmhg\": 80, \"systolic_mmhg\": 81}").empty());
    CHECK(refusal("{\"saturation_percent\": 101}") == at + ".saturation_percent: 101 is too large");
    CHECK(refusal("{\"on_oxygen\": \"no\"}") == at + ".on_oxygen: is text");
    CHECK(refusal("{\"lungs\": \"noisy\"}") == at + ".lungs: \"noisy\" is not one of the choices");
    CHECK(refusal("{\"symptoms\": [\"rash\", \"rash\"]}") == at + ".symptoms[1]: is there twice: \"rash\"");
    CHECK(refusal("{\"patient_name\": \"x\"}") == at + ".patient_name: is not known here");
    CHECK(refusal("{\"symptoms\": null}") == at + ".symptoms: is null");
}

TEST_CASE("what is unusual is asked about, on both sides of each limit", "[observe]") {
    for (const auto unit : {TemperatureUnit::celsius, TemperatureUnit::fahrenheit}) {
        for (int i = 0; i <= static_cast<int>(Sign::saturation); ++i) {
            const Sign sign = static_cast<Sign>(i);
            const SignRange r = range_of(sign, unit);
            REQUIRE(r.least <= r.usual_least);
            REQUIRE(r.usual_most <= r.most);
            const auto asked = [&](std::int32_t value) {
                Observation set;
                const auto n = static_cast<std::int16_t>(value);
                switch (sign) {
                    case Sign::temperature: set.temperature = Temperature{n, unit}; break;
                    case Sign::pulse: set.pulse_per_min = n; break;
                    case Sign::systolic: set.systolic_mmhg = n; break;
                    case Sign::diastolic: set.diastolic_mmhg = n; break;
                    case Sign::mean_pressure: set.mean_mmhg = n; break;
                    case Sign::respirations: set.respirations_per_min = n; break;
                    default: set.saturation_percent = n; break;
                }
                const auto questions = questions_about(set);
                const bool impossible = problem_of(set).has_value();
                CHECK(impossible == (value < r.least || value > r.most));
                return questions.size() == 1 && questions[0].sign == sign &&
                       questions[0].kind == SetQuestion::Kind::unusual;
            };
            INFO(code(sign));
            CHECK_FALSE(asked(r.usual_least));
            CHECK_FALSE(asked(r.usual_most));
            CHECK(asked(r.usual_least - 1));
            if (r.usual_most < r.most) CHECK(asked(r.usual_most + 1));
            asked(r.least), asked(r.least - 1), asked(r.most), asked(r.most + 1);
        }
    }
    Observation set;
    CHECK(questions_about(set)[0].kind == SetQuestion::Kind::nothing_recorded);
    set.systolic_mmhg = std::int16_t{90};
    set.diastolic_mmhg = std::int16_t{80};
    CHECK(questions_about(set).empty());
    set.diastolic_mmhg = std::int16_t{81};
    CHECK(questions_about(set)[0].kind == SetQuestion::Kind::pressures_close);
}

TEST_CASE("the mild symptoms are itch, hives, flushing and a local rash; no other", "[observe]") {
    Symptoms mild;
    for (const Symptom s : {Symptom::itching, Symptom::hives, Symptom::flushing, Symptom::rash}) mild.add(s);
    CHECK(mild_symptoms == mild);
    for (const Symptom s : {Symptom::breathlessness, Symptom::breathless_lying_flat, Symptom::chest_tightness,
                            Symptom::cough, Symptom::wheeze, Symptom::blue_lips_or_skin, Symptom::frothy_sputum})
        CHECK(breathing_symptoms.has(s));
    CHECK_FALSE(breathing_symptoms.has(Symptom::chest_pain));
    CHECK(facts_of(Symptom::unusual_bleeding).group == SymptomGroup::bleeding);  // the table is in order
    CHECK(facts_of(Symptom::arm_pain).group == SymptomGroup::pain);
    CHECK(facts_of(Symptom::stridor).group == SymptomGroup::airway);
    CHECK(facts_of(Symptom::dread).group == SymptomGroup::general);
    CHECK(facts_of(Symptom::collapse).group == SymptomGroup::circulation);
}

TEST_CASE("an incomplete early-warning score asks for no interval, and no score for a longer one than the checks", "[observe]") {
    using namespace hangtime::test;
    Observation o = unremarkable();
    CHECK(score_asks_text(news2(adult(), o)) ==
          "The chart asks for nothing sooner than the transfusion's own checks: these stay.");
    o.pulse_per_min.reset();
    CHECK(score_asks_text(news2(adult(), o)) == "Missing: Pulse.");  // one sign of seven is not there
    o = {};
    o.temperature = tenths_c(370);
    CHECK(score_asks_text(news2(adult(), o)) ==
          "Missing: Respirations, Oxygen saturation, Oxygen or air, Systolic pressure, Pulse, Level of consciousness.");
    // Three points of one sign are there already: what is missing can only add to what the chart asks for.
    o.respirations_per_min = number(25);
    CHECK(score_asks_text(news2(adult(), o)).find("at least every hour") != std::string::npos);
    for (int i = 0; i < score_band_count; ++i) {
        const std::string_view text = sentence(static_cast<ScoreBand>(i));
        CHECK(text.find("12 h") == std::string_view::npos);
        CHECK(text.find("6 h") == std::string_view::npos);
        CHECK(text.find("own checks") != std::string_view::npos);
    }
}
