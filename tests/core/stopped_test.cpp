// What was stopped, what is held, what ran past its dose or its limit: nothing of a plan stands beside it as if it went
// on. That a suspected reaction is stopped first and never goes on by itself: shared facts, reactions.md, section E;
// that what is left at the limit is not given: clinical.md, section F (WHO, as quoted there).

#include "core/report/session_report.hpp"
#include "core/sheet/document.hpp"
#include "core/words/words.hpp"
#include "tests/core/log_script.hpp"
#include "tests/core/plan_support.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

namespace {

const std::string started = R"({"splice": "prepared"}
{"at": "10:14", "what": "observed", "check": "baseline", "set": {"temperature_c": 36.8, "pulse_per_min": 78, "systolic_mmhg": 124, "respirations_per_min": 16, "saturation_percent": 97, "consciousness": "alert", "symptoms": []}}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
)";
const std::string running = started + R"({"at": "10:30", "what": "observed", "check": "early", "set": {"temperature_c": 36.9, "symptoms": []}}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 165}
)";
const std::string rigors = R"({"at": "11:15", "what": "observed", "check": "interval", "set": {"temperature_c": 38.4, "symptoms": ["rigors"]}}
)";

std::string sheet_of(const std::string& lines, const char* clock) {
    const Log log = played_text(lines);
    const auto live = std::make_unique<Live>();
    reckon_live(log.session(), at(clock), *live);
    return sheet::to_text(session_document(log, *live));
}

bool says(const std::string& text, std::string_view what) { return text.find(what) != std::string::npos; }

}  // namespace

TEST_CASE("while a reaction is suspected no going on, no rate and no verdict is printed", "[stopped]") {
    const std::string text = sheet_of(running + rigors + R"({"at": "11:15", "what": "reaction_suspected"}
{"expect": "11:20", "primary": "react", "to_do": {"go_on": "none", "raise_rate": "none", "end": "none"}}
)", "11:20");
    CHECK(says(text, "It stands still. Whether it goes on is somebody's decision"));
    for (const char* never : {"Fits", "Go on at", "All in at", "Bag empty:"}) CHECK_FALSE(says(text, never));
}

TEST_CASE("symptoms lead the list while it runs, and a pause for them offers no going on", "[stopped]") {
    played_text(running + rigors + R"({"expect": "11:16", "primary": "hold_and_ask"}
{"at": "11:17", "what": "paused", "reason": "symptoms"}
{"expect": "11:18", "primary": "hold_and_ask", "to_do": {"go_on": "none"}}
)");
    CHECK(says(sheet_of(running + rigors, "11:16"), "Hold and ask: the last observations say so."));
    // A pause for another reason, after observations that say nothing, is gone on from.
    played_text(running + R"({"at": "11:17", "what": "paused", "reason": "line_needed"}
{"expect": "11:18", "primary": "go_on", "to_do": {"hold_and_ask": "none"}}
)");
    // Somebody has slowed it down since: that is an answer, and the next set says more.
    played_text(running + rigors + R"({"at": "11:18", "what": "rate_set", "rate_ml_per_h": 60}
{"expect": "11:19", "to_do": {"hold_and_ask": "none"}}
)");
}

TEST_CASE("after an early check that shows a change nothing faster is planned", "[stopped]") {
    const std::string flagged = started + R"({"at": "10:30", "what": "observed", "check": "early", "set": {"temperature_c": 38.0, "symptoms": []}}
)";
    played_text(flagged + R"({"expect": "10:31", "primary": "hold_and_ask", "rate_to_set": "50", "all_in": "16:15", "to_do": {"raise_rate": "none", "stop": "14:00 later", "end": "none"}, "warned": ["early_check_flagged"], "why": "300 mL at 50 mL/h are 6 h; the limit is 14:00"}
)");
    CHECK_FALSE(says(sheet_of(flagged, "10:31"), "is not recorded. Until it is in"));
    // Raised as somebody's decision: then that rate runs, and no rate "stays as it is".
    const std::string waived = flagged + R"({"at": "10:35", "what": "rate_set", "rate_ml_per_h": 165, "waived_by": "prescriber"}
)";
    CHECK_FALSE(says(sheet_of(waived, "10:36"), "the rate stays"));
    CHECK_FALSE(says(sheet_of(waived, "10:36"), "shows a change from the baseline. Ask"));
}

