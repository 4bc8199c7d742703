#pragma once

/// A value together with what it is, so that a sum or a warning can be put into words later without an
/// allocation now.

#include "core/clock.hpp"
#include "core/component.hpp"
#include "core/quantity.hpp"
#include "core/words/codes.hpp"

#include <array>
#include <cstdint>

namespace hangtime {

enum class FigureKind : std::uint8_t {
    none, volume, rate, ratio, span, instant, mass, rate_per_kg, dose_per_kg, drop_factor, count, percent_tenths,
    tenths_c, tenths_f, mmhg, per_min, percent,  // observations
};

/// One value. `a` is in the base unit of its kind; `b` is the denominator of a ratio only.
struct Figure {
    FigureKind kind = FigureKind::none;
    std::int64_t a = 0;
    std::int64_t b = 1;

    constexpr Figure() = default;
    constexpr Figure(FigureKind k, std::int64_t value) : kind(k), a(value) {}
    constexpr Figure(Volume v) : kind(FigureKind::volume), a(v.units) {}
    constexpr Figure(Rate r) : kind(FigureKind::rate), a(r.units_per_s) {}
    constexpr Figure(RateRatio r) : kind(FigureKind::ratio), a(r.num), b(r.den) {}
    constexpr Figure(Seconds s) : kind(FigureKind::span), a(s.count) {}
    constexpr Figure(Instant t) : kind(FigureKind::instant), a(t.utc) {}
    constexpr Figure(Mass m) : kind(FigureKind::mass), a(m.grams) {}
    constexpr Figure(RatePerKg r) : kind(FigureKind::rate_per_kg), a(r.units_per_s) {}
    constexpr Figure(DosePerKg d) : kind(FigureKind::dose_per_kg), a(d.tenths_of_ml) {}
    constexpr Figure(DropFactor f) : kind(FigureKind::drop_factor), a(f.per_ml) {}

    friend constexpr bool operator==(const Figure&, const Figure&) = default;
};

inline constexpr std::size_t most_figures = 5;

/// A sum: its kind and its figures, in the order that SumKind states.
struct Sum {
    SumKind kind = SumKind::none;
    std::array<Figure, most_figures> figures{};

    friend constexpr bool operator==(const Sum&, const Sum&) = default;
};

template <class... F>
constexpr Sum sum_of(SumKind kind, F... figures) {
    static_assert(sizeof...(F) <= most_figures);
    return Sum{kind, {Figure(figures)...}};
}

}  // namespace hangtime
