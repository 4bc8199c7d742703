#include "web/screens/reckoned.hpp"

#include "core/plan/plan_words.hpp"
#include "core/words/words.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/timeline.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

// What holds up goes first, then what the person's first millilitres depend on (hazard 9).
bool goes_before(const Warned& a, const Warned& b) {
    const auto rank = [](const Warned& w) {
        if (w.severity == Severity::stop)
            return 0;
        const bool saline =
            w.code == Warning::component_after_slow_stage || w.code == Warning::early_check_before_component;
        return saline ? 1 : 2;
    };
    return rank(a) < rank(b);
}

} // namespace

Told told_of(const Reckoning& r, const DayClock& day) {
    const Judgement& j = r.judgement;
    Told told;
    const auto reasons = [&] {
        for (const Reason reason : j.reasons) {
            if (!told.detail.empty() && told.detail.back() != '\n')
                told.detail.append(" ");
            told.detail.append(sentence(reason));
        }
    };
    // Cautions stand far below on a small screen: how many there are is part of the verdict, and so is the first.
    int cautions = 0;
    std::string first_caution;
    const Warned* first = nullptr;
    for (const Warned& w : r.warnings) {
        if (w.severity == Severity::note)
            continue;
        ++cautions;
        if (first == nullptr || goes_before(w, *first))
            first = &w;
    }
    if (first != nullptr)
        first_caution = warning_text(first->code, first->figures, day) +
                        (cautions > 2 ? " The others stand below." : cautions > 1 ? " The other one stands below." : "") +
                        "\n";
    const bool holds = first != nullptr && first->severity == Severity::stop;
    const std::string with_cautions =
        "with " + (cautions == 1 ? std::string("1 caution") : dose_number(cautions, 1, 0) + " cautions");
    const bool overdue = r.live && !r.ended && !r.drifts && r.all_in < r.now && j.verdict != Verdict::does_not_fit;
    if (r.held || r.stopped || overdue || (r.ended && j.verdict != Verdict::does_not_fit)) {
        // What happened goes before what was planned.
        told.seal = r.held || overdue ? ui::Seal::broken : cautions > 0 ? ui::Seal::noted : ui::Seal::whole;
        told.title = r.held      ? "It stands still: somebody decides"
                     : overdue   ? "No end is noted"
                     : r.stopped ? "Stopped before all was in"
                                 : "All in";
        told.detail = first_caution + verdict_text(r, day);
        return told;
    }
    switch (j.verdict) {
    case Verdict::fits:
        told.seal = cautions > 0 ? ui::Seal::noted : ui::Seal::whole;
        told.title = holds          ? "Hold and ask. The times fit."
                      : cautions > 0 ? "Fits, " + with_cautions
                                     : "Fits.";
        told.detail = first_caution;
        if (r.finish_by) {
            told.detail += "All in at " + clock_text(r.all_in, day) + ", " +
                           minutes_left_text(*r.finish_by - r.all_in) + " before the limit at " +
                           clock_text(*r.finish_by, day) + ".";
        }
        break;
    case Verdict::fits_without_reserve:
        told.seal = ui::Seal::thin;
        told.title = name(j.verdict);
        if (holds)
            told.title = "Hold and ask. " + told.title;
        else if (cautions > 0)
            told.title += ", and " + with_cautions;
        told.detail = first_caution;
        reasons();
        break;
    case Verdict::does_not_fit:
        told.seal = ui::Seal::broken;
        told.title = name(j.verdict);
        if (j.would_be_left.units > 0)
            told.title += ": " + volume_text(j.can_give, Rounding::down) + " can be given, " +
                           volume_text(j.would_be_left, Rounding::up) + " would be left";
        for (const Advised& a : j.advice) {
            if (!told.detail.empty())
                told.detail.append(" ");
            told.detail.append(advice_text(a.code, a.figures, day));
        }
        if (told.detail.empty())
            reasons();
        break;
    }
    return told;
}

float told_height(Ui& ui, const Told& told, float width) {
    const float w = width - ui.px(32) - (told.seal == ui::Seal::none ? 0 : ui.px(48));
    return std::max(ui.px(64), ui.px(20) + ui.text_height(Face::title, told.title, w) + ui.px(2) +
                                   (told.detail.empty() ? 0 : ui.text_height(Face::body, told.detail, w)));
}

