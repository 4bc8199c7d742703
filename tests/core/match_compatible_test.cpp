// Compatibility, derived here again from what stands on red cells and in plasma, and compared with the answer
// for every pair, component and choice of a protocol. The published tables are in
// tests/reference/compatibility_tables.cpp.

#include "core/match/compatible.hpp"
#include "core/words/match_words.hpp"

#include "support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <vector>

using namespace hangtime;
using namespace hangtime::test;

namespace {

// Landsteiner: who lacks an antigen has the antibody against it, and nobody has one against their own.
struct Antigens {
    bool a, b;
};
Antigens antigens_of(Abo group) {
    return {group == Abo::a || group == Abo::ab, group == Abo::b || group == Abo::ab};
}
// Antibodies of one group's plasma meet antigens of the other's red cells.
bool reacts(Abo plasma, Abo cells) {
    const Antigens own = antigens_of(plasma), met = antigens_of(cells);
    return (met.a && !own.a) || (met.b && !own.b);
}

const std::vector<Component> components = {Component::red_cells,       Component::platelets,
                                           Component::plasma,          Component::cryoprecipitate,
                                           Component::whole_blood,     Component::granulocytes};
const std::vector<Abo> abos = {Abo::o, Abo::a, Abo::b, Abo::ab};
const std::vector<Rhd> rhds = {Rhd::negative, Rhd::positive};
const std::vector<Answer> answers = {Answer::not_recorded, Answer::no, Answer::yes};

bool carries_red_cells(Component c) {
    return c == Component::red_cells || c == Component::whole_blood || c == Component::granulocytes;
}

// Somebody of whom everything is known and nothing is special.
RecipientFacts adult(Abo abo, Rhd rhd) {
    RecipientFacts r;
    r.abo = abo;
    r.rhd = rhd;
    r.infant = r.transplant = r.child = r.rhd_listed = Answer::no;
    r.required = RequirementSet{};
    return r;
}

UnitFacts unit_of(Component component, Abo abo, Rhd rhd, Answer low_titre = Answer::no) {
    return {component, label_group(abo, rhd), low_titre, RequirementSet{}};
}

// Every choice that a protocol can make about ABO.
std::vector<CompatibilityRules> all_rules() {
    std::vector<CompatibilityRules> out;
    for (const auto plasma : {PlasmaRule::compatible_only, PlasmaRule::low_titre_a_or_b})
        for (const auto unknown : {UnknownPlasma::ab_only, UnknownPlasma::ab_or_low_titre_a})
            for (const auto cryo :
                 {PlasmaRule::compatible_only, PlasmaRule::low_titre_a_or_b, PlasmaRule::any_group})
                for (const auto platelets :
                     {PlasmaRule::compatible_only, PlasmaRule::low_titre, PlasmaRule::any_group})
                    for (const auto whole : {WholeBloodRule::identical_only, WholeBloodRule::low_titre_o}) {
                        CompatibilityRules rules;
                        rules.plasma.value = plasma;
                        rules.plasma_unknown.value = unknown;
                        rules.cryoprecipitate.value = cryo;
                        rules.platelets.value = platelets;
                        rules.whole_blood.value = whole;
                        rules.rhd_listed.value = RhdRule::emergency_only;
                        rules.rhd_others.value = RhdRule::ask_blood_bank;
                        out.push_back(rules);
                    }
    return out;
}

PlasmaRule rule_of(const CompatibilityRules& rules, Component c) {
    return c == Component::plasma ? rules.plasma.value
           : c == Component::platelets ? rules.platelets.value
                                       : rules.cryoprecipitate.value;
}

// What the answer for ABO must be, from antigens and antibodies alone.
Compatible derived(const CompatibilityRules& rules, Component c, Abo recipient, Abo unit, Answer low_titre) {
    const bool against_cells = reacts(recipient, unit);  // the recipient's antibodies, the unit's red cells
    const bool against_own = reacts(unit, recipient);    // the unit's antibodies, the recipient's red cells
    if (carries_red_cells(c) && against_cells) return Compatible::no;
    if (c == Component::red_cells || c == Component::granulocytes) return Compatible::yes;
    if (!against_own) return Compatible::yes;
    bool by_titre = false;
    if (c == Component::whole_blood) {
        by_titre = unit == Abo::o && rules.whole_blood.value == WholeBloodRule::low_titre_o;
    } else {
        const PlasmaRule rule = rule_of(rules, c);
        if (rule == PlasmaRule::any_group) return Compatible::local_rule;
        by_titre = rule == PlasmaRule::low_titre || (rule == PlasmaRule::low_titre_a_or_b && unit != Abo::o);
    }
    if (!by_titre || low_titre == Answer::no) return Compatible::no;
    return low_titre == Answer::yes ? Compatible::local_rule : Compatible::cannot_tell;
}

}  // namespace

