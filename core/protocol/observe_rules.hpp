#pragma once

/// The rules about observations and reactions: under which published rule a change is named, what a ward
/// counts as signs of overload, and what is done, in which order, after a suspected reaction. Every
/// comparison with these is made in core/observe. Published rules disagree; each set keeps its own name, and
/// none of them is a reason to go on: any new symptom is enough to stop.

#include "core/protocol/given.hpp"
#include "core/quantity.hpp"
#include "core/words/observe_codes.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

/// At least a temperature, a rise from the baseline, or both; one of the limbs may be missing.
struct FeverRule {
    std::optional<std::int32_t> at_least_tenths_c;
    std::optional<std::int32_t> rise_tenths_c;
    bool rise_more_than = false;                   // the rise has to be more than that, not just that much
    std::optional<std::int32_t> rise_from_tenths_c; // the rise counts only from such a baseline upwards
    Join join = Join::either;                      // where there are two limbs
    Basis basis;

    friend bool operator==(const FeverRule&, const FeverRule&) = default;
};

/// A fall from the baseline: in mmHg or in percent of the baseline (then always more than that).
struct PressureRule {
    PressureMeasures measures{};
    std::optional<std::int32_t> fall_mmhg;
    bool fall_more_than = false;
    std::optional<std::int32_t> fall_more_than_percent;
    std::optional<std::int32_t> and_systolic_at_most_mmhg;
    Basis basis;

    friend bool operator==(const PressureRule&, const PressureRule&) = default;
};

/// More than a rise in percent of the baseline, or more than one in beats a minute, or either.
struct PulseRule {
    std::optional<std::int32_t> rise_more_than_percent;
    std::optional<std::int32_t> rise_more_than_per_min;
    Basis basis;

    friend bool operator==(const PulseRule&, const PulseRule&) = default;
};

/// One named set of limits, by which a change from the baseline is said to be one.
struct RuleSet {
    std::string id, title;
    FeverRule fever, severe_fever;
    PressureRule adult, child, small;  // small: under a year, or under `small_below`
    Given<Mass> small_below;
    std::optional<PulseRule> pulse;
    std::optional<Given<std::int32_t>> saturation_below_percent;  // on air

    friend bool operator==(const RuleSet&, const RuleSet&) = default;
};

struct ObserveRules {
    std::vector<RuleSet> rule_sets;  // at least one; the first is the ward's
    Basis new_symptom_basis{};       // that any new symptom is enough to stop is not a choice
    std::optional<Given<std::int32_t>> ask_above_tenths_c;  // a warmer baseline: ask before the start

    /// What is taken for worse breathing and for a rising pressure. No source gives numbers.
    struct Breathing {
        std::int32_t respirations_rise = 0, saturation_fall = 0;  // at least, a minute and percent
        Basis basis;
        friend bool operator==(const Breathing&, const Breathing&) = default;
    };
    Breathing breathing;
    struct PressureRise {
        std::int32_t systolic_mmhg = 0, widened_mmhg = 0;  // at least
        Basis basis;
        friend bool operator==(const PressureRise&, const PressureRise&) = default;
    };
    PressureRise pressure_rise;

    const RuleSet* find(std::string_view id) const {
        for (const RuleSet& set : rule_sets)
            if (set.id == id) return &set;
        return nullptr;
    }

    friend bool operator==(const ObserveRules&, const ObserveRules&) = default;
};

struct ReactionRules {
    std::vector<ActionKind> order;  // `stop` first, each at most once, the needed ones all there
    Basis order_basis{};
    Given<Seconds> observe_every;   // after a suspected reaction
    struct MildRestart {
        Seconds wait;               // no sign of it going on for this long
        Basis basis;
        friend bool operator==(const MildRestart&, const MildRestart&) = default;
    };
    std::optional<MildRestart> restart;  // none: never
    Given<std::int32_t> slow_to_percent; // slowing down: at most this share of the rate that runs
    Given<Seconds> keep_bag;             // the empty bag, after all in
    Given<Seconds> late_symptoms;        // to be reported for this long after the end

    friend bool operator==(const ReactionRules&, const ReactionRules&) = default;
};

/// The actions that no order may leave out.
inline constexpr ActionKind needed_actions[] = {
    ActionKind::stop,           ActionKind::new_set_saline,  ActionKind::identity, ActionKind::observe,
    ActionKind::call_clinician, ActionKind::call_blood_bank, ActionKind::keep_bag,
};

/// A rule in words: "at least 38.0 °C and up by at least 1.0 °C"
std::string rule_text(const FeverRule& rule);
/// "systolic down by at least 30 mmHg and at most 80 mmHg"
std::string rule_text(const PressureRule& rule);
/// "up by more than 20 % or more than 40 /min"
std::string rule_text(const PulseRule& rule);

}  // namespace hangtime
