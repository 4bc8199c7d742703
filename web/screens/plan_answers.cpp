#include "core/plan/plan_words.hpp"
#include "core/words/sums.hpp"
#include "core/words/words.hpp"
#include "web/screens/plan.hpp"
#include "web/screens/reckoned.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>
#include <cmath>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

std::string Plan::left_or_passed(Instant latest, Instant now) {
    return latest < now ? "passed" : minutes_left_text(latest - now) + " left";
}

void Plan::touched(std::string_view id) {
    if (open_sum_ == id)
        open_sum_.clear();
    else
        open_sum_ = id;
}

void Plan::offer_sum(std::string_view id, std::string_view about, const Sum& sum) {
    if (!is_open(id))
        return;
    about_ = about;
    sum_ = sum_text(sum, day_);
    if (sum_.empty())
        sum_ = "nothing to work out yet";
}

// --- the numbers ----------------------------------------------------------------------------------------

float Plan::answers(Ui& ui, Box box, bool large) {
    about_.clear();
    sum_.clear();
    Box rest = box;
    rest.h = 1e6f;
    // Four times beside one another need this much: "1 h 59 min 40 s in all" stands in each of them.
    large = large && rest.w >= ui.px(680);
    const float gap = ui.px(10);
    say_verdict(ui, rest.cut_top(verdict_height(ui, rest.w), gap));
    if (entries_.not_covered())
        return rest.y - box.y;

    const Box big = rest.cut_top(ui.px(large ? 128 : 112), gap);
    const Box times =
        large ? rest.cut_top(ui.px(96), gap) : rest.cut_top(2 * ui.px(92) + ui.px(ui::gap_px), gap);
    const Box sum_at = rest.cut_top(2 * ui.line_height(Face::body), gap);
    const Box picture = rest.cut_top(ui.px(216), gap);
    big_answers(ui, big, 2);

    const Reckoning& r = reckoning_;
    const float between = ui.px(ui::gap_px);
    const auto cell = [&](int n) {
        return large ? times.cell(4, 1, n, 0, between) : times.cell(2, 2, n % 2, n / 2, between);
    };
    const auto limit = [&](std::string_view id, int n, LimitKind kind, LimitKind or_kind,
                           std::optional<Instant> at, std::string_view label) {
        ui::Answer a;
        std::optional<Split> told;
        std::string note;
        const Window* from = nullptr;
        for (const Window& w : r.windows)
            if ((w.kind == kind || w.kind == or_kind) && w.latest && at && *w.latest == *at)
                from = &w;
        if (at) {
            told.emplace(clock_text(*at, day_));
            a.figure = told->figure;
            a.unit = told->unit;
            note = from != nullptr && from->state == WindowState::met ? std::string(name(from->state))
                                                                      : left_or_passed(*at, now_);
            a.kept = from == nullptr || from->kept;
            if (!a.kept)
                note = "too late by " + minutes_left_text(from->planned ? *from->planned - *at : Seconds{});
        }
        a.label = label;
        a.note = note;
        a.open = is_open(id);
        if (from != nullptr) {
            std::string about(label);
            about.append(", counted from ").append(name(from->from));
            offer_sum(id, about, from->sum);
        } else {
            offer_sum(id, label, r.judgement.latest_start_sum);
        }
        if (ui::answer(ui, id, cell(n), a))
            touched(id);
    };
    limit("start.by", 0, LimitKind::start, LimitKind::hang, r.start_by, "Start by, latest");
    limit("finish.by", 1, LimitKind::finish, LimitKind::finish, r.finish_by, "All in by, latest");

    {
        ui::Answer a;
        // Only where the limit cuts it short does somebody have to stop it.
        a.label = r.planned && r.judgement.would_be_left > Volume{} ? "Stop at" : "All in, expected";
        std::optional<Split> told;
        std::string note;
        if (r.planned) {
            told.emplace(clock_text(r.all_in, day_));
            a.figure = told->figure;
            a.unit = told->unit;
            note = span_text(r.all_in - r.start) + " in all";
            a.note = note;
        }
        a.open = is_open("all_in");
        offer_sum("all_in", a.label, r.all_in_sum);
        if (ui::answer(ui, "all_in", cell(2), a))
            touched("all_in");
    }
    {
        ui::Answer a;
        a.label = "Next check";
        std::optional<Split> told;
        std::string note;
        const Check* next = nullptr;
        const bool held = r.planned && r.judgement.verdict == Verdict::does_not_fit;
        if (held)
            a.empty = "ask first";
        for (const Check& c : r.checks)
            if (!held && next == nullptr && (c.state == CheckState::due || c.state == CheckState::to_come))
                next = &c;
        if (next != nullptr) {
            told.emplace(clock_text(next->due, day_));
            a.figure = told->figure;
            a.unit = told->unit;
            note = name(next->kind);
            if (next->kind == CheckKind::baseline) {
                note = "Baseline, from " + minute_text(next->counts_from, day_);
            }
            a.note = note;
            offer_sum("check.next", name(next->kind), next->sum);
        }
        a.open = is_open("check.next");
        if (ui::answer(ui, "check.next", cell(3), a))
            touched("check.next");
    }

    draw_timeline(ui, picture);
    rest.cut_top(windows(ui, rest, large ? 2 : 1), gap);
    rest.cut_top(checks(ui, rest, large ? 2 : 1), gap);
    rest.cut_top(notes(ui, rest), gap);
    ui::sum_line(ui, "sum", sum_at, about_, sum_);
    return rest.y - box.y;
}

