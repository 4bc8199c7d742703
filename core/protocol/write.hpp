#pragma once

/// Protocol -> a protocol file that reads back as the same protocol.

#include "core/protocol/protocol.hpp"

#include <string>

namespace hangtime {

std::string write_protocol(const Protocol& protocol);

}  // namespace hangtime
