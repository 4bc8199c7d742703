#pragma once

/// The one line of arithmetic behind each number, in words: "(316 mL - 12.5 mL) in 1 h 45 min = 173.43 mL/h,
/// set 174 mL/h". The figures are those that SumKind states, in that order.

#include "core/words/figure.hpp"
#include "core/words/format.hpp"

#include <string>

namespace hangtime {

/// Empty for SumKind::none only.
std::string sum_text(const Sum& sum, const DayClock& day);

}  // namespace hangtime
