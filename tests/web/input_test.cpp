/// Taps and keys: none is lost, none lands on another screen.

#include "tests/web/harness.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using platform::Key;
using test::Page;

TEST_CASE("300 quick taps all land before the picture is drawn", "[input]") {
    for (const platform::Pointer pointer :
         {platform::Pointer::touch, platform::Pointer::mouse, platform::Pointer::pen}) {
        Page page;
        page.enter("Red cells", "316", "1340", "1352");
        const int before = page.shown().presents;
        platform::Event down = page.pointer(platform::Event::Kind::press, "rate.set");
        down.pointer = pointer;
        platform::Event up = down;
        up.kind = platform::Event::Kind::release;
        for (int i = 0; i < 301; ++i) { // an odd number: the sum is open at the end
            page.send(down);
            page.send(up);
        }
        page.frame();
        CHECK((page.find("rate.set")->state & ui::State::expanded) != 0);
        CHECK(page.shown().presents == before + 1);
        CHECK(page.app().ui().idle());
        for (int i = 0; i < 300; ++i) {
            page.send(down);
            page.send(up);
        }
        page.frame();
        CHECK((page.find("rate.set")->state & ui::State::expanded) != 0);
    }
}

TEST_CASE("digits that are tapped quickly all arrive", "[input]") {
    Page page;
    page.tap("unit.volume");
    for (const char* key : {"key.3", "key.1", "key.6"}) {
        page.press(key);
        page.release(key);
    }
    page.frame();
    CHECK(page.says("unit.volume", "316 mL"));
}

TEST_CASE("taps made before a screen changed do not land on the next one", "[input]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    // "more" changes the arrangement; what was tapped after it, seen on the old one, is dropped.
    page.press("more");
    page.release("more");
    for (int i = 0; i < 20; ++i) {
        page.press("unit.component");
        page.release("unit.component");
        page.press("rate.set");
        page.release("rate.set");
    }
    page.frame();
    CHECK(page.has("more.close"));
    CHECK_FALSE(page.has("dock"));
    CHECK((page.find("rate.set")->state & ui::State::expanded) == 0);
}

TEST_CASE("a press that began before the screen changed presses nothing", "[input]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    page.tap("unit.volume");
    page.press("rate.set"); // a finger rests on it
    page.frame();
    page.key(Key::enter); // and the keypad goes away
    REQUIRE_FALSE(page.has("dock"));
    page.release("rate.set");
    page.frame();
    CHECK((page.find("rate.set")->state & ui::State::expanded) == 0);
}

TEST_CASE("a press that is drawn away presses nothing", "[input]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    page.press("rate.set");
    platform::Event away = page.pointer(platform::Event::Kind::move, "unit.volume");
    page.send(away);
    away.kind = platform::Event::Kind::release;
    page.send(away);
    page.frame();
    CHECK((page.find("rate.set")->state & ui::State::expanded) == 0);
    CHECK_FALSE(page.has("dock"));
}

TEST_CASE("dragging scrolls and presses nothing", "[input]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    const float top = page.find("rate.set")->box.y;
    platform::Event e = page.pointer(platform::Event::Kind::press, "rate.set");
    page.send(e);
    e.kind = platform::Event::Kind::move;
    for (int i = 0; i < 10; ++i) {
        e.y -= 10;
        page.send(e);
        page.frame();
    }
    e.kind = platform::Event::Kind::release;
    page.send(e);
    page.frame();
    CHECK(page.find("rate.set")->box.y < top - 60);
    CHECK((page.find("rate.set")->state & ui::State::expanded) == 0);
}

TEST_CASE("the answers scroll by keys", "[input]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    const float top = page.find("verdict")->box.y;
    page.key(Key::page_down);
    CHECK(page.find("verdict")->box.y < top - 200);
    page.key(Key::home);
    CHECK(page.find("verdict")->box.y == top);
}

