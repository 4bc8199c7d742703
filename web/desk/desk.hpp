#pragma once

/// All the sessions of this machine, between the store, which keeps their records, and the screens, which read what
/// follows from them and note what happens. Nothing here draws; every time that is noted or reckoned with is by the
/// clock that people chart by: the machine's, and the difference that was asked for once.

#include "core/reckon/live.hpp"
#include "core/report/fluid_total.hpp"
#include "core/session/record.hpp"
#include "web/store/session_store.hpp"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::desk {

/// One session on the desk.
struct Case {
    std::string key;
    Log log;
    std::uint64_t sum = first_sum;
    std::vector<Damage> damaged;          // records that are left out: then it is only read
    std::optional<Error> unreadable;      // nothing can be made of it; it is kept as it is
    Live live;                            // as of the last `reckon`
    bool stale = true;                    // the records have changed since they were read

    bool read_only() const { return unreadable || !damaged.empty(); }
    const Session& session() const { return log.session(); }
};

/// Why something was not noted.
struct NotNoted {
    std::optional<Refusal> refusal;  // by the log or the rules
    bool read_only = false;          // damaged, newer, or another window writes
};

/// Takes the records of one session in the place of its log, and may add others by itself: a rehearsal, whose world
/// answers. The desk then shows and keeps what stands in the log of this.
class Stage {
public:
    /// Noted by somebody at this desk. Nothing: it stands in the log now.
    virtual std::optional<Refusal> note(Event event) = 0;
    virtual const Log& log() const = 0;
    /// What somebody who looks at the person now would see.
    virtual Observation seen() const = 0;
    /// Whether it was noted at this desk, and not by the world or before it began: only that can be taken back.
    virtual bool noted_here(const Event& event) const = 0;

protected:
    ~Stage() = default;
};

/// What is rehearsed has a desk of its own, on the shelf for that: it shares nothing with the real one, not even the
/// difference of the clocks, because its clock is a simulated one.
class Desk final : public platform::Keeper {
public:
    explicit Desk(const std::vector<Protocol>& protocols, platform::Shelf shelf = platform::Shelf::real);
    Desk(const Desk&) = delete;
    Desk& operator=(const Desk&) = delete;

    /// Opens its shelf and hears from it directly; a guest that passes the calls on opens `store()` itself.
    void open() { store_.open(this); }
    bool rehearses() const { return store_.shelf() == platform::Shelf::rehearsal; }

    // --- From the platform, by itself or by way of the App ----------------------------------------------
    store::SessionStore& store() { return store_; }
    const store::SessionStore& store() const { return store_; }
    void store_state(platform::StoreState state, bool writer) override { store_.store_state(state, writer); }
    void record_found(std::string_view session, int n, std::string_view text) override;
    void records_complete() override { store_.records_complete(); }
    void session_gone(std::string_view session) override;
    void stored(std::string_view session, int n, platform::Stored outcome) override {
        store_.stored(session, n, outcome);
    }
    void removed(std::string_view session, platform::Stored outcome) override { store_.removed(session, outcome); }
    void removed(std::string_view session);
    /// "Clear this device" clears every shelf: to be called on each desk.
    void cleared();

    // --- Time --------------------------------------------------------------------------------------------
    /// What has to be added to the machine's clock; kept as a setting of this machine, and in each log.
    Seconds ahead() const { return ahead_; }
    bool ahead_known() const { return ahead_known_; }
    void set_ahead(Seconds ahead);
    Instant charted(Instant machine) const { return machine + ahead_; }
    /// The machine's clock moved against the one that never jumps. Put back: a machine does not sleep backwards, so the
    /// clock was set, and the charted time goes on as before (the difference takes it up). Forward: it was set, or the
    /// machine slept; the new time is taken, because then a limit looks nearer than it is and not further away. Either
    /// way it is asked about, and noted in every session that is open.
    void clock_jumped(Seconds by, Instant machine_now, const WallClock& wall);
    /// What is to be asked; none when nothing is. `stays`: the charted time goes on as if the clock had not jumped.
    std::optional<Seconds> jump() const { return jump_; }
    bool jump_stays() const { return jump_stays_; }
    void answer_jump(bool stays, Instant machine_now, const WallClock& wall);
    /// The machine slept: the time went on, which is taken as it is, noted in every session that is open, and said.
    void slept(Seconds by, Instant machine_now, const WallClock& wall);
    /// What is said about it, until a record is noted after it; empty: nothing.
    std::string sleep_text() const;

