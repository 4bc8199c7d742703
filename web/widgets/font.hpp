#pragma once

/// The letters that are embedded: B612 Regular, whole, as Debian's fonts-b612 has it. The build writes the
/// bytes into b612_regular.inc, separated by commas.

namespace hangtime::ui {
extern const unsigned char font_bytes[];
extern const int font_size;
} // namespace hangtime::ui
