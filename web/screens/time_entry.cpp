#include "web/screens/time_entry.hpp"

#include "core/words/format.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Typed;
using ui::Ui;

void TimeEntry::start(std::optional<Instant> current, const WallClock& wall) {
    before_ = at_ = current;
    other_.reset();
    refused_.clear();
    std::string text;
    if (current) {
        const LocalTime t = wall.local(*current);
        for (const int d : {t.hour / 10, t.hour % 10, t.minute / 10, t.minute % 10})
            text.push_back(static_cast<char>('0' + d));
    }
    typed_.start(ui::Digits::Kind::time, 0, 0, text);
}

void TimeEntry::read(Instant now, const WallClock& wall) {
    at_.reset();
    other_.reset();
    refused_.clear();
    const std::optional<int> minute = typed_.time();
    if (!minute)
        return;
    // The latest one that has passed, of today or yesterday; what is a little ahead is a mistake, not yesterday.
    std::optional<Instant> ahead;
    const auto away = [&](Instant t) { return t < now ? now - t : t - now; };
    for (int day = -1; day <= 1; ++day) {
        LocalTime t = civil_from_seconds((wall.local_day(now) + day) * 86400);
        t.hour = *minute / 60;
        t.minute = *minute % 60;
        const WallClock::Resolved found = wall.resolve(t);
        for (const std::optional<Instant>& one : {found.first, found.second}) {
            if (!one)
                continue;
            if (*one > now) {
                if (!ahead || away(*one) < away(*ahead))
                    ahead = one;
            } else if (!at_ || away(*one) < away(*at_)) {
                at_ = one;
                other_.reset();
                if (found.first && found.second && found.first != found.second)
                    other_ = *one == *found.first ? found.second : found.first;
            }
        }
    }
    if (other_ && *other_ > now)
        other_.reset();
    if (ahead && (!at_ || away(*ahead) < away(*at_))) {
        at_.reset();
        other_.reset();
        refused_ = "It lies ahead. Enter when it happened.";
    } else if (!at_) {
        refused_ = "The clock does not show this time.";
    }
}

float TimeEntry::height(const Ui& ui) const {
    float h = ui::keypad_height(ui);
    if (!refused_.empty())
        h += ui.line_height(Face::small) + ui.px(6);
    if (other_)
        h += ui.px(ui::row_px + ui::gap_px);
    return h;
}

Typed TimeEntry::build(Ui& ui, Box box, Instant now, const WallClock& wall, std::string_view done_label) {
    if (!refused_.empty())
        box.cut_top(ui::paragraph(ui, "time.refused", box, refused_, Face::small), ui.px(6));
    if (at_ && other_) {
        const Box row = box.cut_top(ui.px(ui::row_px), ui.px(ui::gap_px));
        const Instant early = std::min(*at_, *other_), late = std::max(*at_, *other_);
        for (int n = 0; n < 2; ++n) {
            const Instant one = n == 0 ? early : late;
            const std::string label =
                joined({n == 0 ? "first, " : "second, ", utc_offset_text(wall.offset_at(one))});
            if (ui::choice(ui, ui.id("time.twice.", n), row.cell(2, 1, n, 0, ui.px(ui::gap_px)), label, *at_ == one) &&
                *at_ != one)
                std::swap(*at_, *other_);
        }
    }
    box.h = std::min(box.h, ui::keypad_height(ui));
    const Typed typed = ui::keypad(ui, box, typed_, done_label);
    switch (typed) {
    case Typed::now: {
        const auto before = before_;
        start(now, wall);
        before_ = before;
        typed_.fresh = true;
        return Typed::changed;
    }
    case Typed::changed:
        read(now, wall);
        return typed;
    case Typed::done:
        if (typed_.text.empty())
            at_.reset();
        else if (!at_ && refused_.empty())
            refused_ = "Four digits, as 09:05.";
        return refused_.empty() && (at_ || typed_.text.empty()) ? Typed::done : Typed::changed;
    case Typed::nothing:
    case Typed::cancelled:
        break;
    }
    return typed;
}

} // namespace hangtime::screens
