#pragma once

/// Bars on one scale, each with its name and its value in words beside it: a distribution, or how many of how many. What
/// is filled is counted, what is outlined is the rest; no colour says anything.

#include "web/widgets/ui.hpp"

#include <cstdint>
#include <span>
#include <string_view>

namespace hangtime::ui {

struct BarRow {
    std::string_view name;
    std::string_view value;
    std::int64_t filled = 0;
    std::int64_t whole = 0; // how far the outline goes; 0: none
};

/// Noted one a row, as `id` and its number. `longest` is what the whole width stands for. Returns the height.
float bars(Ui& ui, std::string_view id, Box box, std::span<const BarRow> rows, std::int64_t longest);

/// How far something has come.
void progress(Ui& ui, std::string_view id, Box box, std::string_view label, int done, int all);

} // namespace hangtime::ui
