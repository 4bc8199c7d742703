// What a rehearsal was given makes it again as it stood, whatever was refused, let happen from outside, or only waited for.

#include "rehearse_support.hpp"

#include "core/rehearse/course.hpp"
#include "core/rehearse/score.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>

using namespace hangtime;
using namespace hangtime::test;

namespace {

struct Kept {
    explicit Kept(const Scenario& s, std::int32_t seed) : rehearsal(s, seed), texts{course_beginning(s, seed)} {}

    void to(Instant at) {
        rehearsal.advance_to(at);
        texts.push_back(course_moment(rehearsal.now()));
    }
    std::optional<Refusal> note(EventKind kind, Facts facts, Seconds ago = {}, Precision precision = Precision::second) {
        Event event;
        event.kind = kind;
        event.at = {rehearsal.now() - ago, precision};
        if (precision == Precision::minute) event.at.at = minute_of(event.at.at);
        event.facts = std::move(facts);
        texts.push_back(course_record(event, rehearsal));
        return rehearsal.note(std::move(event));
    }
    void inject(Happening happening) {
        texts.push_back(course_happening(happening, rehearsal));
        rehearsal.inject(std::move(happening));
    }

    Rehearsal rehearsal;
    std::vector<std::string> texts;
};

Scenario read_again(const std::vector<std::string>& course) {
    REQUIRE(begins_course(course.front()));
    auto read = read_scenario(course.front(), nullptr);
    if (!read.ok()) FAIL(read.error().where << ": " << read.error().problem);
    return std::move(read.value());
}

void check_the_same(const Kept& kept) {
    const Scenario again = read_again(kept.texts);
    CHECK(again.seed == kept.rehearsal.seed());
    Rehearsal r(again, again.seed);
    if (const auto error = go_through(r, std::span(kept.texts).subspan(1)))
        FAIL(error->where << ": " << error->problem << "; " << error->accepted);
    CHECK(r.now() == kept.rehearsal.now());
    CHECK(write_log(r.log()) == write_log(kept.rehearsal.log()));
    CHECK(r.signs_now() == kept.rehearsal.signs_now());
    CHECK(r.tried().size() == kept.rehearsal.tried().size());
    CHECK(r.told().size() == kept.rehearsal.told().size());
    CHECK(r.next_happening() == kept.rehearsal.next_happening());
    // And it goes on as it would have gone on.
    Rehearsal there(kept.rehearsal.scenario(), kept.rehearsal.seed());
    REQUIRE_FALSE(go_through(there, std::span(kept.texts).subspan(1)));
    r.advance_to(r.ends());
    there.advance_to(there.ends());
    CHECK(debrief_json(r, outcome_of(r)) == debrief_json(there, outcome_of(there)));
}

}  // namespace

TEST_CASE("every model solution and mistake is made again from what it was given", "[rehearse][course]") {
    for (const std::string& name : {std::string("01-first-bag"), std::string("05-one-character"), std::string("08-breathless-with-rising-pressure"),
                                    std::string("11-night-of-the-clock-change")})
        for (const char* which : {"model", "mistake"}) {
            INFO(name << ", " << which);
            const Scenario s = shipped_scenario(name);
            const Played played = play(s, 7, shipped_actions(name, which, s));
            const Log& log = played.rehearsal->log();
            Kept kept(s, 7);
            const auto world = [&](std::int32_t n) {
                const auto& told = played.rehearsal->told();
                return std::any_of(told.begin(), told.end(), [n](const Told& t) { return t.record == n; });
            };
            const std::int32_t first = kept.rehearsal.log().next_number();
            for (const Event& e : log.events()) {
                if (e.number < first || world(e.number)) continue;
                kept.to(e.noted);
                Event given = e;
                given.number = 0;
                given.noted = {};
                kept.texts.push_back(course_record(given, kept.rehearsal));
                CHECK_FALSE(kept.rehearsal.note(given));
            }
            check_the_same(kept);
        }
}

TEST_CASE("what was refused and what an educator let happen come again, at their moments", "[rehearse][course]") {
    const Scenario s = shipped_scenario("01-first-bag");
    Kept kept(s, 1);
    facts::RateSet rate;
    rate.rate = ml_per_h(50);
    CHECK(kept.note(EventKind::started, rate).has_value());  // refused, and scored as tried
    CHECK_FALSE(kept.note(EventKind::requested, std::monostate{}));
    kept.to(s.begins + minutes(3));
    Happening h;
    h.id = "console";
    h.kind = WorldKind::complaint;
    SignsAfter itches;
    itches.set.symptoms = Symptoms{};
    itches.set.symptoms->add(Symptom::itching);
    h.signs.push_back(itches);
    kept.inject(h);
    kept.to(s.begins + minutes(4) + Seconds{13});
    REQUIRE(kept.rehearsal.tried().size() == 1);
    check_the_same(kept);
    const auto& told = kept.rehearsal.told();
    CHECK(std::any_of(told.begin(), told.end(), [&](const Told& t) { return t.happening >= s.happenings.size() && t.at == s.begins + minutes(3); }));
}

TEST_CASE("a record that no log can hold is not kept, and stops nothing", "[rehearse][course]") {
    const Scenario s = shipped_scenario("01-first-bag");
    Rehearsal r(s, 1);
    Event event;
    event.kind = EventKind::started;
    event.at = {r.now(), Precision::second};
    event.facts = facts::RateSet{};
    CHECK(course_record(event, r).empty());
    CHECK(r.note(event).has_value());
    event.facts = facts::RateSet{ml_per_h(50), false, {}};
    CHECK_FALSE(course_record(event, r).empty());
}

TEST_CASE("of a course that is damaged it is said which record, and a log begins none", "[rehearse][course]") {
    const Scenario s = shipped_scenario("01-first-bag");
    Kept kept(s, 1);
    kept.note(EventKind::requested, std::monostate{});
    CHECK_FALSE(begins_course(kept.texts[1]));
    CHECK_FALSE(begins_course(write_log(kept.rehearsal.log())));
    for (const char* bad : {"", "{}", "{\"moment\": -1}", "{\"moment\": 5, \"happens\": {}}", "{\"moment\": 5, \"name\": 1}"}) {
        INFO(bad);
        std::vector<std::string> texts = {kept.texts[1], bad};
        Rehearsal r(s, 1);
        const auto error = go_through(r, texts);
        REQUIRE(error);
        CHECK(error->where.starts_with("record 2"));
        CHECK_FALSE(error->accepted.empty());
    }
}
