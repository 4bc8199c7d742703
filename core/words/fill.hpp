#pragma once

/// Sentences with places for figures: "{0}" is replaced by the first figure, "{1}" by the second. What stands
/// in "[...]" is left out when a figure in it is missing; elsewhere a missing one is "not recorded". Only
/// core/words includes this.

#include "core/words/format.hpp"

#include <cstddef>
#include <string>
#include <string_view>

namespace hangtime::words {

std::string fill(std::string_view pattern, const Figure* figures, std::size_t count, const DayClock& day);

}  // namespace hangtime::words
