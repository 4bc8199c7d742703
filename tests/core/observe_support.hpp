#pragma once

/// Sets of observations in short, for the tests of core/observe.

#include "core/observe/change.hpp"
#include "core/protocol/protocol.hpp"

#include <string>

namespace hangtime::test {

/// An adult's set with nothing remarkable in it, every sign recorded.
Observation unremarkable();

/// The named rule set of a shipped protocol; fails the test where there is none.
const RuleSet& rule_set(const Protocol& protocol, const std::string& id);

inline Person adult() { return {AgeGroup::adult, Mass{70'000}, false, false}; }
inline Person child(std::int64_t grams) { return {AgeGroup::child, Mass{grams}, std::nullopt, false}; }

inline std::optional<std::int16_t> number(int n) { return static_cast<std::int16_t>(n); }

}  // namespace hangtime::test
