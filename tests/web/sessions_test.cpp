/// Several sessions, the machine's clock and store, reminders, printing, and coming back after a reload.

#include "tests/web/ward.hpp"
#include "web/platform/store_twin.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using platform::Key;
using platform::Stored;
using platform::StoreState;
using test::at;
using test::Ward;
namespace twin = platform::twin;

TEST_CASE("two sessions: another one is opened only after its object was confirmed", "[sessions]") {
    Ward w;
    w.until_running();
    const std::string first = w.label("strip.object");
    w.open_new();
    const std::string second = w.label("strip.object");
    CHECK(first != second);
    w.to_sessions();
    w.write_png("front-two");
    CHECK(w.value("front." + first).find("Running") != std::string::npos);
    CHECK(w.value("front." + second).find("Enter the order") != std::string::npos);
    // Back into the one that was open: nothing to ask.
    w.act("front." + second);
    CHECK(w.label("strip.object") == second);
    // The other one asks, and "no" leads nowhere.
    w.to_sessions();
    w.act("front." + first);
    CHECK_FALSE(w.has("strip.object"));
    CHECK(w.label("confirm.object") == first);
    CHECK(w.label("confirm.what").find("4821") != std::string::npos);
    w.write_png("front-confirm");
    w.act("confirm.no");
    CHECK(w.has("front." + first));
    w.act("front." + first);
    w.act("confirm.yes");
    CHECK(w.label("strip.object") == first);
    // What is noted here is noted here.
    w.act("do.observe");
    CHECK(w.app().desk().cases().size() == 2);
    for (const auto& c : w.app().desk().cases())
        CHECK((c->session().object == SpokenObject::anchor) == (c->session().phase == Phase::running));
}

TEST_CASE("two lines into one person share one highest rate", "[sessions]") {
    Ward w;
    w.until_running();
    w.open_new();
    w.act("tab.record");
    w.act("record.link");
    w.choose("anchor");
    w.confirm();
    for (const auto& c : w.app().desk().cases())
        if (c->session().linked)
            CHECK(w.app().desk().other_line(*c) == ml_per_h(50));
}

TEST_CASE("after a reload half-way everything is there, and it goes on", "[sessions]") {
    Ward w;
    w.until_running();
    w.go_to(at(14, 7));
    w.act("do.observe");
    w.act("do.raise_rate");
    w.confirm();
    const std::string window = w.value("strip.window"), all_in = w.value("run.all_in");
    const std::size_t records = w.only().log.events().size();
    w.reload();
    CHECK(w.label("title") == "Hangtime: plan a transfusion"); // the first screen stays the first
    CHECK(w.label("plan.sessions") == "1 session");
    w.open("anchor");
    CHECK(w.only().log.events().size() == records);
    CHECK(w.value("strip.window") == window);
    CHECK(w.value("run.all_in") == all_in);
    CHECK(w.says("run.rate", "174 mL/h"));
    CHECK_FALSE(w.has("clock.same")); // asked for once
    w.go_to(at(14, 52));
    w.act("do.observe");
    CHECK(w.only().log.events().size() == records + 1);
}

TEST_CASE("a session that is joined half-way says the same as the one that was followed", "[sessions]") {
    Ward w;
    w.until_running();
    w.act("do.observe");
    w.go_to(at(14, 7, 5));
    w.act("do.observe");
    w.go_to(at(14, 8, 5));
    w.act("do.raise_rate");
    w.number("act.at", "1408");
    w.confirm();
    w.go_to(at(14, 20));
    const Live original = w.only().live;

    w.to_sessions();
    w.act("front.join");
    REQUIRE(w.has("act.issued"));
    w.pick("act.component", "Red cells");
    w.number("act.volume", "316");
    w.number("act.issued", "1340");
    w.number("act.digits", "4821");
    w.number("act.started", "1352");
    w.number("act.rate", "50");
    w.number("act.rate_now", "174");
    w.number("act.rate_since", "1408");
    w.write_png("bedside-join");
    w.confirm();
    REQUIRE(w.app().desk().cases().size() == 2);
    const desk::Case* joined = nullptr;
    for (const auto& c : w.app().desk().cases())
        if (c->session().joined)
            joined = c.get();
    REQUIRE(joined != nullptr);
    const Reckoning &a = original.reckoning, &b = joined->live.reckoning;
    CHECK(joined->session().phase == Phase::running);
    CHECK(b.finish_by == a.finish_by);
    CHECK(b.all_in == a.all_in);
    CHECK(b.in_force == a.in_force);
    CHECK(b.stages == a.stages);
    for (const auto& c : w.app().desk().cases()) // at the same moment
        CHECK(c->live.running.given == joined->live.running.given);
    CHECK(b.judgement.verdict == a.judgement.verdict);
    const auto next = [](const Reckoning& r) {
        for (const Check& c : r.checks)
            if (c.state == CheckState::to_come)
                return c.due;
        return Instant{};
    };
    CHECK(next(b) == next(a));
    // What is not known stays so.
    CHECK_FALSE(joined->session().state.times.spiked);
    CHECK(joined->session().match.standing == MatchStanding::not_begun);
}

