#pragma once

/// What is kept of each session, and how far: between the program, which notes events, and the platform's store,
/// which may refuse, be full, break, or belong to another window for the time being.
///
/// Use: `open` once; pass on each of the platform's calls that has the same name here; `append` each event and
/// show it as saved only when `standing(session).saved` has reached its number; call `tick` in each frame and come
/// again after `retry_in`. A record is an opaque text; none is ever changed.

#include "web/platform/platform.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::store {

/// What the screen has to say about the store as a whole.
enum class Mode : std::uint8_t {
    opening,   // nothing is known yet: no session can be begun or gone on with
    durable,
    read_only, // another window writes
    memory,    // no store: everything is gone when the page is closed
    newer,     // likewise, and there is one of a newer version, which is left alone
};

/// What came of a record that arrived from the store.
enum class Found : std::uint8_t {
    fresh,     // to be added to the session; the records missing before it, if any, are empty texts
    known,
    displaced, // this window had noted something else under this number, which was never saved: read it all again
    stray,     // its number can't be right; it is left where it is
    too_much,  // the page has no room for its session, which stays in the store as it is
};

struct Standing {
    int last = 0;  // the number of the last record that was noted
    int saved = 0; // all records up to this one are on the disk
    bool gone = false; // was saved, and nothing of it is in the store any more
    /// Why the next one is not saved; `saved` while nothing went wrong.
    platform::Stored trouble = platform::Stored::saved;
};

class SessionStore {
public:
    static constexpr int most_missing = 1000; // in a row, before a number is taken for damage

    /// What all sessions together may take of the page's memory, in bytes. The page has 64 MB and cannot get more; up to
    /// 20 MB are pixels, and a log that comes in stands there twice for a moment. Estimates, on the safe side: a record takes
    /// its text and `record_bytes`, a session `session_bytes` beside that (its protocol and what is reckoned of it).
    static constexpr std::size_t memory = 24 << 20, memory_rehearsed = 6 << 20;
    static constexpr std::size_t record_bytes = 700, session_bytes = 150'000;

    explicit SessionStore(platform::Shelf shelf = platform::Shelf::real)
        : shelf_(shelf), memory_(shelf == platform::Shelf::real ? memory : memory_rehearsed) {}

    /// For tests: another budget.
    void set_memory(std::size_t bytes) { memory_ = bytes; }
    /// What the sessions take.
    std::size_t held() const;
    /// Whether a session of so many records can come in. What is noted by hand is never asked about.
    bool has_room(std::size_t text_bytes, std::size_t records) const;
    /// Whether it is in the store and not here, because there was no room.
    bool left_out(std::string_view session) const;

    /// `keeper` hears what the store has to say, and passes it on; null: the guest. It must stay.
    void open(platform::Keeper* keeper = nullptr) { platform::open_store(shelf_, keeper); }
    void take_over() { platform::take_over(shelf_); }
    platform::Shelf shelf() const { return shelf_; }

    // --- From the platform ---
    void store_state(platform::StoreState state, bool writer);
    Found record_found(std::string_view session, int n, std::string_view text);
    void records_complete() { complete_ = true; }
    void session_gone(std::string_view session);
    void stored(std::string_view session, int n, platform::Stored outcome);
    void removed(std::string_view session, platform::Stored outcome);
    void cleared();

    // --- From the program ---

    /// Notes a record and sends it; its number, or 0 where nothing may be noted (`may_write` is false).
    int append(std::string_view session, std::string_view text);
    /// Forgets a session at once, and removes it from the store; tried again until it is gone there.
    void remove(std::string_view session);
    /// A session that is `gone` from the store is wanted all the same: it is written there again, from memory.
    void keep(std::string_view session);
    /// Somebody has made room, or wants it tried now.
    void retry();
    void tick();
    /// Milliseconds until `tick` has something to do; -1: nothing.
    std::int64_t retry_in() const;

    // --- For the screen ---
    Mode mode() const;
    bool may_write() const { return mode() == Mode::durable || mode() == Mode::memory || mode() == Mode::newer; }
    platform::StoreState state() const { return state_; }
    Standing standing(std::string_view session) const;
    /// How long the oldest record that is not saved has waited; 0: none waits. Worth a word from about a second.
    std::int64_t unsaved_for_ms(std::string_view session) const;
    /// Records of all sessions that are not on the disk.
    int unsaved() const;
    /// The records from 1; valid until the session changes. Also what a file of it holds.
    const std::vector<std::string>* records(std::string_view session) const;
    std::vector<std::string> sessions() const;

private:
    struct Session {
        std::vector<std::string> texts;
        std::size_t bytes = 0; // of the texts
        int saved = 0;
        int sent = 0;  // the last one that is on its way, or `saved`
        bool gone = false;
        platform::Stored trouble = platform::Stored::saved;
        std::int64_t waits_since = 0; // of the first that is not saved

        int last() const { return static_cast<int>(texts.size()); }
    };

    void send(const std::string& key, Session& session);
    void send_all();
    void failed(Session& session, platform::Stored outcome);
    void plan_retry();

    platform::Shelf shelf_;
    std::map<std::string, Session, std::less<>> sessions_;
    std::vector<std::string> to_remove_; // not yet gone from the store
    std::vector<std::string> left_out_;
    std::size_t memory_;
    platform::StoreState state_ = platform::StoreState::opening;
    bool writer_ = false, complete_ = false;
    int failures_ = 0; // in a row
    std::optional<std::int64_t> retry_at_;
};

} // namespace hangtime::store
