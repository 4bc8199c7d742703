#include "web/screens/class_view.hpp"

#include "core/words/format.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_words.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/bars.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

ClassView::ClassView()
    : TeachView({.id = "class",
                 .title = "A class",
                 .files = "result files",
                 .reading = "Reading results",
                 .intro = "The results that learners saved after a rehearsal. No result says whose it is, and the names of the files are not "
                          "kept."},
                [this](std::string_view text) { return summary_.add_file(text); }) {}

void ClassView::forget() {
    files().clear();
    summary_ = ClassSummary();
    case_ = 0;
}

std::optional<sheet::Document> ClassView::document() const {
    if (!any())
        return std::nullopt;
    return class_sheet(summary_, files().left_out());
}

void ClassView::save() { platform::save_file("class.csv", class_csv(summary_), "text/csv"); }

float ClassView::told(Ui& ui, Box box) {
    return ui::paragraph(ui, "class.rehearsal", box, joined({rehearsal_sentence(), "."}), Face::small) + ui.px(ui::gap_px);
}

float ClassView::parts(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    if (summary_.cases().size() < 2)
        return 0;
    ui::subheading(ui, "class.cases", box.cut_top(ui.line_height(Face::small), ui.px(4)), "Scenario");
    for (std::size_t i = 0; i < summary_.cases().size(); ++i) {
        const ClassCase& c = summary_.cases()[i];
        const std::string label = joined({c.scenario, ", ", std::to_string(c.attempts())});
        if (ui::choice(ui, ui.id("class.case.", static_cast<int>(i)), box.cut_top(ui.px(ui::row_px), gap), label, case_ == i)) {
            case_ = i;
            ui.scroll_to_top("class.figures");
        }
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
