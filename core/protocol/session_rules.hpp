#pragma once

/// What a live session asks of the local rules beyond the plan. A part of core/protocol/protocol.hpp; a file that says
/// nothing about it has none, and then nothing here is judged.

#include "core/protocol/given.hpp"
#include "core/quantity.hpp"

namespace hangtime {

struct SessionRules {
    Given<Seconds> sample_valid;   // from drawing the sample to the start; strict hours
    Given<Seconds> keep_finished;  // a finished session stays on this machine for so long, then it goes

    friend bool operator==(const SessionRules&, const SessionRules&) = default;
};

}  // namespace hangtime
