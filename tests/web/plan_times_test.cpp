/// Times that need a day, and times that come twice.

#include "tests/web/harness.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using test::Page;

namespace {

void open_expiry(Page& page) {
    if (!page.has("more.close"))
        page.tap("more");
    page.show("unit.expires");
    page.tap("unit.expires");
}

std::optional<Instant> expiry(Page& page) {
    const auto& expires = page.app().plan().entries().state().unit.expires;
    return expires ? std::optional(expires->at) : std::nullopt;
}

bool noted(Page& page, std::string_view part) {
    return page.all_text().find(part) != std::string::npos;
}

} // namespace

TEST_CASE("an expiry has a day, and without a time it is the end of that day", "[plan][times]") {
    // ISBT 128, data structure 004 (expiration date): the bag expires at the end of that day.
    Page page; // Saturday, 14 March 2026
    page.enter("Red cells", "316", "1340", "1352");
    CHECK(noted(page, "expiry")); // a note says that it is not recorded
    open_expiry(page);
    page.write_png("expiry-day");
    int chosen = 0;
    for (const ui::Node& n : page.app().ui().nodes().now())
        chosen += (n.state & ui::State::chosen) != 0;
    CHECK(chosen == 1);
    page.choose("Mon 16 Mar");
    CHECK(page.says("unit.expires_time", "23:59"));
    CHECK(expiry(page) == test::at(23, 59) + hours(48));
    page.write_png("expiry-time");
    CHECK(page.label("timeline").find("day +2") == std::string::npos); // it would press the plan together
    page.type("0930");
    page.key(platform::Key::enter);
    CHECK(page.says("unit.expires", "Mon 16 Mar 09:30"));
    CHECK(expiry(page) == test::at(9, 30) + hours(48));
    open_expiry(page);
    page.choose("today");
    page.type("1430");
    page.key(platform::Key::enter);
    CHECK(page.says("unit.expires", "today 14:30"));
    CHECK(expiry(page) == test::at(14, 30));
    // What is half typed is no expiry; cleared it is the end of the day again.
    page.tap("unit.expires");
    page.choose("tomorrow");
    page.type("12");
    CHECK_FALSE(expiry(page).has_value());
    page.tap("key.clear");
    CHECK(expiry(page) == test::at(23, 59) + hours(24));
}

TEST_CASE("red cells that expire weeks ahead are one touch, and no limit", "[plan][times]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    open_expiry(page);
    page.choose("a week or more away");
    CHECK_FALSE(page.has("dock")); // nothing is left to type
    CHECK(page.says("unit.expires", "a week or more away"));
    CHECK_FALSE(noted(page, "The expiry")); // it is recorded, and no limit is made of it
    CHECK_FALSE(noted(page, "from the expiry on the label"));
    page.app().before_print();
    CHECK(page.shown().print_html.find("day +7") == std::string::npos);
    open_expiry(page);
    page.choose("not recorded");
    CHECK(page.says("unit.expires", "not recorded"));
}

TEST_CASE("a bag that expired before today does not fit", "[plan][times]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    open_expiry(page);
    page.choose("before today");
    CHECK(page.says("unit.expires", "yesterday 23:59"));
    CHECK(page.label("verdict").starts_with("Does not fit"));
}

TEST_CASE("a time that comes twice says so, and either can be chosen", "[plan][times]") {
    // Central European rule, 25 October 2026: at 01:00 UTC the clock is put back from 03:00 to 02:00.
    const auto utc = [](int hour, int minute) {
        return Instant{days_from_civil(2026, 10, 25) * 86400 + hour * 3600 + minute * 60};
    };
    WallClock wall(hours(2));
    REQUIRE(wall.add_change(utc(1, 0), hours(1)));
    Page page(1280, 800, 1, utc(0, 20));
    platform::twin::set_wall(wall);
    page.frame();
    page.enter("Red cells", "316", "0215", "0230"); // issued at 00:15 UTC
    const auto start = [&] { return page.app().plan().entries().state().times.start->when.at; };
    CHECK(start() == utc(0, 30)); // the nearer one to the issue
    CHECK(page.value("unit.start").find("02:30 UTC+2") != std::string::npos);
    CHECK(page.value("unit.start").find("comes twice") != std::string::npos);
    page.tap("unit.start");
    CHECK(page.label("twice.0") == "first, UTC+2");
    CHECK(page.label("twice.1") == "second, UTC+1");
    CHECK((page.find("twice.0")->state & ui::State::chosen) != 0);
    page.write_png("twice");
    page.tap("twice.1");
    CHECK(start() == utc(1, 30));
    CHECK((page.find("twice.1")->state & ui::State::chosen) != 0);
    page.key(platform::Key::enter);
    CHECK(page.value("unit.start").find("02:30 UTC+1") != std::string::npos);
    // A time that comes once asks nothing.
    page.tap("unit.start");
    page.type("0330");
    CHECK_FALSE(page.has("twice.0"));
    CHECK(page.value("unit.start").find("comes twice") == std::string::npos);
}
