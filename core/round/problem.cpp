#include "core/round/problem.hpp"

#include <algorithm>
#include <cstdlib>

namespace hangtime::rounds {

namespace {

// Far more than any sum of the other part.
constexpr std::int64_t changes_scale = 64;          // at most 2 x 16 changes
constexpr std::int64_t finish_scale = 1 << 20;      // at most 16 x 9 x 2,560 minutes
static_assert(2 * most_jobs < changes_scale);
static_assert(2LL * most_jobs * most_weight * most_slots * slot_minutes < finish_scale);

}  // namespace

std::int64_t combined(const Problem& problem, const Cost& cost) {
    if (problem.priority == Priority::promise) return cost.changes * finish_scale + cost.finish;
    return cost.finish * changes_scale + cost.changes;
}

Cost split(const Problem& problem, std::int64_t all) {
    if (problem.priority == Priority::promise) return {all % finish_scale, all / finish_scale};
    return {all / changes_scale, all % changes_scale};
}

Cost cost_of(const Job& job, const Option& option, int nurse) {
    Cost cost;
    cost.finish = static_cast<std::int64_t>(job.weight) * option.finish_min;
    if (job.promised_start >= 0 && job.promised_start != option.start) ++cost.changes;
    if (job.promised_nurse >= 0 && job.promised_nurse != nurse) ++cost.changes;
    return cost;
}

bool starts_after(const Option& second, const Option& first, int lag_min) {
    return second.start * slot_minutes >= first.finish_min + lag_min;
}

bool place_checks(const Problem& problem, const std::vector<Choice>& choices,
                  std::vector<std::vector<CheckPlace>>* out) {
    struct Due {
        int from, to;
        std::size_t job, check;
    };
    std::vector<Slots> free(problem.nurses.size());
    for (std::size_t k = 0; k < free.size(); ++k) free[k] = problem.nurses[k].free;
    std::vector<Due> due;
    if (out) out->assign(problem.jobs.size(), {});
    for (std::size_t i = 0; i < choices.size(); ++i) {
        if (choices[i].option < 0) continue;
        const Option& option = problem.jobs[i].options[static_cast<std::size_t>(choices[i].option)];
        free[static_cast<std::size_t>(choices[i].nurse)].remove(option.lead.from, option.lead.to);
        if (choices[i].second >= 0)
            free[static_cast<std::size_t>(choices[i].second)].remove(option.match.from, option.match.to);
        if (out) (*out)[i].assign(option.checks.size(), {});
        for (std::size_t c = 0; c < option.checks.size(); ++c)
            due.push_back({option.checks[c].from, option.checks[c].to, i, c});
    }
    std::sort(due.begin(), due.end(), [](const Due& a, const Due& b) {
        if (a.from != b.from) return a.from < b.from;
        if (a.to != b.to) return a.to < b.to;
        return a.job != b.job ? a.job < b.job : a.check < b.check;
    });
    const auto later = [](const Due& a, const Due& b) {  // for a heap: the earliest deadline on top
        if (a.to != b.to) return a.to > b.to;
        return a.job != b.job ? a.job > b.job : a.check > b.check;
    };
    std::vector<Due> open;
    std::size_t next = 0;
    for (int slot = 0; next < due.size() || !open.empty(); ++slot) {
        if (open.empty() && due[next].from > slot) slot = due[next].from;
        while (next < due.size() && due[next].from <= slot) {
            open.push_back(due[next++]);
            std::push_heap(open.begin(), open.end(), later);
        }
        if (open.front().to <= slot) return false;
        if (slot >= problem.slots) return false;
        for (std::size_t k = 0; k < free.size() && !open.empty(); ++k) {
            if (!free[k].has(slot)) continue;
            std::pop_heap(open.begin(), open.end(), later);
            if (out) (*out)[open.back().job][open.back().check] = {slot, static_cast<int>(k)};
            open.pop_back();
        }
    }
    return true;
}

const char* broken_rule(const Problem& problem, const Schedule& answer) {
    std::vector<Slots> busy(problem.nurses.size());
    const auto take = [&](int nurse, int from, int to) {
        if (nurse < 0 || static_cast<std::size_t>(nurse) >= busy.size()) return false;
        Slots& mine = busy[static_cast<std::size_t>(nurse)];
        for (int s = from; s < to; ++s) {
            if (s < 0 || s >= problem.slots || mine.has(s)) return false;
            if (!problem.nurses[static_cast<std::size_t>(nurse)].free.has(s)) return false;
            mine.add(s);
        }
        return true;
    };
    if (answer.choices.size() != problem.jobs.size()) return "a transfusion has no choice";
    Cost cost;
    const auto option_of = [&](std::size_t i) -> const Option& {
        return problem.jobs[i].options[static_cast<std::size_t>(answer.choices[i].option)];
    };
    for (std::size_t i = 0; i < problem.jobs.size(); ++i) {
        const Job& job = problem.jobs[i];
        const Choice& choice = answer.choices[i];
        if (choice.option < 0 || static_cast<std::size_t>(choice.option) >= job.options.size())
            return "a transfusion has no such option";
        const Option& option = option_of(i);
        if (choice.nurse < 0 || (option.nurses >> choice.nurse & 1U) == 0)
            return "this nurse may not have it";
        if (!take(choice.nurse, option.lead.from, option.lead.to))
            return "the nurse is not free at the start";
        const bool needs_second = problem.second_from_round && !option.match.empty();
        if (needs_second != (choice.second >= 0)) return "the second person is missing or one too many";
        if (needs_second && !take(choice.second, option.match.from, option.match.to))
            return "the second nurse is not free at the match";
        if (answer.checks[i].size() != option.checks.size()) return "a check has no place";
        const Cost part = cost_of(job, option, choice.nurse);
        cost = {cost.finish + part.finish, cost.changes + part.changes};
    }
    for (std::size_t i = 0; i < problem.jobs.size(); ++i) {
        const Option& option = option_of(i);
        for (std::size_t c = 0; c < option.checks.size(); ++c) {
            const CheckPlace& place = answer.checks[i][c];
            if (place.slot < option.checks[c].from || place.slot >= option.checks[c].to)
                return "a check is outside its window";
            if (!take(place.nurse, place.slot, place.slot + 1)) return "the nurse is not free for a check";
        }
        const int before = problem.jobs[i].follows;
        if (before < 0) continue;
        if (!starts_after(option, option_of(static_cast<std::size_t>(before)), problem.jobs[i].lag_min))
            return "it starts before the one that it follows is over";
    }
    for (const Apart& pair : problem.apart)
        if (!are_apart(pair, [&](int i) -> const Option& { return option_of(static_cast<std::size_t>(i)); }))
            return "two that are kept apart are under way at the same time";
    if (!(cost == answer.cost)) return "the cost is not what it costs";
    return nullptr;
}

}  // namespace hangtime::rounds
