#pragma once

/// One card for somebody who knows one ward's rules and works under another's today: what is different here, the same
/// difference of several components told once.

#include "core/protocol/protocol.hpp"
#include "core/sheet/document.hpp"

namespace hangtime {

sheet::Document float_card(const Protocol& usual, const Protocol& here);

}  // namespace hangtime
