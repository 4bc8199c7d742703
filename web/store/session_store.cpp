#include "web/store/session_store.hpp"

#include <algorithm>
#include <array>
#include <cassert>

namespace hangtime::store {

using platform::Stored;
using platform::StoreState;

namespace {
// After each failure in a row; the last one goes on.
constexpr std::array<std::int64_t, 6> pauses_ms = {1'000, 2'000, 5'000, 15'000, 30'000, 60'000};
} // namespace

Mode SessionStore::mode() const {
    switch (state_) {
    case StoreState::opening:
        return Mode::opening;
    case StoreState::open:
        return writer_ ? Mode::durable : Mode::read_only;
    case StoreState::lost: // for a moment: what is noted waits, as it does while it is being written
        return complete_ ? Mode::durable : Mode::opening;
    case StoreState::newer:
        return Mode::newer;
    case StoreState::absent:
    case StoreState::unreadable:
        return Mode::memory;
    }
    return Mode::memory;
}

void SessionStore::store_state(StoreState state, bool writer) {
    state_ = state;
    writer_ = writer;
    if (state != StoreState::open || !writer)
        return;
    failures_ = 0;
    retry_at_.reset();
    send_all();
}

void SessionStore::send(const std::string& key, Session& session) {
    if (session.gone || session.trouble == Stored::conflict)
        return;
    while (session.sent < session.last()) {
        ++session.sent;
        platform::append(key, session.sent, session.texts[static_cast<std::size_t>(session.sent - 1)],
                         shelf_);
    }
}

void SessionStore::send_all() {
    for (const std::string& key : to_remove_)
        platform::remove(key, shelf_);
    for (auto& [key, session] : sessions_) {
        session.sent = session.saved;
        send(key, session);
    }
}

int SessionStore::append(std::string_view key, std::string_view text) {
    if (!may_write())
        return 0;
    auto found = sessions_.find(key);
    if (found == sessions_.end())
        found = sessions_.emplace(std::string(key), Session{}).first;
    Session& session = found->second;
    if (session.saved == session.last())
        session.waits_since = platform::now_ms();
    // While an earlier one is refused, this one waits with it: in order, or not at all.
    const bool at_once = session.sent == session.last() && session.trouble == Stored::saved;
    session.texts.emplace_back(text);
    session.bytes += text.size();
    if (at_once && state_ == StoreState::open && writer_)
        send(found->first, session);
    else if (state_ != StoreState::open && state_ != StoreState::lost)
        session.trouble = Stored::refused;
    return session.last();
}

std::size_t SessionStore::held() const {
    std::size_t all = 0;
    for (const auto& [key, session] : sessions_)
        all += session_bytes + session.bytes + session.texts.size() * record_bytes;
    return all;
}

bool SessionStore::has_room(std::size_t text_bytes, std::size_t records) const {
    // Twice: as it comes, and as it is kept.
    return held() + session_bytes + 2 * (text_bytes + records * record_bytes) <= memory_;
}

bool SessionStore::left_out(std::string_view key) const {
    return std::find(left_out_.begin(), left_out_.end(), key) != left_out_.end();
}

Found SessionStore::record_found(std::string_view key, int n, std::string_view text) {
    if (std::find(to_remove_.begin(), to_remove_.end(), key) != to_remove_.end())
        return Found::known; // it was removed here, and that has not reached the store yet
    if (left_out(key))
        return Found::too_much;
    auto found = sessions_.find(key);
    if (n < 1 || n > (found == sessions_.end() ? 0 : found->second.last()) + most_missing)
        return Found::stray;
    if (found == sessions_.end())
        found = sessions_.emplace(std::string(key), Session{}).first;
    Session& session = found->second;
    session.gone = false;
    // A quarter more than what may come as a file: what was noted since then comes back in any case.
    if (n > session.last() && held() + record_bytes + text.size() > memory_ + memory_ / 4) {
        sessions_.erase(found);
        left_out_.emplace_back(key);
        return Found::too_much;
    }
    if (n <= session.last()) {
        if (session.texts[static_cast<std::size_t>(n - 1)] == text) {
            // Ours after all: written before the connection broke. Its own answer says that it is on the disk.
            return Found::known;
        }
        // What this window noted from here on was never shown as saved.
        session.texts.resize(static_cast<std::size_t>(n - 1));
        session.texts.emplace_back(text);
        session.bytes = 0;
        for (const std::string& one : session.texts)
            session.bytes += one.size();
        session.saved = session.sent = n;
        session.trouble = Stored::saved;
        return Found::displaced;
    }
    session.texts.resize(static_cast<std::size_t>(n - 1)); // what is missing before it is damage, and stays empty
    session.texts.emplace_back(text);
    session.bytes += text.size();
    session.saved = session.sent = session.last();
    return Found::fresh;
}

void SessionStore::session_gone(std::string_view key) {
    std::erase(left_out_, key);
    const auto found = sessions_.find(key);
    if (found == sessions_.end())
        return;
    found->second.gone = true;
    found->second.saved = found->second.sent = 0;
}

void SessionStore::keep(std::string_view key) {
    const auto found = sessions_.find(key);
    if (found == sessions_.end() || !found->second.gone)
        return;
    found->second.gone = false;
    found->second.trouble = Stored::saved;
    found->second.waits_since = platform::now_ms();
    if (state_ == StoreState::open && writer_)
        send(found->first, found->second);
}

void SessionStore::plan_retry() {
    const auto pause = std::min<std::size_t>(static_cast<std::size_t>(failures_), pauses_ms.size() - 1);
    retry_at_ = platform::now_ms() + pauses_ms[pause];
    ++failures_;
}

void SessionStore::failed(Session& session, Stored outcome) {
    session.sent = session.saved;
    // A gap follows from the failure before it, which says more.
    if (outcome != Stored::gap || session.trouble == Stored::saved)
        session.trouble = outcome;
    switch (outcome) {
    case Stored::conflict:
        platform::try_store(shelf_); // brings what the other window wrote
        break;
    case Stored::not_writer:
        break; // sent again when this window writes again
    default:
        if (!retry_at_)
            plan_retry();
    }
}

void SessionStore::stored(std::string_view key, int n, Stored outcome) {
    const auto found = sessions_.find(key);
    if (found == sessions_.end() || n > found->second.last() || found->second.gone)
        return;
    Session& session = found->second;
    if (n <= session.saved)
        return;
    if (outcome != Stored::saved)
        return failed(session, outcome);
    // Answers come in order, but after a failure one that was sent before it can still be on its way.
    if (n != session.saved + 1)
        return;
    session.saved = n;
    session.sent = std::max(session.sent, n);
    session.waits_since = platform::now_ms();
    session.trouble = Stored::saved;
    failures_ = 0;
    if (state_ == StoreState::open && writer_)
        send(found->first, session);
}

void SessionStore::remove(std::string_view key) {
    const auto found = sessions_.find(key);
    if (found != sessions_.end())
        sessions_.erase(found);
    std::erase(left_out_, key);
    if (std::find(to_remove_.begin(), to_remove_.end(), key) == to_remove_.end())
        to_remove_.emplace_back(key);
    if (state_ == StoreState::open && writer_)
        platform::remove(key, shelf_);
}

void SessionStore::removed(std::string_view key, Stored outcome) {
    if (outcome == Stored::saved)
        std::erase_if(to_remove_, [key](const std::string& one) { return one == key; });
    else if (outcome != Stored::not_writer && !retry_at_)
        plan_retry();
}

void SessionStore::cleared() {
    sessions_.clear();
    left_out_.clear();
    to_remove_.clear();
    failures_ = 0;
    retry_at_.reset();
}

void SessionStore::retry() {
    retry_at_.reset();
    for (auto& [key, session] : sessions_)
        if (session.trouble != Stored::conflict)
            session.trouble = Stored::saved;
    if (state_ == StoreState::open && writer_)
        send_all();
    else
        platform::try_store(shelf_);
}

void SessionStore::tick() {
    if (!retry_at_ || platform::now_ms() < *retry_at_)
        return;
    retry_at_.reset();
    if (state_ == StoreState::open && writer_)
        send_all(); // what is wrong stays said until it is mended; otherwise sent when this window can write
}

std::int64_t SessionStore::retry_in() const {
    return retry_at_ ? std::max<std::int64_t>(0, *retry_at_ - platform::now_ms()) : -1;
}

Standing SessionStore::standing(std::string_view key) const {
    const auto found = sessions_.find(key);
    if (found == sessions_.end())
        return {};
    const Session& session = found->second;
    return {session.last(), session.saved, session.gone, session.trouble};
}

std::int64_t SessionStore::unsaved_for_ms(std::string_view key) const {
    const auto found = sessions_.find(key);
    if (found == sessions_.end() || found->second.saved == found->second.last())
        return 0;
    return platform::now_ms() - found->second.waits_since;
}

int SessionStore::unsaved() const {
    int all = 0;
    for (const auto& [key, session] : sessions_)
        all += session.last() - session.saved;
    return all;
}

const std::vector<std::string>* SessionStore::records(std::string_view key) const {
    const auto found = sessions_.find(key);
    return found == sessions_.end() ? nullptr : &found->second.texts;
}

std::vector<std::string> SessionStore::sessions() const {
    std::vector<std::string> keys;
    for (const auto& [key, session] : sessions_)
        keys.push_back(key);
    return keys;
}

} // namespace hangtime::store
