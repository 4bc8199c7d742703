#pragma once

/// A protocol's groups of values in words, for the screen on which they are changed.

#include "core/protocol/edit.hpp"

#include <string>
#include <string_view>

namespace hangtime {

/// "Hang by, counted from issue", "Early check 1", "Pump". `protocol` for the titles of sources.
std::string edit_label(const EditGroup& group, const Protocol& protocol);

/// "30 min", "first rate 50 mL/h, lasts 15 min"; "no rule" where the group is left out.
std::string edit_value(const EditGroup& group);

/// What a group stands under: "Red cells", "Observations", "Everything else".
std::string edit_section(std::string_view path);

/// "within_min" -> "Within", "bags_ml[1]" -> "Bags 2".
std::string value_label(std::string_view key);

/// A value in words: "left_storage" -> "left storage", "true" -> "yes", "240" of minutes -> "240 min (4 h)".
std::string value_text(const EditValue& value);

/// "published: Title, 2019", "common practice, no source"; empty for a group without.
std::string edit_basis(const EditGroup& group, const Protocol& protocol);

/// A part that a protocol leaves out: "match" -> "Matching the bag to the person".
std::string part_label(std::string_view path);

}  // namespace hangtime
