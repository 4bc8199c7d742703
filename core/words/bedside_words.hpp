#pragma once

/// What the screens of a session say beyond the words of the codes: what a button does, what is asked for with it, and
/// the lists that are read at the bedside. No treatment, no drugs, no doses.

#include "core/words/codes.hpp"
#include "core/words/session_codes.hpp"

#include <cstddef>
#include <string_view>

namespace hangtime {

/// What a button that notes this does: "Pause", "Change the rate".
std::string_view action(EventKind);
/// What is said where it is entered; empty where nothing has to be.
std::string_view entry_sentence(EventKind);

/// The published list of what makes overload likelier (MHRA, National Patient Safety Alert 2024/004), in our words.
inline constexpr std::size_t overload_factor_count = 8;
std::string_view overload_factor(std::size_t index);
/// What stands above the list.
std::string_view overload_sentence();

/// The set, made ready: common practice in trade terms, no source; the ward's own procedure goes first.
inline constexpr std::size_t set_step_count = 7;
/// `with`: what the line is filled with before it is connected.
std::string_view set_step(std::size_t index, Primed with);
std::string_view set_sentence();

/// When a warmer is commonly asked for; the ward's policy decides.
inline constexpr std::size_t warmer_case_count = 4;
std::string_view warmer_case(std::size_t index);

/// Beside every list of what falls due.
std::string_view watch_sentence();  // the tool does not watch the person
/// On the screens of a session: whom it is for.
std::string_view attended_sentence();  // "Stay where you can see and hear the person."

}  // namespace hangtime
