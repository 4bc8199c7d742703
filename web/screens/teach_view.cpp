#include "web/screens/teach_view.hpp"

#include "core/words/format.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/bars.hpp"
#include "web/widgets/controls.hpp"

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

TeachView::Wishes TeachView::take_wishes() {
    const Wishes w = wishes_;
    wishes_ = {};
    return w;
}

std::string_view TeachView::id(Ui& ui, std::string_view part) const {
    return ui.keep(joined({words_.id, part.empty() ? "" : ".", part}));
}

void TeachView::build(Ui& ui, Box area) {
    header(ui, area.cut_top(ui.px(52), ui.px(8)));
    const float gap = ui.px(12);
    if (!reminder_.empty())
        area.cut_top(ui::caution(ui, "reminder", area, "", reminder_), gap);
    if (area.w >= ui.px(1000)) {
        const Box beside = area.cut_left(ui.px(380), ui.px(20));
        const Box in = ui.begin_scroll(id(ui, "side"), beside);
        ui.end_scroll(side(ui, {in.x, in.y, in.w - ui.px(12), 1e6f}));
        const Box out = ui.begin_scroll(id(ui, "figures"), area);
        ui.end_scroll(figures(ui, {out.x, out.y, out.w - ui.px(12), 1e6f}));
        return;
    }
    const Box in = ui.begin_scroll(id(ui, ""), area);
    Box rest = {in.x, in.y, in.w - ui.px(12), 1e6f};
    rest.cut_top(side(ui, rest), gap);
    rest.cut_top(figures(ui, rest), gap);
    ui.end_scroll(rest.y - in.y);
}

// Back, the title, a table for the spreadsheet, the sheet, day or night.
void TeachView::header(Ui& ui, Box box) {
    const float gap = ui.px(ui::gap_px);
    const bool tight = box.w < ui.px(900), ready = any() && !files_.busy();
    if (ui::button(ui, id(ui, "back"), box.cut_left(ui.px(tight ? 72 : 96), ui.px(12)), "Back"))
        wishes_.back = true;
    if (ui::button(ui, "page.print", box.cut_right(ui.px(tight ? 64 : 130), gap), tight ? "Print" : "Print sheet", ui::Look::plain, ready))
        wishes_.print = true;
    if (ui::button(ui, id(ui, "save"), box.cut_right(ui.px(tight ? 64 : 170), gap), tight ? "Table" : "Save as a table", ui::Look::plain,
                   ready, "Save as a table for a spreadsheet"))
        save();
    if (ui::button(ui, "page.ground", box.cut_right(ui.px(72), gap), ui.night() ? "Day" : "Night", ui::Look::plain, true,
                   ui.night() ? "Day colours" : "Night colours"))
        wishes_.night = true;
    const float h = ui.line_height(Face::title);
    const Box line = {box.x, box.y + (box.h - h) / 2, box.w, h};
    ui.note({.id = "title", .label = words_.title, .role = ui::Role::heading, .box = line});
    ui.put_text(line, Face::title, ui.palette().ink, words_.title);
}

float TeachView::side(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(12);
    box.cut_top(sources(ui, box), gap);
    if (any())
        box.cut_top(parts(ui, box), gap);
    box.cut_top(left_out(ui, box), gap);
    return box.y - top;
}

float TeachView::sources(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const auto row = [&] { return box.cut_top(ui.px(ui::row_px), gap); };
    if (files_.busy()) {
        ui::progress(ui, id(ui, "progress"), box.cut_top(ui.px(40), gap), words_.reading, files_.done(), files_.all());
        if (ui::button(ui, id(ui, "cancel"), row(), "Stop reading"))
            files_.cancel();
        return box.y - top;
    }
    const bool none = !any();
    if (ui::button(ui, id(ui, "choose"), row(), ui.keep(joined({none ? "Choose " : "Choose more ", words_.files})),
                   none ? ui::Look::primary : ui::Look::plain))
        files_.choose();
    box.cut_top(other_source(ui, box), 0);
    if (!none && ui::button(ui, id(ui, "forget"), row(), "Begin again")) {
        forget();
        ui.change_screen();
        return box.y - top;
    }
    box.cut_top(told(ui, box), 0);
    if (files_.cancelled())
        box.cut_top(ui::paragraph(ui, id(ui, "stopped"), box, "Stopped: what had been read is counted.", Face::small), gap);
    if (none)
        box.cut_top(ui::paragraph(ui, id(ui, "intro"), box, words_.intro), gap);
    return box.y - top;
}

float TeachView::left_out(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(6);
    const auto& out = files_.left_out();
    if (out.empty())
        return 0;
    const std::string title = joined({"Left out: ", std::to_string(out.size()), out.size() == 1 ? " file" : " files"});
    ui::subheading(ui, id(ui, "left_out"), box.cut_top(ui.line_height(Face::small), ui.px(4)), title);
    constexpr std::size_t most = 20;
    for (std::size_t i = 0; i < out.size() && i < most; ++i)
        box.cut_top(ui::paragraph(ui, id(ui, joined({"left_out.", std::to_string(i)})), box, joined({out[i].file, ": ", out[i].why}), Face::small),
                    gap);
    if (out.size() > most)
        box.cut_top(ui::paragraph(ui, id(ui, "left_out.more"), box,
                                  joined({"and ", std::to_string(out.size() - most), " more; all stand on the sheet"}), Face::small),
                    gap);
    return box.y - top;
}

} // namespace hangtime::screens