TEST_CASE("whole blood of another group reacts one way or the other", "[match]") {
    for (const Abo a : abos)
        for (const Abo b : abos) CHECK((reacts(a, b) || reacts(b, a)) == (a != b));
}

TEST_CASE("ABO follows from antigens and antibodies, for every pair, component and choice", "[match]") {
    int pairs = 0;
    for (const CompatibilityRules& rules : all_rules())
        for (const Component c : components)
            for (const Abo recipient : abos)
                for (const Abo unit : abos)
                    for (const Answer titre : answers)
                        for (const Rhd rhd : rhds) {
                            INFO(code(c) << ": " << name(unit) << " to " << name(recipient));
                            const Compatibility got = judge_compatibility(
                                &rules, adult(recipient, rhd), unit_of(c, unit, rhd, titre));
                            CHECK(got.abo.is == derived(rules, c, recipient, unit, titre));
                            if (got.abo.why == CompatibleReason::identical) CHECK(recipient == unit);
                            ++pairs;
                        }
    CHECK(pairs == 72 * 6 * 16 * 3 * 2);
}

TEST_CASE("red cells that the recipient has antibodies against are never given, and nothing waives it",
          "[match]") {
    for (const CompatibilityRules& rules : all_rules())
        for (const Component c : components)
            for (const Abo recipient : abos)
                for (const Abo unit : abos) {
                    if (!carries_red_cells(c) || !reacts(recipient, unit)) continue;
                    for (const Answer a : answers)
                        for (const Answer b : answers)
                            for (const bool emergency : {false, true}) {
                                RecipientFacts r = adult(recipient, Rhd::positive);
                                r.infant = a;
                                r.transplant = b;
                                r.child = a;
                                r.rhd_listed = b;
                                r.emergency = emergency;
                                const auto got = judge_compatibility(
                                    &rules, r, unit_of(c, unit, Rhd::negative, Answer::yes));
                                CHECK(got.abo == Judged{Compatible::no, CompatibleReason::red_cells_clash});
                                CHECK(got.overall.is == Compatible::no);
                                CHECK_FALSE(may_be_waived(got.abo.why));
                                CHECK(judge_compatibility(nullptr, r, unit_of(c, unit, Rhd::negative))
                                          .overall.is == Compatible::no);
                            }
                }
    for (const CompatibleReason why :
         {CompatibleReason::red_cells_clash, CompatibleReason::unknown_needs_o,
          CompatibleReason::not_identical, CompatibleReason::label_forbids, CompatibleReason::group_missing,
          CompatibleReason::group_conflicts, CompatibleReason::unit_group_missing})
        CHECK_FALSE(may_be_waived(why));
    CHECK(may_be_waived(CompatibleReason::requirement_not_met));
}

