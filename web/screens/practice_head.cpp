#include "web/screens/practice_head.hpp"

#include "core/rehearse/cards.hpp"
#include "core/words/format.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/words.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/practice_band.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr float margin = 12;
std::string seconds_text(Instant at, const WallClock& wall) {
    const LocalTime t = wall.local(at);
    const auto two = [](int n) { return std::string{static_cast<char>('0' + n / 10), static_cast<char>('0' + n % 10)}; };
    return joined({two(t.hour), ":", two(t.minute), ":", two(t.second)});
}

// The bag that came last: its card and its tag's, the same that are printed.
std::optional<PracticeBag> last_bag(const rehearse::Scene& scene) {
    const Rehearsal& r = scene.rehearsal();
    std::string_view came;
    for (const Told& told : r.told())
        if (told.record && r.happening(told.happening).record->kind == EventKind::issued)
            came = r.happening(told.happening).id;
    std::optional<PracticeBag> out;
    for (PracticeBag& bag : practice_bags(scene.scenario(), r.seed()))
        if (bag.happening == came)
            out = std::move(bag);
    return out;
}

// As it is printed, with the check character in its box.
std::string number_text(const PracticeLabel& label) {
    DonationNumber number;
    if (label.number.size() != number.text.size())
        return label.number;
    std::copy(label.number.begin(), label.number.end(), number.text.begin());
    const std::string_view all = number.view();
    return joined({all.substr(0, 5), " ", all.substr(5, 2), " ", all.substr(7), " ", std::string(1, check_character(number))});
}

} // namespace

PracticeHead::Wishes PracticeHead::take_wishes() {
    const Wishes w = wishes_;
    wishes_ = {};
    return w;
}

void PracticeHead::build(Ui& ui, const Shown& shown) {
    const bool narrow = ui.head().w < ui.px(700);
    const float gap = ui.px(6), row = ui.px(ui::row_px - 2), small = ui.line_height(Face::small);
    const float word = ui.line_height(Face::title) + ui.px(4);
    const std::string real =
        shown.reminder.empty() ? std::string() : joined({"A real session, now: ", shown.reminder});
    std::string about(rehearsal_sentence());
    if (shown.scene && shown.scene->on())
        // By its number: the title of many a case says what will go wrong.
        about = joined({"Case ", std::to_string(case_number(shown.scene->scenario(), shown.scene->rehearsal().seed())),
                        ". Reminders of real sessions still come here."});
    const float inner = ui.head().w - 2 * ui.px(margin);
    const float real_h = real.empty() ? 0 : ui.text_height(Face::body, real, inner - ui.px(14)) + gap;
    const float about_h = ui.text_height(Face::small, about, inner);
    const bool moves = shown.clock && shown.scene && shown.scene->on();
    float height = ui.px(6) + about_h + gap + ui.px(ui::practice_band_px) + real_h;
    height += moves ? row + gap + (narrow ? row + gap : 0) : word + gap;
    if (shown.labels)
        height += small * 3 + ui.px(14) + gap;
    ui.set_head(height);
    Box box = ui.head();
    ui::practice_band(ui, box.cut_bottom(ui.px(ui::practice_band_px), 0));
    box = {box.x + ui.px(margin), box.y + ui.px(6), inner, box.h - ui.px(6)};

    Box line = box.cut_top(moves ? row : word, gap);
    const float h = ui.line_height(Face::title), w = ui.text_width(Face::title, "Rehearsal");
    Box at = line.cut_left(w + ui.px(4), ui.px(14));
    at = {at.x, at.y + (at.h - h) / 2, at.w, h};
    ui.note({.id = "rehearsal", .label = "Rehearsal", .value = shown.scene && shown.scene->on() ? "not real" : "",
             .role = ui::Role::subheading, .box = at});
    ui.put_text(at, Face::title, ui.palette().primary, "Rehearsal");
    if (moves) {
        clock(ui, line, *shown.scene);
        if (narrow)
            line = box.cut_top(row, gap);
        const rehearse::Scene& scene = *shown.scene;
        const float cell = narrow ? (line.w - 5 * gap) / 6 : ui.px(54);
        const bool ahead = scene.next_due().has_value() && !scene.said();
        if (ui::button(ui, "clock.next", line.cut_right(narrow ? cell : ui.px(92), gap), narrow ? "Next" : "Next due",
                       ui::Look::plain, ahead, "To what is due next"))
            wishes_.jump = true;
        for (std::size_t i = rehearse::speeds.size(); i-- > 0;) {
            const int times = rehearse::speeds[i];
            const std::string label = joined({std::to_string(times), "\xC3\x97"});
            const bool now = scene.speed() == times && !scene.paused();
            if (ui::tab(ui, ui.id("clock.speed.", times), line.cut_right(cell, gap), ui.keep(label), now))
                wishes_.speed = times;
        }
    }
    ui.note({.id = "rehearsal.about", .label = about, .role = ui::Role::text, .box = box.cut_top(about_h, gap)});
    ui.put_text(ui.nodes().now().back().box, Face::small, ui.palette().quiet, about, ui::Align::left, true);
    if (!real.empty())
        box.cut_top(ui::caution(ui, "reminder.real", box, "", real), gap);
    if (shown.labels && shown.scene && shown.scene->on())
        labels(ui, box.cut_top(small * 3 + ui.px(14), gap), *shown.scene);
}

