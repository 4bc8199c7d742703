#include "web/screens/signs_view.hpp"

#include "core/observe/news2.hpp"
#include "core/report/observe_sheet.hpp"
#include "core/report/session_report.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/trend.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <vector>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr Sign pictured[] = {Sign::temperature, Sign::pulse,        Sign::systolic,  Sign::diastolic,
                             Sign::respirations, Sign::saturation, Sign::mean_pressure};

// What the height of a small picture stands for at least, in what `number_in` counts.
double least_span(Sign sign) {
    switch (sign) {
    case Sign::temperature: return 90 * 2; // 2 degrees C
    case Sign::saturation: return 8;
    case Sign::respirations: return 10;
    default: return 30;
    }
}

// In a unit in which C and F lie on one scale.
double number_in(const Observation& set, Sign sign) {
    if (sign == Sign::temperature)
        return set.temperature->ninetieths();
    return static_cast<double>(figure_of(set, sign).a);
}

Instant zero_of(const Session& s) {
    if (s.state.times.start && s.state.times.start->happened)
        return s.state.times.start->when.at;
    return s.sets.empty() ? s.opened : s.sets.front().when.at;
}

std::string when_text(const Session& s, const ObservedSet& set, const DayClock& day) {
    std::string out = minute_text(set.when.at, day);
    if (s.state.times.start && s.state.times.start->happened && set.when.at >= zero_of(s))
        out += joined({", ", elapsed_text(set.when.at - zero_of(s)), " from the start"});
    return out;
}

const ObservedSet* last_compared(const Session& s) {
    const ObservedSet* baseline = baseline_set(s);
    for (std::size_t i = s.sets.size(); i-- > 0;)
        if (!baseline || s.sets[i].number != baseline->number)
            return &s.sets[i];
    return nullptr;
}

std::string summary(const Observation& set) {
    std::string out;
    const auto add = [&](const std::string& text) {
        out.append(out.empty() ? "" : ", ").append(text);
    };
    if (set.temperature)
        add(value_text(set, Sign::temperature));
    if (set.pulse_per_min)
        add("pulse " + value_text(set, Sign::pulse));
    if (set.systolic_mmhg || set.diastolic_mmhg) {
        const auto one = [](const std::optional<std::int16_t>& v) {
            return v ? dose_number(*v, 1, 0) : std::string("not recorded");
        };
        add(joined({"pressure ", one(set.systolic_mmhg), "/", one(set.diastolic_mmhg), " mmHg"}));
    }
    if (set.respirations_per_min)
        add("breaths " + value_text(set, Sign::respirations));
    if (set.saturation_percent)
        add("saturation " + value_text(set, Sign::saturation));
    for (const Sign sign : {Sign::oxygen, Sign::consciousness, Sign::lungs, Sign::site, Sign::urine, Sign::symptoms})
        if (set.has(sign))
            add(joined({sign == Sign::site       ? "site "
                        : sign == Sign::lungs    ? "lungs "
                        : sign == Sign::urine    ? "urine "
                        : sign == Sign::symptoms ? "symptoms "
                                                 : "",
                        value_text(set, sign)}));
    return out.empty() ? "Nothing of it is recorded here." : out;
}

float folded_text(Ui& ui, Box box, std::string_view id, const std::string& text, bool quiet = true) {
    return ui::paragraph(ui, id, box, text, Face::small, quiet);
}

} // namespace

std::string basis_text(const Protocol& protocol, const Basis& basis) {
    const std::string_view grade = name(basis.grade);
    if (basis.source >= protocol.sources.size())
        return std::string(grade);
    const Source& source = protocol.sources[basis.source];
    return joined({grade, ": ", source.title, source.year.empty() ? "" : " (", source.year, source.year.empty() ? "" : ")"});
}

