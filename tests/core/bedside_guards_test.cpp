// What the log refuses and what follows from it, where a slip could hurt: each as a small log that was worked out by hand.

#include "core/session/record.hpp"
#include "tests/core/log_script.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::test;

namespace {

const std::string running = R"({"splice": "prepared"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "observed", "check": "early"}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 165}
)";

const std::string joined_at_noon = R"({"at": "12:00", "what": "opened", "hangtime_log": 2, "object": "key", "clock": {"utc_offset_min": 0}, "protocol": "@general-ward"}
{"at": "12:00", "what": "joined"}
{"at": "11:40", "noted": "12:01", "what": "ordered", "component": "red_cells", "order": {"within_min": 120}}
{"at": "11:40", "noted": "12:01", "what": "issued", "component": "red_cells", "bag_ml": 300, "expires_at": "+1 23:59"}
)";

}  // namespace

TEST_CASE("whoever hands over or leaves between the match and the hanging begins the match again", "[bedside]") {
    for (const char* leaving : {R"("handed_over", "role": "nurse")", R"("taken_over", "role": "nurse")", R"("moved", "place": "same_ward")"})
        played_text(R"({"splice": "prepared", "until": "match"}
{"expect": "10:10", "match": "passed"}
{"at": "10:11", "what": )" + std::string(leaving) + R"(}
{"expect": "10:11", "match": "interrupted", "to_do": {"hang": "none"}}
{"at": "10:12", "what": "spiked", "refused": "match_missing"}
{"splice": "match", "at": "10:13"}
{"at": "10:14", "what": "spiked"}
)");
    // Half-way through it too; and once it hangs the match stands.
    played_text(R"({"splice": "prepared", "until": "received"}
{"at": "10:06", "what": "match_noted", "outcome": "passed", "step": 0}
{"at": "10:07", "what": "handed_over", "role": "nurse"}
{"at": "10:08", "what": "match_noted", "outcome": "passed", "step": 1, "refused": "match_out_of_order"}
)");
    played_text(R"({"splice": "prepared"}
{"at": "10:14", "what": "handed_over", "role": "nurse"}
{"expect": "10:14", "match": "passed"}
)");
}

TEST_CASE("what was stopped for symptoms goes on only when somebody decides so", "[bedside]") {
    played_text(running + R"({"at": "11:00", "what": "paused", "reason": "symptoms"}
{"at": "11:05", "what": "resumed", "refused": "needs_decision"}
{"at": "11:05", "what": "resumed", "decided_by": "prescriber"}
{"expect": "11:05", "phase": "running", "in_force": "165"}
{"at": "11:10", "what": "paused", "reason": "other_care"}
{"at": "11:12", "what": "resumed"}
)");
    // Suspected after all: then nobody decides it but as a restart.
    played_text(running + R"({"at": "11:00", "what": "paused", "reason": "symptoms"}
{"at": "11:03", "what": "reaction_suspected"}
{"at": "11:05", "what": "resumed", "decided_by": "prescriber", "refused": "needs_restart"}
)");
}

TEST_CASE("a reading of the bag's temperature gets old", "[bedside]") {
    played_text(R"({"splice": "prepared", "until": "received"}
{"at": "10:10", "what": "bag_temperature", "bag_c": 6}
{"at": "10:20:01", "what": "returned", "to": "stock", "reason": "not_needed", "refused": "temperature_old"}
{"at": "10:21", "what": "bag_temperature", "bag_c": 9}
{"at": "10:31", "what": "returned", "to": "stock", "reason": "not_needed"}
)");
    // By the protocol's own minutes; where a protocol says nothing they are ten.
    played_text(R"({"splice": "prepared", "until": "received", "protocol": {"@": "general-ward", "set": {"keeping_reading.counts_min": 3}}}
{"at": "10:10", "what": "bag_temperature", "bag_c": 6}
{"at": "10:13:01", "what": "returned", "to": "stock", "reason": "not_needed", "refused": "temperature_old"}
{"at": "10:13:00", "noted": "10:14", "what": "returned", "to": "stock", "reason": "not_needed"}
)");
    played_text(R"({"splice": "prepared", "until": "received", "protocol": {"@": "general-ward", "set": {"keeping_reading": null}}}
{"at": "10:10", "what": "bag_temperature", "bag_c": 6}
{"at": "10:20:01", "what": "returned", "to": "stock", "reason": "not_needed", "refused": "temperature_old"}
{"at": "10:20:00", "noted": "10:21", "what": "returned", "to": "stock", "reason": "not_needed"}
)");
}

