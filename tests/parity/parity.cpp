// Prints the report of N random protocols and transfusions, of N random sets of observations under random rules, and
// the replay of N / 4 random logs with the sum of each file, one line each, for the native build and WebAssembly to be
// compared byte for byte.
//
//   parity N

#include "core/cli/replay_json.hpp"
#include "core/cli/report_json.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/session/record.hpp"
#include "tests/core/random_logs.hpp"
#include "tests/core/random_observations.hpp"
#include "tests/core/random_plans.hpp"

#include <cstdio>
#include <cstdlib>

using namespace hangtime;

namespace {

void put_line(std::string text) {
    for (char& c : text)
        if (c == '\n') c = ' ';
    std::puts(text.c_str());
}

}  // namespace

int main(int argc, char** argv) {
    const int inputs = argc == 2 ? std::atoi(argv[1]) : 0;
    if (inputs <= 0) {
        std::fputs("parity: say how many inputs\n", stderr);
        return 2;
    }
    for (int i = 0; i < inputs; ++i) {
        test::Random random(0x5EED'0000ULL + static_cast<std::uint64_t>(i));
        Protocol protocol = test::random_protocol(random);
        Request request;
        request.state = test::random_state(random, protocol);
        const Instant now = request.state.times.issued->at + Seconds{random.between(-4'000, 30'000)};
        Reckoning reckoning;
        reckon(protocol, request.state, now, reckoning);
        put_line(cli::report_json(protocol, request, reckoning));
        const ObserveFile seen = test::random_observations(random, protocol);
        put_line(observe_json(protocol, protocol.observations.rule_sets[0], seen));
    }
    const auto live = std::make_unique<Live>();
    for (int i = 0; i < inputs / 4; ++i) {
        const std::uint64_t seed = 0x106'0000ULL + static_cast<std::uint64_t>(i);
        test::Random random(seed);
        const auto one = std::make_shared<const Protocol>(test::random_protocol(random));
        const auto two = std::make_shared<const Protocol>(test::random_protocol(random));
        test::LogMaker made(seed, one, two);
        made.run(100);
        reckon_live(made.log.session(), made.now() + Seconds{random.between(0, 10'000)}, *live);
        std::uint64_t sum = first_sum;
        for (const Event& event : made.log.events()) write_record(event, sum);
        put_line(std::to_string(sum) + " " + cli::replay_json(made.log, *live));
    }
    return 0;
}
