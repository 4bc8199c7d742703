#ifndef __EMSCRIPTEN__

#include "web/platform/platform_twin.hpp"

#include <algorithm>
#include <map>

namespace hangtime::platform {
namespace {

struct {
    Surface surface{1280, 800, 1.0f, false};
    std::int64_t ms = 0;
    std::int64_t wall_ms = 0;
    WallClock wall;
    std::string protocols = "[]";
    std::string rehearsals = "[]", cases = "[]";
    bool examples = false;
    std::map<std::string, int, std::less<>> settings;
    std::map<std::string, std::string, std::less<>> texts;
    twin::Shown shown;
} state;

} // namespace

extern Guest* twin_guest;

void run(Guest& guest) {
    twin_guest = &guest;
    twin::look_at_clock();
    guest.start();
}

Surface surface() {
    return state.surface;
}
std::int64_t now_ms() {
    return state.ms;
}
std::int64_t wall_ms() {
    return state.wall_ms;
}
Instant now() {
    return {state.wall_ms / 1000};
}
WallClock wall_clock() {
    return state.wall;
}

void present(const std::uint32_t* pixels, int width, int height, std::span<const render::Rect> rects) {
    twin::Shown& s = state.shown;
    if (width != s.width || height != s.height) {
        s.pixels.assign(static_cast<std::size_t>(width) * static_cast<std::size_t>(height), 0);
        s.width = width;
        s.height = height;
    }
    s.presented_pixels = 0;
    for (const render::Rect& r : rects) {
        for (int y = r.y0; y < r.y1; ++y)
            std::copy_n(pixels + y * width + r.x0, r.x1 - r.x0, s.pixels.data() + y * width + r.x0);
        s.presented_pixels += static_cast<std::int64_t>(r.x1 - r.x0) * (r.y1 - r.y0);
    }
    ++s.presents;
}

void wake_in(std::int64_t ms) {
    state.shown.wake_ms = ms;
}
void set_title(std::string_view title) {
    state.shown.title = title;
}
void set_night(bool night) {
    state.shown.night = night;
}

void mirror(const Mirrored& node) {
    auto& all = state.shown.mirror;
    ++state.shown.mirror_calls;
    const auto old =
        std::find_if(all.begin(), all.end(), [&](const twin::Mirror& m) { return m.key == node.key; });
    if (old != all.end())
        all.erase(old);
    const auto place = std::min<std::ptrdiff_t>(node.place, static_cast<std::ptrdiff_t>(all.size()));
    all.insert(all.begin() + place,
               {node.key, node.role, node.state, std::string(node.label), std::string(node.value), node.box});
}
void unmirror(std::uint32_t key) {
    std::erase_if(state.shown.mirror, [key](const twin::Mirror& m) { return m.key == key; });
}
void focus_mirrored(std::uint32_t key) {
    state.shown.focused = key;
}
void announce(std::string_view text) {
    state.shown.announced = text;
}
void set_print(std::string_view html) {
    state.shown.print_html = html;
}
void print() {
    ++state.shown.prints;
}
void show_sheet() {
    ++state.shown.sheets_read;
}
void show_licences() {
    ++state.shown.licences;
}
bool protocols_are_examples() {
    return state.examples;
}

std::string_view protocols() {
    return state.protocols;
}

std::string_view examples() {
    return state.protocols;
}
std::string_view rehearsals() {
    return state.rehearsals;
}
std::string_view cases() {
    return state.cases;
}

int load_setting(std::string_view name, int fallback) {
    const auto found = state.settings.find(name);
    return found == state.settings.end() ? fallback : found->second;
}
void save_setting(std::string_view name, int value) {
    state.settings[std::string(name)] = value;
}
std::string load_text(std::string_view name) {
    const auto found = state.texts.find(name);
    return found == state.texts.end() ? std::string() : found->second;
}
void save_text(std::string_view name, std::string_view text) {
    if (text.empty()) state.texts.erase(std::string(name));
    else state.texts[std::string(name)] = text;
}

namespace twin {

void reset(int width, int height, float scale) {
    state = {};
    reset_store();
    state.surface = {width, height, scale, false};
}
void set_surface(int width, int height, float scale) {
    state.surface.width = width, state.surface.height = height, state.surface.scale = scale;
}
void set_prefers_dark(bool dark) {
    state.surface.prefers_dark = dark;
}
void set_wall(const WallClock& wall) {
    state.wall = wall;
}
void set_now(Instant now) {
    state.wall_ms = now.utc * 1000;
}
void advance_ms(std::int64_t ms) {
    state.ms += ms;
    state.wall_ms += ms;
}
void jump_ms(std::int64_t ms) {
    state.wall_ms += ms;
}
void clear_settings() {
    state.settings.clear();
    state.texts.clear();
}
void set_protocols(std::string json, bool examples) {
    state.examples = examples;
    state.protocols = std::move(json);
}
void set_rehearsals(std::string json) {
    state.rehearsals = std::move(json);
}
void set_cases(std::string json) {
    state.cases = std::move(json);
}
Shown& shown() {
    return state.shown;
}

} // namespace twin
} // namespace hangtime::platform

#endif
