#ifdef __EMSCRIPTEN__

/// A WebAssembly module of its own, under 2 kB, which runs first and unpacks the rest of the page. JavaScript
/// (web/platform/15_unpack.js) puts the text at `input`, calls `unpack` and finds the bytes at `output`.

#include "web/unpack/unpack.hpp"

#include <emscripten.h>

namespace {
unsigned char text[1536 * 1024]; // scripts/pack refuses what does not fit
unsigned char bytes[2048 * 1024];
} // namespace

extern "C" {

EMSCRIPTEN_KEEPALIVE unsigned char* input() {
    return text;
}
EMSCRIPTEN_KEEPALIVE unsigned char* output() {
    return bytes;
}
EMSCRIPTEN_KEEPALIVE std::uint32_t unpack(std::size_t length, std::size_t size) {
    if (length > sizeof text || size > sizeof bytes)
        return 0;
    return hangtime::unpack::unpack(text, length, bytes, size);
}

} // extern "C"

#endif
