/// A session through the list of what is on its screens: one whole transfusion, what comes late or was wrong, several
/// sessions, and what the store does to it.

#include "tests/web/ward.hpp"
#include "web/platform/store_twin.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using platform::Key;
using test::at;
using test::Ward;
namespace twin = platform::twin;

TEST_CASE("one whole transfusion by taps, from the opening to the closing", "[bedside]") {
    Ward w;
    w.open_new();
    w.write_png("bedside-1-opened");
    w.order();
    CHECK(w.label("verdict").find("Taken as usual") != std::string::npos);
    w.get_ready();
    w.write_png("bedside-2-ready");
    w.call();
    CHECK(w.session().phase == Phase::called);
    w.go_to(at(13, 40));
    w.issue("316", "4821");
    CHECK(w.session().phase == Phase::here);
    CHECK(w.value("strip.bag").ends_with("4821"));
    w.write_png("bedside-3-match");
    w.match();
    w.go_to(at(13, 48));
    w.write_png("bedside-4-unit");
    CHECK(w.value("strip.window").find("14:10") != std::string::npos);
    w.hang_and_connect();
    w.go_to(at(13, 52));
    w.act("do.start");
    w.number("act.rate", "50");
    w.write_png("bedside-5-start");
    w.confirm();
    REQUIRE(w.session().phase == Phase::running);
    CHECK(w.says("run.rate", "50 mL/h"));
    CHECK(w.value("strip.window").find("17:40") != std::string::npos);
    CHECK(w.has("run.stay"));
    w.act("do.observe"); // at the start
    w.write_png("bedside-6-run");

    w.go_to(at(14, 7));
    CHECK(w.label("do.observe").starts_with("Early check"));
    w.act("do.observe");
    w.act("do.raise_rate");
    w.confirm(); // the planned rate stands there, and is read back
    CHECK(w.says("run.rate", "174 mL/h"));
    CHECK(w.value("run.all_in").starts_with("15:51"));
    w.write_png("bedside-7-raised");

    w.go_to(at(14, 52));
    w.act("do.observe");
    CHECK(w.value("strip.store") == "Saved");
    // To the end by what stands on the button.
    w.go_to(at(15, 46));
    if (w.has("do.observe"))
        w.act("do.observe");
    CHECK(w.has("do.look_at_end"));
    w.act("do.look_at_end");
    w.act("do.clear_line");
    w.go_to(at(15, 56));
    w.act("do.end");
    CHECK(w.session().phase == Phase::ended);
    w.act("do.observe"); // at the end
    w.write_png("bedside-8-end");
    w.act("do.dispose");
    CHECK(w.session().phase == Phase::closed);
    CHECK(w.has("do.chart"));
    w.act("do.chart");
    CHECK(w.session().uncharted() == 0);
    // The check after the end is still to come.
    CHECK(w.has("do.observe"));
    w.go_to(at(16, 52));
    for (int i = 0; i < 4 && w.has("do.observe"); ++i)
        w.act("do.observe");
    if (w.has("do.chart"))
        w.act("do.chart");
    w.write_png("bedside-9-closed");
    REQUIRE(w.has("do.finished"));
    w.act("do.finished");
    CHECK(w.label("title") == "Sessions");
    // All of it is on the disk.
    CHECK(twin::disk().size() == w.only().log.events().size());
}

TEST_CASE("what happened before is noted with its time, and put right by its number", "[bedside]") {
    Ward w;
    w.until_running();
    w.go_to(at(14, 12));
    // "It was at 14:07, not now."
    w.act("do.observe");
    w.act("undo");
    w.act("do.later");
    w.type("1407");
    w.key(Key::enter);
    w.confirm();
    const auto& done = w.session().state.checks_done;
    REQUIRE(done.size() > 0);
    bool found = false;
    for (const CheckDone& d : done)
        found = found || d.when.at == at(14, 7);
    CHECK(found);
    CHECK(w.label("undo.last").find("noted 14:12") != std::string::npos);

    // A rate that was typed wrong is put right, and what follows is reckoned again.
    w.act("tab.run");
    w.act("run.rate_set");
    w.number("act.rate", "147");
    w.confirm();
    const std::int32_t n = w.only().log.next_number() - 1;
    const std::string before = w.value("run.all_in");
    w.act("tab.record");
    w.write_png("bedside-record");
    const std::string row = "record." + std::to_string(n);
    w.act(row);
    w.act(row + ".correct");
    w.number("act.rate", "174");
    w.confirm();
    CHECK(w.only().log.is_void(n));
    w.act("tab.run");
    CHECK(w.says("run.rate", "174 mL/h"));
    CHECK(w.value("run.all_in") != before);

    // The way back from the last record.
    w.act("undo");
    CHECK(w.says("run.rate", "147 mL/h"));
}

