#pragma once

/// Signs of circulatory overload: a prompt on breathing that is worse together with a pressure that rises,
/// never a diagnosis. The published definition (ISBT/IHN/AABB 2018) needs three of five kinds of criteria,
/// and no observation can show more than two of them; it gives no numbers, so the ward's own stand in the
/// protocol. Fever does not exclude overload, and overload is no fall of pressure.
///
/// How a session uses it: the bits are in change_from()'s `overload_signs` prompt. Slowing down is an action
/// of its own: take `slowed_rate` as a ceiling for the rest, reckon again, and say at once what no longer
/// fits.

#include "core/observe/observation.hpp"
#include "core/protocol/observe_rules.hpp"

#include <cstdint>
#include <optional>

namespace hangtime {

struct OverloadSigns {
    std::uint16_t bits = 0;

    constexpr bool has(OverloadSign s) const { return (bits >> static_cast<unsigned>(s) & 1) != 0; }
    constexpr void add(OverloadSign s, bool there) {
        if (there) bits = static_cast<std::uint16_t>(bits | 1u << static_cast<unsigned>(s));
    }
    constexpr OverloadSigns of_breathing() const { return {static_cast<std::uint16_t>(bits & 0x1F)}; }
    constexpr bool breathing() const { return of_breathing().bits != 0; }  // any of the first five
    constexpr bool pressure() const { return (bits & 0xE0) != 0; }   // any of the next three
    constexpr bool prompt() const { return breathing() && pressure(); }

    friend constexpr bool operator==(OverloadSigns, OverloadSigns) = default;
};
static_assert(static_cast<int>(OverloadSign::pressure_rising) == 5);
static_assert(static_cast<int>(OverloadSign::pulse_faster) == 8);

/// What of them is new or worse against the baseline. A number that is missing on either side shows nothing
/// here; change_from() lists it as not compared.
OverloadSigns overload_signs(const ObserveRules& rules, const Observation& baseline, const Observation& now);

/// The symptoms that are there now and were not at the baseline (all of them where it did not ask).
Symptoms new_symptoms(const Observation& baseline, const Observation& now);

/// The highest rate after slowing down, on the device's step; 0 where even one step would be more: then
/// there is no slower, only a stop. `step` must be positive.
Rate slowed_rate(const ReactionRules& rules, Rate running, Rate step);

}  // namespace hangtime
