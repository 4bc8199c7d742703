/// The screen "More", by taps on the whole page.

#include "tests/web/ward.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using test::Ward;

TEST_CASE("the front page leads to More, and back", "[doors]") {
    Ward w;
    w.to_sessions();
    w.act("front.more");
    CHECK(w.label("title") == "More");
    CHECK(w.has("more.rehearse"));
    w.write_png("more-day");
    w.act("page.ground");
    w.write_png("more-night");
    w.act("more.back");
    CHECK(w.label("title") == "Sessions");
}

TEST_CASE("a reminder of a session is said on More as well", "[doors]") {
    Ward w;
    w.until_running();
    w.act("sessions");
    w.act("front.more");
    CHECK(w.label("reminder").find("Early check") == std::string::npos);
    w.go_to(test::at(14, 8));
    CHECK(w.label("reminder").find("Early check") != std::string::npos);
}
