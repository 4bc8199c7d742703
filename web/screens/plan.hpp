#pragma once

/// The first screen: from four entries to when to start, when to be all in, what to set, what comes next, and
/// whether it fits.

#include "core/reckon/reckoning.hpp"
#include "web/screens/plan_entries.hpp"
#include "web/screens/reckoned.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/timeline.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtime::screens {

class Plan {
public:
    /// `protocols` is not empty and must outlive this.
    explicit Plan(const std::vector<Protocol>& protocols) : entries_(protocols) {}

    /// One frame. `now` and `wall` are the machine's.
    void build(ui::Ui& ui, Instant now, const WallClock& wall);

    const Entries& entries() const { return entries_; }
    const Reckoning& reckoning() const { return reckoning_; }
    const DayClock& day() const { return day_; }

    /// What the person asked for in the last frame.
    struct Wishes {
        bool print = false, licences = false, toggle_night = false, sessions = false, go_on = false;
    };
    Wishes take_wishes();
    /// How many sessions are on this machine: said on the button that leads to them.
    void tell_sessions(std::size_t count) { sessions_ = count; }

private:
    // plan.cpp: the arrangement
    void wide(ui::Ui& ui, ui::Box area);
    void narrow(ui::Ui& ui, ui::Box area);
    void header(ui::Ui& ui, ui::Box box);
    void footer(ui::Ui& ui, ui::Box box);
    void lead_on(ui::Ui& ui, ui::Box box, bool sessions);
    std::string sessions_label() const;
    float footer_height(ui::Ui& ui, float width) const;

    // plan_dock.cpp: entries, and where they are typed
    void four(ui::Ui& ui, ui::Box box, int columns);
    float four_height(const ui::Ui& ui, int columns) const;
    float more(ui::Ui& ui, ui::Box box, int columns);
    void draw_entry(ui::Ui& ui, ui::Box box, Field field);
    void dock(ui::Ui& ui, ui::Box box);
    float dock_height(const ui::Ui& ui, float width) const;
    void open(ui::Ui& ui, Field field);
    void close(ui::Ui& ui);
    void close_and_go_on(ui::Ui& ui);
    Field first_missing() const;
    int main_fields(Field out[5]) const;

    // plan_answers.cpp: what follows
    float answers(ui::Ui& ui, ui::Box box, bool large);
    void big_answers(ui::Ui& ui, ui::Box box, int columns);
    void trouble_answers(ui::Ui& ui, ui::Box first, ui::Box second);
    void draw_timeline(ui::Ui& ui, ui::Box box);
    static std::string left_or_passed(Instant latest, Instant now);

    // plan_verdict.cpp
    void tell_verdict();
    void say_verdict(ui::Ui& ui, ui::Box box);
    float verdict_height(ui::Ui& ui, float width);

    // plan_lists.cpp: what stands in lists
    float next_steps(ui::Ui& ui, ui::Box box);
    float windows(ui::Ui& ui, ui::Box box, int columns);
    float checks(ui::Ui& ui, ui::Box box, int columns);
    float notes(ui::Ui& ui, ui::Box box);
    bool is_open(std::string_view id) const { return open_sum_ == id; }
    void touched(std::string_view id);
    void offer_sum(std::string_view id, std::string_view about, const Sum& sum);

    Entries entries_;
    Reckoning reckoning_;
    Instant now_{};
    WallClock wall_;
    DayClock day_;
    bool more_ = false;         // the further entries are shown
    Field field_ = Field::none; // being entered
    ui::Digits digits_;
    std::optional<Entries> before_; // as it was when the field was opened
    std::string open_sum_;          // the answer whose sum is shown
    std::string about_, sum_;       // its words, found while the answers are drawn
    Told told_;
    std::size_t sessions_ = 0;
    int scans_seen_ = 0;
    bool scan_said_ = false;
    Wishes wishes_;
};

} // namespace hangtime::screens
