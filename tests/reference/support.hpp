#pragma once

/// Checks against published values come in twos: our own exact value, which detects any change, and closeness
/// to the published one within a stated tolerance, which says that we mean the same thing.

#include "core/quantity.hpp"

namespace hangtime::reference {

/// |exact - published| <= tolerance, all in hundredths of mL/h.
constexpr bool close_ml_per_h(RateRatio exact, std::int64_t published_hundredths, std::int64_t tolerance_hundredths) {
    return compare_ratio(exact, exactly(hundredths_of_ml_per_h(published_hundredths - tolerance_hundredths))) >= 0 &&
           compare_ratio(exact, exactly(hundredths_of_ml_per_h(published_hundredths + tolerance_hundredths))) <= 0;
}

/// The exact drops a minute of a flow, as hundredths rounded to nearest.
constexpr std::int64_t hundredths_of_drops(RateRatio flow, DropFactor factor) {
    const Wide units = static_cast<Wide>(flow.num) * 100 * factor.per_ml;
    const Wide per = static_cast<Wide>(flow.den) * units_per_s_of_drop_per_min;
    return static_cast<std::int64_t>((2 * units + per) / (2 * per));
}

/// Whole drops a minute, rounded up so that the time is met.
constexpr std::int64_t drops_that_meet(RateRatio flow, DropFactor factor) {
    const Rate one = drops_per_min(1, factor);
    return round_up(flow, one).units_per_s / one.units_per_s;
}

}  // namespace hangtime::reference