float prompt_lines(Ui& ui, Box box, std::string_view id, const ChangeRules& by, const Prompt& prompt,
                   const Observation& baseline, const Observation& now) {
    const float top = box.y;
    box.cut_top(ui::caution(ui, id, box, joined({name(prompt.severity), ": ", name(prompt.code)}),
                            prompt_text(prompt, baseline, now)),
                ui.px(3));
    const RuleSet& rules = *by.rules();
    const std::string rule = rule_text_of(by.protocol->observations, rules, prompt);
    std::string from = rule.empty() ? std::string() : joined({"Rule: ", rule, ", "});
    from += joined({"\"", rules.title, "\", ", basis_text(*by.protocol, prompt.basis), "."});
    Box in = box;
    in.cut_left(ui.px(14));
    box.cut_top(folded_text(ui, in, ui.keep(joined({id, ".rule"})), from), 0);
    return box.y - top;
}

std::string fit_text(const Live& live, const DayClock& day) {
    const Reckoning& r = live.reckoning;
    if (!r.planned || r.ended)
        return {};
    const Judgement& j = r.judgement;
    std::string out = joined({name(j.verdict), "."});
    if (r.finish_by)
        out += joined({" All in expected at ", clock_text(r.all_in, day), ", limit ", clock_text(*r.finish_by, day), "."});
    if (j.verdict == Verdict::does_not_fit) {
        if (j.can_give > Volume{})
            out += joined({" Until the limit ", volume_text(j.can_give, Rounding::down), " can be given; ",
                           volume_text(j.would_be_left, Rounding::up), " would be left."});
        for (const Advised& a : j.advice)
            out += joined({" ", advice_text(a.code, a.figures, day)});
    }
    return out;
}

std::optional<SignsView::Wish> SignsView::take_wish() {
    auto out = std::move(wish_);
    wish_.reset();
    return out;
}

// What the last set shows, first; and what goes with it whether or not it shows anything.
float SignsView::hold(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(10);
    const Session& s = shown.log.session();
    if (!rules_now(s).rules()) {
        box.cut_top(ui::caution(ui, "signs.no_rules", box, "Caution",
                                joined({"These rules say nothing about a change from the baseline. ", any_symptom_sentence()})),
                    gap);
        return box.y - top;
    }
    const ObservedSet* baseline = baseline_set(s);
    const ObservedSet* last = last_compared(s);
    const Observation none;
    bool stops = false;
    int n = 0;
    std::string title;
    if (!baseline) {
        box.cut_top(ui::caution(ui, "signs.no_baseline", box, "Caution",
                                "There is no baseline: nothing can be compared. What is not known is not taken for normal."),
                    gap);
    }
    const auto change = last ? change_of(s, *last) : std::nullopt;
    const bool started = s.state.times.start && s.state.times.start->happened;
    // Where other rules were chosen since, what stands open is looked at by both.
    const bool otherwise = last && judged_otherwise(s, *last);
    const auto anew = otherwise ? change_by(s, *last, rules_now(s)) : std::nullopt;
    struct Before {
        const ChangeRules& by;
        Prompt prompt;
    };
    std::vector<Before> before;
    if (baseline && !started) {
        const auto take = [&](const ChangeRules& by) {
            if (!by.rules())
                return;
            for (const Prompt& p : baseline_of(by.protocol->observations, *by.rules(), person_of(s), baseline->set))
                if (std::none_of(before.begin(), before.end(), [&](const Before& b) { return b.prompt.code == p.code && b.prompt.sign == p.sign; }))
                    before.push_back({by, p});
        };
        take(rules_of(s, *baseline));
        if (judged_otherwise(s, *baseline))
            take(rules_now(s));
    }
    if (last)
        stops = asks_to_hold(s, *last);
    for (const Before& b : before)
        stops = stops || b.prompt.severity == Severity::stop;
    if (stops) {
        const std::string detail = started ? "See what changed, below. Any new symptom is enough to stop."
                                           : "The baseline is not as usual: ask before the start.";
        const float h = std::max(ui.px(64), ui.line_height(Face::title) +
                                                ui.text_height(Face::body, detail, box.w - ui.px(90)) + ui.px(30));
        ui::verdict(ui, "signs.hold", box.cut_top(h, gap), ui::Seal::broken, "Hold, and ask", detail);
        const bool may = shown.may_note && started && !s.state.run.ended && !s.reaction;
        offers_to_stop_ = may;
        if (may && ui::button(ui, "signs.suspect", box.cut_top(ui.px(56), gap), "Suspect a reaction: stop now", ui::Look::primary))
            wish_ = Wish{EventKind::reaction_suspected, std::monostate{}};
    }
    for (const Before& b : before)
        box.cut_top(prompt_lines(ui, box, ui.id("signs.before.", n++), b.by, b.prompt, none, baseline->set), gap);
    if (change && started) {
        ui::subheading(ui, "signs.last", box.cut_top(ui.line_height(Face::small), ui.px(6)),
                       ui.keep(joined({"Last set, ", when_text(s, *last, shown.day)})));
        n = 0;
        for (const Prompt& p : change->prompts)
            box.cut_top(prompt_lines(ui, box, ui.id("signs.prompt.", n++), rules_of(s, *last), p, baseline->set, last->set), gap);
        if (anew) {
            bool said = false;
            for (const Prompt& p : anew->prompts) {
                if (change->find(p.code))
                    continue;
                if (!said)
                    ui::subheading(ui, "signs.anew", box.cut_top(ui.line_height(Face::small), ui.px(6)),
                                   "The same set by the rules that were chosen since");
                said = true;
                box.cut_top(prompt_lines(ui, box, ui.id("signs.anew.", n++), rules_now(s), p, baseline->set, last->set), gap);
            }
        }
        const std::string missing = missing_text(*change);
        if (!missing.empty())
            box.cut_top(ui::caution(ui, "signs.missing", box, "Not compared", joined({missing, "."})), gap);
    }
    box.cut_top(ui::paragraph(ui, "signs.any_symptom", box, any_symptom_sentence()), gap);
    return box.y - top;
}

