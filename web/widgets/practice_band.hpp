#pragma once

/// The striped edge that only rehearsals have: seen without colour, across a room.

#include "web/widgets/ui.hpp"

namespace hangtime::ui {

inline constexpr float practice_band_px = 8;
void practice_band(Ui& ui, Box box);

} // namespace hangtime::ui
