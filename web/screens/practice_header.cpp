#include "web/screens/practice_header.hpp"

#include "web/widgets/controls.hpp"

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

PracticeHeader practice_header(Ui& ui, Box box, std::string_view back, std::string_view title, bool prints) {
    PracticeHeader out;
    const float gap = ui.px(ui::gap_px);
    out.back = ui::button(ui, "practice.back", box.cut_left(ui.text_width(Face::body, back) + ui.px(36), ui.px(12)), back);
    out.night = ui::button(ui, "page.ground", box.cut_right(ui.px(72), gap), ui.night() ? "Day" : "Night", ui::Look::plain,
                           true, ui.night() ? "Day colours" : "Night colours");
    if (prints)
        out.print = ui::button(ui, "page.print", box.cut_right(ui.px(72), gap), "Print");
    const Face face = ui.text_width(Face::title, title) > box.w ? Face::body : Face::title;
    const float h = ui.line_height(face);
    const Box line = {box.x, box.y + (box.h - h) / 2, box.w, h};
    ui.note({.id = "title", .label = title, .role = ui::Role::heading, .box = line});
    ui.put_text(line, face, ui.palette().ink, title);
    return out;
}

} // namespace hangtime::screens
