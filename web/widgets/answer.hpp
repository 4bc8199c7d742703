#pragma once

/// Answers: a number that is read across a room, and the sum behind it one touch away.

#include "web/widgets/ui.hpp"

#include <string_view>

namespace hangtime::ui {

struct Answer {
    std::string_view label = {};  // "Set now"
    std::string_view figure = {}; // "174", "14:10"; empty: nothing to say yet, shown as `empty`
    std::string_view unit = {};   // "mL/h"
    std::string_view note = {};   // "in 18 min"
    std::string_view empty = "not yet";
    bool open = false;    // its sum is shown
    bool large = false;   // hero figures
    bool current = false; // it is what runs now
    bool kept = true;     // false: this limit is not met; said by a notched edge and in `note`
};

/// True when touched: the screen then shows its sum. `plain_text` answers without a sum are not to be
/// pressed.
bool answer(Ui& ui, std::string_view id, Box box, const Answer& answer);

/// The line that shows the sum of the answer that is open, or how to get one.
void sum_line(Ui& ui, std::string_view id, Box box, std::string_view about, std::string_view sum);

/// A verdict: a whole ring, a ring with a gap, or a broken ring, and a sentence with what follows from it.
enum class Seal : std::uint8_t { whole, noted, thin, broken, none };
void verdict(Ui& ui, std::string_view id, Box box, Seal seal, std::string_view title,
             std::string_view detail);

/// A limit and where we are in it: "Hang by 14:10, 18 min left". `from`, `latest` and `now` in seconds.
struct WindowBar {
    std::string_view label, value, note;
    std::int64_t from = 0, latest = 0, now = 0;
    bool running = false; // `from` is known and has come
    bool open = false;    // its sum is shown
};
bool window_bar(Ui& ui, std::string_view id, Box box, const WindowBar& bar);
float window_bar_height(const Ui& ui);

/// Words that are a caution: a bar at the side, no colour of its own. Returns its height.
float caution(Ui& ui, std::string_view id, Box box, std::string_view word, std::string_view text);

} // namespace hangtime::ui
