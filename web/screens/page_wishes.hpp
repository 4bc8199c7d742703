#pragma once

namespace hangtime::screens {

/// What a screen beside the bedside can wish of the page.
struct PageWishes {
    bool back = false, print = false, night = false;
    bool read = false; // what would be printed, on the screen
};

} // namespace hangtime::screens
