#pragma once

/// A JSON text as a tree of our own: immutable, members in the order of the text, numbers as they were
/// written. A number is never turned into a floating-point one; core/json/field.hpp takes decimals exactly.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::json {

enum class Kind : std::uint8_t { null, boolean, number, text, list, object };

/// "a number", "text", ...: what a value is, for an error.
std::string_view name_of(Kind kind);

/// One value. `text` holds the text, or the number as it was written ("50", "50.5", "1e3"; an integer that
/// fits 64 bits loses only the sign of a zero). `keys` runs along `items` where the value is an object.
struct Value {
    Kind kind = Kind::null;
    bool truth = false;
    std::string text;
    std::vector<std::string> keys;
    std::vector<Value> items;

    /// The member of an object; null where there is none.
    const Value* find(std::string_view key) const;
};

/// What a text may hold at most; beyond it, it is refused before it costs anything.
inline constexpr std::size_t most_bytes = 1 << 20;
inline constexpr std::size_t most_depth = 16;
inline constexpr std::size_t most_items = 1000;  // members of one object, or items of one list

}  // namespace hangtime::json
