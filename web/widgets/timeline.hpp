#pragma once

/// The picture that people look at: time from left to right, to scale; volume climbing; checks on it; limits
/// as walls. A check to come is an open ring, due a ring with a dot, done a filled disc, late a disc with a
/// notch, missed a broken ring, no longer needed a small dot.

#include "web/widgets/ui.hpp"

#include <span>
#include <string_view>

namespace hangtime::ui {

struct TimelinePoint {
    std::int64_t at;
    double part;
}; // of the volume that the vein gets, 0 to 1

enum class Mark : std::uint8_t { to_come, due, done, late, missed, not_needed };

struct TimelineCheck {
    std::int64_t at;
    Mark mark;
    std::string_view time; // "14:07"
};
struct TimelineWall {
    std::int64_t at;
    std::string_view label; // "all in by 17:40"
    bool main;              // the one that ends it: full height
};
struct TimelineStage {
    std::int64_t from, to;
    std::string_view label; // "50 mL/h"
};
struct TimelineTick {
    std::int64_t at;
    std::string_view label;
};

struct Timeline {
    std::int64_t from = 0, to = 0; // what is shown
    std::span<const TimelinePoint> climb;
    std::int64_t saline_until = 0; // saline runs until here; 0: none
    std::span<const TimelineStage> stages;
    std::span<const TimelineCheck> checks;
    std::span<const TimelineWall> walls;
    std::span<const TimelineTick> ticks;
    bool has_now = false;
    std::int64_t now = 0;
    std::string_view top_label; // "316 mL", at the end of the climb
    std::string_view spoken;    // all of it in words
};

void timeline(Ui& ui, std::string_view id, Box box, const Timeline& t);
/// One mark alone, for a list or a key.
void check_mark(Ui& ui, float x, float y, float radius, Mark mark);
/// A line of a list that opens: a mark, what it is, and how it stands.
bool marked_row(Ui& ui, std::string_view id, Box box, Mark mark, std::string_view label, std::string_view value,
                bool open);

} // namespace hangtime::ui
