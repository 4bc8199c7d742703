#include "core/words/words.hpp"
#include "web/screens/plan.hpp"
#include "web/widgets/controls.hpp"

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Typed;
using ui::Ui;

int Plan::main_fields(Field out[5]) const {
    int n = 0;
    for (const Field f : {Field::component, Field::volume, Field::issued, Field::start})
        out[n++] = f;
    // Where a rule needs the weight it is one more entry; otherwise nothing else is asked for first.
    if (entries_.protocol().children || reckoning_.missing.weight)
        out[n++] = Field::weight;
    return n;
}

Field Plan::first_missing() const {
    if (!entries_.has_component())
        return Field::component;
    if (entries_.not_covered())
        return Field::none;
    const State& s = entries_.state();
    if (!s.unit.bag)
        return Field::volume;
    if (!s.times.issued)
        return Field::issued;
    if (!s.times.start)
        return Field::start;
    if (reckoning_.missing.weight)
        return Field::weight;
    return Field::none;
}

float Plan::four_height(const Ui& ui, int columns) const {
    Field fields[5];
    const int rows = (main_fields(fields) + columns - 1) / columns;
    return static_cast<float>(rows) * ui::entry_height(ui) + static_cast<float>(rows - 1) * ui.px(ui::gap_px);
}

void Plan::four(Ui& ui, Box box, int columns) {
    Field fields[5];
    const int count = main_fields(fields), rows = (count + columns - 1) / columns;
    for (int i = 0; i < count; ++i) {
        const bool last_alone = columns == 2 && i == count - 1 && count % 2 == 1;
        draw_entry(ui,
                   box.cell(columns, rows, i % columns, i / columns, ui.px(ui::gap_px), last_alone ? 2 : 1),
                   fields[i]);
    }
}

void Plan::draw_entry(Ui& ui, Box box, Field field) {
    const FieldWords& w = words_of(field);
    std::string value = entries_.value(field, day_);
    const std::string refusal = entries_.refusal(field);
    ui::Entry e;
    std::string_view unit = w.unit;
    if (field == field_ && w.kind != EntryKind::choice) {
        const std::string shown = digits_.shown();
        if (!digits_.fresh || value.empty())
            value = shown;
        e.editing = true;
        if (value.empty()) {
            e.empty = w.kind == EntryKind::time ? "--:--" : "0";
            unit = {};
        }
    } else if (field == field_) {
        e.editing = true;
    }
    e.typed = w.kind != EntryKind::choice;
    e.label = w.label;
    e.value = value;
    e.unit = unit;
    e.wanted = field_ == Field::none && field == first_missing();
    e.refused = !refusal.empty();
    e.note = refusal;
    if (e.note.empty() && entries_.twice(field))
        e.note = "comes twice";
    if (field == Field::protocol && !entries_.protocol().adopted)
        e.note = "example, not adopted";
    if (field == Field::start && e.note.empty() && field != field_ && reckoning_.planned &&
        reckoning_.start > now_)
        e.note = "planned";
    if (ui::entry(ui, w.id, box, e)) {
        if (field_ == field)
            close(ui);
        else
            open(ui, field);
    }
}

void Plan::open(Ui& ui, Field field) {
    field_ = field;
    scan_said_ = false;
    before_ = entries_;
    const FieldWords& w = words_of(field);
    if (w.kind != EntryKind::choice)
        digits_.start(w.kind == EntryKind::time ? ui::Digits::Kind::time : ui::Digits::Kind::number, w.whole,
                      w.places, entries_.digits(field));
    ui.scroll_to_top("choices");
    if (w.kind == EntryKind::choice) { // the keyboard goes on in the list, at what is chosen
        const auto choices = entries_.choices(field);
        int at = -1;
        for (int i = static_cast<int>(choices.size()) - 1; i >= 0; --i) {
            const Entries::Choice& c = choices[static_cast<std::size_t>(i)];
            if (!c.heading && (at < 0 || c.chosen || !choices[static_cast<std::size_t>(at)].chosen))
                at = i;
        }
        ui.want_focus(ui.id("choice.", at));
    } else {
        ui.want_focus(w.id);
    }
    ui.reveal(w.id);
    ui.change_screen(false);
}

void Plan::close(Ui& ui) {
    if (field_ == Field::none)
        return;
    ui.want_focus(words_of(field_).id);
    field_ = Field::none;
    before_.reset();
    ui.change_screen(false);
}

void Plan::close_and_go_on(Ui& ui) {
    const Field done = field_;
    close(ui);
    const Field next = first_missing();
    Field fields[5];
    const int count = main_fields(fields);
    for (int i = 0; i < count; ++i)
        if (fields[i] == done && next != Field::none && next != done)
            open(ui, next);
}

float Plan::dock_height(const Ui& ui, float width) const {
    const float head = ui.line_height(Face::body) + ui.px(8);
    if (words_of(field_).kind != EntryKind::choice)
        return head + ui::keypad_height(ui) +
               (entries_.twice(field_) ? ui.line_height(Face::small) + ui.px(6 + ui::row_px + ui::gap_px) : 0);
    const auto choices = entries_.choices(field_);
    const int columns = width < ui.px(300) ? 1 : 2;
    float h = head;
    int in_row = 0;
    for (const Entries::Choice& c : choices) {
        if (c.heading) {
            h += (in_row > 0 ? ui.px(ui::row_px + ui::gap_px) : 0) + ui.line_height(Face::small) + ui.px(6);
            in_row = 0;
        } else if (++in_row == columns) {
            h += ui.px(ui::row_px + ui::gap_px);
            in_row = 0;
        }
    }
    return h + (in_row > 0 ? ui.px(ui::row_px + ui::gap_px) : 0);
}

