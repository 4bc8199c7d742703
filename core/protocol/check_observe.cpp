#include "core/protocol/observe_reader.hpp"
#include "core/words/observe_words.hpp"

#include <algorithm>

namespace hangtime::protocol_reader {

namespace {

// A fever that is called severe asks for no less than one that is not; limb by limb, where both have it.
void check_fevers(const RuleSet& set, const std::string& path, json::Report& report) {
    const FeverRule &mild = set.fever, &severe = set.severe_fever;
    if (mild.at_least_tenths_c && severe.at_least_tenths_c &&
        *severe.at_least_tenths_c < *mild.at_least_tenths_c)
        report.fail(path + ".severe_fever.at_least_c", "is lower than that of fever",
                    "at least " + json::decimal_text(*mild.at_least_tenths_c, 1));
    if (mild.rise_tenths_c && severe.rise_tenths_c && *severe.rise_tenths_c < *mild.rise_tenths_c)
        report.fail(path + ".severe_fever." + (severe.rise_more_than ? "rise_more_than_c" : "rise_c"),
                    "is less than that of fever",
                    "at least " + json::decimal_text(*mild.rise_tenths_c, 1));
}

}  // namespace

void check_observe(const ObserveRules& rules, json::Report& report) {
    for (std::size_t i = 0; i < rules.rule_sets.size(); ++i) {
        const std::string path = "observations.rule_sets[" + std::to_string(i) + "]";
        for (std::size_t j = 0; j < i; ++j)
            if (rules.rule_sets[j].id == rules.rule_sets[i].id)
                report.fail(path + ".id", "is there twice: \"" + rules.rule_sets[i].id + "\"",
                            "an id of its own for each set of rules");
        check_fevers(rules.rule_sets[i], path, report);
    }
    // Otherwise any rise of the systolic pressure alone would be a wider pulse pressure first.
    if (rules.pressure_rise.widened_mmhg < rules.pressure_rise.systolic_mmhg)
        report.fail("observations.pressure_rise.pulse_pressure_up_by_mmhg",
                    "is less than systolic_up_by_mmhg",
                    "at least " + std::to_string(rules.pressure_rise.systolic_mmhg));
}

void check_reaction(const ReactionRules& rules, json::Report& report) {
    const std::vector<ActionKind>& order = rules.order;
    const std::string path = "reaction.order.actions";
    for (std::size_t i = 0; i < order.size(); ++i)
        if (std::find(order.begin(), order.begin() + static_cast<std::ptrdiff_t>(i), order[i]) !=
            order.begin() + static_cast<std::ptrdiff_t>(i))
            report.fail(path + "[" + std::to_string(i) + "]",
                        "is there twice: \"" + std::string(code(order[i])) + "\"", "each action once");
    if (order.empty() || order[0] != ActionKind::stop)
        report.fail(path + "[0]", "is not \"stop\"", "\"stop\": it always comes first");
    for (const ActionKind needed : needed_actions)
        if (std::find(order.begin(), order.end(), needed) == order.end())
            report.fail(path, "has no \"" + std::string(code(needed)) + "\"",
                        "every one of stop, new_set_saline, identity, observe, call_clinician, "
                        "call_blood_bank and keep_bag");
}

}  // namespace hangtime::protocol_reader
