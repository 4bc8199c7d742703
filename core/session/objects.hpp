#pragma once

/// The drawn objects with a spoken name that tell sessions apart in a room: never a letter (letters are blood
/// groups), a bed or a name. Things that sound alike, or that belong to the ward, are left out.

#include <array>
#include <cstdint>
#include <string_view>

namespace hangtime {

enum class SpokenObject : std::uint8_t {
    anchor, basket, bell, boat, bridge, candle, feather, fish, hammer, key, kite, ladder,
    lantern, leaf, mountain, mushroom, owl, rocket, scissors, snail, teapot, tree, umbrella, wheel,
};
inline constexpr int spoken_object_count = 24;

inline constexpr std::array<std::string_view, spoken_object_count> spoken_object_names = {
    "anchor",  "basket", "bell",     "boat",     "bridge", "candle", "feather",  "fish",
    "hammer",  "key",    "kite",     "ladder",   "lantern", "leaf",  "mountain", "mushroom",
    "owl",     "rocket", "scissors", "snail",    "teapot", "tree",   "umbrella", "wheel"};

constexpr std::string_view name(SpokenObject o) { return spoken_object_names[static_cast<std::size_t>(o)]; }

}  // namespace hangtime