void Plan::dock(Ui& ui, Box box) {
    const FieldWords& w = words_of(field_);
    Box head = box.cut_top(ui.line_height(Face::body), ui.px(8));
    std::string title(w.label);
    if (!w.unit.empty())
        title.append(", ").append(w.unit);
    ui::subheading(ui, "dock", head, title);
    const Field field = field_;

    if (w.kind != EntryKind::choice) {
        const bool goes_on = [&] {
            const Field next = first_missing();
            return next != Field::none && next != field;
        }();
        // On the night on which the clock is put back an hour comes twice: which one is meant is asked for.
        if (const auto twice = entries_.twice(field)) {
            ui::subheading(ui, "twice", box.cut_top(ui.line_height(Face::small), ui.px(6)),
                           "The clock shows this time twice. Which one?");
            const Box row = box.cut_top(ui.px(ui::row_px), ui.px(ui::gap_px));
            for (int n = 0; n < 2; ++n) {
                std::string label = n == 0 ? "first, " : "second, ";
                label += utc_offset_text(wall_.offset_at(twice->moments[n]));
                if (ui::choice(ui, ui.id("twice.", n), row.cell(2, 1, n, 0, ui.px(ui::gap_px)), label,
                               twice->taken == n))
                    entries_.take_moment(field, twice->moments[n]);
            }
        }
        const Typed typed = ui::keypad(ui, box, digits_, goes_on ? "Next" : "Done");
        if (typed == Typed::now) {
            const LocalTime t = wall_.local(now_);
            digits_.start(ui::Digits::Kind::time, 0, 0, "");
            for (const int d : {t.hour / 10, t.hour % 10, t.minute / 10, t.minute % 10})
                digits_.type(U'0' + static_cast<char32_t>(d));
        }
        if (typed == Typed::changed || typed == Typed::now) {
            scan_said_ = false;
            entries_.type(field, digits_);
        }
        if (typed == Typed::done && entries_.refusal(field).empty())
            close_and_go_on(ui);
        if (typed == Typed::cancelled) {
            const Entries kept = *before_;
            entries_ = kept;
            close(ui);
        }
        return;
    }

    for (const platform::Event& e : ui.keys())
        if (e.key == platform::Key::escape) {
            close(ui);
            return;
        }
    const auto choices = entries_.choices(field);
    const int columns = box.w < ui.px(300) ? 1 : 2;
    const float row = ui.px(ui::row_px), gap = ui.px(ui::gap_px);
    Box rest = ui.begin_scroll("choices", box);
    rest.h = 1e6f;
    const float top = rest.y;
    int in_row = 0;
    Box line{};
    int taken = -1;
    for (std::size_t i = 0; i < choices.size(); ++i) {
        const Entries::Choice& c = choices[i];
        if (c.heading) {
            in_row = 0;
            ui::subheading(ui, ui.id("choice.", static_cast<int>(i)),
                           rest.cut_top(ui.line_height(Face::small), ui.px(6)), c.label);
            continue;
        }
        if (in_row == 0)
            line = rest.cut_top(row, gap);
        if (ui::choice(ui, ui.id("choice.", static_cast<int>(i)), line.cell(columns, 1, in_row, 0, gap),
                       c.label, c.chosen))
            taken = static_cast<int>(i);
        in_row = (in_row + 1) % columns;
    }
    ui.end_scroll(rest.y - top);
    if (taken >= 0) {
        const Field next = entries_.choose(field, taken);
        if (next != Field::none)
            open(ui, next);
        else
            close_and_go_on(ui);
    }
}

float Plan::more(Ui& ui, Box box, int columns) {
    struct Group {
        std::string_view id, title;
        Field fields[7];
    };
    static constexpr Group groups[] = {
        {"more.order", "The order", {Field::pace, Field::counts_from, Field::dose, Field::most_rate}},
        {"more.person",
         "The person",
         {Field::weight, Field::estimated, Field::risk, Field::report, Field::gauge}},
        {"more.set",
         "Set and device",
         {Field::device, Field::step, Field::drops, Field::line, Field::primed, Field::cleared, Field::lost}},
        {"more.bag", "The bag", {Field::left_storage, Field::thawed, Field::spiked, Field::expires}},
    };
    const float height = ui::entry_height(ui), gap = ui.px(ui::gap_px);
    Box rest = box;
    rest.h = 1e6f;
    rest.w -= ui.px(10);
    for (const Group& g : groups) {
        ui::subheading(ui, g.id, rest.cut_top(ui.line_height(Face::small), ui.px(5)), g.title);
        int in_row = 0;
        Box line{};
        for (const Field f : g.fields) {
            if (f == Field::none || !entries_.applies(f))
                continue;
            if (in_row == 0)
                line = rest.cut_top(height, gap);
            // A number that belongs to a choice is typed in that choice's place.
            Field shown = f;
            if (f == Field::pace && (field_ == Field::duration || field_ == Field::rate))
                shown = field_;
            if (f == Field::dose && (field_ == Field::dose_ml || field_ == Field::dose_ml_per_kg))
                shown = field_;
            if (f == Field::line && field_ == Field::line_ml)
                shown = field_;
            if (f == Field::expires && field_ == Field::expires_time)
                shown = field_;
            draw_entry(ui, line.cell(columns, 1, in_row, 0, gap), shown);
            in_row = (in_row + 1) % columns;
        }
        rest.cut_top(ui.px(6));
    }
    return rest.y - box.y;
}

} // namespace hangtime::screens
