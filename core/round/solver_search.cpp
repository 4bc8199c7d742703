#include "core/round/solver_state.hpp"

#include <algorithm>
#include <bit>

namespace hangtime::rounds {

namespace {

constexpr int steps_at_root = 20;   // at a time
constexpr int rounds_at_root = 15;
constexpr int steps_at_node = 10;
constexpr std::int64_t nodes_a_round = 10;  // what a round at the root takes, counted in nodes
constexpr std::int64_t nodes_before_polish = 200;
constexpr int polish_a_job = 40, tries_at_once = 10;

bool in_order(const Span& a, const Span& b) { return a.from != b.from ? a.from < b.from : a.to < b.to; }

}  // namespace

// One that follows starts after the earliest end of the other, which ends before its last start.
bool Solver::State::narrow(Stand& stand) const {
    const auto option = [&](std::size_t job, const Open& open) -> const Option& {
        return problem.jobs[job].options[static_cast<std::size_t>(open.option)];
    };
    for (bool changed = true; changed;) {
        changed = false;
        for (std::size_t j = 0; j < jobs(); ++j) {
            if (stand.placed[j]) continue;
            if (stand.open[j].empty()) return false;
            if (problem.jobs[j].follows < 0) continue;
            const auto i = static_cast<std::size_t>(problem.jobs[j].follows);
            if (stand.placed[i]) continue;
            if (stand.open[i].empty()) return false;
            int end = INT32_MAX, last = 0;
            for (const Open& o : stand.open[i]) end = std::min(end, option(i, o).finish_min);
            for (const Open& o : stand.open[j]) last = std::max(last, option(j, o).start * slot_minutes);
            const int lag = problem.jobs[j].lag_min;
            const auto too_soon = [&](const Open& o) {
                return option(j, o).start * slot_minutes < end + lag;
            };
            const auto too_late = [&](const Open& o) { return option(i, o).finish_min + lag > last; };
            changed = std::erase_if(stand.open[j], too_soon) > 0 || changed;
            changed = std::erase_if(stand.open[i], too_late) > 0 || changed;
        }
    }
    return true;
}

// Whether there is room for an option beside what is placed, whoever has it.
bool Solver::State::fits(std::size_t job, const Option& option) const {
    const Job& mine = problem.jobs[job];
    if (!room.one.has_all(option.lead.from, option.lead.to)) return false;
    if (problem.second_from_round && !room.two.has_all(option.match.from, option.match.to)) return false;
    for (const Span& check : option.checks)
        if (!room.one.has_any(check.from, check.to)) return false;
    if (mine.follows >= 0 && now.placed[static_cast<std::size_t>(mine.follows)]) {
        if (!starts_after(option, option_of(static_cast<std::size_t>(mine.follows)), mine.lag_min)) return false;
    }
    for (std::size_t j = 0; j < jobs(); ++j)
        if (now.placed[j] && problem.jobs[j].follows == static_cast<int>(job) &&
            !starts_after(option_of(j), option, problem.jobs[j].lag_min))
            return false;
    for (const Apart& pair : problem.apart) {
        if (pair.a != static_cast<int>(job) && pair.b != static_cast<int>(job)) continue;
        const auto other = static_cast<std::size_t>(pair.a == static_cast<int>(job) ? pair.b : pair.a);
        if (!now.placed[other]) continue;
        const auto of = [&](int i) -> const Option& {
            return i == static_cast<int>(job) ? option : option_of(static_cast<std::size_t>(i));
        };
        if (!are_apart(pair, of)) return false;
    }
    return true;
}

// Where a check that is placed has only slots with one nurse in them (or two), a start (a match of two) that
// takes all of these leaves it nobody.
void Solver::State::find_cramped() {
    const auto slots = static_cast<std::size_t>(problem.slots);
    cramped_one.assign(slots + 1, INT16_MAX);
    cramped_two.assign(slots + 1, INT16_MAX);
    for (const Span& check : now.checks) {
        int most = 0, first = -1, last = -1;
        for (int s = check.from; s < check.to; ++s) {
            const int capacity = now.capacity[static_cast<std::size_t>(s)];
            most = std::max(most, capacity);
            if (capacity > 0) last = s;
            if (capacity > 0 && first < 0) first = s;
        }
        if (first < 0 || most > 2) continue;
        auto& list = most == 1 ? cramped_one : cramped_two;
        std::int16_t& end = list[static_cast<std::size_t>(first)];
        end = std::min(end, static_cast<std::int16_t>(last));
    }
    for (std::size_t s = slots; s-- > 0;) {
        cramped_one[s] = std::min(cramped_one[s], cramped_one[s + 1]);
        cramped_two[s] = std::min({cramped_two[s], cramped_two[s + 1], cramped_one[s]});
    }
}

bool Solver::State::crowds_out(const Option& option) const {
    if (cramped_one[static_cast<std::size_t>(option.lead.from)] < option.lead.to) return true;
    if (!problem.second_from_round) return false;
    return cramped_two[static_cast<std::size_t>(option.match.from)] < option.match.to;
}

bool Solver::State::keep_promises() {
    int spare = most_changes - now.changes;
    std::array<int, most_jobs> least{};
    for (std::size_t i = 0; i < jobs(); ++i) {
        if (now.placed[i]) continue;
        least[i] = 2;
        for (const Open& open : now.open[i])
            least[i] = std::min(
                least[i], least_changes(i, problem.jobs[i].options[static_cast<std::size_t>(open.option)]));
        spare -= least[i];
    }
    if (spare < 0) return false;
    for (std::size_t i = 0; i < jobs() && spare < 2; ++i)
        if (!now.placed[i])
            std::erase_if(now.open[i], [&](const Open& open) {
                return least_changes(i, problem.jobs[i].options[static_cast<std::size_t>(open.option)]) >
                       least[i] + spare;
            });
    return true;
}

// With the nurse whom it was promised, and with any of the others, who are a change more.
void Solver::State::add_children(std::size_t job, const Open& open, std::int64_t change_price,
                                 std::vector<Child>& out) const {
    const Option& option = problem.jobs[job].options[static_cast<std::size_t>(open.option)];
    const int promised = problem.jobs[job].promised_nurse;
    const std::uint32_t hers = promised >= 0 ? option.nurses & 1U << promised : 0;
    for (const std::uint32_t nurses : {hers, option.nurses & ~hers}) {
        if (nurses == 0) continue;
        const Cost cost = cost_of(problem.jobs[job], option, std::countr_zero(nurses));
        const int changes = static_cast<int>(cost.changes);
        if (now.changes + changes <= most_changes)
            out.push_back({open.option, nurses, open.reduced + change_price * (changes - least_changes(job, option)),
                           changes});
    }
}

// Looks at the node that the placed jobs make; puts a frame on the stack where it is worth going on.
void Solver::State::descend() {
    ++nodes;
    if (!checks_fit() || !share_out(nullptr)) return;
    if (placed_count == jobs()) {
        answer_found();
        return;
    }
    find_cramped();
    for (std::size_t i = 0; i < jobs(); ++i) {
        if (now.placed[i]) continue;
        const auto clashes = [&](const Open& open) {
            const Option& option = problem.jobs[i].options[static_cast<std::size_t>(open.option)];
            return !fits(i, option) || crowds_out(option);
        };
        std::erase_if(now.open[i], clashes);
    }
    if (!keep_promises() || !narrow(now)) return;
    branch(relaxation->improve(now, prices, limit(), steps_at_node, most_changes));
}

// Chooses the job with the fewest options that could be of use, and lists them.
void Solver::State::branch(std::int64_t bound) {
    const std::int64_t slack = limit() - bound;
    if (slack < 0) return;
    std::size_t best_job = jobs();
    std::array<std::int64_t, most_jobs> least{};
    for (std::size_t i = 0; i < jobs(); ++i) {
        if (now.placed[i]) continue;
        least[i] = INT64_MAX;
        for (const Open& open : now.open[i]) least[i] = std::min(least[i], open.reduced);
        std::erase_if(now.open[i], [&](const Open& open) { return open.reduced > least[i] + slack; });
        if (best_job == jobs() || now.open[i].size() < now.open[best_job].size()) best_job = i;
    }
    stack.emplace_back();
    Frame& frame = stack.back();
    frame.job = best_job;
    frame.bound = bound;
    frame.least = least[best_job];
    for (const Open& open : now.open[best_job])
        add_children(best_job, open, prices.change, frame.children);
    std::stable_sort(frame.children.begin(), frame.children.end(),
                     [](const Child& a, const Child& b) { return a.reduced < b.reduced; });
    frame.stand = now;
    frame.prices = prices;
    frame.room = room;
}

void Solver::State::take(const Child& child) {
    const Frame& frame = stack.back();
    now = frame.stand;
    prices = frame.prices;
    room = frame.room;
    place(frame.job, child);
}

void Solver::State::place(std::size_t job, const Child& child) {
    chosen[job] = child;
    const Option& option = option_of(job);
    now.open[job].clear();
    now.placed[job] = true;
    now.paid += base[job][static_cast<std::size_t>(child.option)] * price_scale;
    now.changes += child.changes;
    const auto busy = [&](const Span& span) {
        for (int s = span.from; s < span.to; ++s) {
            const int left = --now.capacity[static_cast<std::size_t>(s)];
            if (left < 2) room.two.remove(s);
            if (left < 1) room.one.remove(s);
        }
    };
    busy(option.lead);
    if (problem.second_from_round) busy(option.match);
    const auto middle = static_cast<std::ptrdiff_t>(now.checks.size());
    now.checks.insert(now.checks.end(), option.checks.begin(), option.checks.end());
    std::sort(now.checks.begin() + middle, now.checks.end(), in_order);
    std::inplace_merge(now.checks.begin(), now.checks.begin() + middle, now.checks.end(), in_order);
}

void Solver::State::begin(Phase next, int changes) {
    phase = next;
    most_changes = changes;
    if (has_best) {
        // Promise first: an answer with fewer changes may finish later.
        const bool same = next == Phase::finish && best.cost.changes <= changes;
        if (next == Phase::fewer) most_finish = best.cost.finish;
        if (same) most_finish = best.cost.finish - gap;
        if (next == Phase::finish && !same) {
            most_finish = 0;
            for (std::size_t i = 0; i < jobs(); ++i) {
                std::int64_t most = 0;
                for (const Open& open : root.open[i])
                    most = std::max(most, base[i][static_cast<std::size_t>(open.option)]);
                most_finish += most;
            }
        }
    }
    if (problem.priority == Priority::promise) root_bound = INT64_MIN;
    now = root;
    room = root_room;
    prices = root_prices;
    placed_count = 0;
    root_rounds = 0;
    searching = false;
    polish_left = polish_a_job * static_cast<int>(jobs());
    random_state = 0x9e3779b97f4a7c15U;
    stack.clear();
    if (!keep_promises() || !narrow(now)) over();
}

void Solver::State::over() {
    const bool promise = problem.priority == Priority::promise;
    if (!has_best && (!promise || phase == Phase::any)) standing = Standing::infeasible;
    else if (phase == Phase::any) begin(Phase::finish, 0);
    else if (promise && best.cost.changes > most_changes) begin(Phase::finish, most_changes + 1);
    else if (!promise && phase == Phase::finish && best.cost.changes > 0)
        begin(Phase::fewer, static_cast<int>(best.cost.changes) - 1);
    else standing = Standing::optimal;
}

void Solver::State::work_on_root() {
    nodes += nodes_a_round;
    const std::int64_t bound = relaxation->improve(now, prices, limit(), steps_at_root, most_changes);
    const bool better = bound > last_bound + std::max<std::int64_t>((limit() - last_bound) / 100, 0);
    last_bound = bound;
    if (++root_rounds < rounds_at_root && better && bound <= limit()) return;
    if (root_bound == INT64_MIN) {
        root_bound = bound;
        root_prices = prices;
    }
    searching = true;
    polish_from = nodes + nodes_before_polish;
    branch(bound);
}

void Solver::State::work(std::int64_t budget) {
    const std::int64_t end = nodes + std::max<std::int64_t>(budget, 1);
    while (standing == Standing::searching && nodes < end) {
        if (!searching) {
            work_on_root();
            if (!searching) continue;
        }
        // A search that is not over soon is worth a better end to search below.
        if (polish_left > 0 && phase == Phase::finish && nodes >= polish_from) {
            const int tries = std::min(polish_left, tries_at_once);
            polish_left -= tries;
            nodes += tries;
            polish(tries);
            continue;
        }
        // On to the next child of the deepest frame that has one.
        while (!stack.empty()) {
            Frame& frame = stack.back();
            if (chosen[frame.job].option >= 0) {
                chosen[frame.job] = {};
                --placed_count;
            }
            if (frame.next < frame.children.size() &&
                frame.bound + frame.children[frame.next].reduced - frame.least <= limit())
                break;
            stack.pop_back();
        }
        if (stack.empty() || (phase == Phase::any && has_best)) {
            for (Child& child : chosen) child = {};
            over();
            continue;
        }
        Frame& frame = stack.back();
        take(frame.children[frame.next++]);
        ++placed_count;
        descend();
    }
}

// No answer that is not found yet costs less than the cheapest child that is still open; children are in
// order, and deeper frames bound the one that is being looked at.
Cost Solver::State::open_bound() const {
    std::int64_t least = root_bound == INT64_MIN ? 0 : root_bound;
    if (searching && phase == Phase::finish && problem.priority == Priority::finish) {
        std::int64_t open = most_finish * price_scale + gap * price_scale;
        for (const Frame& frame : stack)
            if (frame.next < frame.children.size())
                open = std::min(open, frame.bound + frame.children[frame.next].reduced - frame.least);
        least = std::max(least, open);
    }
    Cost out{(least + price_scale - 1) / price_scale, 0};
    if (phase == Phase::fewer) out.finish = best.cost.finish;
    if (problem.priority == Priority::promise && phase == Phase::finish) out.changes = most_changes;
    if (has_best && combined(problem, best.cost) < combined(problem, out)) return best.cost;
    return out;
}

}  // namespace hangtime::rounds
