#pragma once

/// How each sign is entered: its order, its unit, its choices; for web/screens/observe_entry*.cpp.

#include "core/observe/observation.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::screens::sign_entry {

// As a chart has them; the mean pressure where the baseline has one.
inline constexpr Sign order[] = {Sign::temperature,   Sign::pulse,        Sign::systolic,   Sign::diastolic,
                          Sign::mean_pressure, Sign::respirations, Sign::saturation, Sign::oxygen,
                          Sign::consciousness, Sign::lungs,        Sign::site,       Sign::urine,
                          Sign::symptoms};
static_assert(sizeof order / sizeof *order == sign_count);

constexpr bool is_number(Sign sign) { return sign <= Sign::saturation; }
std::optional<std::int16_t>* number_of(Observation& set, Sign sign);
std::string_view unit_text(Sign sign, TemperatureUnit unit);
std::string digits_of(const Observation& set, Sign sign);
/// The names of what can be chosen, and which one is; -1: none.
std::vector<std::string_view> choices_of(Sign sign);
int chosen_of(const Observation& set, Sign sign);
void choose(Observation& set, Sign sign, int n);

} // namespace hangtime::screens::sign_entry
