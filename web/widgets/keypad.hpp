#pragma once

/// Numbers and times are typed on keys that are drawn, or on a keyboard; there is no other way to enter
/// anything.

#include "web/widgets/ui.hpp"

#include <cstdint>
#include <optional>
#include <string>

namespace hangtime::ui {

/// Digits while they are typed. The first key replaces what was there.
struct Digits {
    /// `code`: exactly `whole` digits, zeros in front and all.
    enum class Kind : std::uint8_t { number, time, code };
    Kind kind = Kind::number;
    int places = 0;    // most digits after the point
    int whole = 4;     // most digits before it
    bool fresh = true; // nothing typed yet
    std::string text;  // "316", "0.5"; of a time its digits only, "134"

    void start(Kind k, int whole_digits, int decimal_places, std::string_view current);
    bool accepts(char32_t c) const; // a digit, or the point
    bool type(char32_t c);          // false: not accepted
    void remove_last();
    void clear();
    /// As it is shown: "316", "13:4_".
    std::string shown() const;
    /// Minutes after midnight; none while it is not a whole time.
    std::optional<int> time() const;
    /// The number times ten to the `places`; none while nothing stands there.
    std::optional<std::int64_t> number() const;
};

enum class Typed : std::uint8_t { nothing, changed, done, cancelled, now };

/// Four columns of keys. Takes the keyboard's digits, Backspace, Enter and Escape as well. `done_label` says
/// what Done leads to.
Typed keypad(Ui& ui, Box box, Digits& digits, std::string_view done_label);
float keypad_height(const Ui& ui);

} // namespace hangtime::ui
