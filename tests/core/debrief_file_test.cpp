// A debrief that was saved, read back: what a screen or a class is told of it is what the debrief said, and a file
// that was changed by hand is refused with its place.

#include "rehearse_support.hpp"
#include "support.hpp"

#include "core/rehearse/debrief_file.hpp"

#include <catch2/catch_test_macros.hpp>

#include <cstdlib>

using namespace hangtime;
using namespace hangtime::test;

namespace {

std::string saved(const std::string& name, const std::string& which) {
    const Scenario s = shipped_scenario(name);
    const Played played = play(s, s.seed, shipped_actions(name, which, s));
    return debrief_json(*played.rehearsal, outcome_of(*played.rehearsal));
}

Error refused(const std::string& old, const std::string& by) {
    const auto read = read_debrief(replaced(saved("01-first-bag", "model"), old, by));
    if (read.ok()) FAIL("read: " << by);
    return read.error();
}

}  // namespace

TEST_CASE("every shipped attempt can be saved as a debrief and read back", "[rehearse][debrief]") {
    for (const std::string& name : demo_names("rehearsals"))
        for (const char* which : {"model", "mistake"}) {
            INFO(name << ", " << which);
            const Scenario s = shipped_scenario(name);
            const Played played = play(s, s.seed, shipped_actions(name, which, s));
            const Outcome o = outcome_of(*played.rehearsal);
            const auto read = read_debrief(debrief_json(*played.rehearsal, o));
            if (!read.ok()) FAIL(read.error().where << ": " << read.error().problem);
            const SavedDebrief& d = read.value();
            CHECK(d.scenario == s.id);
            CHECK(d.case_number == case_number(s, s.seed));
            CHECK(d.points == o.points);
            CHECK(d.most == o.most);
            REQUIRE(d.parts.size() == o.parts.size());
            for (std::size_t i = 0; i < d.parts.size(); ++i) {
                CHECK(d.parts[i].met == o.parts[i].met);
                CHECK(d.parts[i].item == scored_text(s.scored[o.parts[i].scored]));
            }
            REQUIRE(d.units.size() == o.units.size());
            for (std::size_t i = 0; i < d.units.size(); ++i) {
                CHECK(d.units[i].given == o.units[i].given);
                CHECK(d.units[i].wasted == o.units[i].wasted);
                CHECK(d.units[i].started == o.units[i].started.has_value());
                CHECK(d.units[i].ended == o.units[i].ended.has_value());
                CHECK(d.units[i].missed == o.units[i].missed);
            }
            REQUIRE(d.refused.size() == played.rehearsal->tried().size());
            for (std::size_t i = 0; i < d.refused.size(); ++i) CHECK(d.refused[i] == played.rehearsal->tried()[i].refusal);
            for (std::size_t i = 0; i < d.parts.size(); ++i) {
                CHECK(d.parts[i].due == o.parts[i].due);
                CHECK(d.parts[i].done == o.parts[i].done);
            }
        }
}

TEST_CASE("a saved debrief that was changed by hand is refused, with its place", "[rehearse][debrief]") {
    CHECK(refused("\"hangtime_debrief\": 1", "\"hangtime_debrief\": 2").where == "hangtime_debrief");
    CHECK(refused("\"rehearsal\": true", "\"rehearsal\": false").where == "rehearsal");
    CHECK(refused("\"points\": 13", "\"points\": 12").where == "points"); // not the sum of the parts
    CHECK(refused("\"scenario\": \"first-bag\"", "\"scenario\": \"First Bag\"").where == "scenario");
    CHECK(refused("\"met\": true", "\"met\": 1").where == "parts[0].met");
    CHECK(refused("\"met\": true", "\"met\": false").where == "parts[0].points");
    CHECK(refused("\"note\"", "\"name\"").where.find("name") != std::string::npos); // no key for one
    CHECK(refused("T13:30:00+01:00", "T13:60:00+01:00").where == "begins");
    CHECK(refused("\"what\": \"bag_arrives\"", "\"what\": \"a colleague\"").where == "happened[0].what"); // codes, no words
    CHECK_FALSE(read_debrief("[]").ok());
    CHECK(looks_like_debrief(saved("01-first-bag", "model")));
    CHECK_FALSE(looks_like_debrief(file_text("demo-data/rehearsals/01-first-bag.json")));
}

TEST_CASE("two saved attempts side by side say what was better", "[rehearse][debrief]") {
    const auto a = read_debrief(saved("06-rigors-on-saline", "mistake"));
    const auto b = read_debrief(saved("06-rigors-on-saline", "model"));
    REQUIRE(a.ok());
    REQUIRE(b.ok());
    const std::string text = sheet::to_text(compared_debriefs(a.value(), b.value(), "Rigors"));
    CHECK(text.find("better") != std::string::npos);
    CHECK(text.find("worse") == std::string::npos);
    CHECK(text.find("Rehearsal") != std::string::npos);
    const std::string other = sheet::to_text(compared_debriefs(a.value(), read_debrief(saved("01-first-bag", "model")).value(), ""));
    CHECK(other.find("two scenarios") != std::string::npos);
}

TEST_CASE("what a learner notes with a time of its own stands at that time, filled with what was to be seen", "[rehearse]") {
    const Scenario s = shipped_scenario("01-first-bag");
    Rehearsal r(s, s.seed);
    r.advance_to(s.begins + minutes(5));
    Event e;
    e.kind = EventKind::observed;
    e.facts = facts::Observed{CheckKind::baseline, 0, false, {}};
    e.at = {s.begins + minutes(3), Precision::minute};
    CHECK_FALSE(r.note(e));
    CHECK(r.log().events().back().at.at >= s.begins + minutes(3));
    CHECK(r.log().events().back().at.at < s.begins + minutes(4));
    CHECK(r.log().events().back().noted == s.begins + minutes(5));
    const Observation& filled = facts_of<facts::Observed>(r.log().events().back()).set;
    CHECK(filled.temperature == s.signs.temperature);
    CHECK(filled.symptoms == s.signs.symptoms);
    REQUIRE(filled.pulse_per_min); // a seed moves it a little
    CHECK(std::abs(*filled.pulse_per_min - *s.signs.pulse_per_min) <= 5);
    // What was entered is kept, also where it is wrong.
    Observation other = s.signs;
    other.pulse_per_min = 61;
    e.facts = facts::Observed{CheckKind::baseline, 0, false, other};
    e.at = {s.begins + minutes(5), Precision::second};
    CHECK_FALSE(r.note(e));
    CHECK(facts_of<facts::Observed>(r.log().events().back()).set.pulse_per_min == 61);
    // And what has not happened yet cannot be noted.
    e.at = {s.begins + minutes(6), Precision::second};
    CHECK(r.note(e) == Refusal::in_the_future);
    CHECK(r.tried().size() == 1);
}
