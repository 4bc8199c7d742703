#pragma once

/// What the codes of a live session say to a person; see words.hpp.

#include "core/words/session_codes.hpp"

#include <string_view>

namespace hangtime {

std::string_view name(EventKind);      // "Rate changed": a line of the log
std::string_view name(Item);           // "Authorisation to transfuse"
std::string_view name(ItemGroup);      // "The person"
std::string_view name(ItemHow);        // "confirmed"
std::string_view name(ItemState);      // "open"
std::string_view name(WaiverReason);   // "emergency"
std::string_view name(Role);           // "nurse in charge"
std::string_view name(StorageChange);  // "transport box opened"
std::string_view name(TotalKind);      // "zeroed"
std::string_view name(PauseReason);    // "the access failed"
std::string_view name(StopReason);     // "the time limit"
std::string_view name(RefusalReason);  // "changed their mind"
std::string_view name(ReturnTo);       // "back to stock"
std::string_view name(ReturnReason);   // "no longer needed"
std::string_view name(Place);          // "another ward"
std::string_view name(Phase);          // "Getting ready"
std::string_view name(Doing);          // "Call for the unit"

/// What the item asks, as one sentence.
std::string_view question(Item);
/// Why a record is refused, and what to do.
std::string_view sentence(Refusal);

/// Beside a waiver of sample or consent, and wherever the emergency path is taken.
std::string_view emergency_sentence();  // "Follow your local procedure for emergencies."

}  // namespace hangtime
