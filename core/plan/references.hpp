#pragma once

/// Numbers for the sources that a document cites, in the order in which it cites them. Only core/plan
/// and core/report include this.

#include "core/protocol/protocol.hpp"
#include "core/sheet/document.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace hangtime {

class References {
public:
    explicit References(const Protocol& protocol) : protocol_(protocol) {}

    /// "published [1]", "common practice, no source"
    std::string cite(const Basis& basis);

    /// "[1] Title. Issuer, year. What of it was read." for each that was cited.
    void add_list(sheet::Document& document) const;

private:
    const Protocol& protocol_;
    std::vector<std::uint8_t> cited_;
};

}  // namespace hangtime
