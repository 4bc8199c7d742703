#pragma once

/// What is told of a review, in words; for its sheet and its screen.

#include "core/rehearse/review_told.hpp"

#include <string>

namespace hangtime {

std::string told_text(const ToldTally& tally, Measure measure, std::int32_t floor);  // "93 of 98, 94 %"
std::string not_told_text(std::int32_t floor);
std::string per_cent_text(std::int32_t yes, std::int32_t of);
std::string average_minutes(const ByReason& by);
std::string bin_text(Spread spread, const ToldBin& bin);  // "10 to under 20 min"
std::string group_text(const ToldGroup& group);           // "Red cells, general-ward"
/// "From issue until hung", and of all together in how many groups that is told.
std::string spread_text(const ReviewTold& told, const ToldGroup& group, Spread spread);
std::string sessions_text(const ReviewTold& told);
std::string floor_text(const ReviewTold& told);

}  // namespace hangtime
