#pragma once

/// One set of observations: values that were read off a person, each of them recorded or not. What is not
/// recorded is missing; nothing ever takes it for normal.
///
/// How a session and a screen use it: a log record `observed` holds the kind of the check and one
/// Observation, written and read by the two functions below; the entry screen asks `problem_of` before it
/// takes a value and `questions_about` before it keeps the set. What follows from a set is worked out by
/// change.hpp (against the baseline), news2.hpp (by itself), overload.hpp and reaction.hpp; nothing of that
/// is stored.

#include "core/fixed_list.hpp"
#include "core/json/field.hpp"
#include "core/json/write.hpp"
#include "core/words/figure.hpp"
#include "core/words/observe_codes.hpp"

#include <cstdint>
#include <optional>
#include <type_traits>

namespace hangtime {

/// A temperature as it was charted, in tenths of a degree of its unit. Two of them are never converted: they
/// are compared in units of 1/90 degree C, in which a tenth of either is a whole number.
struct Temperature {
    std::int16_t tenths = 0;
    TemperatureUnit unit = TemperatureUnit::celsius;

    /// Above 0 degrees C, in 1/90 of a degree C: 9 for a tenth C, 5 for a tenth F.
    constexpr std::int32_t ninetieths() const {
        return unit == TemperatureUnit::celsius ? tenths * 9 : (tenths - 320) * 5;
    }
    /// The same figure, in the same unit.
    friend constexpr bool operator==(Temperature, Temperature) = default;
};
constexpr Temperature tenths_c(std::int32_t n) {
    return {static_cast<std::int16_t>(n), TemperatureUnit::celsius};
}
constexpr Temperature tenths_f(std::int32_t n) {
    return {static_cast<std::int16_t>(n), TemperatureUnit::fahrenheit};
}
/// A difference of `tenths` of a degree C, in 1/90 of one.
constexpr std::int32_t ninetieths_of_rise(std::int32_t tenths) { return tenths * 9; }

/// A set of symptoms that were asked about; those that are not in it were denied or not seen.
struct Symptoms {
    std::uint64_t bits = 0;

    constexpr bool has(Symptom s) const { return (bits >> static_cast<unsigned>(s) & 1) != 0; }
    constexpr void add(Symptom s) { bits |= std::uint64_t{1} << static_cast<unsigned>(s); }
    friend constexpr bool operator==(Symptoms, Symptoms) = default;
};
static_assert(symptom_count <= 64);

struct Observation {
    std::optional<Temperature> temperature{};
    std::optional<std::int16_t> pulse_per_min{};
    std::optional<std::int16_t> systolic_mmhg{}, diastolic_mmhg{}, mean_mmhg{};
    std::optional<std::int16_t> respirations_per_min{};
    std::optional<std::int16_t> saturation_percent{};
    std::optional<bool> on_oxygen{};
    std::optional<Consciousness> consciousness{};
    std::optional<Lungs> lungs{};
    std::optional<Site> site{};
    std::optional<Urine> urine{};
    std::optional<Symptoms> symptoms{};  // none: not asked about

    bool has(Sign sign) const;
    void clear(Sign sign);

    friend bool operator==(const Observation&, const Observation&) = default;
};
static_assert(std::is_trivially_copyable_v<Observation> && sizeof(Observation) <= 72);

/// A value with its unit, for words; of the signs that are numbers. None where it is not recorded.
Figure figure_of(const Observation& set, Sign sign);

/// What a number can be at all (what is outside is refused) and what it usually is (what is outside is asked
/// about), both inclusive. Temperatures in tenths of the unit. Common practice, no source: wide enough for
/// every patient that somebody can chart, narrow enough to catch a slipped digit.
struct SignRange {
    std::int32_t least = 0, most = 0;
    std::int32_t usual_least = 0, usual_most = 0;
};
/// For temperature, pulse, the three pressures, respirations and saturation; all 0 for the rest.
SignRange range_of(Sign sign, TemperatureUnit unit = TemperatureUnit::celsius);

/// Something in a set that is worth a question before it is kept: the sign, its value and what is usual.
struct SetQuestion {
    enum class Kind : std::uint8_t { unusual, pressures_close, nothing_recorded };
    Kind kind{};
    Sign sign{};
    Figure value{}, least{}, most{};
};
using SetQuestions = FixedList<SetQuestion, 10>;
SetQuestions questions_about(const Observation& set);

/// What cannot be: a value outside its range, a diastolic pressure that is not below the systolic one, a mean
/// that is not between them. The sign that is wrong, or none. A reader refuses such a set.
struct SetProblem {
    enum class Kind : std::uint8_t { impossible, not_below_systolic, mean_not_between };
    Kind kind{};
    Sign sign{};
};
std::optional<SetProblem> problem_of(const Observation& set);

/// {"temperature_c": 37.0, "pulse_per_min": 80, ...} on one line; what is not recorded is left out.
void write_observation(json::Writer& out, const Observation& set);

/// The same, strict, with the path of what is wrong in the field's report.
Observation read_observation(const json::Field& field);

}  // namespace hangtime
