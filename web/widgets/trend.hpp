#pragma once

/// Small pictures side by side, one for each sign: its values over time against the baseline (a dashed line),
/// all on the same stretch of time, with lines where the rate changed and a wall where it was stopped. A
/// value that was not recorded leaves a gap; a sign that has a prompt is marked by a square and a word.

#include "web/widgets/ui.hpp"

#include <span>
#include <string_view>

namespace hangtime::ui {

struct TrendPoint {
    std::int64_t at;
    double value;
    bool joined = true; // to the point before it; false where a set between them has no value
};

struct TrendSign {
    std::string_view id;   // "trend.pulse"
    std::string_view name; // "Pulse"
    std::string_view baseline_text, last_text; // "78 /min", or "not recorded"
    std::span<const TrendPoint> points; // after the baseline
    bool has_baseline = false;
    double baseline = 0;
    double least_span = 1; // what the height stands for at least, so that nothing small looks steep
    bool prompt = false;
};

struct Trend {
    std::int64_t from = 0, to = 0; // what is shown
    std::span<const TrendSign> signs;
    std::span<const std::int64_t> rate_changes;
    bool stopped = false;
    std::int64_t stopped_at = 0;
};

void trend(Ui& ui, Box box, const Trend& t);
/// In how many rows they stand in this width, each picture at least 240 CSS pixels wide and the rows alike.
int trend_rows(const Ui& ui, float width, int count);

} // namespace hangtime::ui
