// Mixed units must not compile. Read by run.py: each block after a "//!" line must be refused by the
// compiler, and must compile once the first text is replaced by the second (so it is refused for that reason
// and no other).

#include "core/quantity.hpp"

using namespace hangtime;

//! a volume plus a rate: ml_per_h(50) -> ml(50)
auto x = ml(316) + ml_per_h(50);

//! a rate minus a volume: ml(50) -> ml_per_h(50)
auto x = ml_per_h(174) - ml(50);

//! a volume plus a mass: Mass{60'000} -> ml(60)
auto x = ml(316) + Mass{60'000};

//! a volume plus a span: minutes(15) -> ml(15)
auto x = ml(316) + minutes(15);

//! a span plus a number: 15 -> minutes(15)
auto x = minutes(5) + 15;

//! a bare number as a rate: 50 -> ml_per_h(50)
Rate x = 50;

//! a bare number as a volume: 316 -> ml(316)
Volume x = 316;

//! a bare number as a mass: 60 -> {60'000}
Mass x = 60;

//! a rate assigned to a volume: ml_per_h(50) -> ml(50)
Volume x = ml_per_h(50);

//! a volume assigned to a rate: ml(50) -> ml_per_h(50)
Rate x = ml(50);

//! a rate made of a volume in braces: Rate x{ml(50)} -> Rate x{ml(50).units}
Rate x{ml(50)};

//! a volume as a number: ml(50) -> ml(50).units
std::int64_t x = ml(50);

//! a mass where a volume is wanted: Mass{60'000} -> ml(60)
auto x = time_for(Mass{60'000}, ml_per_h(50));

//! volume and rate the wrong way round: ml_per_h(50), ml(316) -> ml(316), ml_per_h(50)
auto x = time_for(ml_per_h(50), ml(316));

//! a rate times a rate: ml_per_h(60) -> minutes(60)
auto x = ml_per_h(50) * ml_per_h(60);

//! a rate times a bare number of seconds: 900 -> minutes(15)
auto x = ml_per_h(50) * 900;

//! a rate times a mass: ml_per_h(5) -> hundredths_of_ml_per_kg_per_h(500)
auto x = ml_per_h(5) * Mass{11'600};

//! a dose by weight times a bare number of kilograms: 12 -> Mass{12'000}
auto x = DosePerKg{100} * 12;

//! a dose by weight taken for a rate by weight: DosePerKg{100} -> hundredths_of_ml_per_kg_per_h(1'000)
RateRatio x = DosePerKg{100} * Mass{11'600};

//! a rate by weight compared with a rate: ml_per_h(50) -> hundredths_of_ml_per_kg_per_h(50)
bool x = hundredths_of_ml_per_kg_per_h(100) < ml_per_h(50);

//! a volume compared with a rate: ml_per_h(50) -> ml(50)
bool x = ml(316) < ml_per_h(50);

//! a volume compared with a number: 50 -> ml(50)
bool x = ml(316) < 50;

//! a volume equal to a mass: Mass{1} -> Volume{1}
bool x = ml(316) == Mass{1};

//! exact flows compared without compare_ratio: a < b -> compare_ratio(a, b) < 0
RateRatio a{1, 3}, b{2, 6};
bool x = a < b;

//! an exact flow where a rate to set is wanted: RateRatio{1, 3} -> ml_per_h(1)
Rate x = RateRatio{1, 3};

//! a volume divided by a bare number: 7'200 -> hours(2)
auto x = ml(316) / 7'200;

//! drops a minute without the set's drop factor: 11, 10 -> 11, DropFactor{10}
auto x = drops_per_min(11, 10);

//! half a millilitre lost in a conversion: 0.5} -> 5}
Volume x{0.5};

//! rounding to a step that is a volume: ml(1) -> ml_per_h(1)
auto x = round_up(RateRatio{1, 3}, ml(1));