static ui::Mark mark_of(CheckState state) {
    switch (state) {
    case CheckState::due: return ui::Mark::due;
    case CheckState::done: return ui::Mark::done;
    case CheckState::done_late: return ui::Mark::late;
    case CheckState::missed: return ui::Mark::missed;
    case CheckState::not_needed: return ui::Mark::not_needed;
    case CheckState::to_come:
    case CheckState::not_recorded: break; // nobody notes here what was done
    }
    return ui::Mark::to_come;
}

void draw_plan(Ui& ui, std::string_view id, Box box, const Reckoned& told) {
    const Reckoning& r = told.r;
    const DayClock& day = told.day;
    const WallClock& wall = told.wall;
    const Instant now = told.now;
    ui::Timeline t;
    if (!r.planned) {
        t.spoken = "Timeline: not yet.";
        ui::timeline(ui, id, box, t);
        ui.put_text({box.x, box.y + (box.h - ui.line_height(Face::body)) / 2, box.w, box.h}, Face::body,
                    ui.palette().quiet, "The timeline is drawn as soon as the four entries are there.",
                    ui::Align::centre);
        return;
    }
    std::vector<std::string> words;
    words.reserve(128);
    const auto keep = [&](std::string text) -> std::string_view {
        return words.emplace_back(std::move(text));
    };

    std::int64_t from = r.start.utc, to = r.all_in.utc;
    if (const auto& issued = told.state.times.issued)
        from = std::min(from, issued->at.utc);
    std::vector<ui::TimelineWall> walls;
    for (const Window& w : r.windows) {
        if (!w.binds || !w.latest)
            continue;
        const bool finish = w.kind == LimitKind::finish;
        if (!finish && w.kind != LimitKind::hang && w.kind != LimitKind::start)
            continue;
        walls.push_back(
            {w.latest->utc, keep(std::string(name(w.kind)) + " " + clock_text(*w.latest, day)), finish});
        if (finish)
            to = std::max(to, w.latest->utc);
    }
    // A limit for the start that lies behind the end (an expiry days away) would press all the rest together.
    std::erase_if(walls, [&](const ui::TimelineWall& w) { return !w.main && w.at > to; });
    std::sort(walls.begin(), walls.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
    std::vector<ui::TimelineCheck> marks;
    for (const Check& c : r.checks) {
        if (c.kind == CheckKind::baseline)
            continue;
        if (r.held && !c.done && c.due > now)
            continue; // when it ends is not known
        if (marks.size() < 64)
            marks.push_back({c.due.utc, mark_of(c.state), keep(minute_text(c.due, day))});
        to = std::max(to, c.due.utc);
    }
    const std::int64_t span = to - from;
    from -= span / 60;
    to += span / 30;
    t.from = from;
    t.to = to;

    // The climb, as part of what the vein gets; saline that goes in first gives nothing.
    std::vector<ui::TimelinePoint> climb;
    const double whole = static_cast<double>(std::max<std::int64_t>(1, r.volumes.given.units));
    const auto point = [&](Instant at) {
        climb.push_back({at.utc, static_cast<double>(running_at(r, at).given.units) / whole});
    };
    point(r.start);
    if (r.first_component > r.start && r.first_component < r.all_in) {
        point(r.first_component);
        t.saline_until = r.first_component.utc;
    }
    std::vector<ui::TimelineStage> stages;
    for (const Stage& s : r.stages) {
        if (r.held && s.from >= r.as_if)
            break; // whether it goes on is somebody's decision
        if (s.to.utc > climb.back().at)
            point(s.to);
        std::string rate = told.state.device.kind == DeviceKind::gravity ? drops_text(s.drops_per_min)
                                                                               : rate_text(s.rate);
        if (!stages.empty())
            rate += " from " + clock_text(s.from, day);
        stages.push_back({s.from.utc, s.to.utc, keep(std::move(rate))});
    }
    if (!r.held && r.all_in.utc > climb.back().at)
        point(r.all_in);

    // Ticks on whole hours of the wall clock; fewer when there are many.
    std::vector<ui::TimelineTick> ticks;
    const std::int64_t offset = wall.offset_at({from}).count;
    const std::int64_t step = span <= 90 * 60     ? 900
                              : span <= 10 * 3600 ? 3600
                              : span <= 36 * 3600 ? 4 * 3600
                                                  : 24 * 3600;
    for (std::int64_t at = (from + offset + step - 1) / step * step - offset; at <= to; at += step)
        ticks.push_back({at, keep(minute_text({at}, day))});

    std::string spoken = "Timeline. Start at " + clock_text(r.start, day);
    for (const ui::TimelineStage& s : stages)
        spoken.append(", ").append(s.label).append(" until ").append(clock_text({s.to}, day));
    spoken.append(", all in at ").append(clock_text(r.all_in, day));
    for (const ui::TimelineWall& w : walls)
        spoken.append(", ").append(w.label);
    spoken.append(".");
    const std::string top = volume_text(r.volumes.given);
    t.climb = climb;
    t.stages = stages;
    t.checks = marks;
    t.walls = walls;
    t.ticks = ticks;
    t.has_now = true;
    t.now = now.utc;
    t.top_label = top;
    t.spoken = spoken;
    ui::timeline(ui, id, box, t);
}

float check_list(Ui& ui, Box box, const Reckoning& r, const DayClock& day, int columns) {
    if (!r.planned || r.checks.empty())
        return 0;
    const float top = box.y, row = ui.line_height(Face::body) + ui.px(8);
    ui::subheading(ui, "checks", box.cut_top(ui.line_height(Face::small), ui.px(4)), "Observations");
    static constexpr ui::Mark looks[] = {ui::Mark::to_come, ui::Mark::due,    ui::Mark::done,
                                         ui::Mark::late,    ui::Mark::missed, ui::Mark::not_needed};
    const std::size_t most = 24;
    Box line{};
    std::size_t n = 0;
    for (const Check& c : r.checks) {
        if (n == most)
            break;
        const int column = static_cast<int>(n) % columns;
        if (column == 0)
            line = box.cut_top(row);
        Box cell = line.cell(columns, 1, column, 0, ui.px(16));
        const std::string time = clock_text(c.due, day);
        std::string what(name(c.kind));
        if (c.kind == CheckKind::baseline)
            what.append(", from ").append(clock_text(c.counts_from, day));
        what.append(", ").append(name(c.state));
        ui.note({.id = ui.id("check.", static_cast<int>(n)),
                 .label = time,
                 .value = what,
                 .role = ui::Role::text,
                 .box = cell});
        ui::check_mark(ui, cell.x + ui.px(12), std::floor(cell.y + row / 2), ui.px(8),
                       looks[static_cast<int>(c.state)]);
        cell.cut_left(ui.px(30));
        cell.y += ui.px(4);
        const float w = ui.text_width(Face::body, "00:00:00  ");
        ui.put_text(cell, Face::body, ui.palette().ink, time);
        cell.cut_left(std::max(w, ui.text_width(Face::body, time) + ui.px(12)));
        ui.put_text(cell, Face::body, ui.palette().quiet, what);
        ++n;
    }
    if (r.checks.size() > most) {
        const std::string rest = dose_number(static_cast<Wide>(r.checks.size() - most), 1, 0) +
                                 " more, at the same distance, are on the sheet.";
        box.cut_top(ui::paragraph(ui, "checks.rest", box, rest, Face::small, true));
    }
    return box.y - top;
}

float warning_list(Ui& ui, Box box, const Reckoning& r, const DayClock& day) {
    const float top = box.y;
    int n = 0;
    if (r.planned && r.judgement.verdict == Verdict::does_not_fit)
        for (const Reason reason : r.judgement.reasons)
            box.cut_top(ui::caution(ui, ui.id("reason.", n++), box, "Why", sentence(reason)), ui.px(8));
    // What holds up first, notes last.
    for (const Severity severity : {Severity::stop, Severity::caution, Severity::note}) {
        bool first = true;
        for (const Warned& w : r.warnings) {
            if (w.severity != severity)
                continue;
            const std::string text = warning_text(w.code, w.figures, day);
            if (severity == Severity::note && first)
                ui::subheading(ui, "notes", box.cut_top(ui.line_height(Face::small), ui.px(5)), "Notes");
            first = false;
            box.cut_top(ui::caution(ui, ui.id("warning.", n++), box,
                                    severity == Severity::note ? "" : name(severity), text),
                        ui.px(8));
        }
    }
    return box.y - top;
}

} // namespace hangtime::screens
