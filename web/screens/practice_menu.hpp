#pragma once

/// Beside the screens of the session that is rehearsed: what was said so far, the way on and out, and the educator's
/// console.
///
/// The console is a drawer of the same window, opened by the key E or from here. From a local file two windows cannot
/// be counted on to share a channel (none in one engine, only for the same file in another), and a class has one
/// file on a stick.

#include "web/rehearse/scene.hpp"
#include "web/screens/form.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>

namespace hangtime::screens {

class PracticeMenu {
public:
    struct Wishes {
        bool go_on = false, end = false, give_up = false, night = false, console = false, close_console = false;
        std::optional<Happening> inject;
        std::optional<std::string> discuss;
    };
    Wishes take_wishes();

    void menu(ui::Ui& ui, ui::Box area, const rehearse::Scene& scene);
    /// What is said, on a card of its own. True when it was heard.
    bool card(ui::Ui& ui, ui::Box area, const rehearse::Scene& scene);
    void console(ui::Ui& ui, ui::Box area, const rehearse::Scene& scene);

private:
    Wishes wishes_;
    bool asks_to_give_up_ = false;
};

/// What an educator can let happen, made for this scenario; the label is what stands on its button.
struct Injectable {
    std::string label;
    Happening happening;
};
std::vector<Injectable> injectables(const rehearse::Scene& scene);

} // namespace hangtime::screens
