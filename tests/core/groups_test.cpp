// Groups and requirements, settled before a bag hangs: which answers may be settled by whom, over every answer that the
// judge of core/match gives.

#include "core/match/compatible.hpp"
#include "core/protocol/read.hpp"
#include "core/words/match_words.hpp"
#include "tests/core/plan_support.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;

namespace {

// Every answer there is, of these facts in all their values.
template <class F>
void for_each_answer(const F& f) {
    for (const char* id : {"general-ward", "removal-clock", "half-hour-checks", "children-by-weight"}) {
        const auto read = read_protocol(test::file_text("demo-data/protocols/" + std::string(id) + ".json"));
        REQUIRE(read.ok());
        REQUIRE(read.value().match.has_value());
        const CompatibilityRules& rules = read.value().match->compatibility;
        for (int c = 0; c < component_count; ++c)
            for (int recipient = 0; recipient < 10; ++recipient)
                for (int unit = 0; unit < 9; ++unit)
                    for (int special = 0; special < 81; ++special) {
                        RecipientFacts r;
                        if (recipient < 8) r.abo = static_cast<Abo>(recipient / 2), r.rhd = static_cast<Rhd>(recipient % 2);
                        r.conflicting = recipient == 9;
                        r.infant = static_cast<Answer>(special % 3);
                        r.transplant = special % 5 == 0 ? Answer::yes : Answer::no;
                        r.rhd_listed = r.child = static_cast<Answer>(special / 3 % 3);
                        r.emergency = special % 7 == 0;
                        if (special % 4 != 0) r.required = RequirementSet{};
                        if (special % 4 > 1) r.required->add(Requirement::irradiated);
                        UnitFacts u;
                        u.component = static_cast<Component>(c);
                        if (unit < 8) u.group = label_group(static_cast<Abo>(unit / 2), static_cast<Rhd>(unit % 2));
                        if (special % 11 == 0) u.group.use = LabelUse::not_for_transfusion;
                        if (special % 13 == 0) u.group.use = LabelUse::autologous;
                        u.low_titre = static_cast<Answer>(special / 9 % 3);
                        if (special % 4 == 3) {
                            u.stated = RequirementSet{};
                            if (special % 8 == 3) u.stated->add(Requirement::irradiated);
                        }
                        f(r, u, judge_compatibility(&rules, r, u));
                    }
    }
}

}  // namespace

TEST_CASE("each reason stands for one answer, whatever was asked", "[match][groups]") {
    for_each_answer([](const RecipientFacts&, const UnitFacts&, const Compatibility& c) {
        for (const Judged& part : {c.abo, c.rhd, c.label, c.requirements, c.overall})
            if (answer_of(part.why) != part.is) FAIL(code(part.why) << " is not " << code(part.is));
    });
    for (int i = 0; i < code_count<CompatibleReason>(); ++i) {
        const auto why = static_cast<CompatibleReason>(i);
        CAPTURE(code(why));
        const bool fits = answer_of(why) == Compatible::yes || answer_of(why) == Compatible::local_rule;
        CHECK(settles(why, GroupsBy::answer) == fits);
        // A waiver never goes further than the laboratory's instruction.
        CHECK((!settles(why, GroupsBy::waiver) || settles(why, GroupsBy::laboratory)));
    }
}

TEST_CASE("what is settled is never red cells that the recipient has antibodies against", "[match][groups]") {
    std::size_t clashes = 0, settled = 0;
    for_each_answer([&](const RecipientFacts& r, const UnitFacts& u, const Compatibility& c) {
        const GroupReasons reasons = reasons_of(c);
        if (reasons.empty()) FAIL("an answer without a reason");
        const bool fits = c.overall.is == Compatible::yes || c.overall.is == Compatible::local_rule;
        if (settles(reasons, GroupsBy::answer) != fits) FAIL("the answer and its reasons disagree");
        // Antigens of the unit that the recipient lacks, worked out here from the letters: A is bit 0, B is bit 1.
        const auto antigens = [](Abo abo) { return abo == Abo::o ? 0 : abo == Abo::a ? 1 : abo == Abo::b ? 2 : 3; };
        const bool cells = u.component == Component::red_cells || u.component == Component::whole_blood ||
                           u.component == Component::granulocytes;
        const bool known = r.abo && !r.conflicting && u.group.abo;
        if (cells && known && (antigens(*u.group.abo) & ~antigens(*r.abo)) != 0) {
            ++clashes;
            for (const GroupsBy by : {GroupsBy::answer, GroupsBy::laboratory, GroupsBy::waiver})
                if (settles(reasons, by)) FAIL("a clash was settled");
        }
        for (const GroupsBy by : {GroupsBy::laboratory, GroupsBy::waiver}) settled += settles(reasons, by) ? 1U : 0U;
    });
    CHECK(clashes > 1000);
    CHECK(settled > 1000);
}

TEST_CASE("a requirement that is not on the label is settled by laboratory or waiver, and is named", "[match][groups]") {
    RecipientFacts r;
    r.abo = Abo::a, r.rhd = Rhd::positive;
    r.infant = r.transplant = r.child = r.rhd_listed = Answer::no;
    r.required = RequirementSet{};
    r.required->add(Requirement::irradiated);
    r.required->add(Requirement::washed);
    UnitFacts u{Component::red_cells, label_group(Abo::a, Rhd::positive), Answer::no, RequirementSet{}};
    u.stated->add(Requirement::washed);
    const Compatibility c = judge_compatibility(nullptr, r, u);
    RequirementSet irradiated;
    irradiated.add(Requirement::irradiated);
    CHECK(unmet_of(c) == irradiated);
    const GroupReasons reasons = reasons_of(c);
    REQUIRE(reasons.size() == 1);
    CHECK(reasons[0] == CompatibleReason::requirement_not_met);
    CHECK_FALSE(settles(reasons, GroupsBy::answer));
    CHECK(settles(reasons, GroupsBy::laboratory));
    CHECK(settles(reasons, GroupsBy::waiver));
    CHECK_FALSE(settles(GroupReasons{}, GroupsBy::laboratory));  // nothing is not settled
}
