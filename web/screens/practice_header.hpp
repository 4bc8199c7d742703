#pragma once

/// The line on top of the screens round a rehearsal: back, title, print, colours.

#include "web/widgets/ui.hpp"

#include <string_view>

namespace hangtime::screens {

struct PracticeHeader {
    bool back = false, print = false, night = false;
};
/// `back`: what its button is called; `print`: whether there is something to print.
PracticeHeader practice_header(ui::Ui& ui, ui::Box box, std::string_view back, std::string_view title, bool prints);

} // namespace hangtime::screens
