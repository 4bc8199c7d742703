#pragma once

/// Logs that were written by hand, with the state that each must add up to: tests/logs/*.jsonl. One JSON object a line:
///
///   {"at": "10:15", "what": "started", "rate_ml_per_h": 50}
///       a record of a log, with everything that can be left out left out: `n` is counted (a text in its place is a label,
///       which `of` and `replaces` may use), times are those of 2026-03-14 in UTC ("+1 00:10": the day after; "10:15" is to
///       the minute, "10:15:30" to the second), `noted` is `at` or, where something was noted later before, that.
///       "protocol": "@general-ward" is that demo protocol, {"@": "general-ward", "set": {"checks.interval.every_min": 30}}
///       the same with values changed (null takes the member out).
///   {..., "refused": "rate_zero"}
///       the same, and it must be refused with this code and leave every byte of the log as it was.
///   {..., "refused_live": "rate_above_ceiling"}
///       the same for what only a reckoning can refuse; it is not added.
///   {"splice": "prepared" | "ready" | "match" | "hang", "at": ...}
///       the records of an ordinary preparation; see log_script.cpp.
///   {"expect": "11:30", ...}
///       what the records so far must add up to at that moment; the keys are in log_script.cpp. `why` has the arithmetic.
///   {"title": ...}, {"why": ...}
///       for the reader only.

#include "core/reckon/live.hpp"
#include "core/session/log.hpp"

#include <string>
#include <vector>

namespace hangtime::test {

/// The names of the hand-written logs, without ".jsonl", in order.
std::vector<std::string> hand_log_names();

/// Plays one, checking as it goes, and returns the log that was made.
Log played(const std::string& name);

/// Plays lines that stand in a test.
Log played_text(const std::string& text);

/// A session opened and prepared up to the start (which is not among it), from 09:30 to 10:13 of the day: an ordinary
/// 300 mL of red cells by a pump under the general ward's rules.
Log prepared_log();

/// One record as a line that leaves things out, as above; `log` says which number comes next.
Event event_of(const Log& log, const std::string& line);

}  // namespace hangtime::test
