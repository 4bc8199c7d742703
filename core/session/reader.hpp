#pragma once

/// The parts of the transfusion reader; for read.cpp only.

#include "core/json/field.hpp"
#include "core/session/read.hpp"

namespace hangtime::session_reader {

WallClock read_clock(const json::Field& field);
Times read_times(const json::Field& field, const WallClock& wall);
Stated read_stated(const json::Field& field, const WallClock& wall);

Recipient read_recipient(const json::Object& o);
Order read_order(const json::Field& field);
void read_line(const json::Field& field, const Protocol& protocol, Line& line);
void read_device(const json::Field& field, Device& device);

/// Reports the first pair of entries that cannot both be right, and a weight that a rule needs and that is
/// missing.
void report_contradictions(const Request& request, const Protocol& protocol, json::Report& report);

}  // namespace hangtime::session_reader
