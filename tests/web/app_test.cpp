/// The program around the screens.

#include "tests/web/harness.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;

namespace {
std::size_t rules_offered(const App& app) {
    return app.plan().entries().choices(screens::Field::protocol).size();
}
} // namespace

TEST_CASE("the page's examples are read one by one, after the first picture", "[app]") {
    platform::twin::reset(1280, 800, 1);
    platform::twin::set_protocols(test::shipped_protocols(), true);
    App app;
    platform::run(app);
    CHECK(rules_offered(app) == 1);
    const std::string first = app.plan().entries().protocol().id;
    for (std::size_t n = 2; n <= 4; ++n) {
        CHECK(platform::twin::shown().wake_ms == 0); // nothing has to happen for the next to be read
        app.frame();
        CHECK(rules_offered(app) == n);
        CHECK(app.plan().entries().protocol().id == first);
    }
    CHECK(platform::twin::shown().wake_ms > 0);
}

TEST_CASE("who looks for a protocol finds those too that were still waiting", "[app]") {
    platform::twin::reset(1280, 800, 1);
    platform::twin::set_protocols(test::shipped_protocols(), true);
    App app;
    platform::run(app);
    CHECK(app.protocols().size() == 4);
    CHECK(rules_offered(app) == 4);
}

TEST_CASE("a ward's own rules are read before the first picture, because one that is adopted comes first",
          "[app]") {
    std::string own = test::shipped_protocols();
    const std::size_t last = own.rfind("\"adopted\": false");
    REQUIRE(last != std::string::npos);
    own.replace(last, 16, "\"adopted\": true");
    platform::twin::reset(1280, 800, 1);
    platform::twin::set_protocols(own);
    App app;
    platform::run(app);
    CHECK(rules_offered(app) == 4);
    CHECK(app.plan().entries().protocol().adopted);
}
