#pragma once

/// Who of a round's transfusions are for the same person, which of them may run at the same time, and through which
/// line. A person is only a number here, counted from 0 in the order of the transfusions.
///
/// Units of one person never run at the same time, but where a round says that they run over two lines (`beside`): then
/// each is planned as if the other ran at its highest ordered rate throughout, so that the two never pass the person's
/// ceiling together.

#include "core/round/round.hpp"

#include <vector>

namespace hangtime::rounds {

/// The one of which a transfusion says that it is for the same person; -1: it says nothing.
int linked_to(const PlannedTransfusion& transfusion);

/// The number of the person of each transfusion.
std::vector<int> persons_of(const Round& round);

/// The one that may run at the same time as this, over the other line; -1: there is none.
int beside(const Round& round, std::size_t transfusion);

/// The line of each transfusion, as the first transfusion that runs through it: a second line has sets of its own.
std::vector<std::size_t> lines_of(const Round& round);

}  // namespace hangtime::rounds
