// Rehearsals: the shipped scenarios with their model solutions and typical mistakes, and what a scenario may say.
// tests/core/golden/rehearsals.txt was read through: what each attempt came to, and one debrief in full.

#include "rehearse_support.hpp"
#include "support.hpp"

#include "core/words/rehearse_words.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <set>

using namespace hangtime;
using namespace hangtime::test;

namespace {

std::string summary(const std::string& name, const std::string& which, const Played& played) {
    const Rehearsal& r = *played.rehearsal;
    const Outcome o = outcome_of(r);
    const DayClock day(r.scenario().wall, r.scenario().begins);
    std::string out = name + ", " + which + ": " + std::to_string(o.points) + " of " + std::to_string(o.most) + "\n";
    for (const Part& part : o.parts)
        out += std::string(part.met ? "  + " : "  - ") + scored_text(r.scenario().scored[part.scored]) + ": " +
               part_text(r.scenario(), part, day) + "\n";
    return out;
}

// A scenario with one change in its text.
Error error_of(const std::string& old, const std::string& by, const std::string& name = "01-first-bag") {
    const std::string text = replaced(file_text("demo-data/rehearsals/" + name + ".json"), old, by);
    const auto id = read_scenario_protocol(text);
    if (!id.ok()) return id.error();
    const auto read = read_scenario(text, std::make_shared<const Protocol>(shipped_protocol("general-ward")));
    if (read.ok()) FAIL("read: " << by);
    return read.error();
}

Error action_error(const std::string& actions) {
    const Scenario s = shipped_scenario("01-first-bag");
    const auto read = read_actions("{\"hangtime_actions\": 1, \"scenario\": \"first-bag\", \"actions\": [" + actions + "]}", s);
    if (read.ok()) FAIL("read: " << actions);
    return read.error();
}

}  // namespace

TEST_CASE("every shipped rehearsal has a model solution with full marks and a mistake without", "[rehearse]") {
    const auto names = demo_names("rehearsals");
    CHECK(names.size() >= 10);
    std::string all;
    std::set<std::int32_t> numbers;
    std::set<Level> levels;
    std::set<WorldKind> happenings;
    for (const std::string& name : names) {
        INFO(name);
        const Scenario s = shipped_scenario(name);
        CHECK(numbers.insert(s.number).second);
        CHECK(name.substr(3) == s.id);
        levels.insert(s.level);
        for (const Happening& h : s.happenings) happenings.insert(h.kind);
        const Rehearsal begun(s, s.seed);
        CHECK(begun.tried().empty());
        const Played model = play(s, s.seed, shipped_actions(name, "model", s));
        const Played mistake = play(s, s.seed, shipped_actions(name, "mistake", s));
        const Outcome right = outcome_of(*model.rehearsal), wrong = outcome_of(*mistake.rehearsal);
        CHECK(right.points == right.most);
        CHECK(model.not_reached == 0);
        CHECK(model.rehearsal->tried().empty());
        CHECK(wrong.points < wrong.most);
        all += summary(name, "model", model) + summary(name, "mistake", mistake);
    }
    CHECK(levels.size() == 3);
    CHECK(happenings.size() >= 12);
    const Scenario s = shipped_scenario("06-rigors-on-saline");
    const Played mistake = play(s, s.seed, shipped_actions("06-rigors-on-saline", "mistake", s));
    all += "\n" + sheet::to_text(debrief_sheet(*mistake.rehearsal, outcome_of(*mistake.rehearsal)));
    CHECK(all == file_text("tests/core/golden/rehearsals.txt"));
}

TEST_CASE("a model solution holds under every seed, and a mistake is one under every seed", "[rehearse]") {
    for (const std::string& name : demo_names("rehearsals")) {
        const Scenario s = shipped_scenario(name);
        const Actions model = shipped_actions(name, "model", s), mistake = shipped_actions(name, "mistake", s);
        std::set<std::string> logs;
        for (std::int32_t seed = 0; seed < 12; ++seed) {
            INFO(name << ", seed " << seed);
            const Played played = play(s, seed, model);
            const Outcome right = outcome_of(*played.rehearsal);
            CHECK(right.points == right.most);
            const Outcome wrong = outcome_of(*play(s, seed, mistake).rehearsal);
            CHECK(wrong.points < wrong.most);
            logs.insert(write_log(played.rehearsal->log()));
            // The same again, to the byte.
            if (seed == 3) CHECK(logs.count(write_log(play(s, seed, model).rehearsal->log())) == 1);
        }
        CHECK(logs.size() > 1);  // a seed varies something
    }
}

