#pragma once

/// The reckoning as JSON, version 1: every window, stage, check and warning with its code, its sum and its
/// source. The format is described in core/cli/sheet.schema.json.
///
/// - A time is `{"at": ISO 8601 with offset, "from_start_s": seconds, "clock": as the sheet says it}`;
///   `from_start_s` is null while there is no start.
/// - A volume is `{"ml": decimal, "units": whole}`, a rate `{"ml_per_h": decimal, "units_per_s": whole}`, an
///   exact flow `{"ml_per_h": decimal, "num": whole, "den": whole}`. The whole numbers are exact, in the
///   units that core/quantity.hpp defines; the decimals are rounded to a millionth where they do not end
///   before.
/// - What is not known is null, never left out.

#include "core/component.hpp"
#include "core/protocol/protocol.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/session/read.hpp"

#include <string>

namespace hangtime::cli {

inline constexpr int sheet_version = 1;

std::string report_json(const Protocol& protocol, const Request& request, const Reckoning& reckoning);

/// `{"hangtime_sheet": 1, "result": "not_covered", ...}`
std::string not_covered_json(NotCovered what);

}  // namespace hangtime::cli
