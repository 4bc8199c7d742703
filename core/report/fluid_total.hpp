#pragma once

/// All fluid into one person, as far as this device has it: the bag that hangs (or was the last one), the units before it in
/// the same session, and every session that is linked to it; component, saline of the line, other lines; against weight.
/// It says what is counted, and what cannot be known here.

#include "core/observe/reaction.hpp"
#include "core/reckon/live.hpp"
#include "core/session/session.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace hangtime {

/// Another session into the same recipient.
struct FluidBeside {
    const Session& session;
    const Live& live;
    bool whole = true;  // false: records of it are damaged and left out
};

struct FluidTotal {
    FluidParts bag;                  // with this session's bag
    FluidParts all;                  // with every unit that is counted
    std::int32_t units = 0;          // begun
    std::optional<Instant> since;    // the start of the first of them
    Mass weight{};                   // 0: not recorded in any of them
    std::vector<std::string> counted, not_known;  // sentences
};

/// What has gone in with the bag that hangs or was the last one; nothing before the start.
FluidParts fluid_of(const Session& session, const Live& live);

FluidTotal fluid_total(const Session& session, const Live& live, std::span<const FluidBeside> beside = {});

/// "436 mL, 7.3 mL/kg"
std::string fluid_text(const FluidTotal& total);

}  // namespace hangtime
