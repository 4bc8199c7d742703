#include "core/round/solver_state.hpp"

#include <algorithm>
#include <numeric>

namespace hangtime::rounds {

bool Solver::State::usable(const Option& option) const {
    const auto is_free = [&](int nurse, const Span& span) {
        return problem.nurses[static_cast<std::size_t>(nurse)].free.has_all(span.from, span.to);
    };
    bool lead = false;
    for (int k = 0; k < nurses() && !lead; ++k) {
        if ((option.nurses >> k & 1U) == 0) continue;
        if (!is_free(k, option.lead)) continue;
        bool second = !problem.second_from_round || option.match.empty();
        for (int other = 0; other < nurses() && !second; ++other)
            second = other != k && is_free(other, option.match);
        lead = second;
    }
    if (!lead) return false;
    for (const Span& check : option.checks) {
        bool place = false;
        for (int s = check.from; s < check.to && !place; ++s)
            place = s < problem.slots && now.capacity[static_cast<std::size_t>(s)] > 0;
        if (!place) return false;
    }
    return true;
}

// The finishes of two answers differ by a sum of differences between options, so by a multiple of what
// divides all of these.
void Solver::State::find_gap() {
    std::int64_t divisor = 0;
    for (std::size_t i = 0; i < jobs(); ++i)
        for (const Open& open : now.open[i])
            divisor = std::gcd(divisor, base[i][static_cast<std::size_t>(open.option)] -
                                            base[i][static_cast<std::size_t>(now.open[i].front().option)]);
    gap = divisor > 0 ? divisor : 1;
}

void Solver::State::prepare() {
    base.resize(jobs());
    chosen.assign(jobs(), {});
    now.open.resize(jobs());
    now.placed.assign(jobs(), false);
    now.capacity.assign(static_cast<std::size_t>(problem.slots), 0);
    for (int s = 0; s < problem.slots; ++s) {
        int& capacity = now.capacity[static_cast<std::size_t>(s)];
        for (const Nurse& nurse : problem.nurses)
            if (nurse.free.has(s)) ++capacity;
        if (capacity > 0) room.one.add(s);
        if (capacity > 1) room.two.add(s);
    }
    for (std::size_t i = 0; i < jobs(); ++i) {
        std::int64_t most = 0;
        for (std::size_t o = 0; o < problem.jobs[i].options.size(); ++o) {
            const Option& option = problem.jobs[i].options[o];
            base[i].push_back(static_cast<std::int64_t>(problem.jobs[i].weight) * option.finish_min);
            if (!usable(option)) continue;
            most = std::max(most, base[i].back());
            now.open[i].push_back({static_cast<int>(o), 0});
        }
        most_finish += most;
    }
    if (jobs() == 0) {
        has_best = true;
        standing = Standing::optimal;
        return;
    }
    if (!narrow(now)) {
        standing = Standing::infeasible;
        return;
    }
    find_gap();
    relaxation = std::make_unique<Relaxation>(problem, base);
    root = now;
    root_room = room;
    root_prices = relaxation->no_prices();
    guess();
    if (problem.priority == Priority::promise) {
        if (has_best) begin(Phase::finish, 0);
        else begin(Phase::any, all_changes);
    } else {
        begin(Phase::finish, all_changes);
    }
}

void Solver::State::answer_found() {
    Schedule found;
    if (!share_out(&found.choices)) return;
    for (std::size_t i = 0; i < jobs(); ++i) {
        const Cost part = cost_of(problem.jobs[i], option_of(i), found.choices[i].nurse);
        found.cost = {found.cost.finish + part.finish, found.cost.changes + part.changes};
    }
    if (found.cost.changes > most_changes || found.cost.finish > most_finish) return;
    if (!place_checks(problem, found.choices, &found.checks)) return;
    if (!has_best || combined(problem, found.cost) < combined(problem, best.cost)) best = std::move(found);
    has_best = true;
    if (phase == Phase::finish && searching) most_finish = found.cost.finish - gap;
    if (phase == Phase::fewer) most_changes = static_cast<int>(found.cost.changes) - 1;
}

Solver::Solver(const Problem& problem) : state_(std::make_unique<State>(problem)) {}
Solver::~Solver() = default;
Solver::Solver(Solver&&) noexcept = default;
Solver& Solver::operator=(Solver&&) noexcept = default;

void Solver::step(std::int64_t nodes) {
    if (state_->standing == Standing::searching) state_->work(nodes);
}

Progress Solver::progress() const {
    const State& s = *state_;
    Progress out;
    out.standing = s.standing;
    out.nodes = s.nodes;
    out.has_answer = s.has_best;
    if (s.has_best) out.best = s.best.cost;
    out.bound = out.best;
    if (s.standing == Standing::searching) out.bound = s.open_bound();
    return out;
}

const Schedule* Solver::best() const { return state_->has_best ? &state_->best : nullptr; }

Solved solve(const Problem& problem, std::int64_t most_nodes) {
    Solver solver(problem);
    while (!solver.done() && solver.progress().nodes < most_nodes)
        solver.step(most_nodes - solver.progress().nodes);
    Solved out{solver.progress(), std::nullopt};
    if (const Schedule* best = solver.best()) out.answer = *best;
    return out;
}

}  // namespace hangtime::rounds
