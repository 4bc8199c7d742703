#include "core/round/prices.hpp"

#include <algorithm>

namespace hangtime::rounds {

namespace {
constexpr std::int64_t change_weight = 4;
}

int least_changes(const Job& job, const Option& option) {
    const bool start = job.promised_start >= 0 && job.promised_start != option.start;
    const bool nurse = job.promised_nurse >= 0 && (option.nurses >> job.promised_nurse & 1U) == 0;
    return (start ? 1 : 0) + (nurse ? 1 : 0);
}

Relaxation::Relaxation(const Problem& problem, const std::vector<std::vector<std::int64_t>>& base)
    : problem_(problem) {
    const auto slots = static_cast<std::size_t>(problem.slots);
    up_to_.assign(slots + 1, 0);
    used_.assign(slots, 0);
    chosen_.assign(problem.jobs.size(), 0);
    over_.assign(problem.jobs.size(), 0);
    for (const Job& job : problem.jobs)
        for (const Option& option : job.options)
            for (const Span& check : option.checks) {
                const auto width = static_cast<std::size_t>(check.to - check.from);
                if (width_at_.size() <= width) width_at_.resize(width + 1, -1);
                if (width_at_[width] >= 0) continue;
                width_at_[width] = static_cast<int>(widths_.size());
                widths_.push_back(static_cast<int>(width));
            }
    window_price_.assign(widths_.size() * slots, 0);
    flat_.resize(problem.jobs.size());
    for (std::size_t i = 0; i < problem.jobs.size(); ++i)
        for (std::size_t o = 0; o < problem.jobs[i].options.size(); ++o) {
            const Option& option = problem.jobs[i].options[o];
            Flat flat;
            flat.base = base[i][o] * price_scale;
            flat.changes = least_changes(problem.jobs[i], option);
            flat.start_min = option.start * slot_minutes;
            flat.finish_min = option.finish_min;
            flat.lead_from = option.lead.from;
            flat.lead_to = std::max(option.lead.from, option.lead.to);
            if (problem.second_from_round) {
                flat.match_from = option.match.from;
                flat.match_to = std::max(option.match.from, option.match.to);
            }
            flat.check = static_cast<std::int32_t>(windows_.size());
            for (const Span& check : option.checks) windows_.push_back(static_cast<std::int32_t>(window_of(check)));
            flat.check_end = static_cast<std::int32_t>(windows_.size());
            flat_[i].push_back(flat);
        }
}

PriceList Relaxation::no_prices() const {
    return {std::vector<std::int32_t>(used_.size(), 0), std::vector<std::int64_t>(problem_.jobs.size(), 0), 0};
}

// The least price of each window of each width that some check has.
void Relaxation::price_windows(const std::vector<std::int32_t>& price) {
    const std::size_t slots = price.size();
    for (std::size_t s = 0; s < slots; ++s) up_to_[s + 1] = up_to_[s] + price[s];
    for (std::size_t w = 0; w < widths_.size(); ++w) {
        std::int32_t* least = window_price_.data() + w * slots;
        const auto width = static_cast<std::size_t>(widths_[w]);
        std::copy(price.begin(), price.end(), least);
        // A window that runs over the end is a shorter one.
        for (std::size_t k = 1; k < width && k < slots; ++k) {
            const std::int32_t* later = price.data() + k;
            for (std::size_t from = 0; from < slots - k; ++from)
                least[from] = later[from] < least[from] ? later[from] : least[from];
        }
    }
}

// The first slot of a window that has its least price.
std::size_t Relaxation::cheapest_slot(const std::vector<std::int32_t>& price, std::size_t window) const {
    std::size_t s = window % price.size();
    while (price[s] != window_price_[window]) ++s;
    return s;
}

// The bound at these prices; leaves in `used_`, `over_` and `changes_over_` by how much the cheapest options break what
// is priced.
std::int64_t Relaxation::evaluate(Stand& stand, const PriceList& prices, int most_changes) {
    price_windows(prices.slot);
    std::fill(used_.begin(), used_.end(), 0);
    const std::int64_t* up = up_to_.data();
    std::int64_t bound = stand.paid;
    changes_over_ = stand.changes - most_changes;
    bound += prices.change * changes_over_;
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
        const Flat* flat = flat_[i].data();
        for (Open& open : stand.open[i]) {
            const Flat& f = flat[open.option];
            std::int64_t r = f.base + up[f.lead_to] - up[f.lead_from] + up[f.match_to] - up[f.match_from];
            r += by_start * f.start_min + by_finish * f.finish_min + prices.change * f.changes;
            for (std::int32_t c = f.check; c < f.check_end; ++c)
                r += window_price_[static_cast<std::size_t>(windows_[static_cast<std::size_t>(c)])];
            open.reduced = r;
            if (r < least) least = r, chosen_[i] = open.option;
        }
        bound += least;
        const Flat& f = flat[chosen_[i]];
        changes_over_ += f.changes;
        for (int s = f.lead_from; s < f.lead_to; ++s) ++used_[static_cast<std::size_t>(s)];
        for (int s = f.match_from; s < f.match_to; ++s) ++used_[static_cast<std::size_t>(s)];
        for (std::int32_t c = f.check; c < f.check_end; ++c)
            ++used_[cheapest_slot(prices.slot, static_cast<std::size_t>(windows_[static_cast<std::size_t>(c)]))];
    }
    for (const Span& check : stand.checks) {
        const std::size_t window = window_of(check);
        bound += window_price_[window];
        ++used_[cheapest_slot(prices.slot, window)];
    }
    for (std::size_t s = 0; s < used_.size(); ++s) {
        bound -= static_cast<std::int64_t>(prices.slot[s]) * stand.capacity[s];
        used_[s] -= stand.capacity[s];
    }
    for (std::size_t i = 0; i < jobs.size(); ++i) {
        over_[i] = 0;
        const int before = jobs[i].follows;
        if (before < 0 || stand.placed[i] || stand.placed[static_cast<std::size_t>(before)]) continue;
        const auto b = static_cast<std::size_t>(before);
        over_[i] = flat_[b][static_cast<std::size_t>(chosen_[b])].finish_min + jobs[i].lag_min -
                   flat_[i][static_cast<std::size_t>(chosen_[i])].start_min;
    }
    return bound;
}

