/// The page: everything else stands behind App and behind the platform.

#include "web/app.hpp"

int main() {
    // Lives as long as the page does; the platform calls it from here on.
    hangtime::platform::run(*new hangtime::App);
    return 0;
}
