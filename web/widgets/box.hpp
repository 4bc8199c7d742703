#pragma once

/// A rectangle that is cut up from its sides: all layout is done with it. Device pixels.

#include <algorithm>

namespace hangtime::ui {

struct Box {
    float x = 0, y = 0, w = 0, h = 0;

    float right() const { return x + w; }
    float bottom() const { return y + h; }
    bool contains(float px, float py) const { return px >= x && px < right() && py >= y && py < bottom(); }

    Box inset(float by) const { return inset(by, by); }
    Box inset(float across, float down) const {
        return {x + across, y + down, std::max(0.0f, w - 2 * across), std::max(0.0f, h - 2 * down)};
    }

    /// Cuts a strip off and leaves the rest, without `gap` between the two.
    Box cut_top(float size, float gap = 0) {
        const float s = std::min(size, h);
        const Box strip = {x, y, w, s};
        const float used = std::min(h, s + gap);
        y += used, h -= used;
        return strip;
    }
    Box cut_bottom(float size, float gap = 0) {
        const float s = std::min(size, h);
        const Box strip = {x, bottom() - s, w, s};
        h -= std::min(h, s + gap);
        return strip;
    }
    Box cut_left(float size, float gap = 0) {
        const float s = std::min(size, w);
        const Box strip = {x, y, s, h};
        const float used = std::min(w, s + gap);
        x += used, w -= used;
        return strip;
    }
    Box cut_right(float size, float gap = 0) {
        const float s = std::min(size, w);
        const Box strip = {right() - s, y, s, h};
        w -= std::min(w, s + gap);
        return strip;
    }

    /// The cell of a grid with `gap` between cells, on whole pixels; it may span several cells.
    Box cell(int columns, int rows, int column, int row, float gap, int across = 1, int down = 1) const {
        const float cw = (w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
        const float ch = (h - gap * static_cast<float>(rows - 1)) / static_cast<float>(rows);
        const auto at = [gap](float origin, float size, int n) {
            return static_cast<float>(static_cast<int>(origin + static_cast<float>(n) * (size + gap)));
        };
        const float x0 = at(x, cw, column), y0 = at(y, ch, row);
        return {x0, y0, at(x, cw, column + across) - gap - x0, at(y, ch, row + down) - gap - y0};
    }
};

} // namespace hangtime::ui
