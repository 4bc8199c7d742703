#include "web/screens/reaction_view.hpp"

#include "core/report/observe_sheet.hpp"
#include "core/report/session_report.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/signs_view.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/tick.hpp"

#include <algorithm>
#include <cmath>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Typed;
using ui::Ui;

namespace {

// Whose word it can be. Common practice, no source: somebody who may prescribe, or the team that is called.
constexpr Role clinicians[] = {Role::prescriber, Role::outreach};

bool has_started(const Session& s) { return s.state.times.start && s.state.times.start->happened; }

// The records that stand for the stop, or for an action since then.
std::vector<std::int32_t> records_of(const Log& log, EventKind kind, std::optional<ActionKind> action = {}) {
    std::vector<std::int32_t> out;
    for (const Event& e : log.events()) {
        if (log.is_void(e.number) || e.kind != kind)
            continue;
        if (action && facts_of<facts::ActionTicked>(e).action != *action)
            continue;
        if (!action)
            out.clear(); // the last one is the one that counts
        out.push_back(e.number);
    }
    return out;
}

Change worst_of_all(const Session& s) {
    Change worst;
    bool any = false;
    const ObservedSet* baseline = baseline_set(s);
    for (const ObservedSet& set : s.sets) {
        if (baseline && set.number == baseline->number)
            continue;
        const auto change = change_of(s, set);
        if (!change)
            continue;
        if (any)
            take_worst(worst, *change);
        else
            worst = *change;
        any = true;
    }
    return worst;
}

float heading(Ui& ui, Box& box, std::string_view id, std::string_view text) {
    const float top = box.y;
    ui::subheading(ui, id, box.cut_top(ui.line_height(Face::small), ui.px(6)), text);
    return box.y - top;
}

} // namespace

std::optional<ReactionView::Wish> ReactionView::take_wish() {
    auto out = std::move(wish_);
    wish_.reset();
    return out;
}

void ReactionView::reset() { *this = {}; }

void ReactionView::scan_leaked(const WallClock& wall) {
    if (edit_ == Edit::rate)
        rate_.start(rate_.kind, rate_.whole, rate_.places, rate_before_);
    else if (editing())
        time_.give_back(wall);
}

void ReactionView::note(EventKind event, Facts facts, std::optional<Instant> at, std::vector<std::int32_t> replaces) {
    wish_ = Wish{Wish::Kind::note, event, std::move(facts), at, std::move(replaces)};
}

void ReactionView::edit_time(Ui& ui, Edit what, std::optional<Instant> current, const Shown& shown) {
    edit_ = what;
    time_.start(current, shown.wall);
    ui.change_screen(false);
    ui.reveal("key.done");
}

// --- the time of something ------------------------------------------------------------------------------

float ReactionView::time(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y;
    box.w = std::min(box.w, ui.px(460));
    const std::string text = time_.shown();
    heading(ui, box, "reaction.time", ui.keep(joined({"It was at ", text.empty() ? std::string_view("--:--") : std::string_view(text)})));
    const float h = time_.height(ui);
    const Typed typed = time_.build(ui, box.cut_top(h, ui.px(ui::gap_px)), shown.now, shown.wall, "Done");
    const bool back = ui::button(ui, "reaction.time.back", box.cut_top(ui.px(ui::row_px), ui.px(ui::gap_px)), "Leave it as it is");
    if (back || typed == Typed::cancelled) {
        edit_ = Edit::nothing;
        ui.change_screen(false);
    } else if (typed == Typed::done && time_.at()) {
        const Instant at = *time_.at();
        switch (edit_) {
        case Edit::suspect:
            note(EventKind::reaction_suspected, std::monostate{}, at);
            break;
        case Edit::stop:
            note(EventKind::reaction_suspected, std::monostate{}, at, records_of(shown.log, EventKind::reaction_suspected));
            break;
        case Edit::action:
            note(EventKind::action_done, facts::ActionTicked{edited_}, at,
                 records_of(shown.log, EventKind::action_done, edited_));
            break;
        case Edit::nothing:
        case Edit::rate:
            break;
        }
        edit_ = Edit::nothing;
        open_.reset();
        ui.change_screen(false);
    }
    return box.y - top;
}

// --- before ---------------------------------------------------------------------------------------------

