/// The round screen on the twin: lanes, another start and what breaks, the search in slices, the entries.

#include "core/protocol/read.hpp"
#include "tests/web/one_screen.hpp"
#include "web/screens/round_view.hpp"

#include <catch2/catch_test_macros.hpp>

#include <fstream>
#include <sstream>

using namespace hangtime;
using namespace hangtime::rounds;

namespace {

std::string text_of(const std::string& file) {
    std::stringstream text;
    text << std::ifstream(test::root_folder() + "/demo-data/" + file).rdbuf();
    return text.str();
}

struct Screen {
    explicit Screen(int width = 1280, int height = 800, float scale = 1)
        : protocols(all()), view(protocols), one(width, height, scale, [this](ui::Ui& ui, ui::Box box) {
              view.build(ui, box, now, WallClock(minutes(60)));
          }) {}

    static std::vector<Protocol> all() {
        platform::twin::clear_settings(); // of a round that another test kept
        std::vector<Protocol> out;
        for (const char* id : {"general-ward", "half-hour-checks", "removal-clock"})
            {
            auto read = read_protocol(text_of(std::string("protocols/") + id + ".json"));
            REQUIRE(read.ok());
            out.push_back(std::move(read.value()));
        }
        return out;
    }

    void show(const std::string& name) {
        const std::string text = text_of("rounds/" + name + ".json");
        const auto id = read_round_protocol_id(text);
        REQUIRE(id.ok());
        for (const Protocol& p : protocols)
            if (p.id == id.value()) {
                const auto round = read_round(text, p);
                REQUIRE(round.ok());
                view.show(p, round.value());
            }
        one.frame();
    }
    void solve() {
        for (int i = 0; i < 5000 && view.work(200); ++i) {
        }
        one.frame();
    }
    int slot(std::size_t job) const { return view.plan()->slot_of(job); }

    std::vector<Protocol> protocols;
    Instant now{test::at(6, 30).utc - 3600};
    screens::RoundView view;
    test::OneScreen one;
};

} // namespace

TEST_CASE("a round is searched in slices, and the best so far is on the screen", "[round]") {
    Screen s;
    s.show("01-morning");
    CHECK(s.one.has("round.cancel"));
    CHECK(s.one.label("round.progress").find("Searching") == 0);
    s.one.tap("round.cancel");
    CHECK_FALSE(s.view.work(200));
    REQUIRE(s.one.has("round.go_on"));
    s.one.tap("round.go_on");
    s.solve();
    CHECK_FALSE(s.one.has("round.cancel"));
    CHECK(s.one.all_text().find("Proven to be the best there is") != std::string::npos);
    CHECK(s.one.value("lane.0").find("red cells, 316 mL, start 08:10, all in 10:09:40, Nurse 1") == 0);
    CHECK(s.one.value("nurse.0").find("there 07:00 to 15:30, break 10:30 to 10:50") == 0);
    REQUIRE(s.view.document());
    CHECK(sheet::to_text(*s.view.document()).find("Who does what") != std::string::npos);
    s.one.check_layout();
}

TEST_CASE("while it searches, the best so far is shown with how far from the best it can be", "[round]") {
    // A crowded morning: nine instead of what the demo has.
    Screen s;
    const std::string text = text_of("rounds/01-morning.json");
    const auto read = read_round(text, s.protocols[0]);
    REQUIRE(read.ok());
    Round crowded = read.value();
    for (const SpokenObject o : {SpokenObject::anchor, SpokenObject::bell, SpokenObject::candle, SpokenObject::fish,
                                 SpokenObject::hammer, SpokenObject::ladder, SpokenObject::rocket}) {
        if (crowded.transfusions.size() >= 9)
            break;
        crowded.transfusions.push_back(crowded.transfusions[crowded.transfusions.size() % 2]);
        crowded.transfusions.back().object = o;
    }
    s.view.show(s.protocols[0], crowded);
    s.one.frame();
    s.view.work(1); // no more than has to be done at once
    s.one.frame();
    REQUIRE(s.view.plan()->work() == screens::RoundPlan::Work::solving);
    REQUIRE(s.view.plan()->schedule());
    CHECK(s.one.has("round.cancel"));
    CHECK(s.one.label("round.progress").find("no answer yet") == std::string::npos);
    CHECK(s.one.all_text().find("The best found so far") != std::string::npos);
    CHECK(s.one.all_text().find("Not proven: another could be better by up to") != std::string::npos);
    CHECK(s.one.value("lane.0").find("all in") != std::string::npos);
    CHECK(broken_rule(s.view.plan()->options().problem, *s.view.plan()->schedule()) == nullptr);
    // What is shown only gets better.
    std::int64_t before = s.view.plan()->schedule()->cost.finish;
    for (int i = 0; i < 400 && s.view.work(20); ++i) {
        CHECK(s.view.plan()->schedule()->cost.finish <= before);
        before = s.view.plan()->schedule()->cost.finish;
    }
    s.one.frame();
}

