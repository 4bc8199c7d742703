#include "web/widgets/tick.hpp"

#include "web/widgets/controls.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace hangtime::ui {
namespace {

constexpr float side_px = 22, left_px = 12, gap_to_text_px = 12;
constexpr float top_px = 11; // above the label where there is a line below it

float text_left(const Ui& ui) { return ui.px(left_px + side_px + gap_to_text_px); }

float behind_width(const Ui& ui, const Tick& t) {
    return t.behind.empty() ? 0 : ui.text_width(Face::body, t.behind) + ui.px(14);
}

} // namespace

float tick_height(const Ui& ui, float width, const Tick& t) {
    const float w = width - text_left(ui) - ui.px(10);
    const float label = ui.text_height(Face::body, t.label, w - behind_width(ui, t));
    if (t.below.empty())
        return std::max(ui.px(row_px), label + ui.px(14));
    return ui.px(top_px) + label + ui.px(2) + ui.text_height(Face::small, t.below, w) + ui.px(10);
}

bool tick(Ui& ui, std::string_view id, Box box, const Tick& t) {
    std::uint16_t state = t.ticked ? chosen : plain;
    if (!t.enabled)
        state |= disabled;
    const Touch touch = ui.touch(
        {.id = id, .label = t.label, .value = t.behind, .role = Role::choice, .state = state, .box = box});
    if (!touch.visible)
        return touch.pressed;
    const Palette& p = ui.palette();
    ImDrawList* draw = ui.draw();
    const float round = ui.px(8), side = ui.px(side_px);
    draw->AddRectFilled({box.x, box.y}, {box.right(), box.bottom()}, touch.held || t.ticked ? p.sunk : p.sheet, round);
    const float thick = t.next ? ui.px(2) : ui.line(), half = thick / 2;
    draw->AddRect({box.x + half, box.y + half}, {box.right() - half, box.bottom() - half}, t.next ? p.primary : p.edge,
                  round, 0, thick);
    Color ink = p.ink;
    if (!t.enabled)
        ink = with_alpha(ink, 0x50);
    const float x = box.x + ui.px(left_px);
    const float first = t.below.empty() ? box.h : 2 * ui.px(top_px) + ui.line_height(Face::body);
    const float y = std::floor(box.y + (first - side) / 2);
    if (t.ticked) {
        draw->AddRectFilled({x, y}, {x + side, y + side}, ink, ui.px(4));
        const ImVec2 hook[3] = {{x + side * 0.22f, y + side * 0.52f},
                                {x + side * 0.43f, y + side * 0.72f},
                                {x + side * 0.78f, y + side * 0.28f}};
        draw->AddPolyline(hook, 3, p.sheet, 0, ui.px(3));
    } else {
        draw->AddRect({x + 1, y + 1}, {x + side - 1, y + side - 1}, t.next ? p.primary : p.quiet, ui.px(4), 0, ui.px(2));
    }
    const float left = box.x + text_left(ui), w = box.right() - ui.px(10) - left;
    const float label_w = w - behind_width(ui, t);
    const float h = ui.text_height(Face::body, t.label, label_w);
    const float top = box.y + (t.below.empty() ? (box.h - h) / 2 : ui.px(top_px));
    ui.put_text({left, top, label_w, h}, Face::body, ink, t.label, Align::left, true);
    if (!t.behind.empty())
        ui.put_text({left, top, w, h}, Face::body, ink, t.behind, Align::right);
    if (!t.below.empty())
        ui.put_text({left, top + h + ui.px(2), w, box.h}, Face::small, p.quiet, t.below, Align::left, true);
    if (touch.focused)
        ui.focus_ring(box, round);
    return touch.pressed;
}

} // namespace hangtime::ui
