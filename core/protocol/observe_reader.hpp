#pragma once

/// The parts of a protocol that are about observations and reactions: reading, checking, writing and telling
/// them apart. For core/protocol's own files only.

#include "core/json/write.hpp"
#include "core/protocol/describe.hpp"
#include "core/protocol/reader.hpp"

namespace hangtime::protocol_reader {

ObserveRules read_observe(const json::Field& field, const BasisReader& basis);
ReactionRules read_reaction(const json::Field& field, const BasisReader& basis);

void check_observe(const ObserveRules& rules, json::Report& report);
void check_reaction(const ReactionRules& rules, json::Report& report);

void write_observe(json::Writer& out, const Protocol& protocol);
void describe_observe(const Protocol& protocol, std::vector<Rule>& rules);

}  // namespace hangtime::protocol_reader
