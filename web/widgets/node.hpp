#pragma once

/// The list of what is on the screen. Every widget notes itself here while it is drawn; tests, the
/// accessibility DOM and browser tests read the list. Ids are constants: screens change, ids don't.

#include "web/widgets/box.hpp"

#include <array>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

namespace hangtime::ui {

enum class Role : std::uint8_t {
    heading,    // of the page
    subheading, // of a part of it
    text,
    button,
    choice,  // a button that is chosen or not
    field,   // an entry; touching it opens its keypad or its choices
    picture, // the label says what is on it
};

/// Bits of Node::state.
enum State : std::uint16_t {
    plain = 0,
    chosen = 1,   // choice
    expanded = 2, // a button that shows more, and does
    expands = 4,  // a button that shows more
    editing = 8,  // field
    missing = 16, // field: has to be entered
    refused = 32, // field: what was entered is not accepted
    disabled = 64,
};

struct Node {
    std::string_view id = {}, label = {}, value = {};
    Role role = Role::text;
    std::uint16_t state = plain;
    Box box = {};
    bool clipped = false;   // scrolled out of sight, wholly or so far that its middle is
    std::uint32_t item = 0; // ImGui's id; 0: not interactive
};

class NodeList {
public:
    /// Texts live until the `begin` after the next one.
    void begin();
    void add(const Node& node); // copies its texts
    std::string_view keep(std::string_view text);

    std::span<const Node> now() const { return lists_[current_]; }
    std::span<const Node> before() const { return lists_[1 - current_]; }
    const Node* find(std::string_view id) const;

private:
    struct Arena {
        std::vector<std::vector<char>> blocks;
        std::size_t block = 0, used = 0;
    };
    std::array<std::vector<Node>, 2> lists_;
    std::array<Arena, 2> arenas_;
    std::size_t current_ = 0;
};

} // namespace hangtime::ui
