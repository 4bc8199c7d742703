#include "web/screens/teach_parts.hpp"

#include "core/words/format.hpp"
#include "web/widgets/controls.hpp"

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

TeachHeader teach_header(Ui& ui, Box box, std::string_view id, std::string_view title, bool ready) {
    TeachHeader did;
    const float gap = ui.px(ui::gap_px);
    const bool tight = box.w < ui.px(900);
    did.back = ui::button(ui, ui.keep(joined({id, ".back"})), box.cut_left(ui.px(tight ? 72 : 96), ui.px(12)), "Back");
    did.print = ui::button(ui, "page.print", box.cut_right(ui.px(tight ? 64 : 130), gap), tight ? "Print" : "Print sheet", ui::Look::plain,
                           ready);
    did.save = ui::button(ui, ui.keep(joined({id, ".save"})), box.cut_right(ui.px(tight ? 64 : 170), gap), tight ? "Table" : "Save as a table",
                          ui::Look::plain, ready, "Save as a table for a spreadsheet");
    did.night = ui::button(ui, "page.ground", box.cut_right(ui.px(72), gap), ui.night() ? "Day" : "Night", ui::Look::plain, true,
                           ui.night() ? "Day colours" : "Night colours");
    const float h = ui.line_height(Face::title);
    const Box line = {box.x, box.y + (box.h - h) / 2, box.w, h};
    ui.note({.id = "title", .label = title, .role = ui::Role::heading, .box = line});
    ui.put_text(line, Face::title, ui.palette().ink, title);
    return did;
}

} // namespace hangtime::screens
