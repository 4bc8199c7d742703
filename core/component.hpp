#pragma once

/// What can hang, and what is deliberately not covered.

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

namespace hangtime {

enum class Component : std::uint8_t {
    red_cells,
    platelets,
    plasma,
    cryoprecipitate,
    whole_blood,
    granulocytes,
};
inline constexpr int component_count = 6;

/// Choices that answer "not covered here, follow your procedure", so that nobody picks the nearest item.
enum class NotCovered : std::uint8_t {
    albumin,
    immunoglobulin,
    clotting_factors,
    salvaged_blood,
    exchange_transfusion,
    rapid_infuser,
    cell_therapy,
};
inline constexpr int not_covered_count = 7;

/// Codes as they stand in files; stable. The words for screens and sheets are in core/words.
inline constexpr std::array<std::string_view, component_count> component_codes = {
    "red_cells", "platelets", "plasma", "cryoprecipitate", "whole_blood", "granulocytes"};
inline constexpr std::array<std::string_view, not_covered_count> not_covered_codes = {
    "albumin",        "immunoglobulin", "clotting_factors", "salvaged_blood", "exchange_transfusion",
    "rapid_infuser",  "cell_therapy"};

constexpr std::string_view code(Component c) { return component_codes[static_cast<std::size_t>(c)]; }
constexpr std::string_view code(NotCovered c) { return not_covered_codes[static_cast<std::size_t>(c)]; }

constexpr std::optional<Component> component_from(std::string_view text) {
    for (std::size_t i = 0; i < component_codes.size(); ++i)
        if (component_codes[i] == text) return static_cast<Component>(i);
    return std::nullopt;
}
constexpr std::optional<NotCovered> not_covered_from(std::string_view text) {
    for (std::size_t i = 0; i < not_covered_codes.size(); ++i)
        if (not_covered_codes[i] == text) return static_cast<NotCovered>(i);
    return std::nullopt;
}

}  // namespace hangtime
