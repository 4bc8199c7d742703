#include "web/widgets/node.hpp"

#include <cstring>

namespace hangtime::ui {
namespace {
constexpr std::size_t block_size = 16 * 1024; // characters; a screen fills about a third of one
}

void NodeList::begin() {
    current_ = 1 - current_;
    lists_[current_].clear();
    // Overwritten, so that what stood on the screen does not outlive it here by more than a frame.
    Arena& old = arenas_[current_];
    for (std::size_t i = 0; i < old.blocks.size() && i <= old.block; ++i)
        std::memset(old.blocks[i].data(), 0, block_size);
    arenas_[current_].block = 0;
    arenas_[current_].used = 0;
}

std::string_view NodeList::keep(std::string_view text) {
    if (text.size() > block_size)
        text = text.substr(0, block_size);
    Arena& a = arenas_[current_];
    if (!a.blocks.empty() && a.used + text.size() > block_size) {
        ++a.block;
        a.used = 0;
    }
    while (a.blocks.size() <= a.block)
        a.blocks.emplace_back(block_size);
    char* to = a.blocks[a.block].data() + a.used;
    if (!text.empty())
        std::memcpy(to, text.data(), text.size());
    a.used += text.size();
    return {to, text.size()};
}

void NodeList::add(const Node& node) {
    Node kept = node;
    kept.id = keep(node.id);
    kept.label = keep(node.label);
    kept.value = keep(node.value);
    lists_[current_].push_back(kept);
}

const Node* NodeList::find(std::string_view id) const {
    for (const Node& n : lists_[current_])
        if (n.id == id)
            return &n;
    return nullptr;
}

} // namespace hangtime::ui