TEST_CASE("what lies ahead or is not allowed is refused with a reason, and nothing is noted", "[bedside]") {
    Ward w;
    w.until_running();
    // Before the early check is in, the rate goes up on somebody's word alone.
    w.act("run.rate_set");
    w.number("act.rate", "100");
    w.confirm();
    CHECK(w.label("act.refused").find("early check") != std::string::npos);
    CHECK(w.has("act.waived_by"));
    w.act("act.cancel");
    w.go_to(at(14, 7, 5));
    w.act("do.observe");
    const std::int32_t n = w.only().log.next_number();
    w.act("run.rate_set");
    w.number("act.rate", "900");
    w.confirm();
    CHECK(w.label("act.refused").find("highest rate") != std::string::npos);
    CHECK(w.only().log.next_number() == n);
    CHECK(w.has("act.happened")); // what did happen can be said to have happened
    w.act("act.cancel");
    w.act("run.pause");
    w.choose("other care");
    w.number("act.at", "1430");
    w.confirm();
    CHECK(w.label("act.refused").find("future") != std::string::npos);
    CHECK(w.only().log.next_number() == n);
}

TEST_CASE("the priming rate is refused at the start, and nothing is proposed there", "[bedside]") {
    Ward w;
    w.open_new();
    w.order();
    w.get_ready();
    w.call();
    w.go_to(at(13, 40));
    w.issue("316", "4821");
    w.match();
    w.hang_and_connect();
    w.act("do.start");
    CHECK(w.value("act.rate").starts_with("0"));
    w.number("act.rate", "999");
    w.confirm();
    CHECK(w.label("act.refused").find("highest rate") != std::string::npos);
    CHECK(w.session().phase == Phase::hung);
}

TEST_CASE("what to enter on the device stands where it is started, and where the rate is changed", "[bedside]") {
    Ward w;
    w.until_running();
    CHECK(w.has("run.device.volume"));
    w.go_to(at(14, 7));
    w.act("do.observe");
    if (w.has("do.observe"))
        w.act("do.observe");
    w.act("do.raise_rate");
    CHECK(w.label("act.device.rate") == "2. Rate: 174 mL/h");
    CHECK(w.label("act.device.volume").find("mL") != std::string::npos);
    w.write_png("bedside-raise");
    w.confirm();
    CHECK(w.label("run.device.rate") == "2. Rate: 174 mL/h");

    Ward s;
    s.open_new();
    s.order();
    s.get_ready();
    s.call();
    s.go_to(at(13, 40));
    s.issue("316", "4821");
    s.match();
    s.go_to(at(13, 48));
    s.hang_and_connect();
    s.act("do.start");
    CHECK(s.label("act.device.volume") == "1. Volume to be infused: 316 mL");
    CHECK(s.label("act.device.rate") == "2. Rate: 50 mL/h");
    CHECK(s.has("act.device.duration"));
    s.write_png("bedside-start-device");
}

TEST_CASE("the buttons of the match stay where they are, also after a refusal", "[bedside]") {
    for (const int width : {390, 1280}) {
        Ward w(at(13, 30), width, 844);
        w.open_new();
        w.order();
        w.get_ready();
        w.call();
        w.go_to(at(13, 40));
        w.issue("316", "4821");
        w.settle_groups();
        w.act("tab.match");
        if (w.has("match.says.yes"))
            w.act("match.says.yes");
        REQUIRE(w.has("match.same"));
        w.write_png("bedside-match-" + std::to_string(width));
        const ui::Box first = w.find("match.same")->box, other = w.find("match.differs")->box;
        for (int i = 0; i < 30 && w.has("match.same"); ++i) {
            const ui::Box now = w.find("match.same")->box, differs = w.find("match.differs")->box;
            CHECK(now.x == first.x);
            CHECK(now.y == first.y);
            CHECK(differs.x == other.x);
            CHECK(differs.y == other.y);
            w.act("match.same");
        }
        CHECK(w.session().match.standing == MatchStanding::passed);
        // Somebody hands over before it hangs: all of it again.
        w.act("tab.hand_over");
        w.act("hand.over");
        w.pick("act.role", "nurse");
        w.confirm();
        CHECK(w.session().match.standing == MatchStanding::interrupted);
        CHECK_FALSE(w.has("do.hang"));
    }
}

TEST_CASE("after a stop for symptoms going on is somebody's decision", "[bedside]") {
    Ward w;
    w.until_running();
    w.go_to(at(13, 58));
    w.act("tab.run");
    w.act("run.pause");
    w.pick("act.reason", "symptoms");
    w.confirm();
    REQUIRE(w.session().phase == Phase::paused);
    w.act("tab.run");
    w.act("run.resume");
    CHECK(w.label("act.note").find("stopped for symptoms") != std::string::npos);
    CHECK((w.find("act.confirm")->state & ui::State::disabled) != 0);
    w.pick("act.role", "prescriber");
    w.confirm();
    CHECK(w.session().phase == Phase::running);
}

TEST_CASE("a double tap notes one thing", "[bedside]") {
    Ward w;
    w.open_new();
    w.order();
    w.act("do.get_ready");
    w.number("act.units", "1");
    w.confirm();
    const std::int32_t n = w.only().log.next_number();
    w.tap("do.get_ready");
    w.wait(120);
    w.tap("do.get_ready");
    w.wait(120);
    w.tap("do.get_ready");
    CHECK(w.only().log.next_number() == n + 1);
    w.wait(450);
    w.tap("do.get_ready");
    CHECK(w.only().log.next_number() == n + 2);
}

