// Published tables of ABO compatibility, as read (facts collected for the project, section D2), each beside
// the answer under the choice of a protocol that stands for it. In each row: the recipient, then what the
// source lists. "ok" is listed plainly, "titre" only with a low titre, "any" whatever the group.

#include "core/match/compatible.hpp"
#include "core/words/match_words.hpp"

#include <catch2/catch_test_macros.hpp>

#include <string>
#include <string_view>
#include <vector>

using namespace hangtime;

namespace {

// What a source says of O, A, B, AB for a recipient: + listed, t only with a low titre, - not listed,
// ? says nothing.
struct Row {
    Abo recipient;
    std::string_view units;
};
struct Table {
    const char* source;
    Component component;
    PlasmaRule rule;  // the protocol's choice that stands for it
    std::vector<Row> rows;
};

Compatible answer(const CompatibilityRules& rules, Component c, std::optional<Abo> recipient, Abo unit,
                  Answer low_titre, bool emergency = false) {
    RecipientFacts r;
    r.abo = recipient;
    r.rhd = Rhd::positive;
    r.infant = r.transplant = r.child = r.rhd_listed = Answer::no;
    r.required = RequirementSet{};
    r.emergency = emergency;
    return judge_compatibility(&rules, r, {c, label_group(unit, Rhd::positive), low_titre, RequirementSet{}})
        .abo.is;
}

CompatibilityRules with(PlasmaRule rule, UnknownPlasma unknown = UnknownPlasma::ab_only,
                        WholeBloodRule whole = WholeBloodRule::identical_only) {
    CompatibilityRules rules;
    rules.plasma.value = rules.cryoprecipitate.value = rules.platelets.value = rule;
    rules.plasma_unknown.value = unknown;
    rules.whole_blood.value = whole;
    return rules;
}

void compare(const Table& table) {
    const CompatibilityRules rules = with(table.rule);
    for (const Row& row : table.rows)
        for (int i = 0; i < abo_count; ++i) {
            const auto unit = static_cast<Abo>(i);
            const auto got = [&](Answer titre) {
                return answer(rules, table.component, row.recipient, unit, titre);
            };
            INFO(table.source << ": " << name(unit) << " to " << name(row.recipient));
            switch (row.units[static_cast<std::size_t>(i)]) {
                case '+': CHECK(got(Answer::no) == Compatible::yes); break;
                case 't':
                    CHECK(got(Answer::yes) == Compatible::local_rule);
                    CHECK(got(Answer::no) == Compatible::no);
                    CHECK(got(Answer::not_recorded) == Compatible::cannot_tell);
                    break;
                case 'a': CHECK(got(Answer::no) == Compatible::local_rule); break;
                case '-': CHECK(got(Answer::yes) == Compatible::no); break;
                case '?': break;
                default: FAIL("a table with another letter");
            }
        }
}

}  // namespace

TEST_CASE("published: red cells (Lifeblood, NZ Blood Service, a US hospital guideline: unanimous)",
          "[match]") {
    compare({"Lifeblood, component compatibility", Component::red_cells, PlasmaRule::compatible_only,
             {{Abo::o, "+---"}, {Abo::a, "++--"}, {Abo::b, "+-+-"}, {Abo::ab, "++++"}}});
    for (const Abo unit : {Abo::o, Abo::a, Abo::b, Abo::ab})  // unknown: O only
        CHECK(answer(with(PlasmaRule::compatible_only), Component::red_cells, std::nullopt, unit, Answer::no,
                     true) == (unit == Abo::o ? Compatible::local_rule : Compatible::no));
}

TEST_CASE("published: granulocytes as red cells (two hospitals)", "[match]") {
    compare({"MUSC; QEHB", Component::granulocytes, PlasmaRule::compatible_only,
             {{Abo::o, "+---"}, {Abo::a, "++--"}, {Abo::b, "+-+-"}, {Abo::ab, "++++"}}});
}

