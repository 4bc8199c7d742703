#pragma once

#include <cstddef>
#include <cstdint>

namespace hangtime::unpack {

/// Reads what scripts/pack wrote into the page: text of 93 signs, two of them 13 bits (the first sign is the
/// larger digit; the least significant bits come first), which is a raw LZMA stream with lc = 3, lp = 0,
/// pb = 0 (the format as the LZMA SDK's specification has it). The signs are ASCII's printable ones without
/// the space and without '<'; anything else (an editor's line breaks) means nothing.
///
/// The text's bytes are overwritten. Writes `size` bytes to `out`, unless the stream is damaged, and returns
/// their check (FNV-1a, 32 bits), by which the caller knows. Never writes or reads outside of the two.
std::uint32_t unpack(unsigned char* text, std::size_t length, unsigned char* out, std::size_t size);

} // namespace hangtime::unpack
