#pragma once

/// Each sign over time against its baseline, on one picture with the stages and the checks, for a sheet. The same as the
/// table beside it: nothing stands in the picture alone.

#include "core/report/observe_file.hpp"
#include "core/sheet/document.hpp"

#include <string>
#include <vector>

namespace hangtime {

/// What is drawn above the signs; times from the start.
struct TrendFrame {
    struct Stage {
        Seconds from{};
        std::string text{};  // "50 mL/h", "stands still"
    };
    struct CheckMark {
        Seconds at{};
        enum class As : std::uint8_t { done, open, missed } as{};
    };
    std::vector<Stage> stages{};
    std::vector<CheckMark> checks{};
    std::optional<Seconds> stopped{}, ended{};
};

/// Signs that are numbers, where the baseline or a set has a value; no marks where there is nothing to draw.
sheet::Picture trend_picture(const TimedSet& baseline, const std::vector<TimedSet>& sets, const TrendFrame& frame);

}  // namespace hangtime
