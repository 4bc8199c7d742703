#include "web/widgets/timeline.hpp"

#include "web/widgets/controls.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace hangtime::ui {
namespace {
constexpr float pi = 3.14159265f;
}

void check_mark(Ui& ui, float x, float y, float r, Mark mark) {
    const Palette& p = ui.palette();
    ImDrawList* draw = ui.draw();
    const float thick = std::max(2.0f, std::round(r * 0.3f));
    const ImVec2 c = {x, y};
    switch (mark) {
    case Mark::to_come:
    case Mark::due:
        draw->AddCircleFilled(c, r, p.sheet);
        draw->AddCircle(c, r - thick / 2, p.ink, 0, thick);
        if (mark == Mark::due)
            draw->AddCircleFilled(c, r * 0.4f, p.ink);
        break;
    case Mark::done:
        draw->AddCircleFilled(c, r, p.ink);
        break;
    case Mark::late:
        draw->AddCircleFilled(c, r, p.ink);
        draw->AddTriangleFilled({x, y}, {x + r * 0.3f, y - r * 1.2f}, {x + r * 1.2f, y - r * 0.3f}, p.sheet);
        break;
    case Mark::missed:
        draw->AddCircleFilled(c, r, p.sheet);
        for (int i = 0; i < 4; ++i) {
            const float a = pi / 2 * static_cast<float>(i) + 0.35f;
            draw->PathArcTo(c, r - thick / 2, a, a + pi / 2 - 0.7f, 8);
            draw->PathStroke(p.ink, 0, thick);
        }
        break;
    case Mark::not_needed:
        draw->AddCircleFilled(c, r * 0.35f, p.quiet);
        break;
    }
}

bool marked_row(Ui& ui, std::string_view id, Box box, Mark mark, std::string_view label, std::string_view value,
                bool open) {
    std::uint16_t state = expands;
    if (open)
        state |= expanded;
    const Touch t =
        ui.touch({.id = id, .label = label, .value = value, .role = Role::button, .state = state, .box = box});
    if (!t.visible)
        return t.pressed;
    const Palette& p = ui.palette();
    if (t.held || open)
        ui.draw()->AddRectFilled({box.x, box.y}, {box.right(), box.bottom()}, p.sunk, ui.px(8));
    check_mark(ui, box.x + ui.px(14), std::floor(box.y + box.h / 2), ui.px(9), mark);
    Box in = box;
    in.cut_left(ui.px(34));
    in.w -= ui.px(6);
    const float w = ui.text_width(Face::body, label), v = ui.text_width(Face::small, value);
    if (w + v + ui.px(14) <= in.w) {
        ui.put_text({in.x, in.y + (in.h - ui.line_height(Face::body)) / 2, in.w, in.h}, Face::body, p.ink, label);
        ui.put_text({in.x, in.y + (in.h - ui.line_height(Face::small)) / 2, in.w, in.h}, Face::small, p.quiet, value,
                    Align::right);
    } else {
        const float h = ui.line_height(Face::body) + ui.line_height(Face::small);
        const float y = in.y + std::max(0.0f, (in.h - h) / 2);
        ui.put_text({in.x, y, in.w, h}, Face::body, p.ink, label);
        ui.put_text({in.x, y + ui.line_height(Face::body), in.w, h}, Face::small, p.quiet, value);
    }
    if (t.focused)
        ui.focus_ring(box, ui.px(8));
    return t.pressed;
}

namespace {

// The rates, in a lane above the plot, each at its line: the first one before the line at which it changes
// where there is room for it, what follows behind that line.
template <class AtX>
void stage_labels(Ui& ui, Box lane, const Timeline& t, AtX at_x) {
    const Palette& p = ui.palette();
    const float gap = ui.px(6);
    float free = lane.x;
    for (std::size_t i = 0; i < t.stages.size(); ++i) {
        const TimelineStage& s = t.stages[i];
        const float w = ui.text_width(Face::small, s.label);
        float left = at_x(s.from) + gap;
        if (i == 0 && t.stages.size() > 1 && left + w > at_x(s.to) - gap)
            left = at_x(s.to) - gap - w;
        left = std::max(left, free);
        if (left + w > lane.right())
            continue; // it stands in the answers; there is no room for it here
        ui.draw()->AddRectFilled({left - ui.px(2), lane.y}, {left + w + ui.px(2), lane.bottom()}, p.sheet);
        ui.put_text({left, lane.y, w + 1, lane.h}, Face::small, p.ink, s.label);
        free = left + w + ui.px(10);
    }
}

} // namespace

