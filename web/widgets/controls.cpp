#include "web/widgets/controls.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace hangtime::ui {
namespace {

void fill(Ui& ui, Box b, Color c, float rounding) {
    ui.draw()->AddRectFilled({b.x, b.y}, {b.right(), b.bottom()}, c, rounding);
}

void outline(Ui& ui, Box b, Color c, float rounding, float thick) {
    const float half = thick / 2;
    ui.draw()->AddRect({b.x + half, b.y + half}, {b.right() - half, b.bottom() - half}, c, rounding, 0,
                       thick);
}

float middle(const Ui& ui, Box b, Face face) {
    return b.y + (b.h - ui.line_height(face)) / 2;
}

} // namespace

bool button(Ui& ui, std::string_view id, Box box, std::string_view label, Look look, bool enabled,
            std::string_view spoken) {
    const Touch t = ui.touch({.id = id,
                              .label = spoken.empty() ? label : spoken,
                              .role = Role::button,
                              .state = enabled ? plain : disabled,
                              .box = box});
    if (!t.visible)
        return t.pressed;
    const Palette& p = ui.palette();
    const float round = ui.px(8);
    Color ink = p.ink;
    Face face = Face::body;
    switch (look) {
    case Look::primary:
        fill(ui, box, p.primary, round);
        ink = p.on_primary;
        break;
    case Look::key:
        fill(ui, box, t.held ? p.edge : p.sunk, round);
        if (label.size() <= 2)
            face = Face::title;
        break;
    case Look::plain:
        fill(ui, box, t.held ? p.sunk : p.sheet, round);
        outline(ui, box, p.edge, round, ui.line());
        break;
    case Look::quiet:
        ink = p.primary;
        break;
    }
    if (t.held && look == Look::primary)
        outline(ui, box.inset(ui.px(3)), p.on_primary, round - ui.px(2), ui.px(2));
    if (!enabled)
        ink = with_alpha(ink, 0x50);
    const Box text = {box.x + ui.px(6), middle(ui, box, face), box.w - ui.px(12), ui.line_height(face)};
    ui.put_text(text, face, ink, label, Align::centre);
    if (look == Look::quiet) {
        const float w = std::min(text.w, ui.text_width(face, label)), x = text.x + (text.w - w) / 2;
        const float y = text.bottom() + ui.line();
        ui.draw()->AddRectFilled({std::floor(x), y}, {std::floor(x + w), y + ui.line()}, ink);
    }
    if (t.focused)
        ui.focus_ring(box, round);
    return t.pressed;
}

bool choice(Ui& ui, std::string_view id, Box box, std::string_view label, bool is_chosen) {
    const Touch t = ui.touch(
        {.id = id, .label = label, .role = Role::choice, .state = is_chosen ? chosen : plain, .box = box});
    if (!t.visible)
        return t.pressed;
    const Palette& p = ui.palette();
    const float round = ui.px(8), r = ui.px(8);
    fill(ui, box, t.held || is_chosen ? p.sunk : p.sheet, round);
    outline(ui, box, is_chosen ? p.primary : p.edge, round, is_chosen ? ui.px(2) : ui.line());
    const float cx = box.x + ui.px(12) + r, cy = std::floor(box.y + box.h / 2);
    ui.draw()->AddCircle({cx, cy}, r - ui.px(1), is_chosen ? p.primary : p.edge, 0, ui.px(2));
    if (is_chosen)
        ui.draw()->AddCircleFilled({cx, cy}, ui.px(4), p.primary);
    Box text = box;
    text.cut_left(ui.px(12) + 2 * r + ui.px(8));
    const bool two_lines = ui.text_width(Face::body, label) > text.w - ui.px(6);
    const Face face = two_lines ? Face::small : Face::body;
    text.w -= ui.px(6);
    const float h = ui.text_height(face, label, text.w);
    ui.put_text({text.x, box.y + (box.h - h) / 2, text.w, h}, face, p.ink, label, Align::left, two_lines);
    if (t.focused)
        ui.focus_ring(box, round);
    return t.pressed;
}