TEST_CASE("a damaged bag, or one that is not this person's, is none to keep in stock", "[bedside]") {
    for (const char* reason : {"damaged", "mismatch", "too_late", "part_given", "reaction"}) {
        const std::string why = "\"reason\": \"" + std::string(reason) + "\"";
        played_text(R"({"splice": "prepared", "until": "received"}
{"at": "10:10", "what": "bag_temperature", "bag_c": 6}
{"at": "10:11", "what": "returned", "to": "stock", )" + why + R"(, "refused": "back_to_stock_reason"}
{"at": "10:11", "what": "returned", "to": "blood_bank", )" + why + "}\n");
    }
}

TEST_CASE("an authorisation that is confirmed again takes the place of the one before", "[bedside]") {
    played_text(R"({"splice": "prepared", "until": "received"}
{"at": "10:06", "what": "item_noted", "item": "authorisation", "how": "confirmed", "units": 1}
{"expect": "10:06", "units_covered": "1", "units_called_for": "1", "why": "said twice it is one unit all the same"}
)");
    played_text(running + R"({"at": "11:00", "what": "item_noted", "item": "authorisation", "how": "confirmed", "units": 1}
{"at": "11:01", "what": "item_noted", "item": "authorisation", "how": "confirmed", "units": 1}
{"expect": "11:01", "units_covered": "2", "why": "one has begun; one more from there on, however often it is said"}
)");
}

TEST_CASE("a bag that comes back unused has used up no authorisation", "[bedside]") {
    played_text(R"({"splice": "prepared", "until": "received"}
{"at": "10:10", "what": "bag_temperature", "bag_c": 6}
{"at": "10:11", "what": "returned", "to": "stock", "reason": "no_access"}
{"expect": "10:11", "ready": {"authorisation": "confirmed"}}
{"at": "10:20", "what": "item_noted", "item": "second_checker", "how": "confirmed"}
{"at": "10:20", "what": "observed", "check": "baseline"}
{"at": "10:21", "what": "requested"}
{"at": "10:40", "what": "issued", "component": "red_cells", "bag_ml": 280, "expires_at": "+1 23:59"}
{"at": "10:41", "what": "returned", "to": "blood_bank", "reason": "mismatch"}
{"at": "10:42", "what": "item_noted", "item": "second_checker", "how": "confirmed"}
{"at": "10:42", "what": "observed", "check": "baseline"}
{"at": "10:43", "what": "requested"}
)");
    // One that was begun has.
    played_text(running + R"({"at": "11:00", "what": "stopped", "reason": "access_lost"}
{"at": "11:01", "what": "returned", "to": "blood_bank", "reason": "part_given"}
{"at": "11:02", "what": "item_noted", "item": "second_checker", "how": "confirmed"}
{"at": "11:02", "what": "observed", "check": "baseline"}
{"at": "11:03", "what": "requested", "refused": "units_not_covered"}
)");
}

TEST_CASE("all in long before the rates allow for it is asked about", "[bedside]") {
    played_text(running + R"({"at": "11:30", "what": "all_in"}
{"expect": "11:31", "warned": ["ended_before_rates"], "why": "12.5 + 1 h at 165 = 177.5 of 300 mL"}
)");
    // 12.5 mL at 50 and 287.5 mL at 165 are in at 12:14:33; the device may be 5 % fast.
    played_text(running + R"({"at": "12:10", "what": "all_in"}
{"expect": "12:11", "warned": ["no ended_before_rates"]}
)");
    played_text(running + R"({"at": "11:30", "what": "stopped", "reason": "access_lost"}
{"expect": "11:31", "warned": ["no ended_before_rates"]}
)");
}

TEST_CASE("a plan that never fitted is raised to what was wished, never to the highest rate", "[bedside]") {
    // 300 mL in 4 h from 10:00 at most 60 mL/h: 15 min at 50 and 3.5 h at 60 come to 222.5.
    played_text(R"({"splice": "prepared", "order": {"within_min": 240, "max_rate_ml_per_h": 60}}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"expect": "10:20", "verdict": "does_not_fit", "to_do": {"raise_rate": "10:30 later rate 60"}}
)");
    // Begun at 13:30, half an hour before the limit: the wish is 120 min, which is 165 mL/h; the highest is not proposed.
    played_text(R"({"splice": "prepared", "protocol": {"@": "general-ward", "set": {"checks.baseline.within_min": 600}}}
{"at": "13:30", "what": "started", "rate_ml_per_h": 50, "as_it_happened": true}
{"expect": "13:31", "verdict": "does_not_fit", "rate_to_set": "165", "to_do": {"raise_rate": "13:45 later rate 165"}, "advised": ["no ask_prescriber_rate", "stop_at_limit"], "why": "300 - 12.5 = 287.5 mL in 105 min = 164.3 mL/h"}
)");
}

