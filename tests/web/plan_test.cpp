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
    struct Size {
        const char* name;
        int width, height;
        float scale;
    };
    for (const Size& s : {Size{"1280x800", 1280, 800, 1},
                          {"768x1024", 768, 1024, 1},
                          {"1024x768@2", 2048, 1536, 2},
                          {"1920x1080", 1920, 1080, 1},
                          {"390x844@2", 780, 1688, 2}}) {
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

TEST_CASE("a frail person's bag does not fit, and it says whom to ask for what", "[plan]") {
    Page page;
    page.enter("Red cells", "300", "1340", "1400");
    page.tap("more");
    page.tap("person.weight");
    page.type("60");
    page.key(platform::Key::enter);
    page.tap("person.overload_risk");
    page.choose("yes");
    page.tap("more.close");
    CHECK(page.label("verdict").starts_with("Does not fit: 217.5 mL can be given, 82.5 mL would be left"));
    CHECK(page.label("verdict").find("Ask the blood bank for a split of at most 217.5 mL.") !=
          std::string::npos);
    CHECK(page.says("can_give", "217.5 mL"));
    CHECK(page.says("largest", "217.5 mL"));
    CHECK_FALSE(page.has("rate.set")); // nothing to set before somebody was asked
    CHECK(page.says("check.next", "ask first"));
    page.tap("can_give");
    CHECK(page.label("sum").find("217.5 mL") != std::string::npos);
    page.write_png("does-not-fit");
}

TEST_CASE("every number has its sum one touch away", "[plan]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    CHECK(page.label("sum") == "Touch a number to see the sum behind it.");
    const std::pair<const char*, const char*> sums[] = {{"rate.set", "173.43 mL/h"},
                                                        {"rate.first", "50 mL/h"},
                                                        {"start.by", "13:40 + 30 min = 14:10"},
                                                        {"finish.by", "13:40 + 4 h = 17:40"},
                                                        {"all_in", "174 mL/h"},
                                                        {"check.next", "13:52"}};
    for (const auto& [id, part] : sums) {
        page.tap(id);
        INFO(id << ": " << page.label("sum"));
        CHECK(page.label("sum").find(part) != std::string::npos);
        CHECK((page.find(id)->state & ui::State::expanded) != 0);
    }
    page.write_png("sum");
    page.tap("check.next");
    CHECK(page.label("sum") == "Touch a number to see the sum behind it.");
}

TEST_CASE("by gravity it counts drops, and says what they make", "[plan]") {
    Page page;
    page.enter("Red cells", "250", "1340", "1352");
    page.tap("more");
    page.show("device.kind");
    page.tap("device.kind");
    page.choose("gravity");
    page.show("device.drops");
    page.tap("device.drops");
    page.choose("20 drops/mL");
    page.show("more.close");
    page.tap("more.close");
    CHECK(page.value("rate.set").find("drops/min") != std::string::npos);
    CHECK(page.value("rate.set").find("count ") != std::string::npos);
    page.write_png("gravity");
}

TEST_CASE("what is not covered gets no numbers", "[plan]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    page.tap("unit.component");
    page.choose("Albumin");
    CHECK(page.says("verdict", "Albumin Not covered here, follow your procedure."));
    for (const char* id : {"rate.set", "rate.first", "finish.by", "all_in", "timeline"})
        CHECK_FALSE(page.has(id));
    CHECK((page.find("page.print")->state & ui::State::disabled) != 0);
    page.write_png("not-covered");
}

TEST_CASE("the rules for children ask for the weight, and only they do", "[plan]") {
    Page page;
    CHECK_FALSE(page.has("person.weight"));
    page.tap("protocol");
    page.choose("Children by weight");
    CHECK(page.has("person.weight"));
    page.tap("person.weight");
    page.type("11.6");
    page.key(platform::Key::enter);
    CHECK(page.says("person.weight", "11.6 kg"));
    page.write_png("child");
}

TEST_CASE("the protocol and that it is an example stand on the screen, the cautions once", "[plan]") {
    Page page;
    CHECK(page.says("protocol", "General ward, common practice, example, not adopted"));
    const std::string all = page.all_text();
    const std::string once = "It is not a medical device";
    const std::size_t first = all.find(once);
    REQUIRE(first != std::string::npos);
    CHECK(all.find(once, first + 1) == std::string::npos);
}

TEST_CASE("an entry out of bounds is refused where it stands, and gives no numbers", "[plan]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    page.tap("unit.volume");
    page.type("6000");
    CHECK((page.find("unit.volume")->state & ui::State::refused) != 0);
    CHECK(page.value("unit.volume").find("0.1 to 5000 mL") != std::string::npos);
    CHECK(page.says("rate.set", "not yet"));
    page.key(platform::Key::enter);
    CHECK(page.has("dock")); // not accepted
    page.key(platform::Key::escape);
    CHECK(page.says("unit.volume", "316 mL"));
    CHECK(page.says("rate.set", "174 mL/h"));
}

TEST_CASE("times are typed to the minute and belong to the nearest day", "[plan]") {
    Page page(1280, 800, 1, test::at(23, 50));
    page.enter("Red cells", "316", "2340", "0010");
    CHECK(page.says("unit.start", "00:10 day +1"));
    CHECK(page.says("finish.by", "03:40 day +1"));
    page.tap("unit.start");
    page.type("9"); // 09:
    CHECK(page.says("unit.start", "09:__"));
    CHECK(page.says("rate.set", "not yet"));
    page.tap("key.now");
    CHECK(page.says("unit.start", "23:50"));
    page.type("2");
    CHECK((page.find("key.4")->state & ui::State::disabled) != 0); // there is no 24:00
}

TEST_CASE("the printed sheet is the plan's, and has no styles of its own", "[plan][print]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    page.tap("page.print");
    CHECK(page.shown().prints == 1);
    const std::string& html = page.shown().print_html;
    CHECK(html.find("174") != std::string::npos);
    CHECK(html.find("style=") == std::string::npos);
    CHECK(html.find("<script") == std::string::npos);
}

TEST_CASE("a page whose rules cannot be read says so", "[plan]") {
    platform::twin::reset(1280, 800, 1);
    platform::twin::set_protocols("[{\"format\": 1}]");
    App app;
    platform::run(app);
    const ui::Node* trouble = app.ui().nodes().find("trouble");
    REQUIRE(trouble != nullptr);
    CHECK(trouble->label.find("cannot be read") != std::string_view::npos);
}

TEST_CASE("an entry that is opened stays in sight above its keypad", "[plan]") {
    for (const auto& [width, height] : {std::pair{1280, 800}, {1024, 768}, {768, 1024}, {390, 844}}) {
        Page page(width, height);
        page.show("more");
        page.tap("more");
        for (const char* id : {"line.lost", "unit.spiked", "person.weight", "line.holds"}) {
            page.show(id);
            page.tap(id);
            INFO(id << " at " << width << " x " << height);
            CHECK_FALSE(page.find(id)->clipped);
            CHECK(page.find(id)->box.bottom() <= page.find("dock")->box.y);
            page.key(platform::Key::escape);
        }
    }
}

TEST_CASE("the rate that runs now says so", "[plan]") {
    Page page(1280, 800, 1, test::at(13, 45));
    page.enter("Red cells", "316", "1340", "1352");
    CHECK(page.value("rate.first").find("now") == std::string::npos);
    platform::twin::set_now(test::at(14, 0));
    page.frame();
    CHECK(page.says("rate.first", "50 mL/h, now, until 14:07"));
    CHECK(page.value("rate.set").find("now") == std::string::npos);
    platform::twin::set_now(test::at(14, 30));
    page.frame();
    CHECK(page.says("rate.set", "174 mL/h, now, all in at 15:51:40"));
    CHECK(page.value("rate.first").find("now") == std::string::npos);
    CHECK(page.says("start.by", "14:10, met"));
    page.write_png("running");
}
