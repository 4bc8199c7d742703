#include "web/screens/doors.hpp"

#include "core/words/format.hpp"
#include "core/words/words.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/object.hpp"

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

struct Way {
    Door to;
    std::string_view id, name, says;
};

constexpr Way doors[] = {
    {Door::rehearse, "more.rehearse", "Rehearse", "A transfusion on a simulated clock, and what came of it"},
    {Door::a_class, "more.class", "A class", "Saved results of a rehearsal, taken together; nobody is named"},
    {Door::review, "more.review", "Review", "Past sessions: how often limits and checks were kept, by component and protocol"},
    {Door::protocols, "more.protocols", "Local rules", "To read, to change for your ward, to compare, and to keep"},
};

} // namespace

Doors::Wishes Doors::take_wishes() {
    const Wishes w = wishes_;
    wishes_ = {};
    return w;
}

void Doors::header(Ui& ui, Box box, Instant now, const WallClock& wall) {
    const float gap = ui.px(ui::gap_px);
    if (ui::button(ui, "more.back", box.cut_left(ui.px(110), gap), "Sessions"))
        wishes_.back = true;
    if (ui::button(ui, "page.ground", box.cut_right(ui.px(72), gap), ui.night() ? "Day" : "Night", ui::Look::plain, true,
                   ui.night() ? "Day colours" : "Night colours"))
        wishes_.night = true;
    const float h = ui.line_height(Face::title);
    const std::string clock = minute_text(now, DayClock(wall, now));
    Box time = box.cut_right(ui.text_width(Face::title, clock) + ui.px(8), gap);
    time = {time.x, box.y + (box.h - h) / 2, time.w, h};
    ui.note({.id = "clock", .label = "It is", .value = clock, .role = ui::Role::text, .box = time});
    ui.put_text(time, Face::title, ui.palette().ink, clock);
    const Box line = {box.x, time.y, box.w, h};
    ui.note({.id = "title", .label = "More", .role = ui::Role::heading, .box = line});
    ui.put_text(line, Face::title, ui.palette().ink, "More");
}

void Doors::build(Ui& ui, Instant now, const WallClock& wall) {
    ui.set_editing(false);
    const float gap = ui.px(ui::gap_px);
    Box area = ui.screen().inset(ui.px(12), ui.px(6));
    header(ui, area.cut_top(ui.px(48), ui.px(8)), now, wall);
    const Box in = ui.begin_scroll("more", area);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    if (!reminder_.empty())
        rest.cut_top(ui::caution(ui, "reminder", rest, "", reminder_), ui.px(12));
    for (const Way& way : doors)
        if (ui::session_row(ui, way.id, rest.cut_top(ui.px(84), gap), std::nullopt, way.name, way.says, ""))
            wishes_.through = way.to;
    std::string text;
    for (std::size_t i = 0; i < caution_count; ++i)
        text.append(i > 0 ? " " : "").append(caution(i));
    rest.cut_top(ui::paragraph(ui, "caution", rest, text, Face::small, true), gap);
    ui.end_scroll(rest.y - in.y);
    ui.announce(!reminder_.empty() ? std::string_view(reminder_) : "More");
}

} // namespace hangtime::screens