TEST_CASE("an attempt is a log like any other, and says that it is a rehearsal", "[rehearse]") {
    for (const std::string& name : demo_names("rehearsals")) {
        INFO(name);
        const Scenario s = shipped_scenario(name);
        const Played played = play(s, s.seed, shipped_actions(name, "model", s));
        const auto read = read_log(write_log(played.rehearsal->log()));
        REQUIRE(read.ok());
        CHECK_FALSE(read.value().read_only());
        CHECK(read.value().log.session().rehearsal);
        const Outcome o = outcome_of(*played.rehearsal);
        for (const sheet::Document& d :
             {debrief_sheet(*played.rehearsal, o), comparison_sheet(*played.rehearsal, o, *played.rehearsal, o), scenario_sheet(s)}) {
            CHECK(d.title.starts_with("Rehearsal: "));
            const std::string text = sheet::to_text(d);
            CHECK(text.find(rehearsal_sentence()) != std::string::npos);
            CHECK(without_revision(text, *s.rules).find("2026") == std::string::npos);  // no dates on a sheet
            CHECK(text.find("revised") != std::string::npos);                           // but that of its rules
        }
        CHECK(debrief_json(*played.rehearsal, o).find("\"rehearsal\": true") != std::string::npos);
    }
}

TEST_CASE("the points are the sum of parts that are listed, each with its rule and where it is from", "[rehearse]") {
    for (const std::string& name : demo_names("rehearsals")) {
        INFO(name);
        const Scenario s = shipped_scenario(name);
        for (const char* which : {"model", "mistake"}) {
            const Played played = play(s, s.seed, shipped_actions(name, which, s));
            const Outcome o = outcome_of(*played.rehearsal);
            std::int32_t got = 0, most = 0;
            for (const Part& part : o.parts) {
                most += s.scored[part.scored].points;
                got += part.met ? s.scored[part.scored].points : 0;
                CHECK_FALSE(scored_text(s.scored[part.scored]).empty());
                CHECK_FALSE(source_text(s, part).empty());
            }
            CHECK(o.parts.size() == s.scored.size());
            CHECK((got == o.points && most == o.most));
        }
    }
}

TEST_CASE("nobody who does nothing has full marks, and no list of actions makes it fail", "[rehearse]") {
    for (const std::string& name : demo_names("rehearsals")) {
        INFO(name);
        const Scenario s = shipped_scenario(name);
        const Outcome nothing = outcome_of(*play(s, s.seed, Actions{s.id, {}}).rehearsal);
        CHECK(nothing.points < nothing.most);
        CHECK(nothing.units.empty());
        // The model solution cut off anywhere, and without any one of its actions.
        const Actions model = shipped_actions(name, "model", s);
        for (std::size_t i = 0; i < model.list.size(); ++i) {
            Actions cut = model, without = model;
            cut.list.resize(i);
            without.list.erase(without.list.begin() + static_cast<std::ptrdiff_t>(i));
            CHECK(outcome_of(*play(s, s.seed, cut).rehearsal).most == nothing.most);
            const Outcome o = outcome_of(*play(s, s.seed, without).rehearsal);
            CHECK(o.points <= o.most);
        }
    }
}

TEST_CASE("a scenario that is written and read again is the same", "[rehearse]") {
    for (const std::string& name : demo_names("rehearsals")) {
        INFO(name);
        const Scenario s = shipped_scenario(name);
        const std::string text = write_scenario(s);
        const auto again = read_scenario(text, s.rules);
        if (!again.ok()) FAIL(again.error().where << ": " << again.error().problem);
        CHECK(write_scenario(again.value()) == text);
        for (const char* which : {"model", "mistake"}) {
            const Actions actions = shipped_actions(name, which, s);
            CHECK(debrief_json(*play(s, 5, actions).rehearsal, outcome_of(*play(s, 5, actions).rehearsal)) ==
                  debrief_json(*play(again.value(), 5, actions).rehearsal, outcome_of(*play(again.value(), 5, actions).rehearsal)));
        }
    }
}

