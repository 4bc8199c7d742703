#pragma once

/// The parts of the protocol reader; for read.cpp and its tests only.

#include "core/json/field.hpp"
#include "core/protocol/fields.hpp"
#include "core/protocol/protocol.hpp"

namespace hangtime::protocol_reader {

/// The sources that values may name; read first.
std::vector<Source> read_sources(const json::Field& field);

/// Takes "source" and "grade" of a value group. Published and quoted values need a source; common practice
/// has none; from memory may name the one that it is believed to be in.
class BasisReader {
public:
    explicit BasisReader(const std::vector<Source>& sources) : sources_(&sources) {}
    Basis operator()(const json::Object& group) const;

private:
    const std::vector<Source>* sources_;
};

ComponentRules read_component(const json::Field& field, const BasisReader& basis);
CheckRules read_checks(const json::Field& field, const BasisReader& basis);
SessionRules read_session(const json::Field& field, const BasisReader& basis);
MatchRules read_match(const json::Field& field, const BasisReader& basis);
void report_match_contradictions(const MatchRules& rules, json::Report& report);
RoundRules read_round(const json::Field& field, const BasisReader& basis);
void report_round_contradictions(const RoundRules& rules, const CheckRules& checks, json::Report& report);

/// Reports the first limit that contradicts another one.
void report_contradictions(const Protocol& protocol, json::Report& report);

}  // namespace hangtime::protocol_reader