TEST_CASE("a start dragged along says at once what breaks, and can be put back", "[round]") {
    Screen s;
    s.show("01-morning");
    s.solve();
    const int was = s.slot(0);
    s.one.drag("lane.0", -400, 0);
    REQUIRE(s.view.plan()->tried());
    CHECK(s.view.plan()->tried()->job == 0);
    CHECK(s.one.has("trial.0"));
    CHECK(s.one.all_text().find("before the round begins") != std::string::npos);
    CHECK(s.slot(0) == was);
    s.one.check_layout();
    s.one.tap("trial.back");
    CHECK_FALSE(s.view.plan()->tried());
    CHECK_FALSE(s.one.has("trial.0"));
    // A finger that goes up or down scrolls, and tries nothing.
    s.one.drag("lane.0", 20, 60);
    CHECK_FALSE(s.view.plan()->tried());
}

TEST_CASE("a start is moved by buttons and keys, taken, and the others planned round it", "[round]") {
    Screen s;
    s.show("01-morning");
    s.solve();
    const int was = s.slot(3);
    const std::int64_t best = s.view.plan()->schedule()->cost.finish;
    s.one.tap("lane.3");
    CHECK(s.one.label("lane.name") == "Key");
    s.one.tap("move.on_more");
    s.one.tap("move.on");
    s.one.type("-");
    REQUIRE(s.view.plan()->tried());
    CHECK(s.view.plan()->tried()->slot == was + 6);
    REQUIRE(s.one.has("trial.take"));
    s.one.tap("trial.take");
    CHECK(s.slot(3) == was + 6);
    CHECK(s.view.plan()->by_hand());
    CHECK(s.view.plan()->schedule()->cost.finish == best + 30);
    CHECK(s.one.all_text().find("30 weighted minutes more") != std::string::npos);
    CHECK(s.one.value("lane.3").find("held") != std::string::npos);
    // Where another one starts: the others go round it.
    const int other = s.slot(1);
    s.one.tap("lane.0");
    while (!s.view.plan()->tried() || s.view.plan()->tried()->slot != other)
        s.one.tap(other > (s.view.plan()->tried() ? s.view.plan()->tried()->slot : s.slot(0)) ? "move.on" : "move.back");
    CHECK(s.one.has("trial.0"));
    s.one.tap("trial.arrange");
    s.solve();
    CHECK(s.slot(0) == other);
    CHECK(s.slot(3) == was + 6);
    CHECK(broken_rule(s.view.plan()->options().problem, *s.view.plan()->schedule()) == nullptr);
    s.one.tap("round.free");
    s.solve();
    CHECK(s.view.plan()->schedule()->cost.finish == best);
    CHECK_FALSE(s.view.plan()->any_held());
}

TEST_CASE("a round that has no way says which demands clash", "[round]") {
    Screen s;
    s.show("03-too-much-at-once");
    s.solve();
    CHECK(s.one.label("round.answer").find("It cannot be done as it is") == 0);
    CHECK(s.one.has("clash.0"));
    CHECK(s.one.label("clash.intro").find("These cannot all be kept together") == 0);
    CHECK(s.one.value("lane.0").find("no start yet") != std::string::npos);
    s.one.check_layout();
}

