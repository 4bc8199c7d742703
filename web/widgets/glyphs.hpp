#pragma once

#include "web/widgets/theme.hpp"

#include <imgui.h>

#include <array>
#include <memory>
#include <span>
#include <string_view>

struct stbtt_fontinfo;

namespace hangtime::ui {

/// Letters are drawn into the atlas when a text first needs them: a screen shows a fifth of those that the font
/// has, and drawing them all took longer than everything else before the first picture. Each comes out as
/// Dear ImGui's own builder makes it, pixel for pixel.
class Glyphs {
public:
    Glyphs();
    ~Glyphs();

    /// An empty atlas, and a face for each of these sizes, in device pixels and in the order of Face.
    void start(ImFontAtlas& atlas, std::span<const float> sizes);
    ImFont* font(Face face) const { return faces_[static_cast<std::size_t>(face)].font; }

    /// Call with each text before it is measured or drawn. What the font or the face lacks is left out, and
    /// shows as '?', or as a space in the faces of figures.
    void need(Face face, std::string_view text);

private:
    static constexpr int others = 8; // signs beyond Latin-1
    struct FaceState {
        ImFont* font = nullptr;
        float scale = 0;
        int x = 0, bottom = 0, top = 0; // the shelf that is being filled
        std::array<bool, 256 + others> seen{};
    };
    static int slot(unsigned character);
    void add(FaceState& face, unsigned character);
    bool place(FaceState& face, int w, int h, int& x, int& y);

    std::unique_ptr<stbtt_fontinfo> info_;
    ImFontAtlas* atlas_ = nullptr;
    std::array<FaceState, face_count> faces_;
    int free_y_ = 0; // where no shelf is yet
};

} // namespace hangtime::ui
