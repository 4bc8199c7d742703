#ifndef __EMSCRIPTEN__

#include "web/platform/store_twin.hpp"

#include "web/platform/clock_watch.hpp"
#include "web/platform/platform_twin.hpp"

#include <array>
#include <deque>
#include <functional>
#include <set>

namespace hangtime::platform {

Guest* twin_guest = nullptr; // set by run

namespace {

struct Write {
    enum class Kind { append, remove, clear } kind;
    Shelf shelf = Shelf::real;
    std::string session;
    int n = 0;
    std::string text;
};

struct ShelfTwin {
    twin::Disk disk;
    StoreState on_opening = StoreState::open, state = StoreState::opening;
    bool other_writes = false, writer = false, opened = false;
    std::set<std::pair<std::string, int>> known;
    Keeper* keeper = nullptr; // null: the guest

    Keeper& heard_by() const { return keeper ? *keeper : *twin_guest; }
};

struct StoreTwin {
    std::array<ShelfTwin, shelf_count> shelves;
    std::deque<Write> writes;
    std::deque<std::function<void()>> news; // each calls the guest once
    Stored ending = Stored::saved;
    int endings = 0;
    ClockWatch watch;
    bool hidden = false, sound = false, touched = false;
    unsigned keys = 0;
    twin::Told told;
    std::vector<twin::ChosenFile> files; // of many, those that were chosen
    std::size_t next_file = 0;
    int file_turn = 0; // what is under way from an earlier choice comes to nothing
} state;

ShelfTwin& on(Shelf shelf) {
    return state.shelves[static_cast<std::size_t>(shelf)];
}

void set(ShelfTwin& at, StoreState now, bool writer) {
    if (now == at.state && writer == at.writer)
        return;
    at.state = now, at.writer = writer;
    state.news.push_back([&at, now, writer] { at.heard_by().store_state(now, writer); });
}

void refresh(ShelfTwin& at) {
    for (const auto& [id, text] : at.disk)
        if (at.known.insert(id).second)
            state.news.push_back([&at, id = id, text = text] {
                at.heard_by().record_found(id.first, id.second, text);
            });
    std::set<std::string> there, gone;
    for (const auto& [id, text] : at.disk)
        there.insert(id.first);
    for (auto id = at.known.begin(); id != at.known.end();) {
        if (at.disk.contains(*id)) {
            ++id;
            continue;
        }
        if (!there.contains(id->first))
            gone.insert(id->first);
        id = at.known.erase(id);
    }
    for (const std::string& session : gone)
        state.news.push_back([&at, session] { at.heard_by().session_gone(session); });
}

void connect(ShelfTwin& at) {
    if (at.on_opening != StoreState::open)
        return set(at, at.on_opening, false);
    refresh(at);
    state.news.push_back([&at] { at.heard_by().records_complete(); });
    set(at, StoreState::open, !at.other_writes);
}

// What the browser's side decides inside the transaction.
Stored attempt(const Write& write) {
    ShelfTwin& at = on(write.shelf);
    if (at.state != StoreState::open)
        return at.state == StoreState::lost || at.state == StoreState::opening ? Stored::lost : Stored::refused;
    if (!at.writer)
        return Stored::not_writer;
    if (state.endings > 0) {
        --state.endings;
        return state.ending;
    }
    if (write.kind == Write::Kind::remove) {
        std::erase_if(at.disk, [&](const auto& row) { return row.first.first == write.session; });
        std::erase_if(at.known, [&](const auto& id) { return id.first == write.session; });
        return Stored::saved;
    }
    if (write.n > 1 && !at.disk.contains({write.session, write.n - 1}))
        return Stored::gap;
    const auto [row, fresh] = at.disk.try_emplace({write.session, write.n}, write.text);
    if (!fresh && row->second != write.text)
        return Stored::conflict;
    at.known.insert({write.session, write.n});
    return Stored::saved;
}

void answer(const Write& write, Stored outcome) {
    ShelfTwin& at = on(write.shelf);
    if (write.kind == Write::Kind::append)
        state.news.push_back([&at, write, outcome] { at.heard_by().stored(write.session, write.n, outcome); });
    if (write.kind == Write::Kind::remove)
        state.news.push_back([&at, write, outcome] { at.heard_by().removed(write.session, outcome); });
}

void clear() {
    Left left;
    for (ShelfTwin& at : state.shelves) {
        // One that was never opened is on the disk all the same.
        if (at.opened ? at.state == StoreState::open : at.on_opening == StoreState::open)
            at.disk.clear();
        else
            left.records = -1;
        at.known.clear();
    }
    state.sound = false;
    twin::clear_settings();
    state.news.push_back([left] { twin_guest->cleared(left); });
}

} // namespace

void open_store(Shelf shelf, Keeper* keeper) {
    ShelfTwin& at = on(shelf);
    at.keeper = keeper;
    if (at.opened)
        return;
    at.opened = true;
    state.news.push_back([&at] { connect(at); });
}
void try_store(Shelf shelf) {
    ShelfTwin& at = on(shelf);
    if (!at.opened)
        return;
    if (at.state == StoreState::open)
        refresh(at);
    else if (at.state != StoreState::opening)
        connect(at);
}
void append(std::string_view session, int n, std::string_view text, Shelf shelf) {
    state.writes.push_back({Write::Kind::append, shelf, std::string(session), n, std::string(text)});
}
void remove(std::string_view session, Shelf shelf) {
    state.writes.push_back({Write::Kind::remove, shelf, std::string(session), 0, {}});
}
void clear_all() {
    for (const Write& write : state.writes)
        answer(write, Stored::refused);
    state.writes.assign(1, {Write::Kind::clear, {}, {}, 0, {}});
}
void take_over(Shelf shelf) {
    ShelfTwin& at = on(shelf);
    if (at.state != StoreState::open)
        return;
    at.other_writes = false;
    refresh(at);
    set(at, StoreState::open, true);
}
std::string new_session_key() {
    std::string key = std::to_string(++state.keys);
    return std::string(16 - key.size(), '0') + key;
}

void remind_at(std::optional<Instant> at) {
    state.told.remind = at;
}
Ticker ticker() {
    return state.told.remind ? Ticker::worker : Ticker::none;
}
bool hidden() {
    return state.hidden;
}

void set_sound(bool on) {
    state.sound = on;
    save_setting("sound", on ? 1 : 0);
}
Sound sound() {
    return !state.sound ? Sound::off : state.touched ? Sound::on : Sound::waits;
}
void chime() {
    if (sound() == Sound::on)
        ++state.told.chimes;
}

void save_file(std::string_view name, std::string_view text, std::string_view type) {
    state.told.file_name = name, state.told.file_text = text, state.told.file_type = type;
}
void save_page(std::string_view name, std::string_view protocols) {
    state.told.page_name = name, state.told.page_protocols = protocols;
}
void open_file() {
    ++state.told.pickers;
}
void open_files() {
    ++state.told.pickers;
}
void read_files(int count) {
    for (; count > 0 && state.next_file < state.files.size(); --count, ++state.next_file)
        state.news.push_back([turn = state.file_turn, file = state.files[state.next_file]] {
            if (turn == state.file_turn)
                twin_guest->file_read(file.outcome, file.text);
        });
}
void forget_files() {
    state.files.clear();
    state.next_file = 0;
    ++state.file_turn;
}

namespace twin {

Disk& disk(Shelf shelf) {
    return on(shelf).disk;
}
Told& told() {
    return state.told;
}
void reset_store() {
    state = {};
}
void look_at_clock() {
    const bool ticks = ticker() != Ticker::none;
    if (const auto moved = state.watch.look_awake(now_ms(), wall_ms(), looks_within_ms(ticks, state.hidden)))
        moved->slept ? twin_guest->slept(moved->by) : twin_guest->clock_jumped(moved->by);
}

void set_store(StoreState on_opening, bool another_window_writes, Shelf shelf) {
    on(shelf).on_opening = on_opening, on(shelf).other_writes = another_window_writes;
}
void writes_end(Stored outcome, int count) {
    state.ending = outcome, state.endings = count;
}

int settle(int count) {
    for (int told = 0; told < count; ++told) {
        if (state.news.empty() && !state.writes.empty()) {
            const Write write = state.writes.front();
            state.writes.pop_front();
            if (write.kind == Write::Kind::clear) {
                clear();
            } else {
                const Stored outcome = attempt(write);
                answer(write, outcome);
                if (outcome != Stored::saved && write.kind == Write::Kind::append) {
                    const auto follows = [&](const Write& w) {
                        return w.kind == Write::Kind::append && w.shelf == write.shelf &&
                               w.session == write.session;
                    };
                    for (const Write& after : state.writes)
                        if (follows(after))
                            answer(after, Stored::gap);
                    std::erase_if(state.writes, follows);
                }
                if (outcome == Stored::not_writer && on(write.shelf).state == StoreState::open)
                    set(on(write.shelf), StoreState::open, false);
            }
        }
        if (state.news.empty())
            return told;
        const auto next = state.news.front();
        state.news.pop_front();
        next();
    }
    return count;
}

void break_connection(bool written) {
    for (const Write& write : state.writes) {
        if (written && write.kind == Write::Kind::append && on(write.shelf).writer)
            on(write.shelf).disk.try_emplace({write.session, write.n}, write.text);
        answer(write, Stored::lost);
    }
    state.writes.clear();
    for (ShelfTwin& at : state.shelves)
        if (at.opened)
            set(at, StoreState::lost, false);
}
void connect_again() {
    for (ShelfTwin& at : state.shelves)
        if (at.opened)
            connect(at);
}
void another_window_takes_over(Shelf shelf) {
    on(shelf).other_writes = true;
    set(on(shelf), StoreState::open, false);
}
void another_window_writes(std::string_view session, int n, std::string_view text, Shelf shelf) {
    on(shelf).disk[{std::string(session), n}] = text;
    refresh(on(shelf));
}
void another_window_removes(std::string_view session) {
    ShelfTwin& at = on(Shelf::real);
    std::erase_if(at.disk, [&](const auto& row) { return row.first.first == session; });
    refresh(at);
}
void another_window_closes() {
    ShelfTwin& at = on(Shelf::real);
    at.other_writes = false;
    refresh(at);
    set(at, StoreState::open, true);
}
void crash(bool written) {
    if (written)
        break_connection(true);
    StoreTwin after;
    for (std::size_t i = 0; i < shelf_count; ++i)
        after.shelves[i].disk = state.shelves[i].disk;
    after.sound = state.sound;
    after.keys = state.keys;
    state = std::move(after);
}

void tick(std::int64_t ms) {
    advance_ms(ms);
    look_at_clock();
    if (!state.told.remind || now() < *state.told.remind)
        return;
    state.told.remind.reset();
    twin_guest->woken();
}
void sleep(std::int64_t ms) {
    advance_ms(4000); // falling asleep and waking up; the clock that never jumps stands still in between
    jump_ms(ms);
    look_at_clock();
}
void set_hidden(bool hidden) {
    state.hidden = hidden;
}
void come_back() {
    state.hidden = false;
    for (const Shelf shelf : {Shelf::real, Shelf::rehearsal})
        try_store(shelf);
    look_at_clock();
    twin_guest->awake();
}
void touch() {
    state.touched = true;
}
void choose_file(FileOutcome outcome, std::string_view text) {
    state.news.push_back([outcome, text = std::string(text)] { twin_guest->file_opened(outcome, text); });
}
void choose_files(std::vector<ChosenFile> files) {
    if (!files.empty()) {
        state.files = std::move(files);
        state.next_file = 0;
        ++state.file_turn;
    }
    state.news.push_back([n = static_cast<int>(state.files.size())] { twin_guest->files_chosen(n); });
}

} // namespace twin
} // namespace hangtime::platform

#endif
