#pragma once

/// What a reader asks of a text: for each path the kind of value, its bounds, its words. A reader that is given
/// a Survey with its Report says by itself what a file can hold, so that an editor of that file never knows
/// less than its reader does.

#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace hangtime::json {

/// What is asked for at one path.
struct Asked {
    enum class Kind : std::uint8_t { text, number, truth, choice, list, members, object };
    Kind kind{};
    int places = 0;                    // of a number
    std::int64_t least = 0, most = 0;  // of a number in its last place; of a text in bytes; of a list in items
    std::vector<std::string> words;    // of a choice: what is accepted; of an object: its keys

    friend bool operator==(const Asked&, const Asked&) = default;
};

class Survey {
public:
    /// What was asked for first at a path stands.
    void note(const std::string& path, Asked asked) {
        if (at_.emplace(path, all_.size()).second) all_.emplace_back(path, std::move(asked));
    }
    /// That something has to be there.
    void need(const std::string& path) { needed_.insert(path); }

    const Asked* find(std::string_view path) const {
        const auto found = at_.find(path);
        return found == at_.end() ? nullptr : &all_[found->second].second;
    }
    bool needed(std::string_view path) const { return needed_.contains(path); }
    /// In the order in which they were asked for.
    const std::vector<std::pair<std::string, Asked>>& all() const { return all_; }

private:
    std::vector<std::pair<std::string, Asked>> all_;
    std::map<std::string, std::size_t, std::less<>> at_;
    std::set<std::string, std::less<>> needed_;
};

}  // namespace hangtime::json