TEST_CASE("everything can be done by keyboard, and the focus is seen", "[input]") {
    Page page;
    const auto focus = [&](std::string_view id) {
        for (int i = 0; i < 80; ++i) {
            if (page.app().ui().focused_key() == platform::node_key(id))
                return true;
            page.key(Key::tab);
        }
        return false;
    };
    REQUIRE(focus("unit.component"));
    page.key(Key::enter);
    REQUIRE(page.has("choice.0"));
    // A list that is opened has the focus, at its first line or at what was chosen.
    CHECK(page.app().ui().focused_key() == platform::node_key("choice.0"));
    page.key(Key::enter);
    CHECK(page.says("unit.component", "Red cells"));
    page.type("316");
    page.key(Key::enter);
    page.type("1340");
    page.key(Key::enter);
    page.type("1352");
    page.key(Key::enter);
    CHECK(page.says("rate.set", "174 mL/h"));
    CHECK(page.shown().focused != 0);
    REQUIRE(focus("rate.set"));
    page.key(Key::enter);
    CHECK((page.find("rate.set")->state & ui::State::expanded) != 0);
    page.write_png("focus");
    REQUIRE(focus("protocol"));
    page.key(Key::enter);
    bool at_chosen = false;
    for (const ui::Node& n : page.app().ui().nodes().now())
        at_chosen = at_chosen || ((n.state & ui::State::chosen) != 0 &&
                                  platform::node_key(n.id) == page.app().ui().focused_key());
    CHECK(at_chosen);
    page.key(Key::escape);
    CHECK(page.app().ui().focused_key() == platform::node_key("protocol"));
}

TEST_CASE("an element of the accessibility DOM is pressed as a tap is", "[input]") {
    Page page;
    for (const char* id : {"unit.component", "choice.1"}) {
        platform::Event e;
        e.kind = platform::Event::Kind::activate;
        e.node = platform::node_key(id);
        page.send(e);
        page.frame();
    }
    CHECK(page.says("unit.component", "Platelets"));
    platform::Event e;
    e.kind = platform::Event::Kind::focus;
    e.node = platform::node_key("unit.start");
    page.send(e);
    page.frame();
    CHECK(page.app().ui().focused_key() == e.node);
}

TEST_CASE("the accessibility DOM is told only what changed", "[mirror]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    const auto& mirror = page.shown().mirror;
    const auto nodes = page.app().ui().nodes().now();
    REQUIRE(mirror.size() == nodes.size());
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        INFO(nodes[i].id);
        CHECK(mirror[i].key == platform::node_key(nodes[i].id));
        CHECK(mirror[i].value == nodes[i].value);
        CHECK(mirror[i].label == nodes[i].label);
    }
    page.frame();
    CHECK(page.app().mirror().told() == 0);
    page.tap("rate.set");
    CHECK(page.app().mirror().told() <= 3);
}

TEST_CASE("ids are never noted twice", "[mirror]") {
    Page page;
    page.enter("Red cells", "316", "1340", "1352");
    for (const char* id : {"more", "order.pace"}) {
        page.tap(id);
        const auto nodes = page.app().ui().nodes().now();
        for (std::size_t i = 0; i < nodes.size(); ++i)
            for (std::size_t j = i + 1; j < nodes.size(); ++j) {
                INFO(nodes[i].id);
                CHECK(platform::node_key(nodes[i].id) != platform::node_key(nodes[j].id));
            }
    }
}

TEST_CASE("it sleeps until the minute, and then draws only what changed", "[idle]") {
    Page page(1280, 800, 1, test::at(13, 45, 20));
    page.enter("Red cells", "316", "1340", "1352");
    page.frame();
    const std::int64_t wake = page.shown().wake_ms;
    CHECK(wake > 0);
    CHECK((platform::wall_ms() + wake) % 60'000 == 0);
    const int presents = page.shown().presents;
    page.frame();
    CHECK(page.shown().presents == presents); // nothing changed, nothing is shown again
    page.wait(wake);
    CHECK(page.shown().presents == presents + 1);
    CHECK(page.shown().presented_pixels < 1280 * 800 / 3);
    CHECK(page.says("clock", "13:46"));
}

TEST_CASE("controls are at least 44 CSS pixels high and wide, 8 apart", "[size]") {
    // WCAG 2.2, 2.5.5 (AAA): 44 by 44 CSS pixels.
    for (const float scale : {1.0f, 2.0f}) {
        Page page(static_cast<int>(1280 * scale), static_cast<int>(800 * scale), scale);
        page.enter("Red cells", "316", "1340", "1352");
        for (const char* id : {"unit.volume", "key.done", "unit.component"}) {
            page.tap(id);
            const auto nodes = page.app().ui().nodes().now();
            for (const ui::Node& a : nodes) {
                if (a.item == 0)
                    continue;
                INFO(a.id);
                CHECK(a.box.w >= 44 * scale);
                CHECK(a.box.h >= 44 * scale);
                for (const ui::Node& b : nodes) {
                    if (b.item == 0 || b.item == a.item)
                        continue;
                    INFO(b.id);
                    const float dx = std::max(a.box.x - b.box.right(), b.box.x - a.box.right());
                    const float dy = std::max(a.box.y - b.box.bottom(), b.box.y - a.box.bottom());
                    CHECK((a.clipped || b.clipped || std::max(dx, dy) >= 8 * scale));
                }
            }
        }
    }
}
