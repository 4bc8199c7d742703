// What another protocol would change in the demo transfusions, and the card for somebody who knows another ward.

#include "support.hpp"

#include "core/plan/case_changes.hpp"
#include "core/plan/float_card.hpp"
#include "core/plan/plan_words.hpp"
#include "core/protocol/compare.hpp"
#include "core/protocol/edit.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>

using namespace hangtime;
using namespace hangtime::test;

namespace {

std::vector<DemoCase> demo_cases() {
    std::vector<DemoCase> out;
    for (const std::string& name : demo_names("transfusions"))
        out.push_back({name, file_text("demo-data/transfusions/" + name + ".json")});
    return out;
}

const CaseChange& of(const std::vector<CaseChange>& changes, std::string_view title) {
    const auto at = std::find_if(changes.begin(), changes.end(), [&](const CaseChange& c) { return c.title == title; });
    if (at == changes.end()) FAIL("no case " << title);
    return *at;
}

std::string line(const CaseChange& change, std::string_view what) {
    for (const CaseLine& l : change.lines)
        if (l.what == what) return l.before + " -> " + l.after;
    return "the same";
}

}  // namespace

TEST_CASE("the same rules change nothing in the demo cases, and that is said") {
    const auto cases = demo_cases();
    for (const std::string& name : demo_names("protocols")) {
        const Protocol p = shipped_protocol(name);
        const auto changes = case_changes(p, p, cases);
        CHECK(changes.size() == cases.size());
        CHECK(changed_cases(changes) == 0);
        CHECK(changed_sentence(changes) == "Nothing changes in these 12 cases.");
    }
    CHECK(changed_sentence({}) == "There is no case to try it on.");
}

TEST_CASE("a shorter limit shows in the demo cases, old against new, and only where it bears") {
    // Case 2: 300 mL to somebody of 60 kg at risk, issued 10:00, start 10:20, at most 1 mL/kg/h: 60 mL/h. By 14:00 that
    // is 50 mL/h for 15 min and 60 mL/h for 205 min: 12.5 + 205 = 217.5 mL. By 13:30 it is half an hour less: 187.5 mL.
    const Protocol old = shipped_protocol("general-ward");
    ProtocolEdit edit(old);
    std::string finish;
    for (const EditGroup& group : edit.groups())
        if (group.there && group.path.starts_with("components.red_cells.limits[") && group.find("kind")->text == "finish")
            finish = group.path;
    // An hour less would be shorter than the pace that is usual for those at risk: that rule is to be changed first.
    const auto refused = edit.set(finish, {{"within_min", "180"}});
    REQUIRE(refused);
    CHECK(refused->where == "components.red_cells.usual_at_risk.most_min");
    REQUIRE_FALSE(edit.set(finish, {{"within_min", "210"}}));
    const auto cases = demo_cases();
    const auto changes = case_changes(old, edit.protocol(), cases);
    const CaseChange& frail = of(changes, "Frail does not fit");
    CHECK(frail.about == "Red cells, 300 mL");
    CHECK(line(frail, "All in by") == "14:00 -> 13:30");
    CHECK(line(frail, "Can be given by the limit") == "217.5 mL -> 187.5 mL");
    CHECK(line(frail, "Verdict") == "the same");
    CHECK(line(frail, "Rate") == "the same");
    CHECK(of(changes, "Platelets").lines.empty());
    CHECK(of(changes, "Not covered").lines.empty());
    CHECK_FALSE(of(changes, "Not covered").covered);
    CHECK(changed_cases(changes) >= 2);
    CHECK(changed_cases(changes) < cases.size());
}

TEST_CASE("another name of the rules alone changes nothing in the demo cases") {
    const Protocol old = shipped_protocol("half-hour-checks");
    Protocol named = old;
    named.id = "ward-12";
    named.title = "Ward 12";
    CHECK(changed_cases(case_changes(old, named, demo_cases())) == 0);
}

TEST_CASE("other observations show in the demo cases as their times") {
    const Protocol old = shipped_protocol("general-ward");
    ProtocolEdit edit(old);
    REQUIRE_FALSE(edit.set("checks.early[0]", {{"after_min", "20"}}));
    const auto changes = case_changes(old, edit.protocol(), demo_cases());
    const std::string early = line(of(changes, "Red cells adult"), "Early check");
    REQUIRE(early.size() == std::string("hh:mm -> hh:mm").size());
    CHECK(early.substr(0, 2) == early.substr(9, 2));
    CHECK(std::stoi(early.substr(12, 2)) - std::stoi(early.substr(3, 2)) == 5);
}

TEST_CASE("a case that is not possible under one of two protocols says so, and nothing else") {
    const auto changes = case_changes(shipped_protocol("general-ward"), shipped_protocol("removal-clock"), demo_cases());
    const CaseChange& frail = of(changes, "Frail does not fit");
    REQUIRE(frail.lines.size() == 1);
    CHECK(line(frail, "Verdict") == "Does not fit -> not possible as it is: line.cleared_at_end is true, but the protocol "
                                    "forbids clearing");
    const std::vector<DemoCase> cases = {{"01-odd", "{\"hangtime_transfusion\": 1, \"protocol\": \"x\"}"}};
    const Protocol p = shipped_protocol("general-ward");
    CHECK(changed_cases(case_changes(p, p, cases)) == 0);
    // Two that disagree about everything still answer every case.
    for (const CaseChange& change :
         case_changes(shipped_protocol("removal-clock"), shipped_protocol("children-by-weight"), demo_cases()))
        for (const CaseLine& l : change.lines) {
            INFO(change.title << ": " << l.what);
            CHECK(l.before != l.after);
            CHECK_FALSE(l.what.empty());
        }
}

TEST_CASE("the card for somebody from another ward tells every difference once") {
    const Protocol usual = shipped_protocol("general-ward"), here = shipped_protocol("half-hour-checks");
    const sheet::Document card = float_card(usual, here);
    const std::string text = sheet::to_text(card);
    CHECK(text.find(here.revised) != text.npos);
    CHECK(text.find(usual.revised) != text.npos);
    CHECK(text.find("not adopted by a ward") != text.npos);
    std::size_t rows = 0, all = compare(usual, here).size();
    for (const sheet::Block& block : card.blocks) rows += block.table.rows.size();
    CHECK(rows > 10);
    CHECK(rows < all);  // the same of several components stands once
    CHECK(sheet::to_text(float_card(here, here)).find("Nothing differs") != std::string::npos);

    // Each rule that differs is there with both its sides.
    for (const Difference& d : compare(usual, here)) {
        if (!d.path.starts_with("checks.")) continue;
        bool found = false;
        for (const sheet::Block& block : card.blocks)
            for (const auto& row : block.table.rows) found |= row.size() == 4 && row[1] == d.right && row[2] == d.left;
        INFO(d.path);
        CHECK(found);
    }
}

TEST_CASE("whose rules and of when stands on a sheet of what changes") {
    const Protocol p = shipped_protocol("general-ward");
    const std::string text = sheet::to_text(case_sheet(p, shipped_protocol("removal-clock"), demo_cases()));
    CHECK(rules_text(p) == "General ward, common practice, revised " + p.revised + " - example, not adopted by a ward");
    CHECK(text.find("revised " + p.revised) != text.npos);
    CHECK(text.find("come out differently") != text.npos);
}
