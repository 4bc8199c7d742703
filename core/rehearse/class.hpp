#pragma once

/// A class: many saved results of rehearsals (what `hangtime rehearse --as json` writes and a learner's page saves;
/// core/rehearse/result.schema.json), and what they come to together: of each scored item how many of how many, the
/// common mistakes, the points. A result says nothing about who it is of, and the name of its file is not kept.

#include "core/clock.hpp"
#include "core/result.hpp"
#include "core/rehearse/review.hpp"
#include "core/sheet/document.hpp"
#include "core/words/rehearse_codes.hpp"
#include "core/words/session_codes.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

/// A scored item over all attempts at one scenario.
struct ClassItem {
    ScoreKind kind{};
    std::string item, rule, from;
    std::int32_t most = 0;           // points
    std::int32_t met = 0;
    std::int32_t not_done = 0;       // of those that did not meet it
    std::int32_t late = 0;
    std::vector<Seconds> by;         // how late, in rising order
    std::int32_t other(std::int32_t attempts) const { return attempts - met - not_done - late; }
};

/// All attempts at one scenario under one protocol.
struct ClassCase {
    std::string scenario, protocol;
    std::int32_t most = 0;
    std::vector<std::int32_t> points;        // of each attempt, in rising order
    std::vector<std::int32_t> case_numbers;  // in rising order, each once
    std::vector<ClassItem> items;            // in the order of the scenario
    std::vector<std::pair<Refusal, std::int32_t>> refused;  // in how many attempts
    std::int32_t wasted = 0, over_limit = 0; // attempts in which blood was wasted, the limit passed

    std::int32_t attempts() const { return static_cast<std::int32_t>(points.size()); }
    /// Indexes of the items that were missed, the most often missed first.
    std::vector<std::size_t> mistakes() const;
};

class ClassSummary {
public:
    /// Why a result is left out, with the place in it; none: it is counted.
    std::optional<Error> add_file(std::string_view text);

    std::int32_t attempts() const { return attempts_; }
    const std::vector<ClassCase>& cases() const { return cases_; }

private:
    std::int32_t attempts_ = 0;
    std::vector<ClassCase> cases_;   // by scenario and protocol
};

/// How the points are spread: from least to most of each bar, and how many attempts.
struct ScoreBin { std::int32_t least = 0, most = 0, attempts = 0; };
std::vector<ScoreBin> score_bins(const ClassCase& c);

/// "5 of 12 did not meet it: 3 not done, 2 late (12 min in the middle)".
std::string mistake_text(const ClassItem& item, std::int32_t attempts);

sheet::Document class_sheet(const ClassSummary& summary, const std::vector<LeftOut>& left_out);
std::string class_json(const ClassSummary& summary, const std::vector<LeftOut>& left_out);
/// One line a scored item: scenario, protocol, item, points, attempts, met, not done, late, otherwise.
std::string class_csv(const ClassSummary& summary);

}  // namespace hangtime