// Which of the named sets is in force, since when, and where its limits are from; the others are a touch away.
float SignsView::rules(Ui& ui, Box box, const Shown& shown) {
    const Session& s = shown.log.session();
    const ChangeRules& now = rules_now(s);
    if (!now.rules())
        return 0;
    const float top = box.y, gap = ui.px(6);
    const std::size_t count = now.protocol->observations.rule_sets.size();
    ui::Entry entry;
    entry.label = "Rules for a change";
    entry.value = now.rules()->title;
    entry.typed = false;
    if (ui::entry(ui, "signs.rules", box.cut_top(ui::entry_height(ui), gap), entry) && shown.may_note && count > 1)
        wish_ = Wish{EventKind::rule_set_chosen, std::monostate{}};
    box.cut_top(folded_text(ui, box, "signs.rules.from",
                            joined({now.chosen ? joined({"Chosen at ", minute_text(now.from, shown.day)})
                                               : std::string("The first set of these rules"),
                                    ". Limits from: ", rule_set_sources(*now.protocol, *now.rules()), "."})),
                0);
    return box.y - top;
}

// Slowing down is an action of its own, and what follows from it is said at once.
float SignsView::slow(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(10);
    const Session& s = shown.log.session();
    const bool runs = s.state.times.start && s.state.times.start->happened && !s.state.run.ended;
    if (s.state.slowed_to) {
        box.cut_top(ui::caution(ui, "signs.slowed", box, "Slowed down",
                                joined({"the rest runs at ", rate_text(*s.state.slowed_to), " at most. ",
                                        fit_text(shown.live, shown.day)})),
                    gap);
    }
    const ObservedSet* last = last_compared(s);
    const auto change = last ? change_of(s, *last) : std::nullopt;
    const bool signs = change && (change->find(PromptCode::overload_signs) || change->find(PromptCode::breathing_worse));
    if (!runs || !signs || s.reaction || s.state.run.paused())
        return box.y - top;
    const Rate running = s.state.run.rate_in_force();
    const Rate slower = slowed_rate(s.protocol->reaction, running, s.state.device.step);
    if (slower <= Rate{}) {
        box.cut_top(ui::caution(ui, "signs.no_slower", box, "Caution", "There is no slower rate on this device. Stop and ask."),
                    gap);
        return box.y - top;
    }
    if (s.state.slowed_to && running <= *s.state.slowed_to && last->when.at <= shown.live.reckoning.now &&
        !s.state.run.flows.empty() && s.state.run.flows.back().from >= last->when.at)
        return box.y - top; // these signs have been answered
    const std::string_view what = change->find(PromptCode::overload_signs) ? "Signs of overload" : "Breathing is worse";
    box.cut_top(ui::caution(ui, "signs.overload", box, what,
                            joined({"this is a prompt, not a diagnosis. Ask now; slowing down is an action of its own (",
                                    dose_number(s.protocol->reaction.slow_to_percent.value, 1, 0), " % of the rate that runs, ",
                                    basis_text(*s.protocol, s.protocol->reaction.slow_to_percent.basis), ")."})),
                gap);
    if (ui::button(ui, "signs.slow", box.cut_top(ui.px(56), gap),
                   ui.keep(joined({"Slow down: ", rate_text(slower), " at most for the rest"})), ui::Look::plain, shown.may_note))
        wish_ = Wish{EventKind::ceiling_lowered, facts::CeilingLowered{slower}};
    return box.y - top;
}