std::int64_t Relaxation::improve(Stand& stand, PriceList& prices, std::int64_t limit, int steps, int most_changes) {
    PriceList at = prices;
    std::int64_t best = INT64_MIN;
    std::int64_t reach = 16;  // of a step, in sixteenths of what Polyak's rule says
    int stalled = 0;
    bool at_best = false;     // the reduced costs are those at the best prices
    for (int step = 0;; ++step) {
        const std::int64_t bound = evaluate(stand, at, most_changes);
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
        std::int32_t squares = 0;
        for (std::size_t s = 0; s < used_.size(); ++s) {
            const std::int32_t by = used_[s] > 0 || at.slot[s] > 0 ? used_[s] : 0;
            squares += by * by;
        }
        std::int64_t norm = squares;
        for (std::size_t i = 0; i < over_.size(); ++i)
            if (over_[i] > 0 || (over_[i] < 0 && at.follow[i] > 0)) norm += over_[i] * over_[i] / 25;
        // A change is worth more than a nurse's slot.
        if (changes_over_ > 0 || at.change > 0) norm += changes_over_ * changes_over_ * change_weight;
        if (norm == 0) break;  // nothing is left to gain
        // Aimed a little beyond the limit, where a bound ends the node.
        const std::int64_t gap = std::max<std::int64_t>(limit - bound + price_scale, price_scale) * reach;
        // Once for all: so much for each nurse too many, in 1/16 of the scale.
        const auto each = static_cast<std::int32_t>(std::min<std::int64_t>(gap / norm, most_step));
        for (std::size_t s = 0; s < used_.size(); ++s)
            at.slot[s] = std::clamp(at.slot[s] + used_[s] * each / 16, 0, most_price);
        for (std::size_t i = 0; i < over_.size(); ++i)
            if (over_[i] != 0)
                at.follow[i] = std::max<std::int64_t>(0, at.follow[i] + over_[i] * gap / (norm * 16 * 25));
        at.change = std::clamp<std::int64_t>(at.change + changes_over_ * change_weight * each / 16, 0, most_price);
    }
    if (!at_best) evaluate(stand, prices, most_changes);
    return best;
}

}  // namespace hangtime::rounds
