/// A rehearsal that the page was closed on: it goes on where it was left, or says why it cannot.

#include "core/rehearse/course.hpp"
#include "tests/web/learner.hpp"
#include "web/platform/store_twin.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using platform::Shelf;
using test::Learner;
namespace twin = platform::twin;

TEST_CASE("a rehearsal that a reload has interrupted goes on where it was left, and stands", "[rehearse][kept]") {
    Learner w;
    w.begin(1);
    w.act("do.call");
    w.until("practice.bag");
    w.type("e"); // from outside
    const auto all = screens::injectables(w.scene());
    std::size_t i = 0;
    while (i < all.size() && all[i].happening.kind != WorldKind::handover)
        ++i;
    REQUIRE(i < all.size());
    w.act("console." + std::to_string(i));
    w.act("card.go_on");
    w.act("tab.unit");
    w.act("unit.receive");
    w.wait(7000);
    w.act("clock.pause");
    w.settle();
    const Instant stood = w.scene().now();
    const std::string log = write_log(w.scene().rehearsal().log());
    const auto told = w.scene().rehearsal().told().size(), said = w.scene().history().size();
    REQUIRE(said >= 2);

    w.reload();
    CHECK(twin::disk().empty()); // nothing of it was ever among the real ones
    w.to_list();
    CHECK(w.label("rehearse.interrupted").find("case 1001") != std::string::npos);
    w.write_png("rehearse-interrupted");
    w.act("rehearse.go_on");
    REQUIRE(w.scene().on());
    CHECK(w.scene().paused());
    CHECK(w.scene().now() == stood);
    CHECK(write_log(w.scene().rehearsal().log()) == log);
    CHECK(w.scene().rehearsal().told().size() == told);
    CHECK(w.scene().history().size() == said);
    CHECK(w.has("menu.said.0"));
    w.write_png("rehearse-gone-on-with");
    w.act("practice.back");
    REQUIRE(w.has("strip.object"));
    w.wait(5000);
    CHECK(w.scene().now() == stood); // until somebody lets it run
    CHECK(w.label("tab.unit") != "");

    SECTION("to its debrief, after which nothing of it stays") {
        w.match();
        w.hang_and_connect();
        w.start("50");
        CHECK(w.session().phase == Phase::running);
        w.end();
        w.settle();
        CHECK(w.all_text().find("by the educator") != std::string::npos);
        CHECK(twin::disk(Shelf::rehearsal).empty());
    }
    SECTION("and is interrupted once more") {
        w.settle();
        w.reload();
        w.to_list();
        w.act("rehearse.go_on");
        CHECK(w.scene().now() == stood);
        CHECK(write_log(w.scene().rehearsal().log()) == log);
    }
}

TEST_CASE("of the time before a reload less than a minute of its clock is lost, or what half a second was", "[rehearse][kept]") {
    for (const int speed : {1, 240}) {
        Learner w;
        w.begin(1);
        w.scene().set_speed(speed, platform::now_ms());
        for (int i = 0; i < 30; ++i)
            w.wait(100);
        w.settle();
        const Instant left = w.scene().now();
        w.reload();
        w.to_list();
        w.act("rehearse.go_on");
        INFO(speed);
        CHECK(w.scene().now() <= left);
        CHECK(left - w.scene().now() <= minutes(speed == 1 ? 1 : 3));
    }
}

TEST_CASE("one that a reload has interrupted is given up, or makes room for another", "[rehearse][kept]") {
    Learner w;
    w.begin(1);
    w.act("do.call");
    w.settle();
    CHECK_FALSE(twin::disk(Shelf::rehearsal).empty());
    w.reload();
    w.to_list();
    SECTION("given up") {
        w.act("rehearse.give_up");
        w.settle();
        CHECK_FALSE(w.has("rehearse.interrupted"));
        CHECK(twin::disk(Shelf::rehearsal).empty());
    }
    SECTION("another is begun") {
        w.begin(2);
        w.end();
        w.settle();
        CHECK(twin::disk(Shelf::rehearsal).empty());
    }
}

TEST_CASE("where not all that was kept can be read, the list says that it has ended", "[rehearse][kept]") {
    Learner w;
    w.begin(1);
    w.act("do.call");
    w.settle();
    // What was kept of it goes, its log stays: as an older page left it.
    std::string course;
    for (const auto& [place, text] : twin::disk(Shelf::rehearsal))
        if (begins_course(text))
            course = place.first;
    REQUIRE_FALSE(course.empty());
    platform::remove(course, Shelf::rehearsal);
    w.settle();
    w.reload();
    w.to_list();
    CHECK(w.label("rehearse.interrupted").find("it has ended") != std::string::npos);
    CHECK_FALSE(w.has("rehearse.go_on"));
    w.act("rehearse.give_up");
    w.settle();
    CHECK(twin::disk(Shelf::rehearsal).empty());
}
