#include "web/widgets/object.hpp"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace hangtime::ui {
namespace {

// Strokes in a square of 100: p an open line, q a closed one, c a circle (x y radius), d a filled one, a an arc
// (x y radius, from and to in degrees clockwise from the right). In the order of SpokenObject.
constexpr std::array<const char*, spoken_object_count> drawings = {
    // anchor, basket, bell, boat
    "c 50 17 9;p 50 26 50 90;p 30 40 70 40;a 50 54 36 20 160;p 10 58 17 68 28 64;p 90 58 83 68 72 64",
    "q 16 46 84 46 74 88 26 88;a 50 46 28 180 360;p 20 60 80 60;p 23 74 77 74;p 42 46 44 88;p 58 46 56 88",
    "p 30 42 28 62 16 78 84 78 72 62 70 42;a 50 42 20 180 360;d 50 87 7;p 50 22 50 10",
    "q 12 64 88 64 72 86 28 86;p 48 64 48 10;q 54 14 82 56 54 56;q 42 24 42 56 20 56",
    // bridge, candle, feather, fish
    "p 4 46 96 46;p 4 36 96 36;a 50 84 28 180 360;p 22 84 22 46;p 78 84 78 46;p 8 84 34 84;p 66 84 92 84",
    "q 38 44 62 44 62 86 38 86;p 50 44 50 36;q 50 6 59 23 50 34 41 23;p 24 88 76 88;p 38 56 48 62",
    "p 14 92 38 62;q 38 62 34 40 54 16 86 8 82 40 60 60;p 38 62 78 18;p 50 48 74 46;p 46 52 44 36",
    "q 10 50 28 30 52 28 70 48 70 52 52 72 28 70;q 70 50 92 28 92 72;d 28 45 5;a 44 50 16 300 420",
    // hammer, key, kite, ladder
    "q 22 14 66 14 84 30 66 34 22 34;q 40 34 54 34 54 92 40 92",
    "c 26 50 18;p 44 50 94 50;p 92 50 92 66;p 78 50 78 64",
    "q 50 4 80 34 50 70 20 34;p 50 4 50 70;p 20 34 80 34;p 50 70 60 78 44 86 56 96",
    "p 34 6 24 94;p 66 6 76 94;p 32 24 68 24;p 30 42 70 42;p 28 60 72 60;p 26 78 74 78",
    // lantern, leaf, mountain, mushroom
    "q 34 36 66 36 76 82 24 82;q 38 24 62 24 66 36 34 36;a 50 22 12 180 360;p 50 46 56 60 50 70 44 60 50 46;p 20 90 80 90",
    "q 50 6 72 26 76 54 50 80 24 54 28 26;p 50 28 50 96;p 50 46 64 36;p 50 46 36 36;p 50 62 66 50;p 50 62 34 50",
    "q 4 84 38 18 56 52 66 38 96 84;p 26 42 36 50 44 40 50 44",
    "a 50 50 40 180 360;p 10 50 90 50;p 40 50 36 88 64 88 60 50;d 34 32 5;d 58 26 6;d 70 40 4",
    // owl, rocket, scissors, snail
    "q 22 22 36 30 64 30 78 22 80 62 50 94 20 62;c 38 44 11;c 62 44 11;d 38 44 4;d 62 44 4;q 45 58 55 58 50 66",
    "q 50 4 64 26 64 66 36 66 36 26;c 50 36 7;q 36 46 20 78 36 66;q 64 46 80 78 64 66;p 42 74 42 86;p 58 74 58 86;p 50 74 50 96",
    "c 26 78 13;c 74 78 13;p 34 67 68 8;p 66 67 32 8",
    "c 60 52 26;a 60 52 13 120 440;p 90 82 18 82 10 72 14 46;p 14 46 6 32;p 14 46 24 32",
    // teapot, tree, umbrella, wheel
    "a 50 58 28 0 360;p 26 46 6 34;p 24 68 6 34;a 80 56 14 270 450;p 34 34 66 34;d 50 25 5;p 32 86 68 86",
    "c 50 34 28;q 45 62 55 62 58 92 42 92;p 50 62 50 42 60 32;p 50 50 40 40",
    "a 50 48 42 180 360;a 22 48 14 180 360;a 50 48 14 180 360;a 78 48 14 180 360;p 50 34 50 84;a 42 84 8 0 170;p 50 6 50 2",
    "c 50 50 42;c 50 50 9;p 50 8 50 41;p 50 59 50 92;p 8 50 41 50;p 59 50 92 50;p 20 20 44 44;p 56 56 80 80;p 80 20 56 44;p 44 56 20 80",
};

int read_number(const char*& at) {
    while (*at == ' ')
        ++at;
    int n = 0;
    while (*at >= '0' && *at <= '9')
        n = n * 10 + (*at++ - '0');
    return n;
}

} // namespace

