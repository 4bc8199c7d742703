#ifdef __EMSCRIPTEN__

/// The browser behind the seam. Each function is one line of JavaScript that calls `Hangtime`, which the
/// files beside this one set up; what the browser calls is exported below.

#include "web/platform/guest_browser.hpp"

#include <emscripten.h>

#include <cstdlib>
#include <string>

// clang-format off
EM_JS(void, js_started, (), { Hangtime.started(); });
EM_JS(int, js_surface_width, (), { return Hangtime.measure().width; });
EM_JS(int, js_surface_height, (), { return Hangtime.measure().height; });
EM_JS(double, js_surface_scale, (), { return Hangtime.measure().scale; });
EM_JS(int, js_prefers_dark, (), { return Hangtime.prefersDark() ? 1 : 0; });
EM_JS(double, js_now_ms, (), { return performance.now(); });
EM_JS(double, js_wall_ms, (), { return Date.now(); });
EM_JS(int, js_offset_min, (double utc_s), { return -new Date(utc_s * 1000).getTimezoneOffset(); });
EM_JS(void, js_present, (const void* pixels, int w, int h, int x0, int y0, int x1, int y1), {
    Hangtime.present(HEAPU8.buffer, pixels, w, h, x0, y0, x1, y1);
});
EM_JS(void, js_wake, (double ms), { Hangtime.wake(ms); });
EM_JS(void, js_title, (const char* text, int n), { document.title = UTF8ToString(text, n); });
EM_JS(void, js_night, (int night), { Hangtime.setNight(night !== 0); });
EM_JS(void, js_mirror, (int key, int place, int role, int state, const char* label, int label_n, const char* value, int value_n,
                        int x0, int y0, int x1, int y1), {
    Hangtime.mirror(key, place, role, state, UTF8ToString(label, label_n), UTF8ToString(value, value_n), x0, y0, x1, y1);
});
EM_JS(void, js_unmirror, (int key), { Hangtime.unmirror(key); });
EM_JS(void, js_focus, (int key), { Hangtime.focusMirrored(key); });
EM_JS(void, js_announce, (const char* text, int n), { Hangtime.announce(UTF8ToString(text, n)); });
EM_JS(void, js_set_print, (const char* html, int n), { Hangtime.setPrint(UTF8ToString(html, n)); });
EM_JS(void, js_print, (), { Hangtime.print(); });
EM_JS(void, js_show_sheet, (), { Hangtime.showSheet(); });
EM_JS(void, js_licences, (), { Hangtime.showAbout(); });
EM_JS(int, js_examples, (), { return Hangtime.protocolsAreExamples() ? 1 : 0; });
EM_JS(int, js_protocols_size, (), { return Hangtime.protocols().length; });
EM_JS(void, js_protocols, (void* to), { HEAPU8.set(Hangtime.protocols(), to); });
EM_JS(int, js_carried_size, (int which), { return Hangtime.carried(which).length; });
EM_JS(void, js_carried, (int which, void* to), { HEAPU8.set(Hangtime.carried(which), to); });
EM_JS(int, js_load, (const char* name, int n, int fallback), { return Hangtime.load(UTF8ToString(name, n), fallback); });
EM_JS(void, js_save, (const char* name, int n, int value), { Hangtime.save(UTF8ToString(name, n), value); });
EM_JS(int, js_text_size, (const char* name, int n), { return Hangtime.textOf(UTF8ToString(name, n)).length; });
EM_JS(int, js_text, (const char* name, int n, void* to, int size), {
    // Another window may have changed it since its size was asked for.
    const text = Hangtime.textOf(UTF8ToString(name, n)).subarray(0, size);
    HEAPU8.set(text, to);
    return text.length;
});
EM_JS(void, js_save_text, (const char* name, int n, const char* text, int size),
      { Hangtime.saveText(UTF8ToString(name, n), UTF8ToString(text, size)); });
// clang-format on

