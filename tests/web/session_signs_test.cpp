/// Observations and a suspected reaction through the whole page: from a set that asks to hold to the report.

#include "tests/web/ward.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using platform::Key;
using test::at;
using test::Ward;

namespace {

// Temperature, pulse, pressures, respirations and saturation, then air, alert, clear, good, usual.
void take(Ward& w, std::initializer_list<const char*> numbers, const char* symptom = nullptr) {
    for (const char* digits : numbers) {
        w.type(digits);
        w.key(Key::enter);
    }
    w.type("11111");
    if (symptom) {
        w.act(std::string("symptom.") + symptom);
        w.act("symptoms.next");
    } else {
        w.act("symptoms.none");
    }
    w.act("obs.note");
    w.wait(500);
}

void until_running_with_a_baseline(Ward& w) {
    w.open_new();
    w.order();
    w.get_ready();
    // Taken again, with its values: the last one before the start is the baseline.
    w.act("tab.record");
    for (const Event& e : w.only().log.events())
        if (e.kind == EventKind::observed) {
            const std::string id = "record." + std::to_string(e.number);
            w.act(id);
            w.act(id + ".correct");
            break;
        }
    REQUIRE(w.has("obs.temperature"));
    w.act("obs.temperature");
    for (const auto& [id, digits] : {std::pair{"obs.temperature", "368"}, {"obs.pulse", "78"}, {"obs.systolic", "124"},
                                     {"obs.diastolic", "72"}, {"obs.respirations", "16"}, {"obs.saturation", "97"}}) {
        const ui::Node* n = w.find(id);
        REQUIRE(n);
        if ((n->state & ui::State::editing) == 0)
            w.act(id);
        w.type(digits);
        w.key(Key::enter);
    }
    for (const char* id : {"obs.oxygen", "obs.consciousness", "obs.lungs", "obs.site", "obs.urine"}) {
        w.act(id);
        w.type("1");
    }
    w.act("obs.symptoms");
    w.act("symptoms.none");
    w.act("obs.note");
    w.wait(500);
    REQUIRE(baseline_set(w.session()));
    CHECK(baseline_set(w.session())->set.pulse_per_min == 78);
    w.call();
    w.go_to(at(13, 40, 5));
    w.issue("316", "4821", "1340");
    w.match();
    w.go_to(at(13, 48));
    w.hang_and_connect();
    w.go_to(at(13, 52, 5));
    w.start("50", "1352");
    REQUIRE(w.session().phase == Phase::running);
}

} // namespace

TEST_CASE("from the first symptom to the printed report", "[session_signs]") {
    Ward w;
    until_running_with_a_baseline(w);
    w.go_to(at(14, 7, 30));
    w.act("tab.run");
    w.act("run.observe");
    take(w, {"384", "104", "118", "70", "22", "96"}, "chills");
    // It asks to hold, and that is what is shown.
    CHECK(w.label("signs.hold").starts_with("Hold, and ask"));
    CHECK(w.all_text().find("New symptom: Chills, shivering.") != std::string::npos);
    w.write_png("bedside-signs");
    CHECK_FALSE(w.has("do.observe")); // one thing to do
    w.go_to(at(14, 8, 0));
    w.act("signs.suspect");
    CHECK(w.session().reaction == at(14, 8));
    CHECK(w.session().phase == Phase::paused);
    // The list is there at once, stop first.
    CHECK(w.label("reaction.stopped").starts_with("Stopped at 14:08"));
    CHECK(w.value("action.stop") == "14:08");
    w.write_png("bedside-reaction");
    w.act("tab.run");
    CHECK(w.label("do.react").find("reaction") != std::string::npos);
    w.act("do.react");
    CHECK(w.has("action.stop"));
    w.go_to(at(14, 10, 0));
    w.act("action.call_clinician");
    CHECK(w.value("action.call_clinician") == "14:10");
    CHECK(w.session().actions.size() == 2);
    // The observations of the list are entered from it, and tick it.
    w.act("reaction.observe");
    take(w, {"386", "110", "112", "66", "24", "95"}, "chills");
    CHECK(w.value("action.observe") == "14:10");
    CHECK(w.label("reaction.next").starts_with("Next observations: 14:25"));
    // The stop was a minute earlier.
    w.act("action.stop");
    w.act("action.time");
    w.type("1407");
    w.key(Key::enter);
    w.settle();
    CHECK(w.value("action.stop") == "14:07"); // inside that minute, after the set that was taken in it
    CHECK(w.session().reaction->utc / 60 == at(14, 7).utc / 60);
    w.act("reaction.report");
    const std::string paper = w.shown().print_html;
    CHECK(paper.find("Report of a suspected reaction") != std::string::npos);
    CHECK(paper.find("4821") != std::string::npos);
    w.act("reaction.slip");
    CHECK(w.shown().print_html.find("After your transfusion") != std::string::npos);
    // What is printed afterwards is the sheet again, with the observations on it.
    w.act("page.print");
    CHECK(w.shown().print_html.find("Report of a suspected reaction") == std::string::npos);
    CHECK(w.shown().print_html.find("Each sign against its baseline") != std::string::npos);
    // Whoever leaves and comes back stands before the list.
    w.to_sessions();
    w.act("front." + std::string("anchor"));
    if (w.has("confirm.yes"))
        w.act("confirm.yes");
    CHECK(w.has("reaction.stopped"));
}

TEST_CASE("signs of overload are answered by slowing down, and what no longer fits is said", "[session_signs]") {
    Ward w;
    until_running_with_a_baseline(w);
    w.go_to(at(14, 30));
    w.act("tab.run");
    w.act("run.observe");
    take(w, {"368", "96", "152", "88", "26", "92"}, "breathlessness");
    REQUIRE(w.has("signs.slow"));
    w.act("signs.slow");
    CHECK(w.session().state.slowed_to == ml_per_h(25));
    CHECK(w.session().state.run.rate_in_force() == ml_per_h(25));
    CHECK(w.label("signs.slowed").find("Does not fit.") != std::string::npos);
    CHECK_FALSE(w.session().reaction);
}

TEST_CASE("another set of rules for a change is chosen on the screen of the signs", "[session_signs]") {
    Ward w;
    until_running_with_a_baseline(w);
    w.go_to(at(14, 7, 30));
    w.act("tab.signs");
    CHECK(w.value("signs.rules") == "Fever by both limits, a fall of pressure by two limbs");
    w.act("signs.rules");
    REQUIRE(w.has("act.rule_set"));
    CHECK(w.value("act.rule_set") == "Fever by both limits, a fall of pressure by two limbs");
    w.pick("act.rule_set", "Fever by either limit, severe from 1.5 degrees");
    w.write_png("bedside-rules-for-a-change");
    w.confirm();
    CHECK(w.value("signs.rules") == "Fever by either limit, severe from 1.5 degrees");
    CHECK(rules_now(w.session()).rules()->id == "either-limit");
    // Back in reach like everything else, and kept over a reload.
    CHECK(w.label("undo.last").find("either-limit") != std::string::npos);
    w.reload();
    w.to_sessions();
    w.open("anchor");
    CHECK(rules_now(w.session()).rules()->id == "either-limit");
    w.act("tab.signs");
    w.wait(500);
    w.act("undo");
    CHECK(rules_now(w.session()).rules()->id == "both-limbs");
}
