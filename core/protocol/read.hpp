#pragma once

/// A protocol file -> Protocol. The format is described in core/protocol/protocol.schema.json; what a schema
/// cannot say (limits that contradict one another) is checked here as well.

#include "core/json/field.hpp"
#include "core/protocol/protocol.hpp"
#include "core/result.hpp"

#include <string_view>

namespace hangtime {

/// All of the file, or the first thing that is wrong with it: where (a JSON path, or a line and a column),
/// what and what would be accepted.
Result<Protocol> read_protocol(std::string_view json);

/// The same from a value of a larger text: a log holds whole protocols. What is wrong goes into the field's report.
Protocol read_protocol(const json::Field& field);

/// How far the file's lists may go; so that a reckoning's lists of bounded length can hold what follows.
namespace bounds {
inline constexpr std::size_t limits_per_component = 12;
inline constexpr std::size_t early_checks = 8;
inline constexpr std::size_t after_checks = 8;
inline constexpr std::size_t rule_sets = 6;
inline constexpr Seconds least_interval = minutes(5);
inline constexpr Seconds longest_finish = hours(24);               // counted from anything but thaw
inline constexpr Seconds longest_from_thaw = hours(5 * 24);        // refrigerated thawed plasma
}  // namespace bounds

}  // namespace hangtime
