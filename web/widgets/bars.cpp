#include "web/widgets/bars.hpp"

#include "web/widgets/controls.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>

namespace hangtime::ui {

float bars(Ui& ui, std::string_view id, Box box, std::span<const BarRow> rows, std::int64_t longest) {
    const float top = box.y, gap = ui.px(6), space = ui.px(12);
    const Palette& p = ui.palette();
    float names = 0, values = 0;
    for (const BarRow& row : rows) {
        names = std::max(names, ui.text_width(Face::small, row.name) + 1);
        values = std::max(values, ui.text_width(Face::small, row.value) + 1);
    }
    const float line = ui.line_height(Face::small);
    // Where there is no room beside it, the bar stands below its name.
    const bool below = names + values + 2 * space + ui.px(120) > box.w;
    const std::string prefix = std::string(id) + ".";
    int n = 0;
    for (const BarRow& row : rows) {
        Box at = box.cut_top(below ? 2 * line + ui.px(4) : std::max(line, ui.px(22)), gap);
        const Box whole = at;
        Box words = below ? at.cut_top(line, ui.px(4)) : at.cut_left(names, space);
        Box value = below ? words.cut_right(values, space) : at.cut_right(values, space);
        if (!below) {
            words.y += (words.h - line) / 2, words.h = line;
            value.y += (value.h - line) / 2, value.h = line;
        }
        ui.note({.id = ui.id(prefix, n++), .label = row.name, .value = row.value, .role = Role::picture, .box = whole});
        ui.put_text(words, Face::small, p.ink, row.name);
        ui.put_text(value, Face::small, p.ink, row.value, Align::right);
        const float height = ui.px(12), y = std::round(at.y + (at.h - height) / 2);
        const auto length = [&](std::int64_t of) {
            return longest > 0 ? std::round(at.w * static_cast<float>(of) / static_cast<float>(longest)) : 0.0f;
        };
        ImDrawList* draw = ui.draw();
        if (row.whole > 0)
            draw->AddRect({at.x, y}, {at.x + length(row.whole), y + height}, p.quiet, 0, 0, ui.line());
        if (row.filled > 0)
            draw->AddRectFilled({at.x, y}, {at.x + std::max(length(row.filled), ui.px(2)), y + height}, p.ink);
        else if (row.whole == 0)
            draw->AddRectFilled({at.x, y}, {at.x + ui.line(), y + height}, p.quiet);
    }
    return box.y - top;
}

void progress(Ui& ui, std::string_view id, Box box, std::string_view label, int done, int all) {
    const Palette& p = ui.palette();
    const std::string value = std::to_string(done) + " of " + std::to_string(all);
    ui.note({.id = id, .label = label, .value = value, .role = Role::text, .box = box});
    Box words = box.cut_top(ui.line_height(Face::small), ui.px(4));
    ui.put_text(words.cut_right(ui.text_width(Face::small, value) + 1, ui.px(8)), Face::small, p.ink, value, Align::right);
    ui.put_text(words, Face::small, p.ink, label);
    const float height = ui.px(12);
    ui.draw()->AddRect({box.x, box.y}, {box.right(), box.y + height}, p.quiet, 0, 0, ui.line());
    if (all > 0 && done > 0)
        ui.draw()->AddRectFilled({box.x, box.y}, {box.x + box.w * static_cast<float>(done) / static_cast<float>(all), box.y + height},
                                 p.ink);
}

} // namespace hangtime::ui
