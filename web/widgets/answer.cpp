#include "web/widgets/answer.hpp"

#include "web/widgets/controls.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace hangtime::ui {
namespace {

constexpr float pi = 3.14159265f;

// The notch of something late: a bite out of the upper right corner.
void notch(Ui& ui, Box box) {
    const float s = ui.px(14);
    ui.draw()->AddTriangleFilled({box.right() - s, box.y}, {box.right() + 1, box.y},
                                 {box.right() + 1, box.y + s}, ui.palette().ink);
}

} // namespace

bool answer(Ui& ui, std::string_view id, Box box, const Answer& a) {
    std::string value(a.figure.empty() ? a.empty : a.figure);
    if (!a.figure.empty() && !a.unit.empty())
        value.append(" ").append(a.unit);
    std::string noted = value;
    if (!a.note.empty())
        noted.append(", ").append(a.note);
    std::uint16_t state = expands;
    if (a.open)
        state |= expanded;
    const Touch t = ui.touch(
        {.id = id, .label = a.label, .value = noted, .role = Role::button, .state = state, .box = box});
    if (!t.visible)
        return t.pressed;

    const Palette& p = ui.palette();
    const float round = ui.px(10);
    ImDrawList* draw = ui.draw();
    draw->AddRectFilled({box.x, box.y}, {box.right(), box.bottom()}, t.held ? p.sunk : p.sheet, round);
    const float edge = a.open ? ui.px(3) : ui.line();
    draw->AddRect({box.x + edge / 2, box.y + edge / 2}, {box.right() - edge / 2, box.bottom() - edge / 2},
                  a.open ? p.primary : p.edge, round, 0, edge);
    if (!a.kept)
        notch(ui, box);
    if (a.current)
        ui.draw_bar({box.x, box.y + round, ui.px(5), box.h - 2 * round});
    Box in = box.inset(ui.px(14), ui.px(9));
    ui.put_text(in.cut_top(ui.line_height(Face::small), ui.px(2)), Face::small, p.quiet, a.label);
    const Box note = in.cut_bottom(a.note.empty() ? 0 : ui.line_height(Face::small));
    ui.put_text(note, Face::small, p.ink, a.note);
    if (a.figure.empty()) {
        const Face face = Face::title;
        in.y += std::max(0.0f, (in.h - ui.line_height(face)) / 2);
        ui.put_text(in, face, p.quiet, a.empty);
    } else {
        Face face = a.large ? Face::hero : Face::figure;
        // The unit is what shrinks first: "03:29:40 UTC+1" stands in a narrow tile.
        Face unit_face = Face::title;
        while (unit_face != Face::small && ui.px(8) + ui.text_width(unit_face, a.unit) +
                                                   ui.text_width(Face::figure, a.figure) > in.w)
            unit_face = unit_face == Face::title ? Face::body : Face::small;
        const float unit_width = a.unit.empty() ? 0 : ui.px(8) + ui.text_width(unit_face, a.unit);
        // Tiles beside one another keep one size: a narrow one never has the large figures.
        if (face == Face::hero && (in.w < ui.px(190) || ui.text_width(face, a.figure) + unit_width > in.w))
            face = Face::figure;
        const float h = ui.line_height(face);
        const float y = in.y + std::max(0.0f, (in.h - h) / 2);
        ui.put_text({in.x, y, in.w, h}, face, p.ink, a.figure);
        if (!a.unit.empty()) {
            const float unit_h = ui.line_height(unit_face);
            // On the same base line, as near as ascents tell.
            const float drop = ui.font(face)->Ascent - ui.font(unit_face)->Ascent;
            ui.put_text({in.x + ui.text_width(face, a.figure) + ui.px(8), y + drop, in.w, unit_h},
                        unit_face, p.ink, a.unit);
        }
    }
    if (t.focused)
        ui.focus_ring(box, round);
    return t.pressed;
}

