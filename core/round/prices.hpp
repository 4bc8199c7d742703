#pragma once

/// The bound of the solver: prices for a nurse's time, slot by slot. For core/round/solver*.cpp only.
///
/// Lagrangian relaxation of "no more nurses are busy in a slot than are free in it", of "one that follows starts
/// after the other's end" and of "no more changes than the search allows", in whole numbers: costs are scaled by
/// `price_scale`, so that a price may be a fraction of a minute.

#include "core/round/problem.hpp"

#include <cstdint>
#include <vector>

namespace hangtime::rounds {

inline constexpr std::int64_t price_scale = 256;

/// Changes of an option against what was promised, whoever of its nurses has it.
int least_changes(const Job& job, const Option& option);

/// A price is cut off here, so that the arithmetic on them stays in 32 bits where there is much of it. Any price that
/// is not negative gives a bound that holds.
inline constexpr std::int32_t most_price = 1 << 28;
inline constexpr std::int32_t most_step = 1 << 24;  // times as many as can be too many, no more than 32 bits hold
static_assert(static_cast<std::int64_t>(most_price) * most_slots < INT64_MAX / 64);

/// Slot by slot, for each job that follows another what a minute of starting too soon costs, and what a change against
/// what was promised costs. Scaled.
struct PriceList {
    std::vector<std::int32_t> slot;
    std::vector<std::int64_t> follow;
    std::int64_t change = 0;
};

/// An option of a job that is still open, and what it costs at the prices, what it uses paid for. Scaled.
struct Open {
    int option;
    std::int64_t reduced;
};

/// Where the search stands: what is open, and what nurses' time is left.
struct Stand {
    std::vector<std::vector<Open>> open;  // of each job that is not placed; empty for those that are
    std::vector<int> capacity;            // nurses who are free, slot by slot
    std::vector<Span> checks;             // of what is placed
    std::vector<bool> placed;
    std::int64_t paid = 0;                // what is placed costs, scaled
    int changes = 0;                      // of what is placed
};

class Relaxation {
public:
    /// `base[i][o]` is what option o of job i costs.
    Relaxation(const Problem& problem, const std::vector<std::vector<std::int64_t>>& base);

    PriceList no_prices() const;

    /// At most `steps` subgradient steps from `prices` towards `limit` (scaled: what an answer must not cost
    /// more than to be of use; nor have more than `most_changes`), ended early where the bound passes it. Returns the best bound found, scaled;
    /// `prices` are those that give it, and each open option has its reduced cost at them.
    std::int64_t improve(Stand& stand, PriceList& prices, std::int64_t limit, int steps, int most_changes);

private:
    // What is asked of an option in the innermost loop, one after another in memory.
    struct Flat {
        std::int64_t base = 0;                      // scaled
        std::int32_t start_min = 0, finish_min = 0;
        std::int32_t lead_from = 0, lead_to = 0, match_from = 0, match_to = 0;
        std::int32_t check = 0, check_end = 0;      // into windows_
        std::int32_t changes = 0;                   // at least so many
    };

    std::int64_t evaluate(Stand& stand, const PriceList& prices, int most_changes);
    void price_windows(const std::vector<std::int32_t>& price);
    std::size_t cheapest_slot(const std::vector<std::int32_t>& price, std::size_t window) const;
    std::size_t window_of(const Span& check) const {
        return static_cast<std::size_t>(width_at_[static_cast<std::size_t>(check.to - check.from)]) * used_.size() +
               static_cast<std::size_t>(check.from);
    }

    const Problem& problem_;
    std::vector<std::vector<Flat>> flat_;
    std::vector<std::int32_t> windows_;       // a window's place in the two tables below
    std::vector<int> widths_;                 // that some check has
    std::vector<int> width_at_;               // the place of a width among them
    std::vector<std::int32_t> window_price_;  // what the cheapest slot of a window costs
    std::vector<std::int64_t> up_to_;         // sums of prices before each slot
    std::vector<int> used_;                   // of the cheapest options
    std::vector<int> chosen_;
    std::vector<std::int64_t> over_;          // minutes by which each that follows starts too soon
    std::int64_t changes_over_ = 0;           // changes too many
};

}  // namespace hangtime::rounds
