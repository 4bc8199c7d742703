#include "web/widgets/font.hpp"
#include "web/widgets/ui.hpp"

#include <catch2/catch_test_macros.hpp>
#include <imgui.h>

#include <cmath>
#include <cstring>
#include <string>
#include <utility>

using namespace hangtime;
using namespace hangtime::ui;

namespace {

// What the first page promised to its texts: Latin with accents and a few signs; figures for the large faces.
const ImWchar letters[] = {0x20,   0x7e,   0xa0,   0xff,   0x2013, 0x2014, 0x2019, 0x2019,
                           0x201c, 0x201d, 0x2026, 0x2026, 0x2212, 0x2212, 0};
const ImWchar figures[] = {0x20, 0x20, 0x2d, 0x3a, 0x2013, 0x2013, 0};

std::string all_letters() {
    std::string out;
    for (const ImWchar* r = letters; *r != 0; r += 2)
        for (unsigned c = r[0]; c <= r[1]; ++c) {
            if (c < 0x80) {
                out += static_cast<char>(c);
            } else if (c < 0x800) {
                out += static_cast<char>(0xc0 | c >> 6);
                out += static_cast<char>(0x80 | (c & 0x3f));
            } else {
                out += static_cast<char>(0xe0 | c >> 12);
                out += static_cast<char>(0x80 | (c >> 6 & 0x3f));
                out += static_cast<char>(0x80 | (c & 0x3f));
            }
        }
    return out;
}

} // namespace

// The reference is Dear ImGui's own builder, given the same font, sizes and ranges at once.
TEST_CASE("letters that are drawn when needed are those of Dear ImGui's builder", "[glyphs]") {
    const float least = 1280, most = 1920; // CSS pixels of width: zooms of 1 and of 1.4
    const std::pair<float, float> cases[] = {{1, least}, {1.25f, least}, {2, least}, {3, least},
                                             {1, most},  {1.5f, most},   {3, most}};
    for (const auto& [scale, wide] : cases) {
        INFO("device pixels for a CSS pixel: " << scale << ", width " << wide);
        const float high = wide / 1.6f;
        Ui ui;
        const platform::Surface surface{static_cast<int>(wide * scale), static_cast<int>(high * scale), scale,
                                        false};
        REQUIRE(ui.fit(surface));
        ImFontAtlas reference;
        reference.Flags = ImFontAtlasFlags_NoMouseCursors | ImFontAtlasFlags_NoBakedLines;
        const float zoom = zoom_for(wide, high);
        for (int i = 0; i < face_count; ++i) {
            ImFontConfig config;
            config.FontDataOwnedByAtlas = false;
            config.OversampleH = 1;
            config.PixelSnapH = true;
            reference.AddFontFromMemoryTTF(const_cast<unsigned char*>(font_bytes), font_size,
                                           std::round(face_px[i] * scale * zoom), &config,
                                           i < static_cast<int>(Face::figure) ? letters : figures);
        }
        REQUIRE(reference.Build());
        const std::string all = all_letters();
        const Ui::Atlas ours = ui.atlas();
        for (int i = 0; i < face_count; ++i) {
            const auto face = static_cast<Face>(i);
            // In parts, and twice, as screens do it.
            for (std::size_t from = 0; from < all.size(); from += 96)
                ui.text_width(face, std::string_view(all).substr(from, 96));
            ui.text_width(face, all);
            const ImFont& theirs = *reference.Fonts[i];
            const ImFont& font = *ui.font(face);
            CHECK(font.FontSize == theirs.FontSize);
            CHECK(font.Ascent == theirs.Ascent);
            CHECK(font.Descent == theirs.Descent);
            CHECK(font.FallbackChar == theirs.FallbackChar);
            CHECK(font.FallbackAdvanceX == theirs.FallbackAdvanceX);
            for (unsigned c = 0x20; c < 0x2300; ++c) {
                INFO("face " << i << ", character " << c);
                const ImFontGlyph* a = font.FindGlyphNoFallback(static_cast<ImWchar>(c));
                const ImFontGlyph* b = theirs.FindGlyphNoFallback(static_cast<ImWchar>(c));
                REQUIRE((a == nullptr) == (b == nullptr));
                REQUIRE(font.GetCharAdvance(static_cast<ImWchar>(c)) ==
                        theirs.GetCharAdvance(static_cast<ImWchar>(c)));
                if (a == nullptr)
                    continue;
                REQUIRE(a->Visible == b->Visible);
                if (a->Visible == 0)
                    continue;
                const bool same_box = a->X0 == b->X0 && a->X1 == b->X1 && a->Y0 == b->Y0 && a->Y1 == b->Y1;
                REQUIRE(same_box);
                const auto start = [](const ImFontGlyph& g, int width, int height) {
                    return std::lround(g.V0 * static_cast<float>(height)) * width +
                           std::lround(g.U0 * static_cast<float>(width));
                };
                const std::uint8_t* one = ours.alpha + start(*a, ours.width, ours.height);
                const unsigned char* two =
                    reference.TexPixelsAlpha8 + start(*b, reference.TexWidth, reference.TexHeight);
                const auto wide = static_cast<std::size_t>(a->X1 - a->X0);
                bool same = true;
                for (int y = 0; y < static_cast<int>(a->Y1 - a->Y0); ++y)
                    same = same &&
                           std::memcmp(one + y * ours.width, two + y * reference.TexWidth, wide) == 0;
                REQUIRE(same);
            }
        }
    }
}
