#include "core/report/observe_sheet.hpp"
#include "core/report/session_report.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/reaction_parts.hpp"
#include "web/screens/reaction_view.hpp"
#include "web/screens/signs_view.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

/// What the call needs: volume, minutes, the signs that changed, and what the case definitions would ask next.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;
using namespace reaction_parts;

namespace {

Change worst_of_all(const Session& s) {
    Change worst;
    bool any = false;
    const ObservedSet* baseline = baseline_set(s);
    for (const ObservedSet& set : s.sets) {
        if (baseline && set.number == baseline->number)
            continue;
        const auto take = [&](const std::optional<Change>& change) {
            if (!change)
                return;
            if (any)
                take_worst(worst, *change);
            else
                worst = *change;
            any = true;
        };
        take(change_of(s, set));
        if (judged_otherwise(s, set))
            take(change_by(s, set, rules_now(s)));
    }
    return worst;
}

} // namespace

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

    const Instant due = *observations_due(s);
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

} // namespace hangtime::screens
