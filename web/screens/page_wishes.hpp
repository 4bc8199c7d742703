#pragma once

namespace hangtime::screens {

/// What a screen beside the bedside can wish of the page.
struct PageWishes {
    bool back = false, print = false, night = false;
};

} // namespace hangtime::screens
