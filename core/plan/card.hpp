#pragma once

/// The page for the day when there is no computer: what a protocol says, worked out beforehand. Limits, rates
/// for a volume and a duration, drops by gravity, rates by weight, and a form for the times. Every value
/// comes out of the same functions as a plan's.

#include "core/protocol/protocol.hpp"
#include "core/sheet/document.hpp"

namespace hangtime {

sheet::Document card(const Protocol& protocol);

}  // namespace hangtime
