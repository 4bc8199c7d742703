#include "core/protocol/observe_reader.hpp"
#include "core/protocol/read.hpp"
#include "core/words/observe_words.hpp"

namespace hangtime::protocol_reader {

namespace {

constexpr std::int64_t day_min = 24 * 60;

std::int32_t number(const json::Field& field, std::int64_t least, std::int64_t most) {
    return static_cast<std::int32_t>(field.integer(least, most));
}

FeverRule read_fever(const json::Field& field, const BasisReader& basis) {
    const json::Object o = field.object(
        {"at_least_c", "rise_c", "rise_more_than_c", "rise_from_c", "join", "source", "grade"});
    FeverRule out;
    const auto temperature = [](const json::Field& f) {
        return static_cast<std::int32_t>(f.decimal(1, 350, 420));
    };
    const auto rise = [](const json::Field& f) { return static_cast<std::int32_t>(f.decimal(1, 1, 50)); };
    if (const auto f = o.find("at_least_c")) out.at_least_tenths_c = temperature(*f);
    if (const auto f = o.find("rise_c")) out.rise_tenths_c = rise(*f);
    if (const auto f = o.find("rise_more_than_c")) {
        if (out.rise_tenths_c) f->fail("is there beside rise_c", "one of the two");
        out.rise_tenths_c = rise(*f);
        out.rise_more_than = true;
    }
    if (const auto f = o.find("rise_from_c")) {
        out.rise_from_tenths_c = temperature(*f);
        if (!out.rise_tenths_c) f->fail("is there without a rise", "rise_c or rise_more_than_c beside it");
    }
    if (!out.at_least_tenths_c && !out.rise_tenths_c)
        field.fail("has no limit", "at_least_c, rise_c or rise_more_than_c, or two of them");
    if (out.at_least_tenths_c && out.rise_tenths_c) {
        out.join = fields::choice<Join>(o.at("join"));
    } else if (const auto f = o.find("join")) {
        f->fail("is there, but there is only one limit to join", "two limits, or no join");
    }
    out.basis = basis(o);
    return out;
}

PressureRule read_pressure(const json::Field& field, const BasisReader& basis) {
    const json::Object o = field.object({"measures", "fall_at_least_mmhg", "fall_more_than_mmhg",
                                         "fall_more_than_percent", "and_systolic_at_most_mmhg", "source",
                                         "grade"});
    PressureRule out;
    out.measures = fields::choice<PressureMeasures>(o.at("measures"));
    int given = 0;
    if (const auto f = o.find("fall_at_least_mmhg")) out.fall_mmhg = number(*f, 1, 150), ++given;
    if (const auto f = o.find("fall_more_than_mmhg")) {
        out.fall_mmhg = number(*f, 1, 150), ++given;
        out.fall_more_than = true;
    }
    if (const auto f = o.find("fall_more_than_percent"))
        out.fall_more_than_percent = number(*f, 1, 90), ++given;
    if (given != 1)
        field.fail("has " + std::string(given == 0 ? "no fall" : "more than one fall"),
                   "one of fall_at_least_mmhg, fall_more_than_mmhg and fall_more_than_percent");
    if (const auto f = o.find("and_systolic_at_most_mmhg")) {
        out.and_systolic_at_most_mmhg = number(*f, 30, 150);
        if (out.measures != PressureMeasures::systolic)
            f->fail("is there, but the rule is not about the systolic pressure alone",
                    "\"measures\": \"systolic\"");
    }
    out.basis = basis(o);
    return out;
}

PulseRule read_pulse(const json::Field& field, const BasisReader& basis) {
    const json::Object o =
        field.object({"rise_more_than_percent", "rise_more_than_per_min", "source", "grade"});
    PulseRule out;
    if (const auto f = o.find("rise_more_than_percent")) out.rise_more_than_percent = number(*f, 1, 100);
    if (const auto f = o.find("rise_more_than_per_min")) out.rise_more_than_per_min = number(*f, 1, 100);
    if (!out.rise_more_than_percent && !out.rise_more_than_per_min)
        field.fail("has no rise", "rise_more_than_percent, rise_more_than_per_min or both");
    out.basis = basis(o);
    return out;
}

RuleSet read_rule_set(const json::Field& field, const BasisReader& basis) {
    const json::Object o = field.object({"id", "title", "fever", "severe_fever", "pressure_adult",
                                         "pressure_child", "pressure_small", "small", "pulse", "saturation"});
    RuleSet out;
    out.id = o.at("id").key();
    out.title = o.at("title").text(1, 80);
    out.fever = read_fever(o.at("fever"), basis);
    out.severe_fever = read_fever(o.at("severe_fever"), basis);
    out.adult = read_pressure(o.at("pressure_adult"), basis);
    out.child = read_pressure(o.at("pressure_child"), basis);
    out.small = read_pressure(o.at("pressure_small"), basis);
    const json::Object small = o.at("small").object({"below_kg", "source", "grade"});
    out.small_below = {fields::mass(small.at("below_kg")), basis(small)};
    if (const auto f = o.find("pulse")) out.pulse = read_pulse(*f, basis);
    if (const auto f = o.find("saturation")) {
        const json::Object group = f->object({"below_percent_on_air", "source", "grade"});
        out.saturation_below_percent =
            Given<std::int32_t>{number(group.at("below_percent_on_air"), 70, 100), basis(group)};
    }
    return out;
}

}  // namespace

ObserveRules read_observe(const json::Field& field, const BasisReader& basis) {
    const json::Object o =
        field.object({"rule_sets", "new_symptom", "baseline_fever", "breathing", "pressure_rise"});
    ObserveRules out;
    for (const json::Field& item : o.at("rule_sets").list(1, bounds::rule_sets))
        out.rule_sets.push_back(read_rule_set(item, basis));
    const json::Object symptom = o.at("new_symptom").object({"stops", "source", "grade"});
    const json::Field stops = symptom.at("stops");
    if (!stops.boolean()) stops.fail("is not true", "true: any new symptom is enough to stop");
    out.new_symptom_basis = basis(symptom);
    if (const auto f = o.find("baseline_fever")) {
        const json::Object group = f->object({"ask_above_c", "source", "grade"});
        out.ask_above_tenths_c = Given<std::int32_t>{
            static_cast<std::int32_t>(group.at("ask_above_c").decimal(1, 360, 410)), basis(group)};
    }
    const json::Object breathing = o.at("breathing").object(
        {"respirations_up_by_per_min", "saturation_down_by_percent", "source", "grade"});
    out.breathing = {number(breathing.at("respirations_up_by_per_min"), 1, 30),
                     number(breathing.at("saturation_down_by_percent"), 1, 20), basis(breathing)};
    const json::Object rise =
        o.at("pressure_rise").object({"systolic_up_by_mmhg", "pulse_pressure_up_by_mmhg", "source", "grade"});
    out.pressure_rise = {number(rise.at("systolic_up_by_mmhg"), 1, 100),
                         number(rise.at("pulse_pressure_up_by_mmhg"), 1, 100), basis(rise)};
    return out;
}

ReactionRules read_reaction(const json::Field& field, const BasisReader& basis) {
    const json::Object o = field.object(
        {"order", "observations", "mild_restart", "slow_down", "empty_bag", "late_symptoms"});
    ReactionRules out;
    const json::Object order = o.at("order").object({"actions", "source", "grade"});
    for (const json::Field& item : order.at("actions").list(1, action_kind_count))
        out.order.push_back(fields::choice<ActionKind>(item));
    out.order_basis = basis(order);
    const json::Object every = o.at("observations").object({"every_min", "source", "grade"});
    out.observe_every = {fields::minutes_of(every.at("every_min"), 1, 60), basis(every)};
    if (const auto f = o.find("mild_restart")) {
        const json::Object group = f->object({"after_min", "source", "grade"});
        out.restart = ReactionRules::MildRestart{fields::minutes_of(group.at("after_min"), 0, 120),
                                                 basis(group)};
    }
    const json::Object slow = o.at("slow_down").object({"to_percent", "source", "grade"});
    out.slow_to_percent = {number(slow.at("to_percent"), 5, 95), basis(slow)};
    const json::Object keep = o.at("empty_bag").object({"keep_min", "source", "grade"});
    out.keep_bag = {fields::minutes_of(keep.at("keep_min"), 0, 5 * day_min), basis(keep)};
    const json::Object late = o.at("late_symptoms").object({"within_min", "source", "grade"});
    out.late_symptoms = {fields::minutes_of(late.at("within_min"), 60, 28 * day_min), basis(late)};
    return out;
}

}  // namespace hangtime::protocol_reader
