#include "web/screens/round_view.hpp"

#include "core/words/words.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using namespace rounds;
using ui::Box;
using ui::Face;
using ui::LaneTouch;
using ui::Ui;

namespace {

constexpr std::int64_t slot_s = slot_minutes * 60;
constexpr float panel_px = 372;

std::string count_text(std::int64_t n, std::string_view one, std::string_view many) {
    return std::to_string(n) + " " + std::string(n == 1 ? one : many);
}

float sealed(Ui& ui, std::string_view id, Box box, ui::Seal seal, std::string_view title, std::string_view detail) {
    const float w = box.w - ui.px(32) - ui.px(48);
    box.h = std::max(ui.px(64), ui.px(22) + ui.text_height(Face::title, title, w) +
                                    (detail.empty() ? 0 : ui.text_height(Face::body, detail, w)) + ui.px(10));
    ui::verdict(ui, id, box, seal, title, detail);
    return box.h;
}

} // namespace

void RoundView::show(const Protocol& protocol, Round round) {
    plan_ = std::make_unique<RoundPlan>(protocol, std::move(round));
    mode_ = Mode::board;
    fixed_ = true;
    chosen_ = -1;
    drag_ = {};
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
    if (!plan_ || mode_ != Mode::board)
        return std::nullopt;
    return round_sheet(plan_->protocol(), plan_->result());
}

