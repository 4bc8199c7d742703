// What is seen at a moment: whole numbers in straight lines between the points of a scenario, and a seed's small
// variation of pulse and pressures.

#include "core/rehearse/run.hpp"

#include <algorithm>

namespace hangtime {

namespace {

// From `a` to `b` as far as `done` of `span`, rounded to the nearest, halves away from zero.
std::int64_t between(std::int64_t a, std::int64_t b, std::int64_t done, std::int64_t span) {
    if (done >= span) return b;
    if (done <= 0) return a;
    const std::int64_t twice = 2 * (b - a) * done;
    return a + (twice >= 0 ? (twice + span) / (2 * span) : -((-twice + span) / (2 * span)));
}

template <class T>
void go(std::optional<T>& value, const std::optional<T>& to, std::int64_t done, std::int64_t span) {
    if (!to) return;
    value = value ? static_cast<T>(between(*value, *to, done, span)) : *to;
}

template <class T>
void change(std::optional<T>& value, const std::optional<T>& to, bool reached) {
    if (to && reached) value = to;
}

// Moves `now` from what it was towards `to`.
void towards(Observation& now, const Observation& to, std::int64_t done, std::int64_t span) {
    const bool reached = done >= span;
    if (to.temperature) {
        if (!now.temperature) now.temperature = to.temperature;
        else now.temperature->tenths =
                 static_cast<std::int16_t>(between(now.temperature->tenths, to.temperature->tenths, done, span));
    }
    go(now.pulse_per_min, to.pulse_per_min, done, span);
    go(now.systolic_mmhg, to.systolic_mmhg, done, span);
    go(now.diastolic_mmhg, to.diastolic_mmhg, done, span);
    go(now.mean_mmhg, to.mean_mmhg, done, span);
    go(now.respirations_per_min, to.respirations_per_min, done, span);
    go(now.saturation_percent, to.saturation_percent, done, span);
    change(now.on_oxygen, to.on_oxygen, reached);
    change(now.consciousness, to.consciousness, reached);
    change(now.lungs, to.lungs, reached);
    change(now.site, to.site, reached);
    change(now.urine, to.urine, reached);
    change(now.symptoms, to.symptoms, reached);
}

// How far a trajectory has come: where it goes on only while blood runs, until the first stop after it began.
Seconds elapsed(const Log& log, const Happening& h, Instant began, Instant now) {
    if (!h.while_running) return now - began;
    Instant until = now;
    for (const Event& e : log.events()) {
        const bool stops = e.kind == EventKind::paused || e.kind == EventKind::stopped || e.kind == EventKind::all_in ||
                           e.kind == EventKind::reaction_suspected || e.kind == EventKind::consent_withdrawn;
        if (stops && !log.is_void(e.number) && e.at.at >= began && e.at.at < until) until = e.at.at;
    }
    return until - began;
}

}  // namespace

Observation Rehearsal::signs_at(Instant at) const {
    Observation out = scenario_.signs;
    for (const Told& told : told_) {
        const Happening& h = happening(told.happening);
        if (h.signs.empty() || told.at > at) continue;
        const Seconds gone = elapsed(log_, h, told.at, at);
        Seconds before{};
        for (const SignsAfter& point : h.signs) {
            if (gone < before) break;
            const Seconds span = point.after - before;
            towards(out, point.set, (gone - before).count, span.count);
            before = point.after;
        }
    }
    const auto minute = static_cast<std::uint64_t>(at.utc / 60);
    const std::int64_t pressure = varied(seed_, 101, minute, 2);
    const auto moved = [](std::optional<std::int16_t>& value, std::int64_t by) {
        if (value) value = static_cast<std::int16_t>(*value + by);
    };
    moved(out.pulse_per_min, varied(seed_, 100, minute, 2));
    moved(out.systolic_mmhg, pressure);
    moved(out.diastolic_mmhg, pressure);
    moved(out.mean_mmhg, pressure);
    return out;
}

}  // namespace hangtime