void sum_line(Ui& ui, std::string_view id, Box box, std::string_view about, std::string_view sum) {
    const Palette& p = ui.palette();
    std::string text;
    if (sum.empty()) {
        text = "Touch a number to see the sum behind it.";
    } else {
        text.append(about).append(": ").append(sum);
        // Where its place is scrolled away it stands at the edge, so that no touch seems to do nothing.
        const float top = ui.draw()->GetClipRectMin().y, bottom = ui.draw()->GetClipRectMax().y;
        const float y = std::max(top, std::min(box.y, bottom - box.h));
        if (y != box.y) {
            box.y = y;
            ui.draw()->AddRectFilled({box.x, y}, {box.right(), y + box.h}, p.ground);
        }
    }
    ui.note({.id = id, .label = text, .role = Role::text, .box = box});
    if (!sum.empty())
        ui.draw()->AddRectFilled({box.x, box.y}, {box.x + ui.px(3), box.bottom()}, p.primary);
    Box in = box;
    in.cut_left(sum.empty() ? 0 : ui.px(12));
    const float h = std::min(in.h, ui.text_height(Face::body, text, in.w));
    const Face face = ui.text_height(Face::body, text, in.w) > in.h ? Face::small : Face::body;
    ui.put_text({in.x, in.y + (in.h - h) / 2, in.w, h}, face, sum.empty() ? p.quiet : p.ink, text,
                Align::left, true);
}

void verdict(Ui& ui, std::string_view id, Box box, Seal seal, std::string_view title,
             std::string_view detail) {
    const Palette& p = ui.palette();
    std::string said(title);
    if (!detail.empty())
        said.append(" ").append(detail);
    std::replace(said.begin(), said.end(), '\n', ' ');
    ui.note({.id = id, .label = said, .role = Role::text, .box = box});
    ImDrawList* draw = ui.draw();
    const float round = ui.px(10);
    const bool filled = seal == Seal::broken;
    if (filled)
        draw->AddRectFilled({box.x, box.y}, {box.right(), box.bottom()}, p.ink, round);
    else
        ui::sheet(ui, box);
    const Color ink = filled ? p.ground : p.ink;
    Box in = box.inset(ui.px(16), ui.px(10));
    const float r = ui.px(17);
    if (seal != Seal::none) {
        const Box mark = in.cut_left(2 * r, ui.px(14));
        const ImVec2 c = {mark.x + r, std::floor(box.y + box.h / 2)};
        const float thick = ui.px(4);
        if (seal == Seal::whole) {
            draw->AddCircle(c, r - thick / 2, ink, 0, thick);
            const ImVec2 tick[3] = {{c.x - r * 0.4f, c.y},
                                    {c.x - r * 0.08f, c.y + r * 0.34f},
                                    {c.x + r * 0.44f, c.y - r * 0.34f}};
            draw->AddPolyline(tick, 3, ink, 0, thick);
        } else if (seal == Seal::noted) { // closed, with something to know inside
            draw->AddCircle(c, r - thick / 2, ink, 0, thick);
            draw->AddLine({c.x, c.y - r * 0.45f}, {c.x, c.y + r * 0.12f}, ink, thick);
            draw->AddCircleFilled({c.x, c.y + r * 0.42f}, thick * 0.62f, ink);
        } else if (seal == Seal::thin) { // a gap at the top: it closes, but only just
            draw->PathArcTo(c, r - thick / 2, -pi / 2 + 0.45f, 1.5f * pi - 0.45f, 40);
            draw->PathStroke(ink, 0, thick);
            draw->AddLine({c.x, c.y - r * 0.35f}, {c.x, c.y + r * 0.4f}, ink, thick);
        } else { // two halves, apart
            const float off = ui.px(3);
            draw->PathArcTo({c.x - off, c.y}, r - thick / 2 - off, pi * 0.6f, pi * 1.4f, 24);
            draw->PathStroke(ink, 0, thick);
            draw->PathArcTo({c.x + off, c.y}, r - thick / 2 - off, -pi * 0.4f, pi * 0.4f, 24);
            draw->PathStroke(ink, 0, thick);
            draw->AddLine({c.x - r * 0.3f, c.y - r * 0.3f}, {c.x + r * 0.3f, c.y + r * 0.3f}, ink, thick);
            draw->AddLine({c.x + r * 0.3f, c.y - r * 0.3f}, {c.x - r * 0.3f, c.y + r * 0.3f}, ink, thick);
        }
    }
    const float title_h = ui.text_height(Face::title, title, in.w);
    const float detail_h = detail.empty() ? 0 : ui.px(2) + ui.text_height(Face::body, detail, in.w);
    in.y += std::max(0.0f, (in.h - title_h - detail_h) / 2);
    ui.put_text({in.x, in.y, in.w, title_h}, Face::title, ink, title, Align::left, true);
    ui.put_text({in.x, in.y + title_h + ui.px(2), in.w, detail_h}, Face::body, ink, detail, Align::left,
                true);
}

