/// The round screen on a day that goes wrong: what has happened is entered, the rest is planned again with the fewest
/// changes to what was promised, and all of it survives a reload.

#include "tests/web/harness.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;

namespace {

void open(test::Page& page) {
    page.tap("plan.sessions");
    page.show("front.round");
    page.tap("front.round");
}

void enter(test::Page& page, std::string_view id, std::string_view keys) {
    page.show(id);
    page.tap(id);
    page.type(keys);
    page.key(platform::Key::enter);
    page.key(platform::Key::escape);
}

void pick(test::Page& page, std::string_view id, std::string_view label) {
    page.show(id);
    page.tap(id);
    page.choose(label);
    page.key(platform::Key::escape);
}

void transfusion(test::Page& page, std::string_view component, std::string_view volume, std::string_view latest) {
    pick(page, "unit.component", component);
    enter(page, "unit.volume", volume);
    enter(page, "call.latest", latest);
    pick(page, "person.risk", "No");
    pick(page, "person.report", "Yes");
}

void solve(test::Page& page) {
    for (int i = 0; i < 400 && page.has("round.cancel"); ++i)
        page.wait(1);
    CHECK_FALSE(page.has("round.cancel"));
}

// Two transfusions, one nurse, from 07:00; both are planned.
void plan_two(test::Page& page) {
    open(page);
    transfusion(page, "Red cells", "316", "0930");
    page.show("add.transfusion");
    page.tap("add.transfusion");
    transfusion(page, "Platelets", "220", "1030");
    CHECK(page.label("round.said") == "Nothing is missing.");
    page.tap("round.plan");
    solve(page);
    CHECK(page.all_text().find("Proven to be the best there is") != std::string::npos);
}

} // namespace

TEST_CASE("a round begins with the general ward's rules, or with those that were used last", "[round]") {
    test::Page page(1280, 800, 1, test::at(6, 30));
    page.settle();
    open(page);
    page.tap("item.0");
    CHECK(page.value("round.rules").find("General ward") == 0);
    pick(page, "round.rules", "Removal clock, no slow stage");
    page.show("round.remove");
    page.tap("round.remove"); // all of it, at this item
    CHECK(page.value("round.rules").find("Removal clock") == 0);
    page.reload();
    page.settle();
    open(page);
    CHECK(page.value("round.rules").find("Removal clock") == 0);
}

TEST_CASE("what has happened is entered, and the rest planned again with the fewest changes", "[round]") {
    test::Page page(1280, 800, 1, test::at(6, 30));
    page.settle();
    plan_two(page);
    const std::string kite = page.value("lane.0"), leaf = page.value("lane.1");
    page.go_to(test::at(8, 40));
    page.tap("lane.0");
    CHECK(page.has("lane.set"));
    CHECK(page.label("lane.call").find("Call at ") == 0);
    page.show("lane.happened");
    page.tap("lane.happened");
    CHECK(page.label("title").find("What has happened: Kite") == 0);
    CHECK(page.label("happened.said").find("with the fewest changes to what was promised: 2 starts") != std::string::npos);
    // It started late, and stood still for a while.
    enter(page, "happened.started", "0810");
    CHECK(page.label("happened.said").find("happened.issued_at is missing") != std::string::npos);
    enter(page, "happened.issued", "0745");
    CHECK(page.label("happened.said").find("happened.nurse is missing") != std::string::npos);
    pick(page, "happened.nurse", "Nurse 1");
    enter(page, "happened.paused", "20");
    CHECK(page.label("happened.said").find("The rest is planned from 08:40 on") == 0);
    page.tap("happened.plan");
    solve(page);
    CHECK(page.value("lane.0").find("runs since 08:10") != std::string::npos);
    CHECK(page.label("changes") == "Against what was promised");
    // What is counted is what is listed: that Kite began late is no change of the plan.
    CHECK(page.all_text().find("weighted minutes, 1 change.") != std::string::npos);
    CHECK(page.label("changes.0").find("Leaf: starts at ") == 0);
    CHECK_FALSE(page.has("changes.1"));
    CHECK(page.has("changes.rest"));
    CHECK(page.value("lane.0") != kite);
    page.app().before_print();
    CHECK(page.shown().print_html.find("Against what was promised") != std::string::npos);

    SECTION("it survives a reload, as it stood") {
        const std::string one = page.value("lane.0"), two = page.value("lane.1"), changes = page.label("changes.rest");
        page.reload();
        page.settle();
        open(page);
        solve(page);
        CHECK(page.value("lane.0") == one);
        CHECK(page.value("lane.1") == two);
        CHECK(page.label("changes.rest") == changes);
        // Nothing of it says who anybody is: codes, numbers and times.
        const std::string kept = platform::load_text("round");
        CHECK(kept.find("\"object\": \"kite\"") != std::string::npos);
        CHECK(kept.size() < 4096);
    }
    SECTION("it is gone when the device is cleared") {
        platform::clear_all();
        page.settle();
        CHECK(platform::load_text("round").empty());
        page.show("front.round");
        page.tap("front.round");
        CHECK(page.label("title") == "Round: entries");
        CHECK(page.label("round.said").find("transfusions[0].component is missing") != std::string::npos);
    }
    SECTION("a reaction stops it, and its nurse stays") {
        page.tap("lane.0");
        page.show("lane.happened");
        page.tap("lane.happened");
        enter(page, "happened.reaction", "0838");
        CHECK(page.label("happened.said").find("reaction_takes_min is missing") != std::string::npos);
        enter(page, "happened.takes", "40");
        page.tap("happened.plan");
        solve(page);
        CHECK(page.all_text().find("Kite was stopped at 08:38 after a suspected reaction") != std::string::npos);
        CHECK_FALSE(page.has("lane.1"));
        page.show("out.change.0");
        page.tap("out.change.0");
        CHECK(page.label("title").find("What has happened: Kite") == 0);
        page.tap("happened.back");
        CHECK(page.has("lane.0"));
    }
    SECTION("what has not happened can be left as it is") {
        page.tap("lane.1");
        page.show("lane.happened");
        page.tap("lane.happened");
        enter(page, "happened.issued", "0839");
        page.tap("happened.back");
        CHECK(page.value("lane.1").find("runs") == std::string::npos);
        CHECK(platform::load_text("round").find("08:39") == std::string::npos);
    }
    static_cast<void>(leaf);
}

TEST_CASE("pictures of a round that is planned again", "[round]") {
    for (const auto& [name, width, height] : {std::tuple{"desktop", 1280, 800}, {"tablet", 768, 1024}})
        for (const bool night : {false, true}) {
            test::Page page(width, height, 1, test::at(6, 30));
            page.settle();
            if (night)
                page.tap("page.ground");
            plan_two(page);
            page.go_to(test::at(8, 40));
            page.tap("lane.0");
            page.show("lane.happened");
            page.tap("lane.happened");
            enter(page, "happened.issued", "0745");
            enter(page, "happened.started", "0810");
            pick(page, "happened.nurse", "Nurse 1");
            const std::string tail = std::string(name) + (night ? "-night" : "-day");
            page.write_png("round-happened-" + tail);
            page.tap("happened.plan");
            solve(page);
            page.write_png("round-again-" + tail);
        }
}