TEST_CASE("nothing faster is offered while it is held for a reaction or symptoms, or after a flagged check", "[bedside]") {
    const std::string values = R"("set": {"temperature_c": 36.8, "pulse_per_min": 78, "systolic_mmhg": 124, "respirations_per_min": 16, "saturation_percent": 97, "consciousness": "alert", "symptoms": []}})";
    const std::string start = R"({"splice": "prepared"}
{"at": "10:14", "what": "observed", "check": "baseline", )" + values + R"(
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
)";
    // 300 mL: to 11:00 12.5 + 82.5 = 95; the other 205 mL at 165 take 74:33 min, so 12:45:27 is the last moment.
    const std::string held = start + R"({"at": "10:30", "what": "observed", "check": "early", )" + values + R"(
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 165}
)";
    played_text(held + R"({"at": "11:00", "what": "paused", "reason": "other_care"}
{"expect": "13:00", "verdict": "does_not_fit", "advised": ["ask_prescriber_rate", "stop_at_limit"], "why": "205 mL in 1 h"}
)");
    played_text(held + R"({"at": "11:00", "what": "reaction_suspected"}
{"expect": "13:00", "verdict": "does_not_fit", "advised": ["no ask_prescriber_rate", "stop_at_limit"]}
)");
    played_text(held + R"({"at": "11:00", "what": "paused", "reason": "symptoms"}
{"expect": "13:00", "verdict": "does_not_fit", "advised": ["no ask_prescriber_rate", "stop_at_limit"]}
)");
    // The list that is printed has no rise in it either.
    const auto rises = [](const Log& log, int hour, int minute) {
        Live live;
        reckon_live(log.session(), Instant{log.events()[0].at.at.utc + (hour - 9) * 3600 + (minute - 30) * 60}, live);
        for (const Step& step : live.reckoning.next)
            if (step.kind == StepKind::raise_rate) return true;
        return false;
    };
    CHECK(rises(played_text(start), 10, 20));
    CHECK_FALSE(rises(played_text(start + R"({"at": "10:30", "what": "observed", "check": "early", "set": {"temperature_c": 38.9, "symptoms": ["rigors"]}}
)"), 10, 31));
    CHECK_FALSE(rises(played_text(start + R"({"at": "10:30", "what": "observed", "check": "early", )" + values + R"(
{"at": "10:31", "what": "observed", "extra": true, "set": {"temperature_c": 38.9, "symptoms": ["rigors"]}}
)"), 10, 32));
}

TEST_CASE("platelets after red cells are ordered in the same session, and come through a new set", "[bedside]") {
    const std::string first = R"({"splice": "prepared", "units": 2}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "observed", "check": "early"}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 165}
{"at": "12:15", "what": "all_in"}
{"at": "12:16", "what": "observed", "check": "end"}
{"at": "12:20", "what": "discarded", "reason": "part_given"}
)";
    const std::string second = R"({"at": "12:21", "what": "ordered", "component": "platelets", "order": {"within_min": 60}, "expected_ml": 250}
{"expect": "12:22", "phase": "closed", "to_give_ml": "300", "all_in": "12:15", "why": "what is over keeps its order"}
{"at": "12:23", "what": "item_noted", "item": "second_checker", "how": "confirmed"}
{"at": "12:24", "what": "requested"}
{"at": "12:30", "what": "issued", "component": "red_cells", "bag_ml": 250, "refused": "not_with_component"}
{"at": "12:30", "what": "issued", "component": "platelets", "bag_ml": 250, "expires_at": "+1 23:59"}
{"expect": "12:31", "warned": ["new_set_asked"], "past_given_ml": ["300"]}
{"splice": "match", "at": "12:35"}
{"at": "12:36", "what": "spiked"}
{"at": "12:36", "what": "connected", "refused": "not_primed"}
{"at": "12:37", "what": "primed", "with": "component", "holds_ml": 20, "lost_ml": 0}
{"expect": "12:37", "warned": ["no new_set_asked"], "windows": {"change_set spiked": "16:36 open"}}
{"at": "12:38", "what": "connected"}
)";
    played_text(first + second);
    // In a set that may be kept for red cells too.
    played_text(R"({"splice": "prepared", "units": 2, "protocol": {"@": "general-ward", "set": {"round.set.use": "may_be_kept"}}}
)" + first.substr(first.find('\n') + 1) + second);
}

TEST_CASE("a set that the rules want new for each unit is warned of while the old one is in use", "[bedside]") {
    const std::string two = R"({"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "12:15", "what": "all_in"}
{"at": "12:16", "what": "observed", "check": "end"}
{"at": "12:20", "what": "discarded", "reason": "part_given"}
{"at": "12:23", "what": "item_noted", "item": "second_checker", "how": "confirmed"}
{"at": "12:24", "what": "requested"}
{"at": "12:30", "what": "issued", "component": "red_cells", "bag_ml": 250, "expires_at": "+1 23:59"}
)";
    played_text("{\"splice\": \"prepared\", \"units\": 2}\n" + two + R"({"expect": "12:31", "warned": ["new_set_asked"]})" "\n");
    played_text(R"({"splice": "prepared", "units": 2, "protocol": {"@": "general-ward", "set": {"round.set.use": "may_be_kept"}}}
)" + two + R"({"expect": "12:31", "warned": ["no new_set_asked"]})" "\n");
}

