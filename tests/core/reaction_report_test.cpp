// The report of a suspected reaction and the slip, as text: what is on them, and what never is.

#include "core/report/reaction_report.hpp"
#include "core/words/observe_words.hpp"
#include "tests/core/observe_support.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>

using namespace hangtime;
using namespace hangtime::test;

namespace {

constexpr Instant at(int minute) { return Instant{1'773'446'400 + 14 * 3600 + minute * 60}; }

// One space for any white space: the text is wrapped to 80 columns.
std::string flat(const sheet::Document& document) {
    std::string out;
    for (const char c : sheet::to_text(document))
        if (c != ' ' && c != '\n') out += c;
        else if (!out.empty() && out.back() != ' ') out += ' ';
    return out;
}

ReactionReport report() {
    ReactionReport r;
    r.day = DayClock(WallClock(Seconds{0}), at(0));
    r.component = Component::red_cells;
    r.bag_digits = "4417";
    r.person = adult();
    r.started = at(0);
    r.stopped = at(50);
    r.given = tenths_of_ml(1140);
    r.bag = ml(316);
    r.rates = {{at(0), ml_per_h(50)}, {at(15), ml_per_h(174)}};
    r.baseline = {minutes(-10), unremarkable()};
    Observation hot = unremarkable();
    hot.temperature = tenths_c(384);
    hot.symptoms->add(Symptom::chills);
    r.sets = {{minutes(15), unremarkable()}, {minutes(52), hot}};
    r.charted = {true};
    r.done = {{ActionKind::stop, at(50)}, {ActionKind::call_clinician, at(53)}};
    r.identity_agrees = true;
    r.identity_at = at(53);
    r.fluid = {tenths_of_ml(1140), ml(20), {}, ml(125)};
    r.latest_end = at(230);
    r.now = at(60);
    return r;
}

}  // namespace

TEST_CASE("the report says times, volume, rates, signs, actions and the rule that was met", "[observe]") {
    const Protocol ward = shipped_protocol("general-ward");
    const sheet::Document document = reaction_report(ward, ward.observations.rule_sets[0], report());
    const std::string text = flat(document);
    for (const char* said :
         {"Stopped at 14:50, 50 min after the start.", "Observations that are not charted yet: +0:52.",
          "Given until then 114 mL", "Volume of the bag 316 mL", "All fluid 259 mL, 3.7 mL/kg",
          "Donation number ends in 4417", "Issued not recorded", "Identity checked again 14:53, all agree",
          "14:15 174 mL/h", "Chills, shivering", "Do not restart this bag.",
          "A symptom is there that is not among the mild ones.", "not a medical device",
          "No ward has adopted them"}) {
        INFO(said);
        CHECK(text.find(said) != std::string::npos);
    }
    CHECK(text.find("38.4") != std::string::npos);
    CHECK(text.find("at least 38.0") != std::string::npos);
    const auto place = [&](const char* words) { return text.find(words); };
    CHECK(place("not charted yet") < place("Given until then"));
    CHECK(place("Stop, and clamp at the") < place("Call the"));
    // No dates, nobody's name, and a page for the printer as well.
    for (const char* never : {"2026", "March", "Name:", "patient's name", "Date of birth"})
        CHECK(without_revision(text, ward).find(never) == std::string::npos);
    CHECK(text.find("revised " + ward.revised) != std::string::npos);
    CHECK(sheet::to_html_fragment(document).starts_with("<section class=\"sheet\">"));
}

TEST_CASE("what was not recorded is said in the report, never left blank or taken for well", "[observe]") {
    const Protocol ward = shipped_protocol("general-ward");
    ReactionReport empty;
    empty.day = DayClock(WallClock(Seconds{0}), at(0));
    empty.stopped = at(50);
    empty.now = at(51);
    std::string text = flat(reaction_report(ward, ward.observations.rule_sets[0], empty));
    CHECK(text.find("Stopped at 14:50.") != std::string::npos);
    CHECK(text.find("Started not recorded") != std::string::npos);
    CHECK(text.find("Given until then not recorded") != std::string::npos);
    CHECK(text.find("Do not restart: what has to be known for it is not recorded.") != std::string::npos);
    ReactionReport missing = report();
    missing.identity_agrees.reset();
    for (TimedSet& timed : missing.sets) timed.set.clear(Sign::pulse), timed.set.symptoms = Symptoms{};
    text = flat(reaction_report(ward, ward.observations.rule_sets[0], missing));
    CHECK(text.find("Could not be compared in any set Pulse (now)") != std::string::npos);
    CHECK(text.find("Identity has not been checked again.") != std::string::npos);
    CHECK(text.find("no reaction") == std::string::npos);
}

TEST_CASE("the slip about late symptoms says how long and names nobody", "[observe]") {
    for (const std::string& name : demo_names("protocols")) {
        const Protocol protocol = shipped_protocol(name);
        const std::string text = flat(late_symptoms_slip(protocol));
        CHECK(text.find("For the next " + span_text(protocol.reaction.late_symptoms.value)) !=
              std::string::npos);
        CHECK(text.find("Breathlessness") != std::string::npos);
        CHECK(text.find("Dark or red urine") != std::string::npos);
        CHECK(text.find("emergency help") != std::string::npos);
        CHECK(text.find("example, not adopted by a ward") != std::string::npos);
    }
}

TEST_CASE("a trend keeps every sign in a row of its own, and the last sets where there are many", "[observe]") {
    std::vector<TimedSet> sets;
    for (int i = 1; i <= 9; ++i) sets.push_back({minutes(15 * i), unremarkable()});
    const sheet::Table table = trend_table({minutes(-5), unremarkable()}, sets);
    CHECK(table.rows.size() == sign_count);
    CHECK(table.columns.size() == 8);
    CHECK(table.columns.back().heading == "+2:15");
    CHECK(table.rows[0][1] == "36.8 \xC2\xB0" "C");
    CHECK(table.rows[12][1] == "none found");
}
