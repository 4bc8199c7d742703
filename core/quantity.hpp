#pragma once

/// Volumes, rates and masses, exactly.
///
/// Nothing in core/ is a floating-point number. The base units are chosen so that everything a pump or a
/// drip can be set to is a whole number of them, and so that rate x seconds *is* a volume with no remainder:
///
///     1 mL             = 2 160 000 units of volume
///     1 mL/h           =       600 units a second
///     0.1 mL/h         =        60 units a second
///     1 drop a minute  = 36 000 / drop factor, units a second   (10, 15, 20 and 60 drops/mL all divide it)
///
/// Each quantity is a struct with one named value, so that units are always written out, and so that a
/// volume plus a rate does not compile (tests/compile_fail/ proves it).
///
/// What cannot be a whole number of units (a limit in mL/kg/h times a weight in grams, what is left of the
/// bag over the seconds that are left) stays a ratio and is compared, never rounded: see RateRatio.

#include <compare>
#include <cstdint>

namespace hangtime {

/// Seconds between two moments. Negative means "before".
struct Seconds {
    std::int64_t count = 0;

    friend constexpr auto operator<=>(Seconds, Seconds) = default;
    friend constexpr Seconds operator+(Seconds a, Seconds b) { return {a.count + b.count}; }
    friend constexpr Seconds operator-(Seconds a, Seconds b) { return {a.count - b.count}; }
    friend constexpr Seconds operator-(Seconds a) { return {-a.count}; }
};

constexpr Seconds minutes(std::int64_t n) { return {n * 60}; }
constexpr Seconds hours(std::int64_t n) { return {n * 3600}; }

/// A volume of fluid, in 1/2 160 000 mL.
struct Volume {
    std::int64_t units = 0;

    friend constexpr auto operator<=>(Volume, Volume) = default;
    friend constexpr Volume operator+(Volume a, Volume b) { return {a.units + b.units}; }
    friend constexpr Volume operator-(Volume a, Volume b) { return {a.units - b.units}; }
};

inline constexpr std::int64_t units_per_ml = 2'160'000;

constexpr Volume ml(std::int64_t n) { return {n * units_per_ml}; }
constexpr Volume tenths_of_ml(std::int64_t n) { return {n * (units_per_ml / 10)}; }
constexpr Volume hundredths_of_ml(std::int64_t n) { return {n * (units_per_ml / 100)}; }

/// A flow that a device can be set to, in units of volume a second.
struct Rate {
    std::int64_t units_per_s = 0;

    friend constexpr auto operator<=>(Rate, Rate) = default;
    friend constexpr Rate operator+(Rate a, Rate b) { return {a.units_per_s + b.units_per_s}; }
    friend constexpr Rate operator-(Rate a, Rate b) { return {a.units_per_s - b.units_per_s}; }
};

inline constexpr std::int64_t units_per_s_of_ml_per_h = 600;

constexpr Rate ml_per_h(std::int64_t n) { return {n * units_per_s_of_ml_per_h}; }
constexpr Rate tenths_of_ml_per_h(std::int64_t n) { return {n * (units_per_s_of_ml_per_h / 10)}; }
constexpr Rate hundredths_of_ml_per_h(std::int64_t n) { return {n * (units_per_s_of_ml_per_h / 100)}; }

constexpr Volume operator*(Rate r, Seconds s) { return {r.units_per_s * s.count}; }
constexpr Volume operator*(Seconds s, Rate r) { return r * s; }

/// A body mass, in grams. 0 means "not recorded"; no mass that the readers accept is 0.
struct Mass {
    std::int64_t grams = 0;

    friend constexpr auto operator<=>(Mass, Mass) = default;
};

/// Drops in a millilitre: 10, 15, 20 or 60, by the administration set.
struct DropFactor {
    std::int32_t per_ml = 0;

    friend constexpr auto operator<=>(DropFactor, DropFactor) = default;
};

inline constexpr std::int64_t units_per_s_of_drop_per_min = 36'000;  // divided by the drop factor

constexpr bool is_drop_factor(std::int64_t per_ml) {
    return per_ml > 0 && per_ml <= 60 && units_per_s_of_drop_per_min % per_ml == 0;
}
constexpr Rate drops_per_min(std::int64_t drops, DropFactor f) {
    return {drops * (units_per_s_of_drop_per_min / f.per_ml)};
}

/// A limit by weight: units of volume a second for each kilogram (1 mL/kg/h = 600).
struct RatePerKg {
    std::int64_t units_per_s = 0;

