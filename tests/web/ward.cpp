#include "tests/web/ward.hpp"

#include "web/platform/store_twin.hpp"

#include <catch2/catch_test_macros.hpp>

namespace hangtime::test {

using platform::Key;

Ward::Ward(Instant now, int width, int height, float scale) : Page(width, height, scale, now) { settle(); }

void Ward::to_sessions() {
    if (has("plan.sessions"))
        act("plan.sessions");
    if (has("sessions"))
        act("sessions");
}

void Ward::open_new() {
    to_sessions();
    act("front.new");
    if (has("clock.same"))
        act("clock.same");
    REQUIRE(has("strip.object"));
}

void Ward::open(std::string_view object) {
    to_sessions();
    act("front." + std::string(object));
    if (has("confirm.yes"))
        act("confirm.yes");
    REQUIRE(label("strip.object") == object);
}

void Ward::number(std::string_view field, std::string_view digits) {
    const ui::Node* n = find(field);
    INFO("field " << field);
    REQUIRE(n != nullptr);
    if ((n->state & ui::State::editing) == 0)
        act(field);
    type(digits);
    key(Key::enter);
}

void Ward::pick(std::string_view field, std::string_view choice) {
    const ui::Node* n = find(field);
    INFO("field " << field);
    REQUIRE(n != nullptr);
    if ((n->state & ui::State::editing) == 0)
        act(field);
    choose(choice);
}

void Ward::order(std::string_view component) {
    act("do.enter_order");
    pick("act.component", component);
    confirm();
}

void Ward::get_ready() {
    for (int i = 0; i < 20 && has("do.get_ready"); ++i) {
        act("do.get_ready");
        if (has("act.units"))
            number("act.units", "1");
        if (has("act.checker"))
            pick("act.checker", "nurse");
        if (has("act.risk")) {
            pick("act.risk", "no");
            pick("act.can_report", "yes");
        }
        if (has("act.confirm"))
            confirm();
    }
    REQUIRE(has("do.call"));
}

void Ward::issue(std::string_view volume, std::string_view digits, std::string_view issued) {
    act("do.wait_for_unit");
    number("act.volume", volume);
    pick("act.expires", "a week or more away");
    number("act.digits", digits);
    if (!issued.empty())
        number("act.at", issued);
    confirm();
}

void Ward::settle_groups() {
    if (has("do.settle_groups"))
        act("do.settle_groups");
    else if (has("match.read"))
        act("match.read");
    if (has("groups.note"))
        act("groups.note");
    else if (has("groups.laboratory"))
        act("groups.laboratory");
}

void Ward::match() {
    if (!session().groups)
        settle_groups();
    if (has("do.match"))
        act("do.match");
    if (has("match.says.yes"))
        act("match.says.yes");
    for (int i = 0; i < 60 && has("match.same"); ++i)
        act("match.same");
    CHECK(session().match.standing == MatchStanding::passed);
}

void Ward::hang_and_connect() {
    act("do.hang");
    act("do.prime");
    confirm();
    act("do.connect");
    for (int i = 0; i < 10 && has("do.settle_open"); ++i)
        act("do.settle_open");
    REQUIRE(has("do.start"));
}

void Ward::start(std::string_view rate, std::string_view when) {
    act("do.start");
    number("act.rate", rate);
    if (!when.empty())
        number("act.at", when);
    confirm();
}

void Ward::until_running() {
    open_new();
    order();
    get_ready();
    call();
    go_to(at(13, 40, 5));
    issue("316", "4821", "1340");
    match();
    go_to(at(13, 48));
    hang_and_connect();
    go_to(at(13, 52, 5));
    start("50", "1352"); // to the minute: what follows is told without seconds
    REQUIRE(session().phase == Phase::running);
}

desk::Case& Ward::only() {
    REQUIRE(app().desk().cases().size() == 1);
    return *app().desk().cases()[0];
}

const Session& Ward::session() { return only().session(); }

} // namespace hangtime::test
