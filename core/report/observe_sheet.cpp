#include "core/report/observe_sheet.hpp"

#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/references.hpp"
#include "core/report/trend_picture.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/words.hpp"

namespace hangtime {

namespace {

using sheet::Document;
using sheet::Role;
using sheet::Table;

constexpr std::size_t most_columns = 6;  // sets beside the baseline that fit on paper

std::string symptom_names(Symptoms symptoms) {
    std::string out;
    for (int i = 0; i < symptom_count; ++i) {
        const auto symptom = static_cast<Symptom>(i);
        if (symptoms.has(symptom)) out += joined({out.empty() ? "" : "; ", name(symptom)});
    }
    return out.empty() ? "none found" : out;
}

std::string overload_names(OverloadSigns signs) {
    std::string out;
    for (int i = 0; i < overload_sign_count; ++i) {
        const auto sign = static_cast<OverloadSign>(i);
        if (signs.has(sign)) out += joined({out.empty() ? "" : ", ", name(sign)});
    }
    return out;
}

std::string time_text(Seconds from_start) {
    if (from_start < Seconds{}) return joined({span_text(from_start), " before"});
    return elapsed_text(from_start);
}

void add_prompts(Document& document, const Protocol& protocol, const RuleSet& rules, const Prompts& prompts,
                 const Observation& baseline, const Observation& now, References& references) {
    Table table;
    table.add_column("What");
    table.add_column("Figures");
    table.add_column("Rule");
    table.add_column("Where from");
    for (const Prompt& prompt : prompts) {
        const std::string rule = rule_text_of(protocol.observations, rules, prompt);
        table.add_row({joined({name(prompt.severity), ": ", name(prompt.code)}),
                       prompt_text(prompt, baseline, now), rule, references.cite(prompt.basis)});
    }
    document.table(std::move(table));
}

void add_score(Document& document, const Person& person, const Observation& set) {
    const News2 score = news2(person, set);
    document.fact("Early-warning score (NEWS2)",
                  score.given ? score_text(score) : std::string("not for this person"));
    for (const ScoreLimit limit : score.limits) document.item(sentence(limit));
    const std::string asks = score_asks_text(score);
    if (!asks.empty()) document.item(asks);
}

}  // namespace

std::string value_text(const Observation& set, Sign sign) {
    if (!set.has(sign)) return std::string(not_recorded_text);
    switch (sign) {
        case Sign::oxygen: return *set.on_oxygen ? "oxygen" : "air";
        case Sign::consciousness: return std::string(name(*set.consciousness));
        case Sign::lungs: return std::string(name(*set.lungs));
        case Sign::site: return std::string(name(*set.site));
        case Sign::urine: return std::string(name(*set.urine));
        case Sign::symptoms: return symptom_names(*set.symptoms);
        case Sign::temperature:
        case Sign::pulse:
        case Sign::systolic:
        case Sign::diastolic:
        case Sign::mean_pressure:
        case Sign::respirations:
        case Sign::saturation: break;
    }
    return figure_text(figure_of(set, sign), {});
}

std::string prompt_text(const Prompt& prompt, const Observation& baseline, const Observation& now) {
    if (prompt.code == PromptCode::new_symptom || prompt.code == PromptCode::baseline_symptom)
        return joined({symptom_names(prompt.symptoms), "."});
    if (prompt.overload.bits != 0) return joined({"Seen: ", overload_names(prompt.overload), "."});
    if (prompt.figures[1].kind != FigureKind::none)
        return prompt_sentence(prompt.code, prompt.sign, prompt.figures);
    std::string out = joined({name(prompt.sign), ": ", value_text(now, prompt.sign)});
    if (prompt.code < PromptCode::baseline_symptom)
        out += joined({" now, ", value_text(baseline, prompt.sign), " at baseline"});
    return out + ".";
}

std::string rule_set_text(const RuleSet& rules) { return joined({rules.title, " (", rules.id, ")"}); }

std::string rule_set_sources(const Protocol& protocol, const RuleSet& rules) {
    std::string out;
    std::vector<Basis> told;
    const auto add = [&](const Basis& basis) {
        for (const Basis& before : told)
            if (before == basis) return;
        told.push_back(basis);
        out += joined({out.empty() ? "" : "; ", basis_text(protocol, basis)});
    };
    add(rules.fever.basis);
    add(rules.severe_fever.basis);
    add(rules.adult.basis);
    add(rules.child.basis);
    add(rules.small.basis);
    if (rules.pulse) add(rules.pulse->basis);
    if (rules.saturation_below_percent) add(rules.saturation_below_percent->basis);
    return out;
}

std::string missing_text(const Change& change) {
    std::string out;
    for (const NotCompared& missing : change.missing) {
        const std::string_view side = missing.in_baseline && missing.now ? "both" :
                                      missing.in_baseline                ? "baseline" : "now";
        out += joined({out.empty() ? "" : ", ", name(missing.sign), " (", side, ")"});
    }
    return out;
}

Table trend_table(const TimedSet& baseline, const std::vector<TimedSet>& sets) {
    Table table;
    table.caption = "Each sign against its baseline";
    table.add_column("Sign");
    table.add_column(joined({"Baseline, ", time_text(baseline.from_start)}), Role::number);
    const std::size_t first = sets.size() > most_columns ? sets.size() - most_columns : 0;
    for (std::size_t i = first; i < sets.size(); ++i)
        table.add_column(time_text(sets[i].from_start), Role::number);
    for (int i = 0; i < sign_count; ++i) {
        const Sign sign = static_cast<Sign>(i);
        table.add_row({name(sign), value_text(baseline.set, sign)});
        for (std::size_t k = first; k < sets.size(); ++k) table.add_cell(value_text(sets[k].set, sign));
    }
    return table;
}

std::string score_asks_text(const News2& score) {
    if (!score.given) return {};
    std::string missing;
    for (int i = 0; i < score_part_count; ++i) {
        const auto part = static_cast<ScorePart>(i);
        if (score.of(part) == News2::not_recorded) missing += joined({missing.empty() ? "Missing: " : ", ", name(part)});
    }
    if (missing.empty()) return std::string(sentence(score.band));
    missing += '.';
    return score.band > ScoreBand::low ? joined({missing, " ", sentence(score.band)}) : missing;
}

std::string score_text(const News2& score) {
    std::string parts;
    for (int i = 0; i < score_part_count; ++i) {
        const auto part = static_cast<ScorePart>(i);
        if (score.of(part) <= 0) continue;
        parts += joined({parts.empty() ? "; " : ", ", name(part), " ", dose_number(score.of(part), 1, 0)});
    }
    return joined({score.complete() ? "" : "at least ", dose_number(score.total, 1, 0), parts});
}

bool asks_to_hold(const Protocol& protocol, const RuleSet& rules, const ObserveFile& file) {
    for (const Prompt& prompt : baseline_of(protocol.observations, rules, file.person, file.baseline.set))
        if (prompt.severity == Severity::stop) return true;
    for (const TimedSet& timed : file.sets)
        if (change_from(protocol.observations, rules, file.person, file.baseline.set, timed.set).stops())
            return true;
    return false;
}

Document observe_sheet(const Protocol& protocol, const RuleSet& rules, const ObserveFile& file) {
    Document document;
    document.title = "Observations against the baseline";
    References references(protocol);
    document.headline(asks_to_hold(protocol, rules, file)
                          ? std::string("Hold and ask: see what is listed below.")
                          : std::string(any_symptom_sentence()));
    document.fact("Rules", rules_text(protocol));
    document.fact("Rules for a change", rule_set_text(rules));
    document.fact("Their limits are from", rule_set_sources(protocol, rules));
    document.fact("Age", file.person.age ? name(*file.person.age) : not_recorded_text);
    document.fact("Weight", mass_text(file.person.weight));
    document.picture(trend_picture(file.baseline, file.sets, {}));
    document.table(trend_table(file.baseline, file.sets));

    document.heading("Before the start");
    const Prompts before = baseline_of(protocol.observations, rules, file.person, file.baseline.set);
    add_prompts(document, protocol, rules, before, file.baseline.set, file.baseline.set, references);
    add_score(document, file.person, file.baseline.set);
    for (const TimedSet& timed : file.sets) {
        document.heading(joined({"At ", time_text(timed.from_start)}));
        const Change change =
            change_from(protocol.observations, rules, file.person, file.baseline.set, timed.set);
        add_prompts(document, protocol, rules, change.prompts, file.baseline.set, timed.set, references);
        const std::string missing = missing_text(change);
        if (!missing.empty()) document.fact("Could not be compared", missing);
        add_score(document, file.person, timed.set);
        const CaseQuestions questions = questions_for(change);
        if (!questions.empty()) document.paragraph("The published case definitions would ask next:");
        for (const CaseQuestion question : questions) document.item(sentence(question));
    }
    document.paragraph(joined({any_symptom_sentence(), " ", score_sentence()}));
    references.add_list(document);
    add_rules_and_cautions(document, protocol);
    return document;
}

}  // namespace hangtime
