#include "core/session/protocol_cache.hpp"

#include "core/json/value.hpp"


namespace hangtime {

namespace {

constexpr std::size_t most_entries = 32;
constexpr std::uint64_t prime = 1099511628211ULL;

// Where the object after the first "protocol" begins; npos where none does.
std::size_t object_in(std::string_view line) {
    constexpr std::string_view key = "\"protocol\"";
    constexpr std::size_t least = 1000;  // no protocol is shorter, and most records are
    if (line.size() < least) return line.npos;
    std::size_t at = line.find(key);
    if (at == line.npos) return at;
    at += key.size();
    const auto skip = [&] {
        while (at < line.size() && line[at] == ' ') ++at;
    };
    skip();
    if (at == line.size() || line[at] != ':') return line.npos;
    ++at;
    skip();
    return at < line.size() && line[at] == '{' ? at : line.npos;
}

// The end of the object that begins at `from`, in a text that is JSON.
std::size_t end_of_object(std::string_view line, std::size_t from) {
    std::size_t depth = 0;
    bool quoted = false;
    for (std::size_t i = from; i < line.size(); ++i) {
        const char c = line[i];
        if (quoted) {
            if (c == '\\') ++i;
            else if (c == '"') quoted = false;
        } else if (c == '"') {
            quoted = true;
        } else if (c == '{') {
            ++depth;
        } else if (c == '}' && --depth == 0) {
            return i + 1;
        }
    }
    return line.npos;
}

}  // namespace

std::uint64_t fnv(std::uint64_t sum, std::string_view text) {
    for (const char c : text) {
        sum ^= static_cast<std::uint8_t>(c);
        sum *= prime;
    }
    return sum;
}

// A byte changes a sum in its last byte only, and what the last byte becomes depends on nothing else. So what a text adds
// to a sum, beside multiplying it, depends on the sum's last byte alone: 256 numbers for each text, found when needed.
std::uint64_t ProtocolCache::fnv(std::uint64_t sum, std::string_view text) {
    const std::size_t at = object_in(text);
    if (at == text.npos) return hangtime::fnv(sum, text);
    for (Entry& entry : entries_) {
        if (!text.substr(at).starts_with(entry.text)) continue;
        const std::uint64_t before = hangtime::fnv(sum, text.substr(0, at));
        const std::size_t last = before & 255;
        if (!entry.known[last]) {
            entry.more[last] = hangtime::fnv(last, entry.text) - last * entry.factor;
            entry.known.set(last);
        }
        return hangtime::fnv(before * entry.factor + entry.more[last], text.substr(at + entry.text.size()));
    }
    return hangtime::fnv(sum, text);
}

std::optional<ProtocolCache::Known> ProtocolCache::find(std::string_view line) const {
    const std::size_t at = object_in(line);
    if (at == line.npos || line.size() > json::most_bytes) return std::nullopt;
    for (const Entry& entry : entries_) {
        if (!line.substr(at).starts_with(entry.text)) continue;
        std::string rest(line.substr(0, at));
        rest.append("{}").append(line.substr(at + entry.text.size()));
        return Known{entry.protocol, std::move(rest)};
    }
    return std::nullopt;
}

void ProtocolCache::keep(std::string_view line, std::shared_ptr<const Protocol> protocol) {
    const std::size_t at = object_in(line);
    if (at == line.npos) return;
    const std::size_t end = end_of_object(line, at);
    if (end == line.npos || find(line)) return;
    if (entries_.size() == most_entries) entries_.erase(entries_.begin());
    Entry entry{std::string(line.substr(at, end - at)), std::move(protocol)};
    for (std::size_t i = 0; i < entry.text.size(); ++i) entry.factor *= prime;
    entries_.push_back(std::move(entry));
}

}  // namespace hangtime