TEST_CASE("with anything missing, no pair is compatible", "[match]") {
    const auto lacks = [](auto change) {
        int answered = 0;
        for (const CompatibilityRules& rules : all_rules())
            for (const Component c : components)
                for (const Abo recipient : abos)
                    for (const Abo unit : abos)
                        for (const Rhd rhd : rhds)
                            for (const bool emergency : {false, true}) {
                                RecipientFacts r = adult(recipient, rhd);
                                UnitFacts u = unit_of(c, unit, rhd, Answer::yes);
                                r.emergency = emergency;
                                change(r, u);
                                const Compatible is = judge_compatibility(&rules, r, u).overall.is;
                                answered += is == Compatible::yes;
                                // Only the emergency way answers anything without a group.
                                const bool held = is == Compatible::cannot_tell || is == Compatible::no;
                                if (!emergency) CHECK(held);
                            }
        return answered;
    };
    CHECK(lacks([](RecipientFacts& r, UnitFacts&) { r.abo.reset(); }) == 0);
    CHECK(lacks([](RecipientFacts& r, UnitFacts&) { r.conflicting = true; }) == 0);
    CHECK(lacks([](RecipientFacts& r, UnitFacts&) { r.infant = Answer::not_recorded; }) == 0);
    CHECK(lacks([](RecipientFacts& r, UnitFacts&) { r.transplant = Answer::not_recorded; }) == 0);
    CHECK(lacks([](RecipientFacts& r, UnitFacts&) { r.required.reset(); }) == 0);
    CHECK(lacks([](RecipientFacts&, UnitFacts& u) { u.group.abo.reset(); }) == 0);
    CHECK(lacks([](RecipientFacts&, UnitFacts& u) { u.group.use = LabelUse::not_recognised; }) == 0);
    CHECK(lacks([](RecipientFacts& r, UnitFacts& u) {
              r.required->add(Requirement::irradiated);
              u.stated.reset();
          }) == 0);
    CHECK(lacks([](RecipientFacts& r, UnitFacts& u) {
              r.infant = Answer::not_recorded;
              u.group.abo.reset();
          }) == 0);
}

TEST_CASE("a missing RhD is \"cannot tell\" where RhD counts", "[match]") {
    const auto rules = all_rules().front();
    for (const Component c : components) {
        RecipientFacts r = adult(Abo::a, Rhd::positive);
        UnitFacts u = unit_of(c, Abo::a, Rhd::positive);
        const bool counts = c != Component::plasma && c != Component::cryoprecipitate;
        u.group.rhd.reset();
        CHECK(judge_compatibility(&rules, r, u).overall.is ==
              (counts ? Compatible::cannot_tell : Compatible::yes));
        u = unit_of(c, Abo::a, Rhd::negative);
        r.rhd.reset();
        CHECK(judge_compatibility(&rules, r, u).overall.is ==
              (counts ? Compatible::cannot_tell : Compatible::yes));
        // Nor in an emergency, whatever is known about the list.
        r.abo.reset();
        r.emergency = true;
        for (const Rhd rhd : rhds)
            for (const Answer listed : answers) {
                r.rhd_listed = listed;
                CHECK((judge_compatibility(&rules, r, unit_of(c, Abo::ab, rhd)).rhd.is == Compatible::yes) ==
                      !counts);
            }
    }
}

TEST_CASE("RhD positive for RhD negative, by the protocol's list", "[match]") {
    CompatibilityRules rules = all_rules().front();
    const auto answer = [&rules](Component c, Answer listed, bool emergency) {
        RecipientFacts r = adult(Abo::a, Rhd::negative);
        r.rhd_listed = listed;
        r.emergency = emergency;
        return judge_compatibility(&rules, r, unit_of(c, Abo::a, Rhd::positive)).rhd;
    };
    const Component red = Component::red_cells;
    rules.rhd_listed.value = RhdRule::emergency_only;
    rules.rhd_others.value = RhdRule::ask_blood_bank;
    CHECK(answer(red, Answer::yes, false) == Judged{Compatible::no, CompatibleReason::rhd_listed});
    CHECK(answer(red, Answer::yes, true) ==
          Judged{Compatible::local_rule, CompatibleReason::rhd_in_emergency});
    CHECK(answer(red, Answer::no, false) ==
          Judged{Compatible::local_rule, CompatibleReason::rhd_by_blood_bank});
    CHECK(answer(red, Answer::not_recorded, false) ==
          Judged{Compatible::cannot_tell, CompatibleReason::listed_missing});
    rules.rhd_listed.value = RhdRule::never;
    rules.rhd_others.value = RhdRule::emergency_only;
    CHECK(answer(red, Answer::yes, true).is == Compatible::no);
    CHECK(answer(red, Answer::no, false) == Judged{Compatible::no, CompatibleReason::rhd_not_allowed});
    CHECK(answer(red, Answer::no, true).is == Compatible::local_rule);
    CHECK(answer(Component::plasma, Answer::yes, false) ==
          Judged{Compatible::yes, CompatibleReason::rhd_not_needed});
    CHECK(answer(Component::cryoprecipitate, Answer::yes, false).is == Compatible::yes);
    CHECK(answer(Component::platelets, Answer::yes, false) ==
          Judged{Compatible::local_rule, CompatibleReason::rhd_by_blood_bank});
    CHECK(answer(Component::platelets, Answer::no, false).is == Compatible::yes);
    CHECK(answer(Component::platelets, Answer::not_recorded, false).is == Compatible::cannot_tell);
    // The other way round nothing is in the way.
    for (const Component c : components)
        CHECK(judge_compatibility(&rules, adult(Abo::b, Rhd::positive), unit_of(c, Abo::b, Rhd::negative))
                  .overall.is == Compatible::yes);
}

