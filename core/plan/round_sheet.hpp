#pragma once

/// A round as a document: who does what when, then each transfusion with its windows; or, where there is no
/// way, the demands that clash. Transfusions by their drawn objects, nurses as roles; clock times, no dates.

#include "core/protocol/protocol.hpp"
#include "core/round/round.hpp"
#include "core/round/solver.hpp"
#include "core/sheet/document.hpp"
#include "core/words/format.hpp"

#include <optional>
#include <string>

namespace hangtime {

/// What was asked, and what came of it. All of it is kept by the caller.
struct RoundResult {
    const rounds::Round& round;
    const rounds::RoundOptions& options;
    rounds::Progress progress;
    std::optional<rounds::Schedule> schedule;    // the best that was found
    std::optional<rounds::Conflict> conflict;    // where there is none
};

sheet::Document round_sheet(const Protocol& protocol, const RoundResult& result);

/// "Kite, called for between 10:00 and 10:30", "Nurse 1's break, 12:00 to 12:30"
std::string demand_text(const rounds::Round& round, const rounds::Demand& demand, const DayClock& day);

/// Exactly what is optimised, and on which grid.
std::string_view optimised_sentence(rounds::Priority priority);

/// "Proven: nothing finishes earlier.", or how far from it the answer can be.
std::string proof_text(const rounds::Progress& progress, rounds::Priority priority);

DayClock day_of(const rounds::Round& round);
/// When a check of a schedule is done: the beginning of its slot, or its due time where that is later.
Instant check_time(const rounds::Round& round, Instant due, const rounds::CheckPlace& place);

}  // namespace hangtime
