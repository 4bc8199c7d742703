#pragma once

/// Colours and letters. Two palettes, day and night, in the same roles; their contrasts are checked by
/// tests/web against the formula of WCAG 2.2. There is no colour for late, closing or passed: these are said
/// by words and shapes.

#include <cstdint>

namespace hangtime::ui {

/// 0xAABBGGRR, as the renderer and ImGui take it.
using Color = std::uint32_t;
constexpr Color rgb(std::uint32_t hex) {
    return 0xff000000u | (hex & 0xffu) << 16 | (hex & 0xff00u) | (hex >> 16 & 0xffu);
}
constexpr Color with_alpha(Color c, std::uint32_t alpha) {
    return (c & 0x00ffffffu) | alpha << 24;
}

struct Palette {
    Color ground;     // behind everything
    Color sheet;      // what can be touched or read lies on it
    Color sunk;       // keys, bars that are not filled, what is chosen
    Color ink;        // text
    Color primary;    // the one thing to do, and the focus
    Color on_primary; // text on it
    Color component;  // what is in bag and line, nothing else
    Color saline;     // saline, nothing else
    Color quiet;      // lines and secondary text
    Color edge;       // outlines of what can be touched
};

inline constexpr Palette day = {
    rgb(0xF7F3EA), rgb(0xFFFDF8), rgb(0xEAE4D6), rgb(0x1B262C), rgb(0x34408B),
    rgb(0xFFFDF8), rgb(0x8A2B3A), rgb(0x0F6464), rgb(0x55646C), rgb(0x7B878D),
};
inline constexpr Palette night = {
    rgb(0x12181C), rgb(0x1B2329), rgb(0x2A343C), rgb(0xE6E1D6), rgb(0xA9B4F5),
    rgb(0x12181C), rgb(0xE79AA5), rgb(0x7FD0CB), rgb(0x9FB0B8), rgb(0x66757D),
};

/// The same roles while something is rehearsed: another ground, day and night, so that it is never taken for real. What
/// else says so are words and a striped edge.
inline constexpr Palette rehearsal_day = {
    rgb(0xDAD3EE), rgb(0xECE7F8), rgb(0xCBC2E4), rgb(0x1B262C), rgb(0x34408B),
    rgb(0xFFFDF8), rgb(0x8A2B3A), rgb(0x0B5555), rgb(0x46535A), rgb(0x6B6880),
};
inline constexpr Palette rehearsal_night = {
    rgb(0x2B2145), rgb(0x372C55), rgb(0x473A66), rgb(0xE6E1D6), rgb(0xB4BEFA),
    rgb(0x1B2329), rgb(0xEDA6B0), rgb(0x84D6D1), rgb(0xAEBCC4), rgb(0x8A80A8),
};

/// Sizes of letters, in CSS pixels at zoom 1. `figure` and `hero` hold the characters of figures only.
enum class Face : std::uint8_t { small, body, title, figure, hero };
inline constexpr int face_count = 5;
inline constexpr float face_px[face_count] = {15, 18, 22, 34, 60};

/// What an atlas is baked for: device pixels for a CSS pixel, times the zoom of large screens.
constexpr float zoom_for(float css_width, float css_height) {
    const float fit = css_width / 1280 < css_height / 800 ? css_width / 1280 : css_height / 800;
    return fit < 1 ? 1 : fit > 1.4f ? 1.4f : fit;
}

} // namespace hangtime::ui
