/// What the clock moves, or puts in the place of something else: a touch that was on its way is dropped, and only that.

#include "tests/web/ward.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using test::at;
using test::Page;
using test::Ward;

namespace {
// So long after the last picture, which no other one has followed.
void tap_after(Page& page, std::string_view id, std::int64_t ms) {
    platform::Event e = page.pointer(platform::Event::Kind::press, id);
    e.at_ms = platform::now_ms() + ms;
    page.send(e);
    e.kind = platform::Event::Kind::release;
    page.send(e);
    page.frame();
}
} // namespace

TEST_CASE("where a reminder moves all of the screen only a touch that was on its way is lost", "[sessions]") {
    Ward w;
    w.until_running();
    w.act("do.observe");
    w.to_sessions();
    w.act("front.plan");
    REQUIRE_FALSE(w.has("reminder"));
    const float before = w.find("unit.volume")->box.y;
    w.go_to(at(14, 7));
    REQUIRE(w.has("reminder"));
    REQUIRE(w.find("unit.volume")->box.y > before);
    // No picture is drawn in between: nothing has asked for one.
    tap_after(w, "unit.volume", 0); // meant for what stood there a moment ago
    CHECK_FALSE(w.has("dock"));
    tap_after(w, "unit.volume", 499);
    CHECK_FALSE(w.has("dock"));
    tap_after(w, "unit.volume", 500);
    CHECK(w.has("dock"));
}

TEST_CASE("where a reminder moves the list of sessions, no touch opens another one than it was meant for", "[sessions]") {
    Ward w;
    w.until_running();
    w.act("do.observe");
    w.to_sessions();
    const float before = w.find("front.anchor")->box.y;
    w.go_to(at(14, 7));
    REQUIRE(w.find("front.anchor")->box.y > before);
    tap_after(w, "front.anchor", 499);
    CHECK_FALSE(w.has("confirm.yes"));
    CHECK(w.has("front.anchor"));
    tap_after(w, "front.anchor", 500);
    CHECK_FALSE(w.has("front.anchor"));
}

TEST_CASE("where the clock makes another thing the first to do, no touch that was on its way notes it", "[sessions]") {
    Ward w;
    w.until_running();
    w.act("do.observe");
    const std::size_t records = w.only().log.events().size();
    const std::string before = w.label("do.observe");
    w.go_to(at(14, 7));
    REQUIRE(w.label("do.observe") != before);
    tap_after(w, "do.observe", 499);
    CHECK(w.only().log.events().size() == records);
    tap_after(w, "do.observe", 500);
    CHECK(w.only().log.events().size() == records + 1);
}
