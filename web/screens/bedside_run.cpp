#include "core/words/bedside_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/sums.hpp"
#include "core/words/words.hpp"
#include "web/screens/bedside.hpp"
#include "web/screens/device_lines.hpp"
#include "web/screens/reckoned.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

/// While it runs: the rate, what has been given, when it will be all in, what to enter on the device, and what can
/// happen.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

float Bedside::figures(Ui& ui, Box box) {
    const Reckoning& r = live().reckoning;
    const State& state = session().state;
    const float top = box.y, gap = ui.px(ui::gap_px);
    const bool large = box.w >= ui.px(680);
    const Box row = large ? box.cut_top(ui.px(112), gap) : box.cut_top(2 * ui.px(96) + gap, gap);
    const auto cell = [&](int n) { return large ? row.cell(4, 1, n, 0, gap) : row.cell(2, 2, n % 2, n / 2, gap); };
    std::string sum;
    const auto put = [&](std::string_view id, int n, std::string_view label, const std::string& text,
                         const std::string& note, std::string_view empty, const Sum& how, bool kept = true,
                         bool current = false) {
        const Split split(text);
        ui::Answer a;
        a.label = label, a.figure = split.figure, a.unit = split.unit, a.note = note, a.empty = empty;
        a.open = open_sum_ == id;
        a.kept = kept, a.current = current;
        if (a.open) {
            sum = joined({label, ": ", sum_text(how, day_)});
            if (sum_text(how, day_).empty())
                sum = joined({label, ": from what was noted"});
        }
        if (ui::answer(ui, id, cell(n), a))
            open_sum_ = a.open ? std::string() : std::string(id);
    };
    const auto rate_of = [&](const Stage& s) {
        return state.device.kind == DeviceKind::gravity && s.drops_per_min > 0 ? drops_text(s.drops_per_min)
                                                                               : rate_text(s.rate);
    };
    const bool runs = r.live && !r.ended;
    std::string now_rate, until;
    if (runs && session().phase == Phase::paused) {
        until = r.held ? std::string("goes on only as decided") : joined({"goes on at ", rate_text(rate_to_go_on(state))});
    } else if (runs && r.in_force > Rate{}) {
        // What was read off the device, never what the plan would have by now.
        now_rate = rate_text(r.in_force);
        if (state.device.kind == DeviceKind::gravity) {
            const std::int64_t one = drops_per_min(1, state.device.drops).units_per_s;
            const std::int64_t drops = r.in_force.units_per_s / one;
            now_rate = drops_text(drops);
            until = joined({"count ", dose_number(drops, 1, 0), " in 1 min, ", rate_text(r.in_force)});
        }
    }
    put("run.rate", 0, "Runs now", now_rate, until, session().phase == Phase::paused ? "stands still" : "not running", {},
        true, !now_rate.empty());
    std::string next, next_note;
    const bool raises = std::any_of(r.next.begin(), r.next.end(), [](const Step& s) {
        return s.kind == StepKind::raise_rate || s.kind == StepKind::resume;
    });
    for (std::size_t i = 0; i < r.stages.size(); ++i) {
        const Stage& s = r.stages[i];
        if (!raises && r.live)
            break; // nothing is raised by itself after what was seen
        if (s.from < now_ || s.kind == StageKind::pause || s.rate <= Rate{} || !r.planned || (r.live && s.rate == r.in_force))
            continue;
        next = rate_of(s);
        next_note = joined({"from ", clock_text(s.from, day_)});
        break;
    }
    put("run.next_rate", 1, r.live ? "Then set" : "Set at the start", next, next_note, "no change of rate", r.rates.set_sum);
    const RunningBand& b = live().running;
    std::string given, band;
    if (r.live) {
        given = volume_text(r.ended && !state.run.stopped ? r.volumes.given : b.given);
        band = r.ended                         ? std::string()
               : b.least_given == b.most_given ? joined({"of ", volume_text(r.volumes.given)})
                                             : joined({volume_text(b.least_given, Rounding::down), " to ",
                                                       volume_text(b.most_given, Rounding::up)});
    }
    put("run.given", 2, r.ended ? "Given" : "Given, about", given, band, "nothing yet", {});
    std::string end_note;
    bool kept = true;
    if (r.planned && r.finish_by) {
        kept = r.all_in <= *r.finish_by;
        end_note = kept ? joined({"limit ", clock_text(*r.finish_by, day_)})
                        : joined({"too late by ", minutes_left_text(r.all_in - *r.finish_by)});
    }
    const bool known = r.planned && !r.held;
    put("run.all_in", 3, r.stopped ? "Stopped" : r.ended ? "Ended" : "All in, expected",
        known ? clock_text(r.all_in, day_) : std::string(), r.held ? std::string() : end_note, r.held ? "nothing planned" : "not yet",
        r.all_in_sum, kept || r.held);
    if (!sum.empty())
        box.cut_top(ui::paragraph(ui, "sum", box, sum), gap);
    return box.y - top;
}

