#pragma once

/// What the plan and the screens of a session say alike about a reckoning: the verdict, the picture of it, its checks
/// and its warnings.

#include "core/reckon/reckoning.hpp"
#include "core/session/state.hpp"
#include "core/words/format.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/ui.hpp"

#include <string>
#include <string_view>

namespace hangtime::screens {

/// "00:10 day +1" -> "00:10" and "day +1"; "217.5 mL" -> "217.5" and "mL".
struct Split {
    std::string figure, unit;
    explicit Split(const std::string& text) {
        const std::size_t space = text.find(' ');
        figure = text.substr(0, space);
        if (space != std::string::npos)
            unit = text.substr(space + 1);
    }
};

/// A verdict in words, with what has to be known first.
struct Told {
    ui::Seal seal = ui::Seal::none;
    std::string title, detail;
};
/// Of a plan that can be told (`planned`).
Told told_of(const Reckoning& r, const DayClock& day);
float told_height(ui::Ui& ui, const Told& told, float width);

struct Reckoned {
    const Reckoning& r;
    const State& state;
    Instant now{};
    const WallClock& wall;
    const DayClock& day;
};
/// The timeline: volume climbing, stages, checks, limits.
void draw_plan(ui::Ui& ui, std::string_view id, ui::Box box, const Reckoned& told);

/// Both return the height that they took.
float check_list(ui::Ui& ui, ui::Box box, const Reckoning& r, const DayClock& day, int columns);
float warning_list(ui::Ui& ui, ui::Box box, const Reckoning& r, const DayClock& day);

} // namespace hangtime::screens
