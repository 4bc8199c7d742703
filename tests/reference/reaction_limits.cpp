// Both sides of every published limit for fever, for a fall of blood pressure, for pulse and for saturation:
//   both-limbs    CDC NHSN Hemovigilance protocol (fever by AND, hypotension of adults, children and under
//                 12 kg; read as quoted by others), SHOT/ISBT severity (>= 39 or >= 2; as quoted), consensus
//                 definition of lung injury 2004 (below 90 % on room air; read in a later paper's table);
//   either-limit  National Blood Authority (Australia) 2015, Appendix II (fever by OR, 30 mmHg), Australian
//                 Red Cross Lifeblood (severe from 39 or 1.5; both read);
//   rise-only     TRIP, the Netherlands (rise of 1, of 2; 20 mmHg systolic or diastolic; read);
//   more-than     NZ Blood Service (severe above 1.5, above 30 mmHg systolic or diastolic; read);
//   baseline-37   RCPA manual (>= 38, or a rise of 1 from a baseline of 37; read), a review of bacterial
//                 contamination (pulse up by more than 40; read as quoted);
//   percent       three categories after WHO, The Clinical Use of Blood (more than 20 %; read as quoted).
// The cases are arithmetic on those limits; none is quoted from a source.

#include "tests/core/observe_support.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

namespace {

struct Rules {
    Protocol protocol;
    const RuleSet* set;

    Rules(const std::string& id, const std::string& set_id)
        : protocol(shipped_protocol(id)), set(&rule_set(protocol, set_id)) {}

    Change change(const Person& person, const Observation& baseline, const Observation& now) const {
        return change_from(protocol.observations, *set, person, baseline, now);
    }
    bool prompts(PromptCode code, const Person& person, const Observation& baseline,
                 const Observation& now) const {
        return change(person, baseline, now).find(code) != nullptr;
    }

    bool fever(PromptCode code, std::optional<Temperature> before, Temperature now) const {
        Observation a = unremarkable(), b = unremarkable();
        a.temperature = before;
        b.temperature = now;
        return prompts(code, adult(), a, b);
    }
    bool fever(int before, int now) const { return fever(PromptCode::fever, tenths_c(before), tenths_c(now)); }
    bool severe(int before, int now) const {
        return fever(PromptCode::severe_fever, tenths_c(before), tenths_c(now));
    }
    bool fall(const Person& person, int before, int now) const {
        return prompts(PromptCode::pressure_fall, person, with_systolic(before), with_systolic(now));
    }
    bool diastolic_fall(int before, int now) const {
        Observation a = unremarkable(), b = unremarkable();
        a.diastolic_mmhg = number(before);
        b.diastolic_mmhg = number(now);
        return prompts(PromptCode::pressure_fall, adult(), a, b);
    }
    bool mean_fall(const Person& person, int before, int now) const {
        Observation a, b;
        a.mean_mmhg = number(before);
        b.mean_mmhg = number(now);
        return prompts(PromptCode::pressure_fall, person, a, b);
    }
    bool faster(int before, int now) const {
        Observation a = unremarkable(), b = unremarkable();
        a.pulse_per_min = number(before);
        b.pulse_per_min = number(now);
        return prompts(PromptCode::pulse_rise, adult(), a, b);
    }

    static Observation with_systolic(int n) {
        Observation out = unremarkable();
        out.systolic_mmhg = number(n);
        out.diastolic_mmhg.reset();
        out.mean_mmhg.reset();
        return out;
    }
};

}  // namespace

TEST_CASE("NHSN fever: at least 38.0 and up by at least 1.0, in either unit", "[observe]") {
    const Rules nhsn("general-ward", "both-limbs");
    CHECK(nhsn.fever(370, 380));
    CHECK_FALSE(nhsn.fever(370, 379));
    CHECK_FALSE(nhsn.fever(371, 380));
    CHECK_FALSE(nhsn.fever(364, 379));
    CHECK_FALSE(nhsn.fever(382, 391));
    CHECK(nhsn.fever(381, 391));
    const auto f = PromptCode::fever;
    CHECK(nhsn.fever(f, tenths_f(986), tenths_f(1004)));
    CHECK_FALSE(nhsn.fever(f, tenths_f(986), tenths_f(1003)));
    CHECK_FALSE(nhsn.fever(f, tenths_f(987), tenths_f(1004)));
    CHECK(nhsn.fever(f, tenths_c(370), tenths_f(1004)));
    CHECK_FALSE(nhsn.fever(f, tenths_c(371), tenths_f(1004)));
    CHECK(nhsn.fever(f, tenths_f(986), tenths_c(380)));
    CHECK(nhsn.fever(f, std::nullopt, tenths_c(380)));  // the other limb cannot be told
    CHECK_FALSE(nhsn.fever(f, std::nullopt, tenths_c(379)));
}