TEST_CASE("the plan's four entries go on as a session", "[sessions]") {
    Ward w(at(13, 45));
    w.enter("Red cells", "316", "1340", "1352");
    w.act("plan.go_on");
    w.act("clock.same");
    REQUIRE(w.has("strip.object"));
    CHECK(w.session().phase == Phase::here);
    CHECK(w.session().state.unit.bag == ml(316));
    CHECK(w.session().state.times.issued->at == at(13, 40));
    CHECK(w.value("strip.window").find("14:10") != std::string::npos);
}

TEST_CASE("saved is said only when it is on the disk, and what went wrong is said", "[sessions]") {
    Ward w;
    w.open_new();
    CHECK(w.value("strip.store") == "Saved");
    w.act("do.enter_order");
    w.pick("act.component", "Red cells");
    w.tap("act.confirm"); // nothing answers yet
    CHECK(w.value("strip.store") == "not saved yet");
    w.settle();
    CHECK(w.value("strip.store") == "Saved");

    twin::writes_end(Stored::full, 1 << 20);
    w.wait(500);
    w.act("do.get_ready");
    w.number("act.units", "1");
    w.confirm();
    CHECK(w.value("strip.store") == "not saved: no room");
    w.to_sessions();
    CHECK(w.label("front.store").find("not saved yet") != std::string::npos);
    w.write_png("front-unsaved");
    twin::writes_end(Stored::saved, 0);
    for (int i = 0; i < 20; ++i) {
        w.wait(60'000);
        w.settle();
    }
    CHECK_FALSE(w.has("front.store"));
    CHECK(twin::disk().size() == w.only().log.events().size());
}

TEST_CASE("without a store it says that all is gone with the page, and works", "[sessions]") {
    Ward w;
    twin::break_connection(false);
    twin::set_store(StoreState::absent);
    twin::connect_again();
    w.settle();
    w.open_new();
    CHECK(w.value("strip.store") == "in memory only");
    w.order();
    CHECK(w.session().ordered == Component::red_cells);
    w.to_sessions();
    CHECK(w.label("front.store").find("gone when this page is closed") != std::string::npos);
}

TEST_CASE("a second window only reads, until it takes over", "[sessions]") {
    Ward w;
    w.open_new();
    w.order();
    twin::another_window_takes_over();
    w.settle();
    CHECK(w.value("strip.store") == "read only here");
    CHECK((w.find("do.get_ready")->state & ui::State::disabled) != 0);
    w.to_sessions();
    CHECK(w.label("front.store").find("Another window") != std::string::npos);
    CHECK((w.find("front.new")->state & ui::State::disabled) != 0);
    w.act("front.take_over");
    CHECK_FALSE(w.has("front.take_over"));
    w.open("anchor");
    CHECK((w.find("do.get_ready")->state & ui::State::disabled) == 0);
}

TEST_CASE("the machine's clock is asked for once, and seven minutes are kept either way", "[sessions]") {
    for (const int minutes_off : {7, -7}) {
        Ward w(at(13, 30));
        w.to_sessions();
        w.act("front.new");
        CHECK(w.label("clock.question").find("13:30") != std::string::npos);
        w.act("clock.other");
        w.type(minutes_off > 0 ? "1337" : "1323");
        w.key(Key::enter);
        w.act("clock.confirm");
        REQUIRE(w.has("strip.object"));
        CHECK(w.value("clock") == (minutes_off > 0 ? "13:37" : "13:23"));
        CHECK(w.session().ahead == minutes(minutes_off));
        w.order();
        CHECK(w.label("undo.last").find(minutes_off > 0 ? "13:37" : "13:23") != std::string::npos);
        w.reload();
        w.to_sessions();
        w.act("front.new");
        CHECK_FALSE(w.has("clock.same"));
    }
}

TEST_CASE("a clock that jumps is asked for again, and no time of the session is wrong", "[sessions]") {
    for (const int hours_off : {1, -1}) {
        Ward w;
        w.until_running();
        w.go_to(at(14, 0));
        twin::look_at_clock(); // each second, as nothing slept
        twin::jump_ms(hours_off * 3'600'000);
        twin::look_at_clock();
        w.frame();
        CHECK(w.label("clock.question").find(hours_off > 0 ? "forward by 1 h" : "back by 1 h") != std::string::npos);
        w.act("clock.other");
        w.type("1400");
        w.key(Key::enter);
        w.act("clock.confirm");
        CHECK(w.label("strip.object") == "anchor");
        CHECK(w.value("clock") == "14:00");
        CHECK(w.value("strip.window").find("17:40") != std::string::npos);
        w.act("do.observe");
        CHECK(w.label("undo.last").find("14:00") != std::string::npos);
        bool noted = false;
        for (const Event& e : w.only().log.events())
            noted = noted || (e.kind == EventKind::clock_set && facts_of<facts::ClockSet>(e).jumped == hours(hours_off));
        CHECK(noted);
    }
}

TEST_CASE("a machine that slept is not asked about: the time goes on, and that is said", "[sessions]") {
    Ward w;
    w.until_running();
    w.go_to(at(14, 0));
    twin::sleep(3'600'000);
    w.frame();
    CHECK_FALSE(w.has("clock.question"));
    CHECK(w.label("strip.object") == "anchor");
    CHECK(w.value("clock").starts_with("15:00"));
    CHECK(w.label("clock.slept").find("1 h") != std::string::npos);
    CHECK(w.value("strip.window").find("17:40") != std::string::npos);
    bool noted = false;
    for (const Event& e : w.only().log.events())
        noted = noted || (e.kind == EventKind::clock_set && facts_of<facts::ClockSet>(e).jumped == hours(1));
    CHECK(noted);
    w.write_png("bedside-slept");
    w.act("do.observe");
    CHECK_FALSE(w.has("clock.slept"));
    // Back, or forward while everything ticks on, no sleep explains.
    twin::sleep(-3'600'000);
    w.frame();
    CHECK(w.has("clock.question"));
}

TEST_CASE("reminders: ahead of, at and after a check, in the title and on the screen, with a sound that is off", "[sessions]") {
    Ward w;
    w.until_running();
    w.act("do.observe");
    CHECK(w.all_text().find("does not watch the person") != std::string::npos);
    REQUIRE(twin::told().remind);
    CHECK(w.shown().title.find("Early check") == std::string::npos); // 15 min ahead
    // The first check that follows is the early one at 14:07: ahead of it as many minutes as these rules say.
    const Seconds ahead = w.session().protocol->closing;
    CHECK(*twin::told().remind == at(14, 7) - ahead);
    w.go_to(at(14, 7) - ahead);
    CHECK(w.shown().title == "anchor 4821: Early check, soon, at 14:07");
    w.go_to(at(14, 7));
    CHECK(w.shown().title.find("due since 14:07") != std::string::npos);
    CHECK(w.shown().announced.find("Early check") != std::string::npos);
    CHECK(twin::told().chimes == 0);
    w.to_sessions();
    CHECK(w.label("reminder").find("due since 14:07") != std::string::npos);
    twin::touch();
    w.act("front.sound");
    const int chimes = twin::told().chimes;
    // Hidden: nothing but the wake-up reaches the page.
    twin::set_hidden(true);
    for (int i = 0; i < 4000 && w.shown().title.find("late") == std::string::npos; ++i)
        twin::tick();
    CHECK(w.shown().title.find("late, was due at 14:07") != std::string::npos);
    CHECK(twin::told().chimes > chimes);
}

TEST_CASE("a reminder stands and is said on every screen, while something is entered too", "[sessions]") {
    Ward w;
    w.until_running();
    w.act("do.observe");
    w.act("tab.finish");
    w.act("fluid.other"); // an entry takes the whole screen
    CHECK_FALSE(w.has("reminder"));
    w.go_to(at(14, 7));
    CHECK(w.label("reminder").find("Early check, due since 14:07") != std::string::npos);
    CHECK(w.shown().announced == "anchor 4821: Early check, due since 14:07. Fluid through other lines");
    w.write_png("entry-with-reminder");
    w.act("act.cancel");
    w.to_sessions();
    CHECK(w.label("reminder").find("due since 14:07") != std::string::npos);
    w.act("front.plan");
    CHECK(w.label("reminder").find("due since 14:07") != std::string::npos);
    CHECK(w.shown().announced.starts_with("anchor 4821: Early check, due since 14:07. "));
    w.write_png("plan-with-reminder");
    // What was done is reminded of no more.
    w.open("anchor");
    w.act("do.observe");
    w.to_sessions();
    w.act("front.plan");
    CHECK_FALSE(w.has("reminder"));
}

TEST_CASE("the sheet of the session that is open is printed, else the plan", "[sessions]") {
    Ward w;
    w.until_running();
    w.app().before_print();
    CHECK(w.shown().print_html.find("What happened") != std::string::npos);
    CHECK(w.shown().print_html.find("4821") != std::string::npos);
    w.act("page.print");
    CHECK(w.shown().prints == 1);
    w.to_sessions();
    w.act("front.plan");
    w.app().before_print();
    CHECK(w.shown().print_html.find("What happened") == std::string::npos);
}

TEST_CASE("a log is saved as a file and read again as a session of its own", "[sessions]") {
    Ward w;
    w.until_running();
    w.act("tab.record");
    w.act("record.save_file");
    CHECK(twin::told().file_name == "hangtime-anchor.jsonl");
    const std::string file = twin::told().file_text;
    w.to_sessions();
    w.act("front.import");
    CHECK(twin::told().pickers == 1);
    twin::choose_file(platform::FileOutcome::opened, file);
    w.settle();
    CHECK(w.app().desk().cases().size() == 2);
    CHECK(w.app().desk().cases()[1]->session().phase == Phase::running);
    // Its object is another session's here: it gets the next one, and that is said.
    CHECK(w.value("front.anchor").find("stands here twice") == std::string::npos);
    CHECK(w.has("front.basket"));
    CHECK(w.label("front.message").find("the basket. It was the anchor") != std::string::npos);
    twin::choose_file(platform::FileOutcome::opened, "not a log");
    w.settle();
    w.frame();
    CHECK(w.label("front.message").find("not taken") != std::string::npos);
}

TEST_CASE("clearing this device removes everything and says what was read back", "[sessions]") {
    Ward w;
    w.until_running();
    w.to_sessions();
    w.act("front.clear");
    CHECK(w.label("clear.what").find("1 of them is not closed yet") != std::string::npos);
    w.act("clear.no");
    CHECK(w.app().desk().cases().size() == 1);
    w.act("front.clear");
    w.act("clear.yes");
    w.frame();
    CHECK(w.label("front.message").find("records: 0") != std::string::npos);
    CHECK(twin::disk().empty());
    CHECK(w.has("front.none"));
    w.reload();
    w.to_sessions();
    CHECK(w.has("front.none"));
}

TEST_CASE("a scan presses nothing and fills nothing, on any screen of a session", "[sessions]") {
    Ward w;
    w.open_new();
    w.act("do.enter_order");
    w.pick("act.component", "Red cells");
    w.act("act.expected");
    const std::int32_t n = w.only().log.next_number();
    w.scan("8018990000000000004217");
    CHECK(w.value("act.expected").starts_with("0"));
    w.act("act.cancel");
    w.scan("8018990000000000004217");
    CHECK(w.only().log.next_number() == n);
    CHECK(w.label("scan").find("That was a scan") != std::string::npos);
    for (const auto& [id, text] : twin::disk())
        CHECK(text.find("8018990") == std::string::npos);
}

TEST_CASE("pictures of the screens of a session, to be looked at", "[bedside][pictures]") {
    struct Size {
        const char* name;
        int width, height;
        float scale;
    };
    for (const Size& s : {Size{"1280x800", 1280, 800, 1}, {"768x1024", 768, 1024, 1}, {"390x844@2", 780, 1688, 2}}) {
        Ward w(at(13, 30), s.width, s.height, s.scale);
        const std::string name = std::string("live-") + s.name;
        w.until_running();
        w.act("do.observe");
        w.go_to(at(14, 9));
        w.write_png(name + "-run");
        w.act("page.ground");
        w.write_png(name + "-run-night");
        w.act("page.ground");
        for (const char* tab : {"ready", "unit", "match", "finish", "hand_over", "record"}) {
            w.act(std::string("tab.") + tab);
            w.write_png(name + "-" + tab);
        }
        w.act("tab.run");
        w.act("run.pause");
        w.write_png(name + "-choices");
        w.act("act.cancel");
        w.act("run.rate_set");
        w.write_png(name + "-keypad");
        w.act("act.cancel");
        w.open_new();
        w.write_png(name + "-new");
        w.to_sessions();
        w.write_png(name + "-front");
        w.act("front.clock");
        w.write_png(name + "-clock");
        CHECK(w.has("clock.question"));
    }
}
