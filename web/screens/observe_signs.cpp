#include "web/screens/observe_signs.hpp"

#include "core/report/observe_sheet.hpp"
#include "core/words/format.hpp"
#include "core/words/observe_words.hpp"

namespace hangtime::screens::sign_entry {

std::optional<std::int16_t>* number_of(Observation& set, Sign sign) {
    switch (sign) {
    case Sign::pulse: return &set.pulse_per_min;
    case Sign::systolic: return &set.systolic_mmhg;
    case Sign::diastolic: return &set.diastolic_mmhg;
    case Sign::mean_pressure: return &set.mean_mmhg;
    case Sign::respirations: return &set.respirations_per_min;
    case Sign::saturation: return &set.saturation_percent;
    default: return nullptr;
    }
}

std::string_view unit_text(Sign sign, TemperatureUnit unit) {
    switch (sign) {
    case Sign::temperature: return name(unit);
    case Sign::pulse:
    case Sign::respirations: return "/min";
    case Sign::systolic:
    case Sign::diastolic:
    case Sign::mean_pressure: return "mmHg";
    case Sign::saturation: return "%";
    default: return {};
    }
}

std::string digits_of(const Observation& set, Sign sign) {
    const Figure f = figure_of(set, sign);
    if (f.kind == FigureKind::none)
        return {};
    return sign == Sign::temperature ? measured_number(f.a) : dose_number(f.a, 1, 0);
}

std::vector<std::string_view> choices_of(Sign sign) {
    std::vector<std::string_view> out;
    switch (sign) {
    case Sign::oxygen: return {"air", "oxygen"};
    case Sign::consciousness:
        for (int i = 0; i < consciousness_count; ++i)
            out.push_back(name(static_cast<Consciousness>(i)));
        break;
    case Sign::lungs:
        for (int i = 0; i < lungs_count; ++i)
            out.push_back(name(static_cast<Lungs>(i)));
        break;
    case Sign::site:
        for (int i = 0; i < site_count; ++i)
            out.push_back(name(static_cast<Site>(i)));
        break;
    case Sign::urine:
        for (int i = 0; i < urine_count; ++i)
            out.push_back(name(static_cast<Urine>(i)));
        break;
    default: break;
    }
    return out;
}

int chosen_of(const Observation& set, Sign sign) {
    if (!set.has(sign))
        return -1;
    switch (sign) {
    case Sign::oxygen: return *set.on_oxygen ? 1 : 0;
    case Sign::consciousness: return static_cast<int>(*set.consciousness);
    case Sign::lungs: return static_cast<int>(*set.lungs);
    case Sign::site: return static_cast<int>(*set.site);
    case Sign::urine: return static_cast<int>(*set.urine);
    default: return -1;
    }
}

void choose(Observation& set, Sign sign, int n) {
    switch (sign) {
    case Sign::oxygen: set.on_oxygen = n == 1; break;
    case Sign::consciousness: set.consciousness = static_cast<Consciousness>(n); break;
    case Sign::lungs: set.lungs = static_cast<Lungs>(n); break;
    case Sign::site: set.site = static_cast<Site>(n); break;
    case Sign::urine: set.urine = static_cast<Urine>(n); break;
    default: break;
    }
}

} // namespace hangtime::screens::sign_entry
