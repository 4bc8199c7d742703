#pragma once

/// A rehearsal as it is played on the screens of a session: a core/rehearse run on a simulated clock, and the desk
/// that shows its log. The clock runs at 1 to 240 times, stands, and jumps to what is due next; it stops by itself
/// where something happens that somebody would notice, and goes on at the speed of a real one, so that nobody is late
/// because the clock was fast.
///
/// Use: `begin`; `tick` before each picture; show `said()` until it was `heard`; `end` when the learner has finished.
/// What it was given is kept until it is left (`kept`); after a reload `go_on` makes it again as it stood.

#include "core/rehearse/run.hpp"
#include "core/rehearse/scenario.hpp"
#include "web/desk/desk.hpp"
#include "web/rehearse/kept.hpp"

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace hangtime::rehearse {

/// Times the real clock.
inline constexpr std::array<int, 5> speeds = {1, 5, 15, 60, 240};

/// Something that is said aloud, on a card of its own, while the clock stands.
struct Spoken {
    Instant at{};
    std::string text;
    bool question = false; // for a talk, not part of the case
};

class Scene final : private desk::Stage {
public:
    explicit Scene(desk::Desk& desk) : desk_(desk) {}
    Scene(const Scene&) = delete;
    Scene& operator=(const Scene&) = delete;

    /// False where nothing may be written on the shelf. What was rehearsed before is removed from it.
    bool begin(std::shared_ptr<const Scenario> scenario, std::int32_t seed, std::int64_t now_ms);
    /// The one that is kept, at the moment at which it was left: its clock stands. `scenario` is read of the first text of
    /// what is kept. Why not, where that cannot be; then nothing is kept any more.
    std::optional<Error> go_on(std::shared_ptr<const Scenario> scenario, std::int64_t now_ms);
    /// The rest of its time passes; then nothing can be noted any more, and the log stays to be looked at.
    void end();
    /// Nothing of it is kept.
    void leave();
    /// Nor of what a page that was closed has left.
    void drop_left();
    /// What a page that was closed has left, and what is kept of this one.
    Kept& kept() { return kept_; }

    bool on() const { return rehearsal_ != nullptr; }
    bool ended() const { return ended_; }
    const Scenario& scenario() const { return *scenario_; }
    std::shared_ptr<const Scenario> shared_scenario() const { return scenario_; }
    const Rehearsal& rehearsal() const { return *rehearsal_; }
    const std::string& key() const { return key_; }
    Instant now() const { return rehearsal_ ? rehearsal_->now() : Instant{}; }

    // --- the clock ---
    int speed() const { return speed_; }
    void set_speed(int times, std::int64_t now_ms);
    bool stands() const { return paused_ || !said_.empty() || ended_; }
    bool paused() const { return paused_; }
    void set_paused(bool paused, std::int64_t now_ms);
    /// Moves the simulated clock to where it is at `now_ms`. True where something happened or was said.
    bool tick(std::int64_t now_ms);
    /// The next moment at which something is due or happens; none: nothing is ahead.
    std::optional<Instant> next_due() const;
    void jump(std::int64_t now_ms);
    /// Until the picture is out of date; -1: it never is, the clock stands.
    std::int64_t wake_ms() const;

    // --- what happens ---
    const Spoken* said() const { return said_.empty() ? nullptr : &said_.front(); }
    void heard(std::int64_t now_ms);
    /// All that was said so far, the latest last.
    const std::vector<Spoken>& history() const { return history_; }
    Observation signs() const { return rehearsal_->signs_now(); }

    // --- the educator ---
    void inject(Happening happening, std::int64_t now_ms);
    void discuss(std::string question);

private:
    std::optional<Refusal> note(Event event) override;
    const Log& log() const override { return rehearsal_->log(); }
    Observation seen() const override { return rehearsal_->signs_now(); }
    bool noted_here(const Event& event) const override;
    void move_to(Instant at);
    bool take(std::shared_ptr<const Scenario> scenario, std::int32_t seed, std::int64_t now_ms);
    void keep_moment(std::int64_t now_ms);
    void tell();
    void say(Spoken spoken);

    desk::Desk& desk_;
    Kept kept_{desk_.store()};
    std::shared_ptr<const Scenario> scenario_;
    std::unique_ptr<Rehearsal> rehearsal_;
    std::string key_;
    std::int32_t first_own_ = 1;  // number of the first record that can be the learner's
    std::size_t told_ = 0;        // of the rehearsal's, that were looked at
    std::vector<Spoken> said_, history_;
    bool paused_ = false, ended_ = false;
    int speed_ = 1;
    std::int64_t last_ms_ = 0;
    std::int64_t rest_ms_ = 0;    // of a simulated second
    Instant kept_at_{};           // the last moment that was kept, and when, by the clock that never jumps
    std::int64_t kept_ms_ = 0;
};

/// What is said when this happens; empty: nobody would notice by themselves. `bag`: what stands in the log of it.
std::string spoken_text(const Happening& happening, const facts::Issued* bag);

} // namespace hangtime::rehearse
