#pragma once

/// The shape of the table in clock_changes.cpp; tests/core/clock_test.cpp holds the wall clock to it.

#include <cstdint>
#include <string>
#include <vector>

namespace hangtime::reference {

struct ClockCase {
    struct Change {
        std::int64_t utc;
        int offset_min;
    };
    struct Shown {
        std::int64_t utc;
        std::string local;  // with its offset
    };
    struct Reading {
        std::string local;                  // without an offset
        std::vector<std::int64_t> moments;  // none: jumped over; two: shown twice
    };
    int zone;
    int first_offset_min;
    std::vector<Change> changes;
    std::vector<Shown> shown;
    std::vector<Reading> readings;
};

const std::vector<ClockCase>& clock_cases();

}  // namespace hangtime::reference
