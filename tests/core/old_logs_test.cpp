// Logs as earlier versions of this program wrote them, kept as they were: tests/logs/old. A newer version of the page
// must read them, every record of them, and add up to the same.

#include "core/reckon/live.hpp"
#include "core/session/record.hpp"
#include "tests/core/log_script.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <memory>

using namespace hangtime;
using namespace hangtime::test;

namespace {

struct Old {
    const char* name;
    int version;
    Phase phase;
    Volume given;  // at the end of the log, worked out by hand from its rates
};

}  // namespace

TEST_CASE("a log of an earlier version is read whole and adds up to the same", "[log]") {
    // 01: 12.5 mL to 10:30, then 165 mL/h to 10:56, still to 11:09, 165 mL/h to 11:20; the total says 114 mL then.
    // 02: refused at 10:50; 50 mL/h through 20 mL of saline for 35 min is 29.17 mL, 9.17 of it component.
    // 03: 12.5 mL to 10:30, then 165 mL/h to 11:23.
    // 04: 140 mL/h from 10:15 to 12:14, by the rates.
    // 05: as 04. 06: 50 mL/h from 10:15 to 10:31, then 165 mL/h until it was stopped at 10:56.
    const Old all[] = {{"01-a-pause-on-the-way", 1, Phase::running, ml(114)},
                       {"02-stopped-by-the-person", 1, Phase::closed, ml_per_h(50) * minutes(35) - ml(20)},
                       {"03-taken-over-half-way", 1, Phase::running, ml_per_h(50) * minutes(15) + ml_per_h(165) * minutes(53)},
                       {"04-a-reaction-the-same-night", 1, Phase::ended, ml_per_h(140) * minutes(119)},
                       {"05-a-reaction-of-version-2", 2, Phase::ended, ml_per_h(140) * minutes(119)},
                       {"06-a-waiver-and-a-stop", 1, Phase::paused, ml_per_h(50) * minutes(16) + ml_per_h(165) * minutes(25)}};
    for (const Old& old : all)
        DYNAMIC_SECTION(old.name) {
            const std::string text = file_text("tests/logs/old/" + std::string(old.name) + ".jsonl");
            const auto read = read_log(text);
            REQUIRE(read.ok());
            CHECK(read.value().damaged.empty());
            CHECK(read.value().sealed);
            const Log& log = read.value().log;
            CHECK(log.session().version == old.version);
            CHECK(log.events().size() == static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')));
            const auto live = std::make_unique<Live>();
            reckon_live(log.session(), log.events().back().noted, *live);
            CHECK(live->phase == old.phase);
            CHECK(live->running.given == old.given);
            // It can be gone on with, and is read again as what it became.
            Log more = log;
            Event e = event_of(log, R"({"at": "23:50", "what": "handed_over", "role": "nurse"})");
            REQUIRE_FALSE(more.append(e, e.noted));
            const auto again = read_log(write_log(more));
            REQUIRE(again.ok());
            CHECK(again.value().damaged.empty());
        }
}

TEST_CASE("a key that is not known is refused in a log of today, and passed over in one of an earlier version", "[log]") {
    const std::string text = file_text("tests/logs/old/01-a-pause-on-the-way.jsonl");
    std::string line = text.substr(0, text.find('\n'));
    REQUIRE(line.find("\"delivery\"") != std::string::npos);
    CHECK(read_record(line, "it").ok());
    const std::string old = "\"hangtime_log\": 1", now = "\"hangtime_log\": " + std::to_string(log_version);
    REQUIRE(line.find(old) != std::string::npos);
    line.replace(line.find(old), old.size(), now);
    const auto refused = read_record(line, "it");
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.error().where.find("session.") != std::string::npos);
}