TEST_CASE("a rehearsal that is made from an attempt's log asks for the same, and keeps no number of the bag", "[rehearse]") {
    for (const std::string& name : demo_names("rehearsals")) {
        INFO(name);
        const Scenario s = shipped_scenario(name);
        const Played played = play(s, s.seed, shipped_actions(name, "model", s));
        const auto made = scenario_from(played.rehearsal->log());
        if (!made.ok()) FAIL(made.error().where << ": " << made.error().problem);
        const std::string text = write_scenario(made.value());
        CHECK(text.find("bag_digits") == std::string::npos);
        const auto again = read_scenario(text, nullptr);
        if (!again.ok()) FAIL(again.error().where << ": " << again.error().problem);
        const Rehearsal begun(again.value(), again.value().seed);
        if (!begun.tried().empty()) FAIL(problem_at_the_beginning(begun).where << " " << problem_at_the_beginning(begun).problem);
    }
    Log empty;
    CHECK_FALSE(scenario_from(empty).ok());
}

TEST_CASE("what happened in a real run happens in the rehearsal made of it, and can be played", "[rehearse]") {
    const Scenario s = shipped_scenario("07-cannula-fails");
    const Played played = play(s, s.seed, shipped_actions("07-cannula-fails", "model", s));
    const auto made = scenario_from(played.rehearsal->log());
    REQUIRE(made.ok());
    std::set<WorldKind> kinds;
    for (const Happening& h : made.value().happenings) kinds.insert(h.kind);
    CHECK(kinds.count(WorldKind::bag_arrives) == 1);
    CHECK(kinds.count(WorldKind::line_fails) == 1);
    CHECK(kinds.count(WorldKind::line_works) == 1);
    CHECK(kinds.count(WorldKind::signs_change) == 1);
    // The model solution of the first scenario, played here: the same engine, the same checks.
    Actions actions = shipped_actions("01-first-bag", "model", shipped_scenario("01-first-bag"));
    const Played again = play(made.value(), 1, actions);
    const Outcome o = outcome_of(*again.rehearsal);
    CHECK(o.points == o.most);
    CHECK(again.rehearsal->tried().empty());
}

TEST_CASE("a case number sets scenario and seed", "[rehearse]") {
    const Scenario s = shipped_scenario("07-cannula-fails");
    CHECK(case_number(s, 12) == 7012);
    CHECK(case_of(7012).scenario == 7);
    CHECK(case_of(7012).seed == 12);
}

TEST_CASE("signs go in straight lines between the points, and stand still when the flow is stopped", "[rehearse]") {
    const Scenario s = shipped_scenario("08-breathless-with-rising-pressure");
    const Played model = play(s, s.seed, shipped_actions("08-breathless-with-rising-pressure", "model", s));
    const Played mistake = play(s, s.seed, shipped_actions("08-breathless-with-rising-pressure", "mistake", s));
    const auto last = [](const Played& p) { return p.rehearsal->log().session().sets.back().set; };
    // Stopped at the hourly check, or let run to the end of the published trajectory (16 to 40, 130/58 to 172/85).
    CHECK(*last(model).respirations_per_min < 24);
    CHECK(*mistake.rehearsal->signs_now().respirations_per_min == 40);
    CHECK(std::abs(*mistake.rehearsal->signs_now().systolic_mmhg - 172) <= 2);
    CHECK(mistake.rehearsal->signs_now().lungs == Lungs::crackles);
    CHECK(mistake.rehearsal->signs_now().symptoms->has(Symptom::breathlessness));
    CHECK_FALSE(model.rehearsal->signs_now().symptoms->has(Symptom::breathlessness));
}

TEST_CASE("variation stays inside its bounds and reaches them", "[rehearse]") {
    std::int64_t least = 0, most = 0;
    for (std::int32_t seed = 0; seed < 1000; ++seed)
        for (std::uint64_t salt = 0; salt < 5; ++salt) {
            const std::int64_t n = varied(seed, salt, 1, 7);
            least = std::min(least, n);
            most = std::max(most, n);
        }
    CHECK(least == -7);
    CHECK(most == 7);
    CHECK(varied(4, 4, 4, 0) == 0);
}

TEST_CASE("the educator can put something in while it runs", "[rehearse]") {
    const Scenario s = shipped_scenario("01-first-bag");
    Rehearsal r(s, 1);
    r.advance_to(s.begins + minutes(5));
    Happening h;
    h.id = "talk";
    h.kind = WorldKind::discuss;
    r.inject(h);
    REQUIRE(r.told().size() == 1);
    CHECK(r.told().back().at == s.begins + minutes(5));
    h.kind = WorldKind::complaint;
    SignsAfter point;
    point.set.temperature = tenths_c(391);
    h.signs = {point};
    r.inject(h);
    CHECK(r.signs_now().temperature == tenths_c(391));
    r.advance_to(r.ends() + hours(1));
    CHECK(r.now() == r.ends());
    CHECK(r.over());
    CHECK(outcome_of(r).most > 0);
}