void draw_object(Ui& ui, Box box, SpokenObject which, Color color) {
    const float size = std::min(box.w, box.h), unit = size / 100;
    const float x0 = std::floor(box.x + (box.w - size) / 2), y0 = std::floor(box.y + (box.h - size) / 2);
    const float thick = std::max(2.0f, std::round(size * 0.055f));
    ImDrawList* draw = ui.draw();
    const auto x = [&](int v) { return x0 + static_cast<float>(v) * unit; };
    const auto y = [&](int v) { return y0 + static_cast<float>(v) * unit; };
    const char* at = drawings[static_cast<std::size_t>(which)];
    while (*at != 0) {
        const char kind = *at++;
        if (kind == 'p' || kind == 'q') {
            while (*at != 0 && *at != ';') {
                const int px = read_number(at), py = read_number(at);
                draw->PathLineTo({x(px), y(py)});
            }
            draw->PathStroke(color, kind == 'q' ? ImDrawFlags_Closed : 0, thick);
        } else {
            const int cx = read_number(at), cy = read_number(at), r = read_number(at);
            const ImVec2 middle = {x(cx), y(cy)};
            const float radius = static_cast<float>(r) * unit;
            if (kind == 'c') {
                draw->AddCircle(middle, radius, color, 0, thick);
            } else if (kind == 'd') {
                draw->AddCircleFilled(middle, radius, color);
            } else {
                constexpr float degree = 3.14159265f / 180;
                const int from = read_number(at), to = read_number(at);
                draw->PathArcTo(middle, radius, static_cast<float>(from) * degree, static_cast<float>(to) * degree, 32);
                draw->PathStroke(color, 0, thick);
            }
        }
        if (*at == ';')
            ++at;
    }
}

void object(Ui& ui, std::string_view id, Box box, SpokenObject which) {
    ui.note({.id = id, .label = name(which), .role = Role::picture, .box = box});
    draw_object(ui, box, which, ui.palette().ink);
}

bool session_row(Ui& ui, std::string_view id, Box box, std::optional<SpokenObject> which, std::string_view title,
                 std::string_view due, std::string_view trouble) {
    std::string value(due);
    if (!trouble.empty())
        value.append(", ").append(trouble);
    const Touch t = ui.touch({.id = id, .label = title, .value = value, .role = Role::button, .box = box});
    if (!t.visible)
        return t.pressed;
    const Palette& p = ui.palette();
    const float round = ui.px(10), line = ui.line();
    ImDrawList* draw = ui.draw();
    draw->AddRectFilled({box.x, box.y}, {box.right(), box.bottom()}, t.held ? p.sunk : p.sheet, round);
    draw->AddRect({box.x + line / 2, box.y + line / 2}, {box.right() - line / 2, box.bottom() - line / 2}, p.edge, round, 0,
                  line);
    Box in = box.inset(ui.px(14), ui.px(10));
    const Box mark = in.cut_left(in.h, ui.px(16));
    if (which)
        draw_object(ui, mark, *which, p.ink);
    const float h = ui.line_height(Face::title);
    Box top = in.cut_top(h, ui.px(3));
    ui.put_text(top, Face::title, p.ink, title);
    if (!trouble.empty())
        ui.put_text({top.x, top.y + (h - ui.line_height(Face::small)) / 2, top.w, h}, Face::small, p.ink, trouble,
                    Align::right);
    const bool fits = ui.text_width(Face::body, due) <= in.w;
    ui.put_text(in, fits ? Face::body : Face::small, p.quiet, due, Align::left, !fits);
    if (t.focused)
        ui.focus_ring(box, round);
    return t.pressed;
}

} // namespace hangtime::ui
