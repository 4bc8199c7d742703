#pragma once

/// Codes of sequences and rounds; see core/words/codes.hpp for what a code is.

#include <cstdint>

namespace hangtime {

/// Whether a set may carry another unit after the first. Hours, units and a change of component limit it as
/// well.
enum class SetUse : std::uint8_t { new_for_each, may_be_kept };

/// Which change of component needs a new set. That one which never goes through a used set (platelets) gets a
/// new one either way.
enum class SetChange : std::uint8_t { any, as_component_says };

/// After which units somebody looks again, before the next one is called for.
enum class Reassess : std::uint8_t { each_unit, at_risk, not_asked };

/// Why a unit of a sequence gets a new set; the first that applies.
enum class NewSet : std::uint8_t {
    kept,              // none: the set is kept
    first_unit,
    each_unit,         // the protocol has a new one for each
    component_asks,    // never through a set that carried another component
    component_changes, // any change needs one here
    units,             // it has carried as many as it may
    would_expire,      // the unit would not be all in before the set has to be changed
};

/// Why the next bag is not called for yet.
enum class CallHold : std::uint8_t {
    none,
    reassess_first,    // look again first
    at_risk,           // at risk of circulatory overload: one unit, then look again
    risk_not_recorded, // whether there is such a risk is not recorded, which counts as one
};

}  // namespace hangtime
