/// The trend of each sign: what it says, and that a gap stays one.

#include "web/render/renderer.hpp"
#include "web/widgets/trend.hpp"

#include <catch2/catch_test_macros.hpp>

#include <string>
#include <vector>

using namespace hangtime;
using namespace hangtime::ui;

namespace {

class Picture {
public:
    explicit Picture(int width = 1280, int height = 800) {
        surface_.width = width;
        surface_.height = height;
        surface_.scale = 1;
    }

    void show(const Trend& t) {
        if (ui.fit(surface_)) {
            const Ui::Atlas atlas = ui.atlas();
            renderer_.set_atlas(atlas.alpha, atlas.width, atlas.height);
        }
        ui.begin();
        trend(ui, ui.screen().inset(ui.px(24)), t);
        ui.end();
        renderer_.draw(*ui.draw_data(), surface_.width, surface_.height, ui.palette().ground);
    }

    int dark_pixels() const {
        int out = 0;
        for (int i = 0; i < surface_.width * surface_.height; ++i)
            out += renderer_.pixels()[i] == ui.palette().ink;
        return out;
    }

    Ui ui;

private:
    platform::Surface surface_;
    render::Renderer renderer_;
};

TrendSign pulse(std::span<const TrendPoint> points) {
    TrendSign sign;
    sign.id = "trend.pulse";
    sign.name = "Pulse";
    sign.baseline_text = "78 /min";
    sign.last_text = "96 /min";
    sign.points = points;
    sign.has_baseline = true;
    sign.baseline = 78;
    sign.least_span = 20;
    return sign;
}

} // namespace

TEST_CASE("each sign has a picture of its own that says baseline, last value and a change", "[trend]") {
    const std::vector<TrendPoint> points = {{900, 80}, {3000, 96}};
    std::vector<TrendSign> signs(3, pulse(points));
    signs[1].id = "trend.temperature";
    signs[1].name = "Temperature";
    signs[1].last_text = "38.4 \xC2\xB0" "C";
    signs[1].prompt = true;
    signs[2].id = "trend.saturation";
    signs[2].last_text = signs[2].baseline_text = "not recorded";
    signs[2].points = {};
    signs[2].has_baseline = false;
    Trend t;
    t.to = 3600;
    t.signs = signs;
    for (const int width : {1280, 380}) {
        Picture picture(width);
        picture.show(t);
        const auto label = [&](const char* id) { return std::string(picture.ui.nodes().find(id)->label); };
        REQUIRE(picture.ui.nodes().find("trend.saturation"));
        CHECK(label("trend.pulse") == "Pulse: 78 /min at baseline, 96 /min last");
        CHECK(label("trend.temperature").ends_with("38.4 \xC2\xB0" "C last, changed"));
        CHECK(label("trend.saturation").find("not recorded at baseline, not recorded last") != std::string::npos);
        for (const TrendSign& sign : signs) {
            const Box box = picture.ui.nodes().find(sign.id)->box;
            CHECK(box.x >= 0);
            CHECK(box.right() <= static_cast<float>(width));
        }
    }
}

TEST_CASE("a value that was not recorded leaves a gap in the trend", "[trend]") {
    const std::vector<TrendPoint> whole = {{600, 80}, {3000, 96}}, broken = {{600, 80}, {3000, 96, false}};
    const std::vector<TrendSign> a = {pulse(whole)}, b = {pulse(broken)};
    Trend t;
    t.to = 3600;
    Picture first, second;
    t.signs = a;
    first.show(t);
    t.signs = b;
    second.show(t);
    CHECK(first.dark_pixels() > second.dark_pixels() + 200);
    // A stop is a wall across every picture.
    t.stopped = true;
    t.stopped_at = 1800;
    const int before = second.dark_pixels();
    second.show(t);
    CHECK(second.dark_pixels() > before + 200);
}
