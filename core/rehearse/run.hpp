#pragma once

/// A rehearsal as it runs: the same log, the same fold and the same refusals as a real session, on a simulated clock,
/// beside a world that does what the scenario says. The log is opened as a rehearsal, so that everything made of it
/// says so. Deterministic: the same scenario, seed and actions give the same log, natively and in WebAssembly.
///
/// A screen makes one `Rehearsal`, moves its clock with `advance_to` (at whatever pace, or straight to
/// `next_happening` or the reckoning's `next_change`), gives it the learner's records with `act`, and shows what was
/// `told`. When the learner takes observations, `signs_now` is what they see.

#include "core/reckon/live.hpp"
#include "core/rehearse/actions.hpp"

#include <optional>
#include <vector>

namespace hangtime {

/// Something that has happened, and what the log said to the record that it left.
struct Told {
    std::size_t happening = 0;               // index into the scenario's
    Instant at{};
    std::optional<std::int32_t> record;      // its number in the log
    std::optional<Refusal> refused;          // it was not taken: the wrong component, say
};

/// What the learner tried and the log refused.
struct Tried {
    Event event;
    Refusal refusal{};
};

class Rehearsal {
public:
    /// The scenario is kept by reference. Its protocol is there.
    Rehearsal(const Scenario& scenario, std::int32_t seed);

    Instant now() const { return now_; }
    Instant ends() const { return scenario_.begins + scenario_.lasts; }
    bool over() const { return now_ >= ends(); }
    const Scenario& scenario() const { return scenario_; }
    std::int32_t seed() const { return seed_; }
    const Log& log() const { return log_; }
    const std::vector<Told>& told() const { return told_; }
    const std::vector<Tried>& tried() const { return tried_; }

    /// When the next thing happens, as far as it can be told now: what the learner does can change it.
    std::optional<Instant> next_happening() const;

    /// Moves the clock on, never beyond the end and never back; what happens on the way happens.
    void advance_to(Instant at);

    /// The learner's record, now. Observations are filled with what is seen.
    std::optional<Refusal> act(Event event);

    /// The learner's record as a screen makes it, with the time that it states. Of observations that record nothing
    /// it is known that they were taken: they are filled with what was to be seen then.
    std::optional<Refusal> note(Event event);

    /// What would be seen if somebody looked now.
    Observation signs_now() const { return signs_at(now_); }

    /// Something from outside the scenario: an educator's, say.
    void inject(Happening happening);
    /// Of `told`: the scenario's happenings, and behind them those from outside.
    const Happening& happening(std::size_t i) const;

private:
    struct Pending { Instant at{}; std::size_t happening = 0; };
    std::optional<Pending> next() const;
    std::optional<Instant> moment_of(std::size_t happening) const;
    std::optional<Instant> moment_of(const Trigger& trigger) const;
    void happen(std::size_t happening, Instant at);
    Observation signs_at(Instant at) const;
    void put(Event event, Instant at);
    std::optional<Refusal> add(Event event);

    const Scenario& scenario_;
    std::int32_t seed_;
    Instant now_;
    Log log_;
    std::vector<Told> told_;
    std::vector<Tried> tried_;
    std::vector<Happening> injected_;
    std::vector<Instant> injected_at_;
};

/// What is wrong with a scenario whose beginning is no legal log; only where `tried()` says so before anybody acted.
Error problem_at_the_beginning(const Rehearsal& begun);

/// A rehearsal from its beginning to its end with a list of actions. `not_reached`: those at the end of the list that
/// were never come to, because what they wait for did not happen in time.
struct Played {
    std::unique_ptr<Rehearsal> rehearsal;
    std::size_t not_reached = 0;
};
Played play(const Scenario& scenario, std::int32_t seed, const Actions& actions);

/// A number from -most to most that a seed and two salts settle.
std::int64_t varied(std::int32_t seed, std::uint64_t salt, std::uint64_t more, std::int64_t most);

}  // namespace hangtime