float ReactionView::suspect(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(10);
    const Session& s = shown.log.session();
    const bool given = has_started(s) || std::any_of(s.past_units.begin(), s.past_units.end(),
                                                     [](const PastUnit& u) { return u.started.has_value(); });
    const bool runs = has_started(s) && !s.state.run.ended;
    box.cut_top(ui::paragraph(ui, "reaction.any_symptom", box, any_symptom_sentence()), gap);
    box.cut_top(ui::paragraph(ui, "reaction.what", box,
                              runs ? std::string_view("One press notes the stop at this moment, and shows what to do in the order of these rules.")
                                   : std::string_view("After the end too: one press notes it at this moment, and shows what to do in the order of these rules."),
                              Face::body, true),
                gap);
    if (edit_ == Edit::suspect) {
        box.cut_top(time(ui, box, shown), gap);
        return box.y - top;
    }
    Box row = box.cut_top(ui.px(64), gap);
    const bool may = shown.may_note && given;
    if (ui::button(ui, "reaction.earlier", row.cut_right(std::min(row.w * 0.36f, ui.px(240)), ui.px(ui::gap_px)), "At another time ...",
                   ui::Look::plain, may))
        edit_time(ui, Edit::suspect, shown.now, shown);
    else if (ui::button(ui, "reaction.suspect", row, "Suspect a reaction: stop now", ui::Look::primary, may))
        note(EventKind::reaction_suspected, std::monostate{});
    if (!given)
        box.cut_top(ui::paragraph(ui, "reaction.not_started", box, "Nothing has been given yet."), gap);
    return box.y - top;
}

// --- what is done ---------------------------------------------------------------------------------------

float ReactionView::action(Ui& ui, Box box, const Shown& shown, const ActionLine& line) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const std::string at = line.at ? minute_text(*line.at, shown.day) : std::string();
    ui::Tick t;
    t.label = name(line.kind);
    t.behind = at;
    t.below = action_sentence(line.kind);
    t.ticked = line.at.has_value();
    t.next = line.next;
    t.enabled = shown.may_note;
    const std::string_view id = ui.keep(joined({"action.", code(line.kind)}));
    const bool enter = line.kind == ActionKind::observe;
    Box row = box;
    if (enter)
        row.w -= ui.px(120) + gap;
    row.h = ui::tick_height(ui, row.w, t);
    if (enter) {
        const Box side = {row.right() + gap, row.y, ui.px(120), row.h};
        if (ui::button(ui, "reaction.observe", side, "Enter them", ui::Look::plain, shown.may_note, "Enter the observations"))
            wish_ = Wish{Wish::Kind::observe, {}, {}, {}, {}};
    }
    box.cut_top(row.h, gap);
    if (ui::tick(ui, id, row, t) && shown.may_note) {
        if (!line.at) {
            note(EventKind::action_done, facts::ActionTicked{line.kind});
        } else {
            open_ = open_ == line.kind ? std::nullopt : std::optional(line.kind);
            edit_ = Edit::nothing;
            ui.change_screen(false);
        }
    }
    if (open_ != line.kind || !line.at)
        return box.y - top;
    Box inner = box;
    inner.cut_left(ui.px(24));
    const float from = inner.y;
    const bool stop = line.kind == ActionKind::stop;
    if (edit_ == (stop ? Edit::stop : Edit::action) && (stop || edited_ == line.kind)) {
        inner.cut_top(time(ui, inner, shown), gap);
    } else {
        const Box buttons = inner.cut_top(ui.px(ui::row_px), gap);
        if (ui::button(ui, "action.time", buttons.cell(2, 1, 0, 0, gap), "Change its time", ui::Look::plain, shown.may_note)) {
            edited_ = line.kind;
            edit_time(ui, stop ? Edit::stop : Edit::action, line.at, shown);
        }
        if (!stop && ui::button(ui, "action.undo", buttons.cell(2, 1, 1, 0, gap), "Not done after all", ui::Look::plain, shown.may_note)) {
            open_.reset();
            note(EventKind::withdrawn, facts::Numbers{records_of(shown.log, EventKind::action_done, line.kind)});
        }
    }
    box.cut_top(inner.y - from);
    return box.y - top;
}

float ReactionView::actions(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y;
    const Session& s = shown.log.session();
    const ReactionRules& rules = s.protocol->reaction;
    heading(ui, box, "reaction.actions", "What to do, in the order of these rules; tick in any order");
    for (const ActionLine& line : action_list(rules, s.actions))
        box.cut_top(action(ui, box, shown, line), 0);
    box.cut_top(ui::paragraph(ui, "reaction.order_from", box, joined({"This order: ", basis_text(*s.protocol, rules.order_basis), "."}),
                              Face::small, true),
                ui.px(8));
    return box.y - top;
}

