#pragma once

/// What to enter on a device for what is left, in an order of our own, with a caution where a device that is told a
/// duration would come to another rate.

#include "core/reckon/live.hpp"
#include "web/widgets/ui.hpp"

#include <string_view>

namespace hangtime::screens {

/// Draws it from the top of `box`; its height. The nodes are `id`, `id`.volume, .rate, .duration and .disagrees.
float device_lines(ui::Ui& ui, ui::Box box, std::string_view id, const DeviceEntry& entry);

} // namespace hangtime::screens
