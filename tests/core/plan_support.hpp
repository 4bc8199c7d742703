#pragma once

/// A protocol and a state to start from in tests of the reckoning: the rules that the worked results take
/// "unless said otherwise". Times are written as they stand on a wall clock at UTC, 2026-03-14.

#include "core/reckon/reckoning.hpp"

#include <string>
#include <vector>

namespace hangtime::test {

/// "13:40" or "13:40:30" of the day; `day` days later.
Instant at(const char* clock, int day = 0);
/// The other way round; a day is added as "+1 ".
std::string clock_of(Instant t);

/// Hang within 30 min of issue, all in within 240 min of issue, 50 mL/h for the first 15 min, an early check at
/// 15 min that counts from 10, hourly checks, one an hour after the end; pump steps of 1 mL/h; the line is
/// primed to the tip with component and cleared. No reserve.
Protocol plain_protocol();

/// Issued and started as told, the whole of `bag`, within two hours from the start.
State plain_state(const Protocol& protocol, Volume bag, Instant issued, Instant start);

ComponentRules& red_cells(Protocol& protocol);

/// Replaces the limits of one kind for red cells.
void set_limit(Protocol& protocol, LimitKind kind, Anchor from, Seconds within);

Reckoning reckoned(const Protocol& protocol, const State& state);
Reckoning reckoned(const Protocol& protocol, const State& state, Instant now);

/// 300 mL, issued at 10:00, to start at 10:15.
State ordinary(const Protocol& protocol);

/// The window of this kind that counts from `from`, and the check of this kind; the test ends where there is none.
const Window& window(const Reckoning& reckoning, LimitKind kind, Anchor from = Anchor::issued);
const Check& check_of(const Reckoning& reckoning, CheckKind kind, std::int32_t index = 0);

std::vector<std::string> check_times(const Reckoning& reckoning);  // without the baseline
bool warned(const Reckoning& reckoning, Warning code);
bool advised(const Reckoning& reckoning, Advice code);
bool reasoned(const Reckoning& reckoning, Reason code);

}  // namespace hangtime::test
