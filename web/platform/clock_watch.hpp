#pragma once

/// Tells a jump of the wall clock from time that passed, by a second clock that never jumps.

#include "core/quantity.hpp"

#include <cstdint>
#include <optional>

namespace hangtime::platform {

/// How long it takes at most until a running page looks at the clock again: each second while something ticks, else
/// when the picture is due, which is every minute; a browser lets a hidden page wait for another minute.
constexpr std::int64_t looks_within_ms(bool ticks, bool hidden) {
    return ticks ? 1000 : hidden ? 120'000 : 60'000;
}

class ClockWatch {
public:
    /// Smaller differences are the machine setting its clock little by little, or are rounding.
    static constexpr std::int64_t least_ms = 1500;

    /// A page that looks once a second, or at least as often as it asked to be woken, and did not for so much longer,
    /// was not running: what the wall clock went on by meanwhile is sleep. A clock that is set by hand moves between two
    /// looks that are as near to each other as ever, also on machines whose other clock stands still while they sleep.
    static constexpr std::int64_t silent_ms = 1500;

    struct Moved {
        Seconds by{};
        bool slept = false;
        friend bool operator==(const Moved&, const Moved&) = default;
    };
    /// The same as `look`, and whether sleep explains it; `looks_within_ms`: how long it takes at most until the next look
    /// while the page runs.
    std::optional<Moved> look_awake(std::int64_t now_ms, std::int64_t wall_ms, std::int64_t looks_within_ms) {
        const bool silent = last_ms_ && now_ms - *last_ms_ >= looks_within_ms + silent_ms;
        const std::optional<Seconds> by = look(now_ms, wall_ms);
        if (!by)
            return std::nullopt;
        return Moved{*by, silent && *by > Seconds{}};
    }

    /// How far the wall clock moved against the other one since the last look; none below `least_ms`, and at the
    /// first look. Rounded to whole seconds.
    std::optional<Seconds> look(std::int64_t now_ms, std::int64_t wall_ms) {
        last_ms_ = now_ms;
        const std::int64_t apart = wall_ms - now_ms;
        const std::int64_t moved = apart - apart_.value_or(apart);
        apart_ = apart;
        if (moved > -least_ms && moved < least_ms)
            return std::nullopt;
        return Seconds{(moved + (moved < 0 ? -500 : 500)) / 1000};
    }

private:
    std::optional<std::int64_t> apart_, last_ms_;
};

} // namespace hangtime::platform
