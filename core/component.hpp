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

/// Nothing past the last, as of every other code: that is how codes are counted.
constexpr std::string_view code(Component c) {
    const auto i = static_cast<std::size_t>(c);
    return i < component_codes.size() ? component_codes[i] : std::string_view();
}
constexpr std::string_view code(NotCovered c) {
    const auto i = static_cast<std::size_t>(c);
    return i < not_covered_codes.size() ? not_covered_codes[i] : std::string_view();
}
static_assert(code(Component::granulocytes) == "granulocytes" && code(static_cast<Component>(component_count)).empty());
static_assert(code(NotCovered::cell_therapy) == "cell_therapy" && code(static_cast<NotCovered>(not_covered_count)).empty());

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
