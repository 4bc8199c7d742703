#pragma once

/// What scenario, actions and course share in reading and writing; for core/rehearse only.

#include "core/json/field.hpp"
#include "core/rehearse/scenario.hpp"

namespace hangtime::rehearse_reader {

/// A filter; `nth` takes the key of that name, null: there is no such key.
Filter read_filter(const json::Field& field, std::int32_t* nth);
void write_filter(json::Writer& out, const Filter& filter, std::int32_t nth = 1);

/// `first`: the signs at the beginning.
Happening read_happening(const json::Field& field, const Observation& first);
void write_happening(json::Writer& out, const Happening& happening);

}  // namespace hangtime::rehearse_reader
