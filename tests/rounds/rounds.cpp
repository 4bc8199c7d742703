/// Random rounds for comparing and for measuring.
///
///   rounds cases FIRST COUNT MOST    COUNT rounds of up to MOST transfusions, one JSON object a line: the
///                                    problem, and what our solver says of it (tests/oracle/test_round.py)
///   rounds bench JOBS NURSES COUNT     the frozen set for measuring, the same lines, each with "ns" in it

#include "core/json/write.hpp"
#include "core/round/solver.hpp"
#include "tests/core/random_rounds.hpp"

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <string>

using namespace hangtime;
using namespace hangtime::rounds;

namespace {

void spans(json::Writer& out, const std::vector<Span>& list) {
    out.begin_list(json::Writer::Layout::along);
    for (const Span& span : list) {
        out.begin_list(json::Writer::Layout::along).integer(span.from).integer(span.to).end_list();
    }
    out.end_list();
}

std::string line_of(const Problem& p, const Solved& solved, std::int64_t ns) {
    json::Writer out;
    const auto along = json::Writer::Layout::along;
    out.begin_object(along).integer("slots", p.slots).boolean("second", p.second_from_round);
    out.boolean("promise_first", p.priority == Priority::promise);
    out.key("nurses").begin_list(along);
    for (const Nurse& nurse : p.nurses) {
        out.begin_list(along);
        for (int s = 0; s < p.slots; ++s) out.integer(nurse.free.has(s) ? 1 : 0);
        out.end_list();
    }
    out.end_list().key("jobs").begin_list(along);
    for (const Job& job : p.jobs) {
        out.begin_object(along).integer("weight", job.weight).integer("promised_start", job.promised_start);
        out.integer("promised_nurse", job.promised_nurse).integer("follows", job.follows);
        out.integer("lag", job.lag_min).key("options").begin_list(along);
        for (const Option& option : job.options) {
            out.begin_object(along).integer("start", option.start).integer("finish", option.finish_min);
            out.integer("nurses", option.nurses).key("lead");
            spans(out, {option.lead});
            out.key("match");
            spans(out, {option.match});
            out.key("checks");
            spans(out, option.checks);
            out.end_object();
        }
        out.end_list().end_object();
    }
    out.end_list().key("apart").begin_list(along);
    for (const Apart& pair : p.apart) {
        out.begin_object(along).integer("a", pair.a).integer("b", pair.b);
        out.integer("lag_a", pair.lag_a).integer("lag_b", pair.lag_b).end_object();
    }
    out.end_list().key("answer").begin_object(along);
    const char* verdict = solved.progress.standing == Standing::optimal      ? "optimal"
                          : solved.progress.standing == Standing::infeasible ? "infeasible"
                                                                          : "searching";
    out.text("verdict", verdict).integer("nodes", solved.progress.nodes).integer("ns", ns);
    out.integer("finish", solved.progress.best.finish).integer("changes", solved.progress.best.changes);
    out.integer("bound", solved.progress.bound.finish);
    out.end_object().end_object();
    std::string text = out.take();
    for (char& c : text)
        if (c == '\n') c = ' ';
    return text;
}

void print(const Problem& p, std::int64_t most_nodes) {
    const auto begin = std::chrono::steady_clock::now();
    const Solved solved = solve(p, most_nodes);
    const std::chrono::nanoseconds ns = std::chrono::steady_clock::now() - begin;
    if (solved.answer)
        if (const char* broken = broken_rule(p, *solved.answer)) {
            std::fprintf(stderr, "rounds: %s\n", broken);
            std::exit(1);
        }
    std::puts(line_of(p, solved, ns.count()).c_str());
}

}  // namespace

int main(int argc, char** argv) {
    if (argc == 5 && std::strcmp(argv[1], "cases") == 0) {
        const int first = std::atoi(argv[2]), count = std::atoi(argv[3]), most = std::atoi(argv[4]);
        for (int i = first; i < first + count; ++i) {
            test::Random random(static_cast<std::uint64_t>(i));
            test::RoundSize size;
            size.jobs = static_cast<int>(random.between(1, most));
            size.nurses = static_cast<int>(random.between(1, 3));
            size.slots = 96;
            size.tight = random.chance(30);
            size.apart = i % 3 == 0;
            if (size.apart) {  // or most of them have no answer
                size.tight = false;
                size.slots = 120;
            }
            print(test::random_round(random, size), 50'000'000);
        }
        return 0;
    }
    if (argc == 5 && std::strcmp(argv[1], "bench") == 0) {
        test::RoundSize size;
        size.jobs = std::atoi(argv[2]);
        size.nurses = std::atoi(argv[3]);
        for (int i = 0; i < std::atoi(argv[4]); ++i) {
            test::Random random(static_cast<std::uint64_t>(size.jobs * 1000 + size.nurses * 100 + i));
            print(test::random_round(random, size), 20'000'000);
        }
        return 0;
    }
    std::fputs("use: rounds cases FIRST COUNT MOST | rounds bench JOBS NURSES COUNT\n", stderr);
    return 2;
}
