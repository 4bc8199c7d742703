#include "core/observe/change.hpp"

namespace hangtime {

namespace {

using Number = std::optional<std::int16_t>;

enum class Met : std::uint8_t { no, unknown, yes };

// A temperature that was as high at the baseline is no change.
Met warm_enough(const std::optional<Temperature>& baseline, Temperature now, std::int32_t least_tenths_c) {
    if (now.ninetieths() < tenths_c(least_tenths_c).ninetieths()) return Met::no;
    return !baseline || now.ninetieths() > baseline->ninetieths() ? Met::yes : Met::no;
}

Met risen(const FeverRule& rule, const std::optional<Temperature>& baseline, Temperature now) {
    if (!baseline) return Met::unknown;
    if (rule.rise_from_tenths_c &&
        baseline->ninetieths() < tenths_c(*rule.rise_from_tenths_c).ninetieths())
        return Met::no;
    const std::int32_t rise = now.ninetieths() - baseline->ninetieths();
    const std::int32_t limit = ninetieths_of_rise(*rule.rise_tenths_c);
    return rise > limit || (rise == limit && !rule.rise_more_than) ? Met::yes : Met::no;
}

bool met(const FeverRule& rule, const std::optional<Temperature>& baseline,
         const std::optional<Temperature>& now) {
    if (!now) return false;
    const bool two = rule.at_least_tenths_c && rule.rise_tenths_c;
    const Met warm = rule.at_least_tenths_c ? warm_enough(baseline, *now, *rule.at_least_tenths_c) : Met::no;
    const Met rise = rule.rise_tenths_c ? risen(rule, baseline, *now) : Met::no;
    // A limb that cannot be told does not stand in the way of the one that is met.
    if (two && rule.join == Join::both) return warm == Met::yes && rise != Met::no;
    return warm == Met::yes || rise == Met::yes;
}

Met fallen(const PressureRule& rule, const Number& baseline, const Number& now) {
    if (!now) return Met::no;
    if (!baseline) return Met::unknown;
    const int fall = *baseline - *now;
    if (rule.fall_more_than_percent)
        return 100 * fall > *rule.fall_more_than_percent * *baseline ? Met::yes : Met::no;
    return fall > *rule.fall_mmhg || (fall == *rule.fall_mmhg && !rule.fall_more_than) ? Met::yes : Met::no;
}

std::optional<Sign> met(const PressureRule& rule, const Observation& baseline, const Observation& now) {
    const Met systolic = fallen(rule, baseline.systolic_mmhg, now.systolic_mmhg);
    if (rule.and_systolic_at_most_mmhg) {
        const bool low = now.systolic_mmhg && *now.systolic_mmhg <= *rule.and_systolic_at_most_mmhg;
        return low && systolic != Met::no ? std::optional(Sign::systolic) : std::nullopt;
    }
    if (systolic == Met::yes) return Sign::systolic;
    if (rule.measures == PressureMeasures::systolic) return std::nullopt;
    if (fallen(rule, baseline.diastolic_mmhg, now.diastolic_mmhg) == Met::yes) return Sign::diastolic;
    if (rule.measures == PressureMeasures::any && fallen(rule, baseline.mean_mmhg, now.mean_mmhg) == Met::yes)
        return Sign::mean_pressure;
    return std::nullopt;
}

bool met(const PulseRule& rule, const Number& baseline, const Number& now) {
    if (!baseline || !now) return false;
    const int rise = *now - *baseline;
    return (rule.rise_more_than_percent && 100 * rise > *rule.rise_more_than_percent * *baseline) ||
           (rule.rise_more_than_per_min && rise > *rule.rise_more_than_per_min);
}

// Some of what a choice can be is new: neither as it should be nor as it was.
template <class E>
bool changed(const std::optional<E>& baseline, const std::optional<E>& now) {
    return now && *now != E{} && baseline != now;
}

class Comparison {
public:
    Comparison(const ObserveRules& rules, const RuleSet& set, const Person& person,
               const Observation& baseline, const Observation& now, Change& out)
        : rules_(rules), set_(set), person_(person), baseline_(baseline), now_(now), out_(out) {}

