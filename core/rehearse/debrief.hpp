#pragma once

/// What is said after a rehearsal: each scored item with its rule and where the rule is from, what it came to, what was
/// due against what was done, and everything that happened. As a document (print it, save it) and as JSON.

#include "core/rehearse/score.hpp"
#include "core/sheet/document.hpp"
#include "core/words/format.hpp"

#include <string>

namespace hangtime {

sheet::Document debrief_sheet(const Rehearsal& rehearsal, const Outcome& outcome);

/// Two attempts at the same scenario, side by side.
sheet::Document comparison_sheet(const Rehearsal& first, const Outcome& first_outcome, const Rehearsal& second,
                                 const Outcome& second_outcome);

std::string debrief_json(const Rehearsal& rehearsal, const Outcome& outcome);

/// What a scenario is, for who teaches with it: it gives everything away.
sheet::Document scenario_sheet(const Scenario& scenario);

/// "Early check on time", "Paused: the access failed": what a scored item is about.
std::string scored_text(const Scored& scored);
/// What came of it, in a sentence: "7 min late.", "Not done; 38 mL ran meanwhile."
std::string part_text(const Scenario& scenario, const Part& part, const DayClock& day);
/// "The pump stops", and what of it can be told: which bag, which symptoms.
std::string happening_text(const Happening& happening);
/// What it waits for: "after: unit called for", "after 100 mL have run", "after step 4 of the match", "after the beginning".
std::string waits_for_text(const Scenario& scenario, const Trigger& trigger);
/// "12 min after: unit called for, up to 3 min earlier or later".
std::string when_text(const Scenario& scenario, const Trigger& trigger);

/// Where a rule is from, for a scored item: the scenario's own sources or the protocol's.
std::string source_text(const Scenario& scenario, const Part& part);

}  // namespace hangtime