// --- what the call needs --------------------------------------------------------------------------------

float ReactionView::call(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(6);
    const Session& s = shown.log.session();
    const ReactionRules& rules = s.protocol->reaction;
    const ReactionReport report = reaction_report_of(s, shown.live);
    heading(ui, box, "reaction.call", "For the call");
    const auto fact = [&](std::string_view id, const std::string& text) {
        box.cut_top(ui::paragraph(ui, id, box, text), gap);
    };
    if (report.started)
        fact("call.minutes", joined({"Stopped ", minutes_left_text(report.stopped - *report.started), " after the start (",
                                     minute_text(*report.started, shown.day), ")."}));
    fact("call.given", joined({"Given until then: ", report.given ? volume_text(*report.given) : std::string(not_recorded_text),
                               report.bag ? " of " : "", report.bag ? volume_text(*report.bag) : std::string(), "."}));
    fact("call.bag", joined({report.component ? name(*report.component) : not_recorded_text, "; the donation number ends in ",
                             report.bag_digits.empty() ? std::string_view(not_recorded_text) : std::string_view(report.bag_digits), "."}));
    const Change worst = worst_of_all(s);
    const ObservedSet* baseline = baseline_set(s);
    const ObservedSet* last = s.sets.empty() ? nullptr : &s.sets.back();
    if (last && baseline && last->number != baseline->number && !worst.prompts.empty()) {
        fact("call.changed", "Signs that changed:");
        int n = 0;
        const auto change = change_of(s, *last);
        for (const Prompt& p : worst.prompts) {
            const bool now = change && change->find(p.code);
            const Prompt& shows = now ? *change->find(p.code) : p;
            std::string text = joined({name(p.code), ": "});
            // Figures are those of the last set; what was only there before is named with those that it had.
            text += now ? prompt_text(shows, baseline->set, last->set)
                        : p.figures[1].kind != FigureKind::none || p.symptoms.bits != 0 || p.overload.bits != 0
                            ? joined({prompt_text(p, baseline->set, last->set), " In an earlier set."})
                            : std::string("in an earlier set.");
            box.cut_top(ui::caution(ui, ui.id("call.changed.", n++), box, "", text), gap);
        }
    } else {
        fact("call.changed", s.sets.empty() || !baseline || last->number == baseline->number
                                 ? "No set of observations since the start: none of it is known."
                                 : "No rule is met in the sets that were taken. That rules nothing out.");
    }
    const std::string missing = missing_text(worst);
    if (!missing.empty())
        fact("call.missing", joined({"Not compared in any set: ", missing, "."}));

    std::optional<Instant> seen;
    for (const ObservedSet& set : s.sets)
        if (set.when.at >= *s.reaction)
            seen = set.when.at;
    const Instant due = next_observations(rules, *s.reaction, seen);
    fact("reaction.next", joined({"Next observations: ", due <= shown.now ? std::string("now") : minute_text(due, shown.day), ", then every ",
                                  span_text(rules.observe_every.value), " (", basis_text(*s.protocol, rules.observe_every.basis), ")."}));

    const CaseQuestions questions = questions_for(worst);
    if (!questions.empty()) {
        box.cut_top(ui.px(6));
        heading(ui, box, "reaction.questions", "The published case definitions would ask next");
        int n = 0;
        for (const CaseQuestion q : questions)
            box.cut_top(ui::paragraph(ui, ui.id("question.", n++), box, sentence(q)), gap);
    }
    return box.y - top;
}

// --- whether it may go on -------------------------------------------------------------------------------

std::optional<Rate> ReactionView::rate() const {
    const auto n = rate_.number();
    if (!n || *n <= 0)
        return std::nullopt;
    return tenths_of_ml_per_h(*n);
}

