#pragma once

/// What a session has to say about observations and reactions, out of its log: for the sheet, the screens and a
/// replay.

#include "core/reckon/live.hpp"
#include "core/report/fluid_total.hpp"
#include "core/report/reaction_report.hpp"
#include "core/session/log.hpp"

#include <span>
#include <vector>

namespace hangtime {

/// The sets of a session against its baseline, in the order of time; the baseline empty where there is none. Times from
/// the start, or from the first of them where it has not started.
ObserveFile observations_of(const Session& session);

/// The rules for a change from the beginning on, as they were chosen; empty where the protocol has none. They point into the
/// session.
std::vector<ReportedRules> rules_used(const Session& session);

/// What the report to the blood bank takes. Only where a reaction was suspected. `beside`: the sessions that run into the same
/// recipient, here and in the sheet.
ReactionReport reaction_report_of(const Session& session, const Live& live, std::span<const FluidBeside> beside = {});

/// The session's sheet with its observations: in front of the plan what asks to hold, behind it the trend.
sheet::Document session_document(const Log& log, const Live& live, std::span<const FluidBeside> beside = {});

}  // namespace hangtime
