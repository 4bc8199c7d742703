#include "core/words/observe_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/reaction_parts.hpp"
#include "web/screens/reaction_view.hpp"
#include "web/screens/signs_view.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

/// Whether what was stopped may go on: only what these rules call mild, and only on a clinician's word.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Typed;
using ui::Ui;
using namespace reaction_parts;

namespace {

// Whose word it can be. Common practice, no source: somebody who may prescribe, or the team that is called.
constexpr Role clinicians[] = {Role::prescriber, Role::outreach};

// By gravity whole drops are counted, a pump shows mL/h to a tenth.
void start_rate(ui::Digits& digits, const Device& device, const std::string& text) {
    const bool drops = device.kind == DeviceKind::gravity;
    digits.start(ui::Digits::Kind::number, drops ? 3 : 4, drops ? 0 : 1, text);
}

} // namespace

std::optional<Rate> ReactionView::rate(const Device& device) const {
    const auto n = rate_.number();
    if (!n || *n <= 0)
        return std::nullopt;
    return device.kind == DeviceKind::gravity ? drops_per_min(*n, device.drops) : tenths_of_ml_per_h(*n);
}

std::string ReactionView::rate_problem(const Shown& shown) const {
    const Device& device = shown.log.session().state.device;
    const auto r = rate(device);
    if (!r)
        return {};
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
    const Device& device = shown.log.session().state.device;
    const bool drops = device.kind == DeviceKind::gravity;
    e.unit = drops ? "drops/min" : "mL/h";
    e.empty = "to be entered";
    e.editing = open;
    e.wanted = rate_.text.empty() && !open;
    e.refused = !problem.empty();
    if (ui::entry(ui, "restart.rate", box.cut_top(ui::entry_height(ui), gap), e)) {
        edit_ = open ? Edit::nothing : Edit::rate;
        rate_before_ = rate_.text;
        start_rate(rate_, device, rate_before_);
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
    // What was typed, in the other measure, so that it can be held against the limits.
    if (const auto r_now = rate(device); drops && r_now)
        limits = joined({rate_.text, " drops/min are ", ratio_text(exactly(*r_now)), " at ", drop_factor_text(device.drops), ". ", limits});
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
            start_rate(rate_, device, rate_before_);
            edit_ = Edit::nothing;
            ui.change_screen(false);
            break;
        case Typed::nothing:
        case Typed::changed:
        case Typed::now:
            break;
        }
    }
    const bool ready = shown.may_note && role_ && rate(device) && problem.empty() && edit_ != Edit::rate &&
                       shown.log.session().identity_agrees == true;
    if (ui::button(ui, "restart.go", box.cut_top(ui.px(56), gap), "Note that it goes on, on their word", ui::Look::plain, ready)) {
        note(EventKind::restarted, facts::Restarted{*rate(device), *role_, true});
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
    const RestartAnswer answer = restart_of(rules, worst_since(s, *s.reaction), s.identity_agrees, *s.reaction, shown.now,
                                            shown.live.reckoning.finish_by);
    box.cut_top(ui::paragraph(ui, "restart.answer", box, sentence(answer.may)), gap);
    int n = 0;
    for (const RestartBar bar : answer.bars)
        box.cut_top(ui::caution(ui, ui.id("restart.bar.", n++), box, "", sentence(bar)), ui.px(6));
    // Where these rules do not list the check of identity, it is asked for here: nothing goes on without it.
    if (answer.may != Restart::no && s.identity_agrees != true &&
        std::find(rules.order.begin(), rules.order.end(), ActionKind::identity) == rules.order.end())
        box.cut_top(identity(ui, box, shown), gap);
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

} // namespace hangtime::screens
