#include "tests/core/plan_support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <cstdio>
#include <cstdlib>

namespace hangtime::test {

namespace {
const Instant midnight{days_from_civil(2026, 3, 14) * 86'400};
}

Instant at(const char* clock, int day) {
    int h = 0, m = 0, s = 0;
    if (std::sscanf(clock, "%d:%d:%d", &h, &m, &s) < 2) std::abort();
    return midnight + Seconds{day * 86'400 + h * 3600 + m * 60 + s};
}

std::string clock_of(Instant t) {
    const std::int64_t s = (t - midnight).count;
    const int day = static_cast<int>(floor_div(s, 86'400));
    const int rest = static_cast<int>(s - day * 86'400LL);
    char text[40];
    if (rest % 60 == 0)
        std::snprintf(text, sizeof text, "%02d:%02d", rest / 3600, rest / 60 % 60);
    else
        std::snprintf(text, sizeof text, "%02d:%02d:%02d", rest / 3600, rest / 60 % 60, rest % 60);
    return day == 0 ? text : (day > 0 ? "+" : "") + std::to_string(day) + " " + text;
}

Protocol plain_protocol() {
    Protocol p;
    p.id = "plain";
    p.adopted = true;
    for (ComponentRules& rules : p.components) {
        rules.limits = {{LimitKind::hang, Anchor::issued, minutes(30), {}},
                        {LimitKind::finish, Anchor::issued, minutes(240), {}}};
        rules.slow = SlowStage{ml_per_h(50), {}, minutes(15), {}};
        rules.usual.most = minutes(120);
        rules.most_per_kg_at_risk = Given<RatePerKg>{hundredths_of_ml_per_kg_per_h(100), {}};
    }
    p.checks.baseline_within.value = minutes(30);
    p.checks.at_start.value = true;
    p.checks.early = {{minutes(15), minutes(10), {}}};
    p.checks.interval = Given<Seconds>{minutes(60), {}};
    p.checks.at_end.value = true;
    p.checks.after = {{minutes(60), {}}};
    p.checks.grace = minutes(5);
    p.clearing.value = Clearing::required;
    p.primed_with.value = Primed::component;
    p.pump = {ml_per_h(1), ml_per_h(999), {}};
    p.drop_factor = {20};
    p.lines = {{LineKind::plain, ml(20), {}}};
    p.closing = minutes(10);
    return p;
}

State plain_state(const Protocol& protocol, Volume bag, Instant issued, Instant start) {
    State s;
    s.unit = {Component::red_cells, bag, {}};
    s.order.pace = Order::Pace::within;
    s.order.duration = minutes(120);
    s.order.counts_from = CountsFrom::start;
    s.line = {ml(20), protocol.primed_with.value, protocol.clearing.value != Clearing::forbidden, {}};
    s.device.step = protocol.pump.step;
    s.times.issued = Stated{issued, Precision::minute};
    s.times.start = Start{{start, Precision::minute}, false};
    return s;
}

ComponentRules& red_cells(Protocol& protocol) {
    return protocol.components[static_cast<std::size_t>(Component::red_cells)];
}

void set_limit(Protocol& protocol, LimitKind kind, Anchor from, Seconds within) {
    auto& limits = red_cells(protocol).limits;
    std::erase_if(limits, [&](const Limit& limit) { return limit.kind == kind; });
    limits.push_back({kind, from, within, {}});
}

Reckoning reckoned(const Protocol& protocol, const State& state, Instant now) {
    Reckoning out;
    reckon(protocol, state, now, out);
    return out;
}

Reckoning reckoned(const Protocol& protocol, const State& state) {
    return reckoned(protocol, state, state.times.issued->at);
}

State ordinary(const Protocol& protocol) { return plain_state(protocol, ml(300), at("10:00"), at("10:15")); }

const Window& window(const Reckoning& reckoning, LimitKind kind, Anchor from) {
    for (const Window& w : reckoning.windows)
        if (w.kind == kind && w.from == from) return w;
    FAIL("no such window");
    std::abort();  // FAIL throws
}

const Check& check_of(const Reckoning& reckoning, CheckKind kind, std::int32_t index) {
    for (const Check& c : reckoning.checks)
        if (c.kind == kind && c.index == index) return c;
    FAIL("no such check");
    std::abort();  // FAIL throws
}

std::vector<std::string> check_times(const Reckoning& reckoning) {
    std::vector<std::string> times;
    for (const Check& check : reckoning.checks)
        if (check.kind != CheckKind::baseline) times.push_back(clock_of(check.due));
    return times;
}

bool warned(const Reckoning& reckoning, Warning code) {
    for (const Warned& w : reckoning.warnings)
        if (w.code == code) return true;
    return false;
}
bool advised(const Reckoning& reckoning, Advice code) {
    for (const Advised& a : reckoning.judgement.advice)
        if (a.code == code) return true;
    return false;
}
bool reasoned(const Reckoning& reckoning, Reason code) {
    for (const Reason r : reckoning.judgement.reasons)
        if (r == code) return true;
    return false;
}

}  // namespace hangtime::test
