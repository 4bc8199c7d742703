#pragma once

/// The parts of the fold; for core/session/fold*.cpp only. Each takes one kind of record: it refuses first, and
/// changes the session only when nothing speaks against it.

#include "core/session/session.hpp"

namespace hangtime::fold {

using Refused = std::optional<Refusal>;

// fold_opening.cpp: what stands from the beginning, and what can be told at any time
Refused opened(Session& s, const Event& e);
Refused clock_set(Session& s, const Event& e);
Refused protocol_changed(Session& s, const Event& e);
Refused linked(Session& s, const Event& e);
Refused joined(Session& s, const Event& e);
Refused ordered(Session& s, const Event& e);
Refused recipient_told(Session& s, const Event& e);
Refused equipment_chosen(Session& s, const Event& e);
Refused handed(Session& s, const Event& e);
Refused numbers(Session& s, const Event& e);

// fold_before.cpp: until the start
Refused item_noted(Session& s, const Event& e);
Refused sample_drawn(Session& s, const Event& e);
Refused requested(Session& s, const Event& e);
Refused issued(Session& s, const Event& e);
Refused storage_noted(Session& s, const Event& e);
Refused received(Session& s, const Event& e);
Refused bag_temperature(Session& s, const Event& e);
Refused match_noted(Session& s, const Event& e);
Refused primed(Session& s, const Event& e);
Refused spiked(Session& s, const Event& e);
Refused connected(Session& s, const Event& e);

// fold_run.cpp: from the start to the end
Refused started(Session& s, const Event& e);
Refused rate_set(Session& s, const Event& e);
Refused paused(Session& s, const Event& e);
Refused resumed(Session& s, const Event& e);
Refused device_total(Session& s, const Event& e);
Refused bag_empty(Session& s, const Event& e);
Refused clearing_begun(Session& s, const Event& e);
Refused set_changed(Session& s, const Event& e);
Refused all_in(Session& s, const Event& e);
Refused stopped(Session& s, const Event& e);
Refused consent_withdrawn(Session& s, const Event& e);
Refused observed(Session& s, const Event& e);

// fold_signs.cpp: what is done when a reaction is suspected
Refused reaction_suspected(Session& s, const Event& e);
Refused action_done(Session& s, const Event& e);
Refused ceiling_lowered(Session& s, const Event& e);
Refused restarted(Session& s, const Event& e);
Refused rule_set_chosen(Session& s, const Event& e);

/// The protocol in force has its rules for a change from now on: the set that was chosen, where it has one of that name.
void begin_change_rules(Session& s, Instant from);

// fold_groups.cpp: whether the groups fit, and what else runs in
Refused groups_judged(Session& s, const Event& e);
Refused other_fluid(Session& s, const Event& e);

// fold_after.cpp: where the unit goes
Refused returned(Session& s, const Event& e);
Refused discarded(Session& s, const Event& e);
Refused bag_kept(Session& s, const Event& e);

/// A stretch of its own from `at` on.
void begin_flow(Session& s, Instant at, Rate rate, bool paused);
/// A rate that cannot be: none, or more than the device can do.
Refused rate_is_possible(const Session& s, Rate rate);

/// What the device's total said before is no base for what it will say.
void forget_total(Session& s);
/// Takes back the authorisation of every unit that has not begun.
void take_back_authorisation(Session& s);

/// Nothing more can be given of the unit: it differs, or it is gone.
bool unit_is_closed(const Session& s);
/// Ends the flow at `at`.
void end_run(Session& s, Instant at, bool stopped);
/// Forgets the unit that is done with, so that the next one can be prepared.
void begin_next_unit(Session& s);
/// What was settled for one unit does not hold for the next.
void clear_items_of_unit(Session& s);

}  // namespace hangtime::fold