bool tab(Ui& ui, std::string_view id, Box box, std::string_view label, bool shown) {
    const Touch t = ui.touch(
        {.id = id, .label = label, .role = Role::choice, .state = shown ? chosen : plain, .box = box});
    if (!t.visible)
        return t.pressed;
    const Palette& p = ui.palette();
    const float round = ui.px(8);
    if (t.held || shown)
        fill(ui, box, p.sunk, round);
    const Face face = ui.text_width(Face::body, label) > box.w - ui.px(8) ? Face::small : Face::body;
    ui.put_text({box.x, middle(ui, box, face), box.w, ui.line_height(face)}, face, shown ? p.ink : p.quiet, label,
                Align::centre);
    if (shown)
        ui.draw_bar({box.x + round, box.bottom() - ui.px(4), box.w - 2 * round, ui.px(4)});
    if (t.focused)
        ui.focus_ring(box, round);
    return t.pressed;
}

bool fold(Ui& ui, std::string_view id, Box box, std::string_view label, bool open) {
    std::uint16_t state = expands;
    if (open)
        state |= expanded;
    const Touch t = ui.touch({.id = id, .label = label, .role = Role::button, .state = state, .box = box});
    if (!t.visible)
        return t.pressed;
    const Palette& p = ui.palette();
    const float round = ui.px(8), s = ui.px(6);
    fill(ui, box, t.held || open ? p.sunk : p.sheet, round);
    outline(ui, box, p.edge, round, ui.line());
    const float cx = box.x + ui.px(18), cy = std::floor(box.y + box.h / 2);
    if (open)
        ui.draw()->AddTriangleFilled({cx - s, cy - s / 2}, {cx + s, cy - s / 2}, {cx, cy + s}, p.ink);
    else
        ui.draw()->AddTriangleFilled({cx - s / 2, cy - s}, {cx + s, cy}, {cx - s / 2, cy + s}, p.ink);
    ui.put_text({box.x + ui.px(36), middle(ui, box, Face::body), box.w, box.h}, Face::body, p.ink, label);
    if (t.focused)
        ui.focus_ring(box, round);
    return t.pressed;
}

bool fold_row(Ui& ui, std::string_view id, Box box, std::string_view label, std::string_view value, bool open) {
    std::uint16_t state = expands;
    if (open)
        state |= expanded;
    const Touch t =
        ui.touch({.id = id, .label = label, .value = value, .role = Role::button, .state = state, .box = box});
    if (!t.visible)
        return t.pressed;
    const Palette& p = ui.palette();
    if (t.held || open)
        fill(ui, box, p.sunk, ui.px(8));
    Box in = box.inset(ui.px(8), 0);
    const float w = ui.text_width(Face::body, label) + ui.px(14);
    const Face face = Face::small;
    if (w + ui.text_width(face, value) <= in.w) {
        ui.put_text({in.x, middle(ui, in, Face::body), in.w, in.h}, Face::body, p.ink, label);
        ui.put_text({in.x + w, middle(ui, in, face) + ui.px(1), in.w, in.h}, face, p.quiet, value);
    } else {
        const float h = ui.line_height(Face::body) + ui.line_height(face), y = in.y + (in.h - h) / 2;
        ui.put_text({in.x, y, in.w, h}, Face::body, p.ink, label);
        ui.put_text({in.x, y + ui.line_height(Face::body), in.w, h}, face, p.quiet, value);
    }
    if (t.focused)
        ui.focus_ring(box, ui.px(8));
    return t.pressed;
}

float entry_height(const Ui& ui) {
    return ui.px(8) + ui.line_height(Face::small) + ui.px(3) + ui.line_height(Face::title) + ui.px(9);
}

