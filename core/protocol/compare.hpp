#pragma once

/// "What differs here": for those who float between wards.

#include "core/protocol/protocol.hpp"

#include <string>
#include <vector>

namespace hangtime {

/// A rule that is not the same in two protocols; a side that has no such rule is `no_rule_text`.
struct Difference {
    std::string path, left, right;
};
inline constexpr const char* no_rule_text = "no rule";

/// Where `left` and `right` tell people to do something else, in the order of the file, with what only
/// `right` has at the end. Two values that agree are no difference, whatever they rest on.
std::vector<Difference> compare(const Protocol& left, const Protocol& right);

}  // namespace hangtime
