#pragma once

/// Observations as documents: the trend of every sign against the baseline, what changed and by which rule,
/// the early-warning score beside it. Built from plain values; a session's screen and sheet take the parts
/// below with the sets of its log.

#include "core/observe/change.hpp"
#include "core/observe/news2.hpp"
#include "core/protocol/protocol.hpp"
#include "core/report/observe_file.hpp"
#include "core/sheet/document.hpp"

#include <string>
#include <vector>

namespace hangtime {

/// A value of a set in words: "38.4 °C", "crackles", "itching, hives", "not recorded".
std::string value_text(const Observation& set, Sign sign);

/// "Temperature 38.4 °C now, 36.9 °C at baseline." or, where a prompt is not about a number, what changed.
std::string prompt_text(const Prompt& prompt, const Observation& baseline, const Observation& now);

/// "Temperature (baseline), Pulse (now)": what could not be compared; empty where everything was.
std::string missing_text(const Change& change);

/// "Two limbs (both-limbs)"
std::string rule_set_text(const RuleSet& rules);
/// Where the limits of a rule set are from, each source once.
std::string rule_set_sources(const Protocol& protocol, const RuleSet& rules);

/// Every sign in a row against time: baseline first, then each set; the last ones where there are too many.
sheet::Table trend_table(const TimedSet& baseline, const std::vector<TimedSet>& sets);

/// The score's line: "3; Respirations 2, Temperature 1". "at least" where a part is missing.
std::string score_text(const News2& score);

/// What the chart asks for at this score, or the parts that are missing. An incomplete score of the two lowest bands asks
/// for nothing: what is missing may raise it. Of the higher ones it already asks for at least that.
std::string score_asks_text(const News2& score);

/// True where a set, or the baseline by itself, has a prompt that says to hold and ask. False is no all-clear.
bool asks_to_hold(const Protocol& protocol, const RuleSet& rules, const ObserveFile& file);

sheet::Document observe_sheet(const Protocol& protocol, const RuleSet& rules, const ObserveFile& file);

/// The same as JSON, version 1:
/// `{"hangtime_observe": 1, "protocol", "rule_set", "baseline": {"rule_set", "prompts", "score"}, "sets":
/// [{"from_start_s", "rule_set", "prompts", "not_compared", "score", "questions"}]}`. A prompt is `{"code", "severity",
/// "sign", "text", "rule", "source", "grade", "symptoms", "overload"}`; what is not known is null. There is
/// no code for a set without a prompt.
std::string observe_json(const Protocol& protocol, const RuleSet& rules, const ObserveFile& file);

}  // namespace hangtime
