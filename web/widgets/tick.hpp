#pragma once

/// One of a list in which several can be ticked: an open square, and a filled one with a hook. `behind` stands at the
/// right ("14:07"), `below` is a line or more under the label.

#include "web/widgets/ui.hpp"

#include <string_view>

namespace hangtime::ui {

struct Tick {
    std::string_view label, behind = {}, below = {};
    bool ticked = false;
    bool next = false; // the one that comes next: a bar at its side
    bool enabled = true;
};
bool tick(Ui& ui, std::string_view id, Box box, const Tick& t);
/// The height that it needs in this width; at least that of a control.
float tick_height(const Ui& ui, float width, const Tick& t);

} // namespace hangtime::ui