    void compare() {
        if (const Symptoms fresh = new_symptoms(baseline_, now_); fresh.bits != 0) {
            add(PromptCode::new_symptom, Severity::stop, Sign::symptoms, rules_.new_symptom_basis);
            out_.prompts.back().symptoms = fresh;
        }
        if (met(set_.fever, baseline_.temperature, now_.temperature))
            add(PromptCode::fever, Severity::stop, Sign::temperature, set_.fever.basis);
        if (met(set_.severe_fever, baseline_.temperature, now_.temperature))
            add(PromptCode::severe_fever, Severity::stop, Sign::temperature, set_.severe_fever.basis);
        pressure();
        if (set_.pulse && met(*set_.pulse, baseline_.pulse_per_min, now_.pulse_per_min))
            add(PromptCode::pulse_rise, Severity::stop, Sign::pulse, set_.pulse->basis);
        saturation();
        const Consciousness before = baseline_.consciousness.value_or(Consciousness::alert);
        if (now_.consciousness && *now_.consciousness > before)
            add(PromptCode::consciousness_worse, Severity::stop, Sign::consciousness,
                rules_.new_symptom_basis);
        lungs();
        if (changed(baseline_.site, now_.site))
            add(PromptCode::site_worse, Severity::stop, Sign::site, rules_.new_symptom_basis);
        if (changed(baseline_.urine, now_.urine))
            add(PromptCode::urine_changed, Severity::stop, Sign::urine, rules_.new_symptom_basis);
        overload();
        missing();
    }

private:
    void add(PromptCode code, Severity severity, Sign sign, Basis basis) {
        Prompt prompt;
        prompt.code = code;
        prompt.severity = severity;
        prompt.sign = sign;
        prompt.figures = {figure_of(baseline_, sign), figure_of(now_, sign), Figure()};
        prompt.basis = basis;
        out_.prompts.add(prompt);
    }

    bool pressure(const PressureRule& rule, PressureFor whom) {
        const auto sign = met(rule, baseline_, now_);
        if (!sign) return false;
        add(PromptCode::pressure_fall, Severity::stop, *sign, rule.basis);
        out_.prompts.back().pressure = whom;
        return true;
    }

    // The rule for the person; where that cannot be told, every rule that it might be.
    void pressure() {
        const bool weighed = person_.weight.grams > 0;
        const bool small = person_.age == AgeGroup::infant ||
                           (weighed && person_.weight < set_.small_below.value);
        if (small) {
            pressure(set_.small, PressureFor::small);
            return;
        }
        const bool adult = !person_.age || *person_.age == AgeGroup::adult;
        const bool child = !person_.age || *person_.age == AgeGroup::child || *person_.age == AgeGroup::youth;
        const bool may_be_small = !weighed && (!person_.age || *person_.age == AgeGroup::child);
        if (adult && pressure(set_.adult, PressureFor::adult)) return;
        if (child && pressure(set_.child, PressureFor::child)) return;
        if (may_be_small) pressure(set_.small, PressureFor::small);
    }

    void saturation() {
        const auto &limit = set_.saturation_below_percent;
        const Number &before = baseline_.saturation_percent, &now = now_.saturation_percent;
        if (!limit || !now || *now >= limit->value || (before && *now >= *before)) return;
        // The published limit is for air. On oxygen, or where that is not recorded, so low is no better.
        add(PromptCode::saturation_low, Severity::stop, Sign::saturation,
            now_.on_oxygen == false ? limit->basis : Basis{});
        out_.prompts.back().figures[2] = Figure(FigureKind::percent, limit->value);
    }

    void lungs() {
        if (!now_.lungs) return;
        const auto heard = static_cast<unsigned>(*now_.lungs);
        const auto before = static_cast<unsigned>(baseline_.lungs.value_or(Lungs::clear));
        if ((heard & ~before) != 0)
            add(PromptCode::lung_sounds_new, Severity::stop, Sign::lungs, rules_.new_symptom_basis);
    }

    void overload() {
        const OverloadSigns signs = overload_signs(rules_, baseline_, now_);
        if (!signs.breathing()) return;
        const Sign sign = signs.has(OverloadSign::breathing_faster)     ? Sign::respirations
                          : signs.has(OverloadSign::saturation_falling) ? Sign::saturation
                          : signs.has(OverloadSign::oxygen_needed)      ? Sign::oxygen
                          : signs.has(OverloadSign::crackles)           ? Sign::lungs
                                                                        : Sign::symptoms;
        add(PromptCode::breathing_worse, Severity::caution, sign, rules_.breathing.basis);
        out_.prompts.back().overload = signs.of_breathing();
        if (!signs.prompt()) return;
        add(PromptCode::overload_signs, Severity::stop, Sign::systolic, rules_.pressure_rise.basis);
        out_.prompts.back().overload = signs;
    }

    void missing() {
        for (int i = 0; i < sign_count; ++i) {
            const Sign sign = static_cast<Sign>(i);
            const bool before = baseline_.has(sign), now = now_.has(sign);
            if (before && now) continue;
            // Few charts have a mean pressure: only where it was taken once is it missing.
            if (sign == Sign::mean_pressure && before == now) continue;
            out_.missing.add({sign, !before, !now});
        }
    }

    const ObserveRules& rules_;
    const RuleSet& set_;
    const Person& person_;
    const Observation &baseline_, &now_;
    Change& out_;
};

}  // namespace

const Prompt* Change::find(PromptCode code) const {
    for (const Prompt& prompt : prompts)
        if (prompt.code == code) return &prompt;
    return nullptr;
}

bool Change::stops() const {
    for (const Prompt& prompt : prompts)
        if (prompt.severity == Severity::stop) return true;
    return false;
}

Change change_from(const ObserveRules& rules, const RuleSet& set, const Person& person,
                   const Observation& baseline, const Observation& now) {
    Change out;
    Comparison(rules, set, person, baseline, now, out).compare();
    return out;
}

}  // namespace hangtime
