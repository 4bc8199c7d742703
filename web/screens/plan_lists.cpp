#include "core/plan/plan_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/plan.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>
#include <cmath>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

// --- what comes next ----------------------------------------------------------------------------------

float Plan::next_steps(Ui& ui, Box box) {
    const Reckoning& r = reckoning_;
    if (!r.planned || r.next.empty())
        return 0;
    const float top = box.y, row = ui.line_height(Face::body) + ui.px(9);
    ui::subheading(ui, "next", box.cut_top(ui.line_height(Face::small), ui.px(6)), "What comes next");
    const float column = ui.text_width(Face::body, "00:00:00") + ui.px(14);
    int n = 0;
    for (const Step& s : r.next) {
        if (box.h < row || n == 8)
            break;
        Box line = box.cut_top(row);
        const std::string time = clock_text(s.at, day_);
        std::string what(name(s.kind));
        if (s.kind == StepKind::check && s.check >= 0) {
            what = check_title(r.checks[static_cast<std::size_t>(s.check)].kind);
        } else if (s.rate.units_per_s > 0) {
            for (const Stage& stage : r.stages)
                if (stage.rate == s.rate) {
                    what.append(s.kind == StepKind::start ? " at " : " to ")
                        .append(stage.drops_per_min > 0 ? drops_text(stage.drops_per_min)
                                                        : rate_text(stage.rate));
                    break;
                }
        }
        ui.note({.id = ui.id("next.", n), .label = time, .value = what, .role = ui::Role::text, .box = line});
        if (n == 0)
            ui.draw_bar({line.x, line.y + ui.px(1), ui.px(4), row - ui.px(6)});
        line.cut_left(ui.px(14));
        ui.put_text(line.cut_left(column), Face::body, ui.palette().ink, time);
        const Face face = ui.text_width(Face::body, what) > line.w ? Face::small : Face::body;
        ui.put_text(line, face, n == 0 ? ui.palette().ink : ui.palette().quiet, what);
        ++n;
    }
    return box.y - top;
}

// --- the lists ------------------------------------------------------------------------------------------

float Plan::windows(Ui& ui, Box box, int columns) {
    const Reckoning& r = reckoning_;
    if (r.windows.empty())
        return 0;
    const float top = box.y, height = ui::window_bar_height(ui);
    ui::subheading(ui, "windows", box.cut_top(ui.line_height(Face::small), ui.px(4)),
                   "Limits, each with the event it counts from");
    int n = 0;
    Box line{};
    for (const Window& w : r.windows) {
        if (n % columns == 0)
            line = box.cut_top(height, ui.px(ui::gap_px));
        const std::string_view id = ui.id("window.", n);
        ui::WindowBar bar;
        std::string label(name(w.kind));
        std::string value = w.latest ? clock_text(*w.latest, day_) : std::string(not_recorded_text);
        std::string note = "from ";
        note.append(name(w.from));
        if (w.latest && w.state != WindowState::not_running) {
            note.append(", ").append(w.state == WindowState::met ? std::string(name(w.state))
                                                                 : left_or_passed(*w.latest, now_));
        }
        if (!w.kept)
            note.append(", the plan is later");
        bar.label = label;
        bar.value = value;
        bar.note = note;
        if (w.opened && w.latest) {
            bar.from = w.opened->utc;
            bar.latest = w.latest->utc;
            bar.running = *w.opened <= now_;
        }
        bar.now = now_.utc;
        bar.open = is_open(id);
        std::string about = label + ", counted from ";
        about.append(name(w.from));
        offer_sum(id, about, w.sum);
        if (ui::window_bar(ui, id, line.cell(columns, 1, n % columns, 0, ui.px(16)), bar))
            touched(id);
        ++n;
    }
    return box.y - top;
}

float Plan::checks(Ui& ui, Box box, int columns) { return check_list(ui, box, reckoning_, day_, columns); }

float Plan::notes(Ui& ui, Box box) { return warning_list(ui, box, reckoning_, day_); }

} // namespace hangtime::screens