float SignsView::picture(Ui& ui, Box box, const Shown& shown) {
    const Session& s = shown.log.session();
    if (s.sets.empty())
        return 0;
    const float top = box.y;
    const ObservedSet* baseline = baseline_set(s);
    const ObservedSet* last = last_compared(s);
    const auto change = last ? change_of(s, *last) : std::nullopt;
    ui::subheading(ui, "signs.trend", box.cut_top(ui.line_height(Face::small), ui.px(6)),
                   "Each sign from the start on, against its baseline (dashed); a line where the rate changed");

    constexpr std::size_t most = sizeof pictured / sizeof *pictured;
    std::array<std::vector<ui::TrendPoint>, most> points;
    std::array<std::string, most> first, latest;
    std::vector<ui::TrendSign> signs;
    for (std::size_t i = 0; i < most; ++i) {
        const Sign sign = pictured[i];
        bool any = baseline && baseline->set.has(sign);
        bool joined_on = true;
        for (const ObservedSet& set : s.sets) {
            if (baseline && set.number == baseline->number)
                continue;
            if (set.set.has(sign)) {
                points[i].push_back({set.when.at.utc, number_in(set.set, sign), joined_on});
                any = joined_on = true;
            } else {
                joined_on = false;
            }
        }
        if (sign == Sign::mean_pressure && !any)
            continue;
        first[i] = baseline ? value_text(baseline->set, sign) : std::string(not_recorded_text);
        latest[i] = last ? value_text(last->set, sign) : first[i];
        ui::TrendSign t;
        t.id = ui.keep(joined({"trend.", code(sign)}));
        t.name = name(sign);
        t.baseline_text = first[i];
        t.last_text = latest[i];
        t.points = points[i];
        t.has_baseline = baseline && baseline->set.has(sign);
        t.baseline = t.has_baseline ? number_in(baseline->set, sign) : 0;
        t.least_span = least_span(sign);
        if (change)
            for (const Prompt& p : change->prompts)
                t.prompt = t.prompt || (p.sign == sign && p.figures[1].kind != FigureKind::none);
        signs.push_back(t);
    }
    std::vector<std::int64_t> changes;
    for (const Flow& flow : s.state.run.flows)
        if (changes.empty() || flow.from.utc > changes.back())
            changes.push_back(flow.from.utc);
    ui::Trend t;
    t.from = zero_of(s).utc;
    t.to = std::max({shown.live.reckoning.now.utc, s.sets.back().when.at.utc, t.from + 3600});
    t.signs = signs;
    t.rate_changes = changes;
    t.stopped = s.reaction.has_value();
    if (s.reaction)
        t.stopped_at = s.reaction->utc;
    const int rows = ui::trend_rows(ui, box.w, static_cast<int>(signs.size()));
    ui::trend(ui, box.cut_top(static_cast<float>(rows) * ui.px(112) + static_cast<float>(rows - 1) * ui.px(8)), t);
    return box.y - top;
}

