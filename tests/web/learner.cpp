#include "tests/web/learner.hpp"

#include <catch2/catch_test_macros.hpp>

namespace hangtime::test {

using platform::Key;

Learner::Learner(Instant now, int width, int height, float scale) : Ward(now, width, height, scale) {}

void Learner::to_list() {
    to_sessions();
    act("front.more");
    act("more.rehearse");
    settle();
    REQUIRE(label("title") == "Rehearse");
}

void Learner::begin(int number) {
    if (!has("rehearse.enter_case"))
        to_list();
    const std::string row = "rehearse." + std::to_string(number);
    act(row);
    act(row + ".start");
    REQUIRE(scene().on());
    REQUIRE(has("strip.object"));
}

void Learner::begin_case(std::string_view number) {
    if (!has("rehearse.enter_case"))
        to_list();
    act("rehearse.enter_case");
    type(number);
    key(Key::enter);
    act("rehearse.case.begin");
}

std::string Learner::next() {
    std::string said;
    if (!card())
        act("clock.next");
    while (card()) {
        said += label("card.text");
        act("card.go_on");
    }
    return said;
}

void Learner::until(std::string_view button, int most) {
    for (int i = 0; i < most && !has(button); ++i)
        next();
    INFO("on the screen: " << all_text());
    REQUIRE(has(button));
}

void Learner::observe(std::string_view button) {
    act(button);
    INFO("on the screen: " << all_text());
    REQUIRE(has("obs.seen"));
    act("obs.copy");
    act("obs.note");
    if (has("obs.confirm"))
        act("obs.confirm");
}

void Learner::match() {
    if (has("do.match"))
        act("do.match");
    if (has("match.says.yes"))
        act("match.says.yes");
    for (int i = 0; i < 60 && has("match.same"); ++i)
        act("match.same");
    CHECK(session().match.standing == MatchStanding::passed);
}

void Learner::until_runs() {
    act("do.call");
    for (int i = 0; i < 4 && session().phase == Phase::called; ++i)
        next();
    REQUIRE(session().phase == Phase::here);
    act("tab.unit");
    act("unit.receive");
    match();
    hang_and_connect();
    start("50");
    REQUIRE(session().phase == Phase::running);
}

void Learner::end() {
    act("sessions");
    act("menu.end");
    REQUIRE(has("debrief.points"));
}

} // namespace hangtime::test
