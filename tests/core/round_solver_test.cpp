/// The solver of rounds against brute force, on rounds small enough for it. tests/oracle/test_round.py holds
/// it against a model in MiniZinc on larger ones.

#include "core/round/solver.hpp"
#include "tests/core/random_rounds.hpp"

#include <catch2/catch_test_macros.hpp>

#include <optional>
#include <string>

using namespace hangtime;
using namespace hangtime::rounds;

namespace {

// Every way to give every job an option and nurses, and every way to place every check: nothing clever.
class BruteForce {
public:
    explicit BruteForce(const Problem& p) : p_(p), busy_(p.nurses.size()), answer_() {
        answer_.choices.resize(p.jobs.size());
    }
    std::optional<Cost> run() {
        job(0, {});
        return best_;
    }

private:
    bool take(int nurse, int from, int to) {
        for (int s = from; s < to; ++s)
            if (busy_[static_cast<std::size_t>(nurse)].has(s) || s >= p_.slots ||
                !p_.nurses[static_cast<std::size_t>(nurse)].free.has(s))
                return false;
        busy_[static_cast<std::size_t>(nurse)].add(from, to);
        return true;
    }

    void job(std::size_t i, Cost cost) {
        if (best_ && combined(p_, cost) >= combined(p_, *best_)) return;
        if (i == p_.jobs.size()) {
            if (in_order() && place(0, 0)) best_ = cost;
            return;
        }
        for (std::size_t o = 0; o < p_.jobs[i].options.size(); ++o)
            for (int k = 0; k < static_cast<int>(p_.nurses.size()); ++k) {
                const Option& option = p_.jobs[i].options[o];
                if ((option.nurses >> k & 1U) == 0) continue;
                const auto before = busy_;
                if (take(k, option.lead.from, option.lead.to)) {
                    const Cost part = cost_of(p_.jobs[i], option, k);
                    const Cost sum{cost.finish + part.finish, cost.changes + part.changes};
                    if (!p_.second_from_round) {
                        answer_.choices[i] = {static_cast<int>(o), k, -1};
                        job(i + 1, sum);
                    } else {
                        for (int other = 0; other < static_cast<int>(p_.nurses.size()); ++other) {
                            const auto with_lead = busy_;
                            if (other != k && take(other, option.match.from, option.match.to)) {
                                answer_.choices[i] = {static_cast<int>(o), k, other};
                                job(i + 1, sum);
                            }
                            busy_ = with_lead;
                        }
                    }
                }
                busy_ = before;
            }
    }

    const Option& option(std::size_t i) const {
        return p_.jobs[i].options[static_cast<std::size_t>(answer_.choices[i].option)];
    }

    bool in_order() const {
        for (std::size_t j = 0; j < p_.jobs.size(); ++j) {
            const int i = p_.jobs[j].follows;
            if (i >= 0 && option(j).start * slot_minutes <
                              option(static_cast<std::size_t>(i)).finish_min + p_.jobs[j].lag_min)
                return false;
        }
        for (const Apart& pair : p_.apart) {
            const Option &a = option(static_cast<std::size_t>(pair.a)), &b = option(static_cast<std::size_t>(pair.b));
            const bool a_first = b.start * slot_minutes >= a.finish_min + pair.lag_b;
            const bool b_first = a.start * slot_minutes >= b.finish_min + pair.lag_a;
            if (!a_first && !b_first) return false;
        }
        return true;
    }

    bool place(std::size_t i, std::size_t check) {
        if (i == p_.jobs.size()) return true;
        if (check == option(i).checks.size()) return place(i + 1, 0);
        const Span window = option(i).checks[check];
        for (int s = window.from; s < window.to; ++s)
            for (int k = 0; k < static_cast<int>(p_.nurses.size()); ++k) {
                const auto before = busy_;
                const bool placed = take(k, s, s + 1) && place(i, check + 1);
                busy_ = before;
                if (placed) return true;
            }
        return false;
    }

    const Problem& p_;
    std::vector<Slots> busy_;
    Schedule answer_;
    std::optional<Cost> best_;
};

Problem small(std::uint64_t seed) {
    test::Random random(seed);
    test::RoundSize size;
    size.jobs = static_cast<int>(random.between(1, 3));
    size.nurses = static_cast<int>(random.between(1, 2));
    size.slots = 72;
    size.tight = random.chance(60);
    size.apart = seed % 2 == 0;
    if (size.apart) {
        size.tight = false;
        size.slots = 120;
    }
    Problem p = test::random_round(random, size);
    // Few options, so that every way can be tried; far from each other, where two have to be apart.
    for (Job& job : p.jobs) {
        if (size.apart && job.options.size() > 4) {
            const std::size_t last = job.options.size() - 1;
            job.options = {job.options[0], job.options[last / 3], job.options[last * 2 / 3], job.options[last]};
        }
        if (job.options.size() > 4) job.options.resize(4);
        for (Option& option : job.options)
            if (option.checks.size() > 3) option.checks.resize(3);
        const int last = job.options.empty() ? 0 : job.options.back().start;
        if (job.promised_start > last) job.promised_start = -1;
    }
    return p;
}

}  // namespace