// What to enter on the device, in an order of our own, and where a duration would lead it astray.
float Bedside::device(Ui& ui, Box box) {
    const State& state = session().state;
    if (state.device.kind != DeviceKind::pump || session().phase > Phase::paused || session().phase < Phase::here)
        return 0;
    const auto entry = device_entry(state, live().reckoning);
    if (!entry)
        return 0;
    return device_lines(ui, box, "run.device", *entry);
}

float Bedside::run(Ui& ui, Box box) {
    const Session& s = session();
    const Reckoning& r = live().reckoning;
    const float top = box.y, gap = ui.px(12);
    if (s.phase < Phase::here) {
        box.cut_top(ui::paragraph(ui, "run.none", box, "Nothing runs yet.", Face::title), gap);
        box.cut_top(verdict(ui, box), gap);
        return box.y - top;
    }
    box.cut_top(figures(ui, box), gap);
    if (s.reaction)
        box.cut_top(ui::caution(ui, "run.reaction", box, "Reaction suspected",
                                joined({"at ", clock_text(*s.reaction, day_),
                                        ". Follow your procedure for it. Going on is somebody's decision."})),
                    gap);
    if (live().attended_until && now_ < *live().attended_until)
        box.cut_top(ui::caution(ui, "run.stay", box, "Stay",
                                joined({"until ", clock_text(*live().attended_until, day_), ". ", attended_sentence()})),
                    gap);
    if (s.phase == Phase::paused) {
        std::string cost = joined({"Stands still since ", clock_text(s.state.run.flows.back().from, day_), " (",
                                   name(s.pause_reason), "). No limit waits for it."});
        if (r.judgement.latest_start && !r.held)
            cost += joined({" Going on at the rate that was set meets the limit until ",
                            clock_text(*r.judgement.latest_start, day_), "."});
        box.cut_top(ui::caution(ui, "run.paused", box, "Pause", cost), gap);
    }
    box.cut_top(verdict(ui, box), gap);
    box.cut_top(device(ui, box), gap);
    const bool runs = s.phase == Phase::running, paused = s.phase == Phase::paused, flows = runs || paused;
    const bool started = !s.state.run.flows.empty();
    const std::vector<Offer> all = {
        {"run.start", EventKind::started, !started && s.state.times.spiked.has_value()},
        {"run.rate_set", EventKind::rate_set, runs},
        paused ? Offer{"run.resume", EventKind::resumed, true} : Offer{"run.pause", EventKind::paused, runs},
        {"run.total", EventKind::device_total, true},
        {"run.change_set", EventKind::set_changed, flows || !started},
        {"run.empty", EventKind::bag_empty, flows && !s.state.run.bag_empty, true},
        {"run.clear", EventKind::clearing_begun, flows && s.state.line.cleared && !s.state.run.cleared, true},
        {"run.end", EventKind::all_in, flows},
        {"run.stop", EventKind::stopped, s.phase >= Phase::here && !s.state.run.ended && !s.disposal},
        {"run.slow_down", EventKind::ceiling_lowered, flows},
        {"run.restart", EventKind::restarted, paused && s.reaction.has_value()},
        {"run.reaction.suspect", EventKind::reaction_suspected, started, true},
        {"run.refuse", EventKind::consent_withdrawn, !s.refused},
    };
    if (r.planned) {
        draw_plan(ui, "timeline", box.cut_top(ui.px(216), gap), {r, s.state, now_, wall_, day_});
    }
    // Between the checks too a set can always be taken.
    Box between = box.cut_top(ui.px(ui::row_px), gap);
    const bool writes = desk_.store().may_write() && !case_->read_only();
    if (ui::button(ui, "run.observe", between.cut_left(std::min(between.w, ui.px(340)), gap),
                   "Observations between the checks ...", ui::Look::plain, writes && started)) {
        observe(ui, facts::Observed{CheckKind::interval, 0, true, {}}, "Observations between the checks");
        return box.y - top;
    }
    box.cut_top(offers(ui, box, all, box.w >= ui.px(620) ? 3 : 2), gap);
    box.cut_top(fluid(ui, box), gap);
    box.cut_top(check_list(ui, box, r, day_, box.w >= ui.px(720) ? 2 : 1), gap);
    box.cut_top(windows(ui, box, box.w >= ui.px(720) ? 2 : 1), gap);
    box.cut_top(warning_list(ui, box, r, day_), gap);
    return box.y - top;
}

} // namespace hangtime::screens
