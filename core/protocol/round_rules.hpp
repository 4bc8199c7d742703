#pragma once

/// The local rules for more than one unit: the set across units, when to call for the next bag, and what a
/// nurse's time goes into. A part of core/protocol/protocol.hpp; a file that says nothing about it has none,
/// and then sequences and rounds are not planned under it. The hours of a set stand with each component's
/// limits (change_set), the units through one set in `set_units`, and which component always gets a new one
/// in `new_set`.

#include "core/protocol/given.hpp"
#include "core/quantity.hpp"
#include "core/words/round_codes.hpp"

namespace hangtime {

struct RoundRules {
    Given<SetUse> set_use;
    Given<SetChange> set_change;
    Given<Reassess> reassess;
    Seconds reassess_takes{};       // from the end of a unit to "yes, another one"
    Basis reassess_takes_basis{};
    Given<bool> end_check_is_baseline;  // of the next unit, while it is fresh enough

    struct Call {
        Seconds ready, transport;   // from the call to issue; from issue to the ward
        Basis basis;
        friend bool operator==(const Call&, const Call&) = default;
    };
    Call call;
    Given<Seconds> match_takes;     // the match, hanging and connecting: before the start
    Given<Seconds> attended;        // from the start: the nurse stays
    Given<Seconds> check_takes;     // one set of observations; never more than a slot of a round's grid

    friend bool operator==(const RoundRules&, const RoundRules&) = default;
};

}  // namespace hangtime
