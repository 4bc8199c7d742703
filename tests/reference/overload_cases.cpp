// Five published cases of circulatory overload, before and during or after the transfusion: Blood Transfus
// 2017, Table IV (PMC5839610; read in the table). Temperatures are not given there. Each must prompt for
// overload under every shipped protocol and every rule set, and none may be called a fall of pressure.

#include "tests/core/observe_support.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

namespace {

struct Vitals {
    int systolic, diastolic, pulse, respirations;

    Observation set() const {
        Observation out;
        out.systolic_mmhg = number(systolic);
        out.diastolic_mmhg = number(diastolic);
        out.pulse_per_min = number(pulse);
        out.respirations_per_min = number(respirations);
        return out;
    }
};

constexpr struct {
    Vitals before, after;
} cases[] = {
    {{180, 95, 112, 28}, {205, 120, 160, 38}},
    {{91, 53, 105, 25}, {178, 100, 160, 40}},
    {{135, 55, 80, 25}, {186, 95, 93, 28}},
    {{130, 58, 88, 16}, {172, 85, 90, 40}},
    {{170, 115, 85, 17}, {250, 100, 123, 36}},
};

}  // namespace

TEST_CASE("five published cases of overload: prompted for, and not called a fall of pressure", "[observe]") {
    int tried = 0;
    for (const std::string& name : demo_names("protocols")) {
        const Protocol protocol = shipped_protocol(name);
        for (const RuleSet& set : protocol.observations.rule_sets) {
            for (const auto& c : cases) {
                INFO(name << " " << set.id << " " << c.before.systolic);
                const Change change =
                    change_from(protocol.observations, set, adult(), c.before.set(), c.after.set());
                const Prompt* prompt = change.find(PromptCode::overload_signs);
                REQUIRE(prompt);
                CHECK(prompt->severity == Severity::stop);
                CHECK(prompt->overload.has(OverloadSign::breathing_faster));
                CHECK(prompt->overload.has(OverloadSign::pressure_rising));
                CHECK_FALSE(change.find(PromptCode::pressure_fall));
                CHECK_FALSE(change.find(PromptCode::fever));
                // Without a temperature nothing can be said about fever, and that is said.
                bool said = false;
                for (const NotCompared& m : change.missing) said = said || m.sign == Sign::temperature;
                CHECK(said);
                ++tried;
            }
        }
    }
    CHECK(tried == 40);
}

TEST_CASE("the cases as trajectories: the prompt is there by the time the published end is reached", "[observe]") {
    // In ten equal steps from before to after; once there, it stays.
    const Protocol protocol = shipped_protocol("general-ward");
    const RuleSet& set = protocol.observations.rule_sets[0];
    for (const auto& c : cases) {
        bool prompted = false;
        for (int step = 0; step <= 10; ++step) {
            const auto between = [step](int a, int b) { return a + (b - a) * step / 10; };
            const Vitals now{between(c.before.systolic, c.after.systolic),
                             between(c.before.diastolic, c.after.diastolic),
                             between(c.before.pulse, c.after.pulse),
                             between(c.before.respirations, c.after.respirations)};
            const Change change =
                change_from(protocol.observations, set, adult(), c.before.set(), now.set());
            const bool there = change.find(PromptCode::overload_signs) != nullptr;
            CHECK_FALSE((step == 0 && there));
            CHECK((there || !prompted));
            CHECK_FALSE(change.find(PromptCode::pressure_fall));
            prompted = there;
        }
        CHECK(prompted);
    }
}

TEST_CASE("breathing alone or pressure alone is not called overload", "[observe]") {
    const Protocol protocol = shipped_protocol("general-ward");
    const RuleSet& set = protocol.observations.rule_sets[0];
    const auto change = [&](int systolic, int diastolic, int respirations) {
        Observation now = unremarkable();
        now.systolic_mmhg = number(systolic);
        now.diastolic_mmhg = number(diastolic);
        now.respirations_per_min = number(respirations);
        return change_from(protocol.observations, set, adult(), unremarkable(), now);
    };
    const auto overload = [&](int s, int d, int r) {
        return change(s, d, r).find(PromptCode::overload_signs) != nullptr;
    };
    // From 124/76 and 16: a rise of 20 mmHg, or 20 mmHg wider; breathing up by 3.
    CHECK(overload(144, 76, 19));
    CHECK_FALSE(overload(143, 76, 19));
    CHECK_FALSE(overload(144, 76, 18));
    CHECK(overload(134, 66, 19));
    CHECK_FALSE(overload(134, 67, 19));
    CHECK_FALSE(overload(123, 50, 19));  // the systolic pressure has fallen
    CHECK(change(124, 76, 19).find(PromptCode::breathing_worse));
    CHECK_FALSE(change(124, 76, 18).find(PromptCode::breathing_worse));
    CHECK_FALSE(change(160, 90, 16).stops());
}
