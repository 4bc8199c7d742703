#pragma once

/// Spelling and words of core/words/round_codes.hpp: `code(x)` as it stands in files, stable; `name(x)` a
/// label of a few words.

#include "core/words/round_codes.hpp"
#include "core/words/spelling.hpp"

#include <string_view>

namespace hangtime {

std::string_view code(SetUse);
std::string_view code(SetChange);
std::string_view code(Reassess);
std::string_view code(NewSet);
std::string_view code(CallHold);

std::string_view name(SetUse);     // "a new set for each unit"
std::string_view name(SetChange);  // "any change of component"
std::string_view name(Reassess);   // "after each unit"
std::string_view name(NewSet);     // "new set: the set would expire before the unit is all in"
std::string_view name(CallHold);   // "look again first"

}  // namespace hangtime
