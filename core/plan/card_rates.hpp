#pragma once

/// The tables of rates on the card: by volume and time, by weight, and by drops. Each cell stays inside the highest
/// rates that the protocol has for its component, and the table names them.

#include "core/protocol/protocol.hpp"
#include "core/sheet/document.hpp"

namespace hangtime::card_parts {

/// A line that is filled with saline, under rules that count the first minutes from the first component in the vein:
/// then a volume is that of the bag, and the slow stage is as long as it will be.
bool counts_from_vein(const Protocol& protocol);

/// How long the saline in the line takes at the rate of the slow stage; 0 where that is counted from the start, or
/// where the rate goes by weight and is not known here.
Seconds saline_takes(const Protocol& protocol, const ComponentRules& rules);

void add_rates(sheet::Document& document, const Protocol& protocol);
void add_weights(sheet::Document& document, const Protocol& protocol);
void add_drops(sheet::Document& document, const Protocol& protocol);

}  // namespace hangtime::card_parts
