/// Several units for one person on the twin.

#include "core/protocol/read.hpp"
#include "tests/web/harness.hpp"
#include "tests/web/one_screen.hpp"
#include "web/screens/sequence_view.hpp"
#include "web/store/session_store.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::rounds;

namespace {

void enter(test::Page& page, std::string_view id, std::string_view keys) {
    page.show(id);
    page.tap(id);
    page.type(keys);
    page.key(platform::Key::enter);
}

void pick(test::Page& page, std::string_view id, std::string_view label) {
    page.show(id);
    page.tap(id);
    page.choose(label);
}

void open(test::Page& page) {
    page.show("plan.sessions");
    page.tap("plan.sessions");
    page.show("front.sequence");
    page.tap("front.sequence");
}

void two_units(test::Page& page) {
    pick(page, "seq.component.0", "Platelets");
    page.key(platform::Key::escape);
    enter(page, "seq.volume.0", "220");
    page.key(platform::Key::escape);
    pick(page, "seq.component.1", "Red cells");
    page.key(platform::Key::escape);
    enter(page, "seq.volume.1", "290");
    enter(page, "seq.start", "1000");
    pick(page, "seq.risk", "No");
}

}  // namespace

TEST_CASE("several units for one person are entered, and answered unit by unit", "[sequence]") {
    test::Page page(1280, 800, 1, test::at(8, 30));
    open(page);
    CHECK(page.label("title") == "Several units for one person");
    CHECK(page.label("seq.answer").find("Something is missing") == 0);
    // Nobody gets a child's rules by accident.
    CHECK(page.value("seq.rules").find("General ward") == 0);
    two_units(page);
    CHECK(page.label("seq.answer").find("Both units fit") == 0);
    CHECK(page.label("seq.set.0").find("Set: new set: first unit") == 0);
    CHECK(page.label("seq.set.1").find("Set: new set: one for each unit here") == 0);
    CHECK(page.label("seq.call.0").find("Call: at 09:20") == 0);
    CHECK(page.label("seq.call.1").find("not before somebody has looked again") != std::string::npos);
    CHECK(page.label("seq.baseline.0").find("a new one, within") != std::string::npos);
    CHECK(page.all_text().find("After it: somebody looks again") != std::string::npos);
    // Another source keeps the set, and lets red cells follow platelets.
    pick(page, "seq.rules", "Removal clock, no slow stage");
    CHECK(page.label("seq.set.1").find("Set: same set") == 0);
    page.frame();
    CHECK(page.label("page.rules").find("Rules: Removal clock") == 0);
    enter(page, "seq.by", "1100");
    CHECK(page.label("seq.answer").find("would not be over by 11:00") != std::string::npos);
    page.app().before_print();
    CHECK(page.shown().print_html.find("Unit by unit") != std::string::npos);
    page.tap("seq.back");
    CHECK(page.has("front.sequence"));
}

TEST_CASE("units are added and removed, and a set in use is asked for only when it is wanted", "[sequence]") {
    test::Page page(1280, 800, 1, test::at(8, 30));
    open(page);
    two_units(page);
    CHECK_FALSE(page.has("seq.set.hung"));
    page.show("seq.add");
    page.tap("seq.add");
    CHECK(page.has("seq.component.2"));
    CHECK(page.label("seq.answer").find("Something is missing") == 0);
    page.show("seq.remove");
    page.tap("seq.remove");
    CHECK_FALSE(page.has("seq.component.2"));
    CHECK(page.label("seq.answer").find("Both units fit") == 0);
    page.show("seq.more");
    page.tap("seq.more");
    enter(page, "seq.set.hung", "0900");
    CHECK(page.label("seq.answer").find("cannot be planned as it is") != std::string::npos);
    enter(page, "seq.set.units", "1");
    pick(page, "seq.set.last", "Red cells");
    CHECK(page.label("seq.set.0").find("one for each unit here") != std::string::npos);
    pick(page, "seq.rules", "Removal clock, no slow stage");
    CHECK(page.label("seq.set.0").find("never goes through a used one") != std::string::npos);
}

TEST_CASE("a sequence survives a reload, and is gone when the device is cleared", "[sequence]") {
    test::Page page(1280, 800, 1, test::at(8, 30));
    page.settle();
    open(page);
    two_units(page);
    const std::string answer = page.label("seq.answer");
    page.reload();
    page.settle();
    open(page);
    CHECK(page.label("seq.answer") == answer);
    CHECK(page.value("seq.volume.1").find("290") == 0);
    // And so does one in which something is still missing.
    page.show("seq.add");
    page.tap("seq.add");
    pick(page, "seq.component.2", "Plasma");
    page.key(platform::Key::escape);
    page.show("seq.more");
    page.tap("seq.more");
    enter(page, "seq.set.hung", "0900");
    CHECK(page.label("seq.answer").find("Something is missing") == 0);
    page.app().before_print();
    CHECK(page.shown().print_html.find("Entries only: nothing is planned by them yet.") != std::string::npos);
    CHECK(page.shown().print_html.find("set_in_use.units is missing") != std::string::npos);
    page.reload();
    page.settle();
    open(page);
    CHECK(page.label("seq.answer").find("Something is missing") == 0);
    CHECK(page.value("seq.component.2") == "Plasma");
    CHECK(page.value("seq.volume.1").find("290") == 0);
    page.show("seq.more");
    page.tap("seq.more");
    CHECK(page.value("seq.set.hung").find("09:00") == 0);
    platform::clear_all();
    page.settle();
    CHECK(platform::load_text("sequence").empty());
    page.show("front.sequence");
    page.tap("front.sequence");
    CHECK(page.label("seq.answer").find("Something is missing") == 0);
    CHECK(platform::load_text("sequence").empty());
}

TEST_CASE("pictures of a sequence", "[sequence]") {
    for (const auto& [name, width, height] : {std::tuple{"desktop", 1280, 800}, {"tablet", 768, 1024}, {"phone", 390, 760}})
        for (const bool night : {false, true}) {
            test::Page page(width, height, 1, test::at(8, 30));
            if (night) page.tap("page.ground");
            open(page);
            two_units(page);
            page.frame();
            page.write_png(std::string("sequence-") + name + (night ? "-night" : "-day"));
        }
}
