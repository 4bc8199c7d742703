#pragma once

/// A round on its way to an answer, a slice at a time: nothing here takes longer than a slice, so that the page
/// never waits. Draws nothing.

#include "core/plan/round_sheet.hpp"
#include "core/plan/round_trial.hpp"
#include "core/round/kept_plan.hpp"
#include "core/round/round.hpp"
#include "core/round/solver.hpp"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace hangtime::screens {

class RoundPlan {
public:
    /// `protocol` must outlive it, and has rules for rounds.
    RoundPlan(const Protocol& protocol, rounds::Round round);
    RoundPlan(const RoundPlan&) = delete;
    RoundPlan& operator=(const RoundPlan&) = delete;

    const Protocol& protocol() const { return protocol_; }
    const rounds::Round& round() const { return round_; }
    const rounds::RoundOptions& options() const { return options_; }
    std::size_t jobs() const { return options_.jobs.size(); }
    const rounds::PlannedTransfusion& transfusion(std::size_t job) const {
        return round_.transfusions[static_cast<std::size_t>(options_.transfusion[job])];
    }

    // --- the work ---
    enum class Work : std::uint8_t { solving, explaining, none };
    Work work() const { return work_; }
    /// About `nodes` more.
    void step(std::int64_t nodes);
    void cancel() { work_ = Work::none; }
    void go_on();  // after a cancel

    // --- the answer ---
    const std::optional<rounds::Schedule>& schedule() const { return schedule_; }
    const rounds::Progress& progress() const { return progress_; }
    const std::optional<rounds::Conflict>& conflict() const { return conflict_; }
    /// The best that was found with nothing held; none before there is one.
    const std::optional<rounds::Cost>& best() const { return best_; }
    bool by_hand() const { return by_hand_; }
    /// What the clash is with: starts that are held.
    bool held(std::size_t job) const { return slots_[job] >= 0; }
    bool any_held() const;
    /// How many transfusions stand otherwise than before `arrange`; 0 where nothing was arranged.
    int moved() const { return moved_; }

    // --- another start ---
    /// Looked at only; nothing is changed by it.
    void try_at(std::size_t job, int slot);
    void stop_trying() { tried_.reset(); }
    struct Tried {
        std::size_t job = 0;
        int slot = 0;
        RoundTrial result;
    };
    const std::optional<Tried>& tried() const { return tried_; }
    /// All others stay. Only where nothing breaks.
    void take();
    /// It is held there, and the others are arranged round it.
    void arrange();
    /// Lets one go, or all, and plans again.
    void let_go(std::size_t job);
    void let_all_go();

    // --- over a reload of the page ---
    /// What was moved by hand or is held; none where nothing is.
    std::optional<rounds::KeptPlan> kept() const;
    /// Takes it up where it goes with this round, and leaves all as it is where it does not.
    void take_up(const rounds::KeptPlan& kept);

    int slot_of(std::size_t job) const;  // -1: no start yet
    const rounds::OptionDetail* detail(std::size_t job) const;
    RoundResult result() const;

private:
    void solve();
    rounds::RoundOptions rounds_held() const;

    const Protocol& protocol_;
    rounds::Round round_;
    rounds::RoundOptions options_, held_;
    std::vector<int> slots_;
    std::optional<rounds::Solver> solver_;
    std::optional<rounds::ConflictSearch> search_;
    Work work_ = Work::none;
    rounds::Progress progress_;
    std::optional<rounds::Schedule> schedule_, before_;
    std::optional<rounds::Conflict> conflict_;
    std::optional<rounds::Cost> best_;
    std::optional<Tried> tried_;
    bool by_hand_ = false;
    int moved_ = 0;
};

} // namespace hangtime::screens
