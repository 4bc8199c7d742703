/// Another start tried against what the others do.

#include "core/plan/round_trial.hpp"
#include "core/round/solver.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using namespace hangtime::rounds;

namespace {

struct Planned {
    Protocol protocol;
    Round round;
    RoundOptions options;
    Schedule schedule;
};

Planned planned(const std::string& name) {
    const std::string text = test::file_text("demo-data/rounds/" + name + ".json");
    const auto id = read_round_protocol_id(text);
    REQUIRE(id.ok());
    Planned out{test::shipped_protocol(id.value()), {}, {}, {}};
    const auto round = read_round(text, out.protocol);
    REQUIRE(round.ok());
    out.round = round.value();
    out.options = options_of(out.protocol, out.round);
    const Solved solved = solve(out.options.problem, 200'000);
    REQUIRE(solved.answer);
    out.schedule = *solved.answer;
    return out;
}

std::string all(const RoundTrial& trial) {
    std::string text;
    for (const std::string& line : trial.breaks) text += line + "\n";
    return text;
}

}  // namespace

TEST_CASE("a start that is tried breaks exactly what the rules say that it breaks", "[round]") {
    int kept = 0, broken = 0;
    for (const char* name : {"01-morning", "02-both-at-every-match", "05-second-unit-for-one", "04-after-a-pause",
                             "07-one-person-either-order", "08-one-person-two-lines"}) {
        const Planned p = planned(name);
        for (std::size_t j = 0; j < p.options.problem.jobs.size(); ++j)
            for (int slot = 0; slot < p.options.problem.slots; ++slot) {
                INFO(name << ", job " << j << ", slot " << slot);
                const RoundTrial trial = try_start(p.protocol, p.round, p.options, p.schedule, j, slot);
                REQUIRE(trial.schedule.has_value() == trial.breaks.empty());
                // Independent of it: all others held with their nurses, and the solver asked.
                Problem problem = p.options.problem;
                problem.priority = Priority::finish;
                for (std::size_t i = 0; i < problem.jobs.size(); ++i)
                    for (std::size_t o = 0; o < problem.jobs[i].options.size(); ++o) {
                        Option& option = problem.jobs[i].options[o];
                        if (i == j) {
                            if (option.start != slot) option.nurses = 0;
                        } else {
                            const Choice& c = p.schedule.choices[i];
                            option.nurses &= static_cast<int>(o) == c.option ? 1U << c.nurse : 0U;
                        }
                    }
                if (trial.schedule) {
                    CHECK(broken_rule(p.options.problem, *trial.schedule) == nullptr);
                    CHECK(solve(problem, 20'000).progress.standing == Standing::optimal);
                    ++kept;
                } else {
                    // The seconds at the other matches stay as well, which the solver is free to move.
                    if (!p.round.second_from_round)
                        CHECK(solve(problem, 20'000).progress.standing == Standing::infeasible);
                    ++broken;
                }
            }
    }
    CHECK(kept > 50);
    CHECK(broken > 500);
}

TEST_CASE("what breaks is said by the clock, the nurse and the object", "[round]") {
    const Planned p = planned("01-morning");
    const auto slot = [&](int hour, int minute) { return ((hour - 7) * 60 + minute) / slot_minutes; };
    CHECK(all(try_start(p.protocol, p.round, p.options, p.schedule, 0, 0)).find("before the round begins at 07:00") !=
          std::string::npos);
    CHECK(all(try_start(p.protocol, p.round, p.options, p.schedule, 0, slot(7, 35)))
              .find("called for at 07:30 at the earliest") != std::string::npos);
    // Both nurses' break, or the other's quarter of an hour.
    bool has_break = false, has_with = false;
    for (std::size_t j = 0; j < p.options.problem.jobs.size(); ++j)
        for (int s = 0; s < p.options.problem.slots; ++s) {
            const std::string text = all(try_start(p.protocol, p.round, p.options, p.schedule, j, s));
            has_break = has_break || text.find("has a break from") != std::string::npos;
            has_with = has_with || text.find(" is with ") != std::string::npos;
        }
    CHECK(has_break);
    CHECK(has_with);
    const Planned two = planned("05-second-unit-for-one");
    CHECK(all(try_start(two.protocol, two.round, two.options, two.schedule, 1, slot(10, 30))).find("follows Bell") !=
          std::string::npos);
    const Planned either = planned("07-one-person-either-order");
    const int other = either.options.problem.jobs[1].options[static_cast<std::size_t>(either.schedule.choices[1].option)].start;
    CHECK(all(try_start(either.protocol, either.round, either.options, either.schedule, 0, other))
              .find("Bell is for the same person as Snail, which runs from ") != std::string::npos);
}

TEST_CASE("others move for a start that is held, and nothing else is held", "[round]") {
    const Planned p = planned("01-morning");
    std::vector<int> slots(p.options.jobs.size(), -1);
    const int was = p.options.problem.jobs[1].options[static_cast<std::size_t>(p.schedule.choices[1].option)].start;
    slots[0] = was;  // where another one starts
    const RoundOptions with = held(p.round, p.options, slots);
    const Solved solved = solve(with.problem, 100'000);
    REQUIRE(solved.answer);
    CHECK(solved.progress.standing == Standing::optimal);
    CHECK(broken_rule(p.options.problem, *solved.answer) == nullptr);
    const Option& option =
        p.options.problem.jobs[0].options[static_cast<std::size_t>(solved.answer->choices[0].option)];
    CHECK(option.start == was);
    CHECK(solved.answer->cost.finish >= p.schedule.cost.finish);
}
