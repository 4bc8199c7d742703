#pragma once

/// The match on screen, from plain values: one step of the script, bag and tag character by character, and
/// whether the groups fit. It keeps nothing and logs nothing; what was touched is a wish, and whoever owns the
/// log turns it into a `match` event.

#include "core/match/compare.hpp"
#include "core/match/compatible.hpp"
#include "core/match/script.hpp"
#include "core/words/format.hpp"
#include "web/widgets/ui.hpp"

#include <optional>

namespace hangtime::screens {

class MatchView {
public:
    /// What is shown in one frame; pointers may be null: that part is left out.
    struct Shown {
        const MatchRules* rules = nullptr; // null: the protocol says nothing about the match
        const MatchScript* script = nullptr;
        const MatchState* state = nullptr;
        MatchStanding standing = MatchStanding::not_begun; // at now, by standing_at()
        Component component{};
        const UnitComparison* unit = nullptr;
        const Compatibility* compatibility = nullptr;
        const DayClock* day = nullptr; // how times are said
        bool reads = false;            // offers the screen where bag and tag are read
        bool asks_who = false;         // first whether the person can say who they are
        bool hung = false;             // then the match has done its work, and it no longer gets old
    };

    /// One frame: what is said, in a box that scrolls when it is too small, and the buttons in `foot`, each in a place
    /// of its own whatever is said above, so that no thumb that waits for one lands on another (hazard 2).
    void build(ui::Ui& ui, ui::Box box, ui::Box foot, const Shown& shown);
    /// How high the foot is; the same in every step.
    static float foot_height(const ui::Ui& ui, float width);

    /// What was touched in the last frame: an event without its time.
    struct Wish {
        MatchOutcome outcome{};
        std::uint8_t step = 0;
    };
    std::optional<Wish> take_wish();
    bool take_wish_to_read();
    /// Whether the person can say who they are, as it was answered in the last frame.
    std::optional<bool> take_says();

private:
    float standing(ui::Ui& ui, ui::Box box, const Shown& shown);
    float step(ui::Ui& ui, ui::Box box, const Shown& shown);
    void buttons(ui::Ui& ui, ui::Box foot, const Shown& shown);

    std::optional<Wish> wish_;
    bool wish_to_read_ = false;
    std::optional<bool> says_;
};

} // namespace hangtime::screens
