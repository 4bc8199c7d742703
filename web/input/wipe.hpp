#pragma once

/// Overwrites what must not stay in memory. Through a volatile pointer, so that no compiler leaves it out.

#include <cstddef>
#include <type_traits>

namespace hangtime::input {

inline void wipe_bytes(void* at, std::size_t size) {
    volatile unsigned char* byte = static_cast<unsigned char*>(at);
    for (std::size_t i = 0; i < size; ++i)
        byte[i] = 0;
}

/// The same for a whole value, which is then as if it was never set.
template <class T>
void wipe(T& value) {
    static_assert(std::is_trivially_copyable_v<T> && std::is_trivially_destructible_v<T>);
    wipe_bytes(&value, sizeof value);
    value = T{};
}

} // namespace hangtime::input
