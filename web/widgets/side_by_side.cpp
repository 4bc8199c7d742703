#include "web/widgets/side_by_side.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace hangtime::ui {
namespace {

constexpr float name_px = 56, cell_px = 24, row_px = 32;

void row(Ui& ui, Box box, std::string_view name, std::string_view text, std::size_t longest,
         std::uint32_t differing, bool notch) {
    const Palette& p = ui.palette();
    const float down = (box.h - ui.line_height(Face::title)) / 2;
    const Box at = box.cut_left(ui.px(name_px));
    ui.put_text({at.x, at.y + (at.h - ui.line_height(Face::small)) / 2, at.w, at.h}, Face::small, p.quiet, name);
    if (text.empty()) {
        ui.put_text({box.x, box.y + down, box.w, box.h}, Face::body, p.quiet, "not read");
        return;
    }
    const float most = box.w / static_cast<float>(std::max<std::size_t>(longest, 1));
    const float wide = std::floor(std::min(ui.px(cell_px), most));
    for (std::size_t i = 0; i < longest; ++i) {
        const Box cell = {box.x + wide * static_cast<float>(i), box.y, wide, box.h};
        const bool differs = (differing >> i & 1u) != 0;
        if (differs) {
            const float edge = ui.px(1);
            ui.draw()->AddRectFilled({cell.x + edge, cell.y + edge}, {cell.right() - edge, cell.bottom() - edge},
                                     p.ink, ui.px(3));
            if (notch) {
                const float middle = cell.x + wide / 2, size = ui.px(5);
                ui.draw()->AddTriangleFilled({middle - size, cell.bottom() + 2 * size},
                                             {middle + size, cell.bottom() + 2 * size},
                                             {middle, cell.bottom() + ui.px(2)}, p.ink);
            }
        }
        if (i < text.size())
            ui.put_text({cell.x, cell.y + down, cell.w, cell.h}, Face::title, differs ? p.ground : p.ink,
                        text.substr(i, 1), Align::centre);
    }
}

} // namespace

float side_by_side_height(const Ui& ui) {
    return 2 * ui.line_height(Face::small) + ui.px(6) + 2 * ui.px(row_px) + ui.px(14);
}

void side_by_side(Ui& ui, std::string_view id, Box box, const SideBySide& t) {
    ui.note({.id = id, .label = t.label, .value = t.said, .role = Role::text, .box = box});
    const Palette& p = ui.palette();
    Box rest = box;
    ui.put_text(rest.cut_top(ui.line_height(Face::small)), Face::small, p.quiet, t.label);
    const std::size_t longest = std::max(t.upper.size(), t.lower.size());
    row(ui, rest.cut_top(ui.px(row_px)), t.upper_name, t.upper, longest, t.differing, false);
    row(ui, rest.cut_top(ui.px(row_px), ui.px(12)), t.lower_name, t.lower, longest, t.differing, true);
    ui.put_text(rest.cut_top(ui.line_height(Face::small)), Face::small, p.ink, t.said);
}

} // namespace hangtime::ui
