#pragma once

/// The plan for one bag as a document: first whether it fits and what to do, with room for a pen; then, on a
/// page of its own, how each number was worked out and where the rule for it is from. Clock times, elapsed
/// times and "day +1", no dates; nothing that says who the recipient is.

#include "core/protocol/protocol.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/session/state.hpp"
#include "core/sheet/document.hpp"

#include <string>

namespace hangtime {

/// How sheets of several bags are told apart: the drawn object's spoken name and the last digits of the
/// donation number. Where there is none, the sheet has a space for a pen.
struct SheetLabels {
    std::string object{};
    std::string bag_digits{};
};

sheet::Document plan_sheet(const Protocol& protocol, const State& state, const Reckoning& reckoning,
                           const WallClock& wall, const SheetLabels& labels = {});

/// What falls on a time, for CSV and calendars: every limit, stage and check.
void add_moments(sheet::Document& document, const Protocol& protocol, const State& state,
                 const Reckoning& reckoning, const WallClock& wall);

/// What stands at the end of every sheet, screen print and card: the cautions, and whose rules these are.
void add_rules_and_cautions(sheet::Document& document, const Protocol& protocol);

}  // namespace hangtime
