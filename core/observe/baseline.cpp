// A baseline by itself, what the case definitions would ask next, and the rules in words.

#include "core/observe/change.hpp"
#include "core/observe/news2.hpp"
#include "core/words/format.hpp"

namespace hangtime {

namespace {

constexpr Sign sign_of(ScorePart part) {
    switch (part) {
        case ScorePart::respirations: return Sign::respirations;
        case ScorePart::saturation: return Sign::saturation;
        case ScorePart::oxygen: return Sign::oxygen;
        case ScorePart::systolic: return Sign::systolic;
        case ScorePart::pulse: return Sign::pulse;
        case ScorePart::consciousness: return Sign::consciousness;
        case ScorePart::temperature: return Sign::temperature;
    }
    return {};
}

}  // namespace

Prompts baseline_of(const ObserveRules& rules, const RuleSet& set, const Person& person,
                    const Observation& baseline) {
    Prompts out;
    const auto add = [&](PromptCode code, Severity severity, Sign sign, Basis basis) {
        Prompt prompt;
        prompt.code = code;
        prompt.severity = severity;
        prompt.sign = sign;
        prompt.figures[1] = figure_of(baseline, sign);
        prompt.basis = basis;
        out.add(prompt);
    };
    if (baseline.symptoms && baseline.symptoms->bits != 0) {
        add(PromptCode::baseline_symptom, Severity::caution, Sign::symptoms, Basis{});
        out.back().symptoms = *baseline.symptoms;
    }
    const auto& ask = rules.ask_above_tenths_c;
    const bool ask_first =
        ask && baseline.temperature &&
        baseline.temperature->ninetieths() > tenths_c(ask->value).ninetieths();
    if (ask_first) {
        add(PromptCode::baseline_fever, Severity::stop, Sign::temperature, ask->basis);
        out.back().figures[2] = Figure(FigureKind::tenths_c, ask->value);
    }
    const News2 score = news2(person, baseline);
    for (int i = 0; i < score_part_count; ++i) {
        const auto part = static_cast<ScorePart>(i);
        const Sign sign = sign_of(part);
        if (score.given && score.of(part) > 0)
            add(PromptCode::baseline_out_of_range,
                score.of(part) > 1 ? Severity::caution : Severity::note, sign, Basis{});
    }
    // Without the score's bands, what would meet the rule set's own limits by itself.
    const FeverRule& fever = set.fever;
    if (!score.given && !ask_first && baseline.temperature && fever.at_least_tenths_c &&
        baseline.temperature->ninetieths() >= tenths_c(*fever.at_least_tenths_c).ninetieths())
        add(PromptCode::baseline_out_of_range, Severity::caution, Sign::temperature, fever.basis);
    if (!score.given && baseline.saturation_percent && set.saturation_below_percent &&
        *baseline.saturation_percent < set.saturation_below_percent->value)
        add(PromptCode::baseline_out_of_range, Severity::caution, Sign::saturation,
            set.saturation_below_percent->basis);
    if (!score.given && baseline.consciousness && *baseline.consciousness != Consciousness::alert)
        add(PromptCode::baseline_out_of_range, Severity::caution, Sign::consciousness, Basis{});
    return out;
}

CaseQuestions questions_for(const Change& change) {
    CaseQuestions out;
    const auto ask = [&out](std::initializer_list<CaseQuestion> questions) {
        for (const CaseQuestion q : questions) {
            bool there = false;
            for (const CaseQuestion earlier : out) there = there || earlier == q;
            if (!there) out.add(q);
        }
    };
    if (change.prompts.empty()) return out;
    ask({CaseQuestion::bag_and_label, CaseQuestion::onset_minutes});
    if (change.find(PromptCode::breathing_worse) || change.find(PromptCode::saturation_low))
        ask({CaseQuestion::chest_findings, CaseQuestion::fluid_balance, CaseQuestion::heart_marker,
             CaseQuestion::heart_or_kidney, CaseQuestion::both_lungs_image, CaseQuestion::steady_before,
             CaseQuestion::other_lung_cause});
    const bool fever = change.find(PromptCode::fever) || change.find(PromptCode::severe_fever);
    if (fever)
        ask({CaseQuestion::bag_looks, CaseQuestion::cultures, CaseQuestion::urine_colour,
             CaseQuestion::other_fever_cause});
    if (change.find(PromptCode::pressure_fall))
        ask({CaseQuestion::settled_after_stop, CaseQuestion::bag_looks, CaseQuestion::urine_colour});
    if (change.find(PromptCode::urine_changed)) ask({CaseQuestion::urine_colour});
    if (change.find(PromptCode::new_symptom))
        ask({CaseQuestion::airway_or_pressure, CaseQuestion::urine_colour});
    return out;
}

std::string rule_text_of(const ObserveRules& rules, const RuleSet& set, const Prompt& prompt) {
    switch (prompt.code) {
        case PromptCode::fever: return rule_text(set.fever);
        case PromptCode::severe_fever: return rule_text(set.severe_fever);
        case PromptCode::pressure_fall:
            switch (prompt.pressure) {
                case PressureFor::adult: return rule_text(set.adult);
                case PressureFor::child: return rule_text(set.child);
                case PressureFor::small: return rule_text(set.small);
            }
            return {};
        case PromptCode::pulse_rise: return set.pulse ? rule_text(*set.pulse) : std::string();
        case PromptCode::saturation_low:
            return joined({"below ", figure_text(prompt.figures[2], {}), " on air"});
        case PromptCode::breathing_worse:
            return joined({"respirations up by ",
                           figure_text(Figure(FigureKind::per_min, rules.breathing.respirations_rise), {}),
                           " or saturation down by ",
                           figure_text(Figure(FigureKind::percent, rules.breathing.saturation_fall), {}),
                           ", oxygen newly needed, crackles or a symptom of breathing"});
        case PromptCode::overload_signs:
            return joined({"breathing that is worse, with systolic up by ",
                           figure_text(Figure(FigureKind::mmhg, rules.pressure_rise.systolic_mmhg), {}),
                           ", a pulse pressure wider by ",
                           figure_text(Figure(FigureKind::mmhg, rules.pressure_rise.widened_mmhg), {}),
                           " or raised neck veins"});
        case PromptCode::new_symptom: return "any new symptom";
        case PromptCode::consciousness_worse:
        case PromptCode::lung_sounds_new:
        case PromptCode::site_worse:
        case PromptCode::urine_changed: return "any new sign";
        case PromptCode::baseline_symptom: return "any symptom before the start";
        case PromptCode::baseline_fever: return joined({"above ", figure_text(prompt.figures[2], {})});
        case PromptCode::baseline_out_of_range:
            return prompt.basis.source == Basis::no_source ? "out of the middle band of the early-warning score"
                                                           : "would meet a limit of these rules by itself";
    }
    return {};
}

}  // namespace hangtime
