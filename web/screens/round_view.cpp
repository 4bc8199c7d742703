#include "web/screens/round_view.hpp"

#include "core/plan/draft_sheet.hpp"
#include "core/words/words.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using namespace rounds;
using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr float panel_px = 372;

std::string count_text(std::int64_t n, std::string_view one, std::string_view many) {
    return std::to_string(n) + " " + std::string(n == 1 ? one : many);
}

} // namespace

void RoundView::show(const Protocol& protocol, Round round) {
    plan_ = std::make_unique<RoundPlan>(protocol, std::move(round));
    mode_ = Mode::board;
    fixed_ = true;
    recalled_ = true;
    chosen_ = -1;
    drag_ = {};
}

void RoundView::forget() {
    mode_ = Mode::entries;
    plan_.reset();
    draft_.reset();
    after_.reset();
    round_.reset();
    refused_.reset();
    form_.clear();
    text_.clear();
    kept_.clear();
    kept_plan_.clear();
    item_ = -2;
    rules_ = -1;
    chosen_ = -1;
    drag_ = {};
    fixed_ = false;
    recalled_ = true;  // there is nothing any more to take up
}

RoundView::Wishes RoundView::take_wishes() {
    const Wishes w = wishes_;
    wishes_ = {};
    return w;
}

bool RoundView::work(std::int64_t nodes) {
    if (!plan_ || mode_ != Mode::board || plan_->work() == RoundPlan::Work::none)
        return false;
    plan_->step(nodes);
    return plan_->work() != RoundPlan::Work::none;
}

std::optional<sheet::Document> RoundView::document() const {
    if (mode_ == Mode::entries || !plan_) {
        if (!draft_)
            return std::nullopt;
        return round_entries_sheet(*draft_, protocol(), refused_ ? refused_text() : std::string());
    }
    sheet::Document out = round_sheet(plan_->protocol(), plan_->result());
    if (mode_ == Mode::happened)
        out.paragraph("This is the plan as it stood before what is being entered now has been planned.");
    return out;
}

void RoundView::build(Ui& ui, Box area, Instant now, const WallClock& wall) {
    now_ = now;
    wall_ = wall;
    recall();
    ui.set_editing(mode_ != Mode::board && form_.editing());
    if (mode_ != Mode::entries && plan_) {
        day_ = day_of(plan_->round());
        if (mode_ == Mode::board) {
            board(ui, area);
            keep_plan();
        }
        else
            happened(ui, area);
    } else {
        entries(ui, area);
    }
}

void RoundView::header(Ui& ui, Box box, std::string_view title, bool can_print) {
    const float gap = ui.px(ui::gap_px);
    const bool tight = box.w < ui.px(700);
    if (ui::button(ui, "round.back", box.cut_left(ui.px(tight ? 72 : 96), ui.px(12)), "Back"))
        wishes_.back = true;
    if (ui::button(ui, "page.print", box.cut_right(ui.px(tight ? 64 : 130), gap), tight ? "Print" : "Print sheet",
                   ui::Look::plain, can_print))
        wishes_.print = true;
    if (ui::button(ui, "page.ground", box.cut_right(ui.px(72), gap), ui.night() ? "Day" : "Night", ui::Look::plain, true,
                   ui.night() ? "Day colours" : "Night colours"))
        wishes_.night = true;
    const float h = ui.line_height(Face::title);
    const Box line = {box.x, box.y + (box.h - h) / 2, box.w, h};
    ui.note({.id = "title", .label = title, .role = ui::Role::heading, .box = line});
    ui.put_text(line, Face::title, ui.palette().ink, title);
    const std::string clock = minute_text(now_, DayClock(wall_, now_));
    const float w = ui.text_width(Face::title, clock);
    const Box time = {box.right() - w - gap, line.y, w, h};
    if (ui.text_width(Face::title, title) + w + ui.px(24) > box.w)
        return;
    ui.note({.id = "clock", .label = "It is", .value = clock, .role = ui::Role::text, .box = time});
    ui.put_text({time.x, time.y, w + 1, h}, Face::title, ui.palette().ink, clock);
}

void RoundView::board(Ui& ui, Box area) {
    const float gap = ui.px(12);
    std::string title = "Round";
    if (area.w >= ui.px(700))
        title = joined({"Round of ", count_text(static_cast<std::int64_t>(plan_->jobs()), "transfusion", "transfusions"), ", ",
                        count_text(static_cast<std::int64_t>(plan_->round().nurses.size()), "nurse", "nurses")});
    header(ui, area.cut_top(ui.px(52), ui.px(8)), title, plan_->schedule().has_value() || plan_->conflict());
    std::string text;
    for (std::size_t i = 0; i < caution_count; ++i)
        text.append(i > 0 ? " " : "").append(caution(i));
    const float foot = ui.text_height(Face::small, text, area.w) + ui.px(4);
    // The picture may use a round's own keys: a step earlier or later.
    if (chosen_ >= 0)
        for (const platform::Event& e : ui.keys()) {
            if (e.key == platform::Key::character && (e.character == U'-' || e.character == U'+'))
                move_by(e.character == U'-' ? -1 : 1);
            if (e.key == platform::Key::escape)
                plan_->stop_trying();
        }
    const float wanted = ui::lanes_height(ui, plan_->jobs(), plan_->round().nurses.size());
    if (area.w >= ui.px(1000)) {
        ui::paragraph(ui, "caution", area.cut_bottom(foot, ui.px(6)), text, Face::small, true);
        const Box side = area.cut_right(ui.px(panel_px), ui.px(16));
        const Box lanes = ui.begin_scroll("round.lanes", area);
        picture(ui, {lanes.x, lanes.y, lanes.w - ui.px(10), wanted});
        ui.end_scroll(wanted + ui.px(8));
        const Box in = ui.begin_scroll("round.panel", side);
        ui.end_scroll(panel(ui, {in.x, in.y, in.w - ui.px(12), 1e6f}));
        return;
    }
    // One above the other; the lanes keep at most the half, so that what breaks is seen while it is dragged.
    const Box above = area.cut_top(std::min(wanted + ui.px(4), area.h * 0.56f), gap);
    const Box lanes = ui.begin_scroll("round.lanes", above);
    picture(ui, {lanes.x, lanes.y, lanes.w - ui.px(10), wanted});
    ui.end_scroll(wanted);
    const Box in = ui.begin_scroll("round.panel", area);
    Box rest = {in.x, in.y, in.w - ui.px(12), 1e6f};
    rest.cut_top(panel(ui, rest), gap);
    rest.cut_top(ui::paragraph(ui, "caution", rest, text, Face::small, true), ui.px(4));
    ui.end_scroll(rest.y - in.y);
}

} // namespace hangtime::screens
