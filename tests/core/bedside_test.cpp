// Wrong numbers and wrong permissions at the bedside, each as a small log that was worked out by hand.

#include "tests/core/log_script.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

namespace {

const std::string running = R"({"splice": "prepared"}
{"at": "10:14", "what": "device_total", "total": "zeroed"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "observed", "check": "early"}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 165}
)";

}  // namespace

TEST_CASE("a limit that was over when the protocol changed stays over", "[bedside]") {
    played_text(R"({"splice": "prepared"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "observed", "check": "early"}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 60}
{"expect": "14:10", "finish_by": "14:00", "verdict": "does_not_fit", "windows": {"finish issued": "14:00 passed"}}
{"at": "14:10", "what": "protocol_changed", "protocol": {"@": "general-ward", "set": {"components.red_cells.limits.2.within_min": 330}}}
{"expect": "14:11", "finish_by": "14:00", "verdict": "does_not_fit", "windows": {"finish issued": "14:00 passed"}, "why": "it was over at 14:00; 330 min would be 15:30, and nothing gives the minutes back"}
)");
    played_text(R"({"splice": "prepared", "until": "received", "protocol": "@removal-clock"}
{"at": "10:40", "what": "protocol_changed", "protocol": {"@": "removal-clock", "set": {"components.red_cells.limits.0.within_min": 60}}}
{"expect": "10:41", "back_to_stock_until": "10:30"}
{"at": "10:41", "what": "returned", "to": "stock", "reason": "not_needed", "refused": "back_to_stock_late"}
)");
}

TEST_CASE("a bag that was warm once does not go back to stock because it is cold again", "[bedside]") {
    played_text(R"({"splice": "prepared", "until": "received"}
{"n": "warm", "at": "10:11", "what": "bag_temperature", "bag_c": 10.1}
{"at": "10:13", "what": "bag_temperature", "bag_c": 4}
{"at": "10:14", "what": "returned", "to": "stock", "reason": "not_needed", "refused": "back_to_stock_warm"}
{"at": "10:11", "noted": "10:15", "what": "bag_temperature", "bag_c": 9.1, "replaces": ["warm"]}
{"at": "10:16", "what": "returned", "to": "stock", "reason": "not_needed"}
)");
}

TEST_CASE("what priming pushed after the total was zeroed or read is not counted as given", "[bedside]") {
    played_text(R"({"splice": "prepared", "until": "match"}
{"at": "10:11", "what": "device_total", "total": "zeroed"}
{"splice": "hang", "at": "10:13"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "observed", "check": "early"}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 165}
{"at": "11:00", "what": "device_total", "total": "read", "total_ml": 117}
{"expect": "11:00", "pushed_ml": "95", "all_in": "12:14:33", "warned": ["total_may_hold_priming"]}
)");
}

TEST_CASE("what a set change pushed, and the total of another device, are not counted as given", "[bedside]") {
    played_text(running + R"({"at": "11:30", "what": "paused", "reason": "line_needed"}
{"at": "11:33", "what": "set_changed", "with": "component", "holds_ml": 20, "lost_ml": 0}
{"at": "11:36", "what": "resumed"}
{"at": "11:40", "what": "device_total", "total": "read", "total_ml": 210}
{"expect": "11:40", "pushed_ml": "188.5", "warned": ["total_may_hold_priming"], "why": "177.5 + 4 min at 165; the 20 mL that filled the new set may be in the total"}
)");
    played_text(running + R"({"at": "11:00", "what": "device_total", "total": "read", "total_ml": 95}
{"at": "11:10", "what": "equipment_chosen", "device": {"kind": "pump", "step_ml_per_h": 1, "max_ml_per_h": 999}, "line": {"holds_ml": 20, "primed_with": "component", "cleared_at_end": true, "lost_ml": 0}}
{"at": "11:20", "what": "device_total", "total": "read", "total_ml": 28}
{"expect": "11:20", "pushed_ml": "150", "why": "95 + 20 min at 165: where the other device began is not known"}
)");
}

TEST_CASE("an empty bag says what has left it, whatever a device says later", "[bedside]") {
    played_text(running + R"({"at": "12:07", "what": "bag_empty"}
{"at": "12:08", "what": "device_total", "total": "read", "total_ml": 262}
{"expect": "12:08", "pushed_ml": "282.75", "all_in": "12:14:17", "why": "280 at 12:07 and 1 min at 165"}
)");
}

TEST_CASE("more than the dose is said to be more than the dose", "[bedside]") {
    const std::string child = R"({"splice": "prepared", "bag_ml": 240, "order": {"dose_ml": 142, "within_min": 120}}
{"at": "10:14", "what": "device_total", "total": "zeroed"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "observed", "check": "early"}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 74}
{"at": "12:40", "what": "device_total", "total": "read", "total_ml": 180}
{"expect": "12:40", "pushed_ml": "180", "given_ml": "180"}
)";
    played_text(child + R"({"at": "12:40", "what": "stopped", "reason": "order_changed"}
{"expect": "12:41", "given_ml": "180"}
)");
    played_text(child + R"({"at": "12:40", "what": "all_in"}
{"expect": "12:41", "given_ml": "180", "to_give_ml": "180"}
)");
    played_text(R"({"splice": "prepared", "bag_ml": 240, "order": {"dose_ml": 142, "within_min": 120}}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "observed", "check": "early"}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 74}
{"at": "12:40", "what": "bag_empty"}
{"expect": "12:40", "given_ml": "220", "why": "240 less the 20 that stand in the line"}
)");
}

