#pragma once

/// What a log adds up to: state = fold(state, event). Everything that a screen needs beyond the arithmetic of
/// one transfusion (which is in State) is here: how far it has come, what is ready, what was noted.

#include "core/match/script.hpp"
#include "core/observe/change.hpp"
#include "core/observe/reaction.hpp"
#include "core/session/events.hpp"

#include <array>
#include <memory>
#include <optional>
#include <vector>

namespace hangtime {

/// A ready item as it was last noted.
struct ItemNote {
    ItemState state = ItemState::open;
    WaiverReason reason{};
    Role role{};
    bool emergency = false;
    Instant at{};
    std::int32_t number = 0;  // of the record
    std::optional<Role> checker{};

    friend bool operator==(const ItemNote&, const ItemNote&) = default;
};

/// The answer about groups and special requirements of this unit, as it was last noted.
struct GroupsNote {
    GroupReasons because;
    RequirementSet unmet;
    GroupsBy by{};
    WaiverReason reason{};
    Role role{};
    Instant at{};
    std::int32_t number = 0;  // of the record

    /// The worst of the reasons' answers.
    Compatible answer() const;
    bool settled() const { return settles(because, by); }
    friend bool operator==(const GroupsNote&, const GroupsNote&) = default;
};

/// The rules by which a change from the baseline is judged, from a moment on.
struct ChangeRules {
    std::shared_ptr<const Protocol> protocol;
    std::size_t set = 0;   // among the protocol's rule sets
    Instant from{};
    bool chosen = false;   // in the session; else it is the protocol's first

    /// None where the protocol has no rules for a change.
    const RuleSet* rules() const {
        const auto& sets = protocol->observations.rule_sets;
        return set < sets.size() ? &sets[set] : nullptr;
    }
};

/// One set of observations, as it was recorded.
struct ObservedSet {
    std::int32_t number = 0;  // of the record
    CheckKind kind{};
    std::int32_t index = 0;
    bool extra = false;
    Stated when;
    Observation set;
    std::size_t judged_by = 0;  // among the session's `change_rules`: those in force when it was taken

    friend bool operator==(const ObservedSet&, const ObservedSet&) = default;
};

/// A unit of this session that is done with.
struct PastUnit {
    Component component{};
    std::optional<BagDigits> digits;
    std::optional<Instant> started, ended;
    Volume given{};
    FluidParts fluid{};  // all that ran in with it

    friend bool operator==(const PastUnit&, const PastUnit&) = default;
};

/// Where the unit went, when nothing more is given of it.
struct Disposal {
    EventKind how{};  // returned, discarded or bag_kept
    ReturnTo to{};
    ReturnReason reason{};
    Instant at{};

    friend bool operator==(const Disposal&, const Disposal&) = default;
};

struct Session {
    // how it was opened
    int version = log_version;     // of the log: what was refused by no rule then is refused by none now
    SpokenObject object{};
    Instant opened{};
    WallClock wall;
    Seconds ahead{};
    bool rehearsal = false;
    bool joined = false;
    Instant joined_at{};           // where it was: what happened until then was not seen
    /// Now, or for a unit before this one.
    bool was_joined() const { return joined || joined_at != Instant{}; }
    std::optional<SpokenObject> linked;
    std::shared_ptr<const Protocol> protocol;

    // what is known
    Phase phase = Phase::preparing;
    State state;                      // the arithmetic: see state.hpp
    std::optional<Volume> expected;   // the volume usually expected, before the bag is here
    std::optional<Component> ordered;
    bool recipient_told = false;
    std::array<ItemNote, item_count> items{};
    std::int32_t units_covered = 0;   // by the authorisation
    std::int32_t units_requested = 0; // called for, in this session
    std::int32_t units_returned = 0;  // of these never begun: they used up no authorisation
    std::optional<facts::Ordered> next_order;  // entered after the unit was closed: for the next one
    bool line_chosen = false;         // the set was chosen, and is not only what the rules have as their own
    std::optional<BagDigits> digits;
    std::optional<Instant> sample_drawn, requested, received, primed, connected;
    std::optional<std::int32_t> bag_tenths_c;  // the warmest that was read
    std::optional<Instant> bag_read_at;        // when it was read last
    MatchState match;                 // of this unit, as far as it has come
    std::optional<bool> can_say;      // as it was asked at the first step of this match
    std::optional<GroupsNote> groups; // none: not noted
    std::optional<Volume> total_base; // what the device's total said when nothing had been moved
    std::optional<Volume> total_read; // the last total as it was read
    PauseReason pause_reason{};
    StopReason stop_reason{};
    std::vector<ChangeRules> change_rules;  // in the order of time; the last are in force
    std::vector<ObservedSet> sets;    // in the order of time
    std::optional<std::size_t> baseline;  // among the sets: the last that is one
    std::optional<ObservedSet> next_baseline;  // taken after the unit was closed: for the next one
    std::optional<Instant> reaction, refused;
    std::optional<bool> identity_agrees;  // the check at the bedside after the stop
    std::optional<Instant> identity_at;   // when its result was noted
    Volume other_fluid{};             // through other lines since the start
    std::vector<ActionDone> actions;  // since the reaction was suspected; the first is the stop
    std::optional<RefusalReason> refusal_reason;
    std::optional<Disposal> disposal;
    std::vector<PastUnit> past_units;
    Role with = Role::nurse;          // who has it
    bool offered = false;             // handed over and not yet taken over
    Place place = Place::same_ward;

