#pragma once

/// Tells a jump of the wall clock from time that passed, by a second clock that never jumps.

#include "core/quantity.hpp"

#include <cstdint>
#include <optional>

namespace hangtime::platform {

class ClockWatch {
public:
    /// Smaller differences are the machine setting its clock little by little, or are rounding.
    static constexpr std::int64_t least_ms = 1500;

    /// How far the wall clock moved against the other one since the last look; none below `least_ms`, and at the
    /// first look. Rounded to whole seconds.
    std::optional<Seconds> look(std::int64_t now_ms, std::int64_t wall_ms) {
        const std::int64_t apart = wall_ms - now_ms;
        const std::int64_t moved = apart - apart_.value_or(apart);
        apart_ = apart;
        if (moved > -least_ms && moved < least_ms)
            return std::nullopt;
        return Seconds{(moved + (moved < 0 ? -500 : 500)) / 1000};
    }

private:
    std::optional<std::int64_t> apart_;
};

} // namespace hangtime::platform
