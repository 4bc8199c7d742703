#pragma once

// Random rules about a change from the baseline, and random sets of observations to hold against them.

#include "core/report/observe_sheet.hpp"
#include "tests/core/random_plans.hpp"

namespace hangtime::test {

inline Observation random_set(Random& r) {
    const auto number = [&](std::int64_t least, std::int64_t most) { return static_cast<std::int16_t>(r.between(least, most)); };
    Observation o;
    o.temperature = r.chance(50) ? tenths_c(number(350, 405)) : tenths_f(number(950, 1049));
    o.pulse_per_min = number(45, 160);
    o.systolic_mmhg = number(60, 220);
    o.diastolic_mmhg = number(30, *o.systolic_mmhg - 5);
    o.mean_mmhg = number(*o.diastolic_mmhg, *o.systolic_mmhg);
    o.respirations_per_min = number(8, 45);
    o.saturation_percent = number(80, 100);
    o.on_oxygen = r.chance(30);
    o.consciousness = static_cast<Consciousness>(r.chance(25) ? r.between(0, consciousness_count - 1) : 0);
    o.lungs = static_cast<Lungs>(r.chance(30) ? r.between(0, lungs_count - 1) : 0);
    o.site = static_cast<Site>(r.chance(25) ? r.between(0, site_count - 1) : 0);
    o.urine = static_cast<Urine>(r.chance(25) ? r.between(0, urine_count - 1) : 0);
    o.symptoms = Symptoms{};
    while (r.chance(30)) o.symptoms->add(static_cast<Symptom>(r.between(0, symptom_count - 1)));
    for (int i = 0; i < sign_count; ++i)
        if (r.chance(8)) o.clear(static_cast<Sign>(i));
    return o;
}

inline FeverRule random_fever(Random& r) {
    FeverRule f;
    const bool one = r.chance(30);
    if (!one || r.chance(50)) f.at_least_tenths_c = static_cast<std::int32_t>(r.between(375, 395));
    if (!one || !f.at_least_tenths_c) f.rise_tenths_c = static_cast<std::int32_t>(r.between(5, 20));
    f.rise_more_than = f.rise_tenths_c && r.chance(50);
    if (f.rise_tenths_c && r.chance(20)) f.rise_from_tenths_c = 370;
    f.join = r.chance(50) ? Join::both : Join::either;
    return f;
}

inline PressureRule random_fall(Random& r) {
    PressureRule p;
    p.measures = static_cast<PressureMeasures>(r.between(0, pressure_measures_count - 1));
    if (r.chance(40)) p.fall_more_than_percent = static_cast<std::int32_t>(r.between(15, 40));
    else p.fall_mmhg = static_cast<std::int32_t>(r.between(20, 40));
    p.fall_more_than = p.fall_mmhg && r.chance(50);
    if (p.fall_mmhg && r.chance(30)) {
        p.measures = PressureMeasures::systolic;
        p.and_systolic_at_most_mmhg = static_cast<std::int32_t>(r.between(70, 95));
    }
    return p;
}

inline RuleSet random_rule_set(Random& r) {
    RuleSet s;
    s.id = "random";
    s.title = "Random limits";
    s.fever = random_fever(r);
    s.severe_fever = random_fever(r);
    s.adult = random_fall(r);
    s.child = random_fall(r);
    s.small = random_fall(r);
    s.small_below.value = Mass{12'000};
    if (r.chance(60)) {
        PulseRule p;
        if (r.chance(50)) p.rise_more_than_percent = static_cast<std::int32_t>(r.between(10, 40));
        if (!p.rise_more_than_percent || r.chance(50)) p.rise_more_than_per_min = static_cast<std::int32_t>(r.between(10, 50));
        s.pulse = p;
    }
    if (r.chance(60)) s.saturation_below_percent = Given<std::int32_t>{static_cast<std::int32_t>(r.between(88, 95)), {}};
    return s;
}

/// Puts random rules into the protocol, and returns sets to hold against the first of them.
inline ObserveFile random_observations(Random& r, Protocol& protocol) {
    protocol.observations.rule_sets = {random_rule_set(r)};
    if (r.chance(60)) protocol.observations.ask_above_tenths_c = Given<std::int32_t>{static_cast<std::int32_t>(r.between(375, 390)), {}};
    protocol.observations.breathing = {static_cast<std::int32_t>(r.between(2, 8)), static_cast<std::int32_t>(r.between(2, 6)), {}};
    protocol.observations.pressure_rise = {static_cast<std::int32_t>(r.between(10, 30)), static_cast<std::int32_t>(r.between(10, 30)), {}};
    ObserveFile out;
    out.protocol = protocol.id;
    if (r.chance(85)) out.person.age = static_cast<AgeGroup>(r.between(0, age_group_count - 1));
    if (r.chance(75)) out.person.weight = Mass{r.between(3'000, 90'000)};
    if (r.chance(20)) out.person.pregnant = r.chance(50);
    out.person.saturation_scale_2 = r.chance(20);
    out.baseline = {minutes(-r.between(1, 60)), random_set(r)};
    for (std::int64_t i = 0, sets = r.between(1, 4); i < sets; ++i)
        out.sets.push_back({minutes(15 + 30 * i), random_set(r)});
    return out;
}

}  // namespace hangtime::test
