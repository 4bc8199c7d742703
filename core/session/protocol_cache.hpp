#pragma once

/// Protocols that have been read, by their text. Every log holds its protocol whole, and reading it takes far longer than
/// the rest of a session; who reads many logs of one ward keeps one of these beside them.

#include "core/protocol/protocol.hpp"

#include <array>
#include <bitset>
#include <cstdint>
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

    /// `fnv` over a text that may hold a protocol which is known: that one is not gone through again.
    std::uint64_t fnv(std::uint64_t sum, std::string_view text);

    /// `line` was read without an error, and `protocol` is what it holds.
    void keep(std::string_view line, std::shared_ptr<const Protocol> protocol);

private:
    struct Entry {
        std::string text;  // the object as it stands in the line
        std::shared_ptr<const Protocol> protocol;
        std::uint64_t factor = 1;                // by which a sum before the text comes out after it,
        std::array<std::uint64_t, 256> more{};   // and what is added, for each last byte of the sum before it
        std::bitset<256> known{};
    };
    std::vector<Entry> entries_;
};

/// 64-bit FNV-1a, gone on with from `sum`.
std::uint64_t fnv(std::uint64_t sum, std::string_view text);

}  // namespace hangtime