float window_bar_height(const Ui& ui) {
    return std::max(ui.px(row_px), ui.px(6) + ui.line_height(Face::body) + ui.px(6) + ui.px(8) + ui.px(6));
}

bool window_bar(Ui& ui, std::string_view id, Box box, const WindowBar& b) {
    std::string noted(b.value);
    if (!b.note.empty())
        noted.append(", ").append(b.note);
    std::uint16_t state = expands;
    if (b.open)
        state |= expanded;
    const Touch t = ui.touch(
        {.id = id, .label = b.label, .value = noted, .role = Role::button, .state = state, .box = box});
    if (!t.visible)
        return t.pressed;
    const Palette& p = ui.palette();
    ImDrawList* draw = ui.draw();
    if (t.held || b.open)
        draw->AddRectFilled({box.x, box.y}, {box.right(), box.bottom()}, p.sunk, ui.px(8));
    Box in = box.inset(ui.px(10), ui.px(6));
    Box line = in.cut_top(ui.line_height(Face::body), ui.px(6));
    ui.put_text(line, Face::body, p.ink, b.label);
    const float value_width = ui.text_width(Face::body, b.value);
    ui.put_text(line, Face::body, p.ink, b.value, Align::right);
    Box note = line;
    note.w -= value_width + ui.px(14);
    note.y += (ui.line_height(Face::body) - ui.line_height(Face::small)) * 0.7f;
    ui.put_text(note, Face::small, p.quiet, b.note, Align::right);
    const Box track = in.cut_top(ui.px(8));
    draw->AddRectFilled({track.x, track.y}, {track.right(), track.bottom()},
                        t.held || b.open ? p.sheet : p.sunk, track.h / 2);
    if (b.running && b.latest > b.from) {
        const double part = std::clamp(
            static_cast<double>(b.now - b.from) / static_cast<double>(b.latest - b.from), 0.0, 1.0);
        const float x = track.x + std::floor(track.w * static_cast<float>(part));
        if (x > track.x + track.h)
            draw->AddRectFilled({track.x, track.y}, {x, track.bottom()}, p.quiet, track.h / 2);
        draw->AddRectFilled({x - ui.px(1), track.y - ui.px(3)}, {x + ui.px(2), track.bottom() + ui.px(3)},
                            p.ink);
    }
    // The end of it is a wall.
    draw->AddRectFilled({track.right() - ui.px(3), track.y - ui.px(4)},
                        {track.right(), track.bottom() + ui.px(4)}, p.ink);
    if (t.focused)
        ui.focus_ring(box, ui.px(8));
    return t.pressed;
}

float caution(Ui& ui, std::string_view id, Box box, std::string_view word, std::string_view text) {
    const Palette& p = ui.palette();
    std::string said;
    if (!word.empty())
        said.append(word).append(": ");
    said.append(text);
    Box in = box;
    in.cut_left(ui.px(14));
    const float h = ui.text_height(Face::body, said, in.w);
    box.h = h;
    ui.note({.id = id, .label = said, .role = Role::text, .box = box});
    ui.draw()->AddRectFilled({box.x, box.y + ui.px(1)}, {box.x + ui.px(4), box.y + h - ui.px(1)},
                             word.empty() ? p.edge : p.ink);
    ui.put_text({in.x, in.y, in.w, h}, Face::body, p.ink, said, Align::left, true);
    return h;
}

} // namespace hangtime::ui
