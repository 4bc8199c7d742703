/// How long `reckon` takes, and that it allocates nothing. Prints one line a case, for scripts/bench:
///
///   CASE <tab> UNIT <tab> MEDIAN <tab> LEAST <tab> MOST <tab> 95TH PERCENTILE <tab> ALLOCATIONS
///
/// A case is a demo transfusion, or many random plans one after the other (so that no branch can be learnt
/// by heart). Time is taken over batches of about a fifth of a millisecond, because a browser-grade clock is
/// coarse; the figures are those of the batches. Allocations are every call of operator new while the case
/// ran, its warm-up included.

#include "core/protocol/read.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/session/read.hpp"
#include "tests/bench/log_cases.hpp"
#include "tests/core/random_plans.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <memory>
#include <new>
#include <sstream>
#include <string>
#include <vector>

namespace {
long allocations = 0;
}

void* operator new(std::size_t size) {
    ++allocations;
    void* at = std::malloc(size == 0 ? 1 : size);
    if (at == nullptr) std::abort();
    return at;
}
void operator delete(void* at) noexcept { std::free(at); }
void operator delete(void* at, std::size_t) noexcept { std::free(at); }

using namespace hangtime;

namespace {

struct Plan {
    Protocol protocol;
    State state;
    Instant now;
};

std::string text_of(const std::filesystem::path& file) {
    std::ifstream in(file);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

[[noreturn]] void give_up(const std::string& what) {
    std::fprintf(stderr, "bench: %s\n", what.c_str());
    std::exit(1);
}

// Kept, so that no compiler leaves the work out.
volatile std::int64_t sink = 0;

void measure(const std::string& name, const std::vector<Plan>& plans) {
    using clock = std::chrono::steady_clock;
    const auto out = std::make_unique<Reckoning>();
    const auto run = [&](int rounds) {
        for (int i = 0; i < rounds; ++i)
            for (const Plan& p : plans) {
                reckon(p.protocol, p.state, p.now, *out);
                sink = sink + out->all_in.utc;
            }
    };
    std::vector<double> ns;
    constexpr std::size_t batches = 601;
    ns.reserve(batches);
    const long before = allocations;

    // The warm-up also finds how many rounds make a batch.
    int rounds = 1;
    for (;;) {
        const auto start = clock::now();
        run(rounds);
        if (clock::now() - start > std::chrono::microseconds(200) || rounds >= 1 << 20) break;
        rounds *= 2;
    }
    // Long enough for the optimising compiler of a WebAssembly engine, which works beside the program.
    const auto warm = clock::now();
    while (clock::now() - warm < std::chrono::milliseconds(100)) run(rounds);
    for (std::size_t i = 0; i < batches; ++i) {
        const auto start = clock::now();
        run(rounds);
        const std::chrono::duration<double, std::nano> took = clock::now() - start;
        ns.push_back(took.count() / rounds / static_cast<double>(plans.size()));
    }
    const long made = allocations - before;
    std::sort(ns.begin(), ns.end());
    std::printf("reckon, %s\tns\t%.1f\t%.1f\t%.1f\t%.1f\t%ld\n", name.c_str(), ns[batches / 2], ns.front(),
                ns.back(), ns[batches * 95 / 100], made);
}

}  // namespace

// "bench log": only what a log takes; otherwise only reckonings.
int main(int argc, char** argv) {
    if (argc == 2 && std::string_view(argv[1]) == "log") {
        bench::measure_logs();
        return 0;
    }
    const char* given = std::getenv("HANGTIME_ROOT");
    const std::filesystem::path root = given != nullptr ? given : ".";
    std::vector<Protocol> protocols;
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(root / "demo-data/protocols"))
        if (entry.path().extension() == ".json") {
            Result<Protocol> read = read_protocol(text_of(entry.path()));
            if (!read.ok()) give_up(entry.path().string() + ": " + read.error().problem);
            protocols.push_back(std::move(read.value()));
        }
    for (const auto& entry : std::filesystem::directory_iterator(root / "demo-data/transfusions"))
        if (entry.path().extension() == ".json") files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    if (files.empty()) give_up("no demo transfusions; set HANGTIME_ROOT to the tree's folder");

    for (const auto& file : files) {
        const std::string text = text_of(file);
        Result<std::string> id = read_protocol_id(text);
        if (!id.ok()) give_up(file.string() + ": " + id.error().problem);
        const auto protocol = std::find_if(protocols.begin(), protocols.end(),
                                           [&](const Protocol& p) { return p.id == id.value(); });
        if (protocol == protocols.end()) give_up(file.string() + " asks for a protocol that is not there");
        Result<Request> request = read_request(text, *protocol);
        if (!request.ok()) give_up(file.string() + ": " + request.error().problem);
        const State& state = request.value().state;
        const Instant now = request.value().now ? request.value().now->at : Instant{};
        measure(file.stem().string(), {{*protocol, state, now}});
    }
    std::vector<Plan> random;
    for (std::uint64_t seed = 0; seed < 256; ++seed) {
        test::Random r(seed);
        Protocol protocol = test::random_protocol(r);
        const State state = test::random_state(r, protocol);
        random.push_back({std::move(protocol), state, state.times.issued->at + minutes(20)});
    }
    measure("256 random plans", random);
    return 0;
}
