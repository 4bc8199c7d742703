/// Rehearsals on the screens of a session, by taps on the whole page: the list, the simulated clock, what happens, and
/// that none of it can be taken for real.

#include "core/rehearse/debrief.hpp"
#include "tests/web/learner.hpp"
#include "web/platform/store_twin.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using platform::Key;
using platform::Shelf;
using test::at;
using test::Learner;
namespace twin = platform::twin;

namespace {

// What every picture of a rehearsal says, whatever it shows.
void says_rehearsal(Learner& w, std::string_view where) {
    INFO(where);
    CHECK(w.label("rehearsal") == "Rehearsal");
    CHECK(w.shown().title.starts_with("Rehearsal"));
    const ui::Palette& p = w.app().ui().palette();
    const bool other = p.ground == ui::rehearsal_day.ground || p.ground == ui::rehearsal_night.ground;
    CHECK(other);
    // And it is drawn so: the pixel in the corner of the picture.
    CHECK((w.shown().pixels[0] & 0xffffffu) == (p.ground & 0xffffffu));
}

} // namespace

TEST_CASE("the page carries the shipped rehearsals, with level, title and what each teaches", "[rehearse]") {
    Learner w;
    w.to_list();
    CHECK(w.app().rehearsals().library().trouble().empty());
    REQUIRE(w.app().rehearsals().library().all().size() >= 10);
    for (const auto& one : w.app().rehearsals().library().all()) {
        const std::string id = "rehearse." + std::to_string(one->number);
        CHECK(w.label(id).find(one->title) != std::string::npos);
    }
    CHECK(w.value("rehearse.4") == "middle");
    w.act("rehearse.4");
    CHECK(w.label("rehearse.4.teaches.0").starts_with("A match that was interrupted counts for nothing"));
    CHECK(w.label("rehearse.4.about").find("Case number 4001") != std::string::npos);
    says_rehearsal(w, "the list");
    w.write_png("rehearse-list");
    w.act("page.ground");
    says_rehearsal(w, "the list at night");
    w.write_png("rehearse-list-night");
    w.act("rehearse.4.sheet");
    CHECK(w.shown().prints == 1);
    CHECK(w.shown().print_html.find("Rehearsal") != std::string::npos);
}

TEST_CASE("a case number sets scenario and seed", "[rehearse]") {
    Learner w;
    w.begin_case("4007");
    REQUIRE(w.scene().on());
    CHECK(w.scene().scenario().id == "checker-called-away");
    CHECK(w.scene().rehearsal().seed() == 7);
    CHECK(w.label("rehearsal.about").find("Case 4007") != std::string::npos);
}

TEST_CASE("a case number that nothing here has is refused, and says how it is made up", "[rehearse]") {
    Learner w;
    w.begin_case("98001");
    CHECK_FALSE(w.scene().on());
    CHECK(w.label("rehearse.message").find("number 98") != std::string::npos);
}

TEST_CASE("the simulated clock runs at its speeds, stands, and jumps to what is due", "[rehearse][clock]") {
    Learner w;
    w.begin(1);
    const Instant begun = w.scene().now();
    w.act("clock.pause");
    const Instant stood = w.scene().now();
    CHECK(w.scene().paused());
    w.wait(5000);
    CHECK(w.scene().now() == stood);
    CHECK(w.value("clock.simulated").ends_with("stands still"));
    for (const int times : rehearse::speeds) {
        w.tap("clock.speed." + std::to_string(times));
        const Instant from = w.scene().now();
        for (int i = 0; i < 10; ++i)
            w.wait(100);
        CHECK((w.scene().now() - from).count == times);
    }
    // A page that was hidden for an hour has not played an hour.
    w.tap("clock.speed.1");
    const Instant seen = w.scene().now();
    w.wait(3'600'000);
    CHECK((w.scene().now() - seen).count <= 1);

    w.act("do.call");
    const auto due = w.scene().next_due();
    REQUIRE(due);
    w.tap("clock.next");
    CHECK(w.scene().now() == *due);
    CHECK(w.card()); // the bag
    CHECK(w.label("card.text").find("red cells") != std::string::npos);
    CHECK(w.scene().now() > begun + minutes(5));
}

TEST_CASE("at 240 times the clock stops where something happens, and goes on at the speed of a real one", "[rehearse][clock]") {
    Learner w;
    w.begin(1);
    w.act("do.call");
    const auto next = w.scene().rehearsal().next_happening();
    REQUIRE(next);
    w.tap("clock.speed.240");
    for (int i = 0; i < 60 && !w.card(); ++i)
        w.wait(66);
    REQUIRE(w.card());
    CHECK(w.scene().now() == *next);
    w.wait(10'000);
    CHECK(w.scene().now() == *next); // it stands while the card is read
    w.act("card.go_on");
    CHECK(w.scene().speed() == 1);
    CHECK(w.session().phase == Phase::here);
    CHECK(w.has("practice.bag"));
}

TEST_CASE("one rehearsal from the list to the debrief, with all its points", "[rehearse]") {
    Learner w;
    w.begin(1);
    says_rehearsal(w, "the bedside");
    w.write_png("rehearse-bedside");
    w.act("do.call");
    for (int i = 0; i < 3 && !w.card(); ++i)
        w.act("clock.next");
    w.write_png("rehearse-card");
    says_rehearsal(w, "a card");
    w.act("card.go_on");
    w.act("tab.unit");
    w.act("unit.receive");
    w.write_png("rehearse-unit");
    w.act("tab.match");
    w.write_png("rehearse-match");
    w.match();
    w.hang_and_connect();
    w.start("50");
    REQUIRE(w.session().phase == Phase::running);
    w.act("do.observe");
    w.write_png("rehearse-observe");
    w.act("obs.copy");
    w.act("obs.note");
    w.until("do.observe"); // the early check
    while (!w.label("do.observe").starts_with("Early check") || w.label("do.observe").find(", at") != std::string::npos)
        w.next();
    w.observe();
    w.act("do.raise_rate");
    w.confirm();
    w.write_png("rehearse-run");
    // On, and done whatever stands on the button, to the last check.
    for (int i = 0; i < 40 && !w.has("do.finished"); ++i) {
        bool done = false;
        for (const char* button : {"do.look_at_end", "do.clear_line", "do.end", "do.dispose", "do.chart"})
            if (!done && w.has(button) && w.label(button).find(", at ") == std::string::npos) {
                w.act(button);
                done = true;
            }
        if (!done && w.has("do.observe") && w.label("do.observe").find(", at ") == std::string::npos) {
            w.observe();
            done = true;
        }
        if (!done)
            w.next();
    }
    w.act("do.finished"); // to the menu
    says_rehearsal(w, "the menu");
    w.write_png("rehearse-menu");
    w.act("menu.end");
    says_rehearsal(w, "the debrief");
    w.write_png("rehearse-debrief");
    INFO(w.all_text());
    CHECK(w.label("debrief.points").ends_with("13 of 13 points"));
    w.act("page.print");
    CHECK(w.shown().print_html.find("Rehearsal") != std::string::npos);
    CHECK(w.shown().print_html.find("the sum of the items below") != std::string::npos);
    w.act("debrief.save");
    CHECK(twin::told().file_name == "hangtime-result-1001.json");
    const auto saved = read_debrief(twin::told().file_text);
    REQUIRE(saved.ok());
    CHECK(saved.value().points == 13);
    CHECK(saved.value().scenario == "first-bag");
    w.act("page.ground");
    w.write_png("rehearse-debrief-night");
}
