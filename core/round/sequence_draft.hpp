#pragma once

/// A sequence while it is being entered: anything may still be missing. It is written as a sequence file and read by
/// the reader of these, so that an entry meets the same checks and the same sentences as a file.

#include "core/protocol/protocol.hpp"
#include "core/round/sequence.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::rounds {

struct SequenceDraftUnit {
    std::optional<Component> component;
    std::optional<std::int64_t> bag_tenths;    // of a mL
    std::optional<std::int64_t> within_min;    // the order's, from the start
    friend bool operator==(const SequenceDraftUnit&, const SequenceDraftUnit&) = default;
};

struct SequenceDraft {
    WallClock wall;
    std::optional<Instant> first_start, over_by;
    std::optional<std::int64_t> weight_tenths;       // of a kg
    Answer overload_risk = Answer::not_recorded, can_report = Answer::not_recorded;
    std::optional<std::int64_t> other_line_tenths;   // of a mL/h
    // A set that is in use already.
    std::optional<Instant> set_hung;
    std::optional<std::int64_t> set_units;
    std::optional<Component> set_first, set_last;    // of what it has carried
    std::optional<std::int64_t> ready_min, transport_min;
    std::vector<SequenceDraftUnit> units;
};

/// Two units; the first starts at the next quarter of an hour that the protocol's call allows.
SequenceDraft new_sequence_draft(Instant now, const WallClock& wall);

/// What `read_sequence` reads. Times are told with their offset.
std::string draft_text(const SequenceDraft& draft, const Protocol& protocol);

/// A draft as it was kept, whatever was missing in it; and the id of the protocol that it was made for.
struct KeptSequenceDraft {
    std::string protocol;
    SequenceDraft draft;
};
/// Reads what `draft_text` writes. Only what is missing is taken as not entered yet; all else is refused.
Result<KeptSequenceDraft> read_sequence_draft(std::string_view json);

}  // namespace hangtime::rounds