TEST_CASE("published: plasma (NZ Blood Service plasma guide, Maine Medical Center)", "[match]") {
    compare({"NZ-FFP, MMC", Component::plasma, PlasmaRule::compatible_only,
             {{Abo::o, "++++"}, {Abo::a, "-+-+"}, {Abo::b, "--++"}, {Abo::ab, "---+"}}});
    for (const auto rule : {UnknownPlasma::ab_only, UnknownPlasma::ab_or_low_titre_a})
        for (const Abo unit : {Abo::o, Abo::a, Abo::b, Abo::ab}) {
            // Unknown: AB; or A with a low titre as well (NZ, Lifeblood, UK: local).
            const bool listed =
                unit == Abo::ab || (unit == Abo::a && rule == UnknownPlasma::ab_or_low_titre_a);
            CHECK(answer(with(PlasmaRule::compatible_only, rule), Component::plasma, std::nullopt, unit,
                         Answer::yes, true) == (listed ? Compatible::local_rule : Compatible::no));
        }
}

TEST_CASE("published: plasma, the pages of a UK hospital handbook (low weight)", "[match]") {
    compare({"UK pages", Component::plasma, PlasmaRule::low_titre_a_or_b,
             {{Abo::o, "++++"}, {Abo::a, "-+t+"}, {Abo::b, "-t++"}, {Abo::ab, "-tt+"}}});
}

TEST_CASE("published: cryoprecipitate, the pages of a UK hospital handbook (low weight)", "[match]") {
    // The order there leaves out AB for O and O for the others; AB plasma has no antibodies, so it is ours.
    compare({"UK pages", Component::cryoprecipitate, PlasmaRule::low_titre_a_or_b,
             {{Abo::o, "+++?"}, {Abo::a, "-+t+"}, {Abo::b, "-t++"}, {Abo::ab, "-tt+"}}});
    // US and NZ: any group for adults.
    compare({"US, NZ", Component::cryoprecipitate, PlasmaRule::any_group,
             {{Abo::o, "++++"}, {Abo::a, "a+a+"}, {Abo::b, "aa++"}, {Abo::ab, "aaa+"}}});
}

TEST_CASE("published: platelets (Lifeblood's order; the NZ guide: not strictly required)", "[match]") {
    compare({"Lifeblood", Component::platelets, PlasmaRule::low_titre,
             {{Abo::o, "+++?"}, {Abo::a, "t+t+"}, {Abo::b, "tt++"}, {Abo::ab, "ttt+"}}});
    compare({"NZ-PLT", Component::platelets, PlasmaRule::any_group,
             {{Abo::o, "++++"}, {Abo::a, "a+a+"}, {Abo::b, "aa++"}, {Abo::ab, "aaa+"}}});
    // Lifeblood, unknown: A or O, low titre.
    const CompatibilityRules rules = with(PlasmaRule::low_titre);
    for (const Abo unit : {Abo::o, Abo::a})
        CHECK(answer(rules, Component::platelets, std::nullopt, unit, Answer::yes, true) ==
              Compatible::local_rule);
    CHECK(answer(rules, Component::platelets, std::nullopt, Abo::b, Answer::yes, true) == Compatible::no);
}

TEST_CASE("published: whole blood, identical, since 2018 also low-titre O (a review of the AABB standard)",
          "[match]") {
    compare({"identical only", Component::whole_blood, PlasmaRule::compatible_only,
             {{Abo::o, "+---"}, {Abo::a, "-+--"}, {Abo::b, "--+-"}, {Abo::ab, "---+"}}});
    const auto rules = with(PlasmaRule::compatible_only, UnknownPlasma::ab_only, WholeBloodRule::low_titre_o);
    for (const Abo recipient : {Abo::a, Abo::b, Abo::ab})
        for (const Abo unit : {Abo::o, Abo::a, Abo::b, Abo::ab}) {
            const Compatible got = answer(rules, Component::whole_blood, recipient, unit, Answer::yes);
            CHECK(got == (unit == recipient ? Compatible::yes
                          : unit == Abo::o  ? Compatible::local_rule
                                            : Compatible::no));
        }
}
