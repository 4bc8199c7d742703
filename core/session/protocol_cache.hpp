#pragma once

/// Protocols that have been read, by their text. Every log holds its protocol whole, and reading it takes far longer than
/// the rest of a session; who reads many logs of one ward keeps one of these beside them.

#include "core/protocol/protocol.hpp"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

class ProtocolCache {
public:
    /// A record that holds a protocol which was read before, byte for byte: that protocol, and the record with {} in its
    /// place. None where it holds none or another one.
    struct Known {
        std::shared_ptr<const Protocol> protocol;
        std::string rest;
    };
    std::optional<Known> find(std::string_view line) const;

    /// `line` was read without an error, and `protocol` is what it holds.
    void keep(std::string_view line, std::shared_ptr<const Protocol> protocol);

private:
    struct Entry {
        std::string text;  // the object as it stands in the line
        std::shared_ptr<const Protocol> protocol;
    };
    std::vector<Entry> entries_;
};

}  // namespace hangtime
