#include "web/widgets/trend.hpp"

#include "web/widgets/controls.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>

namespace hangtime::ui {

namespace {

struct Range {
    double low = 0, high = 0;
};

Range range_of(const TrendSign& sign) {
    Range out;
    bool any = sign.has_baseline;
    out.low = out.high = sign.baseline;
    for (const TrendPoint& point : sign.points) {
        out.low = any ? std::min(out.low, point.value) : point.value;
        out.high = any ? std::max(out.high, point.value) : point.value;
        any = true;
    }
    const double more = (sign.least_span - (out.high - out.low)) / 2;
    if (more > 0)
        out.low -= more, out.high += more;
    return out;
}

void one(Ui& ui, Box box, const TrendSign& sign, const Trend& t) {
    const Palette& p = ui.palette();
    ImDrawList* draw = ui.draw();
    const std::string spoken = std::string(sign.name) + ": " + std::string(sign.baseline_text) +
                               " at baseline, " + std::string(sign.last_text) + " last" +
                               (sign.prompt ? ", changed" : "");
    ui.note({.id = sign.id, .label = spoken, .value = sign.last_text, .role = Role::picture, .box = box});
    sheet(ui, box);
    Box in = box.inset(ui.px(10), ui.px(6));
    Box head = in.cut_top(ui.line_height(Face::small), ui.px(4));
    if (sign.prompt) {
        const float side = ui.px(9);
        const float top = head.y + (head.h - side) / 2;
        draw->AddRectFilled({head.x, top}, {head.x + side, top + side}, p.ink);
        head.cut_left(side, ui.px(6));
    }
    const float value_width = ui.text_width(Face::small, sign.last_text) + 1;
    ui.put_text(head.cut_right(value_width, ui.px(8)), Face::small, p.ink, sign.last_text);
    ui.put_text(head, Face::small, p.quiet, sign.name);
    if (t.to <= t.from || in.h < ui.px(12))
        return;

    const Box plot = in;
    const Range range = range_of(sign);
    const double span = static_cast<double>(t.to - t.from);
    const double height = std::max(range.high - range.low, 1e-9);
    const auto at_x = [&](std::int64_t at) {
        const double part = std::clamp(static_cast<double>(at - t.from) / span, 0.0, 1.0);
        return std::round(plot.x + plot.w * static_cast<float>(part));
    };
    const auto at_y = [&](double value) {
        const double part = std::clamp((value - range.low) / height, 0.0, 1.0);
        const float margin = ui.px(5);
        return std::round(plot.bottom() - margin - (plot.h - 2 * margin) * static_cast<float>(part));
    };
    for (const std::int64_t change : t.rate_changes)
        draw->AddRectFilled({at_x(change), plot.y}, {at_x(change) + ui.line(), plot.bottom()}, p.sunk);
    if (t.stopped)
        draw->AddRectFilled({at_x(t.stopped_at), plot.y}, {at_x(t.stopped_at) + ui.px(3), plot.bottom()},
                            p.ink);
    if (sign.has_baseline) {
        const float y = at_y(sign.baseline);
        for (float x = plot.x; x < plot.right(); x += ui.px(10))
            draw->AddRectFilled({x, y}, {std::min(x + ui.px(6), plot.right()), y + ui.line()}, p.quiet);
    }
    for (std::size_t i = 0; i < sign.points.size(); ++i) {
        const TrendPoint& point = sign.points[i];
        const ImVec2 here = {at_x(point.at), at_y(point.value)};
        if (i > 0 && point.joined) {
            const TrendPoint& before = sign.points[i - 1];
            draw->AddLine({at_x(before.at), at_y(before.value)}, here, p.ink, ui.px(2));
        }
        draw->AddCircleFilled(here, ui.px(4), p.ink);
    }
}

} // namespace

int trend_rows(const Ui& ui, float width, int count) {
    const int fit = std::max(1, static_cast<int>(width / ui.px(240)));
    return (count + fit - 1) / fit;
}

void trend(Ui& ui, Box box, const Trend& t) {
    if (t.signs.empty())
        return;
    const int count = static_cast<int>(t.signs.size());
    const int rows = trend_rows(ui, box.w, count), columns = (count + rows - 1) / rows;
    for (int i = 0; i < count; ++i)
        one(ui, box.cell(columns, rows, i % columns, i / columns, ui.px(8)),
            t.signs[static_cast<std::size_t>(i)], t);
}

} // namespace hangtime::ui
