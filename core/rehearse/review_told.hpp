#pragma once

/// What of a review may be told. A count of 1 to below the floor is not, and nothing from which one could be had by
/// subtraction: what is too few is put together with what stands next to it, or its whole figure is left out. The figures
/// of all groups together are sums of what is told of each, so that nothing follows from them that does not stand there;
/// a group whose distribution is told in few pieces only is not in that of all.
///
/// It holds inside one review. Two that differ by few sessions can be subtracted from each other; the sheet says so.

#include "core/rehearse/review.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtime {

enum class Telling : std::uint8_t {
    parts,      // how often, of how many
    of_all,     // how often, of all units of the group: the rest is the other part or those that it does not apply to
    all_alike,  // that it was always so, or never; not how often
    nothing,
};

struct ToldTally {
    Telling how = Telling::nothing;
    std::int32_t yes = 0, of = 0;  // not of all_alike
    bool always = false;           // of all_alike
    std::int32_t groups = 0;       // of all together: in how many this is told so
    friend bool operator==(const ToldTally&, const ToldTally&) = default;
};

/// Some bins that stand next to each other, as one. The bin `spread_bins` is those that have no such span.
struct ToldBin {
    std::size_t first = 0, last = 0;
    std::int32_t times = 0;
    friend bool operator==(const ToldBin&, const ToldBin&) = default;
};

/// In the order of the codes; without a reason: all others together.
struct ToldReason {
    std::optional<std::size_t> reason;
    ByReason by;
    friend bool operator==(const ToldReason&, const ToldReason&) = default;
};
struct ToldReasons {
    bool told = false;
    ByReason all;
    std::vector<ToldReason> list;
    friend bool operator==(const ToldReasons&, const ToldReasons&) = default;
};

struct ToldGroup {
    std::string protocol;            // empty in the group of all
    Component component{};
    std::int32_t units = 0;
    std::array<ToldTally, measure_count> measures{};
    std::array<std::vector<ToldBin>, spread_count> spreads{};  // empty: not told
    std::array<std::vector<std::size_t>, spread_count> summed{};  // of all together: the groups that are in it
    std::optional<std::int32_t> returned, discarded;           // both or none
    ToldReasons pauses, gone;

    const ToldTally& tally(Measure m) const { return measures[static_cast<std::size_t>(m)]; }
    friend bool operator==(const ToldGroup&, const ToldGroup&) = default;
};

struct ReviewTold {
    std::int32_t floor = 1;
    std::int32_t sessions = 0;       // at least so many: a multiple of the floor
    bool left_out = false;           // a group is too small to be shown
    std::vector<ToldGroup> groups;
    ToldGroup all;
};

ReviewTold told_of(const Review& review, std::int32_t floor);

}  // namespace hangtime
