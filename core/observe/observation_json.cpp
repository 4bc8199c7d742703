#include "core/observe/observation.hpp"

#include "core/protocol/fields.hpp"
#include "core/words/observe_words.hpp"

namespace hangtime {

namespace {

constexpr std::string_view key_of(Sign sign) {
    switch (sign) {
        case Sign::temperature: return "temperature_c";
        case Sign::pulse: return "pulse_per_min";
        case Sign::systolic: return "systolic_mmhg";
        case Sign::diastolic: return "diastolic_mmhg";
        case Sign::mean_pressure: return "mean_mmhg";
        case Sign::respirations: return "respirations_per_min";
        case Sign::saturation: return "saturation_percent";
        case Sign::oxygen: return "on_oxygen";
        case Sign::consciousness: return "consciousness";
        case Sign::lungs: return "lungs";
        case Sign::site: return "site";
        case Sign::urine: return "urine";
        case Sign::symptoms: return "symptoms";
    }
    return {};
}

void read_number(const json::Object& o, Sign sign, std::optional<std::int16_t>& into) {
    const SignRange range = range_of(sign);
    if (const auto f = o.find(key_of(sign)))
        into = static_cast<std::int16_t>(f->integer(range.least, range.most));
}

template <class E>
void read_choice(const json::Object& o, Sign sign, std::optional<E>& into) {
    if (const auto f = o.find(key_of(sign))) into = fields::choice<E>(*f);
}

Temperature read_temperature(const json::Field& field, TemperatureUnit unit) {
    const SignRange range = range_of(Sign::temperature, unit);
    return {static_cast<std::int16_t>(field.decimal(1, range.least, range.most)), unit};
}

Symptoms read_symptoms(const json::Field& field) {
    Symptoms out;
    for (const json::Field& item : field.list(0, symptom_count)) {
        const Symptom symptom = fields::choice<Symptom>(item);
        if (out.has(symptom) && field.report().ok())
            item.fail("is there twice: \"" + std::string(code(symptom)) + "\"", "each symptom once");
        out.add(symptom);
    }
    return out;
}

}  // namespace

void write_observation(json::Writer& out, const Observation& set) {
    out.begin_object(json::Writer::Layout::along);
    if (set.temperature)
        out.decimal(set.temperature->unit == TemperatureUnit::celsius ? "temperature_c" : "temperature_f",
                    set.temperature->tenths, 1);
    const auto number = [&](Sign sign, const std::optional<std::int16_t>& value) {
        if (value) out.integer(key_of(sign), *value);
    };
    number(Sign::pulse, set.pulse_per_min);
    number(Sign::systolic, set.systolic_mmhg);
    number(Sign::diastolic, set.diastolic_mmhg);
    number(Sign::mean_pressure, set.mean_mmhg);
    number(Sign::respirations, set.respirations_per_min);
    number(Sign::saturation, set.saturation_percent);
    if (set.on_oxygen) out.boolean(key_of(Sign::oxygen), *set.on_oxygen);
    const auto choice = [&](Sign sign, const auto& value) {
        if (value) out.text(key_of(sign), code(*value));
    };
    choice(Sign::consciousness, set.consciousness);
    choice(Sign::lungs, set.lungs);
    choice(Sign::site, set.site);
    choice(Sign::urine, set.urine);
    if (set.symptoms) {
        out.key(key_of(Sign::symptoms)).begin_list(json::Writer::Layout::along);
        for (int i = 0; i < symptom_count; ++i)
            if (set.symptoms->has(static_cast<Symptom>(i))) out.text(code(static_cast<Symptom>(i)));
        out.end_list();
    }
    out.end_object();
}

Observation read_observation(const json::Field& field) {
    const json::Object o = field.object(
        {"temperature_c", "temperature_f", "pulse_per_min", "systolic_mmhg", "diastolic_mmhg", "mean_mmhg",
         "respirations_per_min", "saturation_percent", "on_oxygen", "consciousness", "lungs", "site", "urine",
         "symptoms"});
    Observation out;
    if (const auto f = o.find("temperature_c"))
        out.temperature = read_temperature(*f, TemperatureUnit::celsius);
    if (const auto f = o.find("temperature_f")) {
        if (out.temperature) f->fail("is there beside temperature_c", "one of the two, as it was charted");
        out.temperature = read_temperature(*f, TemperatureUnit::fahrenheit);
    }
    read_number(o, Sign::pulse, out.pulse_per_min);
    read_number(o, Sign::systolic, out.systolic_mmhg);
    read_number(o, Sign::diastolic, out.diastolic_mmhg);
    read_number(o, Sign::mean_pressure, out.mean_mmhg);
    read_number(o, Sign::respirations, out.respirations_per_min);
    read_number(o, Sign::saturation, out.saturation_percent);
    if (const auto f = o.find(key_of(Sign::oxygen))) out.on_oxygen = f->boolean();
    read_choice(o, Sign::consciousness, out.consciousness);
    read_choice(o, Sign::lungs, out.lungs);
    read_choice(o, Sign::site, out.site);
    read_choice(o, Sign::urine, out.urine);
    if (const auto f = o.find(key_of(Sign::symptoms))) out.symptoms = read_symptoms(*f);
    if (!field.report().ok()) return out;
    if (const auto problem = problem_of(out)) {
        const bool mean = problem->kind == SetProblem::Kind::mean_not_between;
        o.named(key_of(problem->sign))
            .fail(mean ? "is not between the other two pressures" : "is not below systolic_mmhg",
                  mean ? "a mean from diastolic_mmhg to systolic_mmhg"
                       : "a diastolic pressure below the systolic one");
    }
    return out;
}

}  // namespace hangtime
