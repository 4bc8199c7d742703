#pragma once

/// Protocol -> a protocol file that reads back as the same protocol.

#include "core/json/write.hpp"
#include "core/protocol/protocol.hpp"

#include <string>

namespace hangtime {

std::string write_protocol(const Protocol& protocol);

/// The same as a value of a larger text: a log holds whole protocols.
void write_protocol(const Protocol& protocol, json::Writer& writer);

}  // namespace hangtime
