#pragma once

/// The units of a session, one by one: what the session added up to when each was over, before the next one began. A
/// debrief and a review are made of these.

#include "core/session/log.hpp"

#include <functional>
#include <vector>

namespace hangtime {

struct UnitEnd {
    Session session;     // as it stood at the end of this unit
    Instant until{};     // when the next one began; of the last one: the end that was asked for
};

/// At least one unit has been issued, or the list is empty. `end` is when the session is looked at.
std::vector<UnitEnd> units_of(const Log& log, Instant end);

/// The same, one after the other and without a copy of the last one.
void for_each_unit(const Log& log, Instant end, const std::function<void(const Session&, Instant until)>& see);

/// The records that still count, in the order in which they happened.
std::vector<const Event*> in_order(const Log& log);

}  // namespace hangtime
