#pragma once

/// Which rules a plan for more than one unit begins with.

#include "core/protocol/protocol.hpp"

#include <vector>

namespace hangtime::screens {

inline std::vector<const Protocol*> protocols_with_rounds(const std::vector<Protocol>& protocols) {
    std::vector<const Protocol*> out;
    for (const Protocol& p : protocols)
        if (p.round)
            out.push_back(&p);
    return out;
}

/// The place of the rules to begin with where none were used before: the only ones, the general ward's, the ones that
/// the ward has adopted. -1: none of these, and somebody has to choose; nobody gets a child's rules by accident.
inline int usual_rules(const std::vector<const Protocol*>& rules) {
    if (rules.size() == 1)
        return 0;
    int adopted = -1, count = 0;
    for (std::size_t i = 0; i < rules.size(); ++i) {
        if (rules[i]->id == "general-ward")
            return static_cast<int>(i);
        if (rules[i]->adopted)
            adopted = static_cast<int>(i), ++count;
    }
    return count == 1 ? adopted : -1;
}

} // namespace hangtime::screens
