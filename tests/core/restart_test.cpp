// Going on after a suspected reaction, in the log: only after what the rules call mild, with everything known that has
// to be, and inside the limits, which no stop has moved.

#include "tests/core/log_script.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

namespace {

constexpr const char* until_the_stop = R"({"splice": "prepared"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "reaction_suspected"}
)";
constexpr const char* baseline_and_stop = R"({"splice": "prepared"}
{"at": "10:14", "what": "observed", "check": "baseline", "set": {"temperature_c": 36.8, "pulse_per_min": 78, "systolic_mmhg": 124, "respirations_per_min": 16, "saturation_percent": 97, "consciousness": "alert", "symptoms": []}}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "reaction_suspected"}
)";
constexpr const char* mild = R"({"at": "10:35", "what": "observed", "check": "interval", "set": {"temperature_c": 36.9, "pulse_per_min": 80, "systolic_mmhg": 122, "respirations_per_min": 16, "saturation_percent": 97, "consciousness": "alert", "symptoms": ["itching"]}}
)";

std::optional<Refusal> restart(const std::string& text, const char* when, const char* rate = "50") {
    const Log log = played_text(text);
    const Event e = event_of(log, std::string("{\"at\": \"") + when + "\", \"what\": \"restarted\", \"rate_ml_per_h\": " +
                                      rate + ", \"role\": \"prescriber\", \"identity_agrees\": true}");
    return refuses(log, e, e.at.at);
}

}  // namespace

TEST_CASE("nothing observed since the stop is nothing known: it does not go on", "[restart]") {
    const Log log = played_text(until_the_stop);
    CHECK(worst_since(log.session(), *log.session().reaction).missing.size() == sign_count);
    CHECK(restart(until_the_stop, "11:05") == Refusal::restart_barred);
    CHECK(restart(std::string(baseline_and_stop), "11:05") == Refusal::restart_barred);
    // With a set and no baseline to compare it with there is nothing known either.
    CHECK(restart(std::string(until_the_stop) + mild, "11:05") == Refusal::restart_barred);
}

TEST_CASE("a sign that is missing from one set and there in another is not missing", "[restart]") {
    std::string part = mild;
    part.replace(part.find("\"pulse_per_min\": 80, "), 21, "");
    CHECK(restart(std::string(baseline_and_stop) + part, "11:05") == Refusal::restart_barred);
    part.replace(part.find("10:35"), 5, "10:36");
    part.replace(part.find("\"set\""), 5, "\"index\": 1, \"set\"");
    CHECK_FALSE(restart(std::string(baseline_and_stop) + mild + part, "11:05"));
}

TEST_CASE("what is mild goes on, at a rate inside the ceiling and before the limit", "[restart]") {
    const std::string text = std::string(baseline_and_stop) + mild;
    CHECK_FALSE(restart(text, "11:05"));
    CHECK(restart(text, "11:05", "900") == Refusal::rate_above_ceiling);
    const Log log = played_text(text);
    const auto live = std::make_unique<Live>();
    reckon_live(log.session(), log.session().state.times.start->when.at + hours(1), *live);
    REQUIRE(live->reckoning.finish_by);
    Event e = event_of(log, R"({"at": "11:05", "what": "restarted", "rate_ml_per_h": 50, "role": "prescriber", "identity_agrees": true})");
    e.at = {*live->reckoning.finish_by - Seconds{1}, Precision::second};
    CHECK_FALSE(refuses(log, e, e.at.at));
    e.at.at = *live->reckoning.finish_by;
    CHECK(refuses(log, e, e.at.at) == Refusal::restart_barred);
}

TEST_CASE("what was stopped for good before it had started does not start", "[restart]") {
    const Log log = played_text(R"({"splice": "prepared"}
{"at": "10:15", "what": "stopped", "reason": "refusal"}
)");
    const Event e = event_of(log, R"({"at": "10:16", "what": "started", "rate_ml_per_h": 50, "as_it_happened": true})");
    CHECK(log.would_refuse(e, e.at.at) == Refusal::ended_already);
}
