#pragma once

/// The shipped rehearsals and their attempts, for tests.

#include "core/rehearse/debrief.hpp"

#include <string>
#include <vector>

namespace hangtime::test {

Scenario shipped_scenario(const std::string& name);
/// "model" or "mistake"
Actions shipped_actions(const std::string& name, const std::string& which, const Scenario& scenario);

}  // namespace hangtime::test
