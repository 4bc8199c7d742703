#include "core/round/prices.hpp"

#include <algorithm>

namespace hangtime::rounds {

Relaxation::Relaxation(const Problem& problem, const std::vector<std::vector<std::int64_t>>& base)
    : problem_(problem), base_(base) {
    const auto slots = static_cast<std::size_t>(problem.slots);
    up_to_.assign(slots + 1, 0);
    used_.assign(slots, 0);
    chosen_.assign(problem.jobs.size(), 0);
    over_.assign(problem.jobs.size(), 0);
    for (const Job& job : problem.jobs)
        for (const Option& option : job.options)
            for (const Span& check : option.checks) {
                const auto width = static_cast<std::size_t>(check.to - check.from);
                if (cheapest_.size() <= width) cheapest_.resize(width + 1);
                cheapest_[width].resize(slots);
            }
}

PriceList Relaxation::no_prices() const {
    return {std::vector<std::int64_t>(used_.size(), 0), std::vector<std::int64_t>(problem_.jobs.size(), 0)};
}

// The cheapest slot of each window of each width that some check has.
void Relaxation::price_windows(const std::vector<std::int64_t>& price) {
    for (std::size_t s = 0; s < price.size(); ++s) up_to_[s + 1] = up_to_[s] + price[s];
    for (std::size_t width = 1; width < cheapest_.size(); ++width) {
        std::vector<int>& at = cheapest_[width];
        for (std::size_t from = 0; from < at.size(); ++from) {
            std::size_t best = from;
            const std::size_t to = std::min(price.size(), from + width);
            for (std::size_t s = from + 1; s < to; ++s)
                if (price[s] < price[best]) best = s;
            at[from] = static_cast<int>(best);
        }
    }
}

// The bound at these prices; leaves in `used_` and `over_` by how much the cheapest options break what is
// priced.
std::int64_t Relaxation::evaluate(Stand& stand, const PriceList& prices) {
    price_windows(prices.slot);
    std::fill(used_.begin(), used_.end(), 0);
    const auto sum = [&](const Span& span) {
        if (span.empty()) return std::int64_t{0};
        return up_to_[static_cast<std::size_t>(span.to)] - up_to_[static_cast<std::size_t>(span.from)];
    };
    std::int64_t bound = stand.paid;
    const auto& jobs = problem_.jobs;
    for (std::size_t i = 0; i < jobs.size(); ++i) {
        if (stand.placed[i]) continue;
        // What a minute costs: from the one that it follows, and from those that follow it.
        std::int64_t by_start = 0, by_finish = 0;
        if (jobs[i].follows >= 0 && !stand.placed[static_cast<std::size_t>(jobs[i].follows)]) {
            by_start = -prices.follow[i];
            bound += prices.follow[i] * jobs[i].lag_min;
        }
        for (std::size_t j = 0; j < jobs.size(); ++j)
            if (jobs[j].follows == static_cast<int>(i) && !stand.placed[j]) by_finish += prices.follow[j];
        std::int64_t least = INT64_MAX;
        for (Open& open : stand.open[i]) {
            const Option& o = jobs[i].options[static_cast<std::size_t>(open.option)];
            std::int64_t r = base_[i][static_cast<std::size_t>(open.option)] * price_scale + sum(o.lead);
            if (problem_.second_from_round) r += sum(o.match);
            r += by_start * o.start * slot_minutes + by_finish * o.finish_min;
            for (const Span& check : o.checks) r += prices.slot[static_cast<std::size_t>(cheapest(check))];
            open.reduced = r;
            if (r < least) least = r, chosen_[i] = open.option;
        }
        bound += least;
        const Option& o = jobs[i].options[static_cast<std::size_t>(chosen_[i])];
        for (int s = o.lead.from; s < o.lead.to; ++s) ++used_[static_cast<std::size_t>(s)];
        if (problem_.second_from_round)
            for (int s = o.match.from; s < o.match.to; ++s) ++used_[static_cast<std::size_t>(s)];
        for (const Span& check : o.checks) ++used_[static_cast<std::size_t>(cheapest(check))];
    }
    for (const Span& check : stand.checks) {
        const auto s = static_cast<std::size_t>(cheapest(check));
        bound += prices.slot[s];
        ++used_[s];
    }
    for (std::size_t s = 0; s < used_.size(); ++s) {
        bound -= prices.slot[s] * stand.capacity[s];
        used_[s] -= stand.capacity[s];
    }
    for (std::size_t i = 0; i < jobs.size(); ++i) {
        over_[i] = 0;
        const int before = jobs[i].follows;
        if (before < 0 || stand.placed[i] || stand.placed[static_cast<std::size_t>(before)]) continue;
        const auto b = static_cast<std::size_t>(before);
        over_[i] = jobs[b].options[static_cast<std::size_t>(chosen_[b])].finish_min + jobs[i].lag_min -
                   jobs[i].options[static_cast<std::size_t>(chosen_[i])].start * slot_minutes;
    }
    return bound;
}

std::int64_t Relaxation::improve(Stand& stand, PriceList& prices, std::int64_t limit, int steps) {
    PriceList at = prices;
    std::int64_t best = INT64_MIN;
    std::int64_t reach = 16;  // of a step, in sixteenths of what Polyak's rule says
    int stalled = 0;
    bool at_best = false;     // the reduced costs are those at the best prices
    for (int step = 0;; ++step) {
        const std::int64_t bound = evaluate(stand, at);
        at_best = bound > best;
        if (at_best) {
            best = bound;
            prices = at;
            stalled = 0;
        } else if (++stalled == 3) {
            stalled = 0;
            reach = reach * 2 / 3;
        }
        if (step >= steps || best > limit || reach == 0) break;
        std::int64_t norm = 0;
        for (std::size_t s = 0; s < used_.size(); ++s)
            if (used_[s] > 0 || (used_[s] < 0 && at.slot[s] > 0)) norm += used_[s] * used_[s];
        for (std::size_t i = 0; i < over_.size(); ++i)
            if (over_[i] > 0 || (over_[i] < 0 && at.follow[i] > 0)) norm += over_[i] * over_[i] / 25;
        if (norm == 0) break;  // nothing is left to gain
        // Aimed a little beyond the limit, where a bound ends the node.
        const std::int64_t gap = std::max<std::int64_t>(limit - bound + price_scale, price_scale) * reach;
        for (std::size_t s = 0; s < used_.size(); ++s)
            if (used_[s] != 0)
                at.slot[s] = std::max<std::int64_t>(0, at.slot[s] + used_[s] * gap / (norm * 16));
        for (std::size_t i = 0; i < over_.size(); ++i)
            if (over_[i] != 0)
                at.follow[i] = std::max<std::int64_t>(0, at.follow[i] + over_[i] * gap / (norm * 16 * 25));
    }
    if (!at_best) evaluate(stand, prices);
    return best;
}

}  // namespace hangtime::rounds
