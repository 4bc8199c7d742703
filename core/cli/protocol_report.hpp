#pragma once

/// The commands about protocols alone: `hangtime protocol` and `hangtime card`.

#include "core/cli/options.hpp"
#include "core/cli/run.hpp"

namespace hangtime::cli {

Outcome run_protocol(const Options& options);
Outcome run_card(const Options& options);

}  // namespace hangtime::cli
