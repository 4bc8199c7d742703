#pragma once

/// The way through a session by taps, in steps that several tests share. 14 March 2026, the shipped ward rules.

#include "tests/web/harness.hpp"

#include <string>
#include <string_view>

namespace hangtime::test {

struct Ward : Page {
    explicit Ward(Instant now = at(13, 30), int width = 1280, int height = 800, float scale = 1);

    void to_sessions();
    /// A new session; the clock is the same where it is asked for.
    void open_new();
    /// Opens it from the front page and says that it is the one.
    void open(std::string_view object);
    void number(std::string_view field, std::string_view digits);
    void pick(std::string_view field, std::string_view choice);
    void time(std::string_view field, std::string_view digits) { number(field, digits); }
    void confirm() { act("act.confirm"); }

    void order(std::string_view component = "Red cells");
    void get_ready();
    void call() { act("do.call"); }
    void issue(std::string_view volume, std::string_view digits, std::string_view issued = {});
    /// Groups and requirements: by the answer where there is one, else by the laboratory's instruction.
    void settle_groups();
    void match();
    void hang_and_connect();
    void start(std::string_view rate, std::string_view when = {});
    /// All of it until it runs: ordered at 13:30, issued at 13:40, started at 13:52 at 50 mL/h.
    void until_running();

    const Session& session();
    desk::Case& only();
};

} // namespace hangtime::test
