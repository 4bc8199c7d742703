/// What has to be known beside the numbers stands where it is seen: with the verdict, above the fold.

#include "tests/web/harness.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using test::Page;

namespace {

struct Size {
    const char* name;
    int width, height;
    float scale;
};
constexpr Size sizes[] = {{"1280x800", 1280, 800, 1},
                          {"768x1024", 768, 1024, 1},
                          {"1024x768@2", 2048, 1536, 2},
                          {"1920x1080", 1920, 1080, 1}};

void set(Page& page, const char* field, std::string_view choice) {
    page.show(field);
    page.tap(field);
    page.choose(choice);
}

} // namespace

TEST_CASE("a line primed with saline is said with the verdict, without scrolling", "[plan][cautions]") {
    for (const Size& s : sizes) {
        INFO(s.name);
        Page page(s.width, s.height, s.scale);
        page.enter("Red cells", "316", "1340", "1352");
        page.show("more");
        page.tap("more");
        set(page, "line.primed", "saline");
        page.show("line.holds");
        page.tap("line.holds");
        page.choose("another volume ...");
        page.type("20");
        page.key(platform::Key::enter);
        set(page, "person.gauge", "24 G"); // an older caution must not stand before it
        page.show("more.close");
        page.tap("more.close");
        const ui::Node* verdict = page.find("verdict");
        REQUIRE(verdict != nullptr);
        INFO(verdict->label);
        CHECK(verdict->label.starts_with("Fits, with 2 cautions "));
        // 20 mL at 50 mL/h: the worked case, component in the vein at 14:09:26, after the early check.
        CHECK(verdict->label.find("14:09:26") != std::string_view::npos);
        CHECK(verdict->label.find("All in at 15:51:56") != std::string_view::npos);
        CHECK(verdict->box.y >= 0);
        CHECK(verdict->box.bottom() <= static_cast<float>(s.height));
        // What is said at the verdict is all of it: the words are the caution's own.
        bool found = false;
        for (const ui::Node& n : page.app().ui().nodes().now())
            if (n.id.starts_with("warning.") && n.label.find("14:09:26") != std::string_view::npos)
                found = verdict->label.find(n.label.substr(n.label.find(": ") + 2)) != std::string_view::npos;
        CHECK(found);
        page.write_png(std::string(s.name) + "-9-caution");
        page.tap("page.ground");
        page.frame();
        page.write_png(std::string(s.name) + "-9-caution-night");
    }
}

TEST_CASE("one caution is one, and without any the verdict says only that it fits", "[plan][cautions]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    CHECK(page.label("verdict").starts_with("Fits. All in at 15:51:40"));
    page.tap("more");
    set(page, "person.gauge", "24 G");
    CHECK(page.label("verdict").starts_with("Fits, with 1 caution "));
    CHECK(page.label("verdict").find("24 G") != std::string::npos);
}

TEST_CASE("a device that the rules forbid holds it up, above all other cautions", "[plan][cautions]") {
    Page page;
    page.enter("Granulocytes", "250", "1340", "1352");
    page.show("protocol");
    page.tap("protocol");
    page.choose("Half-hourly checks, may be used after 30 min out");
    CHECK(page.label("verdict").starts_with("Hold and ask. The times fit."));
    CHECK(page.label("verdict").find("never give this component by pump") != std::string::npos);
    page.tap("more");
    set(page, "device.kind", "gravity");
    CHECK(page.label("verdict").find("by pump") == std::string::npos);
}

TEST_CASE("a late start is about time, not about volume", "[plan][cautions]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1420"); // hung by 14:10
    CHECK(page.label("verdict").starts_with("Does not fit"));
    CHECK_FALSE(page.has("largest"));
    CHECK_FALSE(page.has("can_give"));
    CHECK(page.says("start.at", "14:20, too late by 10 min"));
    CHECK(page.says("latest", "14:10, 24 min left"));
    CHECK(page.all_text().find("would be left") == std::string::npos);
    CHECK(page.all_text().find(" 0 mL") == std::string::npos);
    page.tap("latest");
    CHECK(page.label("sum").find("13:40 + 30 min = 14:10") != std::string::npos);
    page.write_png("late-start");
}

TEST_CASE("a dose that does not fit is not answered with a largest bag", "[plan][cautions]") {
    Page page;
    page.enter("Red cells", "300", "1340", "1400");
    page.tap("more");
    page.tap("person.weight");
    page.type("60");
    page.key(platform::Key::enter);
    set(page, "person.overload_risk", "yes");
    page.show("order.dose");
    page.tap("order.dose");
    page.choose("... mL");
    page.type("290");
    page.key(platform::Key::enter);
    CHECK(page.label("verdict").starts_with("Does not fit: 217.5 mL can be given, 72.5 mL would be left"));
    CHECK_FALSE(page.has("largest"));
    CHECK(page.has("latest"));
}

TEST_CASE("the timeline names the rate of each stage, and when it changes", "[plan][timeline]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    CHECK(page.label("timeline").find("50 mL/h until 14:07, 174 mL/h from 14:07") != std::string::npos);
}
