#include "web/screens/plan.hpp"

#include "core/plan/plan_words.hpp"
#include "core/words/words.hpp"
#include "web/widgets/controls.hpp"

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {
constexpr float margin = 12; // CSS pixels
constexpr float header_px = 52;
constexpr std::string_view scan_notice =
    "That was a scan. Nothing here is filled in by scanning, and nothing of it was kept.";
constexpr float entry_column = 408; // width of the entries beside the answers
} // namespace

void Plan::build(Ui& ui, Instant now, const WallClock& wall) {
    now_ = now;
    wall_ = wall;
    entries_.tell_time(now, wall);
    day_ = day_clock_of(entries_.state(), wall, now);
    if (ui.scans() != scans_seen_) {
        scans_seen_ = ui.scans();
        scan_said_ = true;
        if (ui.take_scan_leak() && before_) { // its beginning stands in the entry: back to what was there
            const Entries kept = *before_;
            entries_ = kept;
            if (field_ != Field::none) {
                const FieldWords& w = words_of(field_);
                digits_.start(w.kind == EntryKind::time ? ui::Digits::Kind::time : ui::Digits::Kind::number,
                              w.whole, w.places, entries_.digits(field_));
            }
        }
    }
    reckon(entries_.protocol(), entries_.state_at(now), now, reckoning_);
    tell_verdict();
    ui.set_editing(field_ != Field::none);

    const Box screen = ui.screen();
    Box area = screen.inset(ui.px(margin), ui.px(margin / 2));
    header(ui, area.cut_top(ui.px(header_px), ui.px(8)));
    // Two columns where there is room for the entries beside the answers.
    const bool beside = screen.w / ui.px(100) >= 9.0f && screen.w > screen.h;
    if (beside)
        wide(ui, area);
    else
        narrow(ui, area);

    std::string said = told_.title;
    if (!told_.detail.empty())
        said.append(" ").append(told_.detail);
    if (scan_said_)
        said = scan_notice;
    ui.announce(said);
}

Plan::Wishes Plan::take_wishes() {
    const Wishes w = wishes_;
    wishes_ = {};
    return w;
}

void Plan::header(Ui& ui, Box box) {
    const bool tight = box.w < ui.px(700);
    const Box line = {box.x, box.y + (box.h - ui.line_height(Face::title)) / 2, box.w,
                      ui.line_height(Face::title)};
    const std::string_view title = tight ? "Hangtime" : "Hangtime, plan";
    ui.note({.id = "title",
             .label = "Hangtime: plan a transfusion",
             .role = ui::Role::heading,
             .box = {line.x, line.y, ui.text_width(Face::title, title), line.h}});
    ui.put_text(line, Face::title, ui.palette().ink, title);

    const float gap = ui.px(ui::gap_px);
    if (ui::button(ui, "page.print", box.cut_right(ui.px(tight ? 64 : 130), gap),
                   tight ? "Print" : "Print sheet",
                   reckoning_.planned && field_ == Field::none ? ui::Look::primary : ui::Look::plain,
                   reckoning_.planned))
        wishes_.print = true;
    if (ui::button(ui, "page.ground", box.cut_right(ui.px(72), gap), ui.night() ? "Day" : "Night",
                   ui::Look::plain, true, ui.night() ? "Day colours" : "Night colours"))
        wishes_.toggle_night = true;
    if (!tight && ui::button(ui, "page.about", box.cut_right(ui.px(80), gap), "About", ui::Look::plain, true,
                             "About and licences"))
        wishes_.licences = true;
    if (!tight && ui::button(ui, "plan.sessions", box.cut_right(ui.px(124), gap), sessions_label()))
        wishes_.sessions = true;

    const std::string clock = minute_text(now_, day_);
    Box time = box.cut_right(ui.text_width(Face::title, clock) + ui.px(8), gap);
    time.y = line.y;
    time.h = line.h;
    ui.note({.id = "clock", .label = "It is", .value = clock, .role = ui::Role::text, .box = time});
    ui.put_text(time, Face::title, ui.palette().ink, clock);

    if (scan_said_ && !tight) {
        Box said = box;
        said.cut_left(ui.text_width(Face::title, title) + ui.px(20));
        said.y += (said.h - 2 * ui.line_height(Face::small)) / 2;
        ui::paragraph(ui, "scan", said, scan_notice, Face::small);
    }
}

std::string Plan::sessions_label() const {
    if (sessions_ == 0)
        return "Sessions";
    return dose_number(static_cast<Wide>(sessions_), 1, 0) + (sessions_ == 1 ? " session" : " sessions");
}

