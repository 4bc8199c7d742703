// The rules for the match in protocols: what the shipped ones say, and that they may be left out.

#include "support.hpp"

#include "core/json/value.hpp"
#include "core/protocol/compare.hpp"
#include "core/protocol/read.hpp"
#include "core/protocol/write.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

TEST_CASE("the shipped protocols disagree about the match as their sources do", "[match]") {
    // JPAC handbook 4.10: one or two people by local policy, never the laboratory's form. NZ handbook 3.12
    // and Lifeblood: two people independently. East Carolina University: two nurses, swap and repeat; Merck
    // Manual: the compatibility report is at the bedside.
    const auto rules = [](const char* id) {
        const Protocol p = shipped_protocol(id);
        REQUIRE(p.match.has_value());
        return *p.match;
    };
    CHECK(rules("general-ward").people.value == MatchPeople::two_read_back);
    CHECK(rules("general-ward").lab_form.value);
    CHECK(rules("removal-clock").people.value == MatchPeople::one);
    CHECK_FALSE(rules("removal-clock").lab_form.value);
    CHECK(rules("half-hour-checks").people.value == MatchPeople::two_independent);
    CHECK(rules("children-by-weight").people.value == MatchPeople::two_independent);
    // JPAC handbook 10.3: for children the plasma in platelets must suit the red cells.
    CHECK(rules("children-by-weight").compatibility.platelets.value == PlasmaRule::compatible_only);
    CHECK(rules("half-hour-checks").compatibility.platelets.value == PlasmaRule::any_group);
}

TEST_CASE("a protocol without rules for the match is read, and written as it was", "[match]") {
    Protocol p = shipped_protocol("general-ward");
    p.match.reset();
    const auto read = read_protocol(write_protocol(p));
    REQUIRE(read.ok());
    CHECK_FALSE(read.value().match);
    CHECK(read.value() == p);
    CHECK(compare(p, shipped_protocol("general-ward")).size() > 15);
}

TEST_CASE("every rule for the match is among a protocol's rules: a change of one is a difference",
          "[match]") {
    const Protocol p = shipped_protocol("general-ward");
    const auto differs = [&p](auto change) {
        Protocol other = p;
        change(*other.match);
        return compare(p, other).size() == 1;
    };
    CHECK(differs([](MatchRules& m) { m.people.value = MatchPeople::one; }));
    CHECK(differs([](MatchRules& m) { m.cannot_say.value = CannotSay::ask_companion; }));
    CHECK(differs([](MatchRules& m) { m.lines[0].read_from = MatchPlace::order; }));
    CHECK(differs([](MatchRules& m) { m.lines[0].compare_with = {}; }));
    CHECK(differs([](MatchRules& m) { m.lab_form.value = false; }));
    CHECK(differs([](MatchRules& m) { m.stale.value = minutes(11); }));
    CHECK(differs([](MatchRules& m) { m.compatibility.plasma.value = PlasmaRule::low_titre_a_or_b; }));
    CHECK(differs([](MatchRules& m) {
        m.compatibility.plasma_unknown.value = UnknownPlasma::ab_or_low_titre_a;
    }));
    CHECK(differs([](MatchRules& m) {
        m.compatibility.cryoprecipitate.value = PlasmaRule::compatible_only;
    }));
    CHECK(differs([](MatchRules& m) { m.compatibility.platelets.value = PlasmaRule::any_group; }));
    CHECK(differs([](MatchRules& m) {
        m.compatibility.whole_blood.value = WholeBloodRule::identical_only;
    }));
    CHECK(differs([](MatchRules& m) { m.compatibility.rhd_listed.value = RhdRule::never; }));
    CHECK(differs([](MatchRules& m) { m.compatibility.rhd_female_up_to_years = 51; }));
    CHECK(differs([](MatchRules& m) { m.compatibility.rhd_male_up_to_years = 17; }));
    CHECK(differs([](MatchRules& m) { m.compatibility.rhd_others.value = RhdRule::emergency_only; }));
}