void RoundView::build(Ui& ui, Box area, Instant now, const WallClock& wall) {
    now_ = now;
    wall_ = wall;
    ui.set_editing(mode_ == Mode::entries && form_.editing());
    if (mode_ == Mode::board && plan_) {
        day_ = day_of(plan_->round());
        board(ui, area);
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

std::string RoundView::spoken(std::size_t job) const {
    const PlannedTransfusion& t = plan_->transfusion(job);
    std::string out = joined({lower_first(name(*t.state.unit.component)), ", ", volume_text(*t.state.unit.bag)});
    const OptionDetail* d = plan_->detail(job);
    if (!d)
        return out + ", no start yet";
    const Choice& c = plan_->schedule()->choices[job];
    out += joined({t.happened.started ? ", runs since " : ", start ", clock_text(d->start, day_), ", all in ",
                   clock_text(d->all_in, day_), ", ", nurse_text(c.nurse)});
    if (c.second >= 0)
        out += joined({" and ", nurse_text(c.second)});
    if (plan_->held(job))
        out += ", held";
    return out;
}

void RoundView::picture(Ui& ui, Box box) {
    const Round& round = plan_->round();
    const RoundOptions& options = plan_->options();
    ui::Lanes p;
    p.from = round.from.utc;
    p.to = round.until.utc;
    p.grid = slot_s;
    p.has_now = true;
    p.now = round.now.value_or(now_).utc;
    std::vector<std::string> texts;
    texts.reserve(512);
    const auto keep = [&](std::string text) -> std::string_view {
        texts.push_back(std::move(text));
        return texts.back();
    };
    std::vector<ui::LaneTick> ticks;
    const Seconds offset = wall_.offset_at(round.from);
    for (std::int64_t at = ceil_div(p.from + offset.count, 3600) * 3600 - offset.count; at <= p.to; at += 3600)
        ticks.push_back({at, keep(clock_text({at}, day_))});
    p.ticks = ticks;

    const auto& tried = plan_->tried();
    std::vector<std::vector<ui::LaneCheck>> checks(plan_->jobs());
    std::vector<ui::Lane> lanes;
    for (std::size_t j = 0; j < plan_->jobs(); ++j) {
        const PlannedTransfusion& t = plan_->transfusion(j);
        ui::Lane lane;
        lane.id = ui.id("lane.", static_cast<int>(j));
        lane.name = keep(object_text(t));
        lane.spoken = keep(spoken(j));
        lane.object = t.object;
        lane.detail = keep(joined({name(*t.state.unit.component), ", ", volume_text(*t.state.unit.bag)}));
        lane.chosen = chosen_ == static_cast<int>(j);
        lane.held = plan_->held(j);
        lane.movable = !t.happened.started;
        if (lane.movable && !options.details[j].empty()) {
            lane.has_window = true;
            lane.window_from = options.details[j].front().start.utc;
            lane.window_to = options.details[j].back().start.utc;
        }
        if (const OptionDetail* d = plan_->detail(j)) {
            const auto& choice = plan_->schedule()->choices[j];
            const Option& option = options.problem.jobs[j].options[static_cast<std::size_t>(choice.option)];
            lane.placed = true;
            lane.start = d->start.utc;
            lane.match = p.from + option.lead.from * slot_s;
            lane.match = t.happened.started ? lane.start : lane.match;
            lane.attended_to = t.happened.started ? lane.start : p.from + option.lead.to * slot_s;
            lane.all_in = d->all_in.utc;
            lane.finish_by = d->finish_by.utc;
            lane.nurse = choice.nurse + 1;
            lane.second = choice.second + 1;
            for (std::size_t c = 0; c < d->due.size(); ++c) {
                const CheckPlace& place = plan_->schedule()->checks[j][c];
                checks[j].push_back({check_time(round, d->due[c], place).utc, place.nurse + 1});
            }
            if (tried && tried->job == j) {
                const std::int64_t by = p.from + tried->slot * slot_s - lane.start;
                lane.tried = true;
                lane.was = lane.start;
                lane.breaks = !tried->result.breaks.empty();
                for (std::int64_t* at : {&lane.start, &lane.match, &lane.attended_to, &lane.all_in})
                    *at += by;
                for (ui::LaneCheck& c : checks[j])
                    c = {c.at + by, 0};
                if (tried->result.schedule) {
                    const Choice& other = tried->result.schedule->choices[j];
                    const auto o = static_cast<std::size_t>(other.option);
                    lane.nurse = other.nurse + 1;
                    lane.all_in = options.details[j][o].all_in.utc;
                    lane.finish_by = options.details[j][o].finish_by.utc;
                    checks[j].clear();
                    for (std::size_t c = 0; c < options.details[j][o].due.size(); ++c) {
                        const CheckPlace& place = tried->result.schedule->checks[j][c];
                        checks[j].push_back(
                            {check_time(round, options.details[j][o].due[c], place).utc, place.nurse + 1});
                    }
                } else {
                    lane.nurse = 0;
                }
            }
        }
        lane.checks = checks[j];
        lanes.push_back(lane);
    }
    p.lanes = lanes;

    std::vector<std::vector<ui::LaneStretch>> stretches(round.nurses.size());
    std::vector<ui::NurseLane> nurses;
    const auto& schedule = tried && tried->result.schedule ? tried->result.schedule : plan_->schedule();
    for (std::size_t k = 0; k < round.nurses.size(); ++k) {
        std::string said;
        const auto add = [&](const std::vector<Stretch>& list, ui::LaneStretch::Kind kind, std::string_view what,
                             std::string_view label) {
            for (const Stretch& s : list) {
                stretches[k].push_back({s.from.utc, s.to.utc, kind, label});
                said += joined({said.empty() ? "" : ", ", what, " ", clock_text(s.from, day_), " to ",
                                clock_text(s.to, day_)});
            }
        };
        add(round.nurses[k].hours, ui::LaneStretch::Kind::hours, "there", "");
        add(round.nurses[k].breaks, ui::LaneStretch::Kind::rest, "break", "break");
        add(round.nurses[k].handovers, ui::LaneStretch::Kind::handover, "hand-over", "");
        if (schedule)
            for (std::size_t j = 0; j < plan_->jobs(); ++j) {
                const Choice& c = schedule->choices[j];
                const Option& o = options.problem.jobs[j].options[static_cast<std::size_t>(c.option)];
                const bool first = c.nurse == static_cast<int>(k), second = c.second == static_cast<int>(k);
                const Span span = first ? o.lead : o.match;
                if ((first || second) && !span.empty())
                    stretches[k].push_back(
                        {p.from + span.from * slot_s, p.from + span.to * slot_s, ui::LaneStretch::Kind::busy, ""});
            }
        nurses.push_back({ui.id("nurse.", static_cast<int>(k)), keep(nurse_text(static_cast<int>(k))), keep(said),
                          stretches[k]});
    }
    p.nurses = nurses;

    const LaneTouch touch = ui::lanes(ui, box, p, drag_);
    if (touch.lane < 0)
        return;
    const auto job = static_cast<std::size_t>(touch.lane);
    if (touch.kind == LaneTouch::Kind::dragged) {
        chosen_ = touch.lane;
        const int slot = static_cast<int>((touch.start - p.from) / slot_s);
        if (slot == plan_->slot_of(job))
            plan_->stop_trying();
        else
            plan_->try_at(job, slot);
    } else if (touch.kind == LaneTouch::Kind::pressed) {
        if (!tried || tried->job != job)
            plan_->stop_trying();
        chosen_ = chosen_ == touch.lane && !tried ? -1 : touch.lane;
    }
}

void RoundView::move_by(int slots) {
    if (chosen_ < 0 || !plan_->schedule())
        return;
    const auto job = static_cast<std::size_t>(chosen_);
    if (plan_->transfusion(job).happened.started)
        return;
    const auto& tried = plan_->tried();
    const int from = tried && tried->job == job ? tried->slot : plan_->slot_of(job);
    const int to = std::clamp(from + slots, 0, plan_->options().problem.slots - 1);
    if (to == plan_->slot_of(job))
        plan_->stop_trying();
    else
        plan_->try_at(job, to);
}

float RoundView::panel(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(12);
    if (plan_->tried())
        box.cut_top(trial(ui, box), gap);
    box.cut_top(search(ui, box), gap);
    if (plan_->conflict() && !plan_->tried())
        box.cut_top(clash(ui, box), gap);
    if (chosen_ >= 0 && !plan_->tried())
        box.cut_top(chosen(ui, box), gap);
    if (chosen_ < 0 && plan_->schedule())
        box.cut_top(ui::paragraph(ui, "round.hint", box,
                                  "Drag a lane to try another start, or touch it for its times and for steps of 5 min.",
                                  Face::small, true),
                    gap);
    if (!fixed_ && ui::button(ui, "round.entries", box.cut_top(ui.px(ui::row_px), gap), "Change the entries")) {
        plan_->cancel();
        mode_ = Mode::entries;
        ui.change_screen();
    }
    box.cut_top(ui::paragraph(ui, "round.optimised", box, optimised_sentence(plan_->round().priority), Face::small, true),
                ui.px(6));
    return box.y - top;
}

// The answer, or how far the search is.
float RoundView::search(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const Progress& p = plan_->progress();
    const bool has = plan_->schedule().has_value();
    const bool busy = plan_->work() != RoundPlan::Work::none;
    std::string title, detail;
    ui::Seal seal = ui::Seal::noted;
    const auto more_than_best = [&]() -> std::string {
        if (!plan_->best() || !has)
            return {};
        const std::int64_t more = plan_->schedule()->cost.finish - plan_->best()->finish;
        if (more == 0)
            return "As good as without what is held. ";
        return joined({count_text(more > 0 ? more : -more, "weighted minute ", "weighted minutes "),
                       more > 0 ? "more" : "less", " than without what is held. "});
    };
    if (has) {
        Instant last{};
        for (std::size_t j = 0; j < plan_->jobs(); ++j)
            last = std::max(last, plan_->detail(j)->all_in);
        title = plan_->jobs() == 0 ? "Nothing is left to plan" : "The last one is all in at " + clock_text(last, day_);
    }
    if (plan_->by_hand()) {
        detail = more_than_best() + "Moved by hand, all others as they were.";
    } else if (has && p.standing != Standing::infeasible) {
        detail = (plan_->any_held() ? more_than_best() : std::string()) + proof_text(p, plan_->round().priority);
        if (plan_->moved() > 0)
            detail += " " + count_text(plan_->moved(), "start or nurse has changed.", "starts or nurses have changed.");
        seal = p.standing == Standing::optimal ? ui::Seal::whole : ui::Seal::noted;
    } else if (p.standing == Standing::infeasible) {
        seal = ui::Seal::broken;
        title = plan_->any_held() ? "It cannot be held there" : "It cannot be done as it is";
        detail = plan_->conflict() ? "" : busy ? "Looking for what clashes." : "";
        if (has)
            detail += detail.empty() ? "Shown is what stood before." : " Shown is what stood before.";
    } else {
        seal = ui::Seal::none;
        title = busy ? "Looking for a way" : "Stopped before a way was found";
    }
    box.cut_top(sealed(ui, "round.answer", box, seal, title, detail), gap);
    ui.announce(title + ". " + (busy ? "" : detail));
    if (busy) {
        const std::string text = joined({"Searching: ", count_text(p.nodes, "step", "steps"), " so far",
                                         p.has_answer ? "" : ", no answer yet", "."});
        const Box row = box.cut_top(ui.px(ui::row_px), gap);
        Box left = row;
        const Box right = left.cut_right(ui.px(104), gap);
        const float h = ui.text_height(Face::small, text, left.w);
        ui::paragraph(ui, "round.progress", {left.x, left.y + (left.h - h) / 2, left.w, h}, text, Face::small);
        if (ui::button(ui, "round.cancel", right, "Stop"))
            plan_->cancel();
    } else if (p.standing == Standing::searching && !plan_->by_hand()) {
        if (ui::button(ui, "round.go_on", box.cut_top(ui.px(ui::row_px), gap), "Go on searching"))
            plan_->go_on();
    }
    if (plan_->any_held() &&
        ui::button(ui, "round.free", box.cut_top(ui.px(ui::row_px), gap), "Let all go, plan again"))
        plan_->let_all_go();
    return box.y - top;
}

float RoundView::clash(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(6);
    const Conflict& c = *plan_->conflict();
    std::string held;
    for (std::size_t j = 0; j < plan_->jobs(); ++j)
        if (plan_->held(j))
            held += (held.empty() ? "" : ", ") + object_text(plan_->transfusion(j));
    std::string intro = c.demands.size() == 1 ? "This cannot be kept even by itself" : "These cannot all be kept together";
    if (!held.empty())
        intro += " with " + held + " held where it is";
    box.cut_top(ui::paragraph(ui, "clash.intro", box, intro + ":"), gap);
    int n = 0;
    for (const Demand& d : c.demands) {
        Box row = box;
        const Box dot = row.cut_left(ui.px(14));
        ui.draw_bar({dot.x, dot.y + ui.px(7), ui.px(6), ui.px(6)});
        box.cut_top(ui::paragraph(ui, ui.id("clash.", n++), row, demand_text(plan_->round(), d, day_)), gap);
    }
    const std::string_view end = !c.complete && !c.smallest ? "The search was ended early: not all of these may be needed."
                                 : c.smallest               ? "No smaller set of demands clashes."
                                                            : "None of these can be left out of the clash.";
    box.cut_top(ui::paragraph(ui, "clash.end", box, end, Face::small, true), gap);
    return box.y - top;
}

// Earlier and later by buttons: the keyboard's way, and the glove's.
float RoundView::moving(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const Box row = box.cut_top(ui.px(ui::row_px));
    struct Step {
        std::string_view id, label, spoken;
        int slots;
    };
    static constexpr Step steps[] = {{"move.back_more", "-30 min", "30 min earlier", -6},
                                     {"move.back", "-5 min", "5 min earlier", -1},
                                     {"move.on", "+5 min", "5 min later", 1},
                                     {"move.on_more", "+30 min", "30 min later", 6}};
    int n = 0;
    for (const Step& s : steps)
        if (ui::button(ui, s.id, row.cell(4, 1, n++, 0, gap), s.label, ui::Look::plain, true, s.spoken))
            move_by(s.slots);
    return box.y - top;
}

float RoundView::trial(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const RoundPlan::Tried& tried = *plan_->tried();
    const std::string name = object_text(plan_->transfusion(tried.job));
    const std::string title = joined({name, " at ", clock_text(plan_->round().from + Seconds{tried.slot * slot_s}, day_)});
    const auto& breaks = tried.result.breaks;
    std::string detail = "Nothing breaks; all others stay.";
    if (!breaks.empty())
        detail = "This breaks:";
    else {
        const std::int64_t more = tried.result.schedule->cost.finish - plan_->schedule()->cost.finish;
        if (more != 0)
            detail += joined({" ", count_text(more > 0 ? more : -more, "weighted minute ", "weighted minutes "),
                              more > 0 ? "later." : "earlier."});
    }
    box.cut_top(sealed(ui, "trial.answer", box, breaks.empty() ? ui::Seal::whole : ui::Seal::broken, title, detail), gap);
    int n = 0;
    for (const std::string& text : breaks)
        box.cut_top(ui::paragraph(ui, ui.id("trial.", n++), box, text), ui.px(6));
    ui.announce(joined({title, ". ", detail, " ", breaks.empty() ? std::string_view() : std::string_view(breaks.front())}));
    box.cut_top(ui.px(4));
    box.cut_top(moving(ui, box), gap);
    const bool option = std::any_of(plan_->options().problem.jobs[tried.job].options.begin(),
                                    plan_->options().problem.jobs[tried.job].options.end(),
                                    [&](const Option& o) { return o.start == tried.slot; });
    bool take = false, arrange = false;
    if (breaks.empty())
        take = ui::button(ui, "trial.take", box.cut_top(ui.px(ui::row_px), gap), "Take it", ui::Look::primary);
    if (option)
        arrange = ui::button(ui, "trial.arrange", box.cut_top(ui.px(ui::row_px), gap), "Plan the others round it",
                             breaks.empty() ? ui::Look::plain : ui::Look::primary);
    const bool back = ui::button(ui, "trial.back", box.cut_top(ui.px(ui::row_px), gap), "Put it back");
    if (take)
        plan_->take();
    else if (arrange)
        plan_->arrange();
    else if (back)
        plan_->stop_trying();
    if (take || arrange || back)
        ui.change_screen(false);
    return box.y - top;
}

float RoundView::chosen(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const auto job = static_cast<std::size_t>(chosen_);
    const PlannedTransfusion& t = plan_->transfusion(job);
    ui::subheading(ui, "lane.name", box.cut_top(ui.line_height(Face::body), ui.px(4)), object_text(t));
    const OptionDetail* d = plan_->detail(job);
    if (!d) {
        box.cut_top(ui::paragraph(ui, "lane.none", box, "No start yet."), gap);
        return box.y - top;
    }
    const Choice& c = plan_->schedule()->choices[job];
    std::string text;
    if (!t.happened.issued)
        text = joined({"Call at ", clock_text(d->issued - t.ready, day_), ", issue ", clock_text(d->issued, day_), ". "});
    if (!t.happened.started)
        text += joined({"Match at ", clock_text(d->start - plan_->protocol().round->match_takes.value, day_), ", start "});
    else
        text += "Started ";
    text += joined({clock_text(d->start, day_), ", all in ", clock_text(d->all_in, day_), "; latest ",
                    clock_text(d->finish_by, day_), ". ", nurse_text(c.nurse)});
    if (c.second >= 0)
        text += joined({", second person ", nurse_text(c.second)});
    text += ".";
    box.cut_top(ui::paragraph(ui, "lane.times", box, text), gap);
    for (std::size_t k = 0; k < d->due.size(); ++k) {
        const CheckPlace& place = plan_->schedule()->checks[job][k];
        box.cut_top(ui::paragraph(ui, ui.id("lane.check.", static_cast<int>(k)), box,
                                  joined({clock_text(check_time(plan_->round(), d->due[k], place), day_), "  ",
                                          name(d->kinds[k]), ", ", nurse_text(place.nurse)}),
                                  Face::small),
                    ui.px(2));
    }
    box.cut_top(ui.px(6));
    if (t.happened.started)
        return box.y - top;
    box.cut_top(moving(ui, box), gap);
    if (plan_->held(job) && ui::button(ui, "lane.free", box.cut_top(ui.px(ui::row_px), gap), "Let it go, plan again"))
        plan_->let_go(job);
    return box.y - top;
}

} // namespace hangtime::screens
