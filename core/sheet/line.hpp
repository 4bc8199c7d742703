#pragma once

/// What the writers share. Only core/sheet includes this.

#include <cstddef>
#include <string_view>

namespace hangtime::sheet {

/// The end of the quantity that begins at `from` ("174 mL/h", "15 min", "02:30 day +1"), or `from` where none
/// does. A number and its unit are never split over a line (NHS Common User Interface, key rules).
std::size_t quantity_end(std::string_view text, std::size_t from);

}  // namespace hangtime::sheet
