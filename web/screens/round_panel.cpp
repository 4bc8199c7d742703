#include "web/screens/round_view.hpp"

#include "core/plan/round_words.hpp"
#include "core/words/words.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

/// What stands beside the lanes: the answer, what clashes, what another start breaks, the times of the chosen one.

namespace hangtime::screens {

using namespace rounds;
using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr std::int64_t slot_s = slot_minutes * 60;

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

float RoundView::panel(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(12);
    if (plan_->tried())
        box.cut_top(trial(ui, box), gap);
    box.cut_top(search(ui, box), gap);
    if (plan_->conflict() && !plan_->tried())
        box.cut_top(clash(ui, box), gap);
    if (chosen_ >= 0 && !plan_->tried())
        box.cut_top(chosen(ui, box), gap);
    if (!plan_->tried())
        box.cut_top(changes(ui, box), gap);
    if (!plan_->tried())
        box.cut_top(left_out(ui, box), 0);
    if (chosen_ < 0 && plan_->schedule())
        box.cut_top(ui::paragraph(ui, "round.hint", box,
                                  "Drag a lane to try another start, or touch it for its times and for steps of 5 min.",
                                  Face::small, true),
                    gap);
    if (!fixed_ && ui::button(ui, "round.entries", box.cut_top(ui.px(ui::row_px), gap), "Change the entries")) {
        plan_->cancel();
        mode_ = Mode::entries;
        item_ = -2; // the list, from the top
        form_.clear();
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
    const RoundResult result = plan_->result();
    if (const std::string call = round_call_text(plan_->protocol(), result, job, day_); !call.empty())
        box.cut_top(ui::paragraph(ui, "lane.call", box, "Call " + call, Face::small), ui.px(2));
    int links = 0;
    for (const std::string& said : round_person_texts(
             plan_->round(), static_cast<std::size_t>(plan_->options().transfusion[job])))
        box.cut_top(ui::paragraph(ui, ui.id("lane.person.", links++), box, said, Face::small), ui.px(2));
    box.cut_top(ui::paragraph(ui, "lane.set", box, "Set: " + round_set_text(plan_->protocol(), result, job, day_),
                              Face::small),
                ui.px(2));
    box.cut_top(ui.px(6));
    if (!fixed_ && ui::button(ui, "lane.happened", box.cut_top(ui.px(ui::row_px), gap), "Enter what has happened"))
        open_happened(ui, static_cast<std::size_t>(plan_->options().transfusion[job]));
    if (mode_ != Mode::board || t.happened.started)
        return box.y - top;
    box.cut_top(moving(ui, box), gap);
    if (plan_->held(job) && ui::button(ui, "lane.free", box.cut_top(ui.px(ui::row_px), gap), "Let it go, plan again"))
        plan_->let_go(job);
    return box.y - top;
}

// What is not as it was promised.
float RoundView::changes(Ui& ui, Box box) {
    const float top = box.y;
    if (!plan_->schedule() || !has_promises(plan_->round()))
        return 0;
    const std::vector<std::string> texts = round_changes(plan_->result());
    ui::subheading(ui, "changes", box.cut_top(ui.line_height(Face::body), ui.px(4)), "Against what was promised");
    int n = 0;
    for (const std::string& text : texts)
        box.cut_top(ui::paragraph(ui, ui.id("changes.", n++), box, text), ui.px(4));
    box.cut_top(ui::paragraph(ui, "changes.rest", box,
                              texts.empty() ? "Every start and every nurse is as promised." : "All else is as promised.",
                              Face::small),
                ui.px(4));
    return box.y - top;
}

// Those that have no lane any more.
float RoundView::left_out(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const auto& standing = plan_->options().standing;
    for (std::size_t i = 0; i < standing.size(); ++i) {
        if (standing[i] != Place::over && standing[i] != Place::withdrawn)
            continue;
        const PlannedTransfusion& t = plan_->round().transfusions[i];
        const std::string text = round_left_out_text(plan_->round(), plan_->options(), i, day_);
        box.cut_top(ui::paragraph(ui, ui.id("out.", static_cast<int>(i)), box, text), gap);
        if (t.happened.started && !fixed_ &&
            ui::button(ui, ui.id("out.change.", static_cast<int>(i)), box.cut_top(ui.px(ui::row_px), gap),
                       joined({"Change what has happened to ", object_text(t)})))
            open_happened(ui, i);
    }
    int n = 0;
    for (const std::string& text : round_overlaps(plan_->result()))
        box.cut_top(ui::paragraph(ui, ui.id("overlap.", n++), box, text), gap);
    return box.y - top;
}

} // namespace hangtime::screens
