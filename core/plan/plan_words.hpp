#pragma once

/// Sentences about a plan that take more than one code: for the sheet and for the first screen alike.

#include "core/protocol/protocol.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/session/state.hpp"
#include "core/words/format.hpp"

#include <string>
#include <vector>

namespace hangtime {

/// The wall clock with the day of the session's first event: what every time of it is told against.
DayClock day_clock_of(const State& state, const WallClock& wall, Instant now);

/// "Fits. All in at 15:51:40, 1 h 48 min before the limit of 17:40."
/// "Does not fit. By 17:40 it is 217.5 mL that can be given; 82.5 mL would be left."
/// "Cannot be worked out yet: the volume and the start are not recorded."
std::string verdict_text(const Reckoning& reckoning, const DayClock& day);

/// "All in by has passed: 17:40." and what that means, for each limit that has passed; empty when none has.
std::vector<std::string> passed_texts(const Reckoning& reckoning, const DayClock& day);

/// True when a limit that the plan has to meet has passed or is not met by the plan.
bool limit_passed(const Reckoning& reckoning);

/// "50 mL/h", or by gravity "11 drops/min (66 mL/h)".
std::string stage_rate_text(const Stage& stage);
/// "count 11 drops in 60 s"; empty for a pump.
std::string stage_count_text(const Stage& stage);

/// "30 min from issue", "the expiry on the label"
std::string counted_from_text(const Window& window);

/// "Title, 2019 (published)", "common practice, no source"
std::string basis_text(const Protocol& protocol, const Basis& basis);

/// Whose rules, and of when: "General ward, common practice, revised 2026-03 - example, not adopted by a ward". Stands on
/// every screen and every sheet.
std::string rules_text(const Protocol& protocol);

/// The moment after which a printed sheet is not to be used: the later of the last check and the earliest
/// limit for "all in". None before there is a plan.
std::optional<Instant> void_after(const Reckoning& reckoning);

}  // namespace hangtime
