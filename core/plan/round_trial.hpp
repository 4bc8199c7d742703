#pragma once

/// Another start for one transfusion of a round, tried against what the others do: what breaks, in words. A few
/// microseconds, so that a screen can ask at every step of a drag; whether the rest could be arranged round it is
/// the solver's to find (`held`).

#include "core/protocol/protocol.hpp"
#include "core/round/round.hpp"
#include "core/words/format.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtime {

struct RoundTrial {
    std::vector<std::string> breaks;  // empty: it can be done, with all others as they are
    std::optional<rounds::Schedule> schedule;  // then: all of it, with its cost
};

/// `schedule` is an answer of this round's problem, `job` one of its jobs.
RoundTrial try_start(const Protocol& protocol, const rounds::Round& round, const rounds::RoundOptions& options,
                     const rounds::Schedule& schedule, std::size_t job, int slot);

/// The same options with jobs held to a start: slots by job, -1 where it is free. The numbers of options stay.
rounds::RoundOptions held(const rounds::Round& round, const rounds::RoundOptions& options,
                          const std::vector<int>& slots);

/// "Kite"
std::string object_text(const rounds::PlannedTransfusion& t);
/// "Nurse 1"
std::string nurse_text(int nurse);

}  // namespace hangtime
