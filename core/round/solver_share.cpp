#include "core/round/solver_state.hpp"

#include <algorithm>
#include <bit>
#include <functional>

namespace hangtime::rounds {

namespace {

// Something that keeps one of these nurses busy.
struct Task {
    Span span;
    std::uint32_t nurses;
    std::size_t job;
    bool second;
};

// Until when each nurse is busy, with who had the last task in which state before it.
struct Busy {
    std::array<std::int16_t, most_nurses> until{};
    std::int32_t before = -1;
    std::int8_t nurse = -1;
};

}  // namespace

// Task by task in the order in which they begin, all the states that the nurses can be in: exact, because
// only until when somebody is busy matters for what comes after. The match's second nurse is another one than
// the first by herself, since the two overlap.
bool Solver::State::share_out(std::vector<Choice>* out) const {
    std::vector<Task> tasks;
    tasks.reserve(2 * jobs());
    const std::uint32_t all = (1U << nurses()) - 1;
    for (std::size_t i = 0; i < jobs(); ++i) {
        if (!now.placed[i]) continue;
        const Option& option = option_of(i);
        tasks.push_back({option.lead, chosen[i].nurses, i, false});
        if (problem.second_from_round && !option.match.empty()) tasks.push_back({option.match, all, i, true});
    }
    std::sort(tasks.begin(), tasks.end(), [](const Task& a, const Task& b) {
        if (a.span.from != b.span.from) return a.span.from < b.span.from;
        return a.job != b.job ? a.job < b.job : a.second < b.second;
    });
    std::vector<Busy> states(1);
    std::size_t first = 0;  // of the states after the task before
    for (const Task& task : tasks) {
        const std::size_t end = states.size();
        for (std::size_t at = first; at < end; ++at) {
            for (std::uint32_t left = task.nurses; left != 0; left &= left - 1) {
                const int k = std::countr_zero(left);
                const auto nurse = static_cast<std::size_t>(k);
                if (states[at].until[nurse] > task.span.from) continue;
                if (!problem.nurses[nurse].free.has_all(task.span.from, task.span.to)) continue;
                Busy next = states[at];
                for (std::int16_t& until : next.until)
                    if (until <= task.span.from) until = 0;  // free is free, since whenever
                if (!task.span.empty()) next.until[nurse] = static_cast<std::int16_t>(task.span.to);
                next.before = static_cast<std::int32_t>(at);
                next.nurse = static_cast<std::int8_t>(k);
                bool known = false;
                for (std::size_t s = end; s < states.size() && !known; ++s)
                    known = states[s].until == next.until;
                if (!known) states.push_back(next);
            }
        }
        if (states.size() == end) return false;
        first = end;
    }
    if (!out) return true;
    out->assign(jobs(), {});
    std::size_t at = first;
    for (std::size_t t = tasks.size(); t-- > 0;) {
        Choice& choice = (*out)[tasks[t].job];
        (tasks[t].second ? choice.second : choice.nurse) = states[at].nurse;
        choice.option = chosen[tasks[t].job].option;
        at = static_cast<std::size_t>(states[at].before);
    }
    return true;
}

// Earliest deadline first; only how many nurses are free in a slot matters, not who.
bool Solver::State::checks_fit() const {
    const std::vector<Span>& due = now.checks;
    std::array<int, most_jobs * 8> ends;  // a heap, the earliest on top
    std::size_t waiting = 0, next = 0;
    const auto heap = [&] { return ends.begin() + static_cast<std::ptrdiff_t>(waiting); };
    for (int slot = 0; next < due.size() || waiting > 0; ++slot) {
        if (waiting == 0 && due[next].from > slot) slot = due[next].from;
        while (next < due.size() && due[next].from <= slot) {
            if (waiting == ends.size()) return true;  // cannot tell: place_checks looks at every answer again
            ends[waiting++] = due[next++].to;
            std::push_heap(ends.begin(), heap(), std::greater<>());
        }
        if (ends[0] <= slot || slot >= problem.slots) return false;
        for (int free = now.capacity[static_cast<std::size_t>(slot)]; free > 0 && waiting > 0; --free) {
            std::pop_heap(ends.begin(), heap(), std::greater<>());
            --waiting;
        }
    }
    return true;
}

}  // namespace hangtime::rounds
