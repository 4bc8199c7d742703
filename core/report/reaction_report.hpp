#pragma once

/// The report of a suspected reaction for the blood bank, and the slip about late symptoms, as documents.
/// Both are built from plain values and hold nothing that says who anybody is: a space is left for what the
/// ward's own form adds. Clock times and elapsed times, no dates.
///
/// How a session uses it: fill ReactionReport from the log (the volume and the rates from the reckoning at
/// the moment of the stop) and write the document with core/sheet. What was not recorded stays unset and is
/// said to be so.

#include "core/component.hpp"
#include "core/observe/reaction.hpp"
#include "core/report/observe_sheet.hpp"
#include "core/report/trend_picture.hpp"
#include "core/words/format.hpp"

#include <string>
#include <vector>

namespace hangtime {

struct ReportedRate {
    Instant from{};
    Rate rate{};
};

/// The rules for a change from a moment on.
struct ReportedRules {
    Instant from{};
    JudgedBy by;
    bool chosen = false;  // in the session; else they are the protocol's first
};

struct ReactionReport {
    DayClock day{};
    std::optional<Component> component{};
    std::string bag_digits{}, object{};      // the last digits and the spoken name; may be empty
    Person person{};
    std::optional<Instant> issued{}, started{};
    std::optional<Instant> zero{};           // from where the sets' times count, where it has not started
    Instant stopped{};
    std::optional<Volume> given{}, bag{};
    std::vector<ReportedRate> rates;
    TimedSet baseline{};
    bool baseline_taken = true, baseline_charted = false;
    std::vector<TimedSet> sets;              // in order
    std::vector<std::string> titles;         // along `sets`: which check each was; shorter: not told
    std::vector<bool> charted;               // along `sets`; shorter: the rest is not charted
    std::vector<ReportedRules> rules;        // in order; empty: one set of rules all along
    std::vector<ActionDone> done;
    std::optional<bool> identity_agrees{};
    std::optional<Instant> identity_at{};
    TrendFrame frame{};                      // rates and checks over the signs
    FluidParts fluid{};                      // all that is counted: see core/report/fluid_total.hpp
    std::optional<Instant> fluid_since{};
    std::vector<std::string> fluid_counted, fluid_not_known;
    std::optional<Instant> latest_end{};
    Instant now{};
};

/// "14:41, all agree", "not recorded".
std::string identity_text(std::optional<bool> agrees, std::optional<Instant> at, const DayClock& day);

sheet::Document reaction_report(const Protocol& protocol, const RuleSet& rules, const ReactionReport& report);

/// For the person who goes home: what to look out for and for how long, and that help is to be called. Where
/// to call is left for a pen.
sheet::Document late_symptoms_slip(const Protocol& protocol);

}  // namespace hangtime
