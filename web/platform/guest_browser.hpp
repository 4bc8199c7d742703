#pragma once

/// What the *_browser.cpp files share.

#include "web/platform/platform.hpp"

namespace hangtime::platform {

extern Guest* guest;

/// Tells the guest of a jump of the wall clock, before anything else is reckoned from it.
void look_at_clock();

inline int length(std::string_view text) {
    return static_cast<int>(text.size());
}

} // namespace hangtime::platform