// Every set, the newest first, each with what changed in it and its score.
float SignsView::sets(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(6);
    const Session& s = shown.log.session();
    const ObservedSet* baseline = baseline_set(s);
    const Person person = person_of(s);
    if (s.sets.empty()) {
        box.cut_top(ui::paragraph(ui, "signs.none", box, "No observations are noted yet.", Face::title), gap);
        return box.y - top;
    }
    int n = 0;
    for (std::size_t i = s.sets.size(); i-- > 0; ++n) {
        const ObservedSet& set = s.sets[i];
        const bool is_baseline = baseline && set.number == baseline->number;
        box.cut_top(ui.px(8));
        ui::subheading(ui, ui.id("set.", n), box.cut_top(ui.line_height(Face::small), gap),
                       ui.keep(joined({is_baseline ? std::string_view("Baseline")
                                       : set.extra ? std::string_view("Between the checks")
                                                   : name(set.kind),
                                       ", ", when_text(s, set, shown.day)})));
        box.cut_top(ui::paragraph(ui, ui.id("set.", n, ".values"), box, summary(set.set)), gap);
        std::string changed;
        if (const auto change = is_baseline ? std::nullopt : change_of(s, set)) {
            for (const Prompt& p : change->prompts)
                changed += joined({changed.empty() ? "Changed: " : ", ", name(p.code)});
            if (!changed.empty())
                box.cut_top(ui::paragraph(ui, ui.id("set.", n, ".changed"), box, joined({changed, "."})), gap);
            const std::string missing = missing_text(*change);
            if (!missing.empty())
                box.cut_top(folded_text(ui, box, ui.id("set.", n, ".missing"), joined({"Not compared: ", missing, "."})), gap);
        } else if (const ChangeRules& by = rules_of(s, set); is_baseline && by.rules()) {
            for (const Prompt& p : baseline_of(by.protocol->observations, *by.rules(), person, set.set))
                changed += joined({changed.empty() ? "Before the start: " : " ", prompt_text(p, {}, set.set)});
            if (!changed.empty())
                box.cut_top(ui::paragraph(ui, ui.id("set.", n, ".changed"), box, changed), gap);
        }
        if (judged_otherwise(s, set) && rules_of(s, set).rules())
            box.cut_top(folded_text(ui, box, ui.id("set.", n, ".rules"),
                                    joined({"Judged by \"", rules_of(s, set).rules()->title, "\", as it was in force then."})),
                        gap);
        const News2 score = news2(person, set.set);
        std::string said = "Early-warning score (NEWS2): ";
        if (score.given)
            said += joined({score_text(score), "."});
        for (const ScoreLimit limit : score.limits)
            said += joined({" ", sentence(limit)});
        if (score.given)
            said += joined({" ", score_asks_text(score)});
        box.cut_top(folded_text(ui, box, ui.id("set.", n, ".score"), said), gap);
    }
    box.cut_top(folded_text(ui, box, "signs.score", std::string(score_sentence())), gap);
    return box.y - top;
}

float SignsView::build(Ui& ui, Box box, const Shown& shown) {
    const float top = box.y, gap = ui.px(12);
    offers_to_stop_ = false;
    box.cut_top(hold(ui, box, shown), 0);
    box.cut_top(rules(ui, box, shown), gap);
    box.cut_top(slow(ui, box, shown), 0);
    box.cut_top(picture(ui, box, shown), gap);
    box.cut_top(sets(ui, box, shown), gap);
    return box.y - top;
}

} // namespace hangtime::screens