TEST_CASE("a lower ceiling that was set while it stood still holds when it goes on", "[bedside]") {
    played_text(running + R"({"at": "11:00", "what": "paused", "reason": "other_care"}
{"at": "11:05", "what": "ceiling_lowered", "most_ml_per_h": 80}
{"expect": "11:06", "to_do": {"go_on": "11:06 due latest 11:26:15 rate 80"}, "why": "205 mL at 80 mL/h = 2:33:45; finish by 14:00"}
{"at": "11:10", "what": "resumed"}
{"expect": "11:11", "in_force": "80"}
)");
}

TEST_CASE("what was stopped for good before the start is not started", "[bedside]") {
    played_text(R"({"splice": "prepared"}
{"at": "10:14", "what": "stopped", "reason": "bag_damaged"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50, "refused": "ended_already"}
)");
    played_text(R"({"splice": "prepared", "until": "match"}
{"at": "10:11", "what": "stopped", "reason": "bag_damaged"}
{"at": "10:12", "what": "spiked", "refused": "ended_already"}
)");
}

TEST_CASE("joined half-way is for the unit that was running: the next one is matched and authorised", "[bedside]") {
    played_text(R"({"at": "11:20", "what": "opened", "hangtime_log": 2, "object": "key", "clock": {"utc_offset_min": 0}, "protocol": "@general-ward"}
{"at": "11:20", "what": "joined"}
{"at": "11:20", "what": "ordered", "component": "red_cells", "order": {"within_min": 120}}
{"at": "10:00", "noted": "11:21", "what": "issued", "component": "red_cells", "bag_ml": 300}
{"at": "10:13", "noted": "11:21", "what": "spiked"}
{"at": "10:15", "noted": "11:22", "what": "started", "rate_ml_per_h": 165}
{"at": "12:15", "what": "all_in"}
{"at": "12:20", "what": "discarded", "reason": "part_given"}
{"at": "12:21", "what": "issued", "component": "red_cells", "bag_ml": 300, "refused": "not_requested"}
{"at": "12:22", "what": "requested", "refused": "not_ready"}
)");
}

TEST_CASE("an authorisation that was taken back and given again covers no unit more", "[bedside]") {
    played_text(R"({"splice": "prepared"}
{"at": "10:14", "what": "item_noted", "item": "authorisation", "how": "withdrawn"}
{"at": "10:14", "what": "item_noted", "item": "authorisation", "how": "confirmed", "units": 1}
{"expect": "10:14", "units_covered": "1", "units_called_for": "1"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "12:15", "what": "all_in"}
{"at": "12:20", "what": "discarded", "reason": "part_given"}
{"at": "12:21", "what": "item_noted", "item": "second_checker", "how": "confirmed"}
{"at": "12:21", "what": "observed", "check": "baseline"}
{"at": "12:22", "what": "requested", "refused": "units_not_covered"}
)");
}

TEST_CASE("authorisation, sample, consent and the look at the bag are never not needed", "[bedside]") {
    played_text(R"({"splice": "prepared"}
{"at": "10:14", "what": "item_noted", "item": "authorisation", "how": "not_needed", "refused": "cannot_be_waived"}
{"at": "10:14", "what": "item_noted", "item": "sample", "how": "not_needed", "refused": "cannot_be_waived"}
{"at": "10:14", "what": "item_noted", "item": "consent", "how": "not_needed", "refused": "cannot_be_waived"}
{"at": "10:14", "what": "item_noted", "item": "bag_looked_at", "how": "not_needed", "refused": "cannot_be_waived"}
)");
}

TEST_CASE("after a suspected reaction it is not all in, and not on before the protocol's wait", "[bedside]") {
    const std::string reaction = R"({"splice": "prepared"}
{"at": "10:14", "what": "observed", "check": "baseline", "set": {"temperature_c": 36.8, "pulse_per_min": 78, "systolic_mmhg": 124, "respirations_per_min": 16, "saturation_percent": 97, "consciousness": "alert", "symptoms": []}}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "reaction_suspected"}
{"at": "10:32", "what": "observed", "extra": true, "set": {"temperature_c": 36.9, "pulse_per_min": 80, "systolic_mmhg": 122, "respirations_per_min": 16, "saturation_percent": 97, "consciousness": "alert", "symptoms": ["itching"]}}
)";
    played_text(reaction + R"({"at": "10:40", "what": "all_in", "refused": "not_running"}
{"at": "10:59:59", "what": "restarted", "rate_ml_per_h": 50, "role": "prescriber", "identity_agrees": true, "refused": "restart_barred"}
{"at": "11:00", "what": "restarted", "rate_ml_per_h": 50, "role": "prescriber", "identity_agrees": true}
)");
}

