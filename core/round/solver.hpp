#pragma once

/// The exact solver: branch and bound, in slices.
///
///     Solver solver(problem);
///     while (!solver.done()) { solver.step(2'000); show(solver.progress()); }
///
/// `step` does about as many nodes as it is given and returns; a screen calls it once a frame (or a Worker
/// does, between two messages), shows the best answer so far with its bound, and cancels by not calling it
/// again. A budget is a number of nodes, never a time: the same problem takes the same steps on every
/// machine.
///
/// How it bounds: each slot has a price for a nurse's time in it (found once, by subgradient steps in whole
/// numbers). With what it uses paid for, each transfusion alone costs at least its cheapest open start; the
/// sum of these less what all nurses' time would fetch is never more than what any answer costs. How it
/// branches: the transfusion with the fewest starts that could still better the best answer, its cheapest one
/// first.

#include "core/round/problem.hpp"

#include <memory>
#include <optional>

namespace hangtime::rounds {

enum class Standing : std::uint8_t {
    searching,
    optimal,     // the best answer is proven to be the best there is
    infeasible,  // proven: there is no answer
};

struct Progress {
    Standing standing = Standing::searching;
    std::int64_t nodes = 0;       // so far
    bool has_answer = false;
    Cost best{};                  // of the best answer so far
    Cost bound{};                 // no answer costs less than this
};

class Solver {
public:
    explicit Solver(const Problem& problem);  // keeps a copy
    ~Solver();
    Solver(Solver&&) noexcept;
    Solver& operator=(Solver&&) noexcept;

    /// About `nodes` more; at least some work is done whenever it is not done().
    void step(std::int64_t nodes);
    bool done() const { return progress().standing != Standing::searching; }
    Progress progress() const;
    const Schedule* best() const;  // null before there is one

private:
    struct State;
    std::unique_ptr<State> state_;
};

/// To the end, or until the budget is used up.
struct Solved {
    Progress progress;
    std::optional<Schedule> answer;
};
Solved solve(const Problem& problem, std::int64_t most_nodes);

}  // namespace hangtime::rounds
