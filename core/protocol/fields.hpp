#pragma once

/// Quantities out of JSON fields, exactly and inside their bounds. The unit stands in the field's key; each
/// function says how many decimals that unit takes. Used for protocols and for transfusions.

#include "core/json/field.hpp"
#include "core/protocol/protocol.hpp"
#include "core/quantity.hpp"
#include "core/words/spelling.hpp"

#include <vector>

namespace hangtime::fields {

/// Keys in ..._ml: 2 decimals.
inline Volume volume(const json::Field& f, Volume least, Volume most) {
    constexpr std::int64_t unit = hundredths_of_ml(1).units;
    return hundredths_of_ml(f.decimal(2, least.units / unit, most.units / unit));
}
inline Volume volume(const json::Field& f) { return volume(f, tenths_of_ml(1), bounds::volume); }

/// ..._ml_per_h: 2 decimals.
inline Rate rate(const json::Field& f) {
    constexpr std::int64_t unit = hundredths_of_ml_per_h(1).units_per_s;
    return hundredths_of_ml_per_h(f.decimal(2, 1, bounds::rate.units_per_s / unit));
}

/// ..._ml_per_kg_per_h: 2 decimals.
inline RatePerKg rate_per_kg(const json::Field& f) {
    constexpr std::int64_t unit = hundredths_of_ml_per_kg_per_h(1).units_per_s;
    return hundredths_of_ml_per_kg_per_h(f.decimal(2, 1, bounds::rate_per_kg.units_per_s / unit));
}

/// ..._ml_per_kg: 1 decimal.
inline DosePerKg dose_per_kg(const json::Field& f) {
    return {f.decimal(1, 1, bounds::dose_per_kg.tenths_of_ml)};
}

/// ..._kg: 3 decimals.
inline Mass mass(const json::Field& f) {
    return {f.decimal(3, bounds::least_mass.grams, bounds::mass.grams)};
}

/// ..._min: whole minutes.
inline Seconds minutes_of(const json::Field& f, std::int64_t least, std::int64_t most) {
    return minutes(f.integer(least, most));
}

/// drops_per_ml: whole, and such that a drop a minute is a whole number of units.
inline DropFactor drop_factor(const json::Field& f) {
    const std::int64_t n = f.integer(1, 60);
    if (f.report().ok() && !is_drop_factor(n))
        f.fail(std::to_string(n) + " drops/mL is no drop factor of a set", "10, 15, 20 or 60, for example");
    return {static_cast<std::int32_t>(is_drop_factor(n) ? n : 20)};
}

/// A code of E, by its spelling in core/words. `left_out` of the last ones are not accepted in files.
template <class E>
E choice(const json::Field& f, int left_out = 0) {
    std::vector<std::string_view> accepted;
    for (int i = 0, n = code_count<E>() - left_out; i < n; ++i) accepted.push_back(code(static_cast<E>(i)));
    return static_cast<E>(f.choice(accepted));
}

}  // namespace hangtime::fields
