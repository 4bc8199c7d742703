/// Sequence files, from JSON to the sheet; the plans themselves are held to the rules in sequence_test.cpp and, without
/// our planner, in tests/oracle/test_sequence.py.

#include "core/plan/sequence_sheet.hpp"
#include "core/round/sequence_draft.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::rounds;

namespace {

struct Demo {
    Protocol protocol;
    Sequence sequence;
    SequencePlan plan;
    std::string text;
};

Demo demo(const std::string& name) {
    const std::string text = test::file_text("demo-data/sequences/" + name + ".json");
    const auto id = read_sequence_protocol_id(text);
    REQUIRE(id.ok());
    Demo out{test::shipped_protocol(id.value()), {}, {}, {}};
    const auto read = read_sequence(text, out.protocol);
    if (!read.ok()) FAIL(read.error().where << ": " << read.error().problem);
    out.sequence = read.value();
    out.plan = plan_sequence(out.protocol, out.sequence);
    std::string sheet = sheet::to_text(sequence_sheet(out.protocol, out.sequence, out.plan));
    // On one line, so that a sentence is found wherever it was wrapped.
    for (char c : sheet)
        if (c != '\n') out.text += c;
        else if (!out.text.empty() && out.text.back() != ' ') out.text += ' ';
    std::string single;
    for (const char c : out.text)
        if (c != ' ' || single.empty() || single.back() != ' ') single += c;
    out.text = single;
    return out;
}

bool says(const Demo& d, const std::string& text) {
    INFO(d.text);
    INFO(text);
    const bool found = d.text.find(text) != std::string::npos;
    CHECK(found);
    return found;
}

}  // namespace

TEST_CASE("red cells may follow platelets through the same set, and not the other way round", "[sequence]") {
    const Demo after = demo("01-platelets-then-red-cells"), before = demo("02-red-cells-then-platelets");
    CHECK(after.plan.units[1].set == NewSet::kept);
    says(after, "Set: same set. It has to be changed by ");
    says(after, "it would not be all in by then: hang a new set first.");
    CHECK(before.plan.units[1].set == NewSet::component_asks);
    says(before, "Set: new set: this component never goes through a used one.");
    for (const Demo& d : {after, before}) {
        says(d, d.protocol.match->people.value == MatchPeople::one ? "Match: a new one by one person, at "
                                                                   : "Match: a new one by two people, at ");
        says(d, "Observations, a cycle of its own");
        says(d, "somebody looks again before any other is called for");
        says(d, "Void after");
    }
}

TEST_CASE("at risk of overload it is one unit, then look again", "[sequence]") {
    const Demo d = demo("03-overload-risk-one-unit");
    says(d, "One unit, then look again.");
    says(d, "at risk of overload: one unit, then look again before any other is called for. At ");
    REQUIRE(d.plan.units.size() == 2);
    CHECK(d.plan.units[1].call_at >= d.plan.units[0].all_in + d.protocol.round->reassess_takes);
}

TEST_CASE("the sheet says the longest sequence that is over by an hour", "[sequence]") {
    const Demo d = demo("04-over-by-the-evening");
    CHECK(d.plan.fit > 1);
    CHECK(d.plan.fit < d.sequence.units.size());
    const std::string headline = sequence_headline(d.sequence, d.plan, day_of(d.sequence));  // wrapped on the sheet
    CHECK(headline.find("Unit 4 would not be over by 17:00: its last check is at 18:18:30.") == 0);
    CHECK(headline.find("The longest sequence that fits before 17:00 is the first 3 units") != std::string::npos);
    // The hour moves by a second round the last check of the fourth: it counts.
    Sequence s = d.sequence;
    s.over_by = d.plan.units[3].over;
    CHECK(plan_sequence(d.protocol, s).fit == 4);
    s.over_by = *s.over_by - Seconds{1};
    CHECK(plan_sequence(d.protocol, s).fit == 3);
    CHECK_FALSE(sequence_fits(d.sequence, d.plan));
}

TEST_CASE("two sources that disagree about the set give two sheets of the same sequence", "[sequence]") {
    const Demo one = demo("05-one-set-by-one-source"), other = demo("06-a-new-set-by-another");
    CHECK(one.plan.units[1].set == NewSet::kept);
    CHECK(other.plan.units[1].set == NewSet::each_unit);
    REQUIRE(one.sequence.units.size() == other.sequence.units.size());
    says(other, "Set: new set: one for each unit here.");
}

