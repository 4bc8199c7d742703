#ifndef __EMSCRIPTEN__

#include "web/platform/store_twin.hpp"

#include "web/platform/clock_watch.hpp"
#include "web/platform/platform_twin.hpp"

#include <deque>
#include <functional>
#include <set>

namespace hangtime::platform {

Guest* twin_guest = nullptr; // set by run

namespace {

struct Write {
    enum class Kind { append, remove, clear } kind;
    std::string session;
    int n = 0;
    std::string text;
};

struct StoreTwin {
    twin::Disk disk;
    StoreState on_opening = StoreState::open, state = StoreState::opening;
    bool other_writes = false, writer = false, opened = false;
    std::set<std::pair<std::string, int>> known;
    std::deque<Write> writes;
    std::deque<std::function<void()>> news; // each calls the guest once
    Stored ending = Stored::saved;
    int endings = 0;
    ClockWatch watch;
    bool hidden = false, sound = false, touched = false;
    unsigned keys = 0;
    twin::Told told;
} state;

void set(StoreState now, bool writer) {
    if (now == state.state && writer == state.writer)
        return;
    state.state = now, state.writer = writer;
    state.news.push_back([now, writer] { twin_guest->store_state(now, writer); });
}

void refresh() {
    for (const auto& [id, text] : state.disk)
        if (state.known.insert(id).second)
            state.news.push_back(
                [id = id, text = text] { twin_guest->record_found(id.first, id.second, text); });
    std::set<std::string> there, gone;
    for (const auto& [id, text] : state.disk)
        there.insert(id.first);
    for (auto id = state.known.begin(); id != state.known.end();) {
        if (state.disk.contains(*id)) {
            ++id;
            continue;
        }
        if (!there.contains(id->first))
            gone.insert(id->first);
        id = state.known.erase(id);
    }
    for (const std::string& session : gone)
        state.news.push_back([session] { twin_guest->session_gone(session); });
}

void connect() {
    if (state.on_opening != StoreState::open)
        return set(state.on_opening, false);
    refresh();
    state.news.push_back([] { twin_guest->records_complete(); });
    set(StoreState::open, !state.other_writes);
}

// What the browser's side decides inside the transaction.
Stored attempt(const Write& write) {
    if (state.state != StoreState::open)
        return state.state == StoreState::lost || state.state == StoreState::opening ? Stored::lost
                                                                                     : Stored::refused;
    if (!state.writer)
        return Stored::not_writer;
    if (state.endings > 0) {
        --state.endings;
        return state.ending;
    }
    if (write.kind == Write::Kind::remove) {
        std::erase_if(state.disk, [&](const auto& row) { return row.first.first == write.session; });
        std::erase_if(state.known, [&](const auto& id) { return id.first == write.session; });
        return Stored::saved;
    }
    if (write.n > 1 && !state.disk.contains({write.session, write.n - 1}))
        return Stored::gap;
    const auto [row, fresh] = state.disk.try_emplace({write.session, write.n}, write.text);
    if (!fresh && row->second != write.text)
        return Stored::conflict;
    state.known.insert({write.session, write.n});
    return Stored::saved;
}

void answer(const Write& write, Stored outcome) {
    if (write.kind == Write::Kind::append)
        state.news.push_back([write, outcome] { twin_guest->stored(write.session, write.n, outcome); });
    if (write.kind == Write::Kind::remove)
        state.news.push_back([write, outcome] { twin_guest->removed(write.session, outcome); });
}

void clear() {
    const bool can = state.state == StoreState::open;
    if (can)
        state.disk.clear();
    state.known.clear();
    state.sound = false;
    twin::clear_settings();
    const Left left{can ? static_cast<int>(state.disk.size()) : -1, 0, 0};
    state.news.push_back([left] { twin_guest->cleared(left); });
}

} // namespace

void open_store() {
    state.opened = true;
    state.news.push_back([] { connect(); });
}
void try_store() {
    if (!state.opened)
        return;
    if (state.state == StoreState::open)
        refresh();
    else if (state.state != StoreState::opening)
        connect();
}
void append(std::string_view session, int n, std::string_view text) {
    state.writes.push_back({Write::Kind::append, std::string(session), n, std::string(text)});
}
void remove(std::string_view session) {
    state.writes.push_back({Write::Kind::remove, std::string(session), 0, {}});
}
void clear_all() {
    for (const Write& write : state.writes)
        answer(write, Stored::refused);
    state.writes.assign(1, {Write::Kind::clear, {}, 0, {}});
}
void take_over() {
    if (state.state != StoreState::open)
        return;
    state.other_writes = false;
    refresh();
    set(StoreState::open, true);
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
void open_file() {
    ++state.told.pickers;
}

namespace twin {

Disk& disk() {
    return state.disk;
}
Told& told() {
    return state.told;
}
void reset_store() {
    state = {};
}
void look_at_clock() {
    if (const std::optional<Seconds> moved = state.watch.look(now_ms(), wall_ms()))
        twin_guest->clock_jumped(*moved);
}

void set_store(StoreState on_opening, bool another_window_writes) {
    state.on_opening = on_opening, state.other_writes = another_window_writes;
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
                        return w.kind == Write::Kind::append && w.session == write.session;
                    };
                    for (const Write& after : state.writes)
                        if (follows(after))
                            answer(after, Stored::gap);
                    std::erase_if(state.writes, follows);
                }
                if (outcome == Stored::not_writer && state.state == StoreState::open)
                    set(StoreState::open, false);
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
        if (written && write.kind == Write::Kind::append && state.writer)
            state.disk.try_emplace({write.session, write.n}, write.text);
        answer(write, Stored::lost);
    }
    state.writes.clear();
    set(StoreState::lost, false);
}
void connect_again() {
    connect();
}
void another_window_takes_over() {
    state.other_writes = true;
    set(StoreState::open, false);
}
void another_window_writes(std::string_view session, int n, std::string_view text) {
    state.disk[{std::string(session), n}] = text;
    refresh();
}
void another_window_removes(std::string_view session) {
    std::erase_if(state.disk, [&](const auto& row) { return row.first.first == session; });
    refresh();
}
void another_window_closes() {
    state.other_writes = false;
    refresh();
    set(StoreState::open, true);
}
void crash(bool written) {
    if (written)
        break_connection(true);
    StoreTwin after;
    after.disk = state.disk;
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
void set_hidden(bool hidden) {
    state.hidden = hidden;
}
void come_back() {
    state.hidden = false;
    try_store();
    look_at_clock();
    twin_guest->awake();
}
void touch() {
    state.touched = true;
}
void choose_file(FileOutcome outcome, std::string_view text) {
    state.news.push_back([outcome, text = std::string(text)] { twin_guest->file_opened(outcome, text); });
}

} // namespace twin
} // namespace hangtime::platform

#endif