    // --- Sessions ------------------------------------------------------------------------------------------
    /// Reads what came from the store, reckons every session at `machine_now`, and removes finished sessions whose
    /// keep time is over. Call once a frame, before anything is shown.
    void reckon(Instant machine_now, const WallClock& wall);
    const std::vector<std::unique_ptr<Case>>& cases() const { return cases_; }
    Case* find(std::string_view key);
    /// Opens a session with the first object that no other one has; null where nothing may be written.
    Case* open(std::size_t protocol, Instant machine_now, const WallClock& wall, bool joined);

    /// A session of the stage's, instead of the one before; null where nothing may be written. The stage must stay
    /// until `leave_stage`.
    Case* stage(Stage& stage, Instant now);
    /// The stage has added something, or time has passed there.
    void stage_moved(Instant now);
    /// What is to be observed now; of real people nothing is known here.
    std::optional<Observation> seen(const Case& c) const {
        return stage_ && c.key == staged_ ? std::optional(stage_->seen()) : std::nullopt;
    }
    /// False of what happened by itself in a rehearsal.
    bool may_take_back(const Case& c, const Event& e) const {
        return !stage_ || c.key != staged_ || stage_->noted_here(e);
    }
    /// What was on the stage is only read from now on.
    void leave_stage() { stage_ = nullptr; }

    /// Notes that something happened at `at` (by the charted clock). Nothing: it is noted, and on its way to the store.
    std::optional<NotNoted> note(Case& c, EventKind kind, Facts facts, Stated at, Instant machine_now,
                                 std::vector<std::int32_t> replaces = {});
    /// The same, now, to the second.
    std::optional<NotNoted> note_now(Case& c, EventKind kind, Facts facts, Instant machine_now);
    /// Takes the last record back that was noted here (a record of its own); what can be undone, or nothing.
    std::optional<NotNoted> undo(Case& c, Instant machine_now);
    const Event* last_to_undo(const Case& c) const;

    void remove(std::string_view key);
    std::string file_of(const Case& c) const { return write_log(c.log); }
    /// What came of a file: where another session has its object, the log gets the next free one. The link to another
    /// session of the machine that it came from is taken out: here another person may have that object.
    struct Imported {
        std::string key;
        SpokenObject object{};
        std::optional<SpokenObject> was; // its object there
        bool unlinked = false;
    };
    /// A log from a file, as a session of its own. Its first error, where it cannot be: a rehearsal is never taken among
    /// the real ones.
    Result<Imported> import(std::string_view text);

    /// The sessions of other lines into the same recipient: what is linked to it, and what is linked to that.
    std::vector<Case*> other_lines(const Case& c) const;
    /// The same, for what all the fluid adds up to.
    std::vector<FluidBeside> beside(const Case& c) const;
    /// What runs into the same recipient through another session.
    Rate other_line(const Case& c) const;
    /// The earliest moment (by the machine's clock) at which anything comes out differently.
    std::optional<Instant> next_change() const;
    const std::vector<Protocol>& protocols() const { return protocols_; }

private:
    void read_again(Case& c);
    void catch_up(Case& c);
    void share_reaction(const Case& c, Instant at, Instant machine_now);
    void note_clock(Seconds jumped, Instant machine_now, const WallClock& wall);
    Case& case_of(std::string_view key);
    std::optional<SpokenObject> free_object(std::optional<SpokenObject> but = {}) const;

    const std::vector<Protocol>& protocols_;
    store::SessionStore store_;
    std::vector<std::unique_ptr<Case>> cases_;
    Seconds ahead_{};
    bool ahead_known_ = false;
    Stage* stage_ = nullptr;
    std::string staged_; // the session of the stage
    std::optional<Seconds> jump_;
    bool jump_stays_ = false;
    std::optional<Seconds> slept_;
};

} // namespace hangtime::desk