TEST_CASE("the person refuses: it stops, and nothing goes back to stock", "[bedside]") {
    Ward w;
    w.until_running();
    w.go_to(at(14, 0));
    w.act("run.refuse");
    w.choose("changed their mind");
    w.confirm();
    CHECK(w.session().phase == Phase::ended);
    CHECK(w.session().state.run.stopped);
    w.act("finish.send_back");
    w.pick("act.to", "back to stock");
    w.pick("act.reason", "the person refuses");
    w.confirm();
    CHECK(w.label("act.refused").find("never goes back to stock") != std::string::npos);
    w.pick("act.to", "to the blood bank");
    w.confirm();
    CHECK(w.session().phase == Phase::closed);
}

TEST_CASE("a pause says what it costs, and going on changes no rate", "[bedside]") {
    Ward w;
    w.until_running();
    w.go_to(at(14, 7));
    w.act("do.observe");
    w.act("do.raise_rate");
    w.confirm();
    const std::string before = w.value("run.all_in");
    w.go_to(at(14, 20));
    w.act("run.pause");
    w.choose("the access failed");
    w.confirm();
    CHECK(w.says("run.rate", "stands still"));
    CHECK(w.label("run.paused").find("the access failed") != std::string::npos);
    w.go_to(at(14, 40));
    w.act("do.go_on");
    CHECK(w.label("act.note").find("174 mL/h") != std::string::npos);
    w.confirm();
    CHECK(w.says("run.rate", "174 mL/h"));
    CHECK(w.value("run.all_in") > before);
    CHECK(w.value("run.all_in").starts_with("16:11"));
}

TEST_CASE("a plan that does not fit holds the call up, and can be waived by somebody", "[bedside]") {
    Ward w;
    w.open_new();
    w.act("do.enter_order");
    w.pick("act.component", "Red cells");
    w.number("act.expected", "500");
    w.confirm();
    w.act("ready.person");
    w.number("act.weight", "50");
    w.pick("act.risk", "yes");
    w.pick("act.can_report", "yes");
    w.confirm();
    for (int i = 0; i < 20 && w.has("do.get_ready"); ++i) {
        w.act("do.get_ready");
        if (w.has("act.units"))
            w.number("act.units", "1");
        if (w.has("act.checker"))
            w.pick("act.checker", "nurse in charge");
        if (w.has("act.confirm"))
            w.confirm();
    }
    CHECK_FALSE(w.has("do.call"));
    CHECK(w.label("verdict").starts_with("Does not fit"));
    CHECK(w.label("verdict").find("split") != std::string::npos);
    w.write_png("bedside-does-not-fit");
    w.act("ready.plan_fits.waive");
    w.pick("act.reason", "the clinician decides so");
    w.pick("act.role", "prescriber");
    w.confirm();
    CHECK(w.has("do.call"));
}

TEST_CASE("sample and consent are waived by the emergency path alone, the authorisation never", "[bedside]") {
    Ward w;
    w.open_new();
    w.order();
    w.act("ready.authorisation");
    CHECK_FALSE(w.has("ready.authorisation.otherwise"));
    CHECK(w.label("ready.authorisation.never").find("cannot be waived") != std::string::npos);
    w.act("ready.consent");
    CHECK(w.label("ready.consent.otherwise").find("Emergency") != std::string::npos);
    w.act("ready.consent.otherwise");
    w.pick("act.how", "waived, with a reason");
    CHECK(w.label("act.note").find("local procedure") != std::string::npos);
    w.pick("act.reason", "emergency");
    w.pick("act.role", "prescriber");
    w.confirm();
    CHECK(w.session().item(Item::consent).state == ItemState::waived);
    CHECK(w.session().item(Item::consent).emergency);
    CHECK(w.value("ready.consent").find("prescriber") != std::string::npos);
}

TEST_CASE("a check is noted with its values, and they are put right by its number", "[bedside]") {
    Ward w;
    w.until_running();
    w.go_to(at(14, 7, 5));
    w.act("do.values");
    REQUIRE(w.has("obs.temperature"));
    w.type("371");
    w.key(Key::enter);
    w.write_png("bedside-values");
    for (int i = 0; i < 30 && !(w.has("obs.note") && (w.find("obs.note")->state & ui::State::disabled) == 0); ++i)
        w.act(w.has("symptoms.next") ? "symptoms.next" : "obs.skip");
    w.act("obs.note");
    REQUIRE(w.has("strip.object"));
    REQUIRE_FALSE(w.session().sets.empty());
    const ObservedSet& set = w.session().sets.back();
    CHECK(set.kind == CheckKind::early);
    CHECK(set.set.temperature == tenths_c(371));
    CHECK_FALSE(set.set.pulse_per_min);
    const std::string row = "record." + std::to_string(set.number);
    w.act("tab.record");
    w.act(row);
    w.act(row + ".correct");
    CHECK(w.value("obs.temperature").find("37.1") != std::string::npos);
}