TEST_CASE("past the limit there is one thing to do, running or standing still", "[stopped]") {
    const std::string slow = started + R"({"at": "10:30", "what": "observed", "check": "early"}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 60}
)";
    played_text(slow + R"({"expect": "14:00", "to_do": {"stop": "14:00 due"}}
{"expect": "14:00:01", "primary": "stop", "to_do": {"end": "none", "look_at_end": "none", "raise_rate": "none"}}
)");
    played_text(running + R"({"at": "10:40", "what": "paused", "reason": "device_alarm"}
{"expect": "14:00:01", "primary": "stop", "to_do": {"go_on": "none"}}
)");
    CHECK(says(sheet_of(slow, "14:01"), "Stop at 14:00: what is left then is not given."));
}

TEST_CASE("what was stopped for good is not called complete", "[stopped]") {
    const std::string text = sheet_of(running + R"({"at": "11:15", "what": "stopped", "reason": "order_changed"}
)", "11:17");
    // 12.5 mL in the slow stage and 45 min at 165 mL/h: 136.25 mL; the device may be off by 5 % either way.
    CHECK(says(text, "Stopped at 11:15, before all was in: about 136.3 mL of 300 mL given."));
    CHECK(says(text, "between 129.4 mL and 143.1 mL"));
    for (const char* never : {"Fits", "the dose is in", "All in at"}) CHECK_FALSE(says(text, never));
}

TEST_CASE("a dose smaller than the bag that nobody stopped may have run on", "[stopped]") {
    const std::string dose = R"({"splice": "prepared"}
{"at": "10:14", "what": "ordered", "component": "red_cells", "order": {"dose_ml": 142}}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "observed", "check": "early"}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 60}
)";
    // 12.5 mL by 10:30, the other 129.5 mL in 2 h 9 min 30 s. A line of 20 mL holds the first of 300 mL: 280 in the bag.
    // At 12:40 the rates come to 142.5 mL, 5 % of it either way.
    played_text(dose + R"({"expect": "12:39", "given_ml": "141.5"}
{"expect": "12:39:30", "given_ml": "142", "warned": []}
{"expect": "12:40", "given_ml": "142", "least_ml": "135.375", "most_ml": "149.625", "warned": ["end_overdue", "dose_run_over"]}
{"expect": "13:59", "given_ml": "142", "least_ml": "142", "warned": ["end_overdue", "dose_run_over"]}
)");
    const std::string text = sheet_of(dose, "12:45");
    CHECK(says(text, "now: Stop: the dose should be in"));
    CHECK(says(text, "No end is"));
}

TEST_CASE("on a plan, an early check that is not in moves the end and not the rate", "[stopped]") {
    const Protocol p = plain_protocol();
    State s = ordinary(p);
    s.times.start->happened = true;
    const Reckoning planned = reckoned(p, s, at("10:20"));
    CHECK(planned.judgement.verdict == Verdict::fits);
    const Instant raise = planned.stages[1].from;
    const Reckoning late = reckoned(p, s, raise + minutes(60));
    CHECK(late.rates.set == planned.rates.set);
    CHECK(late.stages[1].from == raise + minutes(60));
    CHECK(late.all_in > planned.all_in);
    CHECK(late.drifts);
    const Reckoning too_late = reckoned(p, s, *planned.finish_by - minutes(20));
    CHECK(too_late.judgement.verdict == Verdict::does_not_fit);
    CHECK(reasoned(too_late, Reason::will_pass_limit));
    CHECK(too_late.judgement.can_give + too_late.judgement.would_be_left == too_late.volumes.given);
    // It is in: the plan stands as it was made.
    s.checks_done.add({CheckKind::early, 0, {raise, Precision::minute}});
    CHECK(reckoned(p, s, raise + minutes(60)).all_in == planned.all_in);
    // A second early check holds nothing up before it has fallen due.
    Protocol two = p;
    CheckRules::Early later = two.checks.early[0];
    later.after = later.after + minutes(30);
    later.counts_from = later.counts_from + minutes(30);
    two.checks.early.push_back(later);
    CHECK_FALSE(reckoned(two, s, raise + minutes(5)).drifts);
    CHECK(reckoned(two, s, raise + minutes(31)).drifts);
}
