#pragma once

/// A protocol as a flat list of rules, for tables and for comparing.

#include "core/protocol/protocol.hpp"

#include <string>
#include <vector>

namespace hangtime {

/// One rule: where it stands in the file (limits by name, "components.red_cells.limits.hang.issued"), its
/// value with its unit, and what it rests on.
struct Rule {
    std::string path, text;
    Basis basis;
};

/// Every rule of a protocol in the order of the file; no path comes twice.
std::vector<Rule> rules_of(const Protocol& protocol);

}  // namespace hangtime
