#pragma once

/// A round as a picture: one lane for each transfusion by its drawn object, time from left to right, to scale; one
/// for each nurse below. Where a start is open stands between two walls, the limit for all in is a thicker one.
/// Matches and attended minutes are filled blocks with the nurse's number, checks open rings with hers under them.
/// A lane can be dragged along: it is taken anywhere, and moves by whole steps of the grid.

#include "core/session/objects.hpp"
#include "web/widgets/ui.hpp"

#include <span>
#include <string_view>

namespace hangtime::ui {

struct LaneCheck {
    std::int64_t at;
    int nurse; // from 1
};

struct Lane {
    std::string_view id, name, spoken; // "lane.0", "Kite", all of it in words
    SpokenObject object{};
    std::string_view detail;           // "red cells, 316 mL"
    bool placed = false;               // the next seven are known
    std::int64_t match = 0, start = 0, attended_to = 0, all_in = 0, finish_by = 0;
    int nurse = 0, second = 0;         // from 1; 0: somebody outside the round
    std::span<const LaneCheck> checks;
    bool has_window = false;           // of starts
    std::int64_t window_from = 0, window_to = 0;
    bool movable = false;
    bool chosen = false;               // its details are shown
    bool held = false;                 // stands where somebody put it
    bool tried = false;                // what is drawn is tried, and `was` is where it stood
    bool breaks = false;               // and something breaks
    std::int64_t was = 0;
};

struct LaneStretch {
    std::int64_t from, to;
    enum class Kind : std::uint8_t { hours, rest, handover, busy } kind;
    std::string_view label;
};
struct NurseLane {
    std::string_view id, name, spoken; // "Nurse 1"
    std::span<const LaneStretch> stretches;
};

struct LaneTick {
    std::int64_t at;
    std::string_view label;
};

struct Lanes {
    std::int64_t from = 0, to = 0, grid = 300; // seconds
    std::span<const LaneTick> ticks;
    bool has_now = false;
    std::int64_t now = 0;
    std::span<const Lane> lanes;
    std::span<const NurseLane> nurses;
};

/// What is kept from frame to frame.
struct LaneDrag {
    int lane = -1;
    bool moved = false;
    std::int64_t from_start = 0;
};

struct LaneTouch {
    int lane = -1;
    enum class Kind : std::uint8_t { none, pressed, dragged, dropped } kind = Kind::none;
    std::int64_t start = 0; // where it was dragged to
};

LaneTouch lanes(Ui& ui, Box box, const Lanes& picture, LaneDrag& drag);
/// The height that it needs.
float lanes_height(const Ui& ui, std::size_t lanes, std::size_t nurses);

} // namespace hangtime::ui
