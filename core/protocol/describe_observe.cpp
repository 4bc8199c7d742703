#include "core/protocol/observe_reader.hpp"
#include "core/words/format.hpp"
#include "core/words/observe_words.hpp"

namespace hangtime {

namespace {

std::string degrees(std::int32_t tenths) { return figure_text(Figure(FigureKind::tenths_c, tenths), {}); }
std::string mmhg(std::int32_t n) { return figure_text(Figure(FigureKind::mmhg, n), {}); }
std::string percent(std::int32_t n) { return percent_text(n * 10); }
std::string per_min(std::int32_t n) { return figure_text(Figure(FigureKind::per_min, n), {}); }

std::string_view than(bool more) { return more ? "more than " : "at least "; }

}  // namespace

std::string rule_text(const FeverRule& rule) {
    std::string out;
    if (rule.at_least_tenths_c) out = joined({"at least ", degrees(*rule.at_least_tenths_c)});
    if (!rule.rise_tenths_c) return out;
    if (!out.empty()) out += rule.join == Join::both ? " and " : " or ";
    out += joined({"up by ", than(rule.rise_more_than), degrees(*rule.rise_tenths_c)});
    if (rule.rise_from_tenths_c) out += joined({" from ", degrees(*rule.rise_from_tenths_c), " or more"});
    return out;
}

std::string rule_text(const PressureRule& rule) {
    std::string out = joined({name(rule.measures), " down by "});
    if (rule.fall_mmhg) out += joined({than(rule.fall_more_than), mmhg(*rule.fall_mmhg)});
    if (rule.fall_more_than_percent) out += joined({than(true), percent(*rule.fall_more_than_percent)});
    if (rule.and_systolic_at_most_mmhg)
        out += joined({" and at most ", mmhg(*rule.and_systolic_at_most_mmhg)});
    return out;
}

std::string rule_text(const PulseRule& rule) {
    std::string out = "up by ";
    if (rule.rise_more_than_percent) out += joined({than(true), percent(*rule.rise_more_than_percent)});
    if (rule.rise_more_than_percent && rule.rise_more_than_per_min) out += " or ";
    if (rule.rise_more_than_per_min) out += joined({than(true), per_min(*rule.rise_more_than_per_min)});
    return out;
}

namespace protocol_reader {

void describe_observe(const Protocol& p, std::vector<Rule>& rules) {
    const auto add = [&rules](std::string path, std::string text, Basis basis) {
        rules.push_back({std::move(path), std::move(text), basis});
    };
    const ObserveRules& observe = p.observations;
    for (const RuleSet& set : observe.rule_sets) {
        const std::string path = "observations." + set.id + ".";
        add(path + "fever", rule_text(set.fever), set.fever.basis);
        add(path + "severe_fever", rule_text(set.severe_fever), set.severe_fever.basis);
        add(path + "pressure_adult", rule_text(set.adult), set.adult.basis);
        add(path + "pressure_child", rule_text(set.child), set.child.basis);
        add(path + "pressure_small", rule_text(set.small), set.small.basis);
        add(path + "small", "under 1 year, or under " + mass_text(set.small_below.value),
            set.small_below.basis);
        if (set.pulse) add(path + "pulse", rule_text(*set.pulse), set.pulse->basis);
        if (set.saturation_below_percent)
            add(path + "saturation", "below " + percent(set.saturation_below_percent->value) + " on air",
                set.saturation_below_percent->basis);
    }
    add("observations.new_symptom", "enough to stop", observe.new_symptom_basis);
    if (observe.ask_above_tenths_c)
        add("observations.baseline_fever",
            "ask before the start above " + degrees(observe.ask_above_tenths_c->value),
            observe.ask_above_tenths_c->basis);
    add("observations.breathing",
        "respirations up by " + per_min(observe.breathing.respirations_rise) + " or saturation down by " +
            percent(observe.breathing.saturation_fall),
        observe.breathing.basis);
    add("observations.pressure_rise",
        "systolic up by " + mmhg(observe.pressure_rise.systolic_mmhg) + " or wider by " +
            mmhg(observe.pressure_rise.widened_mmhg),
        observe.pressure_rise.basis);
    const ReactionRules& reaction = p.reaction;
    std::string order;
    for (const ActionKind kind : reaction.order)
        order += joined({order.empty() ? "" : "; ", name(kind)});
    add("reaction.order", order, reaction.order_basis);
    add("reaction.observations", "every " + span_text(reaction.observe_every.value),
        reaction.observe_every.basis);
    if (reaction.restart)
        add("reaction.mild_restart",
            "on a clinician's word, if it does not go on for " + span_text(reaction.restart->wait),
            reaction.restart->basis);
    add("reaction.slow_down", "to at most " + percent(reaction.slow_to_percent.value) + " of the rate",
        reaction.slow_to_percent.basis);
    add("reaction.empty_bag", "kept for " + span_text(reaction.keep_bag.value), reaction.keep_bag.basis);
    add("reaction.late_symptoms",
        "reported for " + span_text(reaction.late_symptoms.value) + " after the end",
        reaction.late_symptoms.basis);
}

}  // namespace protocol_reader

}  // namespace hangtime
