#pragma once

/// A time of day on the keypad, where something happened at another time than now. The nearest such moment is meant;
/// one that lies ahead is refused, and of one that the clock shows twice the later one that has passed is taken, until
/// the other one is touched.

#include "core/clock.hpp"
#include "web/widgets/keypad.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>

namespace hangtime::screens {

class TimeEntry {
public:
    void start(std::optional<Instant> current, const WallClock& wall);

    /// Keys, and what is said about them. `done` only where the time is one that can be taken.
    ui::Typed build(ui::Ui& ui, ui::Box box, Instant now, const WallClock& wall, std::string_view done_label);
    float height(const ui::Ui& ui) const;

    std::optional<Instant> at() const { return at_; }
    const std::string& refused() const { return refused_; }
    std::string shown() const { return typed_.shown(); }
    /// A scan began to be typed into it: what stood there before comes back.
    void give_back(const WallClock& wall) { start(before_, wall); }

private:
    void read(Instant now, const WallClock& wall);

    ui::Digits typed_;
    std::optional<Instant> at_, other_, before_;
    std::string refused_;
};

} // namespace hangtime::screens
