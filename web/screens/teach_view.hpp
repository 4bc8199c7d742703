#pragma once

/// What the screens of the review and of a class share.

#include "web/widgets/ui.hpp"

#include <string_view>

namespace hangtime::screens {

/// Back, the title, a table for the spreadsheet, the sheet, day or night. `ready`: there is something to save and print.
struct TeachHeader {
    bool back = false, save = false, print = false, night = false;
};
TeachHeader teach_header(ui::Ui& ui, ui::Box box, std::string_view id, std::string_view title, bool ready);

} // namespace hangtime::screens
