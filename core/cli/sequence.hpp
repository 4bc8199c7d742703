#pragma once

/// `hangtime sequence`: several units for one person.

#include "core/cli/options.hpp"
#include "core/cli/run.hpp"
#include "core/round/sequence.hpp"

#include <string>

namespace hangtime::cli {

Outcome run_sequence(const Options& options);

/// `{"hangtime_sequence_plan": 1, "fit": 2, "units": [...]}`, described in core/cli/sequence.schema.json.
std::string sequence_json(const Protocol& protocol, const rounds::Sequence& sequence, const rounds::SequencePlan& plan);

}  // namespace hangtime::cli
