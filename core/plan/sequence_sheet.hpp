#pragma once

/// A sequence as a document: which unit when, and for each of them the set, the call, the match, the baseline, the
/// rates, the checks and what is looked at again before another one. Clock times, no dates; nothing that says who the
/// recipient is.

#include "core/protocol/protocol.hpp"
#include "core/round/sequence.hpp"
#include "core/sheet/document.hpp"
#include "core/words/format.hpp"

#include <string>

namespace hangtime {

sheet::Document sequence_sheet(const Protocol& protocol, const rounds::Sequence& sequence,
                               const rounds::SequencePlan& plan);

// --- the sentences, for the screen and the command as well ---

/// "All 3 units fit; the last check is at 21:30." and what else has to be said first.
std::string sequence_headline(const rounds::Sequence& sequence, const rounds::SequencePlan& plan, const DayClock& day);

/// "Unit 2: Red cells, 280 mL"
std::string sequence_unit_text(const rounds::Sequence& sequence, std::size_t index);

/// Same set or a new one, why, until when, and what changes if the unit would not be all in by then.
std::string sequence_set_text(const rounds::SequencePlan::Unit& unit, const DayClock& day);
/// When to call for the bag, and when not.
std::string sequence_call_text(const rounds::SequencePlan::Unit& unit, bool first, const DayClock& day);
/// The last check of the unit before it, or a new one.
std::string sequence_baseline_text(const Protocol& protocol, const rounds::SequencePlan& plan, std::size_t index,
                                   const DayClock& day);
/// Who looks again after it.
std::string sequence_after_text(const Protocol& protocol, const rounds::SequencePlan& plan, std::size_t index,
                                const DayClock& day);
/// "560 mL in all, 8 mL/kg; the highest rate is 150 mL/h, 2.14 mL/kg/h"
std::string sequence_totals_text(const rounds::Sequence& sequence, const rounds::SequencePlan& plan);
/// Whether that stays within the person's ceiling where two lines share it; empty where there is one line.
std::string sequence_other_line_text(const rounds::Sequence& sequence, const rounds::SequencePlan& plan);

DayClock day_of(const rounds::Sequence& sequence);
bool sequence_fits(const rounds::Sequence& sequence, const rounds::SequencePlan& plan);

}  // namespace hangtime
