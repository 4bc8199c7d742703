#pragma once

/// The words of one step of the match, for a screen or a sheet.

#include "core/match/compare.hpp"
#include "core/match/script.hpp"

#include <string>

namespace hangtime {

/// "First person: read the date of birth aloud from the wristband. Second person: compare it with the tag and
/// the order." With one person: "Read the date of birth on the wristband and compare it with ...".
std::string match_step_text(const MatchStep& step, MatchPeople people);

/// "the same", "cannot tell: the tag is not read", "differs at character 4: bag 7, tag 8",
/// "differs at characters 6 and 7: bag 2 1, tag 1 7".
std::string comparison_text(const FieldComparison& comparison);

}  // namespace hangtime
