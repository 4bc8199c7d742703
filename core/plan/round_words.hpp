#pragma once

/// Sentences about a round's answer that the sheet and the screen share: what has changed against what was promised,
/// and the set and the call of each transfusion.

#include "core/plan/round_sheet.hpp"
#include "core/round/sequence.hpp"

#include <string>
#include <vector>

namespace hangtime {

/// One sentence for each start or nurse that is not as it was promised; empty: all promises are kept. Needs an answer.
std::vector<std::string> round_changes(const RoundResult& result);

/// True where anything of the round was promised.
bool has_promises(const rounds::Round& round);

/// What it has to do with the others for the same person: one sentence for each link, its own and that of others to it;
/// none where it is for a person of its own.
std::vector<std::string> round_person_texts(const rounds::Round& round, std::size_t transfusion);

/// Units of one person that both run already, against the round's own rule; empty: there are none.
std::vector<std::string> round_overlaps(const RoundResult& result);

/// Why nothing is planned for a transfusion that is over or withdrawn.
std::string round_left_out_text(const rounds::Round& round, const rounds::RoundOptions& options,
                                std::size_t transfusion, const DayClock& day);

/// The set of a job's unit, after those that run through the same line before it; needs an answer. What was not planned in the round (an older
/// set) is not known here.
struct RoundSet {
    rounds::SetSoFar before;          // the set that is in use when its turn comes
    NewSet set = NewSet::first_unit;
    std::optional<Instant> change_by; // of the set that it runs through
};
RoundSet round_set(const Protocol& protocol, const RoundResult& result, std::size_t job);

/// "Set: new set: first unit. To be changed by 14:10."
std::string round_set_text(const Protocol& protocol, const RoundResult& result, std::size_t job, const DayClock& day);

/// "Call at 08:05; issued 08:25, on the ward 08:35." and why not before; empty where it was issued already.
std::string round_call_text(const Protocol& protocol, const RoundResult& result, std::size_t job, const DayClock& day);

}  // namespace hangtime
