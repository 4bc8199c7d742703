#pragma once

/// The commands `rehearse`, `review` and `class`.

#include "core/cli/options.hpp"
#include "core/cli/run.hpp"

namespace hangtime::cli {

Outcome run_rehearse(const Options& options);
Outcome run_review(const Options& options);
Outcome run_class(const Options& options);

}  // namespace hangtime::cli
