#pragma once

/// What a rehearsal was given (core/rehearse/course.hpp), kept on its shelf beside the log as a row of records of its
/// own, so that a page that was closed or loaded again can go on with it.

#include "web/store/session_store.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace hangtime::rehearse {

class Kept {
public:
    explicit Kept(store::SessionStore& store) : store_(store) {}

    /// Hears a record of the shelf first. True: it is one of these, and none of a log.
    bool found(std::string_view session, int n, std::string_view text);

    /// The first text of a new one; what was kept before goes.
    void begin(std::string text);
    void add(std::string_view text);
    void drop();
    /// Everything on this machine was cleared.
    void forget() { keys_.clear(); }

    /// What is there to go on with, from the first text; null: nothing, or not all of it.
    const std::vector<std::string>* all() const;
    /// Changes when another one is kept; empty: none is.
    std::string_view key() const { return keys_.empty() ? std::string_view() : std::string_view(keys_.back()); }

private:
    store::SessionStore& store_;
    std::vector<std::string> keys_; // more than one only where a page was closed between two
};

} // namespace hangtime::rehearse