TEST_CASE("infants and people after a transplant: the laboratory says, and what clashes stays no",
          "[match]") {
    for (const CompatibilityRules& rules : all_rules())
        for (const Component c : components)
            for (const Abo recipient : abos)
                for (const Abo unit : abos)
                    for (const bool infant : {true, false}) {
                        RecipientFacts r = adult(recipient, Rhd::positive);
                        const UnitFacts u = unit_of(c, unit, Rhd::positive, Answer::yes);
                        const Compatibility before = judge_compatibility(&rules, r, u);
                        (infant ? r.infant : r.transplant) = Answer::yes;
                        const Compatibility after = judge_compatibility(&rules, r, u);
                        CHECK(after.overall.is ==
                              (before.abo.is == Compatible::no ? Compatible::no : Compatible::cannot_tell));
                        if (before.abo.is == Compatible::yes)
                            CHECK(after.overall.why == (infant ? CompatibleReason::infant
                                                               : CompatibleReason::transplant));
                    }
}

TEST_CASE("for a child the plasma in a unit must suit, whatever the protocol allows adults", "[match]") {
    // JPAC handbook 10.3.
    for (const CompatibilityRules& rules : all_rules())
        for (const Component c : {Component::platelets, Component::plasma, Component::cryoprecipitate})
            for (const Abo recipient : abos)
                for (const Abo unit : abos) {
                    RecipientFacts r = adult(recipient, Rhd::positive);
                    r.child = Answer::yes;
                    const auto got =
                        judge_compatibility(&rules, r, unit_of(c, unit, Rhd::positive, Answer::yes));
                    CHECK(got.abo.is == (reacts(unit, recipient) ? Compatible::no : Compatible::yes));
                    r.child = Answer::not_recorded;
                    const auto open =
                        judge_compatibility(&rules, r, unit_of(c, unit, Rhd::positive, Answer::yes));
                    if (reacts(unit, recipient)) {
                        CHECK(open.abo.is != Compatible::yes);
                        CHECK(open.abo.is != Compatible::local_rule);
                    }
                }
}

TEST_CASE("an emergency without tag or sample: group O by the ward's rule, and nothing else", "[match]") {
    for (const CompatibilityRules& rules : all_rules()) {
        RecipientFacts r;  // nothing is known
        r.emergency = true;
        const auto answer = [&](Component c, Abo abo, Rhd rhd, Answer titre = Answer::not_recorded) {
            UnitFacts u = unit_of(c, abo, rhd, titre);
            u.stated.reset();
            return judge_compatibility(&rules, r, u).overall;
        };
        const Component red = Component::red_cells;
        CHECK(answer(red, Abo::o, Rhd::negative) ==
              Judged{Compatible::local_rule, CompatibleReason::emergency_unit});
        for (const Abo other : {Abo::a, Abo::b, Abo::ab})
            CHECK(answer(red, other, Rhd::negative) ==
                  Judged{Compatible::no, CompatibleReason::unknown_needs_o});
        // RhD positive needs to know about the list (Lifeblood: others O positive or negative).
        CHECK(answer(red, Abo::o, Rhd::positive).why == CompatibleReason::listed_missing);
        r.rhd_listed = Answer::no;
        CHECK(answer(red, Abo::o, Rhd::positive).is == Compatible::local_rule);
        r.rhd_listed = Answer::yes;
        CHECK(answer(red, Abo::o, Rhd::positive).is == Compatible::local_rule);  // never withheld
        r.rhd_listed = Answer::not_recorded;
        CHECK(answer(Component::plasma, Abo::ab, Rhd::positive).is == Compatible::local_rule);
        CHECK(answer(Component::plasma, Abo::o, Rhd::positive, Answer::yes).is == Compatible::no);
        const bool a = rules.plasma_unknown.value == UnknownPlasma::ab_or_low_titre_a;
        CHECK(answer(Component::plasma, Abo::a, Rhd::positive, Answer::yes).is ==
              (a ? Compatible::local_rule : Compatible::no));
        CHECK(answer(Component::plasma, Abo::a, Rhd::positive).is ==
              (a ? Compatible::cannot_tell : Compatible::no));
        // A known infant is for the laboratory, also here.
        r.infant = Answer::yes;
        CHECK(answer(red, Abo::o, Rhd::negative).is == Compatible::cannot_tell);
        r.infant = Answer::not_recorded;
        r.emergency = false;
        CHECK(answer(red, Abo::o, Rhd::negative).is == Compatible::cannot_tell);
        CHECK(answer(red, Abo::a, Rhd::negative).is == Compatible::no);
    }
}

