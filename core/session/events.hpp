#pragma once

/// What a record of the log holds: its number, when it happened, when it was noted, and its own facts. Nothing
/// in it can say who the recipient is: there is no free text.

#include "core/clock.hpp"
#include "core/component.hpp"
#include "core/match/compatible.hpp"
#include "core/observe/observation.hpp"
#include "core/protocol/protocol.hpp"
#include "core/quantity.hpp"
#include "core/session/objects.hpp"
#include "core/session/state.hpp"
#include "core/words/match_codes.hpp"
#include "core/words/session_codes.hpp"

#include <array>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace hangtime {

/// The version of the log's format that this program writes. A log of a newer one opens read-only.
/// 2: what happens after somebody joined is judged; a stop for symptoms is ended by somebody's decision; a new
/// authorisation takes the place of the old one; a temperature gets old. A log of version 1 goes on by its own rules.
/// 3: the rules for a change are chosen, and what they once asked to hold for bars a restart under other rules too.
inline constexpr int log_version = 3;

/// The protocol in force from now on, whole, as it was read.
struct Rules {
    std::shared_ptr<const Protocol> protocol;
};

/// The last four of the donation number: too few to find anybody by, enough to tell two bags apart.
using BagDigits = std::array<char, 4>;

namespace facts {

struct Opened {
    int version = log_version;
    SpokenObject object{};
    WallClock wall;
    Rules rules;
    bool rehearsal = false;
};
/// `ahead` is what has to be added to this machine's clock to get the one that people chart by; `jumped` is
/// by how much the machine's clock was seen to jump (0: it did not).
struct ClockSet { WallClock wall; Seconds ahead{}; Seconds jumped{}; };
struct ProtocolChanged { Rules rules; };
struct Linked { SpokenObject object{}; };
struct Ordered { Component component{}; Order order; std::optional<Volume> expected; };
struct RecipientTold { Recipient recipient; };
struct EquipmentChosen { Device device; Line line; };
/// `count`: units covered, for the authorisation; 0 elsewhere. `reason` and `role` for a waiver.
struct ItemNoted {
    Item item{};
    ItemHow how{};
    WaiverReason reason{};
    Role role{};
    std::int32_t count = 0;
    bool emergency = false;  // the named path that leads to the local procedure
    std::optional<Role> checker{};  // of a second checker that is confirmed: who it is, as a role
};
struct Issued {
    Component component{};
    Volume bag{};
    std::optional<Stated> expires, thawed;
    std::optional<BagDigits> digits;
    bool expires_far = false;  // a week or more away: known, and no limit for this transfusion
};
struct StorageNoted { StorageChange change{}; };
struct BagTemperature { std::int32_t tenths_c = 0; };
/// `step` counts from 0 in the script of core/match/script.hpp; of an interruption it is not used.
/// `can_say`: whether the person says who they are; asked anew at the first step of each match.
struct MatchNoted { MatchOutcome outcome{}; std::int32_t step = 0; std::optional<bool> can_say = {}; };
/// The answer about groups and special requirements, and who settles it. `unmet`: asked for, not on the label.
/// `reason` and `role` for a waiver.
struct GroupsJudged {
    GroupReasons because;
    RequirementSet unmet;
    GroupsBy by{};
    WaiverReason reason{};
    Role role{};
};
/// All that has run into the person beside this unit since its start.
struct OtherFluid { Volume total{}; };
/// By its id, among those of the protocol in force.
struct RuleSetChosen { std::string rule_set; };
struct PrimedWith { Primed with{}; Volume holds{}; Volume lost{}; };
struct DeviceTotal { TotalKind kind{}; Volume total{}; };
/// `as_it_happened`: it is known to be above the ceiling, and did happen.
/// `waived_by`: who decided that the rate goes up although the early check is open or flagged.
struct RateSet { Rate rate{}; bool as_it_happened = false; std::optional<Role> waived_by; };  // for started too
struct Paused { PauseReason reason{}; };
/// `decided_by`: who says that it goes on, where it was stopped for symptoms.
struct Resumed { std::optional<Role> decided_by; };
/// `extra`: between the checks that the protocol asks for.
/// `set` may be empty: then it is known that they were taken, and no more.
struct Observed { CheckKind kind{}; std::int32_t index = 0; bool extra = false; Observation set; };
struct HandedOver { Role role{}; };                            // for taken_over too
struct Moved { Place place{}; };
struct ConsentWithdrawn { RefusalReason reason{}; };
struct Stopped { StopReason reason{}; };
struct SetChanged { PrimedWith set; };
struct Returned { ReturnTo to{}; ReturnReason reason{}; };
struct Discarded { ReturnReason reason{}; };
/// `agrees`: of `identity` only, what the check at the bedside gave.
struct ActionTicked { ActionKind action{}; std::optional<bool> agrees = {}; };
struct CeilingLowered { Rate most{}; };
/// `identity_agrees`: the check of band and label at the bedside, made again.
struct Restarted { Rate rate{}; Role role{}; bool identity_agrees = false; };
/// Numbers of other records: for charted and withdrawn.
struct Numbers { std::vector<std::int32_t> of; };

}  // namespace facts

using FactsVariant = std::variant<std::monostate, facts::Opened, facts::ClockSet, facts::ProtocolChanged, facts::Linked,
                           facts::Ordered, facts::RecipientTold, facts::EquipmentChosen, facts::ItemNoted,
                           facts::Issued, facts::StorageNoted, facts::BagTemperature, facts::MatchNoted,
                           facts::PrimedWith, facts::DeviceTotal, facts::RateSet, facts::Paused, facts::Resumed, facts::Observed,
                           facts::HandedOver, facts::Moved, facts::ConsentWithdrawn, facts::Stopped,
                           facts::SetChanged, facts::Returned, facts::Discarded, facts::ActionTicked,
                           facts::CeilingLowered, facts::Restarted, facts::Numbers, facts::GroupsJudged,
                           facts::OtherFluid, facts::RuleSetChosen>;

/// One of them. Copied and destroyed in one place (events.cpp): what a variant of so many makes of that takes a compiler
/// half a second, in each of the many files that hold a record.
struct Facts : FactsVariant {
    using FactsVariant::variant;
    using FactsVariant::operator=;
    Facts();
    Facts(const Facts&);
    Facts(Facts&&) noexcept;
    Facts& operator=(const Facts&);
    Facts& operator=(Facts&&) noexcept;
    ~Facts();
};

/// One record. `at` is when it happened; to the minute, `at.at` is where it was placed inside its minute so that
/// the log stays legal, and the minute is what is shown. `noted` is when it was recorded; it never orders.
/// Records are numbered from 1 without gaps.
struct Event {
    std::int32_t number = 0;
    EventKind kind{};
    Stated at;
    Instant noted{};
    bool placed = false;                 // the second inside the minute has been settled
    std::vector<std::int32_t> replaces;  // numbers of records that this one stands in the place of
    Facts facts;
};

/// The index that Facts has for records of this kind.
std::size_t facts_index(EventKind kind);

/// The facts of a record of the right kind. The log never holds another one.
template <class F>
const F& facts_of(const Event& event) {
    return *std::get_if<F>(&event.facts);
}

}  // namespace hangtime
