/// A round that is being entered, through the reader of round files.

#include "core/round/draft.hpp"
#include "core/words/format.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::rounds;

namespace {

Instant on_14_march(int hour, int minute) {
    return {days_from_civil(2026, 3, 14) * 86400 + (hour - 1) * 3600 + minute * 60};
}

Draft whole() {
    Draft d = new_draft(on_14_march(6, 20), WallClock(minutes(60)));
    d.nurses[0].rest[1] = {on_14_march(12, 0), on_14_march(12, 30)};
    d.nurses[0].handover[0] = {on_14_march(7, 0), on_14_march(7, 15)};
    d.transfusions[0].component = Component::red_cells;
    d.transfusions[0].bag_tenths = 3165;
    d.transfusions[0].overload_risk = Answer::no;
    d.transfusions[0].can_report = Answer::yes;
    d.transfusions[0].latest = on_14_march(9, 0);
    return d;
}

Error refusal(const Draft& draft, const Protocol& protocol) {
    const auto round = read_round(draft_text(draft, protocol), protocol);
    REQUIRE_FALSE(round.ok());
    return round.error();
}

}  // namespace

TEST_CASE("a round that was entered is read as it was entered", "[round]") {
    const Protocol protocol = test::shipped_protocol("general-ward");
    Draft draft = whole();
    draft.transfusions.push_back(new_transfusion(draft));
    DraftTransfusion& t = draft.transfusions[1];
    CHECK(t.object != draft.transfusions[0].object);
    t.component = Component::platelets;
    t.bag_tenths = 2200;
    t.overload_risk = Answer::yes;  // the person is the first one's, and so are these entries
    draft.transfusions[0].weight_tenths = 805;
    t.within_min = 45;
    t.most_tenths = 1505;
    t.weight = 3;
    t.latest = on_14_march(10, 0);
    t.person_of = draft.transfusions[0].object;
    const auto read = read_round(draft_text(draft, protocol), protocol);
    if (!read.ok()) FAIL(read.error().where << ": " << read.error().problem);
    const Round& r = read.value();
    CHECK(r.from == on_14_march(7, 0));
    CHECK(r.until == on_14_march(15, 0));
    REQUIRE(r.nurses.size() == 1);
    REQUIRE(r.nurses[0].breaks.size() == 1);
    CHECK(r.nurses[0].breaks[0].from == on_14_march(12, 0));
    CHECK(r.nurses[0].handovers[0].to == on_14_march(7, 15));
    REQUIRE(r.transfusions.size() == 2);
    CHECK(volume_text(*r.transfusions[0].state.unit.bag) == "316.5 mL");
    CHECK(r.transfusions[0].weight == 1);
    CHECK(r.transfusions[0].call_earliest == on_14_march(7, 0));
    CHECK(r.transfusions[1].weight == 3);
    CHECK(r.transfusions[1].follows == 0);
    CHECK(r.transfusions[1].state.order.duration == minutes(45));
    CHECK(mass_text(r.transfusions[1].state.recipient.weight) == "80.5 kg");
    CHECK(r.transfusions[1].state.recipient.overload_risk == Answer::no);
    REQUIRE(r.transfusions[1].state.order.most);
    CHECK(rate_text(*r.transfusions[1].state.order.most) == "150.5 mL/h");
}

TEST_CASE("what is missing or wrong in an entry is refused as in a file", "[round]") {
    const Protocol protocol = test::shipped_protocol("general-ward");
    Draft d = whole();
    d.transfusions[0].bag_tenths.reset();
    CHECK(refusal(d, protocol).where == "transfusions[0].bag_ml");
    d = whole();
    d.transfusions[0].latest = on_14_march(6, 0);
    CHECK(refusal(d, protocol).where == "transfusions[0].call.latest");
    CHECK(refusal(d, protocol).problem.find("closes before it opens") != std::string::npos);
    d = whole();
    d.nurses[0].rest[0] = {on_14_march(12, 15), on_14_march(12, 45)};
    CHECK(refusal(d, protocol).where == "nurses[0].breaks[1].from");
    d = whole();
    d.second_from_round = true;
    CHECK(refusal(d, protocol).where == "match_second");
    d = whole();
    d.nurses[0].hours.until.reset();
    CHECK(refusal(d, protocol).where == "nurses[0].hours[0].until");
}