namespace hangtime::platform {

Guest* guest = nullptr;

namespace {


// The moments within six days at which the machine's offset changes.
WallClock search_wall_clock(std::int64_t utc) {
    const std::int64_t first = utc - 6 * 86400, last = utc + 6 * 86400, step = 6 * 3600;
    const auto offset = [](std::int64_t at) { return js_offset_min(static_cast<double>(at)); };
    int before = offset(first);
    WallClock wall(minutes(before));
    for (std::int64_t at = first; at < last; at += step) {
        const int after = offset(at + step);
        if (after == before)
            continue;
        std::int64_t low = at, high = at + step; // the change lies after low, and at high or before it
        while (high - low > 1) {
            const std::int64_t middle = low + (high - low) / 2;
            (offset(middle) == before ? low : high) = middle;
        }
        wall.add_change({high}, minutes(after));
        before = after;
    }
    return wall;
}

} // namespace

void run(Guest& new_guest) {
    guest = &new_guest;
    look_at_clock();
    guest->start();
    js_started();
}

Surface surface() {
    return {js_surface_width(), js_surface_height(), static_cast<float>(js_surface_scale()),
            js_prefers_dark() != 0};
}

std::int64_t now_ms() {
    return static_cast<std::int64_t>(js_now_ms());
}
std::int64_t wall_ms() {
    return static_cast<std::int64_t>(js_wall_ms());
}
Instant now() {
    return {wall_ms() / 1000};
}

WallClock wall_clock() {
    static WallClock wall;
    static std::int64_t searched = 0;
    static int offset = 0;
    const std::int64_t utc = now().utc;
    // Searched again each quarter of an hour, and at once when the machine's zone was changed.
    const int offset_now = js_offset_min(static_cast<double>(utc));
    if (utc / 900 != searched / 900 || offset_now != offset) {
        wall = search_wall_clock(utc);
        searched = utc;
        offset = offset_now;
    }
    return wall;
}

void present(const std::uint32_t* pixels, int width, int height, std::span<const render::Rect> rects) {
    for (const render::Rect& r : rects)
        js_present(pixels, width, height, r.x0, r.y0, r.x1, r.y1);
}

void wake_in(std::int64_t ms) {
    js_wake(static_cast<double>(ms));
}
void set_title(std::string_view title) {
    js_title(title.data(), length(title));
}
void set_night(bool night) {
    js_night(night ? 1 : 0);
}

void mirror(const Mirrored& n) {
    js_mirror(static_cast<int>(n.key), n.place, n.role, n.state, n.label.data(), length(n.label),
              n.value.data(), length(n.value), n.box.x0, n.box.y0, n.box.x1, n.box.y1);
}
void unmirror(std::uint32_t key) {
    js_unmirror(static_cast<int>(key));
}
void focus_mirrored(std::uint32_t key) {
    js_focus(static_cast<int>(key));
}
void announce(std::string_view text) {
    js_announce(text.data(), length(text));
}

void set_print(std::string_view html) {
    js_set_print(html.data(), length(html));
}
void print() {
    js_print();
}
void show_sheet() {
    js_show_sheet();
}
void show_licences() {
    js_licences();
}

bool protocols_are_examples() {
    return js_examples() != 0;
}

std::string_view protocols() {
    static std::string text;
    if (text.empty()) {
        text.resize(static_cast<std::size_t>(js_protocols_size()));
        js_protocols(text.data());
    }
    return text;
}

namespace {
std::string carried(int which) {
    std::string text(static_cast<std::size_t>(js_carried_size(which)), ' ');
    js_carried(which, text.data());
    return text;
}
} // namespace

std::string_view examples() {
    static const std::string text = carried(0);
    return text;
}
// The rehearsals and the demo transfusions, apart by a sign that stands in no JSON (scripts/pack).
static std::string_view carried_list(bool second) {
    static const std::string text = carried(1);
    const std::size_t end = text.find('\x1e');
    if (!second)
        return std::string_view(text).substr(0, end);
    return end == std::string::npos ? std::string_view() : std::string_view(text).substr(end + 1);
}
std::string_view rehearsals() {
    return carried_list(false);
}
std::string_view cases() {
    return carried_list(true);
}

int load_setting(std::string_view name, int fallback) {
    return js_load(name.data(), length(name), fallback);
}
void save_setting(std::string_view name, int value) {
    js_save(name.data(), length(name), value);
}
std::string load_text(std::string_view name) {
    std::string text(static_cast<std::size_t>(js_text_size(name.data(), length(name))), '\0');
    text.resize(static_cast<std::size_t>(js_text(name.data(), length(name), text.data(), length(text))));
    return text;
}
void save_text(std::string_view name, std::string_view text) {
    js_save_text(name.data(), length(name), text.data(), length(text));
}

} // namespace hangtime::platform

// --- what the browser calls
// ---------------------------------------------------------------------------------

using hangtime::platform::Event;
using hangtime::platform::guest;

extern "C" {

EMSCRIPTEN_KEEPALIVE void ht_frame() {
    hangtime::platform::look_at_clock();
    guest->frame();
}
EMSCRIPTEN_KEEPALIVE void ht_before_print() {
    guest->before_print();
}

/// `kind` as Event::Kind: 0 move, 1 press, 2 release, 3 leave.
EMSCRIPTEN_KEEPALIVE void ht_pointer(int kind, int pointer, double x, double y, double at_ms) {
    Event e;
    e.kind = static_cast<Event::Kind>(kind);
    e.pointer = static_cast<hangtime::platform::Pointer>(pointer);
    e.x = static_cast<float>(x);
    e.y = static_cast<float>(y);
    e.at_ms = static_cast<std::int64_t>(at_ms);
    guest->input(e);
}

EMSCRIPTEN_KEEPALIVE void ht_wheel(double x, double y, double by) {
    Event e;
    e.kind = Event::Kind::wheel;
    e.x = static_cast<float>(x);
    e.y = static_cast<float>(y);
    e.wheel_by = static_cast<float>(by);
    guest->input(e);
}

/// 1: taken.
EMSCRIPTEN_KEEPALIVE int ht_key(int key, int character, int shift, double at_ms) {
    Event e;
    e.kind = Event::Kind::key;
    e.key = static_cast<hangtime::platform::Key>(key);
    e.character = static_cast<char32_t>(character);
    e.shift = shift != 0;
    e.at_ms = static_cast<std::int64_t>(at_ms);
    e.handled_ms = hangtime::platform::now_ms();
    return guest->input(e) ? 1 : 0;
}

/// From the accessibility DOM.
EMSCRIPTEN_KEEPALIVE void ht_node(int key, int activate) {
    Event e;
    e.kind = activate != 0 ? Event::Kind::activate : Event::Kind::focus;
    e.node = static_cast<std::uint32_t>(key);
    guest->input(e);
}

} // extern "C"

#endif
