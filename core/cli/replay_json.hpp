#pragma once

/// A session at a moment as JSON, version 1: how far it has come, what to do, what is ready, what is not charted, and
/// under "sheet" the reckoning as report_json.hpp describes it. Times are as there.

#include "core/reckon/live.hpp"
#include "core/session/log.hpp"

#include <string>

namespace hangtime::cli {

inline constexpr int replay_version = 1;

std::string replay_json(const Log& log, const Live& live);

}  // namespace hangtime::cli