std::string ReactionView::rate_problem(const Shown& shown) const {
    const auto r = rate();
    if (!r)
        return {};
    const Session& s = shown.log.session();
    const Device& device = s.state.device;
    const Ceiling& ceiling = shown.live.reckoning.rates.ceiling;
    if (device.kind == DeviceKind::pump && r->units_per_s % device.step.units_per_s != 0)
        return joined({"The device has steps of ", rate_text(device.step), "."});
    if (device.kind == DeviceKind::pump && *r > device.most)
        return joined({"The device does ", rate_text(device.most), " at most."});
    if (ceiling.kind != CeilingKind::none && compare_ratio(exactly(*r), ceiling.rate) > 0)
        return joined({"The highest rate is ", ratio_text(ceiling.rate, Rounding::down), " (", name(ceiling.kind), ")."});
    return {};
}

float ReactionView::going_on(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const Reckoning& r = shown.live.reckoning;
    heading(ui, box, "restart.who", "On whose word?");
    Box row = box.cut_top(ui.px(ui::row_px), gap);
    int column = 0;
    for (const Role role : clinicians) {
        if (ui::choice(ui, ui.id("restart.role.", column), row.cell(2, 1, column, 0, gap), name(role), role_ == role))
            role_ = role;
        ++column;
    }
    ui::Entry e;
    const bool open = edit_ == Edit::rate;
    const std::string problem = rate_problem(shown);
    e.label = "Rate";
    e.value = rate_.text;
    e.unit = "mL/h";
    e.empty = "to be entered";
    e.editing = open;
    e.wanted = rate_.text.empty() && !open;
    e.refused = !problem.empty();
    if (ui::entry(ui, "restart.rate", box.cut_top(ui::entry_height(ui), gap), e)) {
        edit_ = open ? Edit::nothing : Edit::rate;
        rate_before_ = rate_.text;
        rate_.start(ui::Digits::Kind::number, 4, 1, rate_before_);
        ui.change_screen(false);
        if (!open)
            ui.reveal("key.done");
    }
    if (!problem.empty())
        box.cut_top(ui::caution(ui, "restart.rate.problem", box, "Not taken", problem), gap);
    std::string limits;
    if (r.finish_by)
        limits = joined({"All in by ", clock_text(*r.finish_by, shown.day), " still: stopping stopped no clock. "});
    if (r.rates.floor)
        limits += joined({"That takes at least ", ratio_text(*r.rates.floor, Rounding::up), ". "});
    if (r.rates.ceiling.kind != CeilingKind::none)
        limits += joined({"The highest rate is ", ratio_text(r.rates.ceiling.rate, Rounding::down), " (", name(r.rates.ceiling.kind), ")."});
    if (!limits.empty())
        box.cut_top(ui::paragraph(ui, "restart.limits", box, limits, Face::small, true), gap);
    if (edit_ == Edit::rate) {
        Box keys = box.cut_top(ui::keypad_height(ui), gap);
        keys.w = std::min(keys.w, ui.px(460));
        switch (ui::keypad(ui, keys, rate_, "Done")) {
        case Typed::done:
            if (problem.empty()) {
                edit_ = Edit::nothing;
                ui.change_screen(false);
            }
            break;
        case Typed::cancelled:
            rate_.start(ui::Digits::Kind::number, 4, 1, rate_before_);
            edit_ = Edit::nothing;
            ui.change_screen(false);
            break;
        case Typed::nothing:
        case Typed::changed:
        case Typed::now:
            break;
        }
    }
    const bool ready = shown.may_note && role_ && rate() && problem.empty() && agrees_ == true && edit_ != Edit::rate;
    if (ui::button(ui, "restart.go", box.cut_top(ui.px(56), gap), "Note that it goes on, on their word", ui::Look::plain, ready)) {
        note(EventKind::restarted, facts::Restarted{*rate(), *role_, *agrees_});
        agrees_.reset();
        role_.reset();
        rate_ = {};
    }
    return box.y - top;
}

