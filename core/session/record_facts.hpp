#pragma once

/// What a line of a log says beside its frame; for core/session/record_read.cpp and record_facts.cpp only.

#include "core/json/field.hpp"
#include "core/session/events.hpp"

#include <cstdint>
#include <vector>

namespace hangtime::record_facts {

/// What is known beyond the line itself.
struct Beside {
    const Rules* known = nullptr;  // what stands in the place of {}
    bool older = false;            // it is of a log of an earlier version
};

Stated read_utc(const json::Field& field);
std::vector<std::int32_t> read_numbers(const json::Field& field);
/// The keys that every record has, and those of its own kind.
json::Object keys_of(const json::Field& field, EventKind kind);
Facts read_facts(const json::Object& object, EventKind kind, const Beside& beside);

}  // namespace hangtime::record_facts
