#pragma once

/// A session as a document: how far it has come and what to do now, what is ready and what is open, what happened and
/// when, and then the plan for the rest. What is not charted yet stands first. No dates, nobody's name.

#include "core/reckon/live.hpp"
#include "core/session/log.hpp"
#include "core/sheet/document.hpp"

namespace hangtime {

sheet::Document session_sheet(const Log& log, const Live& live);

}  // namespace hangtime
