#pragma once

/// A round as JSON: `{"hangtime_round_plan": 1, "standing": "optimal", "cost": {...}, "bound": {...},
/// "transfusions": [...], "conflict": null}`. Times are ISO 8601 with their offset; nurses are counted from
/// 1.

#include "core/plan/round_sheet.hpp"

#include <string>

namespace hangtime::cli {

std::string round_json(const RoundResult& result);

}  // namespace hangtime::cli
