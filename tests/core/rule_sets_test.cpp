// The rules for a change, chosen in a session: what was judged under an earlier choice stays explained, and what it asked to
// hold for bars a restart under any later one. The logs are in tests/logs/48-rules-for-a-change.jsonl.

#include "core/cli/replay_json.hpp"
#include "core/report/session_report.hpp"
#include "core/session/record.hpp"
#include "tests/core/log_script.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <memory>

using namespace hangtime;
using namespace hangtime::test;

namespace {

std::string stopped_at_1030(const std::string& version, const std::string& protocol) {
    return R"({"splice": "prepared", "version": )" + version + R"(, "protocol": )" + protocol + "}\n" +
           R"({"at": "10:14", "what": "observed", "check": "baseline", "set": {"temperature_c": 36.8, "pulse_per_min": 78, "systolic_mmhg": 124, "respirations_per_min": 16, "saturation_percent": 97, "consciousness": "alert", "symptoms": []}}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
)";
}

// Up by 1.6 degrees, above 38.0: fever by every rule, severe where 1.5 degrees are.
const std::string up_by_1_6 = R"({"at": "10:30", "what": "reaction_suspected"}
{"at": "10:35", "what": "observed", "check": "interval", "set": {"temperature_c": 38.4, "pulse_per_min": 80, "systolic_mmhg": 122, "respirations_per_min": 16, "saturation_percent": 97, "consciousness": "alert", "symptoms": []}}
)";

std::string chosen(const char* when, const char* set) {
    return std::string(R"({"at": ")") + when + R"(", "what": "rule_set_chosen", "rule_set": ")" + set + "\"}\n";
}

std::optional<Refusal> restart(const std::string& text) {
    Log log = played_text(text);
    const Event e = event_of(log, R"({"at": "11:05", "what": "restarted", "rate_ml_per_h": 50, "role": "prescriber", "identity_agrees": true})");
    return log.append(e, e.at.at);
}

std::string text_of(const Log& log, Instant now) {
    const auto live = std::make_unique<Live>();
    reckon_live(log.session(), now, *live);
    std::string out;
    for (const char c : sheet::to_text(session_document(log, *live)))
        if (c != ' ' && c != '\n') out += c;
        else if (!out.empty() && out.back() != ' ') out += ' ';
    return out;
}

}  // namespace

TEST_CASE("a restart is barred by what the rules of its time made of a set, and by what those in force make of it", "[rule_sets]") {
    const std::string ward = stopped_at_1030("3", "\"@general-ward\"");
    CHECK_FALSE(restart(ward + up_by_1_6));  // fever, not severe, by both limits and from 2 degrees
    CHECK(restart(ward + chosen("10:20", "either-limit") + up_by_1_6) == Refusal::restart_barred);  // severe from 1.5
    // Other rules since do not take it back, and stricter ones look at what was seen before.
    CHECK(restart(ward + chosen("10:20", "either-limit") + up_by_1_6 + chosen("10:50", "both-limbs")) == Refusal::restart_barred);
    CHECK(restart(ward + up_by_1_6 + chosen("10:50", "either-limit")) == Refusal::restart_barred);
    CHECK_FALSE(restart(ward + chosen("10:20", "either-limit") + chosen("10:29", "both-limbs") + up_by_1_6));
}

TEST_CASE("a log of version 2 in which nothing was chosen goes on by the rules in force alone", "[rule_sets]") {
    const std::string strict = R"({"@": "general-ward", "set": {"observations.rule_sets.0.severe_fever.rise_c": 1.5}})";
    const std::string changed = up_by_1_6 + R"({"at": "10:40", "what": "protocol_changed", "protocol": "@general-ward"})" + "\n";
    CHECK_FALSE(restart(stopped_at_1030("2", strict) + changed));  // as it was accepted then
    CHECK(restart(stopped_at_1030("3", strict) + changed) == Refusal::restart_barred);
    // Once something is chosen in it, it is judged as one of today.
    CHECK(restart(stopped_at_1030("2", "\"@general-ward\"") + chosen("10:20", "either-limit") + up_by_1_6 + chosen("10:50", "both-limbs")) ==
          Refusal::restart_barred);
}

