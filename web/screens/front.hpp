#pragma once

/// The front page: every session by its drawn object and the last digits of its bag, with the next thing due in each;
/// opening one is confirmed by its object. And what concerns the machine as a whole: its clock, its store, its sound,
/// files, and clearing it.

#include "web/desk/desk.hpp"
#include "web/screens/form.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace hangtime::screens {

class Front {
public:
    explicit Front(desk::Desk& desk) : desk_(desk) {}

    void build(ui::Ui& ui, Instant machine_now, const WallClock& wall);

    /// What a session is begun with.
    enum class Begin : std::uint8_t { none, empty, join, from_plan };
    struct Wishes {
        std::string open;           // a session's key
        Begin begin = Begin::none;  // the clock is known by then
        bool plan = false, round = false, sequence = false, more = false;
        bool night = false, licences = false, clear = false, print = false;
        bool clock_answered = false;
    };
    Wishes take_wishes();

    /// Asks for the clock, if that was never done, and then wishes `what`.
    void begin(ui::Ui& ui, Begin what);
    /// The machine's clock moved by itself: it is asked for again.
    void clock_jumped();
    bool asks_for_clock() const { return asks_clock_; }
    void ask_for_clock(ui::Ui& ui);
    void cleared(const platform::Left& left);
    void say(std::string text) { message_ = std::move(text); }
    void remind(std::string text) { reminder_ = std::move(text); }
    void opened(std::string_view key) { last_opened_ = key; }
    bool page_is_front() const { return confirming_.empty() && !asks_clock_ && !clears_; }

private:
    void header(ui::Ui& ui, ui::Box box, std::string_view title, bool back);
    void list(ui::Ui& ui, ui::Box area);
    float sessions(ui::Ui& ui, ui::Box box);
    float machine(ui::Ui& ui, ui::Box box);
    float store(ui::Ui& ui, ui::Box box);
    void confirm(ui::Ui& ui, ui::Box area);
    void clock(ui::Ui& ui, ui::Box area);
    void clear(ui::Ui& ui, ui::Box area);
    void answer_clock(ui::Ui& ui, Seconds ahead);

    desk::Desk& desk_;
    Wishes wishes_;
    std::string confirming_, last_opened_, message_, reminder_;
    bool asks_clock_ = false, clears_ = false, types_clock_ = false;
    Begin then_ = Begin::none;
    Form form_;
    Instant machine_now_{}, now_{};
    WallClock wall_;
    DayClock day_;
    int scans_seen_ = 0;
};

} // namespace hangtime::screens
