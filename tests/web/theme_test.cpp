/// The palettes against WCAG 2.2: relative luminance and contrast ratio as its definitions state them
/// (w3.org/TR/WCAG22, "relative luminance", "contrast ratio"); 1.4.3 asks for 4.5, 1.4.11 for 3.

#include "web/widgets/theme.hpp"

#include <catch2/catch_approx.hpp>
#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <cmath>
#include <fstream>

#include "tests/web/harness.hpp"

using namespace hangtime;
using ui::Color;

namespace {

double luminance(Color c) {
    const auto channel = [](std::uint32_t v) {
        const double s = v / 255.0;
        return s <= 0.04045 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * channel(c & 0xff) + 0.7152 * channel(c >> 8 & 0xff) + 0.0722 * channel(c >> 16 & 0xff);
}

double contrast(Color a, Color b) {
    const auto [low, high] = std::minmax({luminance(a), luminance(b)});
    return (high + 0.05) / (low + 0.05);
}

std::string file(const std::string& name) {
    std::stringstream text;
    text << std::ifstream(test::root_folder() + "/" + name).rdbuf();
    return text.str();
}

} // namespace

TEST_CASE("the formula gives the values that are published for it", "[theme]") {
    CHECK(contrast(ui::rgb(0x000000), ui::rgb(0xffffff)) == Catch::Approx(21.0));
    CHECK(contrast(ui::rgb(0x777777), ui::rgb(0xffffff)) ==
          Catch::Approx(4.48).margin(0.005)); // just too little
}

TEST_CASE("text is read on every ground that it stands on", "[theme]") {
    for (const ui::Palette& p : {ui::day, ui::night, ui::rehearsal_day, ui::rehearsal_night}) {
        for (const Color ground : {p.ground, p.sheet, p.sunk})
            for (const Color text : {p.ink, p.quiet, p.primary, p.component, p.saline}) {
                INFO(std::hex << text << " on " << ground);
                CHECK(contrast(text, ground) >= 4.5);
            }
        CHECK(contrast(p.on_primary, p.primary) >= 4.5);
        CHECK(contrast(p.ground, p.ink) >= 7);
        for (const Color ground : {p.ground, p.sheet})
            CHECK(contrast(p.edge, ground) >= 3);
    }
}

TEST_CASE("a rehearsal has a ground that no real session has", "[theme][rehearse]") {
    // Told apart by eye and by figures: each channel of the ground, and a lightness between day and night.
    for (const auto& [real, practice] : {std::pair{ui::day, ui::rehearsal_day}, std::pair{ui::night, ui::rehearsal_night}}) {
        CHECK(real.ground != practice.ground);
        CHECK(contrast(real.ground, practice.ground) > 1.15);
        for (const Color ground : {practice.ground, practice.sheet, practice.sunk}) {
            const std::uint32_t red = ground & 0xff, green = ground >> 8 & 0xff, blue = ground >> 16 & 0xff;
            CHECK(blue > green + 15); // violet, which neither ground of a real session is
            CHECK(red > green);
        }
    }
}

TEST_CASE("the colours are those of the design", "[theme]") {
    CHECK(contrast(ui::day.ink, ui::day.ground) == Catch::Approx(13.9).margin(0.05));
    CHECK(contrast(ui::day.primary, ui::day.ground) == Catch::Approx(8.4).margin(0.05));
    CHECK(contrast(ui::day.component, ui::day.ground) == Catch::Approx(7.6).margin(0.05));
    CHECK(contrast(ui::day.saline, ui::day.ground) == Catch::Approx(6.3).margin(0.05));
    CHECK(contrast(ui::day.quiet, ui::day.ground) == Catch::Approx(5.5).margin(0.05));
    for (const Color c :
         {ui::night.ink, ui::night.primary, ui::night.component, ui::night.saline, ui::night.quiet})
        CHECK(contrast(c, ui::night.ground) >= 7.9);
}

TEST_CASE("the shell leaves the sheet's style to the sheet, and keeps its policy", "[shell]") {
    const std::string shell = file("shell.html");
    REQUIRE(!shell.empty());
    CHECK(shell.find("{{SHEET_STYLE}}\n</style>") != std::string::npos); // scripts/pack fills it in
    CHECK(shell.find(".sheet ") == std::string::npos);
    for (const char* never : {" style=", "http:", "https:", "<link", "<img", "onclick"})
        CHECK(shell.find(never) == std::string::npos);
}
