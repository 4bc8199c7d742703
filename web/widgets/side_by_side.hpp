#pragma once

/// Two texts one below the other, character by character. Where they differ the characters stand on a filled
/// ground with a notch below, so that it is seen without colour.

#include "web/widgets/ui.hpp"

#include <cstdint>
#include <string_view>

namespace hangtime::ui {

struct SideBySide {
    std::string_view label;               // "Donation number"
    std::string_view said;                // "differs at character 4: bag 7, tag 8"
    std::string_view upper_name, lower_name;
    std::string_view upper, lower;        // empty: not read
    std::uint32_t differing = 0;          // bit i: character i
};
void side_by_side(Ui& ui, std::string_view id, Box box, const SideBySide& texts);
float side_by_side_height(const Ui& ui);

} // namespace hangtime::ui