bool entry(Ui& ui, std::string_view id, Box box, const Entry& e) {
    std::uint16_t state = plain;
    if (e.editing)
        state |= editing;
    if (e.wanted)
        state |= missing;
    if (e.refused)
        state |= refused;
    std::string value(e.value.empty() ? e.empty : e.value);
    if (!e.value.empty() && !e.unit.empty())
        value.append(" ").append(e.unit);
    std::string noted = value;
    if (!e.note.empty())
        noted.append(", ").append(e.note);
    const Touch t = ui.touch(
        {.id = id, .label = e.label, .value = noted, .role = Role::field, .state = state, .box = box});
    if (!t.visible)
        return t.pressed;
    const Palette& p = ui.palette();
    const float round = ui.px(8);
    fill(ui, box, t.held ? p.sunk : p.sheet, round);
    outline(ui, box, e.editing || e.wanted ? p.primary : p.edge, round,
            e.editing  ? ui.px(3)
            : e.wanted ? ui.px(2)
                       : ui.line());
    Box in = box.inset(ui.px(14), ui.px(8));
    Box top = in.cut_top(ui.line_height(Face::small), ui.px(3));
    // Where both don't fit, what is wrong goes before what it is called.
    const bool both =
        ui.text_width(Face::small, e.label) + ui.text_width(Face::small, e.note) + ui.px(10) <= top.w;
    if (both || !e.refused)
        ui.put_text(top, Face::small, p.quiet, e.label);
    if (!e.note.empty() && (both || e.refused))
        ui.put_text(top, Face::small, e.refused ? p.ink : p.quiet, e.note, both ? Align::right : Align::left);
    const bool given = !e.value.empty();
    const std::string_view shown = given ? e.value : e.empty;
    const float unit_width = given && !e.unit.empty() ? ui.px(13) + ui.text_width(Face::body, e.unit) : 0;
    Face face = given ? Face::title : Face::body;
    if (face == Face::title && ui.text_width(face, shown) + unit_width > in.w)
        face = Face::body;
    if (face == Face::body && ui.text_width(face, shown) + unit_width > in.w)
        face = Face::small;
    Box line = in.cut_top(ui.line_height(Face::title));
    if (face == Face::title)
        line.h = ui.line_height(face);
    else
        line.y += (ui.line_height(Face::title) - ui.line_height(face)) / 2;
    ui.put_text(line, face, given ? p.ink : p.quiet, shown);
    float x = line.x + ui.text_width(face, shown);
    if (e.editing && e.typed) { // where the next digit goes; it does not blink
        ui.draw()->AddRectFilled({x + ui.px(2), line.y}, {x + ui.px(4), line.y + ui.line_height(face)},
                                 p.primary);
        x += ui.px(6);
    }
    if (given && !e.unit.empty()) {
        const float drop = ui.font(face)->Ascent - ui.font(Face::body)->Ascent;
        ui.put_text({x + ui.px(7), line.y + drop, line.w, line.h}, Face::body, p.quiet, e.unit);
    }
    if (e.refused) { // a broken corner: something here is not as it should be
        const float s = ui.px(12);
        ui.draw()->AddTriangleFilled({box.right() - s, box.y}, {box.right(), box.y}, {box.right(), box.y + s},
                                     p.ink);
    }
    if (t.focused)
        ui.focus_ring(box, round);
    return t.pressed;
}

void subheading(Ui& ui, std::string_view id, Box box, std::string_view text) {
    ui.note({.id = id, .label = text, .role = Role::subheading, .box = box});
    ui.put_text(box, Face::small, ui.palette().quiet, text);
}

float paragraph(Ui& ui, std::string_view id, Box box, std::string_view text, Face face, bool quiet) {
    box.h = ui.text_height(face, text, box.w);
    ui.note({.id = id, .label = text, .role = Role::text, .box = box});
    ui.put_text(box, face, quiet ? ui.palette().quiet : ui.palette().ink, text, Align::left, true);
    return box.h;
}

void sheet(Ui& ui, Box box) {
    const float round = ui.px(10);
    fill(ui, box, ui.palette().sheet, round);
    outline(ui, box, ui.palette().sunk, round, ui.line());
}

} // namespace hangtime::ui
