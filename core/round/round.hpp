#pragma once

/// A round: several planned transfusions and the nurses who give them. Read from a file by
/// core/round/read.cpp (the format is described in core/round/round.schema.json), turned into a problem by
/// core/round/options.cpp, solved by core/round/solver.hpp. Nurses are roles ("Nurse 1"), transfusions are
/// told apart by their drawn objects; there is no place for a name.
///
/// How a screen uses it: read (or build) a Round, take `options_of` it once, keep a Solver on its problem and
/// `step` it with a few hundred nodes a frame, or in the Worker; lanes are the transfusions, walls their
/// windows; dragged to another start, leave only the options with that start and solve again.

#include "core/round/problem.hpp"
#include "core/protocol/protocol.hpp"
#include "core/result.hpp"
#include "core/session/objects.hpp"
#include "core/session/state.hpp"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::rounds {

/// A stretch of time; `to` is not in it.
struct Stretch {
    Instant from, to;
};

struct NursePlan {
    std::vector<Stretch> hours;      // in order, apart
    std::vector<Stretch> breaks;     // she does nothing; somebody else may
    std::vector<Stretch> handovers;  // likewise, and no check of her transfusions falls due
};

/// What has happened to a transfusion already, where the rest of a day is planned again.
struct Happened {
    std::optional<Instant> issued, started;
    int nurse = -1;                   // who started it
    Seconds paused{};                 // so far: the end moves by it, no limit does
    std::optional<Instant> reaction;  // stopped for good; her nurse stays, what follows it is withdrawn
    Seconds reaction_takes{};
};

struct PlannedTransfusion {
    SpokenObject object{};
    State state;                      // without times
    int weight = 1;                   // of its finish in what is optimised
    Instant call_earliest, call_latest;
    Seconds ready{}, transport{};     // from the call to issue; from issue to the ward
    // Another one, above it, for the same person; at most one of these is given. See core/round/persons.hpp.
    int follows = -1;                 // the one before it
    int same_person = -1;             // never at the same time, in whichever order
    int beside = -1;                  // over a second line: the two may run at the same time and share the ceiling
    std::optional<Instant> promised_start;
    int promised_nurse = -1;
    Happened happened;
};

struct Round {
    std::string protocol;
    WallClock wall;
    std::optional<Instant> now;       // nothing is planned before it
    Instant from, until;              // nothing of the round is outside, the checks after the end included
    bool second_from_round = false;   // the match's second person is another nurse of this round
    Priority priority = Priority::finish;
    std::vector<NursePlan> nurses;
    std::vector<PlannedTransfusion> transfusions;
};

/// The id of the protocol that a round file asks for.
Result<std::string> read_round_protocol_id(std::string_view json);

/// All of a round file, or the first thing that is wrong with it: where, what, and what would be accepted.
Result<Round> read_round(std::string_view json, const Protocol& protocol);

/// Where a transfusion stands; those that are over or withdrawn are not in the problem.
enum class Place : std::uint8_t { open, running, over, withdrawn };

/// When each option's blood is issued, and what kind each of its checks is, beside the problem.
struct OptionDetail {
    Instant issued, start, all_in;
    std::vector<Instant> due;         // of each check
    std::vector<CheckKind> kinds;
    Instant finish_by;
    Rate most{};                      // the highest rate of its plan
};

struct RoundOptions {
    Problem problem;
    std::vector<Job> jobs;                            // before hand-overs say who may not have which start
    std::vector<int> transfusion;                     // of each job
    std::vector<Apart> apart;                         // of jobs
    std::vector<std::vector<OptionDetail>> details;   // of each option of each job
    std::vector<Place> standing;                  // of each transfusion
};

/// Which demands are kept; all of them unless a conflict is looked for.
struct Kept {
    std::vector<bool> transfusions;                    // empty: all
    std::vector<bool> hours;                           // of each nurse
    std::vector<std::vector<bool>> breaks, handovers;
    bool second = true;
};

/// Every start on the grid at which a transfusion fits: for each, what `reckon` says of it, with the bag
/// issued as late as its windows allow.
RoundOptions options_of(const Protocol& protocol, const Round& round);

/// The same with some demands left out; `base` is what `options_of` gave.
Problem with_demands(const Round& round, const RoundOptions& base, const Kept& kept);

/// One thing that a round asks for.
struct Demand {
    enum class Kind : std::uint8_t { transfusion, hours, nurse_break, handover, second } kind{};
    int index = -1;     // of the transfusion or the nurse
    int part = -1;      // of her breaks or hand-overs
    friend bool operator==(const Demand&, const Demand&) = default;
};

/// A set of demands that cannot all be kept, and from which none can be taken without the rest being
/// possible.
struct Conflict {
    std::vector<Demand> demands;
    bool smallest = false;  // proven: no smaller set clashes; else only minimal
    bool complete = false;  // false: the budget ran out, and the set may be larger than it has to be
};

/// Looks for the smallest set of demands that clash in a round that has no answer. `most_nodes` bounds the
/// work.
class ConflictSearch {
public:
    /// Keeps references to both.
    ConflictSearch(const Round& round, const RoundOptions& options, std::int64_t most_nodes);
    ~ConflictSearch();
    ConflictSearch(ConflictSearch&&) noexcept;
    ConflictSearch& operator=(ConflictSearch&&) noexcept;

    /// About `nodes` more. What is found does not depend on how the work is cut.
    void step(std::int64_t nodes);
    bool done() const;
    const Conflict& found() const;  // once it is done

private:
    struct State;
    std::unique_ptr<State> state_;
};

/// All of it at once.
Conflict find_conflict(const Round& round, const RoundOptions& options, std::int64_t most_nodes);

}  // namespace hangtime::rounds