TEST_CASE("the interval changes as often as it has to, and no check moves", "[bedside]") {
    const auto person = [](const char* at, const char* reports) {
        return std::string("{\"at\": \"") + at + R"(", "what": "recipient_told", "recipient": {"weight_kg": 70, "weight_is": "measured", "overload_risk": "no", "can_report": ")" + reports + R"(", "gauge": 20}})" "\n";
    };
    // 30 min for those who cannot report, else 60, each counted from the start at 10:15.
    played_text(R"({"splice": "prepared", "order": {"within_min": 235}, "protocol": {"@": "general-ward", "set": {"checks.interval.every_min": 60, "checks.interval_cannot_report": {"every_min": 30, "grade": "common_practice"}, "checks.merge_into_end.closer_than_min": 1}}}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "observed", "check": "early"}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 82}
)" + person("10:40", "no") + person("11:00", "yes") + person("11:20", "no") + person("12:20", "yes") +
                R"({"expect": "12:21", "checks": {"interval 100": "10:45 missed", "interval 200": "11:15 missed", "interval 300": "11:45 missed", "interval 301": "12:15 due", "interval 400": "13:15 to_come"}}
{"at": "12:22", "what": "observed", "check": "interval", "index": 301}
{"expect": "12:23", "checks": {"interval 301": "12:15 done 12:22", "interval 400": "13:15 to_come"}}
)");
}

TEST_CASE("another protocol before the priming leaves the line that was chosen", "[bedside]") {
    const std::string chosen = R"({"at": "09:40", "what": "equipment_chosen", "device": {"kind": "pump", "step_ml_per_h": 1, "max_ml_per_h": 999}, "line": {"holds_ml": 35, "primed_with": "saline", "cleared_at_end": true, "lost_ml": 0}})";
    const std::string opened = R"({"at": "09:30", "what": "opened", "hangtime_log": 2, "object": "kite", "clock": {"utc_offset_min": 0}, "protocol": "@general-ward"}
)";
    const std::string other = R"(
{"at": "09:41", "what": "protocol_changed", "protocol": "@half-hour-checks"}
{"at": "09:42", "what": "ordered", "component": "red_cells", "order": {"within_min": 120}}
)";
    const Log kept = played_text(opened + chosen + other);
    CHECK(kept.session().state.line.holds == ml(35));
    CHECK(kept.session().state.line.primed_with == Primed::saline);
    const Log fresh = played_text(opened + other.substr(1));
    CHECK(fresh.session().state.line.holds == fresh.session().protocol->lines.front().holds);
}

TEST_CASE("there is one baseline, one check at the start and one at the end", "[bedside]") {
    played_text(R"({"splice": "prepared", "until": "received"}
{"at": "10:06", "what": "observed", "check": "baseline", "index": 1, "refused": "check_unknown"}
)");
    played_text(running + R"({"at": "11:00", "what": "observed", "check": "start", "index": 2, "refused": "check_unknown"}
)");
}

