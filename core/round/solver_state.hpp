#pragma once

/// The inside of the solver; for core/round/solver*.cpp only.

#include "core/round/prices.hpp"
#include "core/round/solver.hpp"

namespace hangtime::rounds {

/// An option for a job with the nurses who may have it, all at the same cost; who of them does is found for
/// all jobs together. The cost is at the frame's prices, scaled.
struct Child {
    int option = -1;
    std::uint32_t nurses = 0;
    std::int64_t reduced = 0;
    int changes = 0;          // against what was promised
};

/// Slots in which at least one nurse, and at least two, are free.
struct Room {
    Slots one, two;
};

/// A node that is being worked on: one job, and the choices for it that could be of use, the cheapest first.
struct Frame {
    std::size_t job = 0;
    std::vector<Child> children;
    std::size_t next = 0;
    std::int64_t bound = 0;   // of the node, scaled
    std::int64_t least = 0;   // the least reduced cost of any of the job's options
    Stand stand;              // before the job is placed
    PriceList prices;
    Room room;                // before the job is placed
};

/// The two parts of the cost are not mixed: each search is for the least finish among the answers with at
/// most so many changes.
///   finish first: `finish`, any number of changes; then `fewer`, no later finish and fewer changes, until
///   there is no such answer.
///   promise first: `any`, to know that there is an answer; then `finish` with no change, with one, ...
inline constexpr int all_changes = 2 * most_jobs;

enum class Phase : std::uint8_t { any, finish, fewer };

struct Solver::State {
    explicit State(const Problem& given) : problem(given) { prepare(); }
    State(const State&) = delete;
    State& operator=(const State&) = delete;

    // --- before the search: solver.cpp ---
    void prepare();
    bool usable(const Option& option) const;
    void find_gap();
    void answer_found();

    // --- answers without a search: solver_guess.cpp ---
    void guess();              // quick ones, for a first upper end
    bool insert(std::size_t job, bool fewest_changes);
    void clear_places();
    void polish(int tries);    // takes a few out of the best answer and puts them in again
    std::size_t random(std::size_t below);
    /// Gives what is placed to nurses; false where there is no way. `out` may be null.
    bool share_out(std::vector<Choice>* out) const;
    bool checks_fit() const;

    // --- the search: solver_search.cpp ---
    void work(std::int64_t nodes);
    void work_on_root();
    void begin(Phase next, int most_changes);
    void over();               // a search has come to its end
    void descend();
    void branch(std::int64_t bound);
    void take(const Child& child);
    bool narrow(Stand& stand) const;  // false: a job has no option left
    bool fits(std::size_t job, const Option& option) const;
    void find_cramped();
    bool crowds_out(const Option& option) const;
    bool keep_promises();      // drops what would be a change too many
    int least_changes(std::size_t job, const Option& option) const {
        return rounds::least_changes(problem.jobs[job], option);
    }
    void add_children(std::size_t job, const Open& open, std::int64_t change_price, std::vector<Child>& out) const;
    void place(std::size_t job, const Child& child);
    Cost open_bound() const;
    std::int64_t limit() const {  // an answer must not finish later than this to be of use, scaled
        return most_finish * price_scale;
    }

    const Option& option_of(std::size_t job) const {
        return problem.jobs[job].options[static_cast<std::size_t>(chosen[job].option)];
    }
    std::size_t jobs() const { return problem.jobs.size(); }
    int nurses() const { return static_cast<int>(problem.nurses.size()); }

    const Problem problem;
    Standing standing = Standing::searching;
    std::int64_t nodes = 0;

    std::vector<std::vector<std::int64_t>> base;  // weight x minutes to the end of each option
    std::int64_t gap = 1;      // two answers that do not finish alike differ by this at least
    std::unique_ptr<Relaxation> relaxation;

    Stand now;                 // where the search stands
    Room room;
    PriceList prices;
    // For each slot: the earliest last slot of a cramped check that has none before it.
    std::vector<std::int16_t> cramped_one, cramped_two;
    std::vector<Child> chosen;
    std::vector<Child> scratch;
    std::size_t placed_count = 0;

    Stand root;                // as `now` is before anything is placed
    Room root_room;
    PriceList root_prices;

    Phase phase = Phase::finish;
    int most_changes = 0;      // that an answer may have in this search
    std::int64_t most_finish = 0;  // what an answer may cost to be of use
    std::int64_t last_bound = 0;
    int root_rounds = 0;       // of improving the prices, before a search
    bool searching = false;
    std::vector<Frame> stack;

    int polish_left = 0;       // tries
    std::int64_t polish_from = 0;  // from so many nodes on
    std::uint64_t random_state = 0;

    bool has_best = false;
    std::int64_t root_bound = INT64_MIN;  // of the first search
    Schedule best;
};

}  // namespace hangtime::rounds
