#include "web/screens/rehearse_list.hpp"

#include "core/words/rehearse_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/practice_header.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using rehearse::Shared;
using ui::Box;
using ui::Face;
using ui::Ui;

RehearseList::Wishes RehearseList::take_wishes() {
    Wishes w;
    std::swap(w, wishes_);
    return w;
}

void RehearseList::add(Shared own) {
    own_ = std::move(own);
    open_ = "rehearse.own";
    message_.clear();
}

float RehearseList::row(Ui& ui, Box box, const Shared& one, std::string_view id, const Shown& shown) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const bool opened = open_ == id;
    const std::string title = joined({std::to_string(one->number), "  ", one->title});
    if (ui::fold_row(ui, id, box.cut_top(ui.px(ui::row_px + 6), ui.px(2)), title, name(one->level), opened)) {
        open_ = opened ? std::string() : std::string(id);
        ui.change_screen();
        return box.y - top;
    }
    if (!opened)
        return box.y - top;
    Box in = box;
    in.cut_left(ui.px(34));
    const std::string held(id);
    const auto part = [&](std::string_view after) { return ui.keep(held + std::string(after)); };
    for (std::size_t i = 0; i < one->teaches.size(); ++i)
        in.cut_top(ui::caution(ui, part(joined({".teaches.", std::to_string(i)})), in, "", one->teaches[i]), ui.px(6));
    const std::string about = joined({"Lasts ", span_text(one->lasts), " on its clock. Rules: ", one->rules->title,
                                      ". Case number ", std::to_string(hangtime::case_number(*one, one->seed)), "."});
    in.cut_top(ui::paragraph(ui, part(".about"), in, about, Face::body, true), gap);
    Box line = in.cut_top(ui.px(ui::row_px), ui.px(12));
    if (ui::button(ui, part(".start"), line.cut_left(std::min(ui.px(200), line.w * 0.4f), gap), "Begin", ui::Look::primary, shown.may_write,
                   ui.keep(joined({"Begin ", one->title})))) {
        wishes_.start = one;
        wishes_.seed = one->seed;
    }
    if (ui::button(ui, part(".change"), line.cut_left(std::min(ui.px(150), line.w * 0.5f), gap), "Change it ..."))
        wishes_.change = one;
    if (ui::button(ui, part(".sheet"), line.cut_left(std::min(ui.px(190), line.w * 0.6f), gap), "For the teacher"))
        wishes_.sheet = one;
    if (ui::button(ui, part(".cards"), line.cut_left(std::min(ui.px(110), line.w), gap), "Cards", ui::Look::plain, true,
                   "Print practice bags and tags")) {
        wishes_.sheet = one;
        wishes_.seed = one->seed;
        wishes_.cards = true;
    }
    return in.y - top;
}

void RehearseList::case_number(Ui& ui, Box area) {
    const float gap = ui.px(12);
    Box foot = area.cut_bottom(ui.px(56), gap);
    area.w = std::min(area.w, ui.px(520));
    area.cut_top(ui::paragraph(ui, "rehearse.case.why", area,
                               "Everybody who enters the same number gets the same case, down to the minute."),
                 gap);
    if (!message_.empty())
        area.cut_top(ui::caution(ui, "rehearse.message", area, "", message_), gap);
    area.cut_top(form_.fields(ui, area, 1), gap);
    form_.dock(ui, area);
    const auto number = form_.number("rehearse.case");
    const Box back = foot.cut_right(std::min(foot.w * 0.25f, ui.px(180)), ui.px(ui::gap_px));
    const Box cards = foot.cut_right(std::min(foot.w * 0.35f, ui.px(220)), ui.px(ui::gap_px));
    if (ui::button(ui, "rehearse.case.cards", cards, "Print its cards", ui::Look::plain, number.has_value()) && number) {
        const CaseParts which = case_of(static_cast<std::int32_t>(*number));
        const Shared one = own_ && own_->number == which.scenario ? own_ : library_.by_number(which.scenario);
        if (one) {
            wishes_.sheet = one;
            wishes_.seed = which.seed;
            wishes_.cards = true;
        }
    }
    if (ui::button(ui, "rehearse.case.begin", foot, "Begin this case", ui::Look::primary, number.has_value()) && number) {
        const CaseParts which = case_of(static_cast<std::int32_t>(*number));
        // One that was opened from a file stands in front of the page's own.
        Shared one = own_ && own_->number == which.scenario ? own_ : library_.by_number(which.scenario);
        if (one) {
            wishes_.start = std::move(one);
            wishes_.seed = which.seed;
            asks_case_ = false;
            message_.clear();
        } else {
            message_ = joined({"No rehearsal here has the number ", std::to_string(which.scenario),
                               ": the digits before the last three say which one it is."});
        }
        ui.change_screen();
    } else if (ui::button(ui, "rehearse.case.back", back, "Back")) {
        asks_case_ = false;
        message_.clear();
        ui.change_screen();
    }
}