TEST_CASE("two results for a group that differ count as none", "[match]") {
    const auto rules = all_rules().front();
    RecipientFacts r = adult(Abo::ab, Rhd::positive);
    r.conflicting = true;
    const auto o = judge_compatibility(&rules, r, unit_of(Component::red_cells, Abo::o, Rhd::negative));
    CHECK(o.abo == Judged{Compatible::cannot_tell, CompatibleReason::group_conflicts});
    CHECK(judge_compatibility(&rules, r, unit_of(Component::red_cells, Abo::ab, Rhd::positive)).overall.is ==
          Compatible::no);
}

TEST_CASE("special requirements are ticks, compared with the label", "[match]") {
    const auto rules = all_rules().front();
    for (int i = 0; i < requirement_count; ++i) {
        const auto what = static_cast<Requirement>(i);
        RecipientFacts r = adult(Abo::a, Rhd::positive);
        UnitFacts u = unit_of(Component::red_cells, Abo::a, Rhd::positive);
        u.stated->add(what);  // more than is asked for is fine
        CHECK(judge_compatibility(&rules, r, u).overall.is == Compatible::yes);
        r.required->add(what);
        const auto met = judge_compatibility(&rules, r, u);
        CHECK(met.overall.is == Compatible::yes);
        CHECK(met.each[static_cast<std::size_t>(i)] == RequirementState::met);
        u.stated = RequirementSet{};
        const auto not_met = judge_compatibility(&rules, r, u);
        CHECK(not_met.overall == Judged{Compatible::no, CompatibleReason::requirement_not_met});
        CHECK(not_met.each[static_cast<std::size_t>(i)] == RequirementState::not_on_label);
        for (int k = 0; k < requirement_count; ++k)
            if (k != i) CHECK(not_met.each[static_cast<std::size_t>(k)] == RequirementState::not_asked);
        u.stated.reset();
        CHECK(judge_compatibility(&rules, r, u).overall.is == Compatible::cannot_tell);
    }
}

TEST_CASE("what the label says of the use comes before a group that fits", "[match]") {
    const auto rules = all_rules().front();
    for (int i = 0; i < code_count<LabelUse>(); ++i) {
        const auto use = static_cast<LabelUse>(i);
        UnitFacts u = unit_of(Component::red_cells, Abo::a, Rhd::positive);
        u.group.use = use;
        const Compatible is = judge_compatibility(&rules, adult(Abo::a, Rhd::positive), u).overall.is;
        INFO(code(use));
        if (!may_be_transfused(use)) CHECK(is == Compatible::no);
        else if (is_reserved(use) || use == LabelUse::not_recognised) CHECK(is == Compatible::cannot_tell);
        else if (use == LabelUse::emergency) CHECK(is == Compatible::local_rule);
        else CHECK(is == Compatible::yes);
    }
}

TEST_CASE("a protocol without rules answers only what needs none", "[match]") {
    for (const Component c : components)
        for (const Abo recipient : abos)
            for (const Abo unit : abos) {
                const auto got = judge_compatibility(nullptr, adult(recipient, Rhd::positive),
                                                     unit_of(c, unit, Rhd::positive, Answer::yes));
                if (carries_red_cells(c) && reacts(recipient, unit)) CHECK(got.abo.is == Compatible::no);
                else if (c == Component::red_cells || c == Component::granulocytes || recipient == unit ||
                         (!carries_red_cells(c) && !reacts(unit, recipient)))
                    CHECK(got.abo.is == Compatible::yes);
                else CHECK(got.abo.is == Compatible::cannot_tell);
            }
}