TEST_CASE("a draft across a change of the clock is read back to the same moments", "[round]") {
    const Protocol protocol = test::shipped_protocol("general-ward");
    WallClock wall(minutes(60));
    REQUIRE(wall.add_change({days_from_civil(2026, 3, 29) * 86400 + 3600}, minutes(120)));
    Draft d = whole();
    d.wall = wall;
    d.from = Instant{days_from_civil(2026, 3, 28) * 86400 + 22 * 3600};
    d.until = *d.from + minutes(8 * 60);
    d.nurses[0] = {};
    d.nurses[0].hours = {d.from, d.until};
    d.transfusions[0].earliest = d.from;
    d.transfusions[0].latest = *d.from + minutes(4 * 60);
    const auto read = read_round(draft_text(d, protocol), protocol);
    if (!read.ok()) FAIL(read.error().where << ": " << read.error().problem);
    CHECK(read.value().until - read.value().from == minutes(8 * 60));
    CHECK(read.value().transfusions[0].call_latest == *d.from + minutes(4 * 60));
}

TEST_CASE("a draft that was kept comes back as it was, whatever was missing in it", "[round]") {
    const Protocol protocol = test::shipped_protocol("general-ward");
    Draft empty = new_draft(on_14_march(6, 20), WallClock(minutes(60)));
    Draft full = whole();
    full.second_from_round = true;
    full.promise_first = true;
    full.now = on_14_march(9, 5);
    full.nurses.push_back(full.nurses[0]);
    full.nurses[0].rest[0] = full.nurses[0].rest[1];  // the first one first, as it is written
    full.nurses[0].rest[1] = {};
    full.nurses[1] = full.nurses[0];
    full.transfusions.push_back(new_transfusion(full));
    DraftTransfusion& t = full.transfusions[1];
    t.component = Component::platelets;
    t.bag_tenths = 2205;
    t.weight_tenths = 805;
    t.within_min = 45;
    t.weight = 3;
    t.latest = on_14_march(11, 0);
    t.ready_min = 35;
    t.transport_min = 0;
    t.other_line_tenths = 205;
    t.person_of = full.transfusions[0].object;
    t.promised_start = on_14_march(10, 0);
    t.promised_nurse = 1;
    DraftHappened& h = full.transfusions[0].happened;
    h.issued = on_14_march(8, 2);
    h.started = on_14_march(8, 21);
    h.nurse = 0;
    h.paused_min = 10;
    h.reaction = on_14_march(8, 50);
    h.reaction_takes_min = 30;
    for (const Draft& draft : {empty, full}) {
        const std::string text = draft_text(draft, protocol);
        const auto kept = read_draft(text);
        if (!kept.ok()) FAIL(kept.error().where << ": " << kept.error().problem);
        CHECK(kept.value().protocol == "general-ward");
        CHECK(draft_text(kept.value().draft, protocol) == text);
    }
    CHECK(read_round(draft_text(full, protocol), protocol).ok());
    // Anything but what is missing is refused: a text that was tampered with does no harm.
    std::string text = draft_text(full, protocol);
    CHECK_FALSE(read_draft(text.substr(0, text.size() / 2)).ok());
    text.replace(text.find("\"weight\""), 8, "\"person\"");
    CHECK_FALSE(read_draft(text).ok());
    CHECK_FALSE(read_draft("").ok());
}

TEST_CASE("what was promised is written into the draft, and what has happened is held to it", "[round]") {
    const Protocol protocol = test::shipped_protocol("general-ward");
    Draft d = whole();
    promise(d, {{on_14_march(8, 0), 0}});
    d.promise_first = true;
    d.now = on_14_march(8, 10);
    d.transfusions[0].happened.started = on_14_march(8, 5);
    CHECK(refusal(d, protocol).where == "transfusions[0].happened.issued_at");
    d.transfusions[0].happened.issued = on_14_march(7, 45);
    CHECK(refusal(d, protocol).where == "transfusions[0].happened.nurse");
    d.transfusions[0].happened.nurse = 0;
    const auto read = read_round(draft_text(d, protocol), protocol);
    if (!read.ok()) FAIL(read.error().where << ": " << read.error().problem);
    CHECK(read.value().priority == Priority::promise);
    CHECK(read.value().transfusions[0].promised_start == on_14_march(8, 0));
    CHECK(read.value().transfusions[0].happened.started == on_14_march(8, 5));
}
