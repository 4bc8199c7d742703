#include "core/plan/plan_words.hpp"
#include "core/plan/protocol_sheet.hpp"
#include "core/protocol/compare.hpp"
#include "web/screens/workshop.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/text_table.hpp"

/// The workshop's comparisons: what the changes made here would change in the demo cases, and what differs from other
/// rules.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

float Workshop::changes(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(16);
    if (!case_changes_)
        case_changes_ = case_changes(base_, edit_->protocol(), cases_);
    const auto& all = *case_changes_;
    const bool same = edit_->protocol() == base_;
    box.cut_top(ui::paragraph(ui, "changes.sum", box,
                              same ? std::string("Nothing has been changed here yet, so nothing changes in the demo cases.")
                                   : changed_sentence(all),
                              Face::title),
                ui.px(4));
    box.cut_top(ui::paragraph(ui, "changes.about", box,
                              joined({"The demo transfusions under the rules as they were opened (", rules_text(base_),
                                      ") and as they are here now."}),
                              Face::small, true),
                gap);
    constexpr float shares[] = {0.3f, 0.35f, 0.35f};
    const std::vector<std::string> headings = {"Answer", "Old", "New"};
    int n = 0;
    std::string unchanged;
    for (const CaseChange& change : all) {
        const std::string title = joined({change.title, change.about.empty() ? "" : ": ", change.about});
        if (change.lines.empty()) {
            unchanged += joined({unchanged.empty() ? "" : "; ", title});
            ++n;
            continue;
        }
        ui::subheading(ui, ui.id("changes.", n, ".title"), box.cut_top(ui.line_height(Face::small), ui.px(4)), title);
        std::vector<std::vector<std::string>> rows;
        for (const CaseLine& line : change.lines)
            rows.push_back({line.what, line.before, line.after});
        box.cut_top(ui::text_table(ui, ui.id("changes.", n, ".line."), box, shares, headings, rows), gap);
        ++n;
    }
    if (!unchanged.empty() && !same)
        box.cut_top(ui::paragraph(ui, "changes.same", box, joined({"Nothing changes in: ", unchanged, "."})), gap);
    return box.y - top;
}

std::vector<const Protocol*> Workshop::others() const {
    std::vector<const Protocol*> out;
    out.push_back(&base_);
    for (const auto* from : {&protocols_, &examples_})
        for (const Protocol& p : *from)
            if (!(p == base_))
                out.push_back(&p);
    if (from_file_)
        out.push_back(&*from_file_);
    return out;
}

const Protocol* Workshop::other() const {
    const auto all = others();
    return other_ < all.size() ? all[other_] : all.front();
}

float Workshop::differs(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const auto all = others();
    if (other_ >= all.size())
        other_ = 0;
    ui::subheading(ui, "differs.with", box.cut_top(ui.line_height(Face::small), ui.px(4)),
                   "Somebody who comes from a ward that works by");
    const int columns = box.w >= ui.px(700) ? 2 : 1;
    Box line{};
    for (std::size_t i = 0; i < all.size(); ++i) {
        const int at = static_cast<int>(i) % columns;
        if (at == 0)
            line = box.cut_top(ui.px(ui::row_px), gap);
        const std::string text = i == 0 ? joined({"These rules as they were opened: ", all[i]->title}) : joined({all[i]->title, ", ", all[i]->revised});
        if (ui::choice(ui, ui.id("differs.other.", static_cast<int>(i)), line.cell(columns, 1, at, 0, gap), text, other_ == i))
            other_ = i;
    }
    Box row = box.cut_top(ui.px(ui::row_px), ui.px(16));
    if (ui::button(ui, "differs.open", row.cell(2, 1, 0, 0, gap), "Other rules from a file")) {
        file_is_other_ = true;
        platform::open_file();
    }
    if (ui::button(ui, "differs.card", row.cell(2, 1, 1, 0, gap), "Print the card for who floats", ui::Look::primary)) {
        paper_ = Paper::card;
        wishes_.print = true;
    }
    const Protocol& here = edit_->protocol();
    const Protocol& with = *all[other_];
    const std::vector<Difference> found = compare(with, here);
    box.cut_top(ui::paragraph(ui, "differs.sum", box,
                              found.empty() ? std::string("Nothing differs: both say the same.")
                                            : joined({std::to_string(found.size()), found.size() == 1 ? " rule is" : " rules are",
                                                      " different here."}),
                              Face::title),
                ui.px(12));
    constexpr float shares[] = {0.4f, 0.3f, 0.3f};
    const std::vector<std::string> headings = {"Rule", joined({"Usual: ", with.title}), joined({"Here: ", here.title})};
    std::string group;
    std::vector<std::vector<std::string>> rows;
    int n = 0;
    const auto flush = [&] {
        if (rows.empty())
            return;
        ui::subheading(ui, ui.id("differs.", n, ".title"), box.cut_top(ui.line_height(Face::small), ui.px(4)), group);
        box.cut_top(ui::text_table(ui, ui.id("differs.", n, ".line."), box, shares, headings, rows), ui.px(16));
        rows.clear();
        ++n;
    };
    for (const Difference& d : found) {
        const std::string of = rule_group(d.path);
        if (of != group)
            flush();
        group = of;
        rows.push_back({rule_label(d.path), value_words(d.path, d.left), value_words(d.path, d.right)});
    }
    flush();
    return box.y - top;
}

} // namespace hangtime::screens
