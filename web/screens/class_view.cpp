#include "web/screens/class_view.hpp"

#include "core/words/format.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_words.hpp"
#include "web/screens/teach_parts.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/bars.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

ClassView::Wishes ClassView::take_wishes() {
    const Wishes w = wishes_;
    wishes_ = {};
    return w;
}

void ClassView::cleared() {
    files_.clear();
    summary_ = ClassSummary();
    case_ = 0;
}

std::optional<sheet::Document> ClassView::document() const {
    if (summary_.attempts() == 0)
        return std::nullopt;
    return class_sheet(summary_, files_.left_out());
}

void ClassView::build(Ui& ui, Box area) {
    const bool ready = summary_.attempts() > 0 && !files_.busy();
    const TeachHeader did = teach_header(ui, area.cut_top(ui.px(52), ui.px(8)), "class", "A class", ready);
    wishes_.back = wishes_.back || did.back;
    wishes_.print = wishes_.print || did.print;
    wishes_.night = wishes_.night || did.night;
    if (did.save)
        platform::save_file("class.csv", class_csv(summary_), "text/csv");
    const float gap = ui.px(12);
    if (!reminder_.empty())
        area.cut_top(ui::caution(ui, "reminder", area, "", reminder_), gap);
    if (area.w >= ui.px(1000)) {
        const Box side = area.cut_left(ui.px(380), ui.px(20));
        const Box in = ui.begin_scroll("class.side", side);
        ui.end_scroll(sources(ui, {in.x, in.y, in.w - ui.px(12), 1e6f}));
        const Box out = ui.begin_scroll("class.figures", area);
        ui.end_scroll(figures(ui, {out.x, out.y, out.w - ui.px(12), 1e6f}));
        return;
    }
    const Box in = ui.begin_scroll("class", area);
    Box rest = {in.x, in.y, in.w - ui.px(12), 1e6f};
    rest.cut_top(sources(ui, rest), gap);
    rest.cut_top(figures(ui, rest), gap);
    ui.end_scroll(rest.y - in.y);
}

float ClassView::sources(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const bool none = summary_.attempts() == 0;
    if (files_.busy()) {
        ui::progress(ui, "class.progress", box.cut_top(ui.px(40), gap), "Reading results", files_.done(), files_.all());
        if (ui::button(ui, "class.cancel", box.cut_top(ui.px(ui::row_px), gap), "Stop reading"))
            files_.cancel();
        return box.y - top;
    }
    if (ui::button(ui, "class.choose", box.cut_top(ui.px(ui::row_px), gap), none ? "Choose result files" : "Choose more result files",
                   none ? ui::Look::primary : ui::Look::plain))
        files_.choose();
    if (!none && ui::button(ui, "class.forget", box.cut_top(ui.px(ui::row_px), gap), "Begin again")) {
        cleared();
        ui.change_screen();
        return box.y - top;
    }
    box.cut_top(ui::paragraph(ui, "class.rehearsal", box, joined({rehearsal_sentence(), "."}), Face::small), gap);
    if (none)
        box.cut_top(ui::paragraph(ui, "class.intro", box,
                                  "The results that learners saved after a rehearsal. No result says whose it is, and the names of the "
                                  "files are not kept."),
                    gap);
    if (summary_.cases().size() > 1) {
        ui::subheading(ui, "class.cases", box.cut_top(ui.line_height(Face::small), ui.px(4)), "Scenario");
        for (std::size_t i = 0; i < summary_.cases().size(); ++i) {
            const ClassCase& c = summary_.cases()[i];
            const std::string label = joined({c.scenario, ", ", std::to_string(c.attempts())});
            if (ui::choice(ui, ui.id("class.case.", static_cast<int>(i)), box.cut_top(ui.px(ui::row_px), gap), label, case_ == i)) {
                case_ = i;
                ui.scroll_to_top("class.figures");
            }
        }
    }
    const auto& out = files_.left_out();
    if (!out.empty()) {
        const std::string title = joined({"Left out: ", std::to_string(out.size()), out.size() == 1 ? " file" : " files"});
        ui::subheading(ui, "class.left_out", box.cut_top(ui.line_height(Face::small), ui.px(4)), title);
        for (std::size_t i = 0; i < out.size() && i < 20; ++i)
            box.cut_top(ui::paragraph(ui, ui.id("class.left_out.", static_cast<int>(i)), box, joined({out[i].file, ": ", out[i].why}),
                                      Face::small),
                        ui.px(6));
    }
    return box.y - top;
}

float ClassView::figures(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(18);
    if (summary_.attempts() == 0) {
        ui.announce("A class. Nothing is read yet.");
        return 0;
    }
    const ClassCase& c = summary_.cases()[std::min(case_, summary_.cases().size() - 1)];
    const std::int32_t all = c.attempts();
    const auto number = [](std::int32_t n) { return std::to_string(n); };
    const std::string about = joined({c.scenario, ", ", c.protocol, ": ", number(all), all == 1 ? " attempt" : " attempts"});
    box.cut_top(ui::paragraph(ui, "class.about", box, about, Face::title), ui.px(2));
    ui.announce(about);
    box.cut_top(ui::paragraph(ui, "class.points", box,
                              joined({"Points ", number(c.points.front()), " to ", number(c.points.back()), " of ", number(c.most), ", ",
                                      number(c.points[static_cast<std::size_t>(all - 1) / 2]), " in the middle. Blood wasted in ",
                                      number(c.wasted), ", over the limit in ", number(c.over_limit), "."})),
                gap);
    std::vector<ui::BarRow> rows;
    std::int64_t longest = 1;
    ui::subheading(ui, "class.spread", box.cut_top(ui.line_height(Face::small), ui.px(6)), "Points, and how many attempts");
    for (const ScoreBin& bin : score_bins(c)) {
        rows.push_back({ui.keep(bin.least == bin.most ? number(bin.most) : joined({number(bin.least), " to ", number(bin.most)})),
                        ui.keep(number(bin.attempts)), bin.attempts, 0});
        longest = std::max<std::int64_t>(longest, bin.attempts);
    }
    box.cut_top(ui::bars(ui, "class.score", box, rows, longest), gap);
    ui::subheading(ui, "class.items", box.cut_top(ui.line_height(Face::small), ui.px(6)), "Each scored item: met by");
    rows.clear();
    for (const ClassItem& item : c.items)
        rows.push_back({item.item, ui.keep(joined({number(item.met), " of ", number(all)})), item.met, all});
    box.cut_top(ui::bars(ui, "class.item", box, rows, all), gap);
    const std::vector<std::size_t> mistakes = c.mistakes();
    if (mistakes.empty() && c.refused.empty())
        return box.y - top;
    ui::subheading(ui, "class.mistakes", box.cut_top(ui.line_height(Face::small), ui.px(6)), "Common mistakes");
    int n = 0;
    for (const std::size_t i : mistakes) {
        if (n == 8)
            break;
        const ClassItem& item = c.items[i];
        box.cut_top(ui::paragraph(ui, ui.id("class.mistake.", n++), box,
                                  joined({item.item, ": ", mistake_text(item, all), ". ",
                                          item.rule.empty() ? joined({"The rule is from ", item.from, "."}) : item.rule})),
                    ui.px(8));
    }
    n = 0;
    for (const auto& [why, attempts] : c.refused)
        box.cut_top(ui::paragraph(ui, ui.id("class.refused.", n++), box,
                                  joined({"Tried and refused, in ", number(attempts), " of ", number(all), ": ", sentence(why)})),
                    ui.px(8));
    return box.y - top;
}

} // namespace hangtime::screens
