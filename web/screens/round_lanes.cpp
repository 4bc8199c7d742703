#include "web/screens/round_view.hpp"

#include "core/words/words.hpp"

#include <algorithm>

/// The round as a picture: its lanes, and what a touch on them means.

namespace hangtime::screens {

using namespace rounds;
using ui::Box;
using ui::LaneTouch;
using ui::Ui;

namespace {
constexpr std::int64_t slot_s = slot_minutes * 60;
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
    p.now = (fixed_ ? round.now.value_or(now_) : now_).utc;
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

} // namespace hangtime::screens
