#pragma once

/// Random rounds as the solver sees them, the same on every machine for the same seed: for comparing with
/// brute force and with another solver, and for measuring.

#include "core/round/problem.hpp"
#include "tests/core/random_plans.hpp"

#include <algorithm>

namespace hangtime::test {

struct RoundSize {
    int jobs = 4, nurses = 2;
    int slots = 144;       // 12 hours
    bool tight = false;    // windows and hours that often leave no way
    bool apart = false;    // some pairs are for the same person, in either order
};

/// Matches of 10 min and the first 15 min attended with the check that ends them, hourly checks with 10 min
/// of grace, the end and an hour after it; call windows from half an hour to hours; nurses who come, go and
/// have breaks; some transfusions follow another, some were promised, some are kept apart.
inline rounds::Problem random_round(Random& r, const RoundSize& size) {
    using namespace rounds;
    Problem p;
    p.slots = size.slots;
    p.second_from_round = size.nurses > 1 && r.chance(50);
    p.priority = r.chance(75) ? Priority::finish : Priority::promise;
    for (int k = 0; k < size.nurses; ++k) {
        Nurse nurse;
        const bool all_day = r.chance(size.tight ? 30 : 60);
        const int from = all_day ? 0 : static_cast<int>(r.between(0, size.slots / 4));
        const int to = all_day ? size.slots : static_cast<int>(r.between(size.slots * 2 / 3, size.slots));
        nurse.free.add(from, to);
        for (int breaks = static_cast<int>(r.between(0, 2)); breaks > 0; --breaks) {
            const int at = static_cast<int>(r.between(0, size.slots - 8));
            nurse.free.remove(at, at + static_cast<int>(r.between(3, 6)));
        }
        p.nurses.push_back(nurse);
    }
    const bool promised = p.priority == Priority::promise || r.chance(30);
    for (int i = 0; i < size.jobs; ++i) {
        Job job;
        job.weight = r.chance(50) ? 1 : static_cast<int>(r.between(1, 4));
        const int match = static_cast<int>(r.between(1, 3)), attended = static_cast<int>(r.between(3, 4));
        const int minutes = static_cast<int>(r.between(40, 220));
        const int interval = r.chance(60) ? 12 : 6, grace = static_cast<int>(r.between(1, 2));
        const int window = static_cast<int>(r.between(2, size.tight ? 16 : 60));
        const int first = match + static_cast<int>(r.between(0, size.slots / (size.tight ? 4 : 2)));
        if (i > 0 && r.chance(20)) {
            job.follows = static_cast<int>(r.between(0, i - 1));
            job.lag_min = static_cast<int>(r.between(0, 6)) * 5;
        }
        const std::uint32_t all = (1U << size.nurses) - 1;
        std::uint32_t mask = all;
        if (r.chance(15)) mask = static_cast<std::uint32_t>(r.between(1, all));
        const int last = job.follows >= 0 ? size.slots : first + window;
        for (int start = first; start <= last; ++start) {
            const int end_slot = start + (minutes + slot_minutes - 1) / slot_minutes;
            if (end_slot + 12 + grace + 1 > size.slots) break;
            Option option;
            option.start = start;
            option.finish_min = start * slot_minutes + minutes;
            option.lead = {start - match, start + attended};
            option.match = {start - match, start};
            for (int at = start + interval; at < end_slot - 1; at += interval)
                if (at >= start + attended) option.checks.push_back({at, at + grace + 1});
            option.checks.push_back({end_slot, end_slot + grace + 1});
            option.checks.push_back({end_slot + 12, end_slot + 12 + grace + 1});
            option.nurses = mask;
            job.options.push_back(option);
        }
        if (promised && !job.options.empty() && r.chance(70)) {
            const auto last = static_cast<std::int64_t>(job.options.size()) - 1;
            job.promised_start = job.options[static_cast<std::size_t>(r.between(0, last))].start;
            job.promised_nurse = static_cast<int>(r.between(0, size.nurses - 1));
        }
        p.jobs.push_back(job);
    }
    // Drawn last: a round without them is the same as before they were thought of.
    for (int b = 1; size.apart && b < size.jobs; ++b)
        for (int a = 0; a < b; ++a)
            if (p.jobs[static_cast<std::size_t>(b)].follows != a && r.chance(30)) {
                const int lag = static_cast<int>(r.between(0, 6)) * 5;
                p.apart.push_back({a, b, lag, r.chance(50) ? lag : static_cast<int>(r.between(0, 6)) * 5});
            }
    return p;
}

}  // namespace hangtime::test
