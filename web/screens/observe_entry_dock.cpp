#include "core/observe/symptoms.hpp"
#include "core/report/observe_sheet.hpp"
#include "core/words/observe_words.hpp"
#include "web/screens/observe_entry.hpp"
#include "web/screens/observe_signs.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/tick.hpp"

#include <algorithm>

/// Where a sign is entered: keypad, choices, or the list of symptoms.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Typed;
using ui::Ui;
using namespace sign_entry;

float ObserveEntry::dock_height(const Ui& ui, float width) const {
    if (!editing())
        return 0;
    const float row = ui.px(ui::row_px + ui::gap_px), small = ui.line_height(Face::small);
    const float head = ui.line_height(Face::body) + ui.px(8) + small + ui.px(8);
    if (place_ == time_place)
        return head + row + time_.height(ui);
    const std::string problem = problem_text(sign());
    const float said = problem.empty() ? 0 : ui.text_height(Face::body, problem, width - ui.px(14)) + ui.px(8);
    if (is_number(sign()))
        return head + said + row + ui::keypad_height(ui);
    return head + row * static_cast<float>((choices_of(sign()).size() + 1) / 2 + 1) + 2 * small;
}

void ObserveEntry::dock(Ui& ui, Box box, const Context& c) {
    const float gap = ui.px(8);
    const bool time = place_ == time_place;
    ui::subheading(ui, "obs.question", box.cut_top(ui.line_height(Face::body), gap),
                   time ? std::string_view("When was it taken?") : question(sign()));
    std::string before = time ? "Now, unless another time is entered." : "Baseline: not recorded";
    if (!time && c.baseline && c.baseline->has(sign()))
        before = joined({"Baseline: ", value_text(*c.baseline, sign())});
    if (!time && !c.baseline)
        before = "This is the baseline, or there is none.";
    Box said = box.cut_top(ui.line_height(Face::small), gap);
    ui::paragraph(ui, "obs.before", said, before, Face::small, true);
    if (time) {
        const Box row = box.cut_top(ui.px(ui::row_px), gap);
        if (ui::button(ui, "obs.time.now", row, "It is now")) {
            at_.reset();
            go_on(ui, c);
            return;
        }
        switch (time_.build(ui, box, c.now, c.wall, "Done")) {
        case Typed::done:
            at_ = time_.at();
            go_on(ui, c);
            break;
        case Typed::cancelled:
            leave(ui);
            break;
        default:
            break;
        }
        return;
    }
    if (is_number(sign()))
        number(ui, box, c);
    else
        choices(ui, box, c);
}

void ObserveEntry::number(Ui& ui, Box box, const Context& c) {
    const float gap = ui.px(ui::gap_px);
    if (const std::string problem = problem_text(sign()); !problem.empty())
        box.cut_top(ui::caution(ui, "obs.problem", box, "Not taken", problem), gap);
    Box row = box.cut_top(ui.px(ui::row_px), gap);
    if (sign() == Sign::temperature) {
        Box units = row.cut_right(row.w * 0.44f, gap);
        for (const TemperatureUnit unit : {TemperatureUnit::celsius, TemperatureUnit::fahrenheit}) {
            const bool f = unit == TemperatureUnit::fahrenheit;
            // What was typed in one unit is no figure in the other: it is typed again.
            if (ui::choice(ui, f ? "obs.unit.f" : "obs.unit.c", units.cell(2, 1, f ? 1 : 0, 0, gap), name(unit), unit_ == unit) &&
                unit_ != unit) {
                unit_ = unit;
                unit_wished_ = unit;
                set_.temperature.reset();
                typed_.start(ui::Digits::Kind::number, 4, 1, {});
                settled_ = false;
                return;
            }
        }
    }
    const bool skip = ui::button(ui, "obs.skip", row, "Not recorded");
    box.h = std::min(box.h, ui::keypad_height(ui));
    const Typed typed = ui::keypad(ui, box, typed_, "Next");
    if (skip) {
        set_.clear(sign());
        go_on(ui, c);
        return;
    }
    switch (typed) {
    case Typed::changed:
        settled_ = false;
        refused_.clear();
        read_digits();
        break;
    case Typed::done:
        settled_ = true;
        if (problem_text(sign()).empty())
            go_on(ui, c);
        else
            typed_.fresh = true;
        break;
    case Typed::cancelled:
        give_back(c.wall);
        leave(ui);
        break;
    case Typed::nothing:
    case Typed::now:
        break;
    }
}

