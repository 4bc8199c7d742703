#pragma once

/// The spelling of the codes of a live session, as they stand in logs, in output and in tests; see spelling.hpp.

#include "core/words/session_codes.hpp"
#include "core/words/spelling.hpp"

#include <string_view>

namespace hangtime {

std::string_view code(EventKind);
std::string_view code(Item);
std::string_view code(ItemGroup);
std::string_view code(ItemHow);
std::string_view code(ItemState);
std::string_view code(WaiverReason);
std::string_view code(Role);
std::string_view code(StorageChange);
std::string_view code(TotalKind);
std::string_view code(PauseReason);
std::string_view code(StopReason);
std::string_view code(RefusalReason);
std::string_view code(ReturnTo);
std::string_view code(ReturnReason);
std::string_view code(Place);
std::string_view code(Phase);
std::string_view code(Doing);
std::string_view code(Refusal);

}  // namespace hangtime
