#include "web/widgets/glyphs.hpp"

#include "web/widgets/font.hpp"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <cstring>

// The rasteriser that comes with Dear ImGui, set up as imgui_draw.cpp does, so that it draws the same pixels.
#define STBTT_malloc(x, u) ((void)(u), IM_ALLOC(x))
#define STBTT_free(x, u) ((void)(u), IM_FREE(x))
#define STBTT_assert(x) \
    do { \
        IM_ASSERT(x); \
    } while (0)
#define STBTT_fmod(x, y) ImFmod(x, y)
#define STBTT_sqrt(x) ImSqrt(x)
#define STBTT_pow(x, y) ImPow(x, y)
#define STBTT_fabs(x) ImFabs(x)
#define STBTT_ifloor(x) ((int)ImFloor(x))
#define STBTT_iceil(x) ((int)ImCeil(x))
#define STBTT_STATIC
#define STB_TRUETYPE_IMPLEMENTATION
#include <imstb_truetype.h>

namespace hangtime::ui {
namespace {

constexpr int atlas_width = 1024;
constexpr int gap = 1; // empty pixels between letters

// Latin with accents for the text, and the few signs that are used; figures only for the large faces.
constexpr unsigned signs[] = {0x2013, 0x2014, 0x2019, 0x201c, 0x201d, 0x2026, 0x2212};

bool is_figure(unsigned c) {
    return c == 0x20 || (c >= 0x2d && c <= 0x3a) || c == 0x2013;
}

// Room for everything that may be asked for; tests/web/glyphs_test.cpp asks for all of it at five densities.
int height_for(std::span<const float> sizes) {
    float pixels = 0;
    for (std::size_t i = 0; i < sizes.size(); ++i)
        pixels += (i < static_cast<std::size_t>(Face::figure) ? 124.0f : 12.0f) * sizes[i] * sizes[i];
    return ImUpperPowerOfTwo(std::max(256, static_cast<int>(pixels / static_cast<float>(atlas_width))));
}

} // namespace

Glyphs::Glyphs() : info_(std::make_unique<stbtt_fontinfo>()) {
    stbtt_InitFont(info_.get(), font_bytes, 0);
}

Glyphs::~Glyphs() = default;

int Glyphs::slot(unsigned c) {
    if ((c >= 0x20 && c <= 0x7e) || (c >= 0xa0 && c <= 0xff))
        return static_cast<int>(c);
    for (std::size_t i = 0; i < std::size(signs); ++i)
        if (signs[i] == c)
            return 256 + static_cast<int>(i);
    return -1;
}

void Glyphs::start(ImFontAtlas& atlas, std::span<const float> sizes) {
    atlas_ = &atlas;
    atlas.Clear();
    for (std::size_t i = 0; i < faces_.size(); ++i) {
        ImFontConfig config;
        config.FontDataOwnedByAtlas = false;
        config.OversampleH = 1;
        config.PixelSnapH = true;
        faces_[i] = {};
        faces_[i].font = atlas.AddFontFromMemoryTTF(const_cast<unsigned char*>(font_bytes), font_size,
                                                    sizes[i], &config);
    }
    atlas.TexWidth = atlas_width;
    atlas.TexHeight = height_for(sizes);
    const auto pixels = static_cast<std::size_t>(atlas.TexWidth) * static_cast<std::size_t>(atlas.TexHeight);
    atlas.TexPixelsAlpha8 = static_cast<unsigned char*>(IM_ALLOC(pixels));
    std::memset(atlas.TexPixelsAlpha8, 0, pixels);
    atlas.TexUvScale = {1.0f / static_cast<float>(atlas.TexWidth),
                        1.0f / static_cast<float>(atlas.TexHeight)};
    atlas.TexPixelsAlpha8[0] = 255; // what filled shapes are drawn with
    atlas.TexUvWhitePixel = {0.5f * atlas.TexUvScale.x, 0.5f * atlas.TexUvScale.y};
    atlas.TexReady = true;
    free_y_ = 1 + gap;

    int ascent = 0, descent = 0, line_gap = 0;
    stbtt_GetFontVMetrics(info_.get(), &ascent, &descent, &line_gap);
    const auto rounded = [](int unscaled, float scale) {
        return std::trunc(static_cast<float>(unscaled) * scale + (unscaled > 0 ? 1.0f : -1.0f));
    };
    for (FaceState& face : faces_) {
        ImFontConfig* config = const_cast<ImFontConfig*>(face.font->ConfigData);
        config->SizePixels = std::trunc(config->SizePixels);
        face.scale = stbtt_ScaleForPixelHeight(info_.get(), config->SizePixels);
        ImFontAtlasBuildSetupFont(&atlas, face.font, config, rounded(ascent, face.scale),
                                  rounded(descent, face.scale));
        face.font->Glyphs.reserve(256);
    }
    for (int i = 0; i < face_count; ++i) {
        need(static_cast<Face>(i), " ?");
        faces_[static_cast<std::size_t>(i)].font->BuildLookupTable(); // finds what stands for what is missing
    }
}

void Glyphs::need(Face which, std::string_view text) {
    FaceState& face = faces_[static_cast<std::size_t>(which)];
    const char* at = text.data();
    const char* const end = at + text.size();
    while (at < end) {
        unsigned c = static_cast<unsigned char>(*at);
        at += c < 0x80 ? 1 : ImTextCharFromUtf8(&c, at, end);
        const int s = slot(c);
        if (s < 0 || face.seen[static_cast<std::size_t>(s)])
            continue;
        face.seen[static_cast<std::size_t>(s)] = true;
        if (which < Face::figure || is_figure(c))
            add(face, c);
    }
}

bool Glyphs::place(FaceState& face, int w, int h, int& x, int& y) {
    if (face.x + w + gap > atlas_->TexWidth || face.top + h + gap > face.bottom || face.bottom == 0) {
        const int height = std::max(h, static_cast<int>(face.font->FontSize)) + gap;
        if (free_y_ + height > atlas_->TexHeight)
            return false;
        face.x = gap;
        face.top = free_y_;
        face.bottom = free_y_ += height;
    }
    x = face.x;
    y = face.top;
    face.x += w + gap;
    return true;
}

void Glyphs::add(FaceState& face, unsigned c) {
    const int index = stbtt_FindGlyphIndex(info_.get(), static_cast<int>(c));
    if (index == 0)
        return;
    int x0 = 0, y0 = 0, x1 = 0, y1 = 0, advance = 0, bearing = 0, x = 0, y = 0;
    stbtt_GetGlyphBitmapBoxSubpixel(info_.get(), index, face.scale, face.scale, 0, 0, &x0, &y0, &x1, &y1);
    stbtt_GetGlyphHMetrics(info_.get(), index, &advance, &bearing);
    const int w = x1 - x0, h = y1 - y0;
    if (w > 0 && h > 0) {
        if (!place(face, w, h, x, y))
            return;
        stbtt_MakeGlyphBitmapSubpixel(info_.get(), atlas_->TexPixelsAlpha8 + y * atlas_->TexWidth + x, w, h,
                                      atlas_->TexWidth, face.scale, face.scale, 0, 0, index);
    }
    ImFont& font = *face.font;
    const auto number = [](int v) { return static_cast<float>(v); };
    const float down = std::trunc(font.Ascent + 0.5f);
    const ImVec2 uv = atlas_->TexUvScale;
    font.AddGlyph(font.ConfigData, static_cast<ImWchar>(c), number(x0), number(y0) + down, number(x1),
                  number(y1) + down, number(x) * uv.x, number(y) * uv.y, number(x + w) * uv.x,
                  number(y + h) * uv.y, number(advance) * face.scale);
    if (font.FallbackGlyph == nullptr)
        return; // the first ones: the table is made from all of them
    const int before = font.IndexAdvanceX.Size;
    if (static_cast<int>(c) >= before) {
        font.GrowIndex(static_cast<int>(c) + 1);
        std::fill(font.IndexAdvanceX.begin() + before, font.IndexAdvanceX.end(), font.FallbackAdvanceX);
    }
    font.IndexAdvanceX[static_cast<int>(c)] = font.Glyphs.back().AdvanceX;
    font.IndexLookup[static_cast<int>(c)] = static_cast<ImWchar>(font.Glyphs.Size - 1);
    font.FallbackGlyph = font.FindGlyphNoFallback(font.FallbackChar); // they may have moved
    font.DirtyLookupTables = false;
}

} // namespace hangtime::ui
