#pragma once

/// A log put together in a test: a unit of red cells, taken up half-way, that runs.

#include "core/plan/record_words.hpp"
#include "core/protocol/read.hpp"
#include "core/reckon/live.hpp"
#include "core/session/log.hpp"
#include "tests/web/harness.hpp"

#include <memory>
#include <string>

namespace hangtime::test {

Protocol shipped(const std::string& name);

/// Everything as it is in a healthy adult at rest.
Observation unremarkable();

class Logged {
public:
    /// 300 mL from 14:00 at 50 mL/h, issued at 13:45; 60 kg, an adult. `started` false: only the person is known.
    explicit Logged(const std::string& protocol = "general-ward", bool started = true);

    void add(EventKind kind, Facts facts, Instant when, std::vector<std::int32_t> replaces = {});
    std::optional<Refusal> try_add(EventKind kind, Facts facts, Instant when, std::vector<std::int32_t> replaces = {});
    void observe(CheckKind kind, const Observation& set, Instant when);
    void reckon_at(Instant now);

    Log log;
    Live live;
    Instant now = at(14, 1);
    WallClock wall{Seconds{0}};
    DayClock day() const { return day_clock_of(log.session()); }
};

} // namespace hangtime::test
