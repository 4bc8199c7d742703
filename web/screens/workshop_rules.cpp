#include "core/plan/edit_words.hpp"
#include "core/plan/plan_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/workshop.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/text_table.hpp"

#include <algorithm>

/// The workshop's table, and what of other rules can be taken over.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr float panel_px = 400;

} // namespace

bool Workshop::is_changed(const EditGroup& group) const {
    const EditGroup* was = before_->find(group.path);
    if (!was || was->there != group.there)
        return group.there || was;
    return was->source != group.source || was->grade != group.grade || was->values != group.values;
}

void Workshop::look() {
    sections_.clear();
    const auto& groups = edit_->groups();
    for (std::size_t g = 0; g < groups.size(); ++g) {
        const std::string title = edit_section(groups[g].path);
        auto at = std::find_if(sections_.begin(), sections_.end(), [&](const Section& s) { return s.title == title; });
        if (at == sections_.end())
            at = sections_.insert(sections_.end(), {title, {}, 0});
        at->groups.push_back(g);
        at->changed += is_changed(groups[g]) ? 1 : 0;
    }
}

void Workshop::rules(Ui& ui, Box area) {
    const bool wide = area.w >= ui.px(1000);
    if (grouped_ && !wide) {
        panel(ui, area);
        return;
    }
    if (wide) {
        Box side = area.cut_right(ui.px(panel_px), ui.px(16));
        if (grouped_) {
            panel(ui, side);
        } else {
            side.cut_top(ui::paragraph(ui, "rules.hint", side,
                                       "Touch a rule to change it. Every change is checked at once, as the command line does."),
                         ui.px(12));
            ui::paragraph(ui, "rules.words", side,
                          "Numbers and choices are changed here. Titles of sources and other words are written in the file: save it, "
                          "change it in a text editor, and open it again.",
                          Face::small, true);
        }
    }
    const Box in = ui.begin_scroll("workshop.rules", area);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    rest.cut_top(list(ui, rest), ui.px(12));
    rest.cut_top(foot(ui, rest), ui.px(8));
    ui.end_scroll(rest.y - in.y);
}

float Workshop::list(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    if (!undo_.empty() && ui::button(ui, "workshop.undo", box.cut_top(ui.px(ui::row_px), gap).cut_left(std::min(box.w, ui.px(300))),
                                     "Take the last change back"))
        undo(ui);
    if (!edit_)
        return box.y - top;
    const auto& groups = edit_->groups();
    const Protocol& p = edit_->protocol();
    std::string touched;
    bool touch = false;
    for (std::size_t s = 0; s < sections_.size(); ++s) {
        const Section& section = sections_[s];
        const bool open = section_ == section.title;
        const std::string label =
            section.changed == 0 ? section.title : joined({section.title, ", ", std::to_string(section.changed), " changed"});
        if (ui::fold(ui, ui.id("section.", static_cast<int>(s)), box.cut_top(ui.px(ui::row_px), gap), label, open)) {
            section_ = open ? std::string() : section.title;
            ui.change_screen();
        }
        if (!open)
            continue;
        for (const std::size_t g : section.groups) {
            const EditGroup& group = groups[g];
            const std::string name = edit_label(group, p), value = edit_value(group), from = edit_basis(group, p);
            const ui::RuleRow row{.label = name, .value = value, .from = from, .open = grouped_ && group_ == group.path,
                                  .changed = is_changed(group), .faint = !group.there};
            const std::string id = joined({"rule.", group.path.empty() ? std::string_view("head") : std::string_view(group.path)});
            if (ui::rule_row(ui, ui.keep(id), box.cut_top(ui::rule_row_height(ui, box.w, row)), row))
                touched = group.path, touch = true;
        }
        box.cut_top(ui.px(12));
    }
    box.cut_top(parts(ui, box), gap);
    if (touch)
        open_group(ui, touched);
    return box.y - top;
}

// Whole parts that the file leaves out are taken over from rules that have them.
float Workshop::parts(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    int n = 0;
    std::string path, from_path;
    const Protocol* from = nullptr;
    for (const std::string& left : edit_->parts_left_out()) {
        const bool set = left.starts_with("observations.rule_sets[");
        for (const Protocol* other : others()) {
            std::string source;
            if (set) {
                for (std::size_t i = 0; i < other->observations.rule_sets.size() && source.empty(); ++i)
                    if (!edit_->protocol().observations.find(other->observations.rule_sets[i].id))
                        source = joined({"observations.rule_sets[", std::to_string(i), "]"});
            } else if ((left == "match" && other->match) || (left == "round" && other->round) || (left == "session" && other->session)) {
                source = left;
            }
            if (source.empty())
                continue;
            if (n == 0)
                ui::subheading(ui, "parts", box.cut_top(ui.line_height(Face::small), ui.px(4)), "Left out here; can be taken over");
            const std::string label = joined({part_label(left), ", as in: ", other->title});
            if (ui::button(ui, ui.id("part.", n++), box.cut_top(ui.px(ui::row_px), gap), label))
                path = left, from_path = source, from = other;
        }
    }
    if (from) {
        const Protocol was = edit_->protocol();
        const Protocol taken = *from;
        if (const auto error = edit_->take_over(path, taken, from_path)) {
            message_ = joined({"Not taken over: ", error->where, ": ", error->problem, "; accepted: ", error->accepted, "."});
        } else {
            undo_.push_back(was);
            changed();
            message_ = joined({part_label(path), ": taken over from ", taken.title, ", with its sources."});
        }
        ui.change_screen();
    }
    return box.y - top;
}

} // namespace hangtime::screens
