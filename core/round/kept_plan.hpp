#pragma once

/// Where the starts of a round stand that somebody has moved or holds, as it is kept beside the round's draft: what was
/// dragged is work as well. Objects, roles and times; nothing that says who anybody is.

#include "core/result.hpp"
#include "core/round/problem.hpp"
#include "core/session/objects.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::rounds {

struct KeptStart {
    SpokenObject object{};
    int slot = 0;               // of the round's grid
    int nurse = 0, second = -1; // -1: nobody of the round
    bool held = false;
};

struct KeptPlan {
    bool by_hand = false;       // as somebody put it; otherwise only what is held counts, and the rest is found again
    std::optional<Cost> best;   // with nothing held
    Cost bound;                 // no answer costs less
    std::vector<KeptStart> starts;
};

std::string kept_plan_text(const KeptPlan& plan);

/// Reads what `kept_plan_text` writes, and nothing else. Whether it goes with a round is for the caller to see.
Result<KeptPlan> read_kept_plan(std::string_view json);

}  // namespace hangtime::rounds