TEST_CASE("a second unit that would not be all in before the set expires gets a new set, and that is said", "[sequence]") {
    const Demo d = demo("07-the-set-would-expire");
    std::size_t expired = 0;
    for (const SequencePlan::Unit& u : d.plan.units)
        if (u.set == NewSet::would_expire) ++expired;
    CHECK(expired == 1);
    says(d, "a new set before it is hung: the old one has to be changed by 17:00, and this unit would be all in after that.");
    // The blood bank's own times: 35 and 15 min.
    CHECK(d.plan.units[0].start - d.plan.units[0].call_at == minutes(35 + 15) + d.protocol.round->match_takes.value);
}

TEST_CASE("two lines into one person are told with what is left for this one", "[sequence]") {
    const Demo d = demo("08-two-lines-one-ceiling");
    REQUIRE(d.plan.units[0].left_of_ceiling);
    CHECK(compare_ratio(*d.plan.units[0].left_of_ceiling, exactly(ml_per_h(52))) == 0);  // 5 x 18.4 - 40
    says(d, "52 mL/h is left for this line by the other one");
    says(d, "40 mL/h runs into the same person through another line");
}

TEST_CASE("a kept set's life and content go into the plan of the unit that it is kept for", "[sequence]") {
    const Demo d = demo("01-platelets-then-red-cells");
    const State first = sequence_state(d.sequence, d.plan.units[0], 0), second = sequence_state(d.sequence, d.plan.units[1], 1);
    CHECK_FALSE(first.times.set_since);
    REQUIRE(second.times.set_since);
    CHECK(*second.times.set_since == d.plan.units[0].start);
    CHECK(second.line.other_first());
    CHECK(d.plan.units[1].set_change_by == *second.times.set_since + hours(12));
}

TEST_CASE("a sequence that was entered is read as it was entered", "[sequence]") {
    const Protocol rules = test::shipped_protocol("removal-clock");
    SequenceDraft full = new_sequence_draft(Instant{1773482400}, WallClock(minutes(60)));
    full.over_by = *full.first_start + hours(8);
    full.weight_tenths = 745;
    full.overload_risk = Answer::yes;
    full.can_report = Answer::no;
    full.other_line_tenths = 105;
    full.set_hung = *full.first_start - hours(1);
    full.set_units = 2;
    full.set_first = Component::platelets;
    full.set_last = Component::red_cells;
    full.ready_min = 35;
    full.transport_min = 0;
    full.units = {{Component::red_cells, 2905, 120}, {Component::plasma, 2500, std::nullopt}};
    const auto whole = read_sequence(draft_text(full, rules), rules);
    if (!whole.ok()) FAIL(whole.error().where << ": " << whole.error().problem);
    CHECK(whole.value().first_start == full.first_start);
    CHECK(whole.value().over_by == full.over_by);
    CHECK(whole.value().set.hung == full.set_hung);
    CHECK(whole.value().set.units == 2);
    CHECK(whole.value().set.carried == (component_bit(Component::platelets) | component_bit(Component::red_cells)));
    CHECK(whole.value().common.recipient.weight == Mass{74'500});
    CHECK(whole.value().units[0].order.duration == minutes(120));

    // Kept and taken up again, whatever is missing in it.
    SequenceDraft one_set = full, holes = full;
    one_set.set_first.reset();
    holes.first_start.reset();
    holes.set_hung.reset();
    holes.units[1] = {};
    holes.units.emplace_back();
    for (const SequenceDraft& draft : {full, one_set, holes, new_sequence_draft(Instant{1773482400}, WallClock(minutes(-300)))}) {
        const std::string text = draft_text(draft, rules);
        const auto kept = read_sequence_draft(text);
        if (!kept.ok()) FAIL(kept.error().where << ": " << kept.error().problem);
        CHECK(kept.value().protocol == "removal-clock");
        CHECK(draft_text(kept.value().draft, rules) == text);
        CHECK(kept.value().draft.set_first == draft.set_first);
        CHECK(kept.value().draft.set_last == draft.set_last);
    }
    std::string text = draft_text(full, rules);
    CHECK_FALSE(read_sequence_draft(text.substr(0, text.size() / 2)).ok());
    text.replace(text.find("\"units\""), 7, "\"person\"");
    CHECK_FALSE(read_sequence_draft(text).ok());
    const Protocol protocol = test::shipped_protocol("general-ward");
    const SequenceDraft fresh = new_sequence_draft(Instant{1773482400}, WallClock(minutes(60)));
    const auto read = read_sequence(draft_text(fresh, protocol), protocol);
    REQUIRE_FALSE(read.ok());
    CHECK(read.error().where == "units[0].component");
}
