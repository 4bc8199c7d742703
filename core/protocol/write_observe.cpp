#include "core/protocol/observe_reader.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/spelling.hpp"

namespace hangtime::protocol_reader {

namespace {

using json::Writer;

class ObserveWriter {
public:
    ObserveWriter(Writer& out, const Protocol& p) : w_(out), p_(p) {}

    void observations() {
        const ObserveRules& rules = p_.observations;
        w_.key("observations").begin_object();
        w_.key("rule_sets").begin_list();
        for (const RuleSet& set : rules.rule_sets) rule_set(set);
        w_.end_list();
        begin("new_symptom").boolean("stops", true);
        end(rules.new_symptom_basis);
        if (rules.ask_above_tenths_c) {
            begin("baseline_fever").decimal("ask_above_c", rules.ask_above_tenths_c->value, 1);
            end(rules.ask_above_tenths_c->basis);
        }
        begin("breathing").integer("respirations_up_by_per_min", rules.breathing.respirations_rise);
        w_.integer("saturation_down_by_percent", rules.breathing.saturation_fall);
        end(rules.breathing.basis);
        begin("pressure_rise").integer("systolic_up_by_mmhg", rules.pressure_rise.systolic_mmhg);
        w_.integer("pulse_pressure_up_by_mmhg", rules.pressure_rise.widened_mmhg);
        end(rules.pressure_rise.basis);
        w_.end_object();
    }

    void reaction() {
        const ReactionRules& rules = p_.reaction;
        w_.key("reaction").begin_object();
        begin("order").key("actions").begin_list();
        for (const ActionKind kind : rules.order) w_.text(code(kind));
        w_.end_list();
        end(rules.order_basis);
        span("observations", "every_min", rules.observe_every.value, rules.observe_every.basis);
        if (rules.restart) span("mild_restart", "after_min", rules.restart->wait, rules.restart->basis);
        begin("slow_down").integer("to_percent", rules.slow_to_percent.value);
        end(rules.slow_to_percent.basis);
        span("empty_bag", "keep_min", rules.keep_bag.value, rules.keep_bag.basis);
        span("late_symptoms", "within_min", rules.late_symptoms.value, rules.late_symptoms.basis);
        w_.end_object();
    }

private:
    Writer& begin(std::string_view name) { return w_.key(name).begin_object(Writer::Layout::along); }
    void end(Basis basis) {
        if (basis.source != Basis::no_source) w_.text("source", p_.sources[basis.source].key);
        w_.text("grade", code(basis.grade)).end_object();
    }
    void span(std::string_view name, std::string_view key, Seconds value, Basis basis) {
        begin(name).integer(key, value.count / 60);
        end(basis);
    }

    void fever(std::string_view name, const FeverRule& rule) {
        begin(name);
        if (rule.at_least_tenths_c) w_.decimal("at_least_c", *rule.at_least_tenths_c, 1);
        if (rule.rise_tenths_c)
            w_.decimal(rule.rise_more_than ? "rise_more_than_c" : "rise_c", *rule.rise_tenths_c, 1);
        if (rule.rise_from_tenths_c) w_.decimal("rise_from_c", *rule.rise_from_tenths_c, 1);
        if (rule.at_least_tenths_c && rule.rise_tenths_c) w_.text("join", code(rule.join));
        end(rule.basis);
    }

    void pressure(std::string_view name, const PressureRule& rule) {
        begin(name).text("measures", code(rule.measures));
        if (rule.fall_mmhg)
            w_.integer(rule.fall_more_than ? "fall_more_than_mmhg" : "fall_at_least_mmhg", *rule.fall_mmhg);
        if (rule.fall_more_than_percent)
            w_.integer("fall_more_than_percent", *rule.fall_more_than_percent);
        if (rule.and_systolic_at_most_mmhg)
            w_.integer("and_systolic_at_most_mmhg", *rule.and_systolic_at_most_mmhg);
        end(rule.basis);
    }

    void rule_set(const RuleSet& set) {
        w_.begin_object().text("id", set.id).text("title", set.title);
        fever("fever", set.fever);
        fever("severe_fever", set.severe_fever);
        pressure("pressure_adult", set.adult);
        pressure("pressure_child", set.child);
        pressure("pressure_small", set.small);
        begin("small").decimal("below_kg", set.small_below.value.grams, 3);
        end(set.small_below.basis);
        if (set.pulse) {
            begin("pulse");
            if (set.pulse->rise_more_than_percent)
                w_.integer("rise_more_than_percent", *set.pulse->rise_more_than_percent);
            if (set.pulse->rise_more_than_per_min)
                w_.integer("rise_more_than_per_min", *set.pulse->rise_more_than_per_min);
            end(set.pulse->basis);
        }
        if (set.saturation_below_percent) {
            begin("saturation").integer("below_percent_on_air", set.saturation_below_percent->value);
            end(set.saturation_below_percent->basis);
        }
        w_.end_object();
    }

    Writer& w_;
    const Protocol& p_;
};

}  // namespace

void write_observe(Writer& out, const Protocol& protocol) {
    ObserveWriter writer(out, protocol);
    writer.observations();
    writer.reaction();
}

}  // namespace hangtime::protocol_reader
