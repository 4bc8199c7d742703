#include "core/round/round.hpp"
#include "core/round/solver.hpp"

#include <algorithm>
#include <map>

namespace hangtime::rounds {

// In slices: each begins at the beginning and finds what was proven before in `known`, so that the walk itself
// needs no state of its own. It goes the same way however it is cut.
struct ConflictSearch::State {
    State(const Round& round, const RoundOptions& options, std::int64_t most_nodes)
        : round_(round), options_(options), left_(most_nodes) {}

    void slice(std::int64_t nodes) {
        slice_ = nodes;
        Conflict found = run();
        if (slice_ <= 0 && left_ > 0) return;  // not at its end
        out = std::move(found);
        done = true;
    }

    bool done = false;
    Conflict out;

private:
    Conflict run() {
        std::vector<Demand> demands = all();
        Conflict out;
        // Taken away one by one: what is possible without it is needed for the clash.
        if (!shrink(demands)) {
            out.demands = demands;
            return out;
        }
        // A smaller set would be one of those with one demand fewer, or inside one of them.
        out.smallest = true;
        while (demands.size() > 1 && out.smallest) {
            std::vector<Demand> smaller;
            const Search found = search(demands.size() - 1, smaller);
            if (found == Search::none) break;
            if (found == Search::budget || !shrink(smaller)) out.smallest = false;
            else demands = smaller;
        }
        out.demands = demands;
        out.complete = true;
        return out;
    }

    enum class Search { found, none, budget };

    std::vector<Demand> all() const {
        std::vector<Demand> out;
        using Kind = Demand::Kind;
        for (std::size_t j = 0; j < options_.transfusion.size(); ++j)
            out.push_back({Kind::transfusion, options_.transfusion[j], -1});
        for (std::size_t k = 0; k < round_.nurses.size(); ++k) {
            out.push_back({Kind::hours, static_cast<int>(k), -1});
            for (std::size_t b = 0; b < round_.nurses[k].breaks.size(); ++b)
                out.push_back({Kind::nurse_break, static_cast<int>(k), static_cast<int>(b)});
            for (std::size_t h = 0; h < round_.nurses[k].handovers.size(); ++h)
                out.push_back({Kind::handover, static_cast<int>(k), static_cast<int>(h)});
        }
        if (round_.second_from_round) out.push_back({Kind::second, -1, -1});
        return out;
    }

    Kept only(const std::vector<Demand>& demands) const {
        Kept kept;
        kept.transfusions.assign(round_.transfusions.size(), false);
        kept.hours.assign(round_.nurses.size(), false);
        kept.second = false;
        for (const NursePlan& nurse : round_.nurses) {
            kept.breaks.emplace_back(nurse.breaks.size(), false);
            kept.handovers.emplace_back(nurse.handovers.size(), false);
        }
        for (const Demand& d : demands) {
            const auto i = static_cast<std::size_t>(d.index), part = static_cast<std::size_t>(d.part);
            switch (d.kind) {
                case Demand::Kind::transfusion: kept.transfusions[i] = true; break;
                case Demand::Kind::hours: kept.hours[i] = true; break;
                case Demand::Kind::nurse_break: kept.breaks[i][part] = true; break;
                case Demand::Kind::handover: kept.handovers[i][part] = true; break;
                case Demand::Kind::second: kept.second = true; break;
            }
        }
        return kept;
    }

    bool ended() const { return left_ <= 0 || slice_ <= 0; }

    // Whether these demands clash; the budget, or the slice, is used up where neither was found.
    bool clash(const std::vector<Demand>& demands) {
        std::vector<std::int16_t> key;
        for (const Demand& d : demands)
            for (const int part : {static_cast<int>(d.kind), d.index, d.part})
                key.push_back(static_cast<std::int16_t>(part));
        if (const auto it = known_.find(key); it != known_.end()) return it->second;
        if (ended()) return false;
        if (!solver_ || key != key_) {
            Problem problem = with_demands(round_, options_, only(demands));
            problem.priority = Priority::finish;
            for (Job& job : problem.jobs) job.promised_start = job.promised_nurse = -1;
            solver_.emplace(problem);
            key_ = key;
        }
        while (!solver_->done() && !solver_->progress().has_answer) {
            if (ended()) return false;
            const std::int64_t before = solver_->progress().nodes;
            solver_->step(200);
            const std::int64_t used = std::max<std::int64_t>(1, solver_->progress().nodes - before);
            left_ -= used;
            slice_ -= used;
        }
        --left_;
        --slice_;
        const bool clashes = solver_->progress().standing == Standing::infeasible;
        known_.emplace(std::move(key), clashes);
        solver_.reset();
        return clashes;
    }

    bool shrink(std::vector<Demand>& demands) {
        // Calendars first: a clash is told with as few of them as can be.
        for (std::size_t i = demands.size(); i-- > 0;) {
            std::vector<Demand> without = demands;
            without.erase(without.begin() + static_cast<std::ptrdiff_t>(i));
            if (clash(without)) demands = std::move(without);
            if (ended()) return false;
        }
        return true;
    }

    Search search(std::size_t size, std::vector<Demand>& found) {
        const std::vector<Demand> from = all();
        std::vector<std::size_t> at(size);
        for (std::size_t i = 0; i < size; ++i) at[i] = i;
        while (true) {
            found.clear();
            for (const std::size_t i : at) found.push_back(from[i]);
            if (found.front().kind == Demand::Kind::transfusion && clash(found)) return Search::found;
            if (ended()) return Search::budget;
            std::size_t i = size;
            while (i > 0 && at[i - 1] == from.size() - size + i - 1) --i;
            if (i == 0) return Search::none;
            ++at[i - 1];
            for (std::size_t k = i; k < size; ++k) at[k] = at[k - 1] + 1;
        }
    }

    const Round& round_;
    const RoundOptions& options_;
    std::int64_t left_, slice_ = 0;
    std::map<std::vector<std::int16_t>, bool> known_;
    std::optional<Solver> solver_;  // of the demands that are being looked at
    std::vector<std::int16_t> key_;
};

ConflictSearch::ConflictSearch(const Round& round, const RoundOptions& options, std::int64_t most_nodes)
    : state_(std::make_unique<State>(round, options, most_nodes)) {}
ConflictSearch::~ConflictSearch() = default;
ConflictSearch::ConflictSearch(ConflictSearch&&) noexcept = default;
ConflictSearch& ConflictSearch::operator=(ConflictSearch&&) noexcept = default;
void ConflictSearch::step(std::int64_t nodes) {
    if (!state_->done) state_->slice(nodes);
}
bool ConflictSearch::done() const { return state_->done; }
const Conflict& ConflictSearch::found() const { return state_->out; }

Conflict find_conflict(const Round& round, const RoundOptions& options, std::int64_t most_nodes) {
    ConflictSearch search(round, options, most_nodes);
    while (!search.done()) search.step(most_nodes);
    return search.found();
}

}  // namespace hangtime::rounds
