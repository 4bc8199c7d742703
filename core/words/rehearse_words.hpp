#pragma once

/// Spelling and words of core/words/rehearse_codes.hpp: `code(x)` as it stands in files, stable; `name(x)` a label of
/// a few words; `sentence(x)` a whole one.

#include "core/words/rehearse_codes.hpp"
#include "core/words/spelling.hpp"

#include <string_view>

namespace hangtime {

std::string_view code(Level);
std::string_view code(WorldKind);
std::string_view code(ScoreKind);
std::string_view code(Measure);
std::string_view code(Spread);

std::string_view name(Level);        // "easy"
std::string_view name(WorldKind);    // "The pump stops"
std::string_view name(ScoreKind);    // "Check on time"
std::string_view name(Measure);      // "Hung inside the window"

/// What the other part of a measure is called: "not hung inside the window".
std::string_view other_name(Measure);

std::string_view name(Spread);       // "From issue until hung"
/// Those that have no such span: "not hung".
std::string_view none_name(Spread);

/// Stands at the top of everything that comes from a rehearsal.
std::string_view rehearsal_sentence();
/// Below a review: what it is and what it is not.
std::string_view review_sentence();

}  // namespace hangtime
