#include "tests/bench/log_cases.hpp"

#include "core/protocol/read.hpp"
#include "core/reckon/live.hpp"
#include "core/session/record.hpp"
#include "tests/core/random_plans.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <sstream>

namespace hangtime::bench {

namespace {

constexpr Instant begin{1'773'480'000};

std::shared_ptr<const Protocol> a_protocol() {
    const char* root = std::getenv("HANGTIME_ROOT");
    std::ifstream in(std::string(root != nullptr ? root : ".") + "/demo-data/protocols/general-ward.json");
    std::stringstream text;
    text << in.rdbuf();
    Result<Protocol> read = read_protocol(text.str());
    if (!read.ok()) {
        std::fprintf(stderr, "bench: general-ward: %s\n", read.error().problem.c_str());
        std::exit(1);
    }
    return std::make_shared<const Protocol>(std::move(read.value()));
}

Event made(EventKind kind, Instant at, Facts facts) {
    Event e;
    e.kind = kind;
    e.at = {at, Precision::second};
    e.facts = std::move(facts);
    return e;
}

// A session that runs, with as many records as are asked for: rates, pauses, observations, handovers, one every few
// seconds, a twentieth of them charted late.
Log long_log(const std::shared_ptr<const Protocol>& protocol, int records, bool late) {
    test::Random r(7);
    Log log;
    Instant now = begin;
    const auto add = [&](EventKind kind, Facts facts, Instant at) {
        if (const auto refused = log.append(made(kind, at, std::move(facts)), now)) {
            std::fprintf(stderr, "bench: record %d is refused\n", static_cast<int>(log.events().size()));
            std::exit(1);
        }
    };
    add(EventKind::opened, facts::Opened{log_version, SpokenObject::kite, WallClock(), {protocol}, false}, now);
    add(EventKind::joined, std::monostate{}, now);
    add(EventKind::issued, facts::Issued{Component::red_cells, ml(5'000), {}, {}, {}}, now);
    add(EventKind::spiked, std::monostate{}, now);
    add(EventKind::started, facts::RateSet{ml_per_h(10), true, {}}, now);
    while (static_cast<int>(log.events().size()) < records) {
        now = now + Seconds{4};
        const Instant at = late && r.chance(5) ? now - Seconds{2} : now;
        if (log.session().phase == Phase::paused) add(EventKind::resumed, facts::Resumed{}, now);
        else
            switch (r.between(0, 4)) {
            case 0: add(EventKind::rate_set, facts::RateSet{ml_per_h(r.between(5, 12)), true, {}}, now); break;
            case 1: add(EventKind::paused, facts::Paused{}, now); break;
            case 2: add(EventKind::observed, facts::Observed{{}, 0, true, {}}, at); break;
            case 3: add(EventKind::observed, facts::Observed{CheckKind::interval, static_cast<std::int32_t>(r.between(0, 4)), false, {}}, at); break;
            default: add(EventKind::handed_over, facts::HandedOver{Role::nurse}, at); break;
            }
    }
    return log;
}

void timed(const std::string& name, int rounds, const std::function<void()>& run) {
    using clock = std::chrono::steady_clock;
    std::vector<double> ms;
    for (int i = 0; i < rounds; ++i) {
        const auto from = clock::now();
        run();
        ms.push_back(std::chrono::duration<double, std::milli>(clock::now() - from).count());
    }
    std::sort(ms.begin(), ms.end());
    std::printf("%s\tms\t%.4f\t%.4f\t%.4f\t%.4f\t-\n", name.c_str(), ms[ms.size() / 2], ms.front(), ms.back(), ms[ms.size() * 95 / 100]);
}

volatile std::int64_t sink = 0;

}  // namespace

void measure_logs() {
    const auto protocol = a_protocol();
    for (const int records : {10, 1'000, 100'000}) {
        const std::string size = std::to_string(records) + " records";
        const int rounds = records > 10'000 ? 11 : 101;
        Log log = long_log(protocol, records, false);
        const std::string file = write_log(log);
        timed("fold, " + size, rounds, [&] {
            const auto again = Log::of(log.events());
            sink = sink + again->session().state.run.moved_at(begin + hours(1)).units;
        });
        timed("read with sums, " + size, records > 10'000 ? 3 : rounds, [&] {
            const auto read = read_log(file);
            sink = sink + static_cast<std::int64_t>(read.value().log.events().size());
        });
        const auto live = std::make_unique<Live>();
        const Instant now = log.events().back().noted;
        timed("reckon, " + size, rounds, [&] {
            reckon_live(log.session(), now, *live);
            sink = sink + live->running.given.units;
        });
        Instant at = now;
        timed("would it be refused, " + size, rounds, [&] {
            sink = sink + log.would_refuse(made(EventKind::observed, at, facts::Observed{{}, 0, true, {}}), at).has_value();
        });
        timed("one more record, " + size, 1'001, [&] {
            at = at + Seconds{1};
            sink = sink + log.append(made(EventKind::observed, at, facts::Observed{CheckKind::interval, 1, false, {}}), at).has_value();
        });
        timed("one more record, late, " + size, records > 10'000 ? 11 : 101, [&] {
            at = at + Seconds{1};
            sink = sink + log.append(made(EventKind::observed, at - Seconds{2'000}, facts::Observed{{}, 0, true, {}}), at).has_value();
        });
    }
}

}  // namespace hangtime::bench
