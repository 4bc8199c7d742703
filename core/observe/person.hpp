#pragma once

/// What of a person the rules about observations depend on. Nothing that says who it is.

#include "core/observe/observation.hpp"
#include "core/quantity.hpp"

#include <optional>

namespace hangtime {

struct Person {
    std::optional<AgeGroup> age{};
    Mass weight{};                    // 0: not recorded
    std::optional<bool> pregnant{};
    bool saturation_scale_2 = false;  // the score's second scale: only where a clinician has said so

    friend bool operator==(const Person&, const Person&) = default;
};

}  // namespace hangtime
