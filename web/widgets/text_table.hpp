#pragma once

/// Tables of words: rows to read, and rows to touch.

#include "web/widgets/ui.hpp"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::ui {

/// A row of a table that opens what it is about: what it is called, its value, where it is from.
struct RuleRow {
    std::string_view label, value, from;
    bool open = false;     // what it is about is shown
    bool changed = false;  // said by a filled corner and in words
    bool faint = false;    // nothing stands there yet
};
float rule_row_height(const Ui& ui, float width, const RuleRow& row);
bool rule_row(Ui& ui, std::string_view id, Box box, const RuleRow& row);

/// A table to read. `shares` are the columns' shares of the width; a row's node is called `id` and its number, with its
/// first cell as the label and the others, by their headings, as the value. Returns its height.
float text_table(Ui& ui, std::string_view id, Box box, std::span<const float> shares,
                 std::span<const std::string> headings, std::span<const std::vector<std::string>> rows);

} // namespace hangtime::ui