    friend constexpr auto operator<=>(RatePerKg, RatePerKg) = default;
};
constexpr RatePerKg hundredths_of_ml_per_kg_per_h(std::int64_t n) { return {n * 6}; }

/// A dose by weight, in tenths of a mL for each kilogram: with a mass in grams that is always a whole number
/// of units (216 for each tenth and gram), so no dose by weight is ever rounded.
struct DosePerKg {
    std::int64_t tenths_of_ml = 0;

    friend constexpr auto operator<=>(DosePerKg, DosePerKg) = default;
};
constexpr Volume operator*(DosePerKg d, Mass m) {
    return {d.tenths_of_ml * m.grams * (units_per_ml / 10 / 1000)};
}

/// An exact flow that need not lie on any device's grid: num / den units of volume a second, den > 0.
struct RateRatio {
    std::int64_t num = 0;
    std::int64_t den = 1;

    /// The same fraction, not the same value: for that, compare_ratio.
    friend constexpr bool operator==(RateRatio, RateRatio) = default;
};

constexpr RateRatio exactly(Rate r) { return {r.units_per_s, 1}; }
constexpr RateRatio operator*(RatePerKg r, Mass m) { return {r.units_per_s * m.grams, 1000}; }
constexpr RateRatio operator/(Volume v, Seconds s) { return {v.units, s.count}; }  // s must be positive

__extension__ using Wide = __int128;  // products of two bounded quantities: see the static_asserts below

/// The one comparison of exact flows, in 128 bits.
constexpr std::strong_ordering compare_ratio(RateRatio a, RateRatio b) {
    const Wide left = static_cast<Wide>(a.num) * b.den;
    const Wide right = static_cast<Wide>(b.num) * a.den;
    return left <=> right;
}

/// a / b rounded towards minus infinity, and towards plus infinity; b > 0.
constexpr std::int64_t floor_div(Wide a, std::int64_t b) {
    const Wide q = a / b;
    return static_cast<std::int64_t>(a % b < 0 ? q - 1 : q);
}
constexpr std::int64_t ceil_div(Wide a, std::int64_t b) {
    const Wide q = a / b;
    return static_cast<std::int64_t>(a % b > 0 ? q + 1 : q);
}

/// The whole multiple of `step` at or above, and at or below, an exact flow; step > 0.
constexpr Rate round_up(RateRatio r, Rate step) {
    return {ceil_div(ceil_div(r.num, r.den), step.units_per_s) * step.units_per_s};
}
constexpr Rate round_down(RateRatio r, Rate step) {
    return {floor_div(floor_div(r.num, r.den), step.units_per_s) * step.units_per_s};
}

/// The first whole second by which `v` has run at `r` (rounded up); r > 0.
constexpr Seconds time_for(Volume v, Rate r) { return {ceil_div(v.units, r.units_per_s)}; }

/// What flows in `s` at an exact flow, rounded down to a unit.
constexpr Volume flowed(RateRatio r, Seconds s) {
    return {floor_div(static_cast<Wide>(r.num) * s.count, r.den)};
}

/// Bounds of every input; readers refuse what lies outside, and the arithmetic above relies on it.
namespace bounds {
inline constexpr Volume volume = ml(5'000);
inline constexpr Rate rate = ml_per_h(6'000);
inline constexpr Mass mass = {500'000};
inline constexpr Mass least_mass = {200};
inline constexpr Seconds span = hours(5 * 24);
inline constexpr RatePerKg rate_per_kg = hundredths_of_ml_per_kg_per_h(10'000);  // 100 mL/kg/h
inline constexpr DosePerKg dose_per_kg = {2'000};                                // 200 mL/kg
}  // namespace bounds

// A rate that runs for the longest span, and any limit by weight, fit 63 bits; a product of two ratios fits 127.
static_assert(bounds::rate.units_per_s * bounds::span.count < INT64_MAX / 4);
static_assert(bounds::rate_per_kg.units_per_s * bounds::mass.grams < INT64_MAX / 4);
static_assert(static_cast<Wide>(bounds::dose_per_kg.tenths_of_ml) * bounds::mass.grams * 216 < INT64_MAX / 4);
static_assert(static_cast<Wide>(bounds::rate.units_per_s) * bounds::span.count < (static_cast<Wide>(1) << 62));
static_assert(tenths_of_ml_per_h(1) * hours(1) == tenths_of_ml(1));
static_assert(drops_per_min(1, {20}) * minutes(20) == ml(1));

}  // namespace hangtime
