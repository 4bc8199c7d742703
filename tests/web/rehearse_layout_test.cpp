/// The screens of a rehearsal on a tablet held upright, on its side and on a small one: nothing runs off, nothing that
/// can be touched is too small for a finger in a glove or lies on another.

#include "tests/web/learner.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using test::at;
using test::Learner;

namespace {

void fits(Learner& w, float scale) {
    const auto nodes = w.app().ui().nodes().now();
    const float width = w.app().ui().head().w;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        const ui::Node& a = nodes[i];
        INFO(a.id << " '" << a.label << "' at " << a.box.x << " " << a.box.y << ", " << a.box.w << " x " << a.box.h);
        CHECK(a.box.x >= 0);
        CHECK(a.box.right() <= width);
        if (a.item == 0 || a.clipped)
            continue;
        CHECK(a.box.h >= 44 * scale);
        CHECK(a.box.w >= 44 * scale);
        for (std::size_t k = 0; k < i; ++k) {
            const ui::Node& b = nodes[k];
            if (b.item == 0 || b.clipped)
                continue;
            INFO("and " << b.id);
            CHECK_FALSE(a.box.contains(b.box.x + b.box.w / 2, b.box.y + b.box.h / 2));
        }
    }
}

void through(int width, int height, const std::string& name) {
    Learner w(at(13, 30), width, height, 1);
    INFO(name);
    const auto look = [&](const std::string& what) {
        INFO(what);
        fits(w, 1);
        w.write_png("rehearse-" + name + "-" + what);
    };
    w.to_list();
    w.act("rehearse.6");
    look("list");
    w.act("rehearse.6.change");
    look("author");
    w.act("author.person");
    w.act("author.age");
    look("author-age");
    w.key(platform::Key::escape);
    w.act("author.happenings");
    look("author-happenings");
    w.act("author.scored");
    w.act("author.points.0");
    look("author-keys");
    w.key(platform::Key::enter);
    w.act("practice.back");
    w.act("rehearse.enter_case");
    look("case");
    w.act("rehearse.case.back");
    w.act("rehearse.6.start");
    REQUIRE(w.scene().on());
    look("ready");
    w.act("do.call");
    for (int i = 0; i < 4 && !w.card(); ++i)
        w.act("clock.next");
    look("card");
    w.act("card.go_on");
    look("bag");
    w.act("tab.match");
    // What is asked first is in sight, with its answers, although two heads stand above it.
    for (const char* answer : {"match.says.yes", "match.says.no"}) {
        INFO(answer);
        REQUIRE(w.has(answer));
        CHECK_FALSE(w.find(answer)->clipped);
    }
    w.act("page.ground");
    look("match-night");
    w.act("page.ground");
    w.match();
    w.hang_and_connect();
    w.start("50");
    w.act("do.observe");
    look("observe");
    w.act("obs.copy");
    w.act("obs.note");
    w.act("tab.run");
    look("run");
    w.act("sessions");
    look("menu");
    w.act("menu.console");
    look("console");
    w.act("practice.back");
    w.act("menu.end");
    look("debrief");
    w.act("page.ground");
    look("debrief-night");
    w.wheel("debrief.points", 700);
    look("debrief-lower");
    w.act("debrief.again");
    w.end();
    w.act("practice.back");
    w.act("results.pick.0");
    w.act("results.pick.1");
    look("results");
    w.act("results.compare");
    look("compared");
}

} // namespace

TEST_CASE("the screens of a rehearsal fit a tablet held upright", "[rehearse][layout]") { through(768, 1024, "768"); }
TEST_CASE("the screens of a rehearsal fit a tablet on its side", "[rehearse][layout]") { through(1024, 768, "1024"); }
TEST_CASE("the screens of a rehearsal fit a large screen", "[rehearse][layout]") { through(1280, 800, "1280"); }
