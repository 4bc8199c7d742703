#include "core/observe/observation.hpp"

namespace hangtime {

namespace {

FigureKind kind_of(TemperatureUnit unit) {
    return unit == TemperatureUnit::celsius ? FigureKind::tenths_c : FigureKind::tenths_f;
}

Figure figure(FigureKind kind, const std::optional<std::int16_t>& value) {
    return value ? Figure(kind, *value) : Figure();
}

// The signs that are numbers, in the order of a chart.
constexpr Sign numbers[] = {Sign::temperature, Sign::pulse,         Sign::systolic,  Sign::diastolic,
                            Sign::mean_pressure, Sign::respirations, Sign::saturation};

TemperatureUnit unit_of(const Observation& set) {
    return set.temperature ? set.temperature->unit : TemperatureUnit::celsius;
}

}  // namespace

bool Observation::has(Sign sign) const {
    switch (sign) {
        case Sign::temperature: return temperature.has_value();
        case Sign::pulse: return pulse_per_min.has_value();
        case Sign::systolic: return systolic_mmhg.has_value();
        case Sign::diastolic: return diastolic_mmhg.has_value();
        case Sign::mean_pressure: return mean_mmhg.has_value();
        case Sign::respirations: return respirations_per_min.has_value();
        case Sign::saturation: return saturation_percent.has_value();
        case Sign::oxygen: return on_oxygen.has_value();
        case Sign::consciousness: return consciousness.has_value();
        case Sign::lungs: return lungs.has_value();
        case Sign::site: return site.has_value();
        case Sign::urine: return urine.has_value();
        case Sign::symptoms: return symptoms.has_value();
    }
    return false;
}

void Observation::clear(Sign sign) {
    switch (sign) {
        case Sign::temperature: temperature.reset(); break;
        case Sign::pulse: pulse_per_min.reset(); break;
        case Sign::systolic: systolic_mmhg.reset(); break;
        case Sign::diastolic: diastolic_mmhg.reset(); break;
        case Sign::mean_pressure: mean_mmhg.reset(); break;
        case Sign::respirations: respirations_per_min.reset(); break;
        case Sign::saturation: saturation_percent.reset(); break;
        case Sign::oxygen: on_oxygen.reset(); break;
        case Sign::consciousness: consciousness.reset(); break;
        case Sign::lungs: lungs.reset(); break;
        case Sign::site: site.reset(); break;
        case Sign::urine: urine.reset(); break;
        case Sign::symptoms: symptoms.reset(); break;
    }
}

Figure figure_of(const Observation& set, Sign sign) {
    switch (sign) {
        case Sign::temperature:
            if (!set.temperature) break;
            return Figure(kind_of(set.temperature->unit), set.temperature->tenths);
        case Sign::pulse: return figure(FigureKind::per_min, set.pulse_per_min);
        case Sign::systolic: return figure(FigureKind::mmhg, set.systolic_mmhg);
        case Sign::diastolic: return figure(FigureKind::mmhg, set.diastolic_mmhg);
        case Sign::mean_pressure: return figure(FigureKind::mmhg, set.mean_mmhg);
        case Sign::respirations: return figure(FigureKind::per_min, set.respirations_per_min);
        case Sign::saturation: return figure(FigureKind::percent, set.saturation_percent);
        case Sign::oxygen:
        case Sign::consciousness:
        case Sign::lungs:
        case Sign::site:
        case Sign::urine:
        case Sign::symptoms: break;
    }
    return {};
}

SignRange range_of(Sign sign, TemperatureUnit unit) {
    switch (sign) {
        case Sign::temperature:
            // 25.0 to 46.0 degrees C are 77.0 to 114.8 F exactly; 34.0 to 42.0 are 93.2 to 107.6.
            if (unit == TemperatureUnit::fahrenheit) return {770, 1148, 932, 1076};
            return {250, 460, 340, 420};
        case Sign::pulse: return {0, 320, 40, 180};
        case Sign::systolic: return {10, 320, 70, 220};
        case Sign::diastolic: return {5, 220, 30, 130};
        case Sign::mean_pressure: return {5, 260, 30, 160};
        case Sign::respirations: return {0, 150, 8, 60};
        case Sign::saturation: return {20, 100, 80, 100};
        case Sign::oxygen:
        case Sign::consciousness:
        case Sign::lungs:
        case Sign::site:
        case Sign::urine:
        case Sign::symptoms: break;
    }
    return {};
}

std::optional<SetProblem> problem_of(const Observation& set) {
    for (const Sign sign : numbers) {
        const Figure value = figure_of(set, sign);
        const SignRange range = range_of(sign, unit_of(set));
        if (value.kind != FigureKind::none && (value.a < range.least || value.a > range.most))
            return SetProblem{SetProblem::Kind::impossible, sign};
    }
    const auto &high = set.systolic_mmhg, &low = set.diastolic_mmhg, &mean = set.mean_mmhg;
    if (high && low && *low >= *high)
        return SetProblem{SetProblem::Kind::not_below_systolic, Sign::diastolic};
    if (mean && ((high && *mean > *high) || (low && *mean < *low)))
        return SetProblem{SetProblem::Kind::mean_not_between, Sign::mean_pressure};
    return std::nullopt;
}

SetQuestions questions_about(const Observation& set) {
    SetQuestions out;
    bool any = false;
    for (int i = 0; i < sign_count; ++i) any = any || set.has(static_cast<Sign>(i));
    if (!any) out.add({SetQuestion::Kind::nothing_recorded, Sign::temperature, {}, {}, {}});
    for (const Sign sign : numbers) {
        const Figure value = figure_of(set, sign);
        const SignRange range = range_of(sign, unit_of(set));
        if (value.kind != FigureKind::none && (value.a < range.usual_least || value.a > range.usual_most))
            out.add({SetQuestion::Kind::unusual, sign, value, Figure(value.kind, range.usual_least),
                     Figure(value.kind, range.usual_most)});
    }
    constexpr std::int16_t least_pulse_pressure = 10;  // mmHg; common practice, no source
    if (set.systolic_mmhg && set.diastolic_mmhg &&
        *set.systolic_mmhg - *set.diastolic_mmhg < least_pulse_pressure)
        out.add({SetQuestion::Kind::pressures_close, Sign::diastolic, figure_of(set, Sign::diastolic), {},
                 {}});
    return out;
}

}  // namespace hangtime