float RehearseList::interrupted(Ui& ui, Box box, const Shared& kept) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const std::string text =
        kept ? joined({"\xE2\x80\x9C", kept->title, "\xE2\x80\x9D, case ", std::to_string(hangtime::case_number(*kept, kept->seed)),
                       ", was under way when this page was closed or loaded again. It stands where it was left."})
             : std::string("A rehearsal was under way when this page was closed or loaded again. Not all that was kept of it can be read, so "
                           "it has ended: begin it again.");
    box.cut_top(ui::caution(ui, "rehearse.interrupted", box, "", text), gap);
    Box line = box.cut_top(ui.px(ui::row_px));
    if (kept && ui::button(ui, "rehearse.go_on", line.cut_left(std::min(ui.px(200), line.w * 0.5f), gap), "Go on with it", ui::Look::primary))
        wishes_.go_on = true;
    if (ui::button(ui, "rehearse.give_up", line.cut_left(std::min(ui.px(200), line.w)), "Give it up"))
        wishes_.give_up = true;
    return box.y - top;
}

void RehearseList::build(Ui& ui, Box area, const Shown& shown) {
    ui.set_editing(asks_case_ && form_.editing());
    const float gap = ui.px(ui::gap_px);
    const PracticeHeader head = practice_header(ui, area.cut_top(ui.px(48), ui.px(8)), "More", "Rehearse", false);
    wishes_.back = wishes_.back || head.back;
    wishes_.night = wishes_.night || head.night;
    if (asks_case_) {
        case_number(ui, area);
        ui.announce("The case number");
        return;
    }
    const Box in = ui.begin_scroll("rehearse", area);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    if (!message_.empty())
        rest.cut_top(ui::caution(ui, "rehearse.message", rest, "", message_), ui.px(12));
    if (!shown.store.empty())
        rest.cut_top(ui::caution(ui, "rehearse.store", rest, "Store", shown.store), ui.px(12));
    if (shown.interrupted)
        rest.cut_top(interrupted(ui, rest, shown.kept), ui.px(12));
    if (!shown.may_write &&
        ui::button(ui, "rehearse.take_over", rest.cut_top(ui.px(ui::row_px), ui.px(12)), "Take over: rehearse in this window"))
        wishes_.take_over = true;
    if (!library_.trouble().empty())
        rest.cut_top(ui::caution(ui, "rehearse.trouble", rest, "Not read", library_.trouble()), ui.px(12));
    Box line = rest.cut_top(ui.px(ui::row_px), ui.px(12));
    const float w = (line.w - 2 * gap) / 3;
    if (ui::button(ui, "rehearse.enter_case", line.cut_left(w, gap), "Case number ...", ui::Look::plain, shown.may_write)) {
        asks_case_ = true;
        message_.clear();
        form_.clear();
        form_.number("rehearse.case", "Case number", "", 5, 0, 1000, 99'999, "four or five digits, as they were given out").needed = true;
        ui.change_screen();
        form_.open_missing(ui);
    }
    if (ui::button(ui, "rehearse.open_file", line.cut_left(w, gap), "Open a file ...", ui::Look::plain, true,
                   "Open a rehearsal, a log or a saved result"))
        wishes_.open_file = true;
    if (ui::button(ui, "rehearse.results", line, "Results", ui::Look::plain, shown.results))
        wishes_.results = true;
    if (own_)
        rest.cut_top(row(ui, rest, own_, "rehearse.own", shown), ui.px(4));
    for (const Shared& one : library_.all())
        rest.cut_top(row(ui, rest, one, ui.id("rehearse.", one->number), shown), ui.px(4));
    std::string text;
    for (std::size_t i = 0; i < caution_count; ++i)
        text.append(i > 0 ? " " : "").append(caution(i));
    rest.cut_top(ui::paragraph(ui, "caution", rest, text, Face::small, true), gap);
    ui.end_scroll(rest.y - in.y);
    ui.announce(message_.empty() ? std::string_view("Rehearse") : std::string_view(message_));
}

} // namespace hangtime::screens
