#pragma once

/// What `hangtime scan` and `hangtime compatible` print.
///
/// JSON, version 1. Scans: `{"hangtime_scan": 1, "scans": [{"result": code, ...}]}`; what is not known is
/// null, and of a refused scan there is the code only. Compatibility: `{"hangtime_compatible": 1, ...,
/// "abo": [{"recipient", "unit", "low_titre", "answer", "why", "text"}], "rhd": [...]}`.

#include "core/match/label.hpp"
#include "core/protocol/protocol.hpp"
#include "core/sheet/document.hpp"

#include <string>
#include <vector>

namespace hangtime::cli {

/// False where nothing was understood, and where a group was read whose code is not recognised.
bool recognised(const Scan& scan);

std::string scans_text(const std::vector<Scan>& scans);
std::string scans_json(const std::vector<Scan>& scans);

/// Tables for an adult without special circumstances; what the rules ask for beside them is said.
sheet::Document compatible_sheet(const Protocol& protocol, Component component);
std::string compatible_json(const Protocol& protocol, Component component);

}  // namespace hangtime::cli
