#pragma once

/// A round while it is being entered: anything may still be missing. It is written as a round file and read by
/// the reader of round files, so that an entry meets the same checks and the same sentences as a file.

#include "core/protocol/protocol.hpp"
#include "core/round/round.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace hangtime::rounds {

struct DraftStretch {
    std::optional<Instant> from, until;
    bool empty() const { return !from && !until; }
};

struct DraftNurse {
    DraftStretch hours;
    DraftStretch rest[2];      // breaks; empty ones are left out
    DraftStretch handover[2];
};

struct DraftTransfusion {
    SpokenObject object{};
    std::optional<Component> component;
    std::optional<std::int64_t> bag_tenths;     // of a mL
    std::optional<std::int64_t> weight_tenths;  // of a kg
    Answer overload_risk = Answer::not_recorded, can_report = Answer::not_recorded;
    std::optional<std::int64_t> within_min;     // the order's, from the start
    std::optional<std::int64_t> weight;         // of its finish; none: 1
    std::optional<Instant> earliest, latest;    // of the call
    std::optional<SpokenObject> follows;
};

struct Draft {
    WallClock wall;
    std::optional<Instant> from, until;
    bool second_from_round = false;
    std::vector<DraftNurse> nurses;
    std::vector<DraftTransfusion> transfusions;
};

/// One nurse and one transfusion, from the next whole hour for eight hours.
Draft new_draft(Instant now, const WallClock& wall);
/// With an object that no other one has.
DraftTransfusion new_transfusion(const Draft& draft);

/// What `read_round` reads. Times are told with their offset.
std::string draft_text(const Draft& draft, const Protocol& protocol);

}  // namespace hangtime::rounds