TEST_CASE("sheet and replay say which rules were used when each set was judged", "[rule_sets]") {
    const Log log = played_text(stopped_at_1030("3", "\"@general-ward\"") +
                                R"({"at": "10:20", "what": "observed", "extra": true, "set": {"temperature_c": 38.1, "pulse_per_min": 80, "symptoms": []}}
)" + chosen("10:40", "either-limit") +
                                R"({"at": "10:45", "what": "observed", "extra": true, "set": {"temperature_c": 37.9, "pulse_per_min": 80, "symptoms": []}}
)");
    const Instant now = log.events().back().noted;
    const std::string text = text_of(log, now);
    for (const char* said : {"What changed, by the rules of its time", "From 09:30 Fever by both limits, a fall of pressure by two limbs (both-limbs), the first of these rules",
                             "From 10:40 Fever by either limit, severe from 1.5 degrees (either-limit), chosen; limits from ",
                             "(by \"Fever by either limit, severe from 1.5 degrees\")", "(by \"Fever by both limits"}) {
        INFO(said);
        CHECK(text.find(said) != std::string::npos);
    }
    const auto live = std::make_unique<Live>();
    reckon_live(log.session(), now, *live);
    const json::Value tree = tree_of(cli::replay_json(log, *live));
    const json::Value* rules = tree.find("change_rules");
    REQUIRE(rules);
    REQUIRE(rules->items.size() == 2);
    CHECK(rules->items[0].find("rule_set")->text == "both-limbs");
    CHECK(rules->items[1].find("rule_set")->text == "either-limit");
    const json::Value* sets = tree.find("observations")->find("sets");
    REQUIRE(sets->items.size() == 3);  // the baseline without values of 09:50, and two
    CHECK(sets->items[1].find("rule_set")->text == "both-limbs");
    CHECK(sets->items[1].find("prompts")->items[0].find("code")->text == "fever");
    CHECK(sets->items[2].find("rule_set")->text == "either-limit");
    REQUIRE(sets->items[2].find("prompts")->items.size() == 1);
    CHECK(sets->items[2].find("prompts")->items[0].find("rule")->text.find(" or ") != std::string::npos);
}

TEST_CASE("the report of a reaction lists every set from the baseline on, charted or not, with its rules", "[rule_sets]") {
    Log log = played_text(stopped_at_1030("3", "\"@general-ward\"") +
                          R"({"n": "seen", "at": "10:20", "what": "observed", "check": "early", "set": {"temperature_c": 38.1, "pulse_per_min": 80, "symptoms": []}}
{"at": "10:21", "what": "charted", "of": ["seen"]}
)" + chosen("10:25", "either-limit") + R"({"at": "10:30", "what": "reaction_suspected"}
{"at": "10:35", "what": "observed", "extra": true, "set": {"temperature_c": 36.9, "pulse_per_min": 80, "symptoms": []}}
{"at": "10:40", "what": "protocol_changed", "protocol": "@half-hour-checks"}
{"at": "10:45", "what": "observed", "extra": true, "set": {"temperature_c": 37.2, "pulse_per_min": 80, "symptoms": ["hives"]}}
)");
    const auto live = std::make_unique<Live>();
    const Session& s = log.session();
    reckon_live(s, log.events().back().noted, *live);
    const sheet::Document report = reaction_report(*s.protocol, *rules_now(s).rules(), reaction_report_of(s, *live));
    const sheet::Table* table = nullptr;
    for (const sheet::Block& block : report.blocks)
        if (block.kind == sheet::BlockKind::table && block.table.caption.starts_with("Every set")) table = &block.table;
    REQUIRE(table);
    const auto row = [&](std::size_t i) {
        std::string out;
        for (std::size_t k = 0; k + 1 < table->rows[i].size(); ++k) out += (k ? " | " : "") + table->rows[i][k];
        return out;
    };
    REQUIRE(table->rows.size() == 5);
    CHECK(row(0) == "10:14 | 1 min before | Baseline | not yet | Fever by both limits, a fall of pressure by two limbs");
    CHECK(row(1).starts_with("09:50 | 25 min before | a baseline before that | not yet |"));
    CHECK(row(2) == "10:20 | +0:05 | Early check | yes | Fever by both limits, a fall of pressure by two limbs");
    CHECK(row(3) == "10:35 | +0:20 | between the checks | not yet | Fever by either limit, severe from 1.5 degrees");
    CHECK(table->rows[2].back() == "Fever: at least 38.0 \xC2\xB0" "C and up by at least 1.0 \xC2\xB0" "C");
    CHECK(table->rows[3].back() == "none of these rules; that rules nothing out");
    CHECK(table->rows[4].back().find("New symptom") != std::string::npos);
    const std::string text = sheet::to_text(report);
    CHECK(text.find("From 10:25") != std::string::npos);
    CHECK(text.find("From 10:40") != std::string::npos);
    CHECK(text.find("no reaction") == std::string::npos);
}
