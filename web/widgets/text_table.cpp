#include "web/widgets/text_table.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace hangtime::ui {
namespace {

constexpr float beside_px = 560; // from here on the value stands beside the label

struct Columns {
    Box label, value;
    bool beside = false;
};

Columns columns_of(const Ui& ui, Box box) {
    Columns c;
    Box in = box.inset(ui.px(10), ui.px(8));
    c.beside = box.w >= ui.px(beside_px);
    if (c.beside)
        c.label = in.cut_left(std::floor(in.w * 0.46f), ui.px(12));
    else
        c.label = in;
    c.value = in;
    return c;
}

} // namespace

float rule_row_height(const Ui& ui, float width, const RuleRow& row) {
    const Columns c = columns_of(ui, {0, 0, width, 1e4f});
    const float label = ui.text_height(Face::body, row.label, c.label.w);
    float value = ui.text_height(Face::body, row.value, c.value.w);
    if (!row.from.empty())
        value += ui.text_height(Face::small, row.from, c.value.w);
    const float in = c.beside ? std::max(label, value) : label + value;
    return std::max(ui.px(48), in + ui.px(16));
}

bool rule_row(Ui& ui, std::string_view id, Box box, const RuleRow& row) {
    std::string said(row.value);
    if (!row.from.empty())
        said.append(", ").append(row.from);
    if (row.changed)
        said.append(", changed here");
    std::uint16_t state = expands;
    if (row.open)
        state |= expanded;
    const Touch t = ui.touch({.id = id, .label = row.label, .value = said, .role = Role::button, .state = state, .box = box});
    if (!t.visible)
        return t.pressed;
    const Palette& p = ui.palette();
    if (t.held || row.open)
        ui.draw()->AddRectFilled({box.x, box.y}, {box.right(), box.bottom()}, p.sunk, ui.px(8));
    Columns c = columns_of(ui, box);
    if (row.changed) {
        const float s = ui.px(12);
        ui.draw()->AddTriangleFilled({box.x, box.y}, {box.x + s, box.y}, {box.x, box.y + s}, p.primary);
    }
    const Color ink = row.faint ? p.quiet : p.ink;
    const float label = ui.text_height(Face::body, row.label, c.label.w);
    ui.put_text({c.label.x, c.label.y, c.label.w, label}, Face::body, ink, row.label, Align::left, true);
    if (!c.beside)
        c.value.cut_top(label);
    const float value = ui.text_height(Face::body, row.value, c.value.w);
    ui.put_text({c.value.x, c.value.y, c.value.w, value}, Face::body, ink, row.value, Align::left, true);
    c.value.cut_top(value);
    if (!row.from.empty())
        ui.put_text({c.value.x, c.value.y, c.value.w, ui.text_height(Face::small, row.from, c.value.w)}, Face::small,
                    p.quiet, row.from, Align::left, true);
    ui.draw()->AddRectFilled({box.x, box.bottom() - ui.line()}, {box.right(), box.bottom()}, p.sunk);
    if (t.focused)
        ui.focus_ring(box, ui.px(8));
    return t.pressed;
}

float text_table(Ui& ui, std::string_view id, Box box, std::span<const float> shares,
                 std::span<const std::string> headings, std::span<const std::vector<std::string>> rows) {
    const Palette& p = ui.palette();
    const float top = box.y, pad = ui.px(8), gap = ui.px(12);
    float all = 0;
    for (const float share : shares)
        all += share;
    const float width = box.w - 2 * pad - gap * static_cast<float>(shares.size() - 1);
    const auto column = [&](std::size_t i) {
        float x = box.x + pad;
        for (std::size_t k = 0; k < i; ++k)
            x += std::floor(width * shares[k] / all) + gap;
        return Box{x, 0, std::floor(width * shares[i] / all), 0};
    };
    const auto line = [&](float y, std::span<const std::string> cells, Face face, bool head) {
        float h = 0;
        for (std::size_t i = 0; i < cells.size() && i < shares.size(); ++i) {
            Box cell = column(i);
            cell.y = y;
            cell.h = ui.text_height(face, cells[i], cell.w);
            h = std::max(h, cell.h);
            ui.put_text(cell, face, head ? p.quiet : p.ink, cells[i], Align::left, true);
        }
        return h;
    };
    if (!headings.empty())
        box.cut_top(line(box.y, headings, Face::small, true), ui.px(4));
    ui.draw()->AddRectFilled({box.x, box.y}, {box.right(), box.y + ui.line()}, p.edge);
    int n = 0;
    for (const auto& row : rows) {
        const float h = line(box.y + ui.px(6), row, Face::body, false) + ui.px(12);
        std::string said;
        for (std::size_t i = 1; i < row.size(); ++i) {
            if (row[i].empty())
                continue;
            if (!said.empty())
                said += "; ";
            if (i < headings.size() && !headings[i].empty())
                said.append(headings[i]).append(": ");
            said += row[i];
        }
        ui.note({.id = ui.id(id, n++), .label = row.empty() ? std::string_view() : std::string_view(row[0]), .value = said,
                 .role = Role::text, .box = {box.x, box.y, box.w, h}});
        box.cut_top(h);
        ui.draw()->AddRectFilled({box.x, box.y - ui.line()}, {box.right(), box.y}, p.sunk);
    }
    return box.y - top;
}

} // namespace hangtime::ui