void ObserveEntry::choices(Ui& ui, Box box, const Context& c) {
    const float row = ui.px(ui::row_px), gap = ui.px(ui::gap_px);
    const auto all = choices_of(sign());
    const int columns = box.w < ui.px(300) ? 1 : 2;
    int taken = -1;
    bool skip = false, next = false;
    for (const platform::Event& e : ui.keys()) {
        if (e.key == platform::Key::escape) {
            give_back(c.wall);
            leave(ui);
            return;
        }
        // Who came here on a number pad stays on it.
        if (e.key == platform::Key::character && e.character >= U'0' && e.character <= U'0' + all.size()) {
            taken = static_cast<int>(e.character - U'0') - 1;
            skip = taken < 0;
        }
        next = next || (e.key == platform::Key::enter && !ui.enter_is_for_widget());
    }
    Box line{};
    for (int i = 0; i < static_cast<int>(all.size()); ++i) {
        if (i % columns == 0)
            line = box.cut_top(row, gap);
        if (ui::choice(ui, ui.id("choice.", i), line.cell(columns, 1, i % columns, 0, gap), all[static_cast<std::size_t>(i)],
                       chosen_of(set_, sign()) == i))
            taken = i;
    }
    line = box.cut_top(row, gap);
    skip = ui::button(ui, "obs.skip", line.cell(2, 1, 0, 0, gap), "Not recorded") || skip;
    next = ui::button(ui, "obs.next", line.cell(2, 1, 1, 0, gap), "Next", ui::Look::plain, set_.has(sign())) || next;
    ui::paragraph(ui, "obs.keys", box,
                  joined({"On a keyboard: 1 to ", dose_number(static_cast<std::int64_t>(all.size()), 1, 0), ", 0 for not recorded."}),
                  Face::small, true);
    if (taken >= 0)
        choose(set_, sign(), taken);
    else if (skip)
        set_.clear(sign());
    else if (!next)
        return;
    go_on(ui, c);
}

void ObserveEntry::symptoms(Ui& ui, Box box, const Context& c) {
    const float row = ui.px(ui::row_px), gap = ui.px(ui::gap_px);
    bool none = false, next = false;
    for (const platform::Event& e : ui.keys()) {
        if (e.key == platform::Key::escape) {
            give_back(c.wall);
            leave(ui);
            return;
        }
        none = none || (e.key == platform::Key::character && e.character == U'0' && !set_.symptoms);
        next = next || (e.key == platform::Key::enter && !ui.enter_is_for_widget());
    }
    ui::subheading(ui, "obs.question", box.cut_top(ui.line_height(Face::body), ui.px(4)),
                   "Ask about each group, and look. Tick what is there. On a keyboard 0 is for none.");
    Box foot = box.cut_bottom(row, gap);
    const bool none_chosen = set_.symptoms && set_.symptoms->bits == 0;
    none = ui::choice(ui, "symptoms.none", foot.cell(3, 1, 0, 0, gap), "None of these", none_chosen) || none;
    const bool skip = ui::choice(ui, "symptoms.skip", foot.cell(3, 1, 1, 0, gap), "Not asked", !set_.symptoms);
    next = ui::button(ui, "symptoms.next", foot.cell(3, 1, 2, 0, gap), "Next", ui::Look::primary,
                      set_.symptoms.has_value()) ||
           next;

    const int columns = box.w >= ui.px(1000) ? 4 : box.w >= ui.px(640) ? 3 : box.w >= ui.px(400) ? 2 : 1;
    const Box in = ui.begin_scroll("symptoms", box);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    const float top = rest.y;
    for (int g = 0; g < symptom_group_count; ++g) {
        const auto group = static_cast<SymptomGroup>(g);
        ui::subheading(ui, ui.keep(joined({"symptoms.", code(group)})), rest.cut_top(ui.line_height(Face::small), ui.px(4)),
                       name(group));
        int column = 0;
        Box line{};
        std::array<Symptom, symptom_count> of_group{};
        int count = 0;
        for (int i = 0; i < symptom_count; ++i)
            if (facts_of(static_cast<Symptom>(i)).group == group)
                of_group[static_cast<std::size_t>(count++)] = static_cast<Symptom>(i);
        for (int i = 0; i < count; ++i) {
            const Symptom s = of_group[static_cast<std::size_t>(i)];
            if (column == 0) {
                float h = row;
                for (int k = i; k < std::min(i + columns, count); ++k) {
                    ui::Tick t;
                    t.label = name(of_group[static_cast<std::size_t>(k)]);
                    h = std::max(h, ui::tick_height(ui, (rest.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns), t));
                }
                line = rest.cut_top(h, gap);
            }
            ui::Tick t;
            t.label = name(s);
            t.ticked = set_.symptoms && set_.symptoms->has(s);
            if (ui::tick(ui, ui.keep(joined({"symptom.", code(s)})), line.cell(columns, 1, column, 0, gap), t)) {
                Symptoms now = set_.symptoms.value_or(Symptoms{});
                if (t.ticked)
                    now.bits &= ~(std::uint64_t{1} << static_cast<unsigned>(s));
                else
                    now.add(s);
                // Taking the last tick back is not the same as having found none: that is said by its own button.
                set_.symptoms = now.bits == 0 ? std::nullopt : std::optional(now);
            }
            column = (column + 1) % columns;
        }
        rest.cut_top(ui.px(4));
    }
    ui.end_scroll(rest.y - top);
    // Over ticks that are there it clears them, and they are seen to be gone before it leads on.
    const bool ticked = set_.symptoms && set_.symptoms->bits != 0;
    if (none)
        set_.symptoms = Symptoms{};
    else if (skip)
        set_.symptoms.reset();
    if (((none || skip) && !ticked) || (next && set_.symptoms))
        go_on(ui, c);
}

} // namespace hangtime::screens
