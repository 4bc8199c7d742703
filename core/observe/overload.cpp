#include "core/observe/overload.hpp"

#include "core/observe/symptoms.hpp"

namespace hangtime {

namespace {

using Number = std::optional<std::int16_t>;

bool up_by(const Number& baseline, const Number& now, std::int32_t least) {
    return baseline && now && *now - *baseline >= least;
}

// The systolic pressure has not fallen and the diastolic one has, so that what is between them can only have
// widened. A rise of the systolic pressure alone is a rising pressure.
bool wider(const Observation& baseline, const Observation& now, std::int32_t least) {
    if (!baseline.systolic_mmhg || !now.systolic_mmhg || !baseline.diastolic_mmhg || !now.diastolic_mmhg)
        return false;
    const int rise = *now.systolic_mmhg - *baseline.systolic_mmhg;
    const int fall = *baseline.diastolic_mmhg - *now.diastolic_mmhg;
    return rise >= 0 && fall > 0 && rise + fall >= least;
}

bool crackles(const std::optional<Lungs>& lungs) {
    return lungs && (static_cast<unsigned>(*lungs) & static_cast<unsigned>(Lungs::crackles)) != 0;
}

}  // namespace

Symptoms new_symptoms(const Observation& baseline, const Observation& now) {
    if (!now.symptoms) return {};
    return {now.symptoms->bits & ~(baseline.symptoms ? baseline.symptoms->bits : 0)};
}

OverloadSigns overload_signs(const ObserveRules& rules, const Observation& baseline, const Observation& now) {
    const Symptoms fresh = new_symptoms(baseline, now);
    OverloadSigns out;
    out.add(OverloadSign::breathless, (fresh.bits & breathing_symptoms.bits) != 0);
    out.add(OverloadSign::crackles, crackles(now.lungs) && !crackles(baseline.lungs));
    out.add(OverloadSign::breathing_faster, up_by(baseline.respirations_per_min, now.respirations_per_min,
                                                  rules.breathing.respirations_rise));
    out.add(OverloadSign::saturation_falling, up_by(now.saturation_percent, baseline.saturation_percent,
                                                    rules.breathing.saturation_fall));
    out.add(OverloadSign::oxygen_needed, baseline.on_oxygen == false && now.on_oxygen == true);
    out.add(OverloadSign::pressure_rising,
            up_by(baseline.systolic_mmhg, now.systolic_mmhg, rules.pressure_rise.systolic_mmhg));
    out.add(OverloadSign::pulse_pressure_wider, wider(baseline, now, rules.pressure_rise.widened_mmhg));
    out.add(OverloadSign::neck_veins_raised, fresh.has(Symptom::raised_neck_veins));
    // More than 20 %: the only rise in percent that was read (a three-category scheme after WHO, quoted).
    out.add(OverloadSign::pulse_faster,
            baseline.pulse_per_min && now.pulse_per_min &&
                100 * (*now.pulse_per_min - *baseline.pulse_per_min) > 20 * *baseline.pulse_per_min);
    out.add(OverloadSign::legs_swollen, fresh.has(Symptom::swollen_legs));
    return out;
}

Rate slowed_rate(const ReactionRules& rules, Rate running, Rate step) {
    return round_down(RateRatio{running.units_per_s * rules.slow_to_percent.value, 100}, step);
}

}  // namespace hangtime
