#pragma once

/// All that a rehearsal was given, one text each, in order: its scenario with the seed, the learner's records, what an
/// educator let happen, and moments that its clock had come to. A rehearsal is deterministic, so from these it is made
/// again as it stood: the same log, the same refusals. A page keeps them beside the log, because what was refused and
/// what came from outside stand in no log.

#include "core/rehearse/run.hpp"

#include <span>
#include <string>
#include <string_view>

namespace hangtime {

/// The first text: the scenario as a file that holds its protocol and this seed.
std::string course_beginning(const Scenario& scenario, std::int32_t seed);
/// True for such a text, and for no record of a log.
bool begins_course(std::string_view text);

/// What is about to be given to `before`: one of these for each `note`, `inject`, or moment that is worth keeping. A record
/// is empty where it says what no log can hold (a rate of nothing): it will be refused, and is not kept.
std::string course_record(Event event, const Rehearsal& before);
std::string course_happening(const Happening& happening, const Rehearsal& before);
std::string course_moment(Instant now);

/// Gives all of it to a rehearsal that has just begun. The first text that cannot be read, by its number among `rest`.
std::optional<Error> go_through(Rehearsal& rehearsal, std::span<const std::string> rest);

}  // namespace hangtime
