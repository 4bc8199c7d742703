#pragma once

/// What is known about one transfusion: what was ordered, what arrived, what it runs through, and when what
/// happened. Holds nothing that says who the recipient is. Read from a file by core/session/read.hpp; later
/// the sum of a log.

#include "core/clock.hpp"
#include "core/component.hpp"
#include "core/fixed_list.hpp"
#include "core/protocol/protocol.hpp"
#include "core/quantity.hpp"

#include <cstdint>
#include <optional>

namespace hangtime {

/// What was ordered. With nothing set: the whole bag, at the protocol's usual pace.
struct Order {
    std::optional<Volume> dose;             // at most one of these two; neither: the whole bag
    std::optional<DosePerKg> dose_per_kg;

    enum class Pace : std::uint8_t { usual, within, at_least, at_rate, at_rate_per_kg };
    Pace pace = Pace::usual;
    Seconds duration{};                     // for within and at_least
    Rate rate{};                            // for at_rate
    RatePerKg rate_per_kg{};                // for at_rate_per_kg
    std::optional<CountsFrom> counts_from;  // of the duration; none: the protocol's
    std::optional<Rate> most;               // the order's own highest rate
};

/// The bag, from its label.
struct Unit {
    std::optional<Component> component;
    std::optional<Volume> bag;
    std::optional<Stated> expires;
    bool expires_far = false;  // a week or more away: known, and no limit for this transfusion
};

/// The person, as far as the arithmetic needs it.
struct Recipient {
    Mass weight{};  // 0: not recorded
    bool weight_estimated = false;
    Answer overload_risk = Answer::not_recorded;
    Answer can_report = Answer::not_recorded;  // symptoms: awake, old enough, a language shared
    std::int32_t gauge = 0;                    // of the venous access; 0: not recorded
};

/// The administration set.
struct Line {
    Volume holds{};
    Primed primed_with = Primed::component;
    bool cleared = true;   // with saline at the end
    Volume lost{};         // of the component, in priming
};

struct Device {
    DeviceKind kind = DeviceKind::pump;
    Rate step = ml_per_h(1);
    Rate most = ml_per_h(999);
    DropFactor drops{20};  // for gravity
};

/// A start is planned until it has happened.
struct Start {
    Stated when;
    bool happened = false;
};

struct Times {
    std::optional<Stated> issued;
    std::optional<Stated> left_storage;  // controlled storage; none: taken as issued
    std::optional<Stated> thawed;
    std::optional<Stated> spiked;        // none: taken as the start
    std::optional<Start> start;
};

/// A set of observations that was taken. `index` counts the checks of its kind from 0.
struct CheckDone {
    CheckKind kind{};
    std::int32_t index = 0;
    Stated when;
};
inline constexpr std::size_t most_checks = 320;

struct State {
    Unit unit;
    Order order;
    Recipient recipient;
    Line line;
    Device device;
    Times times;
    FixedList<CheckDone, 64> checks_done;
    bool charting = true;  // false: nobody records checks here, so that a check without a record is not a missed one
};

/// A state with the protocol's own line, priming, clearing and device; nothing else is set.
State new_state(const Protocol& protocol);

}  // namespace hangtime
