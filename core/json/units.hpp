#pragma once

/// Units stand in the keys of every file ("first_rate_ml_per_h"), so a key with the wrong unit or with none
/// is an unknown key. These say which of the accepted keys was meant.

#include <span>
#include <string>
#include <string_view>

namespace hangtime::json {

/// "weight_lb" -> {"weight", "lb"}; no unit is recognised in "component".
struct KeyParts {
    std::string_view stem, unit;
};
KeyParts parts_of(std::string_view key);

/// Why `key` is not accepted: "is not known here", or that it has the wrong unit, or none.
std::string why_unknown(std::string_view key, std::span<const std::string_view> accepted);

}  // namespace hangtime::json
