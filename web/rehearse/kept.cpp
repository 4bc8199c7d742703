#include "web/rehearse/kept.hpp"

#include "core/rehearse/course.hpp"

#include <algorithm>

namespace hangtime::rehearse {

bool Kept::found(std::string_view session, int n, std::string_view text) {
    const bool known = std::find(keys_.begin(), keys_.end(), session) != keys_.end();
    if (!known && !(n == 1 && begins_course(text)))
        return false;
    const store::Found what = store_.record_found(session, n, text);
    if (!known && what == store::Found::fresh)
        keys_.emplace_back(session);
    return true;
}

void Kept::begin(std::string text) {
    drop();
    keys_.push_back(platform::new_session_key());
    store_.append(keys_.back(), text);
}

void Kept::add(std::string_view text) {
    if (!keys_.empty())
        store_.append(keys_.back(), text);
}

void Kept::drop() {
    for (const std::string& key : keys_)
        store_.remove(key);
    keys_.clear();
}

const std::vector<std::string>* Kept::all() const {
    if (keys_.empty() || store_.standing(keys_.back()).gone)
        return nullptr;
    const std::vector<std::string>* texts = store_.records(keys_.back());
    const auto missing = [](const std::string& text) { return text.empty(); };
    return texts && !texts->empty() && std::none_of(texts->begin(), texts->end(), missing) ? texts : nullptr;
}

} // namespace hangtime::rehearse
