#pragma once

/// Draws what ImGui put together into a plain RGBA framebuffer, without a GPU.
///
/// Use in this order: `set_atlas` after the fonts are baked, then `draw` once for each picture; what it
/// returns are the rectangles that differ from the picture before, so that only these need to be shown.
/// Pixels are 0xAABBGGRR (bytes R, G, B, A in memory, as a canvas wants them), alpha always 255.
///
/// What it relies on, because web/widgets draws nothing else:
/// - coordinates are device pixels; text stands on whole pixels, at the size that it was baked in;
/// - the atlas is one byte of coverage a pixel; only axis-aligned quads are textured;
/// - a triangle has one colour, its alpha may differ from corner to corner (ImGui's antialiased edges).
///
/// The same numbers in give the same picture natively and in WebAssembly, up to ImGui's own rounding.

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

struct ImDrawData;
struct ImDrawList;
struct ImDrawVert;
struct ImDrawCmd;

namespace hangtime::render {

/// Half open: x0 <= x < x1.
struct Rect {
    int x0 = 0, y0 = 0, x1 = 0, y1 = 0;

    bool empty() const { return x0 >= x1 || y0 >= y1; }
    friend bool operator==(const Rect&, const Rect&) = default;
};

constexpr Rect intersect(Rect a, Rect b) {
    return {a.x0 > b.x0 ? a.x0 : b.x0, a.y0 > b.y0 ? a.y0 : b.y0, a.x1 < b.x1 ? a.x1 : b.x1,
            a.y1 < b.y1 ? a.y1 : b.y1};
}

class Renderer {
public:
    /// `alpha` must stay alive and unchanged until the next call. Forces a whole redraw.
    void set_atlas(const std::uint8_t* alpha, int width, int height);

    /// The rectangles that changed; valid until the next call. `ground` lies behind everything.
    std::span<const Rect> draw(const ImDrawData& data, int width, int height, std::uint32_t ground);

    /// The next `draw` redraws everything.
    void invalidate() { whole_ = true; }

    const std::uint32_t* pixels() const { return pixels_.data(); }
    int width() const { return width_; }
    int height() const { return height_; }

private:
    enum class Kind : std::uint8_t { fill, glyphs, flat, shaded };

    // One thing to draw, already clipped to `box`. Without padding, so that its bytes can be hashed.
    struct Shape {
        std::uint32_t color;
        Kind kind;
        std::uint8_t alpha[3];       // of the three corners, when shaded
        std::int16_t x0, y0, x1, y1; // clipped bounds
        std::int32_t x[3], y[3];     // corners in 1/256 pixel; glyphs: x[0], y[0] = atlas minus screen
    };

    void collect(const ImDrawData& data);
    void collect_list(const ImDrawList& list, float origin_x, float origin_y);
    bool add_quad(const ImDrawVert* const v[4], Rect clip);
    void add_triangle(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c, Rect clip);
    void push(const Shape& shape);
    void find_dirty();
    void paint(Rect area);
    void paint_fill(const Shape& s, Rect r);
    void paint_glyphs(const Shape& s, Rect r);
    void paint_triangle(const Shape& s, Rect r);

    std::vector<std::uint32_t> pixels_;
    int width_ = 0, height_ = 0;
    const std::uint8_t* atlas_ = nullptr;
    int atlas_width_ = 0, atlas_height_ = 0;
    float origin_x_ = 0, origin_y_ = 0;
    bool whole_ = true;
    std::vector<Shape> shapes_;
    int tiles_x_ = 0, tiles_y_ = 0;
    std::vector<std::uint64_t> tiles_, tiles_before_; // a hash of what each tile shows
    std::vector<Rect> dirty_;
};

} // namespace hangtime::render
