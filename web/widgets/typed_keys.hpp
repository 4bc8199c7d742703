#pragma once

/// What the keypads share: a keyboard beside the keys that are drawn, and the two keys that take back.

#include "web/widgets/controls.hpp"
#include "web/widgets/keypad.hpp"

namespace hangtime::ui {

/// The keyboard: each sign goes to `type`, which says whether it was taken; Backspace, Delete, Enter and Escape.
template <class Entry, class Type>
Typed typed_keys(Ui& ui, Entry& entry, const Type& type) {
    using platform::Key;
    Typed result = Typed::nothing;
    for (const platform::Event& e : ui.keys()) {
        switch (e.key) {
        case Key::character:
            if (type(e.character))
                result = Typed::changed;
            break;
        case Key::backspace:
            entry.remove_last();
            result = Typed::changed;
            break;
        case Key::del:
            entry.clear();
            result = Typed::changed;
            break;
        case Key::enter: result = Typed::done; break;
        case Key::escape: result = Typed::cancelled; break;
        default: break;
        }
    }
    return result;
}

/// "Delete" and "Clear", drawn. `last`: what a screen reader says of the first. True when one was touched.
template <class Entry>
bool take_back_keys(Ui& ui, Box del, Box clear, Entry& entry, bool empty, std::string_view last) {
    bool touched = false;
    if (button(ui, "key.delete", del, "Delete", Look::key, !empty, last)) {
        entry.remove_last();
        touched = true;
    }
    if (button(ui, "key.clear", clear, "Clear", Look::key, !empty, "Clear the entry")) {
        entry.clear();
        touched = true;
    }
    return touched;
}

} // namespace hangtime::ui
