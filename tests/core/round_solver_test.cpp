/// The solver of rounds against brute force, on rounds small enough for it. tests/oracle/test_round.py holds
/// it against a model in MiniZinc on larger ones.

#include "core/round/solver.hpp"
#include "tests/core/random_rounds.hpp"

#include <catch2/catch_test_macros.hpp>

#include <optional>

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
    Problem p = test::random_round(random, size);
    // Few options, so that every way can be tried.
    for (Job& job : p.jobs) {
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
    int infeasible = 0, changed = 0, optimal = 0;
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
    }
    CHECK(infeasible > 20);
    CHECK(optimal > 100);
    CHECK(changed > 20);
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
