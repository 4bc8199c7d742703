#pragma once

/// What can be pressed. Each is drawn where it is told, says in words and by its shape what it is, and is at
/// least 44 CSS pixels high (its caller gives the box; `row_px` is the height to give).

#include "web/widgets/ui.hpp"

namespace hangtime::ui {

inline constexpr float row_px = 48; // height of a control
inline constexpr float gap_px = 8;  // between two of them

enum class Look : std::uint8_t {
    primary, // the one thing to do; at most one on a screen
    plain,
    key,   // of a keypad
    quiet, // words only, underlined
};

/// `spoken` is what it is called in the list of nodes, where that is not `label`.
bool button(Ui& ui, std::string_view id, Box box, std::string_view label, Look look = Look::plain,
            bool enabled = true, std::string_view spoken = {});

/// One of several: a filled ring when it is the one, an open ring when it isn't.
bool choice(Ui& ui, std::string_view id, Box box, std::string_view label, bool chosen);

/// One of the parts of a screen; the one that is shown is underlined.
bool tab(Ui& ui, std::string_view id, Box box, std::string_view label, bool shown);

/// A line that opens and closes what stands below it.
bool fold(Ui& ui, std::string_view id, Box box, std::string_view label, bool open);
/// The same as one of many lines, with words behind it.
bool fold_row(Ui& ui, std::string_view id, Box box, std::string_view label, std::string_view value, bool open);

/// An entry: what it is called, and what was entered.
struct Entry {
    std::string_view label;
    std::string_view value; // empty: nothing entered, shown as `empty`
    std::string_view empty = "not recorded";
    std::string_view unit;
    bool editing = false;  // its keypad or its choices are open
    bool typed = true;     // by a keypad: shows where the next digit goes
    bool wanted = false;   // has to be entered before more can be said
    bool refused = false;  // `note` says why
    std::string_view note; // a few words below the value
};
bool entry(Ui& ui, std::string_view id, Box box, const Entry& entry);
/// The height that an entry needs.
float entry_height(const Ui& ui);

/// A heading of a part of the screen.
void subheading(Ui& ui, std::string_view id, Box box, std::string_view text);

/// Text that is noted, wrapped into the width of the box. Returns its height.
float paragraph(Ui& ui, std::string_view id, Box box, std::string_view text, Face face = Face::body,
                bool quiet = false);

/// A surface that things lie on.
void sheet(Ui& ui, Box box);

} // namespace hangtime::ui
