#include "core/plan/plan_words.hpp"
#include "core/protocol/compare.hpp"
#include "core/protocol/write.hpp"
#include "web/screens/workshop.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

/// The workshop's last part: the rules as a file, and a copy of this page that works by them.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

std::string Workshop::file_text() const { return write_protocol(edit_->protocol()); }

// These rules first; then, where the page has a ward's own and not the examples, the others that it has.
std::string Workshop::page_text() const {
    std::string out = "[" + file_text();
    if (!page_has_examples_)
        for (const Protocol& p : protocols_)
            if (p.id != edit_->protocol().id && p.id != base_.id)
                out += ",\n" + write_protocol(p);
    return out + "]";
}

bool Workshop::named_like_an_example() const {
    const auto& all = page_has_examples_ ? protocols_ : examples_;
    const Protocol& p = edit_->protocol();
    return std::any_of(all.begin(), all.end(), [&](const Protocol& e) { return e.id == p.id && !(e == p); });
}

std::string Workshop::today() const {
    const LocalTime t = wall_.local(now_);
    const auto two = [](int n) { return std::string(n < 10 ? "0" : "") + std::to_string(n); };
    return joined({std::to_string(t.year), "-", two(t.month), "-", two(t.day)});
}

float Workshop::keep(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(12);
    const Protocol& p = edit_->protocol();
    box.cut_top(ui::paragraph(ui, "keep.rules", box, rules_text(p), Face::title), ui.px(4));
    const std::size_t n = compare(base_, p).size();
    box.cut_top(ui::paragraph(ui, "keep.changed", box,
                              edit_->protocol() == base_ ? std::string("As it was opened: nothing has been changed here.")
                              : n == 0 ? std::string("No rule is different from what was opened; its name, its standing or its sources are.")
                                       : joined({std::to_string(n), n == 1 ? " rule is" : " rules are",
                                                 " different from what was opened."})),
                gap);
    if (!p.adopted)
        box.cut_top(ui::caution(ui, "keep.example", box, "Example",
                                "Every screen and every sheet says that no ward has adopted these rules, until \"Name and standing\" "
                                "says that yours has."),
                    gap);
    if (named_like_an_example())
        box.cut_top(ui::caution(ui, "keep.name", box, "Name",
                                joined({"These rules are still called \"", p.id,
                                        "\", as an example is. Give them a name of their own under \"Name and standing\"."})),
                    gap);
    if (n > 0 && p.revised == base_.revised) {
        box.cut_top(ui::caution(ui, "keep.date", box, "Date",
                                joined({"The rules were changed, and are still dated ", p.revised, "."})),
                    ui.px(8));
        if (ui::button(ui, "keep.today", box.cut_top(ui.px(ui::row_px), gap).cut_left(std::min(box.w, ui.px(360))),
                       joined({"Date them ", today()}))) {
            const Protocol was = p;
            if (!edit_->set("", {{"revised", today()}})) {
                undo_.push_back(was);
                changed();
            }
        }
    }
    const float half = std::min(box.w, ui.px(520));
    if (ui::button(ui, "keep.page", box.cut_top(ui.px(56), ui.px(6)).cut_left(half), "Save a copy of this page with these rules",
                   ui::Look::primary)) {
        platform::save_page(joined({"hangtime-", p.id, ".html"}), page_text());
        message_ = joined({"The copy holds: ", rules_text(p), ". It needs nothing else, and works where this page does."});
    }
    box.cut_top(ui::paragraph(ui, "keep.page.about", box,
                              "One file for the whole ward: this page, working by these rules in place of the examples. Every screen and "
                              "every sheet of it says whose rules they are and of when. Nothing of what this machine keeps goes into it.",
                              Face::small, true),
                gap);
    if (ui::button(ui, "keep.file", box.cut_top(ui.px(56), ui.px(6)).cut_left(half), "Save the rules as a file")) {
        platform::save_file(joined({p.id, ".json"}), file_text(), "application/json");
        message_ = joined({"The file holds: ", rules_text(p), "."});
    }
    box.cut_top(ui::paragraph(ui, "keep.file.about", box,
                              "To be opened here again, checked on the command line (hangtime protocol FILE), or changed in a text "
                              "editor: that is where titles of sources and other words are written.",
                              Face::small, true),
                gap);
    if (ui::button(ui, "keep.card", box.cut_top(ui.px(ui::row_px), ui.px(6)).cut_left(half), "Print the card for a day without a computer")) {
        paper_ = Paper::day_card;
        wishes_.print = true;
    }
    Box row = box.cut_top(ui.px(ui::row_px), gap).cut_left(half);
    if (ui::button(ui, "keep.close", row, "Look at other rules ...")) {
        // Nothing is lost by it: what was changed and not kept is asked for first.
        if (!undo_.empty() && message_ != "There are changes that are not kept in a file yet. Press again to leave them.") {
            message_ = "There are changes that are not kept in a file yet. Press again to leave them.";
        } else {
            edit_.reset();
            message_.clear();
            ui.change_screen();
        }
    }
    return box.y - top;
}

} // namespace hangtime::screens
