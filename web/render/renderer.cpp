#include "web/render/renderer.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <cstring>

namespace hangtime::render {
namespace {

constexpr int tile_w = 64, tile_h = 32; // pixels
constexpr std::size_t most_rects = 24;  // more than that are merged into one

std::uint32_t alpha_of(std::uint32_t color) {
    return color >> 24;
}

// 0..255 to 0..256, so that full alpha gives the colour exactly.
std::uint32_t weight(std::uint32_t alpha) {
    return alpha + (alpha >> 7);
}

std::uint32_t blend(std::uint32_t under, std::uint32_t color, std::uint32_t w) {
    const std::uint32_t rest = 256 - w;
    const std::uint32_t rb = ((color & 0xff00ffu) * w + (under & 0xff00ffu) * rest) >> 8 & 0xff00ffu;
    const std::uint32_t g = ((color & 0xff00u) * w + (under & 0xff00u) * rest) >> 8 & 0xff00u;
    return 0xff000000u | rb | g;
}

void fill_span(std::uint32_t* out, int n, std::uint32_t color) {
    const std::uint32_t w = weight(alpha_of(color));
    if (w == 256) {
        for (int i = 0; i < n; ++i)
            out[i] = color;
        return;
    }
    for (int i = 0; i < n; ++i)
        out[i] = blend(out[i], color, w);
}

// The first pixel whose centre is at or right of (below) an edge, in whole pixels.
int first_centre(float edge) {
    return static_cast<int>(std::ceil(edge - 0.5f));
}
std::int32_t fixed(float v) {
    return static_cast<std::int32_t>(std::floor(v * 256.0f + 0.5f));
}
int first_centre_fixed(std::int64_t v) {
    return static_cast<int>((v + 127) >> 8);
}

std::uint64_t mix(std::uint64_t a, std::uint64_t b) {
    a = (a ^ b) * 0x9e3779b97f4a7c15u;
    return a ^ (a >> 29);
}

std::int16_t short_of(int v) {
    return static_cast<std::int16_t>(v);
}

} // namespace

void Renderer::set_atlas(const std::uint8_t* alpha, int width, int height) {
    atlas_ = alpha;
    atlas_width_ = width;
    atlas_height_ = height;
    whole_ = true;
}

std::span<const Rect> Renderer::draw(const ImDrawData& data, int width, int height, std::uint32_t ground) {
    if (width != width_ || height != height_) {
        width_ = width;
        height_ = height;
        std::vector<std::uint32_t>().swap(pixels_); // give the old one back first: memory does not grow
        pixels_.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
        tiles_x_ = (width + tile_w - 1) / tile_w;
        tiles_y_ = (height + tile_h - 1) / tile_h;
        whole_ = true;
    }
    shapes_.clear();
    tiles_.assign(static_cast<std::size_t>(tiles_x_ * tiles_y_), 0);
    Shape behind{};
    behind.color = ground | 0xff000000u;
    behind.kind = Kind::fill;
    behind.x1 = short_of(width);
    behind.y1 = short_of(height);
    push(behind);
    collect(data);
    find_dirty();
    for (const Rect& r : dirty_)
        paint(r);
    tiles_before_.swap(tiles_);
    whole_ = false;
    return dirty_;
}

void Renderer::push(const Shape& shape) {
    std::uint64_t words[sizeof(Shape) / 8 + 1] = {};
    static_assert(sizeof(Shape) == 40, "no padding: the bytes are hashed");
    std::memcpy(words, &shape, sizeof(Shape));
    std::uint64_t h = 0;
    for (std::size_t i = 0; i < sizeof(Shape) / 8; ++i)
        h = mix(h, words[i]);
    const int left = shape.x0 / tile_w, right = (shape.x1 - 1) / tile_w;
    const int top = shape.y0 / tile_h, bottom = (shape.y1 - 1) / tile_h;
    for (int ty = top; ty <= bottom; ++ty)
        for (int tx = left; tx <= right; ++tx) {
            std::uint64_t& tile = tiles_[static_cast<std::size_t>(ty * tiles_x_ + tx)];
            tile = mix(tile + 1, h);
        }
    shapes_.push_back(shape);
}

void Renderer::collect(const ImDrawData& data) {
    origin_x_ = data.DisplayPos.x;
    origin_y_ = data.DisplayPos.y;
    for (int n = 0; n < data.CmdListsCount; ++n)
        collect_list(*data.CmdLists[n], origin_x_, origin_y_);
}

void Renderer::collect_list(const ImDrawList& list, float origin_x, float origin_y) {
    const ImDrawIdx* indices = list.IdxBuffer.Data;
    for (const ImDrawCmd& cmd : list.CmdBuffer) {
        if (cmd.UserCallback != nullptr)
            continue;
        const Rect clip = intersect({0, 0, width_, height_}, {static_cast<int>(cmd.ClipRect.x - origin_x),
                                                              static_cast<int>(cmd.ClipRect.y - origin_y),
                                                              static_cast<int>(cmd.ClipRect.z - origin_x),
                                                              static_cast<int>(cmd.ClipRect.w - origin_y)});
        if (clip.empty())
            continue;
        const ImDrawVert* vertices = list.VtxBuffer.Data + cmd.VtxOffset;
        const ImDrawIdx* at = indices + cmd.IdxOffset;
        const ImDrawIdx* end = at + cmd.ElemCount;
        while (at + 3 <= end) {
            // ImGui writes every rectangle and every glyph as a, b, c, a, c, d.
            if (at + 6 <= end && at[3] == at[0] && at[4] == at[2]) {
                const ImDrawVert* const quad[4] = {vertices + at[0], vertices + at[1], vertices + at[2],
                                                   vertices + at[5]};
                if (add_quad(quad, clip)) {
                    at += 6;
                    continue;
                }
            }
            add_triangle(vertices[at[0]], vertices[at[1]], vertices[at[2]], clip);
            at += 3;
        }
    }
}

bool Renderer::add_quad(const ImDrawVert* const v[4], Rect clip) {
    const ImDrawVert &a = *v[0], &b = *v[1], &c = *v[2], &d = *v[3];
    if (a.pos.y != b.pos.y || b.pos.x != c.pos.x || c.pos.y != d.pos.y || d.pos.x != a.pos.x)
        return false;
    if (a.col != b.col || a.col != c.col || a.col != d.col)
        return false;
    if (a.pos.x > c.pos.x || a.pos.y > c.pos.y)
        return false;
    if (alpha_of(a.col) == 0)
        return true;
    const int x0 = first_centre(a.pos.x - origin_x_), y0 = first_centre(a.pos.y - origin_y_);
    const Rect r =
        intersect(clip, {x0, y0, first_centre(c.pos.x - origin_x_), first_centre(c.pos.y - origin_y_)});
    if (r.empty())
        return true;
    Shape s{};
    s.color = a.col;
    s.x0 = short_of(r.x0), s.y0 = short_of(r.y0), s.x1 = short_of(r.x1), s.y1 = short_of(r.y1);
    if (a.uv.x == c.uv.x && a.uv.y == c.uv.y) {
        s.kind = Kind::fill;
    } else {
        s.kind = Kind::glyphs;
        s.x[0] = static_cast<int>(std::lround(a.uv.x * static_cast<float>(atlas_width_))) - x0;
        s.y[0] = static_cast<int>(std::lround(a.uv.y * static_cast<float>(atlas_height_))) - y0;
        // Never read beside the atlas, whatever the coordinates say.
        if (s.x[0] + r.x0 < 0 || s.y[0] + r.y0 < 0)
            return true;
        s.x1 = short_of(std::min<int>(s.x1, atlas_width_ - s.x[0]));
        s.y1 = short_of(std::min<int>(s.y1, atlas_height_ - s.y[0]));
        if (s.x0 >= s.x1 || s.y0 >= s.y1)
            return true;
    }
    push(s);
    return true;
}

void Renderer::add_triangle(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c, Rect clip) {
    const ImDrawVert* v[3] = {&a, &b, &c};
    std::uint32_t alpha[3] = {alpha_of(a.col), alpha_of(b.col), alpha_of(c.col)};
    if ((alpha[0] | alpha[1] | alpha[2]) == 0)
        return;
    Shape s{};
    int strongest = 0;
    for (int i = 0; i < 3; ++i) {
        s.x[i] = fixed(v[i]->pos.x - origin_x_);
        s.y[i] = fixed(v[i]->pos.y - origin_y_);
        s.alpha[i] = static_cast<std::uint8_t>(alpha[i]);
        if (alpha[i] > alpha[strongest])
            strongest = i;
    }
    s.color = v[strongest]->col;
    s.kind = alpha[0] == alpha[1] && alpha[1] == alpha[2] ? Kind::flat : Kind::shaded;
    const auto [left, right] = std::minmax({s.x[0], s.x[1], s.x[2]});
    const auto [top, bottom] = std::minmax({s.y[0], s.y[1], s.y[2]});
    const Rect r = intersect(clip, {first_centre_fixed(left), first_centre_fixed(top),
                                    first_centre_fixed(right), first_centre_fixed(bottom)});
    if (r.empty())
        return;
    s.x0 = short_of(r.x0), s.y0 = short_of(r.y0), s.x1 = short_of(r.x1), s.y1 = short_of(r.y1);
    push(s);
}

void Renderer::find_dirty() {
    dirty_.clear();
    if (whole_ || tiles_before_.size() != tiles_.size()) {
        dirty_.push_back({0, 0, width_, height_});
        return;
    }
    std::size_t row_before = 0; // where the rectangles of the tile row above start
    std::size_t row_start = 0;
    for (int ty = 0; ty < tiles_y_; ++ty) {
        row_before = row_start;
        row_start = dirty_.size();
        const std::size_t base = static_cast<std::size_t>(ty * tiles_x_);
        for (int tx = 0; tx < tiles_x_; ++tx) {
            if (tiles_[base + static_cast<std::size_t>(tx)] ==
                tiles_before_[base + static_cast<std::size_t>(tx)])
                continue;
            const int first = tx;
            while (tx < tiles_x_ && tiles_[base + static_cast<std::size_t>(tx)] !=
                                        tiles_before_[base + static_cast<std::size_t>(tx)])
                ++tx;
            const Rect r = {first * tile_w, ty * tile_h, std::min(tx * tile_w, width_),
                            std::min((ty + 1) * tile_h, height_)};
            bool merged = false;
            for (std::size_t i = row_before; i < row_start && !merged; ++i)
                if (dirty_[i].x0 == r.x0 && dirty_[i].x1 == r.x1 && dirty_[i].y1 == r.y0) {
                    // Taken out and put behind, so that the row below finds it among this row's.
                    const Rect tall = {r.x0, dirty_[i].y0, r.x1, r.y1};
                    dirty_.erase(dirty_.begin() + static_cast<std::ptrdiff_t>(i));
                    --row_start;
                    dirty_.push_back(tall);
                    merged = true;
                }
            if (!merged)
                dirty_.push_back(r);
        }
    }
    if (dirty_.size() > most_rects) {
        Rect all = dirty_[0];
        for (const Rect& r : dirty_)
            all = {std::min(all.x0, r.x0), std::min(all.y0, r.y0), std::max(all.x1, r.x1),
                   std::max(all.y1, r.y1)};
        dirty_.assign(1, all);
    }
}

void Renderer::paint(Rect area) {
    for (const Shape& s : shapes_) {
        const Rect r = intersect(area, {s.x0, s.y0, s.x1, s.y1});
        if (r.empty())
            continue;
        switch (s.kind) {
        case Kind::fill:
            paint_fill(s, r);
            break;
        case Kind::glyphs:
            paint_glyphs(s, r);
            break;
        case Kind::flat:
        case Kind::shaded:
            paint_triangle(s, r);
            break;
        }
    }
}

void Renderer::paint_fill(const Shape& s, Rect r) {
    for (int y = r.y0; y < r.y1; ++y)
        fill_span(pixels_.data() + y * width_ + r.x0, r.x1 - r.x0, s.color);
}

void Renderer::paint_glyphs(const Shape& s, Rect r) {
    const std::uint32_t strength = weight(alpha_of(s.color));
    const std::uint32_t color = s.color | 0xff000000u;
    for (int y = r.y0; y < r.y1; ++y) {
        const std::uint8_t* in = atlas_ + (y + s.y[0]) * atlas_width_ + s.x[0];
        std::uint32_t* out = pixels_.data() + y * width_;
        for (int x = r.x0; x < r.x1; ++x) {
            const std::uint32_t coverage = in[x];
            if (coverage == 0)
                continue;
            const std::uint32_t w = weight(coverage) * strength >> 8;
            out[x] = w == 256 ? color : blend(out[x], color, w);
        }
    }
}

void Renderer::paint_triangle(const Shape& s, Rect r) {
    // Corners from top to bottom. Every number is worked out from the whole triangle, never from the clipped
    // part, so that a redrawn tile meets its neighbours without a seam.
    int top = 0, middle = 1, bottom = 2;
    if (s.y[middle] < s.y[top])
        std::swap(middle, top);
    if (s.y[bottom] < s.y[middle])
        std::swap(bottom, middle);
    if (s.y[middle] < s.y[top])
        std::swap(middle, top);
    const auto edge = [&s](int from, int to, std::int64_t y) -> std::int64_t {
        const std::int64_t dy = s.y[to] - s.y[from];
        return s.x[from] +
               (dy == 0 ? 0 : (static_cast<std::int64_t>(s.x[to]) - s.x[from]) * (y - s.y[from]) / dy);
    };
    float per_x = 0, per_y = 0, at_origin = 0;
    if (s.kind == Kind::shaded) {
        const float x1 = static_cast<float>(s.x[1] - s.x[0]), y1 = static_cast<float>(s.y[1] - s.y[0]);
        const float x2 = static_cast<float>(s.x[2] - s.x[0]), y2 = static_cast<float>(s.y[2] - s.y[0]);
        const float det = x1 * y2 - x2 * y1;
        if (det == 0)
            return;
        const float a1 = static_cast<float>(s.alpha[1]) - static_cast<float>(s.alpha[0]);
        const float a2 = static_cast<float>(s.alpha[2]) - static_cast<float>(s.alpha[0]);
        per_x = (a1 * y2 - a2 * y1) / det * 256.0f;
        per_y = (a2 * x1 - a1 * x2) / det * 256.0f;
        at_origin = static_cast<float>(s.alpha[0]) - per_x * (static_cast<float>(s.x[0]) / 256.0f - 0.5f) -
                    per_y * (static_cast<float>(s.y[0]) / 256.0f - 0.5f);
    }
    for (int y = r.y0; y < r.y1; ++y) {
        const std::int64_t centre = static_cast<std::int64_t>(y) * 256 + 128;
        if (centre < s.y[top] || centre >= s.y[bottom])
            continue;
        std::int64_t left = edge(top, bottom, centre);
        std::int64_t right = centre < s.y[middle] ? edge(top, middle, centre) : edge(middle, bottom, centre);
        if (left > right)
            std::swap(left, right);
        const int x0 = std::max(first_centre_fixed(left), r.x0),
                  x1 = std::min(first_centre_fixed(right), r.x1);
        if (x0 >= x1)
            continue;
        std::uint32_t* out = pixels_.data() + y * width_;
        if (s.kind == Kind::flat) {
            fill_span(out + x0, x1 - x0, s.color);
            continue;
        }
        const float row = at_origin + per_y * static_cast<float>(y);
        for (int x = x0; x < x1; ++x) {
            const int alpha =
                std::clamp(static_cast<int>(row + per_x * static_cast<float>(x) + 0.5f), 0, 255);
            out[x] = blend(out[x], s.color, weight(static_cast<std::uint32_t>(alpha)));
        }
    }
}

} // namespace hangtime::render
