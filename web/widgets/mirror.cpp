#include "web/widgets/mirror.hpp"

#include <algorithm>

namespace hangtime::ui {
namespace {

std::uint64_t hash(std::uint64_t h, std::string_view text) {
    for (const char c : text)
        h = (h ^ static_cast<std::uint8_t>(c)) * 1099511628211u;
    return (h ^ 0xff) * 1099511628211u;
}
std::uint64_t hash(std::uint64_t h, std::int64_t n) {
    return (h ^ static_cast<std::uint64_t>(n)) * 1099511628211u;
}

} // namespace

void Mirror::update(const Ui& ui) {
    told_ = 0;
    next_.clear();
    for (const Node& n : ui.nodes().now()) {
        std::uint64_t h = hash(hash(1469598103934665603u, n.label), n.value);
        for (const int v : {static_cast<int>(n.role), static_cast<int>(n.state), static_cast<int>(n.clipped),
                            static_cast<int>(n.box.x), static_cast<int>(n.box.y), static_cast<int>(n.box.w),
                            static_cast<int>(n.box.h)})
            h = hash(h, v);
        next_.push_back({platform::node_key(n.id), h});
    }
    for (const Known& k : known_)
        if (std::none_of(next_.begin(), next_.end(), [&k](const Known& n) { return n.key == k.key; }))
            platform::unmirror(k.key);
    // What was removed left no gap; from here on, places are compared with those that stayed.
    std::erase_if(known_, [this](const Known& k) {
        return std::none_of(next_.begin(), next_.end(), [&k](const Known& n) { return n.key == k.key; });
    });
    std::size_t old = 0;
    for (std::size_t i = 0; i < next_.size(); ++i) {
        const bool in_order = old < known_.size() && known_[old].key == next_[i].key;
        const bool same = in_order && known_[old].looks == next_[i].looks;
        if (in_order)
            ++old;
        if (same)
            continue;
        const Node& n = ui.nodes().now()[i];
        ++told_;
        platform::mirror({next_[i].key,
                          static_cast<int>(i),
                          static_cast<int>(n.role),
                          static_cast<int>(n.state) | (n.clipped ? 1 << 15 : 0),
                          n.label,
                          n.value,
                          {static_cast<int>(n.box.x), static_cast<int>(n.box.y),
                           static_cast<int>(n.box.right()), static_cast<int>(n.box.bottom())}});
    }
    known_.swap(next_);
    const std::uint32_t focused = ui.focused_key();
    if (focused != focused_ && focused != 0)
        platform::focus_mirrored(focused);
    focused_ = focused;
}

} // namespace hangtime::ui
