// Writes demo-data/logs anew: `core_tests "[.demo-logs]"`. Needed when the protocols that they hold have changed, since a
// log holds its protocol whole and every line is sealed.

#include "core/session/record.hpp"
#include "tests/core/log_script.hpp"
#include <catch2/catch_test_macros.hpp>
#include <cstdlib>
#include <fstream>
using namespace hangtime;
using namespace hangtime::test;
TEST_CASE("demo logs are written anew", "[.demo-logs]") {
    const std::string root = std::getenv("HANGTIME_ROOT");
    const auto make = [&](const std::string& name, const std::string& text) {
        std::ofstream(root + "/demo-data/logs/" + name + ".jsonl") << write_log(played_text(text));
    };
    make("01-a-pause-on-the-way", R"({"splice": "prepared"}
{"at": "10:14", "what": "device_total", "total": "zeroed"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:16", "what": "observed", "check": "start", "set": {"temperature_c": 36.7, "pulse_per_min": 78, "systolic_mmhg": 124, "diastolic_mmhg": 72, "respirations_per_min": 16, "saturation_percent": 97, "symptoms": []}}
{"at": "10:29", "what": "observed", "check": "early", "set": {"temperature_c": 36.8, "pulse_per_min": 80, "systolic_mmhg": 122, "diastolic_mmhg": 70, "respirations_per_min": 16, "saturation_percent": 97, "symptoms": []}}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 165}
{"n": "pause", "at": "10:58", "noted": "11:10", "what": "paused", "reason": "line_needed"}
{"at": "11:09", "noted": "11:10", "what": "resumed"}
{"at": "10:56", "noted": "11:12", "what": "paused", "reason": "line_needed", "replaces": ["pause"]}
{"at": "11:17", "what": "observed", "check": "interval", "set": {"temperature_c": 36.8, "pulse_per_min": 82, "systolic_mmhg": 126, "diastolic_mmhg": 74, "respirations_per_min": 17, "saturation_percent": 96, "symptoms": []}}
{"at": "11:20", "what": "device_total", "total": "read", "total_ml": 114}
)");
    make("02-stopped-by-the-person", R"({"splice": "prepared", "protocol": "@half-hour-checks", "with": "saline"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:16", "what": "observed", "check": "start"}
{"at": "10:50", "what": "consent_withdrawn", "reason": "changed_mind"}
{"at": "11:00", "what": "returned", "to": "blood_bank", "reason": "refused"}
{"at": "11:05", "what": "observed", "check": "end"}
)");
    make("03-taken-over-half-way", R"({"at": "11:20", "what": "opened", "hangtime_log": 3, "object": "key", "clock": {"utc_offset_min": 60}, "protocol": "@general-ward"}
{"at": "11:20", "what": "joined"}
{"at": "11:20", "what": "ordered", "component": "red_cells", "order": {"within_min": 120}}
{"at": "10:00", "noted": "11:21", "what": "issued", "component": "red_cells", "bag_ml": 300}
{"at": "10:13", "noted": "11:21", "what": "spiked"}
{"at": "10:15", "noted": "11:22", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "noted": "11:22", "what": "observed", "check": "early"}
{"at": "10:30", "noted": "11:22", "what": "rate_set", "rate_ml_per_h": 165}
{"at": "11:23", "what": "taken_over", "role": "nurse"}
)");
    make("04-a-reaction-the-same-night", R"({"splice": "prepared", "protocol": "@removal-clock"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 140}
{"at": "10:30", "what": "observed", "check": "early"}
{"at": "12:14", "what": "all_in"}
{"at": "12:20", "what": "discarded", "reason": "part_given"}
{"at": "13:10", "what": "observed", "check": "after"}
{"at": "23:15", "what": "reaction_suspected"}
{"at": "23:16", "what": "action_done", "action": "observe"}
)");
    make("05-a-waiver-and-a-stop", R"({"splice": "prepared", "until": "received"}
{"at": "10:07", "what": "groups_judged", "because": ["requirement_not_met"], "unmet": ["irradiated"], "by": "waiver", "reason": "clinician_decides", "role": "prescriber"}
{"at": "10:08", "what": "match_noted", "outcome": "passed", "step": 0, "can_say": false}
{"at": "10:09", "what": "match_noted", "outcome": "interrupted"}
{"splice": "match", "at": "10:10"}
{"splice": "hang", "at": "10:13"}
{"at": "10:14", "what": "observed", "check": "baseline", "set": {"temperature_c": 36.8, "pulse_per_min": 78, "systolic_mmhg": 124, "diastolic_mmhg": 72, "respirations_per_min": 16, "saturation_percent": 97, "on_oxygen": false, "consciousness": "alert", "lungs": "clear", "site": "good", "urine": "usual", "symptoms": []}}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "observed", "check": "early", "set": {"temperature_c": 36.9, "pulse_per_min": 80, "systolic_mmhg": 122, "diastolic_mmhg": 70, "respirations_per_min": 16, "saturation_percent": 97, "on_oxygen": false, "consciousness": "alert", "symptoms": []}}
{"at": "10:31", "what": "rate_set", "rate_ml_per_h": 165}
{"at": "10:40", "what": "other_fluid", "total_ml": 100}
{"at": "10:55", "what": "observed", "extra": true, "set": {"temperature_c": 37.1, "pulse_per_min": 84, "systolic_mmhg": 120, "diastolic_mmhg": 70, "respirations_per_min": 17, "saturation_percent": 97, "on_oxygen": false, "consciousness": "alert", "symptoms": ["itching", "hives"]}}
{"at": "10:56", "what": "reaction_suspected"}
{"at": "10:58", "what": "action_done", "action": "call_clinician"}
{"at": "10:59", "what": "action_done", "action": "identity", "agrees": true}
{"at": "11:10", "what": "observed", "extra": true, "set": {"temperature_c": 37.0, "pulse_per_min": 80, "systolic_mmhg": 122, "diastolic_mmhg": 72, "respirations_per_min": 16, "saturation_percent": 97, "on_oxygen": false, "consciousness": "alert", "symptoms": ["itching"]}}
)");
}
