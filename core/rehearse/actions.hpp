#pragma once

/// What a learner did in a rehearsal, as a file: the same records as in a log, each with what it waited for, so that one
/// list holds under every seed. Described in core/rehearse/actions.schema.json. Signs are never in it: what is seen
/// comes from the scenario.

#include "core/rehearse/scenario.hpp"

namespace hangtime {

/// One action: it waits for something, then a while longer, and then it is done, one after the other.
struct Action {
    enum class Wait : std::uint8_t { none, happening, check, doing, at };
    Wait wait = Wait::none;
    std::string happening;           // until this has happened
    CheckKind check{};               // until such a check is due
    Doing doing{};                   // until this falls due
    Seconds at{};                    // until so long after the beginning
    Seconds then{};                  // and so much longer

    enum class Do : std::uint8_t {
        record,      // as it stands
        confirm,     // these items, one after the other
        match,       // so many steps of the match, or the rest of them: the same
        differs,     // the steps before this field: the same; this one: differs
        observe,     // the next check of this kind; the scenario says what is seen
        start,       // at the rate that is reckoned
        raise,       // to the rate that is reckoned
    };
    Do what = Do::record;
    Event record;
    std::vector<Item> items;
    std::int32_t steps = 0;          // 0: the rest
    MatchField field{};
    CheckKind observe{};
};

struct Actions {
    std::string scenario;            // the id
    std::vector<Action> list;
};

/// What a learner takes for one step of the match and for one tick.
inline constexpr Seconds each_step{10};

/// `scenario` is the one that they are for.
Result<Actions> read_actions(std::string_view text, const Scenario& scenario);

}  // namespace hangtime
