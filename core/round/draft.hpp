#pragma once

/// A round while it is being entered: anything may still be missing. It is written as a round file and read by
/// the reader of round files, so that an entry meets the same checks and the same sentences as a file.

#include "core/protocol/protocol.hpp"
#include "core/result.hpp"
#include "core/round/round.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::rounds {

struct DraftStretch {
    std::optional<Instant> from, until;
    bool empty() const { return !from && !until; }
};

struct DraftNurse {
    DraftStretch hours;
    DraftStretch rest[2];      // breaks; empty ones are left out
    DraftStretch handover[2];
};

/// What has happened to it already, as far as it was entered.
struct DraftHappened {
    std::optional<Instant> issued, started;
    std::optional<int> nurse;                   // from 0
    std::optional<std::int64_t> paused_min;     // so far
    std::optional<Instant> reaction;
    std::optional<std::int64_t> reaction_takes_min;
    bool any() const { return issued || started || reaction || paused_min; }
    friend bool operator==(const DraftHappened&, const DraftHappened&) = default;
};

/// How a transfusion stands to another one for the same person (core/round/persons.hpp).
enum class PersonLink : std::uint8_t { follows, same_person, beside };

struct DraftTransfusion {
    SpokenObject object{};
    std::optional<Component> component;
    std::optional<std::int64_t> bag_tenths;     // of a mL
    std::optional<std::int64_t> weight_tenths;  // of a kg
    Answer overload_risk = Answer::not_recorded, can_report = Answer::not_recorded;
    std::optional<std::int64_t> within_min;     // the order's, from the start
    std::optional<std::int64_t> weight;         // of its finish; none: 1
    std::optional<Instant> earliest, latest;    // of the call
    std::optional<std::int64_t> ready_min, transport_min;  // of the blood bank; none: the rules'
    std::optional<std::int64_t> other_line_tenths;         // of a mL/h, into the same person
    std::optional<std::int64_t> most_tenths;               // of a mL/h: the order's highest rate
    std::optional<SpokenObject> person_of;      // another one, above it: the person's own entries are then that one's
    PersonLink link = PersonLink::follows;
    std::optional<Instant> promised_start;
    int promised_nurse = -1;
    DraftHappened happened;
};

struct Draft {
    WallClock wall;
    std::optional<Instant> from, until;
    std::optional<Instant> now;        // nothing is planned before it
    bool second_from_round = false;
    bool promise_first = false;        // the fewest changes first
    std::vector<DraftNurse> nurses;
    std::vector<DraftTransfusion> transfusions;
};

/// One nurse and one transfusion, from the next whole hour for eight hours.
Draft new_draft(Instant now, const WallClock& wall);
/// The one whose entries about the person count for this one: the first of those that are for the same person.
const DraftTransfusion& person_entries(const Draft& draft, const DraftTransfusion& transfusion);
/// After `gone` was taken out of the draft: those that were for the same person still are.
void leave_to_the_others(Draft& draft, const DraftTransfusion& gone);
/// With an object that no other one has.
DraftTransfusion new_transfusion(const Draft& draft);

/// A draft as it was kept, whatever was missing in it; and the id of the protocol that it was made for.
struct KeptDraft {
    std::string protocol;
    Draft draft;
};
/// Reads what `draft_text` writes. Only what is missing is taken as not entered yet; all else is refused.
Result<KeptDraft> read_draft(std::string_view json);

/// The plan stands: its starts and nurses are promised from now on, by transfusion (-1: it has none, and nothing is
/// promised).
struct Promise {
    std::optional<Instant> start;
    int nurse = -1;
};
void promise(Draft& draft, const std::vector<Promise>& promises);

/// What `read_round` reads. Times are told with their offset.
std::string draft_text(const Draft& draft, const Protocol& protocol);

}  // namespace hangtime::rounds