TEST_CASE("after a suspected reaction the next unit needs an authorisation of its own", "[bedside]") {
    const std::string one = R"({"splice": "prepared", "units": 2}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "reaction_suspected"}
{"at": "10:31", "what": "stopped", "reason": "reaction"}
{"at": "10:40", "what": "returned", "to": "blood_bank", "reason": "reaction"}
{"at": "10:41", "what": "item_noted", "item": "second_checker", "how": "confirmed"}
{"at": "10:41", "what": "observed", "check": "baseline"}
)";
    const Log log = played_text(one);
    const Event e = event_of(log, R"({"at": "10:42", "what": "requested"})");
    CHECK(refuses(log, e, e.at.at) == Refusal::units_not_covered);
}

TEST_CASE("the rate is not to be raised while the last observations say hold and ask", "[bedside]") {
    const std::string start = R"({"splice": "prepared"}
{"at": "10:14", "what": "observed", "check": "baseline", "set": {"temperature_c": 36.8, "pulse_per_min": 78, "systolic_mmhg": 124, "respirations_per_min": 16, "saturation_percent": 97, "consciousness": "alert", "symptoms": []}}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
)";
    played_text(start + R"({"at": "10:30", "what": "observed", "check": "early", "set": {"temperature_c": 38.9, "symptoms": ["rigors"]}}
{"expect": "10:31", "to_do": {"raise_rate": "none"}, "warned": ["early_check_flagged"]}
{"at": "10:31", "what": "rate_set", "rate_ml_per_h": 165, "refused_live": "early_check_open"}
)");
    played_text(start + R"({"at": "10:30", "what": "observed", "check": "early", "set": {"temperature_c": 36.9, "symptoms": []}}
{"at": "10:33", "what": "observed", "extra": true, "set": {"temperature_c": 38.9, "symptoms": ["rigors"]}}
{"expect": "10:34", "to_do": {"raise_rate": "none"}}
{"at": "10:34", "what": "rate_set", "rate_ml_per_h": 165, "refused_live": "early_check_open"}
)");
}

TEST_CASE("a weight that is missing while it runs makes no volume vanish and no check", "[bedside]") {
    played_text(running + R"({"at": "11:00", "what": "recipient_told", "recipient": {"overload_risk": "yes", "can_report": "yes"}}
{"expect": "11:00", "pushed_ml": "95", "given_ml": "95"}
{"at": "11:05", "what": "stopped", "reason": "order_changed"}
{"expect": "11:10", "given_ml": "108.75"}
)");
    played_text(R"({"splice": "prepared"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:16", "what": "recipient_told", "recipient": {"overload_risk": "yes", "can_report": "yes"}}
{"at": "10:20", "what": "rate_set", "rate_ml_per_h": 165, "refused_live": "early_check_open"}
)");
}

TEST_CASE("what does not fit any more is not the next thing to start", "[bedside]") {
    played_text(R"({"splice": "prepared"}
{"expect": "13:50", "verdict": "does_not_fit", "to_do": {"start": "none"}, "primary": "ask_about_limit"}
)");
    played_text(R"({"splice": "prepared", "until": "match"}
{"expect": "10:35", "verdict": "does_not_fit", "to_do": {"hang": "none"}}
)");
}

TEST_CASE("a set that is kept and was not cleared still holds the last unit when the next one starts", "[bedside]") {
    played_text(R"({"splice": "prepared", "units": 2, "protocol": {"@": "general-ward", "set": {"round.set.use": "may_be_kept", "clearing.rule": "forbidden"}}}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "observed", "check": "early"}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 165}
{"at": "12:07", "what": "all_in"}
{"at": "12:08", "what": "observed", "check": "end"}
{"at": "12:10", "what": "discarded", "reason": "part_given"}
{"at": "12:11", "what": "item_noted", "item": "second_checker", "how": "confirmed"}
{"at": "12:12", "what": "requested"}
{"at": "12:20", "what": "issued", "component": "red_cells", "bag_ml": 250, "expires_at": "+1 23:59", "bag_digits": "4712"}
{"expect": "12:21", "to_push_ml": "250", "why": "the line holds 20 mL of the last unit, which go first; the bag is empty after 250"}
)");
}

TEST_CASE("it begins with the slow stage, not with the rate that primed the set", "[bedside]") {
    const Log log = played_text(R"({"splice": "prepared"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 165, "refused_live": "rate_above_ceiling"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 51, "refused_live": "rate_above_ceiling"}
)");
    const auto start = [&](const std::string& how) {
        const Event e = event_of(log, R"({"at": "10:15", "what": "started", "rate_ml_per_h": )" + how + "}");
        return refuses(log, e, e.at.at);
    };
    CHECK_FALSE(start("50"));
    CHECK_FALSE(start(R"(165, "waived_by": "prescriber")"));
    CHECK(start(R"(301, "waived_by": "prescriber")") == Refusal::rate_above_ceiling);
    CHECK_FALSE(start(R"(165, "as_it_happened": true)"));
}