void PracticeHead::clock(Ui& ui, Box& line, const rehearse::Scene& scene) {
    const std::string time = seconds_text(scene.now(), scene.scenario().wall);
    const float h = ui.line_height(Face::title), w = ui.text_width(Face::title, "00:00:00") + ui.px(4);
    Box at = line.cut_left(w, ui.px(12));
    at = {at.x, at.y + (at.h - h) / 2, at.w, h};
    const std::string pace = scene.stands() ? std::string("stands still") : joined({std::to_string(scene.speed()), " times"});
    ui.note({.id = "clock.simulated", .label = "Simulated clock", .value = ui.keep(joined({time, ", ", pace})),
             .role = ui::Role::text, .box = at});
    ui.put_text(at, Face::title, ui.palette().ink, time);
    const bool stands = scene.paused();
    if (ui::button(ui, "clock.pause", line.cut_left(ui.px(92), ui.px(10)), stands ? "Go on" : "Pause",
                   ui::Look::plain, !scene.said()))
        wishes_.paused = !stands;
}

// Bag and tag as they would hang there; whoever reads them finds out by themselves whether they are alike.
void PracticeHead::labels(Ui& ui, Box box, const rehearse::Scene& scene) {
    const std::optional<PracticeBag> bag = last_bag(scene);
    if (!bag)
        return;
    ui::sheet(ui, box);
    Box in = box.inset(ui.px(10), ui.px(6));
    const float small = ui.line_height(Face::small), name_w = ui.text_width(Face::small, "In front of you") + ui.px(8);
    const float shares[] = {0.34f, 0.2f, 0.22f, 0.24f};
    const auto row = [&](std::string_view id, std::string_view what, const PracticeLabel* data) {
        Box line = in.cut_top(small, ui.px(1));
        const Box all = line;
        ui.put_text(line.cut_left(name_w, ui.px(6)), Face::small, ui.palette().quiet, what);
        std::string said;
        const float w = line.w;
        const std::string texts[] = {data ? number_text(*data) : "Donation number", data ? data->product : "Product code",
                                     data ? data->group_words : "Group", data ? data->expiry_words : "Expiry"};
        for (std::size_t i = 0; i < std::size(texts); ++i) {
            const std::string& text = texts[i];
            ui.put_text(line.cut_left(w * shares[i]), Face::small, data ? ui.palette().ink : ui.palette().quiet, text);
            said += joined({said.empty() ? "" : ", ", text});
        }
        if (data)
            ui.note({.id = id, .label = what, .value = ui.keep(said), .role = ui::Role::text, .box = all});
    };
    row("", "In front of you", nullptr);
    row("practice.bag", "The bag", &bag->bag);
    row("practice.tag", "The tag", &bag->tag);
}

} // namespace hangtime::screens