float ReactionView::restart(Ui& ui, Box box, const Shown& shown) {
    const Session& s = shown.log.session();
    if (!has_started(s) || s.state.run.ended || !s.state.run.paused())
        return 0;
    const float top = box.y, gap = ui.px(ui::gap_px);
    heading(ui, box, "reaction.restart", "Whether it may go on");
    const ReactionRules& rules = s.protocol->reaction;
    const RestartAnswer answer = restart_of(rules, worst_since(s, *s.reaction), agrees_, *s.reaction, shown.now,
                                            shown.live.reckoning.finish_by);
    box.cut_top(ui::paragraph(ui, "restart.answer", box, sentence(answer.may)), gap);
    int n = 0;
    for (const RestartBar bar : answer.bars)
        box.cut_top(ui::caution(ui, ui.id("restart.bar.", n++), box, "", sentence(bar)), ui.px(6));
    if (answer.may != Restart::no || agrees_ == false) {
        heading(ui, box, "restart.identity", "Person, band, label and bag, read again at the bedside");
        const Box row = box.cut_top(ui.px(ui::row_px), gap);
        if (ui::choice(ui, "restart.agrees", row.cell(2, 1, 0, 0, gap), "All agree", agrees_ == true))
            agrees_ = true;
        if (ui::choice(ui, "restart.differs", row.cell(2, 1, 1, 0, gap), "Something differs", agrees_ == false))
            agrees_ = false;
    }
    if (answer.may == Restart::on_a_clinicians_word) {
        if (shown.now < answer.not_before)
            box.cut_top(ui::caution(ui, "restart.wait", box, "Not before",
                                    joined({clock_text(answer.not_before, shown.day), " (", basis_text(*s.protocol, answer.basis), ").",
                                            " No sign may get worse until then."})),
                        gap);
        else
            box.cut_top(going_on(ui, box, shown), 0);
    }
    if (ui::button(ui, "reaction.stop_for_good", box.cut_top(ui.px(ui::row_px), gap), "Stop it for good", ui::Look::plain, shown.may_note))
        note(EventKind::stopped, facts::Stopped{StopReason::reaction});
    return box.y - top;
}

float ReactionView::papers(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const Session& s = shown.log.session();
    const ReactionRules& rules = s.protocol->reaction;
    heading(ui, box, "reaction.papers", "On paper");
    const Box row = box.cut_top(ui.px(ui::row_px), gap);
    if (ui::button(ui, "reaction.report", row.cell(2, 1, 0, 0, gap), "Print the report"))
        wish_ = Wish{Wish::Kind::print_report, {}, {}, {}, {}};
    if (ui::button(ui, "reaction.slip", row.cell(2, 1, 1, 0, gap), "Print the slip", ui::Look::plain, true, "Print the slip about late symptoms"))
        wish_ = Wish{Wish::Kind::print_slip, {}, {}, {}, {}};
    std::string keep = "The report says nothing of who it is: the ward's own form adds that.";
    if (s.state.run.ended)
        keep += joined({" Keep the bag until ", clock_text(keep_bag_until(rules, *s.state.run.ended), shown.day), " (",
                        basis_text(*s.protocol, rules.keep_bag.basis), "), or longer where the blood bank asks for it."});
    box.cut_top(ui::paragraph(ui, "reaction.keep", box, keep, Face::small, true), gap);
    return box.y - top;
}

float ReactionView::build(Ui& ui, Box box, const Shown& shown) {
    const Session& s = shown.log.session();
    const float top = box.y, gap = ui.px(14);
    if (editing())
        ui.set_editing(true);
    if (!s.reaction) {
        box.cut_top(suspect(ui, box, shown), gap);
        return box.y - top;
    }
    const std::string title = joined({"Stopped at ", minute_text(*s.reaction, shown.day)});
    const std::string_view detail = "Stop first, and clamp at the patient. For trouble with airway, breathing or circulation call "
                                    "emergency help. Your own procedure goes before this list.";
    const float h = ui.line_height(Face::title) + ui.text_height(Face::body, detail, box.w - ui.px(90)) + ui.px(30);
    ui::verdict(ui, "reaction.stopped", box.cut_top(h, gap), ui::Seal::broken, title, detail);
    if (box.w >= ui.px(860)) {
        Box left = box, right = box;
        left.w = std::floor(box.w * 0.54f);
        right.cut_left(left.w + ui.px(24));
        const float from = box.y;
        left.cut_top(actions(ui, left, shown), gap);
        right.cut_top(call(ui, right, shown), gap);
        right.cut_top(restart(ui, right, shown), gap);
        right.cut_top(papers(ui, right, shown), gap);
        box.cut_top(std::max(left.y, right.y) - from);
    } else {
        box.cut_top(actions(ui, box, shown), gap);
        box.cut_top(call(ui, box, shown), gap);
        box.cut_top(restart(ui, box, shown), gap);
        box.cut_top(papers(ui, box, shown), gap);
    }
    box.cut_top(ui::paragraph(ui, "reaction.any_symptom", box, any_symptom_sentence(), Face::small, true), gap);
    return box.y - top;
}

} // namespace hangtime::screens
