#pragma once

/// The seam between the program and where it runs. In the browser platform_web.cpp and the JavaScript beside
/// it stand behind it, in tests platform_twin.cpp; nothing else in web/ knows a browser.
///
/// Use in this order: `run(guest)` once; from then on the platform calls the guest, and the guest calls the
/// functions below. Coordinates and sizes are device pixels; `Surface::scale` of them make one CSS pixel.
/// Times named `_ms` are milliseconds on a clock that never jumps; `now` is the wall clock in UTC.

#include "core/clock.hpp"
#include "web/render/renderer.hpp"

#include <cstdint>
#include <span>
#include <string_view>

namespace hangtime::platform {

struct Surface {
    int width = 0, height = 0;
    float scale = 1;
    bool prefers_dark = false;
};

enum class Pointer : std::uint8_t { mouse, touch, pen };

enum class Key : std::uint8_t {
    none,
    character,
    enter,
    tab,
    escape,
    backspace,
    del,
    left,
    right,
    up,
    down,
    home,
    end,
    page_up,
    page_down,
};

struct Event {
    enum class Kind : std::uint8_t {
        move,
        press,
        release,
        leave, // pointer; only the first button, only one finger at a time
        wheel, // `wheel_by` positive shows what is further down
        key,
        activate,
        focus, // from the accessibility DOM: `node` is node_key(id)
        scan,  // never from a platform: the burst filter's, in its place among the keys
    };
    Kind kind{};
    Pointer pointer{};
    Key key{};
    bool shift = false;
    char32_t character = 0; // for Key::character
    float x = 0, y = 0;
    float wheel_by = 0;
    std::uint32_t node = 0;
    std::int64_t at_ms = 0;
};

/// The key under which the accessibility DOM knows a node (FNV-1a of its id).
constexpr std::uint32_t node_key(std::string_view id) {
    std::uint32_t h = 2166136261u;
    for (const char c : id)
        h = (h ^ static_cast<std::uint8_t>(c)) * 16777619u;
    return h;
}

/// One element of the accessibility DOM. `role` and `state` are the numbers of web/widgets/node.hpp.
struct Mirrored {
    std::uint32_t key = 0;
    int place = 0; // position among its siblings
    int role = 0, state = 0;
    std::string_view label, value;
    render::Rect box;
};

/// What the platform calls.
class Guest {
public:
    virtual void start() = 0;
    /// Build and show a picture. Called when something happened, or when the time given to `wake_in` is over.
    virtual void frame() = 0;
    /// True: the guest takes it, the browser must not act on it too.
    virtual bool input(const Event& event) = 0;
    /// The print section must be up to date when this returns.
    virtual void before_print() = 0;

protected:
    ~Guest() = default;
};

void run(Guest& guest);

Surface surface();
std::int64_t now_ms();
std::int64_t wall_ms(); // since 1970, UTC
Instant now();
/// The machine's offset from UTC, and its changes within six days either way.
WallClock wall_clock();

/// Shows `rects` of a picture. Pixels as in render::Renderer.
void present(const std::uint32_t* pixels, int width, int height, std::span<const render::Rect> rects);
/// Asks for a frame after this many milliseconds, unless something happens before; replaces an earlier
/// request.
void wake_in(std::int64_t ms);

void set_title(std::string_view title);
/// The day or night ground, for what the page itself shows round the picture.
void set_night(bool night);
void mirror(const Mirrored& node);
void unmirror(std::uint32_t key);
void focus_mirrored(std::uint32_t key);
/// Said once by a screen reader, politely.
void announce(std::string_view text);

/// Fills the section that is printed instead of the picture. No style attributes, no scripts.
void set_print(std::string_view html);
void print();
void show_licences();

/// What the page carries in its `protocols` element: a JSON array of protocol files. Valid for good.
std::string_view protocols();

/// Small settings of this machine; lost ones do no harm. `fallback` where there is none.
int load_setting(std::string_view name, int fallback);
void save_setting(std::string_view name, int value);

} // namespace hangtime::platform
