#pragma once

/// Keeps the accessibility DOM like the list of nodes: only what changed is told.

#include "web/widgets/ui.hpp"

#include <cstdint>
#include <vector>

namespace hangtime::ui {

class Mirror {
public:
    void update(const Ui& ui);
    int told() const { return told_; } // nodes that the last update told

private:
    struct Known {
        std::uint32_t key;
        std::uint64_t looks; // a hash of everything about it
    };
    std::vector<Known> known_, next_;
    std::uint32_t focused_ = 0;
    int told_ = 0;
};

} // namespace hangtime::ui
