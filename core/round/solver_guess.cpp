#include "core/round/solver_state.hpp"

#include <algorithm>
#include <numeric>

/// Answers that are found without a search: first by putting one transfusion after the other where it is cheapest, in
/// a few orders; then by taking a few out of the best answer and putting them in again, in another order. What they
/// find only lowers the upper end; what is proven is proven by the search.

namespace hangtime::rounds {

// The same numbers on every machine (xorshift).
std::size_t Solver::State::random(std::size_t below) {
    random_state ^= random_state << 13;
    random_state ^= random_state >> 7;
    random_state ^= random_state << 17;
    return static_cast<std::size_t>(random_state % below);
}

void Solver::State::clear_places() {
    now.capacity = root.capacity;
    now.checks = root.checks;
    now.placed = root.placed;
    now.paid = root.paid;
    now.changes = root.changes;
    room = root_room;
    placed_count = 0;
}

// At its cheapest start that is free beside what is placed; false: there is none.
bool Solver::State::insert(std::size_t job, bool fewest_changes) {
    std::vector<Child>& children = scratch;
    children.clear();
    for (const Open& open : root.open[job])
        if (fits(job, problem.jobs[job].options[static_cast<std::size_t>(open.option)]))
            add_children(job, {open.option, base[job][static_cast<std::size_t>(open.option)]}, 0, children);
    std::stable_sort(children.begin(), children.end(), [fewest_changes](const Child& a, const Child& b) {
        if (fewest_changes && a.changes != b.changes) return a.changes < b.changes;
        return a.reduced < b.reduced;
    });
    const std::vector<int> capacity = now.capacity;
    const std::vector<Span> checks = now.checks;
    const std::int64_t paid = now.paid;
    const int changes = now.changes;
    const Room room_before = room;
    for (const Child child : children) {
        place(job, child);
        if (checks_fit() && share_out(nullptr)) {
            ++placed_count;
            return true;
        }
        now.capacity = capacity;
        now.checks = checks;
        now.paid = paid;
        now.changes = changes;
        now.placed[job] = false;
        room = room_before;
        chosen[job] = {};
    }
    return false;
}

// Misses where the order is bad.
void Solver::State::guess() {
    std::vector<std::size_t> order(jobs());
    std::iota(order.begin(), order.end(), std::size_t{0});
    const auto start = [&](std::size_t i, const Open& open) {
        return problem.jobs[i].options[static_cast<std::size_t>(open.option)].start;
    };
    most_changes = all_changes;
    for (int round = 0; round < 4; ++round) {
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            const auto& of_a = root.open[a];
            const auto& of_b = root.open[b];
            if (round == 0) return start(a, of_a.back()) < start(b, of_b.back());
            if (round == 1) return start(a, of_a.front()) < start(b, of_b.front());
            if (round == 2 && of_a.size() != of_b.size()) return of_a.size() < of_b.size();
            return problem.jobs[a].weight > problem.jobs[b].weight;
        });
        clear_places();
        for (const std::size_t i : order)
            if (!insert(i, problem.priority == Priority::promise)) break;
        if (placed_count == jobs()) answer_found();
        chosen.assign(jobs(), {});
    }
    clear_places();
    now = root;
}

void Solver::State::polish(int tries) {
    if (!has_best || best.cost.changes > most_changes) return;
    // The search goes on where it stands.
    const Stand now_before = now;
    const Room room_before = room;
    const std::vector<Child> chosen_before = chosen;
    const std::size_t placed_before = placed_count;
    // Where each stands in the answer that is being changed.
    std::vector<Child> standing_at(jobs());
    const auto take_best = [&] {
        for (std::size_t i = 0; i < jobs(); ++i) {
            const Choice& c = best.choices[i];
            const Job& job = problem.jobs[i];
            const Option& option = job.options[static_cast<std::size_t>(c.option)];
            std::uint32_t nurses = option.nurses;
            if (job.promised_nurse >= 0) {
                const std::uint32_t hers = option.nurses & 1U << job.promised_nurse;
                nurses = c.nurse == job.promised_nurse ? hers : option.nurses & ~hers;
            }
            standing_at[i] = {c.option, nurses, 0, static_cast<int>(cost_of(job, option, c.nurse).changes)};
        }
    };
    take_best();
    std::int64_t finish = best.cost.finish;
    std::vector<std::size_t> out;
    for (; tries > 0; --tries) {
        // Two to four, the others near the first in time.
        const std::size_t first = random(jobs());
        const std::size_t count = std::min(jobs(), 2 + random(3));
        out.assign(1, first);
        const auto start = [&](std::size_t i) {
            return problem.jobs[i].options[static_cast<std::size_t>(standing_at[i].option)].start;
        };
        while (out.size() < count) {
            std::size_t next = random(jobs());
            const std::size_t other = random(jobs());
            const auto away = [&](std::size_t i) {
                const int by = start(i) - start(first);
                return by < 0 ? -by : by;
            };
            if (away(other) < away(next)) next = other;
            if (std::find(out.begin(), out.end(), next) == out.end()) out.push_back(next);
        }
        clear_places();
        chosen.assign(jobs(), {});
        for (std::size_t i = 0; i < jobs(); ++i)
            if (std::find(out.begin(), out.end(), i) == out.end()) place(i, standing_at[i]), ++placed_count;
        for (std::size_t k = out.size(); k > 1; --k) std::swap(out[k - 1], out[random(k)]);
        bool all = true;
        for (const std::size_t i : out) all = all && insert(i, false);
        if (!all) continue;
        std::int64_t cost = 0;
        for (std::size_t i = 0; i < jobs(); ++i) cost += base[i][static_cast<std::size_t>(chosen[i].option)];
        if (cost > finish) continue;
        if (cost < finish) {
            const std::int64_t before = best.cost.finish;
            answer_found();
            if (best.cost.finish == before) continue;  // its checks find no place after all
        }
        finish = cost;
        standing_at = chosen;
    }
    now = now_before;
    room = room_before;
    chosen = chosen_before;
    placed_count = placed_before;
}

}  // namespace hangtime::rounds
