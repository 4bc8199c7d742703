#pragma once

/// Random protocols and transfusions, the same on every machine for the same seed: for properties that hold for
/// any input, and for comparing the native build with WebAssembly.

#include "core/protocol/protocol.hpp"
#include "core/session/state.hpp"

#include <cstdint>

namespace hangtime::test {

/// splitmix64: the same numbers on every platform, which the standard distributions do not promise.
class Random {
public:
    explicit Random(std::uint64_t seed) : state_(seed) {}
    std::uint64_t next() {
        std::uint64_t z = (state_ += 0x9E3779B97F4A7C15ULL);
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
        return z ^ (z >> 31);
    }
    /// least <= result <= most
    std::int64_t between(std::int64_t least, std::int64_t most) {
        return least + static_cast<std::int64_t>(next() % static_cast<std::uint64_t>(most - least + 1));
    }
    bool chance(int percent) { return between(1, 100) <= percent; }

private:
    std::uint64_t state_;
};

inline ComponentRules random_rules(Random& r) {
    ComponentRules rules;
    const Anchor anchors[] = {Anchor::issued, Anchor::left_storage, Anchor::spiked, Anchor::started};
    rules.limits.push_back({LimitKind::finish, anchors[r.between(0, 3)], minutes(r.between(30, 360)), {}});
    if (r.chance(40))
        rules.limits.push_back({LimitKind::finish, anchors[r.between(0, 3)], minutes(r.between(120, 360)), {}});
    if (r.chance(20)) rules.limits.push_back({LimitKind::finish, Anchor::thawed, minutes(r.between(240, 1440)), {}});
    if (r.chance(60)) rules.limits.push_back({LimitKind::hang, Anchor::issued, minutes(r.between(10, 60)), {}});
    if (r.chance(30)) rules.limits.push_back({LimitKind::decide, Anchor::issued, minutes(r.between(5, 30)), {}});
    if (r.chance(30)) rules.limits.push_back({LimitKind::send_back, Anchor::left_storage, minutes(r.between(20, 60)), {}});
    if (r.chance(50)) rules.limits.push_back({LimitKind::change_set, Anchor::spiked, minutes(r.between(60, 720)), {}});
    if (r.chance(70)) {
        SlowStage slow;
        if (r.chance(70)) slow.rate = ml_per_h(r.between(5, 150));
        if (!slow.rate || r.chance(20)) slow.rate_per_kg = hundredths_of_ml_per_kg_per_h(r.between(20, 400));
        slow.lasts = minutes(r.between(5, 30));
        rules.slow = slow;
    }
    if (r.chance(80)) rules.usual.most = minutes(r.between(20, 240));
    if (rules.usual.most && r.chance(50)) rules.usual.least = minutes(r.between(10, rules.usual.most->count / 60));
    if (r.chance(15)) rules.usual.rate_per_kg = hundredths_of_ml_per_kg_per_h(r.between(50, 2000));
    if (r.chance(30)) rules.most = Given<Rate>{ml_per_h(r.between(60, 400)), {}};
    if (r.chance(30)) rules.most_per_kg = Given<RatePerKg>{hundredths_of_ml_per_kg_per_h(r.between(100, 2000)), {}};
    if (r.chance(70)) rules.most_per_kg_at_risk = Given<RatePerKg>{hundredths_of_ml_per_kg_per_h(r.between(50, 300)), {}};
    return rules;
}

inline Protocol random_protocol(Random& r) {
    Protocol p;
    p.id = "random";
    p.adopted = r.chance(50);
    for (ComponentRules& rules : p.components) rules = random_rules(r);
    p.checks.baseline_within.value = minutes(r.between(15, 60));
    p.checks.at_start.value = r.chance(50);
    if (r.chance(90)) p.checks.early.push_back({minutes(15), minutes(r.between(5, 15)), {}});
    if (r.chance(20)) p.checks.early.push_back({minutes(30), minutes(30), {}});
    if (r.chance(80)) p.checks.interval = Given<Seconds>{minutes(r.between(5, 90)), {}};
    if (r.chance(50)) p.checks.interval_cannot_report = Given<Seconds>{minutes(r.between(5, 30)), {}};
    p.checks.at_end.value = r.chance(90);
    if (r.chance(70)) p.checks.after.push_back({minutes(r.between(15, 1440)), {}});
    p.checks.grace = minutes(r.between(0, 10));
    p.checks.merge_into_end = minutes(r.between(0, 15));
    p.duration_counts_from.value = r.chance(50) ? CountsFrom::start : CountsFrom::rate_change;
    p.slow_counts_from.value = r.chance(30) ? SlowFrom::vein : SlowFrom::start;
    p.expiry.value = r.chance(50) ? ExpiryRule::start_before : ExpiryRule::finish_before;
    p.pump = {r.chance(50) ? ml_per_h(1) : tenths_of_ml_per_h(1), ml_per_h(r.between(200, 1200)), {}};
    p.drop_factor = {20};
    p.reserve.accuracy_tenths_percent = static_cast<std::int32_t>(r.between(0, 100));
    p.reserve.minutes = minutes(r.between(0, 20));
    p.closing = minutes(r.between(0, 20));
    return p;
}

inline State random_state(Random& r, const Protocol& p) {
    State s;
    const Instant issued{1'773'480'000 + r.between(0, 86'400)};
    s.unit.component = static_cast<Component>(r.between(0, component_count - 1));
    s.unit.bag = r.chance(50) ? ml(r.between(20, 600)) : tenths_of_ml(r.between(200, 6000));
    if (r.chance(30)) s.unit.expires = Stated{issued + minutes(r.between(10, 3000)), Precision::minute};
    if (r.chance(20)) s.order.dose = tenths_of_ml(r.between(100, 5000));
    else if (r.chance(20)) s.order.dose_per_kg = DosePerKg{r.between(50, 200)};
    s.order.pace = static_cast<Order::Pace>(r.between(0, 4));
    s.order.duration = minutes(r.between(10, 360));
    s.order.rate = tenths_of_ml_per_h(r.between(50, 4000));
    s.order.rate_per_kg = hundredths_of_ml_per_kg_per_h(r.between(50, 1000));
    if (r.chance(50)) s.order.counts_from = r.chance(50) ? CountsFrom::start : CountsFrom::rate_change;
    if (r.chance(20)) s.order.most = ml_per_h(r.between(50, 400));
    s.recipient.weight = Mass{r.between(2'500, 140'000)};
    s.recipient.weight_estimated = r.chance(20);
    s.recipient.overload_risk = static_cast<Answer>(r.between(0, 2));
    s.recipient.can_report = static_cast<Answer>(r.between(0, 2));
    s.recipient.gauge = static_cast<std::int32_t>(r.between(0, 24));
    s.line.holds = tenths_of_ml(r.between(0, 300));
    s.line.primed_with = r.chance(50) ? Primed::saline : Primed::component;
    s.line.cleared = r.chance(60);
    if (r.chance(20)) s.line.lost = ml(r.between(0, 10));
    s.device.kind = r.chance(30) ? DeviceKind::gravity : DeviceKind::pump;
    s.device.step = p.pump.step;
    s.device.most = p.pump.most;
    const std::int32_t factors[] = {10, 15, 20, 60};
    s.device.drops = {factors[r.between(0, 3)]};
    s.times.issued = Stated{issued, Precision::minute};
    const Instant start = issued + (r.chance(70) ? minutes(r.between(0, 60)) : Seconds{r.between(0, 14'000)});
    s.times.start = Start{{start, Precision::minute}, r.chance(40)};
    if (r.chance(30)) s.times.left_storage = Stated{issued - minutes(r.between(0, 20)), Precision::minute};
    if (r.chance(40)) s.times.spiked = Stated{start - minutes(r.between(0, 10)), Precision::minute};
    if (r.chance(50)) s.times.thawed = Stated{issued - minutes(r.between(0, 600)), Precision::minute};
    if (r.chance(30)) s.checks_done.add({CheckKind::baseline, 0, {start - minutes(r.between(1, 90)), Precision::minute}});
    if (r.chance(30)) s.checks_done.add({CheckKind::early, 0, {start + minutes(r.between(5, 40)), Precision::minute}});
    if (r.chance(20)) s.checks_done.add({CheckKind::interval, 0, {start + minutes(r.between(20, 90)), Precision::minute}});
    return s;
}

}  // namespace hangtime::test