TEST_CASE("SHOT/ISBT: more than mild from 39.0 or a rise of 2.0", "[observe]") {
    const Rules shot("general-ward", "both-limbs");
    CHECK(shot.fever(365, 384));
    CHECK_FALSE(shot.severe(365, 384));
    CHECK(shot.severe(365, 385));
    CHECK(shot.severe(378, 390));
    CHECK_FALSE(shot.severe(378, 389));
    CHECK(shot.severe(382, 391));        // although it is no fever by both limbs
    CHECK_FALSE(shot.severe(391, 391));  // as warm as before: no change
    CHECK(shot.severe(391, 392));
}

TEST_CASE("Australia: 38.0 or a rise of 1.0; more than mild from 39.0 or 1.5", "[observe]") {
    const Rules au("general-ward", "either-limit");
    CHECK(au.fever(364, 379));
    CHECK(au.fever(376, 380));
    CHECK(au.fever(369, 379));
    CHECK_FALSE(au.fever(370, 379));
    CHECK_FALSE(au.fever(380, 380));
    CHECK(au.severe(366, 381));
    CHECK_FALSE(au.severe(367, 381));
    CHECK(au.severe(378, 390));
    CHECK_FALSE(au.severe(378, 389));
}

TEST_CASE("TRIP: a rise of 1.0, of 2.0, whatever the temperature", "[observe]") {
    const Rules trip("removal-clock", "rise-only");
    CHECK(trip.fever(360, 370));
    CHECK_FALSE(trip.fever(361, 370));
    CHECK_FALSE(trip.fever(385, 394));
    CHECK(trip.severe(360, 380));
    CHECK_FALSE(trip.severe(361, 380));
    const Change unknown = [&] {
        Observation before = unremarkable(), now = unremarkable();
        before.temperature.reset();
        now.temperature = tenths_c(400);
        return trip.change(adult(), before, now);
    }();
    CHECK_FALSE(unknown.find(PromptCode::fever));  // cannot be told, and is said to be so
    REQUIRE(unknown.missing.size() == 1);
    CHECK(unknown.missing[0].sign == Sign::temperature);
    CHECK(unknown.missing[0].in_baseline);
}

TEST_CASE("NZ Blood Service: more than mild above a rise of 1.5, not at it", "[observe]") {
    const Rules nz("half-hour-checks", "more-than");
    CHECK_FALSE(nz.severe(365, 380));
    CHECK(nz.fever(365, 380));
    CHECK(nz.severe(365, 381));
    CHECK(nz.fever(PromptCode::severe_fever, tenths_f(980), tenths_f(1008)));        // 1.56
    CHECK_FALSE(nz.fever(PromptCode::severe_fever, tenths_f(980), tenths_f(1007)));  // 1.5 exactly
}

TEST_CASE("RCPA: 38.0, or a rise of 1.0 from a baseline of 37.0", "[observe]") {
    const Rules rcpa("half-hour-checks", "baseline-37");
    CHECK(rcpa.fever(360, 380));
    CHECK_FALSE(rcpa.fever(360, 379));
    CHECK_FALSE(rcpa.fever(369, 379));
    CHECK(rcpa.fever(370, 380));
    CHECK_FALSE(rcpa.fever(370, 379));
    CHECK(rcpa.fever(379, 380));
}

TEST_CASE("NHSN, adults: down by at least 30 mmHg and at most 80", "[observe]") {
    const Rules nhsn("general-ward", "both-limbs");
    CHECK(nhsn.fall(adult(), 110, 80));
    CHECK_FALSE(nhsn.fall(adult(), 110, 81));
    CHECK_FALSE(nhsn.fall(adult(), 109, 80));
    CHECK(nhsn.fall(adult(), 109, 79));
    CHECK_FALSE(nhsn.fall(adult(), 130, 95));
    CHECK_FALSE(nhsn.fall(adult(), 150, 95));
    Observation before = Rules::with_systolic(110);
    before.systolic_mmhg.reset();
    CHECK(nhsn.prompts(PromptCode::pressure_fall, adult(), before, Rules::with_systolic(80)));
    CHECK_FALSE(nhsn.prompts(PromptCode::pressure_fall, adult(), before, Rules::with_systolic(81)));
}

