#pragma once

/// The local rules: what a ward has laid down, or a published guideline, as values that each say where they
/// are from. Read and checked by core/protocol/read.hpp; the file format is described in
/// core/protocol/protocol.schema.json. Everything here is data: a new limit is a new line in a file.

#include "core/clock.hpp"
#include "core/component.hpp"
#include "core/protocol/given.hpp"
#include "core/protocol/match_rules.hpp"
#include "core/protocol/observe_rules.hpp"
#include "core/protocol/round_rules.hpp"
#include "core/protocol/session_rules.hpp"
#include "core/quantity.hpp"
#include "core/words/codes.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace hangtime {

/// A published source. `note` says what of it was readable, where it was not all.
struct Source {
    std::string key, title, year, place;
    std::string note{};

    friend bool operator==(const Source&, const Source&) = default;
};

/// "`kind` within `within` of `from`".
struct Limit {
    LimitKind kind{};
    Anchor from{};
    Seconds within{};
    Basis basis{};

    friend bool operator==(const Limit&, const Limit&) = default;
};

/// The first minutes. The rate is fixed, by weight, or both (then the lower holds).
struct SlowStage {
    std::optional<Rate> rate;
    std::optional<RatePerKg> rate_per_kg;
    Seconds lasts{};
    Basis basis{};

    friend bool operator==(const SlowStage&, const SlowStage&) = default;
};

/// How fast it usually goes where the order says nothing: all in within a time, or at a rate by weight.
struct UsualPace {
    std::optional<Seconds> least, most;    // usual duration; `most` is the one planned for
    std::optional<RatePerKg> rate_per_kg;  // for children
    Basis basis{};

    friend bool operator==(const UsualPace&, const UsualPace&) = default;
};

/// Rules for one component.
struct ComponentRules {
    std::vector<Limit> limits;                         // at least one `finish` not counted from thaw
    std::optional<SlowStage> slow;                     // none: no separate slow stage
    UsualPace usual;
    std::optional<UsualPace> usual_at_risk;            // for somebody at risk of overload
    std::optional<Given<Rate>> most;                   // highest rate
    std::optional<Given<RatePerKg>> most_per_kg;       // highest rate by weight
    std::optional<Given<RatePerKg>> most_per_kg_at_risk;
    struct Range {
        Volume least, most;
        Basis basis;
        friend bool operator==(const Range&, const Range&) = default;
    };
    std::optional<Range> usual_volume;                 // of one bag; sanity bounds only
    std::optional<Given<std::int32_t>> least_gauge;    // 22: a 22 G cannula or wider
    bool controlled_delivery = false;                  // gravity is not enough (small children)
    std::optional<Given<DeviceKind>> never_by;         // granulocytes never by pump, say
    bool new_set = false;                              // never through a set that carried another component
    Basis controlled_delivery_basis{}, new_set_basis{};  // of the two above, where they are true

    friend bool operator==(const ComponentRules&, const ComponentRules&) = default;
};

/// When observations are due.
struct CheckRules {
    Given<Seconds> baseline_within;  // no older than this at the start
    struct Early {
        Seconds after, counts_from;  // due; the earliest minute at which it counts
        Basis basis;
        Basis counts_basis{};
        friend bool operator==(const Early&, const Early&) = default;
    };
    std::vector<Early> early;
    std::optional<Given<Seconds>> interval;                  // from the start, until all in
    std::optional<Given<Seconds>> interval_cannot_report;    // for somebody who cannot report symptoms
    Given<bool> at_start, at_end;
    std::vector<Given<Seconds>> after;                       // after all in
    Seconds grace{};                                         // later than this is late; also how early an
                                                             // interval check counts (core/reckon/checks.cpp)
    Seconds merge_into_end{};                              // an interval check closer to the end is left out
    Basis grace_basis{}, merge_basis{};

    friend bool operator==(const CheckRules&, const CheckRules&) = default;
};

/// What the set holds.
struct LinePreset {
    LineKind kind{};
    Volume holds{};
    Basis basis{};

    friend bool operator==(const LinePreset&, const LinePreset&) = default;
};

struct Protocol {
    int version = 1;
    std::string id, title, issued_by, revised;  // `issued_by` is a role or body, never a person
    bool adopted = false;                       // false: an example, and every screen and sheet says so
    bool children = false;                      // by weight: the weight is always asked for
    std::vector<Source> sources;

    std::array<ComponentRules, component_count> components;
    CheckRules checks;
    ObserveRules observations;
    ReactionRules reaction;

    Given<CountsFrom> duration_counts_from;
    Given<SlowFrom> slow_counts_from;           // and the early checks with it
    Given<ExpiryRule> expiry;
    Given<Clearing> clearing;
    Given<Primed> primed_with;
    std::vector<LinePreset> lines;              // the first one is the default
    std::vector<Volume> saline_bags;            // the only fluid beside it is 0.9 % saline
    Basis saline_basis;
    std::optional<Given<std::int32_t>> keep_below_tenths_c;  // a bag warmer than this can't be kept
    std::optional<Given<Seconds>> keep_reading;  // so long a reading of the bag's temperature counts
    std::optional<Given<std::int32_t>> set_units;            // units through one set at most
    bool use_after_send_back = false;           // may still be hung when it can no longer go back to stock

    Basis use_after_send_back_basis{};

    struct Pump {
        Rate step, most;
        Basis basis;
        friend bool operator==(const Pump&, const Pump&) = default;
    };
    Pump pump;
    DropFactor drop_factor;                     // default for gravity
    Basis drop_factor_basis{};

    struct Reserve {
        std::int32_t accuracy_tenths_percent = 0;
        Seconds minutes;
        Basis basis;
        friend bool operator==(const Reserve&, const Reserve&) = default;
    };
    Reserve reserve;
    std::optional<SessionRules> session;        // none: a live session judges nothing of it
    std::optional<MatchRules> match;            // none: nothing is said about the match
    std::optional<RoundRules> round;            // none: nothing is said about more than one unit
    Seconds closing{};                          // a window with less than this left is closing
    Basis closing_basis{};

    /// Where a file says nothing about it: 10 minutes (common practice, no source).
    Seconds keep_reading_counts() const { return keep_reading ? keep_reading->value : minutes(10); }

    const ComponentRules& rules(Component c) const { return components[static_cast<std::size_t>(c)]; }

    friend bool operator==(const Protocol&, const Protocol&) = default;
};

}  // namespace hangtime
