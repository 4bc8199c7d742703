#pragma once

/// The command `rehearse`.

#include "core/cli/options.hpp"
#include "core/cli/run.hpp"

namespace hangtime::cli {

Outcome run_rehearse(const Options& options);

}  // namespace hangtime::cli
