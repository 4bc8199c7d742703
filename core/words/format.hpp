#pragma once

/// Values in writing, exactly and without floating point.
///
/// The rules are those of the published lists of error-prone dose designations (ISMP) and of the open UK
/// guides to clinical date, time and number display (NHS Common User Interface): no trailing zero, a leading
/// zero, a space before the unit, mL, a 24-hour clock, durations in whole units with the zero ones left out,
/// "not recorded" and never a blank.
///
/// A volume, a rate or a dose never has a trailing zero (50 mL, never 50.0 mL: read in a hurry it is 500); a
/// measured value keeps the digits that were measured (37.0 degrees is not 37). So they are two functions,
/// `dose_number` and `measured_number`, and nothing else writes a decimal.

#include "core/clock.hpp"
#include "core/component.hpp"
#include "core/quantity.hpp"
#include "core/words/figure.hpp"

#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>

namespace hangtime {

inline constexpr std::string_view not_recorded_text = "not recorded";

/// The parts after one another.
std::string joined(std::initializer_list<std::string_view> parts);

/// A label inside a sentence: "Red cells" -> "red cells".
std::string lower_first(std::string_view text);

enum class Rounding : std::uint8_t { nearest, down, up };

/// num / den with at most `places` (0 to 9) decimals and no trailing zero; den > 0. Halves go away from zero.
std::string dose_number(Wide num, std::int64_t den, int places, Rounding rounding = Rounding::nearest);

/// A value that was measured in tenths: always one decimal. 370 gives "37.0".
std::string measured_number(std::int64_t tenths);

/// "316 mL", "217.5 mL". To 0.1 mL, as devices count; below 10 mL, and in sums, to 0.01 mL.
std::string volume_text(Volume v, Rounding rounding = Rounding::nearest);
std::string exact_volume_text(Volume v);

/// "174 mL/h", "58 mL/h", "3.33 mL/h": to 0.01 mL/h. A rate on a device's step so never has more digits than
/// the step has.
std::string rate_text(Rate r);
/// "173.43 mL/h": an exact flow, to 0.01 mL/h.
std::string ratio_text(RateRatio r, Rounding rounding = Rounding::nearest);

/// "11.6 kg", "84.147 kg": to the gram. 0 is "not recorded".
std::string mass_text(Mass m);

std::string rate_per_kg_text(RatePerKg r);      // "5 mL/kg/h"
std::string dose_per_kg_text(DosePerKg d);      // "10 mL/kg"
std::string drop_factor_text(DropFactor f);     // "20 drops/mL"
std::string drops_text(std::int64_t per_min);   // "11 drops/min", "1 drop/min"
std::string percent_text(std::int64_t tenths);  // "5 %"

/// "1 h 45 min", "2 h", "15 min", "1 h 59 min 40 s", "0 min". The sign is left out: the words around it say
/// which way.
std::string span_text(Seconds s);
/// The same in whole minutes, rounded down: for what is left, so that it is never said to be more.
std::string minutes_left_text(Seconds s);
/// "+0:15", "+2:00", "+1:59:40": time since the start, as it stands in a column.
std::string elapsed_text(Seconds s);

/// What times on a sheet or a screen are told against: the wall clock, and the day and the offset of the
/// first event of the session.
struct DayClock {
    WallClock wall{};
    std::int64_t first_day = 0;
    Seconds offset{0};

    DayClock() = default;
    DayClock(const WallClock& clock, Instant first);
};

/// "13:52", "15:51:40" (seconds only where there are any), "00:10 day +1". Where the clock is put back or
/// forward in the session, the times after that (and those that come twice) say their offset: "02:30 UTC+1".
std::string clock_text(Instant at, const DayClock& day);
/// The same to the minute, rounded down: for a running clock.
std::string minute_text(Instant at, const DayClock& day);
/// "UTC+1", "UTC-3:30", "UTC"
std::string utc_offset_text(Seconds offset);

/// A figure by its kind, as it stands in a sum or a sentence.
std::string figure_text(const Figure& figure, const DayClock& day);

}  // namespace hangtime
