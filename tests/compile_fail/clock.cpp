// Moments are not spans, and neither is a number. For the format see quantity.cpp.

#include "core/clock.hpp"

using namespace hangtime;

constexpr Instant issued{1'773'492'000}, started{1'773'492'720};

//! a moment plus a moment: issued -> minutes(12)
auto x = started + issued;

//! a moment plus a number: 720 -> Seconds{720}
auto x = issued + 720;

//! a number minus a moment: 1'773'492'720 -> started
auto x = 1'773'492'720 - issued;

//! a span minus a moment: minutes(12) -> started
auto x = minutes(12) - issued;

//! a negated moment: -issued -> -minutes(1)
auto x = -issued;

//! a moment compared with a span: minutes(240) -> issued + minutes(240)
bool x = started < minutes(240);

//! a moment compared with a number: 0 -> Instant{0}
bool x = started < 0;

//! a difference of moments taken for a moment: started - issued -> started
Instant x = started - issued;

//! a span taken for a moment: minutes(30) -> issued + minutes(30)
Instant x = minutes(30);

//! a moment where a span is wanted: * started -> * (started - issued)
auto x = ml_per_h(50) * started;

//! a moment without its precision: started -> {started}
Stated x = started;

//! a bare number of hours as the wall clock: (1) -> (hours(1))
WallClock x(1);

//! a number as the wall clock without saying so: = hours(1) -> {hours(1)}
WallClock x = hours(1);