// Where it does not fit: what the trouble is about, volume or time, and how far it would do.
void Plan::trouble_answers(Ui& ui, Box first, Box second) {
    const Reckoning& r = reckoning_;
    const Judgement& j = r.judgement;
    const auto put = [&](std::string_view id, Box where, std::string_view label, const std::string& figure,
                         const std::string& note, bool kept, const Sum& sum) {
        const Split told(figure);
        ui::Answer a{.label = label, .figure = told.figure, .unit = told.unit};
        a.empty = "none";
        a.note = note;
        a.open = is_open(id);
        a.large = true;
        a.kept = kept;
        offer_sum(id, label, sum);
        if (ui::answer(ui, id, where, a))
            touched(id);
    };
    bool line_holds_all = false;
    for (const Reason reason : j.reasons)
        line_holds_all = line_holds_all || reason == Reason::line_holds_all;
    if (line_holds_all) {
        put("can_give", first, "Would reach the vein", volume_text(j.can_give), "the line holds all of it", false,
            {});
        put("line", second, "The line holds", volume_text(r.volumes.line), "", true, {});
        return;
    }
    if (j.would_be_left > Volume{}) {
        put("can_give", first, "Can be given by the limit", volume_text(j.can_give, Rounding::down),
            volume_text(j.would_be_left, Rounding::up) + " would be left", false, j.can_give_sum);
    } else {
        const bool late = r.start_by && r.start > *r.start_by;
        const bool happened = entries_.state_at(now_).times.start->happened;
        put("start.at", first, happened ? "Started at" : "Start, planned", clock_text(r.start, day_),
            late ? "too late by " + minutes_left_text(r.start - *r.start_by) : std::string(), !late, {});
    }
    if (j.largest_bag > Volume{}) {
        put("largest", second, "Largest bag or split that fits", volume_text(j.largest_bag, Rounding::down),
            "ask before the bag is called for", true, j.largest_bag_sum);
    } else {
        put("latest", second, "Latest start that fits", j.latest_start ? clock_text(*j.latest_start, day_) : "",
            j.latest_start ? left_or_passed(*j.latest_start, now_) : "", true, j.latest_start_sum);
    }
}

void Plan::big_answers(Ui& ui, Box box, int columns) {
    const Reckoning& r = reckoning_;
    const float gap = ui.px(ui::gap_px);
    const Box first = box.cell(columns, 1, 0, 0, gap), second = box.cell(columns, 1, 1, 0, gap);
    const bool gravity = entries_.state().device.kind == DeviceKind::gravity;

    if (r.planned && r.judgement.verdict == Verdict::does_not_fit) {
        // No rate to set: what does not fit is not to be started before somebody was asked.
        trouble_answers(ui, first, second);
        return;
    }

    const auto stage = [&](std::string_view id, Box where, std::size_t n, std::string_view label,
                           std::string_view empty) {
        ui::Answer a;
        a.label = label;
        a.empty = empty;
        a.large = true;
        a.open = is_open(id);
        std::optional<Split> told;
        std::string note;
        if (r.planned && n < r.stages.size()) {
            const Stage& s = r.stages[n];
            told.emplace(gravity ? drops_text(s.drops_per_min) : rate_text(s.rate));
            a.figure = told->figure;
            a.unit = told->unit;
            if (gravity) {
                note = "count " + dose_number(s.count_drops, 1, 0) + " in " + span_text(s.count_over) + ", " +
                       rate_text(s.rate);
            } else if (n + 1 < r.stages.size()) {
                note = "until " + clock_text(s.to, day_);
            } else {
                note = r.rates.rule == RateRule::target ? "all in at " + clock_text(s.to, day_)
                                                        : std::string(name(r.rates.rule));
            }
            a.current = r.stage_now == static_cast<std::int32_t>(n);
            if (a.current)
                note = "now, " + note;
            a.note = note;
            std::string about(label);
            offer_sum(id, about, n + 1 == r.stages.size() ? r.rates.set_sum : s.sum);
        }
        if (ui::answer(ui, id, where, a))
            touched(id);
    };
    std::string start_label = "Set at the start";
    if (r.planned && !r.stages.empty())
        start_label += ", " + clock_text(r.stages[0].from, day_);
    stage("rate.first", first, 0, start_label, "not yet");
    std::string then_label = "Then set";
    if (r.planned && r.stages.size() > 1)
        then_label = "Then set, from " + clock_text(r.stages[1].from, day_);
    stage("rate.set", second, 1, then_label, r.planned ? "no change of rate" : "not yet");
}

// --- the picture ----------------------------------------------------------------------------------------

void Plan::draw_timeline(Ui& ui, Box box) {
    draw_plan(ui, "timeline", box, {reckoning_, entries_.state(), now_, wall_, day_});
}

} // namespace hangtime::screens
