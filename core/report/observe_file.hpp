#pragma once

/// A file of observations: a baseline, the sets after it, and what of the person the rules depend on. Times
/// are minutes from the start, so that the file has no dates. The format is described in
/// core/report/observations.schema.json.

#include "core/observe/person.hpp"
#include "core/protocol/protocol.hpp"
#include "core/quantity.hpp"
#include "core/result.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

/// By which rules a set is judged, where these are not the document's own. What they point to must stay.
struct JudgedBy {
    const Protocol* protocol = nullptr;
    const RuleSet* rules = nullptr;
};

struct TimedSet {
    Seconds from_start{};  // negative: before the start
    Observation set{};
    JudgedBy by = {};

    /// Those that it was judged by, or the document's.
    JudgedBy judged(const Protocol& protocol, const RuleSet& rules) const {
        return by.rules ? by : JudgedBy{&protocol, &rules};
    }
};

struct ObserveFile {
    std::string protocol, rule_set;  // an empty rule set: the protocol's first one
    Person person{};
    TimedSet baseline{};
    std::vector<TimedSet> sets;      // in order of time
};

/// The protocol that a file asks for, before the rest of it can be checked.
Result<std::string> read_observe_protocol(std::string_view json);

Result<ObserveFile> read_observe_file(std::string_view json, const Protocol& protocol);

/// The rule set that a file chose, or the protocol's first one.
const RuleSet& chosen_rules(const Protocol& protocol, const ObserveFile& file);

}  // namespace hangtime