void timeline(Ui& ui, std::string_view id, Box box, const Timeline& t) {
    ui.note({.id = id, .label = t.spoken, .role = Role::picture, .box = box});
    const Palette& p = ui.palette();
    ImDrawList* draw = ui.draw();
    sheet(ui, box);
    if (t.to <= t.from)
        return;
    Box in = box.inset(ui.px(14), ui.px(8));
    Box wall_labels = in.cut_top(ui.line_height(Face::small), ui.px(4));
    Box ticks = in.cut_bottom(ui.line_height(Face::small));
    in.cut_bottom(ui.px(5));
    Box check_times = in.cut_bottom(ui.line_height(Face::small), ui.px(3));
    const float r = ui.px(8);
    Box checks = in.cut_bottom(2 * r, ui.px(6));
    const Box rates = in.cut_top(ui.line_height(Face::small), ui.px(3));
    const Box plot = in; // the climb
    const double span = static_cast<double>(t.to - t.from);
    const auto at_x = [&](std::int64_t at) {
        const double part = std::clamp(static_cast<double>(at - t.from) / span, 0.0, 1.0);
        return std::round(plot.x + plot.w * static_cast<float>(part));
    };
    const float line = ui.line();

    // Ticks, thin, behind everything.
    float free_x = ticks.x;
    for (const TimelineTick& k : t.ticks) {
        const float x = at_x(k.at);
        draw->AddRectFilled({x, plot.y}, {x + line, ticks.y}, p.sunk);
        const float w = ui.text_width(Face::small, k.label);
        const float left = std::clamp(x - w / 2, ticks.x, std::max(ticks.x, ticks.right() - w));
        if (left < free_x)
            continue;
        ui.put_text({left, ticks.y, w + 1, ticks.h}, Face::small, p.quiet, k.label);
        free_x = left + w + ui.px(10);
    }

    // What lies behind the wall cannot be used: hatched.
    for (const TimelineWall& w : t.walls) {
        if (!w.main)
            continue;
        const float x = at_x(w.at);
        draw->PushClipRect({x, plot.y}, {plot.right(), plot.bottom()}, true);
        const float step = ui.px(9);
        for (float hx = x - plot.h; hx < plot.right(); hx += step)
            draw->AddLine({hx, plot.bottom()}, {hx + plot.h, plot.y}, p.edge, line);
        draw->PopClipRect();
    }

    // The climb: filled below, a firm line on top. Saline first, in its own colour.
    const auto at_y = [&](double part) {
        return std::round(plot.bottom() - plot.h * 0.86f * static_cast<float>(part));
    };
    if (t.saline_until > 0 && !t.climb.empty()) {
        const float x0 = at_x(t.climb.front().at), x1 = std::max(at_x(t.saline_until), x0 + ui.px(3));
        draw->AddRectFilled({x0, plot.bottom() - ui.px(6)}, {x1, plot.bottom()}, p.saline);
    }
    for (std::size_t i = 1; i < t.climb.size(); ++i) {
        const TimelinePoint a = t.climb[i - 1], b = t.climb[i];
        const ImVec2 low = {at_x(a.at), at_y(a.part)}, high = {at_x(b.at), at_y(b.part)};
        const ImVec2 under[4] = {low, high, {high.x, plot.bottom()}, {low.x, plot.bottom()}};
        draw->Flags &= ~ImDrawListFlags_AntiAliasedFill; // neighbours must meet without a seam
        draw->AddConvexPolyFilled(under, 4, with_alpha(p.component, 0x2c));
        draw->Flags |= ImDrawListFlags_AntiAliasedFill;
        draw->AddLine(low, high, p.component, ui.px(4));
    }
    if (!t.climb.empty()) {
        const float x = at_x(t.climb.back().at), y = at_y(t.climb.back().part);
        draw->AddCircleFilled({x, y}, ui.px(5), p.component);
        const float w = ui.text_width(Face::body, t.top_label);
        const float left = std::clamp(x - w - ui.px(10), plot.x, plot.right() - w);
        ui.put_text({left, std::max(plot.y, y - ui.line_height(Face::body) - ui.px(3)), w + 1,
                     ui.line_height(Face::body)},
                    Face::body, p.component, t.top_label);
    }

    // Where the rate changes.
    for (std::size_t i = 1; i < t.stages.size(); ++i) {
        const float x = at_x(t.stages[i].from);
        draw->AddRectFilled({x, rates.y}, {x + line, plot.bottom()}, p.component);
    }
    draw->AddRectFilled({plot.x, plot.bottom()}, {plot.right(), plot.bottom() + ui.px(2)}, p.quiet);

    // Walls.
    float wall_free = wall_labels.right();
    const float now_width = ui.text_width(Face::small, "now");
    const float now_left = std::max(wall_labels.x, at_x(t.now) - now_width / 2);
    bool now_free = t.has_now && t.now >= t.from && t.now <= t.to;
    for (std::size_t n = t.walls.size(); n-- > 0;) {
        const TimelineWall& w = t.walls[n];
        const float x = at_x(w.at), thick = w.main ? ui.px(5) : ui.px(3);
        draw->AddRectFilled({x, w.main ? plot.y : plot.y + plot.h * 0.45f},
                            {x + thick, plot.bottom() + ui.px(2)}, p.ink);
        const float tw = ui.text_width(Face::small, w.label);
        float left = std::clamp(x + thick - tw, wall_labels.x, std::max(wall_labels.x, wall_free - tw));
        if (!w.main)
            left = std::clamp(x + thick / 2 - tw / 2, wall_labels.x, std::max(wall_labels.x, wall_free - tw));
        if (left + tw > wall_free + 1)
            continue;
        ui.put_text({left, wall_labels.y, tw + 1, wall_labels.h}, Face::small, p.ink, w.label);
        now_free = now_free && (now_left > left + tw + ui.px(6) || now_left + now_width + ui.px(6) < left);
        draw->AddRectFilled({x + thick / 2 - line / 2, wall_labels.bottom()},
                            {x + thick / 2 + line / 2 + 1, w.main ? plot.y : plot.y + plot.h * 0.45f},
                            p.quiet);
        wall_free = left - ui.px(12);
    }

    if (t.has_now && t.now >= t.from && t.now <= t.to) {
        const float x = at_x(t.now);
        draw->AddRectFilled({x - line, rates.y}, {x + line, checks.y}, p.primary);
        draw->AddTriangleFilled({x - ui.px(6), plot.y}, {x + ui.px(6), plot.y}, {x, plot.y + ui.px(8)},
                                p.primary);
        if (now_free)
            ui.put_text({now_left, wall_labels.y, now_width + 1, wall_labels.h}, Face::small, p.primary,
                        "now");
    }

    stage_labels(ui, rates, t, at_x);

    // Checks, on a lane of their own; their times where there is room.
    float time_free = check_times.x;
    for (const TimelineCheck& k : t.checks) {
        const float x = at_x(k.at);
        check_mark(ui, x, checks.y + r, r, k.mark);
        const float w = ui.text_width(Face::small, k.time);
        const float left = std::clamp(x - w / 2, check_times.x, check_times.right() - w);
        if (left < time_free)
            continue;
        ui.put_text({left, check_times.y, w + 1, check_times.h}, Face::small, p.ink, k.time);
        time_free = left + w + ui.px(8);
    }
}

} // namespace hangtime::ui