TEST_CASE("no way of giving starts and nurses is better than the solver's, on rounds that brute force can do",
          "[round]") {
    int infeasible = 0, changed = 0, optimal = 0, apart = 0;
    for (std::uint64_t seed = 1; seed <= 1000; ++seed) {
        const Problem p = small(seed);
        const std::optional<Cost> best = BruteForce(p).run();
        const Solved solved = solve(p, 1'000'000);
        INFO("seed " << seed);
        REQUIRE(solved.progress.standing != Standing::searching);
        REQUIRE((solved.progress.standing == Standing::optimal) == best.has_value());
        if (!best) {
            ++infeasible;
            continue;
        }
        ++optimal;
        REQUIRE(solved.answer);
        CHECK(broken_rule(p, *solved.answer) == nullptr);
        CHECK(solved.answer->cost.finish == best->finish);
        CHECK(solved.answer->cost.changes == best->changes);
        if (best->changes > 0) ++changed;
        if (!p.apart.empty()) ++apart;
    }
    CHECK(infeasible > 20);
    CHECK(optimal > 100);
    CHECK(changed > 20);
    CHECK(apart > 20);
}

TEST_CASE("the solver's answer does not depend on how its work is cut into slices", "[round]") {
    for (std::uint64_t seed = 1; seed <= 30; ++seed) {
        test::Random random(seed);
        test::RoundSize size;
        size.jobs = 6;
        const Problem p = test::random_round(random, size);
        const Solved whole = solve(p, 300'000);
        Solver sliced(p);
        std::int64_t steps = 0;
        while (!sliced.done() && sliced.progress().nodes < 300'000) {
            const Progress before = sliced.progress();
            sliced.step(7);
            const Progress after = sliced.progress();
            ++steps;
            INFO("seed " << seed << ", slice " << steps);
            REQUIRE((after.nodes > before.nodes || sliced.done()));
            REQUIRE(after.nodes - before.nodes < 100);
            if (before.has_answer) REQUIRE(combined(p, after.best) <= combined(p, before.best));
            if (after.has_answer) REQUIRE(combined(p, after.bound) <= combined(p, after.best));
        }
        CHECK(sliced.progress().standing == whole.progress.standing);
        CHECK(sliced.progress().best == whole.progress.best);
        CHECK(sliced.progress().nodes == whole.progress.nodes);
        REQUIRE((sliced.best() != nullptr) == whole.answer.has_value());
    }
}

TEST_CASE("a bound on the way is never above what proves to be the best", "[round]") {
    int with_gap = 0;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        test::Random random(seed);
        test::RoundSize size;
        size.jobs = 6;
        const Problem p = test::random_round(random, size);
        const Solved whole = solve(p, 1'000'000);
        if (whole.progress.standing != Standing::optimal) continue;
        Solver sliced(p);
        while (!sliced.done()) {
            INFO("seed " << seed);
            REQUIRE(combined(p, sliced.progress().bound) <= combined(p, whole.progress.best));
            if (combined(p, sliced.progress().bound) < combined(p, whole.progress.best)) ++with_gap;
            sliced.step(5);
        }
    }
    CHECK(with_gap > 10);
}

TEST_CASE("two attended quarters of an hour of one nurse never overlap", "[round]") {
    // Two that could both start at once, and one nurse: the second waits for the first one's attended
    // minutes.
    Problem p;
    p.slots = 60;
    p.nurses.resize(1);
    p.nurses[0].free.add(0, 60);
    for (int i = 0; i < 2; ++i) {
        Job job;
        for (int start = 2; start < 20; ++start)
            job.options.push_back({start, start * 5 + 100, {start - 2, start + 4}, {start - 2, start}, {},
                    1});
        p.jobs.push_back(job);
    }
    const Solved one = solve(p, 100'000);
    REQUIRE(one.answer);
    CHECK(one.answer->cost.finish == (2 * 5 + 100) + (8 * 5 + 100));

    p.nurses.push_back(p.nurses[0]);
    for (Job& job : p.jobs)
        for (Option& option : job.options) option.nurses = 3;
    const Solved two = solve(p, 100'000);
    REQUIRE(two.answer);
    CHECK(two.answer->cost.finish == 2 * (2 * 5 + 100));

    p.second_from_round = true;  // each match takes both
    const Solved both = solve(p, 100'000);
    REQUIRE(both.answer);
    // The second match can begin only when the first attended minutes are over.
    CHECK(both.answer->cost.finish == (2 * 5 + 100) + (8 * 5 + 100));
}

TEST_CASE("two that are kept apart are one after the other, in the order that is over sooner, to the minute", "[round]") {
    // Both could start at once, with a nurse each: a long one and a short one for the same person.
    Problem p;
    p.slots = 100;
    p.nurses.resize(2);
    for (Nurse& nurse : p.nurses) nurse.free.add(0, 100);
    for (const int minutes : {160, 60}) {
        Job job;
        for (int start = 2; start < 60; ++start)
            job.options.push_back({start, start * 5 + minutes, {start - 2, start + 4}, {start - 2, start}, {}, 3});
        p.jobs.push_back(job);
    }
    const Solved free = solve(p, 100'000);
    REQUIRE(free.answer);
    CHECK(free.answer->cost.finish == 2 * 10 + 160 + 60);

    p.apart.push_back({0, 1, 30, 45});
    const Solved apart = solve(p, 100'000);
    REQUIRE(apart.answer);
    CHECK(apart.progress.standing == Standing::optimal);
    // The short one first, over at 70; the long one from 100 on.
    CHECK(apart.answer->cost.finish == 70 + 100 + 160);
    CHECK(broken_rule(p, *apart.answer) == nullptr);
    Schedule sooner = *apart.answer;
    --sooner.choices[0].option;  // 5 min before the 30 are over
    sooner.cost.finish -= 5;
    CHECK(std::string(broken_rule(p, sooner)) == "two that are kept apart are under way at the same time");

    // Where the short one can only come second, its own lag counts.
    std::erase_if(p.jobs[0].options, [](const Option& o) { return o.start > 2; });
    const Solved second = solve(p, 100'000);
    REQUIRE(second.answer);
    CHECK(second.answer->cost.finish == 170 + (170 + 45 + 60));
}
