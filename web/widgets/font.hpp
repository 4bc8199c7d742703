#pragma once

/// The letters that are embedded: B612 Regular, whole, as Debian's fonts-b612 has it. The build writes the bytes.

extern "C" {
extern const unsigned char hangtime_font[];
extern const unsigned int hangtime_font_size;
}
