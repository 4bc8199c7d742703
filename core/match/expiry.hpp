#pragma once

/// The expiry on a label, to the minute, with the rule for the end of the day.

#include "core/clock.hpp"
#include "core/match/label.hpp"

#include <optional>

namespace hangtime {

/// The earlier of two; where only one is there, that one. A third (written by hand after thawing) goes in by
/// calling it again.
std::optional<LabelTime> earliest_expiry(const std::optional<LabelTime>& a,
                                         const std::optional<LabelTime>& b);

/// The moment from which the unit is out of date, by the clock on the wall: the stated minute begins then;
/// the end of a day is the next midnight. Where the wall clock shows that minute twice it is the first one,
/// where it jumps over it the last minute that it shows before.
Instant expires_at(const LabelTime& expiry, const WallClock& wall);

}  // namespace hangtime