TEST_CASE("what is wrong with a scenario is said where it is", "[rehearse]") {
    CHECK(error_of("\"level\": \"easy\"", "\"level\": \"simple\"").where == "level");
    CHECK(error_of("\"lasts_min\": 330", "\"lasts_min\": 0").where == "lasts_min");
    CHECK(error_of("\"seed\": 1", "\"seed\": 1000").where == "seed");
    CHECK(error_of("\"object\": \"kite\"", "\"object\": \"bed\"").where == "object");
    CHECK(error_of("\"weight_kg\": 70", "\"name\": \"x\"").where == "recipient.name");
    CHECK(error_of("\"bag_ml\": 316", "\"bag_ml\": 0").where == "happens[0].record.bag_ml");
    CHECK(error_of("\"what\": \"bag_arrives\"", "\"what\": \"bag_flies\"").where == "happens[0].what");
    CHECK(error_of("\"what\": \"issued\", ", "\"what\": \"issued\", \"n\": 3, ").where == "happens[0].record.n");
    CHECK(error_of("\"wait_min\": 8", "\"wait_min\": -1").where == "happens[0].when.wait_min");
    CHECK(error_of("\"at_min\": -600", "\"at_min\": 1").where == "before[0].at_min");
    CHECK(error_of("\"at_min\": -600", "\"at_min\": -10").where == "before[1].at_min");
    CHECK(error_of("\"limit\": \"hang\"", "\"limit\": \"hung\"").where == "scored[0].limit");
    CHECK(error_of("\"points\": 2, \"limit\": \"hang\"", "\"points\": 2, \"check\": \"end\"").where == "scored[0].check");
    CHECK(error_of("\"points\": 2", "\"points\": 0").where == "scored[0].points");
    CHECK(error_of("\"protocol\": \"general-ward\"", "\"protocol\": \"late-shift\"").where == "protocol");
    CHECK(error_of("\"after_happening\": \"away\"", "\"after_happening\": \"gone\"", "04-checker-called-away").where ==
          "happens[2].when.after_happening");
    CHECK(error_of("\"after_happening\": \"away\"", "\"after_happening\": \"back\"", "04-checker-called-away").problem ==
          "waits for itself");
    CHECK(error_of("\"since\": {\"happening\": \"away\"}", "\"since\": {\"happening\": \"gone\"}", "04-checker-called-away").where ==
          "scored[0].since.happening");
    CHECK(error_of("\"outcome\": \"interrupted\"", "\"item\": \"consent\"", "04-checker-called-away").where == "scored[0].done.item");
    CHECK(error_of("\"source\": \"qs138\"", "\"source\": \"nobody\"", "02-second-bag").where == "scored[5].source");
}

TEST_CASE("what is wrong with a list of actions is said where it is", "[rehearse]") {
    CHECK(action_error("{}").where == "actions[0]");
    CHECK(action_error("{\"match\": 0, \"start\": \"reckoned\"}").where == "actions[0]");
    CHECK(action_error("{\"start\": 50}").where == "actions[0].start");
    CHECK(action_error("{\"when\": {}, \"match\": 0}").where == "actions[0].when");
    CHECK(action_error("{\"when\": {\"happening\": \"storm\"}, \"match\": 0}").where == "actions[0].when.happening");
    CHECK(action_error("{\"record\": {\"what\": \"issued\", \"component\": \"red_cells\", \"bag_ml\": 300}}").where == "actions[0].record");
    CHECK(action_error("{\"record\": {\"what\": \"observed\", \"check\": \"end\", \"set\": {\"pulse_per_min\": 80}}}").problem ==
          "says what was seen");
    CHECK(action_error("{\"record\": {\"what\": \"spiked\", \"who\": 1}}").where == "actions[0].record.who");
    CHECK(action_error("{\"record\": {}}").where == "actions[0].record");
    const Scenario s = shipped_scenario("01-first-bag");
    const auto other = read_actions("{\"hangtime_actions\": 1, \"scenario\": \"late-bag\", \"actions\": []}", s);
    REQUIRE_FALSE(other.ok());
    CHECK(other.error().where == "scenario");
}