// From the plan to living through it: with these entries, or to those that there are.
void Plan::lead_on(Ui& ui, Box box, bool sessions) {
    const float gap = ui.px(ui::gap_px);
    if (sessions && ui::button(ui, "plan.sessions", box.cut_right(ui.px(130), gap), sessions_label()))
        wishes_.sessions = true;
    if (ui::button(ui, "plan.go_on", box, "Go on with this as a session", ui::Look::plain,
                   reckoning_.planned && !entries_.not_covered()))
        wishes_.go_on = true;
}

float Plan::footer_height(Ui& ui, float width) const {
    std::string text;
    for (std::size_t i = 0; i < caution_count; ++i)
        text.append(caution(i)).append(" ");
    return ui.text_height(Face::small, text, width) + ui.px(4);
}

void Plan::footer(Ui& ui, Box box) {
    std::string text;
    for (std::size_t i = 0; i < caution_count; ++i)
        text.append(caution(i)).append(i + 1 < caution_count ? " " : "");
    ui::paragraph(ui, "caution", box, text, Face::small, true);
}

void Plan::wide(Ui& ui, Box area) {
    footer(ui, area.cut_bottom(footer_height(ui, area.w), ui.px(6)));
    Box left = area.cut_left(ui.px(entry_column), ui.px(16));
    const float gap = ui.px(ui::gap_px);
    if (field_ != Field::none) {
        const float most = left.h - ui::entry_height(ui) - ui.px(40);
        dock(ui, left.cut_bottom(std::min(most, dock_height(ui, left.w)), ui.px(12)));
    }
    if (!more_) {
        four(ui, left.cut_top(four_height(ui, 2), gap), 2);
        draw_entry(ui, left.cut_top(ui::entry_height(ui), gap), Field::protocol);
        if (left.h >= ui.px(ui::row_px) && ui::button(ui, "more", left.cut_top(ui.px(ui::row_px), ui.px(18)),
                                                      "More: order, person, set, bag")) {
            more_ = true;
            ui.scroll_to_top("entries");
            close(ui);
            ui.change_screen();
        }
        if (field_ == Field::none && reckoning_.planned)
            lead_on(ui, left.cut_bottom(ui.px(ui::row_px), ui.px(12)), false);
        if (field_ == Field::none)
            next_steps(ui, left);
    } else {
        if (ui::button(ui, "more.close", left.cut_top(ui.px(ui::row_px), gap), "Back to the four entries")) {
            more_ = false;
            close(ui);
            ui.change_screen();
        }
        const Box in = ui.begin_scroll("entries", left);
        ui.end_scroll(more(ui, in, 2));
    }
    const Box in = ui.begin_scroll("answers", area);
    ui.end_scroll(answers(ui, {in.x, in.y, in.w - ui.px(12), in.h}, true));
}

void Plan::narrow(Ui& ui, Box area) {
    if (field_ != Field::none)
        dock(ui, area.cut_bottom(std::min(area.h * 0.62f, dock_height(ui, area.w)), ui.px(12)));
    const Box in = ui.begin_scroll("all", area);
    Box rest = {in.x, in.y, in.w - ui.px(10), 1e6f};
    const float top = rest.y, gap = ui.px(ui::gap_px);
    if (!more_) {
        four(ui, rest.cut_top(four_height(ui, 2), gap), 2);
        const bool tight = rest.w < ui.px(600); // the rules' name needs the whole width
        Box row = rest.cut_top(ui::entry_height(ui), tight ? gap : ui.px(12));
        draw_entry(ui, tight ? row : row.cell(2, 1, 0, 0, gap), Field::protocol);
        const Box further = tight ? rest.cut_top(ui.px(ui::row_px), ui.px(12)) : row.cell(2, 1, 1, 0, gap);
        if (ui::button(ui, "more", further, "More: order, person, set, bag")) {
            more_ = true;
            ui.scroll_to_top("all");
            close(ui);
            ui.change_screen();
        }
    } else {
        if (ui::button(ui, "more.close", rest.cut_top(ui.px(ui::row_px), gap), "Back to the four entries")) {
            more_ = false;
            ui.scroll_to_top("all");
            close(ui);
            ui.change_screen();
        }
        const float used = more(ui, rest, area.w < ui.px(560) ? 1 : 2);
        rest.cut_top(used, ui.px(12));
    }
    const float used = answers(ui, rest, area.w >= ui.px(560));
    rest.cut_top(used, ui.px(12));
    const float steps = next_steps(ui, rest);
    rest.cut_top(steps, ui.px(12));
    if (reckoning_.planned || area.w < ui.px(700))
        lead_on(ui, rest.cut_top(ui.px(ui::row_px), ui.px(12)), area.w < ui.px(700));
    const float foot = footer_height(ui, rest.w);
    footer(ui, rest.cut_top(foot, ui.px(8)));
    if (area.w < ui.px(700) &&
        ui::button(ui, "page.about", rest.cut_top(ui.px(ui::row_px), gap), "About and licences"))
        wishes_.licences = true;
    ui.end_scroll(rest.y - top);
}

} // namespace hangtime::screens
