#pragma once

/// Code 128 (ISO/IEC 15417): the bars of a text. Digits go two to a sign where that is shorter.

#include <cstdint>
#include <string_view>
#include <vector>

namespace hangtime::sheet {

/// The widths in modules of bar, space, bar, ..., beginning and ending with a bar; without the blank zones. Empty where
/// the text is empty or holds anything but printable ASCII.
std::vector<std::uint8_t> code128(std::string_view text);

}  // namespace hangtime::sheet