TEST_CASE("what happens after somebody joined is judged like anything else", "[bedside]") {
    // Issued before; neither matched nor prepared.
    played_text(joined_at_noon + R"({"at": "12:02", "what": "spiked", "refused": "match_missing"}
{"at": "12:02", "what": "connected", "refused": "not_primed"}
{"at": "12:02", "what": "started", "rate_ml_per_h": 50, "refused": "not_spiked"}
{"at": "12:02", "what": "issued", "component": "red_cells", "bag_ml": 300, "refused": "issued_already"}
{"splice": "match", "at": "12:05"}
{"splice": "hang", "at": "12:06"}
{"at": "12:07", "what": "started", "rate_ml_per_h": 50, "refused": "not_ready"}
{"at": "12:07", "what": "recipient_told", "recipient": {"overload_risk": "no", "can_report": "yes"}}
{"splice": "ready", "at": "12:08"}
{"expect": "12:08", "units_called_for": "1", "units_covered": "1", "open_before_start": "none"}
{"at": "12:09", "what": "started", "rate_ml_per_h": 50}
{"at": "14:00", "what": "all_in"}
{"at": "14:05", "what": "discarded", "reason": "part_given"}
{"at": "14:06", "what": "item_noted", "item": "second_checker", "how": "confirmed"}
{"at": "14:06", "what": "observed", "check": "baseline"}
{"at": "14:07", "what": "requested", "refused": "units_not_covered"}
)");
    // Before it, it is believed; after it, it is not.
    played_text(joined_at_noon + R"({"at": "11:50", "noted": "12:02", "what": "spiked"}
{"at": "11:52", "noted": "12:02", "what": "started", "rate_ml_per_h": 60}
{"expect": "12:02", "phase": "running", "in_force": "60"}
)");
    played_text(R"({"at": "12:00", "what": "opened", "hangtime_log": 2, "object": "key", "clock": {"utc_offset_min": 0}, "protocol": "@general-ward"}
{"at": "12:00", "what": "joined"}
{"at": "12:01", "what": "ordered", "component": "red_cells", "order": {"within_min": 120}}
{"at": "12:02", "what": "requested", "refused": "not_ready"}
{"at": "12:02", "what": "issued", "component": "red_cells", "bag_ml": 300, "refused": "not_requested"}
)");
}

TEST_CASE("a bag that was hung before somebody joined is matched before it is started", "[bedside]") {
    const std::string hung = joined_at_noon + R"({"at": "11:50", "noted": "12:02", "what": "spiked"}
{"at": "11:55", "noted": "12:02", "what": "connected"}
{"at": "12:03", "what": "recipient_told", "recipient": {"overload_risk": "no", "can_report": "yes"}}
{"splice": "ready", "at": "12:03"}
{"at": "12:03", "what": "item_noted", "item": "report_explained", "how": "confirmed"}
{"at": "12:03", "what": "item_noted", "item": "bag_looked_at", "how": "confirmed"}
{"at": "12:03", "what": "item_noted", "item": "only_saline", "how": "confirmed"}
{"at": "12:03", "what": "item_noted", "item": "warmer_considered", "how": "not_needed"}
{"expect": "12:03", "open_before_start": "match", "primary": "match"}
{"at": "12:04", "what": "started", "rate_ml_per_h": 50, "refused": "not_ready"}
)";
    played_text(hung + R"({"splice": "match", "at": "12:05"}
{"at": "12:06", "what": "handed_over", "role": "nurse"}
{"at": "12:06", "what": "started", "rate_ml_per_h": 50, "refused": "not_ready"}
{"splice": "match", "at": "12:07"}
{"expect": "12:07", "open_before_start": "none"}
{"at": "12:08", "what": "started", "rate_ml_per_h": 50}
{"at": "12:09", "what": "match_noted", "outcome": "passed", "step": 0, "refused": "spiked_already"}
)");
    played_text(hung + R"({"at": "12:05", "what": "match_noted", "outcome": "differed", "step": 0}
{"expect": "12:05", "primary": "dispose"}
{"at": "12:06", "what": "started", "rate_ml_per_h": 50, "refused": "match_differed"}
)");
}

TEST_CASE("a log of version 1 goes on by the rules that it was begun with", "[bedside]") {
    const Log old = played_text(R"({"splice": "prepared", "version": 1}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:30", "what": "paused", "reason": "symptoms"}
{"at": "10:32", "what": "resumed"}
{"at": "10:33", "what": "item_noted", "item": "authorisation", "how": "confirmed", "units": 1}
{"expect": "10:33", "units_covered": "2"}
)");
    const auto read = read_log(write_log(old));
    REQUIRE(read.ok());
    CHECK(read.value().damaged.empty());
    CHECK(read.value().log.session().version == 1);
}
