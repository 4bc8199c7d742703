// A damaged log is found out, whatever the byte, nothing crashes, and what is whole is kept. And every reason for which a
// record is refused is seen to be given.

#include "core/json/read.hpp"
#include "core/session/record.hpp"
#include "core/words/session_spelling.hpp"
#include "core/words/session_words.hpp"
#include "tests/core/log_script.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <map>
#include <set>

using namespace hangtime;
using namespace hangtime::test;

namespace {

// A few records of a session, so that every byte of the file can be damaged in turn.
Log short_log() {
    return played_text(R"({"at": "11:20", "what": "opened", "hangtime_log": 2, "object": "key", "clock": {"utc_offset_min": 0}, "protocol": "@removal-clock"}
{"at": "11:20", "what": "joined"}
{"at": "11:20", "what": "ordered", "component": "red_cells", "order": {"within_min": 120}}
{"at": "10:00", "noted": "11:21", "what": "issued", "component": "red_cells", "bag_ml": 300}
{"at": "10:13", "noted": "11:21", "what": "spiked"}
{"at": "10:15", "noted": "11:22", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30:30", "noted": "11:22", "what": "rate_set", "rate_ml_per_h": 165}
{"at": "11:30", "what": "charted", "of": [4, 6, 7]}
{"at": "11:31", "what": "moved", "place": "imaging"}
{"at": "11:40", "what": "moved", "place": "same_ward"}
)");
}

bool found_out(const std::string& text) {
    const auto read = read_log(text);
    return !read.ok() || !read.value().damaged.empty();
}

}  // namespace

TEST_CASE("every damaged byte of a log is found", "[log]") {
    const std::string file = write_log(short_log());
    const std::size_t first_line = file.find('\n');
    REQUIRE_FALSE(found_out(file));
    std::size_t damaged = 0;
    for (std::size_t i = 0; i < file.size(); i += in_steps(11)) {
        // The first line is long, and any of its bytes spoils all: by its sum every one, by reading it every 97th.
        const bool in_first = i < first_line;
        for (const int how : {0x01, 0x20, 0x80, int{'\n'}}) {
            std::string text = file;
            text[i] = static_cast<char>(how == '\n' ? '\n' : text[i] ^ how);
            if (text == file) continue;
            ++damaged;
            INFO("byte " << i << " by " << how);
            if (in_first && i % 97 != 0) {
                if (how != 0x01) continue;
                std::uint64_t sum = first_sum;
                if (check_sum(std::string_view(text).substr(0, first_line), sum) == Sealed::fits) FAIL("not found");
            } else if (i + 1 < file.size() && !found_out(text)) {
                FAIL("not found");  // the last newline may go: every record is whole
            }
        }
    }
    CHECK(damaged > 40'000 / in_steps(11));
}

TEST_CASE("of a damaged log everything that is whole is kept", "[log]") {
    const Log log = short_log();
    const std::string file = write_log(log);
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < file.size();) {
        const std::size_t end = file.find('\n', at);
        lines.push_back(file.substr(at, end - at));
        at = end + 1;
    }
    const auto joined = [&](const std::vector<std::string>& parts) {
        std::string out;
        for (const std::string& part : parts) out += part + "\n";
        return out;
    };
    const auto numbers = [](const LogRead& read) {
        std::string out;
        for (const Damage& damage : read.damaged) out += std::to_string(damage.number) + " ";
        return out;
    };

    SECTION("in its text") {
        lines[2][lines[2].find("120") + 1] = '3';
        const auto read = read_log(joined(lines));
        REQUIRE(read.ok());
        CHECK(numbers(read.value()) == "3 ");
        CHECK(read.value().read_only());
        CHECK(read.value().log.session().phase == Phase::running);
        CHECK(read.value().log.events().size() == 10);
        CHECK(read.value().damaged[0].error.where == "line 3");
    }
    SECTION("in its sum: the line after it is whole") {
        char& digit = lines[2][lines[2].size() - 5];
        digit = digit == '0' ? '1' : '0';
        const auto read = read_log(joined(lines));
        REQUIRE(read.ok());
        CHECK(numbers(read.value()) == "3 ");
    }
    SECTION("a lost newline makes one line of two") {
        const std::string both = lines[7] + lines[8];
        lines.erase(lines.begin() + 8);
        lines[7] = both;
        const auto read = read_log(joined(lines));
        REQUIRE(read.ok());
        CHECK(numbers(read.value()) == "8 9 ");
        CHECK(read.value().log.events().size() == 10);
    }
    SECTION("a newline too many makes two lines of one") {
        const std::string whole = lines[2];
        lines[2] = whole.substr(0, 20);
        lines.insert(lines.begin() + 3, whole.substr(20));
        const auto read = read_log(joined(lines));
        REQUIRE(read.ok());
        CHECK(numbers(read.value()) == "3 ");
        CHECK(read.value().log.session().phase == Phase::running);
    }
    SECTION("what makes no sense without the one that is damaged is left out as well") {
        lines[5][lines[5].find("rate")] = 'R';
        const auto read = read_log(joined(lines));
        REQUIRE(read.ok());
        CHECK(numbers(read.value()) == "6 7 ");
        CHECK(read.value().damaged[1].error.problem == "is refused: not_started");
    }
    SECTION("cut off in the middle of the last record") {
        lines.back().resize(30);
        const auto read = read_log(joined(lines));
        REQUIRE(read.ok());
        CHECK(numbers(read.value()) == "10 ");
    }
    SECTION("no first record, no log") {
        lines[0][40] = '~';
        const auto read = read_log(joined(lines));
        REQUIRE_FALSE(read.ok());
        CHECK(read.error().where == "line 1");
    }
    SECTION("the order of two lines") {
        std::swap(lines[3], lines[4]);
        CHECK(found_out(joined(lines)));
    }
    SECTION("a line of another log") {
        std::uint64_t sum = first_sum;
        lines[2] = write_record(log.events()[2], sum);
        CHECK(found_out(joined(lines)));
    }
}

TEST_CASE("a log of a newer version is not read as one of this", "[log]") {
    const std::string line = std::string("{\"n\": 1, \"at\": \"2026-03-14T10:00Z\", \"noted\": \"2026-03-14T10:00:00Z\", \"what\": \"opened\", "
                             "\"hangtime_log\": ") + std::to_string(log_version + 1) + "}";
    const auto read = read_log(line);
    REQUIRE_FALSE(read.ok());
    CHECK(read.error().where == "line 1: hangtime_log");
    const Log log = short_log();
    Event event = log.events()[0];
    std::get<facts::Opened>(event.facts).version = log_version + 1;
    Log none;
    CHECK(none.append(event, event.noted) == Refusal::newer_version);
    CHECK(none.empty());
}

TEST_CASE("an order that names itself twice, and numbers out of order, are refused with their line", "[log]") {
    const std::string file = write_log(short_log());
    const std::string opening = file.substr(0, file.find('\n'));
    const std::string bare = opening.substr(0, opening.find(", \"sum\"")) + "}";
    const auto error = [&](const std::string& line) {
        const auto read = read_log(bare + "\n" + line + "\n");
        if (!read.ok()) return read.error().where + " " + read.error().problem;
        if (read.value().damaged.empty()) return std::string("none");
        return read.value().damaged[0].error.where + " " + read.value().damaged[0].error.problem;
    };
    const std::string head = "{\"n\": 2, \"at\": \"2026-03-14T11:30Z\", \"noted\": \"2026-03-14T11:31:00Z\", ";
    CHECK(error(head + "\"what\": \"joined\"}") == "none");
    CHECK(error("{\"n\": 3, \"at\": \"2026-03-14T11:30Z\", \"noted\": \"2026-03-14T11:31:00Z\", \"what\": \"joined\"}") ==
          "line 2: n is 3");
    CHECK(error(head + "\"what\": \"started\", \"rate_ml_per_h\": 50}") == "line 2 is refused: not_issued");
}

TEST_CASE("every broken record is refused where it is broken", "[log]") {
    const std::string file = write_log(short_log());
    std::string base;  // opened, joined and ordered, without sums
    for (std::size_t at = 0, n = 0; n < 3; ++n) {
        const std::size_t end = file.find('\n', at);
        const std::string line = file.substr(at, end - at);
        base += line.substr(0, line.rfind(", \"sum\"")) + "}\n";
        at = end + 1;
    }
    const json::Value tree = tree_of(file_text("tests/broken/logs.json"));
    for (const json::Value& c : tree.find("cases")->items) {
        INFO(c.find("name")->text);
        const auto read = read_log(base + c.find("line")->text + "\n");
        REQUIRE(read.ok());
        REQUIRE(read.value().damaged.size() == 1);
        const Error& error = read.value().damaged[0].error;
        INFO(error.where << ": " << error.problem << "; accepted: " << error.accepted);
        CHECK(read.value().damaged[0].number == 4);
        CHECK(error.where.starts_with(c.find("where")->text));
        CHECK((error.where + " " + error.problem).find(c.find("problem")->text) != std::string::npos);
        CHECK_FALSE(error.accepted.empty());
        CHECK(read.value().log.events().size() == 4);
    }
}

TEST_CASE("the demo logs are whole, sealed and replayed to where they should be", "[log]") {
    const std::map<std::string, Phase> ends = {{"01-a-pause-on-the-way", Phase::running},
                                               {"02-stopped-by-the-person", Phase::closed},
                                               {"03-taken-over-half-way", Phase::running},
                                               {"04-a-reaction-the-same-night", Phase::ended},
                                               {"05-a-waiver-and-a-stop", Phase::paused}};
    for (const auto& [name, phase] : ends) {
        INFO(name);
        const auto read = read_log(file_text("demo-data/logs/" + name + ".jsonl"));
        REQUIRE(read.ok());
        CHECK(read.value().damaged.empty());
        CHECK(read.value().sealed);
        CHECK(read.value().log.session().phase == phase);
    }
}

TEST_CASE("every reason to refuse a record is given to one", "[log]") {
    std::set<std::string> seen = {
        "not_opened",     // below: these cannot be written in a script
        "newer_version",  // above
        "rate_zero",
    };
    Log none;
    CHECK(none.append(short_log().events()[1], short_log().events()[1].noted) == Refusal::not_opened);
    Event started = event_of(prepared_log(), R"({"at": "10:15", "what": "started", "rate_ml_per_h": 50})");
    std::get<facts::RateSet>(started.facts).rate = Rate{};
    CHECK(prepared_log().would_refuse(started, started.noted) == Refusal::rate_zero);
    std::get<facts::RateSet>(started.facts).rate = Rate{1};
    CHECK_FALSE(prepared_log().would_refuse(started, started.noted));

    for (const std::string& name : hand_log_names()) {
        const std::string text = file_text("tests/logs/" + name + ".jsonl");
        for (const char* key : {"\"refused\": \"", "\"refused_live\": \""})
            for (std::size_t at = 0; (at = text.find(key, at)) != text.npos;) {
                at += std::string_view(key).size();
                seen.insert(text.substr(at, text.find('"', at) - at));
            }
    }
    for (int i = 0; i < refusal_count; ++i) {
        INFO(code(static_cast<Refusal>(i)));
        CHECK(seen.count(std::string(code(static_cast<Refusal>(i)))) == 1);
    }
    CHECK(seen.size() == static_cast<std::size_t>(refusal_count));
}
