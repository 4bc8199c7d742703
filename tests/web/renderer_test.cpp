/// The renderer against pictures that can be worked out by hand, and against itself: what is redrawn in part
/// must be what is drawn whole.

#include "tests/web/harness.hpp"
#include "web/render/renderer.hpp"

#include <catch2/catch_test_macros.hpp>
#include <imgui.h>

using namespace hangtime;
using render::Renderer;

namespace {

constexpr std::uint32_t white = 0xffffffffu, black = 0xff000000u, red = 0xff0000ffu;

// One frame whose background list is filled by `draw`.
struct Bench {
    ImGuiContext* context = ImGui::CreateContext();
    Renderer renderer;
    std::vector<render::Rect> changed;

    Bench() {
        ImGui::SetCurrentContext(context);
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.DisplaySize = {200, 120};
        unsigned char* alpha = nullptr;
        int w = 0, h = 0;
        io.Fonts->GetTexDataAsAlpha8(&alpha, &w, &h);
        renderer.set_atlas(alpha, w, h);
        ImGui::GetStyle().AntiAliasedLinesUseTex = false;
    }
    ~Bench() { ImGui::DestroyContext(context); }
    Bench(const Bench&) = delete;

    template <class Draw>
    void frame(Draw draw) {
        ImGui::SetCurrentContext(context);
        ImGui::NewFrame();
        draw(*ImGui::GetBackgroundDrawList());
        ImGui::Render();
        const auto rects = renderer.draw(*ImGui::GetDrawData(), 200, 120, white);
        changed.assign(rects.begin(), rects.end());
    }
    std::uint32_t at(int x, int y) const { return renderer.pixels()[y * renderer.width() + x]; }
    int count(std::uint32_t color) const {
        return static_cast<int>(std::count(renderer.pixels(), renderer.pixels() + 200 * 120, color));
    }
};

} // namespace

TEST_CASE("a rectangle covers exactly its pixels", "[render]") {
    Bench b;
    b.frame([](ImDrawList& d) { d.AddRectFilled({10, 20}, {30, 25}, black); });
    CHECK(b.count(black) == 20 * 5);
    CHECK(b.at(10, 20) == black);
    CHECK(b.at(29, 24) == black);
    CHECK(b.at(9, 20) == white);
    CHECK(b.at(30, 24) == white);
}

TEST_CASE("an edge between pixels goes to the pixel whose centre it covers", "[render]") {
    Bench b;
    b.frame([](ImDrawList& d) { d.AddRectFilled({10.4f, 20.6f}, {12.6f, 22.5f}, black); });
    CHECK(b.count(black) == 3 * 1); // x 10.5, 11.5, 12.5; y 21.5 (22.5 is the first outside)
    CHECK(b.at(10, 21) == black);
}

TEST_CASE("half of black on white is the middle grey", "[render]") {
    Bench b;
    b.frame([](ImDrawList& d) { d.AddRectFilled({0, 0}, {10, 10}, 0x80000000u); });
    const std::uint32_t grey = b.at(5, 5) & 0xff;
    CHECK(grey >= 126);
    CHECK(grey <= 128);
    CHECK(b.at(5, 5) == (0xff000000u | grey << 16 | grey << 8 | grey));
}

TEST_CASE("two triangles meet without a gap and without a seam", "[render]") {
    Bench b;
    b.frame([](ImDrawList& d) {
        d.Flags = 0; // without antialiasing
        d.AddTriangleFilled({10, 10}, {90, 13}, {37, 95}, 0x40000000u);
        d.AddTriangleFilled({90, 13}, {150, 100}, {37, 95}, 0x40000000u);
    });
    const std::uint32_t once = b.at(40, 40);
    CHECK(once != white);
    // Every pixel is drawn once or not at all: a seam would be white, an overlap darker.
    CHECK(b.count(once) + b.count(white) == 200 * 120);
    // Half the absolute value of the cross products, within the pixels of the outline.
    const int area = (std::abs((90 - 10) * (95 - 10) - (37 - 10) * (13 - 10)) +
                      std::abs((150 - 90) * (95 - 13) - (37 - 90) * (100 - 13))) /
                     2;
    CHECK(std::abs(b.count(once) - area) < 40);
}

TEST_CASE("nothing is drawn outside the clip rectangle", "[render]") {
    Bench b;
    b.frame([](ImDrawList& d) {
        d.PushClipRect({50, 40}, {60, 45});
        d.AddRectFilled({0, 0}, {200, 120}, black);
        d.AddCircleFilled({55, 42}, 30, red);
        d.PopClipRect();
    });
    CHECK(b.count(white) == 200 * 120 - 10 * 5);
}

TEST_CASE("a disc has its area", "[render]") {
    Bench b;
    b.frame([](ImDrawList& d) { d.AddCircleFilled({100, 60}, 40, black, 128); });
    double area = 0;
    for (int y = 0; y < 120; ++y)
        for (int x = 0; x < 200; ++x)
            area += (255 - (b.at(x, y) & 0xff)) / 255.0;
    CHECK(std::abs(area - 3.14159265 * 40 * 40) < 3.14159265 * 40 * 40 * 0.015);
}

TEST_CASE("only what changed is drawn again, and it is what a whole picture is", "[render]") {
    const auto scene = [](float x) {
        return [x](ImDrawList& d) {
            d.AddRectFilled({5, 5}, {195, 115}, 0xffd0e0f0u, 8);
            d.AddCircleFilled({x, 60}, 15, 0xa0204080u);
            d.AddLine({0, 0}, {200, 120}, red, 3);
            d.AddText({120, 90}, black, "12:34");
        };
    };
    Bench part;
    part.frame(scene(40));
    part.frame(scene(40));
    CHECK(part.changed.empty());
    for (const float x : {43.0f, 70.0f, 150.0f}) {
        part.frame(scene(x));
        std::int64_t area = 0;
        for (const render::Rect& r : part.changed)
            area += (r.x1 - r.x0) * (r.y1 - r.y0);
        CHECK(area > 0);
        CHECK(area < 200 * 120);
        Bench whole;
        whole.frame(scene(x));
        CHECK(
            std::equal(part.renderer.pixels(), part.renderer.pixels() + 200 * 120, whole.renderer.pixels()));
    }
}

TEST_CASE("a screen that was worked on is drawn as a fresh one", "[render][plan]") {
    const auto same = [](test::Page& worked, test::Page& fresh, const std::vector<std::uint32_t>& before) {
        (void)worked;
        CHECK(fresh.shown().pixels == before);
    };
    std::vector<std::uint32_t> before;
    test::Page worked;
    worked.enter("Red cells", "316", "1340", "1352");
    for (const char* id : {"rate.set", "finish.by", "finish.by", "unit.volume", "unit.volume"})
        worked.tap(id);
    worked.wheel("rate.set", 300);
    worked.wheel("rate.set", -3000);
    worked.resize(900, 700, 1);
    worked.resize(1280, 800, 1);
    before = worked.shown().pixels;
    platform::twin::reset(1280, 800, 1);
    test::Page fresh;
    fresh.enter("Red cells", "316", "1340", "1352");
    same(worked, fresh, before);
}