    // what has to go into the ward's own record: by record number
    std::vector<bool> to_chart, is_charted;

    const ItemNote& item(Item i) const { return items[static_cast<std::size_t>(i)]; }
    /// Whether what happens at `at` is judged: it does not come from before somebody joined.
    bool judged(Instant at) const { return !joined || (version >= 2 && at > joined_at); }
    /// Units that an authorisation was used up for, or is being.
    std::int32_t units_drawn() const { return units_requested - units_returned; }
    bool unit_here() const { return phase >= Phase::here && phase <= Phase::ended; }
    std::size_t uncharted() const;
};

/// Takes one more record into account. Nothing is changed where it is refused; what has been decided before
/// must stand in the order of the log (core/session/log.hpp sees to that). Constant time but for the numbers
/// that the record itself lists.
std::optional<Refusal> apply(Session& session, const Event& event);

/// What ran into the person with this unit when the device had moved so much: each part, and together all of it; and what
/// ran in through other lines.
FluidParts fluid_moved(const Session& session, Volume moved);

/// The person, as far as rules about observations need it.
Person person_of(const Session& session);
/// The last baseline before the start; null while there is none.
const ObservedSet* baseline_set(const Session& session);
/// The rules for a change that a set was judged by, and those in force now. The session has been opened.
const ChangeRules& rules_of(const Session& session, const ObservedSet& set);
const ChangeRules& rules_now(const Session& session);
/// Whether these are other rules than those in force: then what stands open is looked at by both.
bool judged_otherwise(const Session& session, const ObservedSet& set);
/// What changed from the baseline in a set, by the rules that were in force when it was taken. None where there is no
/// baseline to compare with, or the protocol has no rules for it.
std::optional<Change> change_of(const Session& session, const ObservedSet& set);
/// The same by given rules.
std::optional<Change> change_by(const Session& session, const ObservedSet& set, const ChangeRules& by);
/// Whether a set says hold and ask: by the rules that it was judged by, or by those in force.
bool asks_to_hold(const Session& session, const ObservedSet& set);
/// Everything that was seen at or after a moment, taken together: by the rules in force, and what the rules of its time
/// made of each set stays with it.
Change worst_since(const Session& session, Instant from);

/// When observations fall due after the reaction that is suspected, by the protocol's interval; none: none is suspected.
std::optional<Instant> observations_due(const Session& session);

/// Whether an item may be waived at all, and whether only by the emergency path.
bool can_be_waived(Item item);
bool only_in_emergency(Item item);
/// Whether nobody may say that it is not needed here: it is settled, or waived where that may be.
bool always_needed(Item item);
/// Whether it follows from other records and is never confirmed by hand.
bool comes_by_itself(Item item);
/// Whether it has to be settled before the unit is called for; the others before the start.
bool before_call(Item item);
ItemGroup group_of(Item item);

/// How an item stands at `at`: noted by hand, or following from what was recorded. What only a reckoning can tell
/// (`plan_fits`, and a match that has gone stale) counts as confirmed here and is judged by core/reckon/ready.hpp.
ItemState state_of(const Session& session, Item item, Instant at);
/// The first item that is open at `at`, of those before the call; or of all, before the start.
std::optional<Item> first_open(const Session& session, bool before_the_call, Instant at);

/// The steps of the match for this person under these rules; none where the protocol has no rules for it: then one
/// step, "done by the ward's own procedure", is all there is.
MatchScript script_of(const Session& session);
/// Whether the sample was waived by the emergency path: then there is no tag to compare the bag with.
bool is_emergency(const Session& session);
/// Whether it has to be noted, before the bag hangs, that groups and requirements fit or who decides it: where the
/// rules speak of it, and not for what was not seen from the beginning or is only rehearsed.
bool groups_needed(const Session& session);
/// What stands against hanging the bag as far as the match goes; none: it may hang.
std::optional<Refusal> match_forbids(const Session& session, Instant at);

/// The bag was hung before somebody joined, and has not been started: the match is made now, at the bedside.
bool match_comes_late(const Session& session);
/// The session as it begins its next unit, once this one is closed: what belongs to one unit begins again.
Session with_next_unit(const Session& session);

/// The latest moment at which the unit may go back to stock by minutes; none where the protocol has no such
/// limit or what it is counted from is not recorded.
std::optional<Instant> back_to_stock_until(const Session& session);

}  // namespace hangtime
