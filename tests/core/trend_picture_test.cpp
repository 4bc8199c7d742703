// The picture of the signs on paper: what is recorded is a mark, what is not leaves a gap, and all of it lies inside.

#include "core/report/trend_picture.hpp"
#include "tests/core/observe_support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>

using namespace hangtime;
using namespace hangtime::test;
using Draw = sheet::Picture::Draw;

namespace {

long count(const sheet::Picture& p, Draw how) {
    return std::count_if(p.marks.begin(), p.marks.end(), [how](const auto& mark) { return mark.how == how; });
}

TimedSet set_at(std::int64_t minute, std::int32_t tenths, int pulse) {
    TimedSet out{minutes(minute), {}};
    if (tenths > 0) out.set.temperature = tenths_c(tenths);
    if (pulse > 0) out.set.pulse_per_min = static_cast<std::int16_t>(pulse);
    return out;
}

TrendFrame frame() {
    TrendFrame f;
    f.stages = {{{}, "50 mL/h"}, {minutes(15), "150 mL/h"}, {minutes(40), "stands still"}};
    using As = TrendFrame::CheckMark::As;
    f.checks = {{minutes(16), As::done}, {minutes(30), As::missed}, {minutes(40), As::open}};
    f.stopped = minutes(40);
    return f;
}

}  // namespace

TEST_CASE("each recorded value is a mark, and what is not recorded leaves a gap", "[observe][trend]") {
    const TimedSet baseline = set_at(-10, 368, 78);
    const std::vector<TimedSet> sets = {set_at(16, 369, 80), set_at(30, 0, 84), set_at(40, 384, 104)};
    const sheet::Picture p = trend_picture(baseline, sets, frame());
    CHECK(count(p, Draw::square) == 5);  // two temperatures, three pulses
    CHECK(count(p, Draw::dashed) == 2);  // a baseline for each
    CHECK(count(p, Draw::thick) == 1);   // the stop
    CHECK(count(p, Draw::dot) == 2);     // a check that is done, and the mark beside its word
    CHECK(count(p, Draw::ring) == 2);
    // Between pulses two lines, between temperatures none: the one in the middle is missing.
    const TimedSet none{};
    const long lines = count(trend_picture(none, {set_at(16, 369, 0), set_at(40, 384, 0)}, {}), Draw::line);
    const long gap = count(trend_picture(none, {set_at(16, 369, 0), set_at(30, 0, 80), set_at(40, 384, 0)}, {}), Draw::line);
    CHECK(gap == lines - 1 + 1 + 1);  // none between the temperatures; one under the pulse, one more time on the axis
    for (const auto& mark : p.marks) {
        CHECK(mark.x >= 0);
        CHECK(mark.x <= p.width);
        CHECK(mark.y >= 0);
        CHECK(mark.y <= p.height);
    }
    const auto says = [&](std::string_view text) {
        return std::any_of(p.marks.begin(), p.marks.end(), [text](const auto& mark) { return mark.text == text; });
    };
    for (const char* text : {"50 mL/h", "Pulse", "104", "38.4", "+0:16", "stopped", "baseline 78 /min"}) {
        CAPTURE(text);
        CHECK(says(text));
    }
}

TEST_CASE("a picture of nothing is none, and C and F lie on one scale", "[observe][trend]") {
    CHECK(trend_picture({}, {}, {}).marks.empty());
    CHECK(trend_picture({}, {set_at(10, 0, 0)}, frame()).marks.empty());
    TimedSet f{minutes(30), {}};
    f.set.temperature = tenths_f(986);  // 37.0 C
    const sheet::Picture p = trend_picture({}, {set_at(10, 370, 0), f}, {});
    std::vector<std::int32_t> heights;
    for (const auto& mark : p.marks)
        if (mark.how == Draw::square) heights.push_back(mark.y);
    REQUIRE(heights.size() == 2);
    CHECK(heights[0] == heights[1]);
}

TEST_CASE("on a sheet the picture is drawn, and said in words where nothing can be drawn", "[observe][trend]") {
    sheet::Document d;
    d.title = "Signs";
    d.picture(trend_picture(set_at(-10, 368, 78), {set_at(16, 369, 80)}, frame()));
    const std::string html = sheet::to_html_fragment(d);
    CHECK(html.find("<svg class=\"picture\" viewBox=\"0 0 960 ") != std::string::npos);
    CHECK(html.find("role=\"img\"") != std::string::npos);
    CHECK(html.find("style=") == std::string::npos);
    CHECK(sheet::to_text(d).find("The table says the same in figures.") != std::string::npos);
}
