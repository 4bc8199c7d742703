// Prints the report of N random protocols and transfusions, one line each, for the native build and WebAssembly to
// be compared byte for byte.
//
//   parity N

#include "core/cli/report_json.hpp"
#include "core/reckon/reckoning.hpp"
#include "tests/core/random_plans.hpp"

#include <cstdio>
#include <cstdlib>

using namespace hangtime;

int main(int argc, char** argv) {
    const int inputs = argc == 2 ? std::atoi(argv[1]) : 0;
    if (inputs <= 0) {
        std::fputs("parity: say how many inputs\n", stderr);
        return 2;
    }
    for (int i = 0; i < inputs; ++i) {
        test::Random random(0x5EED'0000ULL + static_cast<std::uint64_t>(i));
        const Protocol protocol = test::random_protocol(random);
        Request request;
        request.state = test::random_state(random, protocol);
        const Instant now = request.state.times.issued->at + Seconds{random.between(-4'000, 30'000)};
        Reckoning reckoning;
        reckon(protocol, request.state, now, reckoning);
        std::string line = cli::report_json(protocol, request, reckoning);
        for (char& c : line)
            if (c == '\n') c = ' ';
        std::puts(line.c_str());
    }
    return 0;
}
