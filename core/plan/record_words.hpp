#pragma once

/// Sentences about a record of the log and about a thing to do: for the sheet, the screens and a replay alike.

#include "core/reckon/live.hpp"
#include "core/session/events.hpp"
#include "core/words/format.hpp"

#include <string>

namespace hangtime {

/// What a record says beside its name: "174 mL/h", "red cells, 316 mL, expires 23:59". Empty where that is all.
std::string record_text(const Event& event, const DayClock& day);

/// What was noted of groups and requirements: "no: A special requirement is not on the label. ... Waived: ...".
std::string groups_text(const GroupsNote& note);

/// The time of a record: "13:40", with "noted 14:05" where it was noted more than two minutes later.
std::string record_time_text(const Event& event, const DayClock& day);

/// "Raise the rate to 174 mL/h", "Early check".
std::string to_do_text(const ToDo& todo, const Reckoning& reckoning);

/// What times of a session are told against: its wall clock and the day of its first event.
DayClock day_clock_of(const Session& session);

}  // namespace hangtime
