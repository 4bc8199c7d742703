#pragma once

/// `hangtime round`: several transfusions and the nurses who give them.

#include "core/cli/options.hpp"
#include "core/cli/run.hpp"
#include "core/plan/round_sheet.hpp"

#include <string>

namespace hangtime::cli {

Outcome run_round(const Options& options);

/// `{"hangtime_round_plan": 1, "standing": "optimal", ...}`, described in core/cli/round.schema.json. Times are ISO 8601
/// with their offset; nurses and persons are counted from 1.
std::string round_json(const RoundResult& result);

}  // namespace hangtime::cli
