#pragma once

/// What stands above every screen while something is rehearsed: the word, the striped edge, the simulated clock and
/// what moves it, and what still comes from real sessions.

#include "web/rehearse/scene.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace hangtime::screens {

class PracticeHead {
public:
    struct Shown {
        const rehearse::Scene* scene = nullptr; // null: nothing is played
        bool clock = false;                     // the buttons that move the clock
        bool labels = false;                    // bag and tag lie in front of the learner
        std::string_view reminder;              // of a real session; empty: none
    };
    /// Puts it into the ui's head, and sets how high that is.
    void build(ui::Ui& ui, const Shown& shown);

    struct Wishes {
        std::optional<int> speed;
        std::optional<bool> paused;
        bool jump = false;
    };
    Wishes take_wishes();

private:
    void clock(ui::Ui& ui, ui::Box& box, const rehearse::Scene& scene);
    void labels(ui::Ui& ui, ui::Box box, const rehearse::Scene& scene);

    Wishes wishes_;
};

} // namespace hangtime::screens
