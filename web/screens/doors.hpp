#pragma once

/// "More": what is not needed at a bedside, each behind a door with a name. A new one is a line in doors.cpp.

#include "core/clock.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>

namespace hangtime::screens {

enum class Door : std::uint8_t { rehearse, protocols, review, a_class };

class Doors {
public:
    void build(ui::Ui& ui, Instant now, const WallClock& wall);

    struct Wishes {
        std::optional<Door> through;
        bool back = false, night = false;
    };
    Wishes take_wishes();
    /// A reminder of a real session; empty: none.
    void remind(std::string text) { reminder_ = std::move(text); }

private:
    void header(ui::Ui& ui, ui::Box box, Instant now, const WallClock& wall);

    Wishes wishes_;
    std::string reminder_;
};

} // namespace hangtime::screens