TEST_CASE("NHSN, 1 to 17 years: down by more than 25 %; under 1 year or 12 kg by any measure", "[observe]") {
    const Rules nhsn("general-ward", "both-limbs");
    const Person youth{AgeGroup::youth, Mass{50'000}, false, false};
    const Person infant{AgeGroup::infant, Mass{13'000}, std::nullopt, false};
    for (const Person& person : {child(12'000), child(11'999), youth, infant}) {
        CHECK_FALSE(nhsn.fall(person, 120, 90));
        CHECK(nhsn.fall(person, 120, 89));
    }
    CHECK_FALSE(nhsn.mean_fall(child(12'000), 40, 29));  // a mean pressure is for the small
    CHECK(nhsn.mean_fall(child(11'999), 40, 29));
    CHECK_FALSE(nhsn.mean_fall(child(11'999), 40, 30));
    CHECK(nhsn.mean_fall(infant, 40, 29));
    CHECK_FALSE(nhsn.mean_fall(infant, 40, 30));
    CHECK(nhsn.mean_fall({AgeGroup::adult, Mass{11'999}, false, false}, 40, 29));  // at any age
    CHECK_FALSE(nhsn.mean_fall(adult(), 40, 29));
    // What is not recorded does not choose the milder rule.
    CHECK(nhsn.mean_fall(child(0), 40, 29));
    CHECK(nhsn.fall(Person{}, 120, 89));
    CHECK(nhsn.fall(Person{}, 110, 80));
    CHECK(nhsn.mean_fall(Person{}, 40, 29));
}

TEST_CASE("TRIP: down by at least 20 mmHg; NZ: by more than 30; systolic or diastolic", "[observe]") {
    const Rules trip("removal-clock", "rise-only"), nz("half-hour-checks", "more-than");
    CHECK(trip.fall(adult(), 130, 110));
    CHECK_FALSE(trip.fall(adult(), 130, 111));
    CHECK(trip.diastolic_fall(80, 60));
    CHECK_FALSE(trip.diastolic_fall(80, 61));
    CHECK(nz.fall(adult(), 130, 95));
    CHECK_FALSE(nz.fall(adult(), 110, 80));
    CHECK(nz.fall(adult(), 110, 79));
    CHECK(nz.diastolic_fall(81, 50));
    CHECK_FALSE(nz.diastolic_fall(80, 50));
    const Rules au("general-ward", "either-limit");
    CHECK(au.fall(adult(), 150, 120));
    CHECK_FALSE(au.fall(adult(), 150, 121));
    CHECK_FALSE(au.diastolic_fall(120, 60));
}

TEST_CASE("after WHO: a systolic pressure down by more than 20 %, a pulse up by more than 20 %", "[observe]") {
    const Rules who("children-by-weight", "percent"), review("half-hour-checks", "baseline-37");
    CHECK_FALSE(who.fall(adult(), 120, 96));
    CHECK(who.fall(adult(), 120, 95));
    CHECK_FALSE(who.faster(80, 96));
    CHECK(who.faster(80, 97));
    CHECK_FALSE(review.faster(80, 120));
    CHECK(review.faster(80, 121));
}

TEST_CASE("lung injury 2004: below 90 % on room air; on oxygen it is another matter, not a better one",
          "[observe]") {
    const Rules nhsn("general-ward", "both-limbs");
    const auto low = [&](int percent, std::optional<bool> oxygen) {
        Observation now = unremarkable();
        now.saturation_percent = number(percent);
        now.on_oxygen = oxygen;
        const Change change = nhsn.change(adult(), unremarkable(), now);
        const Prompt* prompt = change.find(PromptCode::saturation_low);
        return prompt ? std::optional(prompt->basis.source != Basis::no_source) : std::nullopt;
    };
    CHECK_FALSE(low(90, false).has_value());
    CHECK(low(89, false) == true);             // the published limit
    CHECK(low(89, true) == false);             // no source: the published limit is for air
    CHECK(low(89, std::nullopt) == false);     // not taken for air, and not for harmless either
}
