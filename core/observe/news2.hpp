#pragma once

/// The National Early Warning Score 2 (Royal College of Physicians, London, December 2017), as published:
/// bands in chart 1, responses in chart 4. It is shown beside the change from baseline, never instead of it:
/// it looks at one set alone, gives no points to a rise from 36.5 to 38.0 degrees C or a fall from 145 to 111
/// mmHg, and nothing that was read recommends it for finding reactions. For 16 years and older, not in
/// pregnancy (those two limits from secondary texts, not from the report; the rest is published, see
/// tests/reference/news2_table.cpp).

#include "core/observe/person.hpp"

#include <array>

namespace hangtime {

struct News2 {
    static constexpr std::int8_t not_recorded = -1;

    std::array<std::int8_t, score_part_count> points{};  // by ScorePart; -1: not recorded
    std::int32_t total = 0;                              // of the parts that are recorded
    bool given = false;                                  // false: it is not for this person
    ScoreBand band{};                                    // by what is recorded: at least this
    FixedList<ScoreLimit, score_limit_count> limits;

    std::int8_t of(ScorePart part) const { return points[static_cast<std::size_t>(part)]; }
    bool complete() const;
};

News2 news2(const Person& person, const Observation& set);

}  // namespace hangtime
