#pragma once

/// The native twin of the browser: what was shown can be asked for, and time stands still until it is moved.

#include "web/platform/platform.hpp"

#include <string>
#include <vector>

namespace hangtime::platform::twin {

struct Mirror {
    std::uint32_t key = 0;
    int role = 0, state = 0;
    std::string label, value;
    render::Rect box;
};

/// Everything that the guest has shown.
struct Shown {
    std::vector<std::uint32_t> pixels;
    int width = 0, height = 0;
    int presents = 0;                  // calls of `present` so far
    std::int64_t presented_pixels = 0; // area of the last one
    std::vector<Mirror> mirror;        // in order
    int mirror_calls = 0;
    std::uint32_t focused = 0;
    std::string title, announced, print_html;
    bool night = false;
    int prints = 0, licences = 0, sheets_read = 0;
    std::int64_t wake_ms = -1; // the last request, -1: none
};

void reset(int width, int height, float scale);
void set_surface(int width, int height, float scale);
void set_prefers_dark(bool dark);
void set_wall(const WallClock& wall);
void set_now(Instant now);
void advance_ms(std::int64_t ms); // moves both clocks
void jump_ms(std::int64_t ms);    // moves the wall clock alone
void look_at_clock();             // what the browser's side does before each frame
void clear_settings();
void reset_store();
void set_protocols(std::string json, bool examples = false);
void set_rehearsals(std::string json);
void set_cases(std::string json);

Shown& shown();

} // namespace hangtime::platform::twin
