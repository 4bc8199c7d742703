#pragma once

/// A protocol as a table with its sources, and what differs between two.

#include "core/protocol/compare.hpp"
#include "core/protocol/protocol.hpp"
#include "core/sheet/document.hpp"

#include <string>
#include <string_view>

namespace hangtime {

sheet::Document protocol_sheet(const Protocol& protocol);

/// "What differs": one line for each rule that is not the same.
sheet::Document difference_sheet(const Protocol& left, const Protocol& right);

/// "components.red_cells.limits.hang.issued" -> "Hang by, counted from issue"; the component is left out.
std::string rule_label(std::string_view path);
/// A rule's value for a person: "start_before" -> "start before it expires"; what is in words already stays.
std::string value_words(std::string_view path, const std::string& text);
/// What it stands under: "Red cells", "Observations", "Everything else".
std::string rule_group(std::string_view path);

}  // namespace hangtime