TEST_CASE("what runs already cannot be moved", "[round]") {
    Screen s;
    s.show("04-after-a-pause");
    s.solve();
    CHECK(s.one.value("lane.0").find("runs since 08:21") != std::string::npos);
    s.one.drag("lane.0", 200, 0);
    CHECK_FALSE(s.view.plan()->tried());
    if (s.one.has("lane.name"))
        CHECK_FALSE(s.one.has("move.on"));
}

TEST_CASE("a round is entered by keypad and choices, and refused in the words of the file's reader", "[round]") {
    Screen s;
    s.one.frame();
    CHECK(s.one.label("round.said").find("transfusions[0].component is missing") != std::string::npos);
    s.one.tap("unit.component");
    s.one.tap("choice.0");
    s.one.type("316");
    s.one.key(platform::Key::enter);
    CHECK(s.one.value("unit.volume").find("316 mL") == 0);
    s.one.type("0600"); // the next one that is missing has opened by itself
    s.one.key(platform::Key::enter);
    CHECK(s.one.label("round.said").find("closes before it opens") != std::string::npos);
    s.one.tap("call.latest");
    s.one.type("0930");
    s.one.key(platform::Key::enter);
    CHECK(s.one.label("round.said") == "Nothing is missing.");
    s.one.check_layout();
    s.one.tap("add.nurse");
    s.one.tap("nurse.rest.from");
    s.one.type("1200");
    s.one.key(platform::Key::enter);
    CHECK(s.one.label("round.said").find("nurses[1].breaks[0].until is missing") != std::string::npos);
    s.one.tap("nurse.rest.until");
    s.one.type("1230");
    s.one.key(platform::Key::enter);
    CHECK(s.one.label("round.said") == "Nothing is missing.");
    s.one.tap("round.plan");
    s.solve();
    REQUIRE(s.view.plan());
    CHECK(s.view.plan()->round().nurses.size() == 2);
    CHECK(s.view.plan()->schedule());
    s.one.tap("round.entries");
    CHECK(s.one.has("round.plan"));
}

TEST_CASE("pictures of a round", "[round]") {
    for (const auto& [name, width, height] : {std::tuple{"desktop", 1280, 800}, {"landscape", 1024, 768}, {"tablet", 800, 1180}, {"phone", 390, 760}})
        for (const bool night : {false, true}) {
            Screen s(width, height);
            s.one.set_night(night);
            const std::string tail = std::string(name) + (night ? "-night" : "-day");
            s.one.frame();
            s.one.check_layout();
            s.one.picture("round-entries-" + tail);
            s.now = Instant{test::at(8, 50).utc - 3600};
            s.show("01-morning");
            s.solve();
            s.one.check_layout();
            s.one.picture("round-" + tail);
            s.one.drag("lane.2", 60, 0);
            s.one.check_layout();
            s.one.picture("round-tried-" + tail);
            s.show("03-too-much-at-once");
            s.solve();
            s.one.picture("round-clash-" + tail);
        }
}

TEST_CASE("a round is reached from the sessions, solved a slice a frame, and printed as a round sheet", "[round]") {
    test::Page page(1280, 800, 1, test::at(6, 30));
    page.tap("plan.sessions");
    page.tap("front.round");
    CHECK(page.label("title") == "Round: entries");
    page.tap("unit.component");
    page.choose("Red cells");
    page.type("316");
    page.key(platform::Key::enter);
    page.type("0930");
    page.key(platform::Key::enter);
    page.tap("person.risk");
    page.choose("No");
    page.tap("item.0");
    page.tap("round.rules");
    page.choose("General ward, common practice");
    CHECK(page.label("round.said") == "Nothing is missing.");
    page.tap("round.plan");
    for (int i = 0; i < 200 && page.has("round.cancel"); ++i)
        page.wait(1);
    CHECK_FALSE(page.has("round.cancel"));
    CHECK(page.all_text().find("Proven to be the best there is") != std::string::npos);
    page.app().before_print();
    CHECK(page.shown().print_html.find("Who does what") != std::string::npos);
    page.tap("round.back");
    CHECK(page.has("front.round"));
}
