/// The first screen, through the list of what is on it.

#include "tests/web/harness.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using test::Page;

TEST_CASE("the first screen asks for four entries and nothing else", "[plan]") {
    Page page;
    CHECK(page.says("unit.component", "not recorded"));
    CHECK(page.says("verdict", "Choose the component"));
    CHECK(page.says("rate.set", "not yet"));
    page.write_png("empty");
}

TEST_CASE("four entries give the whole answer", "[plan]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    CHECK(page.says("start.by", "14:10"));
    CHECK(page.says("finish.by", "17:40"));
    CHECK(page.says("rate.first", "50 mL/h"));
    CHECK(page.says("rate.set", "174 mL/h"));
    CHECK(page.says("all_in", "15:51:40"));
    page.write_png("plan");
}

TEST_CASE("pictures of the first screen, to be looked at", "[plan][pictures]") {
    // Written only where HANGTIME_PICTURES names a folder; what is checked here is that nothing breaks.
    struct Size { const char* name; int width, height; float scale; };
    for (const Size& s : {Size{"1280x800", 1280, 800, 1}, {"768x1024", 768, 1024, 1}, {"1024x768@2", 2048, 1536, 2},
                          {"1920x1080", 1920, 1080, 1}, {"390x844@2", 780, 1688, 2}}) {
        Page page(s.width, s.height, s.scale);
        const std::string name = s.name;
        page.write_png(name + "-1-empty");
        page.tap("unit.component");
        page.write_png(name + "-2-choices");
        page.choose("Red cells");
        page.type("316");
        page.write_png(name + "-3-keypad");
        page.key(platform::Key::enter);
        page.type("1340");
        page.key(platform::Key::enter);
        page.type("1352");
        page.key(platform::Key::enter);
        page.write_png(name + "-4-plan");
        page.tap("page.ground");
        page.frame();
        page.write_png(name + "-5-night");
        CHECK(page.says("rate.set", "174 mL/h"));
        page.show("more");
        page.tap("more");
        page.write_png(name + "-6-more");
        page.show("person.weight");
        page.tap("person.weight");
        page.type("60");
        page.write_png(name + "-7-weight");
        page.key(platform::Key::enter);
        page.show("person.overload_risk");
        page.tap("person.overload_risk");
        page.choose("yes");
        page.show("more.close");
        page.tap("more.close");
        page.write_png(name + "-8-risk");
    }
}
