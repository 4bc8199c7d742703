#pragma once

/// What every value in a protocol carries: where it is from, and how far it can be trusted.

#include "core/words/codes.hpp"

#include <cstdint>

namespace hangtime {

/// Where a value is from: an index into Protocol::sources (or `no_source`), and how far it can be trusted.
struct Basis {
    static constexpr std::uint8_t no_source = 255;
    std::uint8_t source = no_source;
    Grade grade = Grade::common_practice;

    friend constexpr bool operator==(const Basis&, const Basis&) = default;
};

/// A value and where it is from.
template <class T>
struct Given {
    T value{};
    Basis basis{};

    friend bool operator==(const Given&, const Given&) = default;
};

}  // namespace hangtime
