#include "web/screens/form.hpp"

#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Typed;
using ui::Ui;
using Kind = FormField::Kind;

namespace {

constexpr std::int64_t tens(int places) { return places <= 0 ? 1 : 10 * tens(places - 1); }

int columns_of(const Ui& ui, float width) { return width < ui.px(300) ? 1 : 2; }

} // namespace

void Form::clear() {
    fields_.clear();
    editing_ = -1;
    before_.reset();
}

FormField& Form::number(std::string_view id, std::string_view label, std::string_view unit, int whole, int places,
                        std::int64_t least, std::int64_t most, std::string_view accepted,
                        std::optional<std::int64_t> value) {
    FormField f;
    f.kind = Kind::number;
    f.id = id, f.label = label, f.unit = unit, f.accepted = accepted;
    f.whole = whole, f.places = places, f.least = least, f.most = most;
    f.typed.start(ui::Digits::Kind::number, whole, places, value ? dose_number(*value, tens(places), places) : "");
    fields_.push_back(std::move(f));
    return fields_.back();
}

FormField& Form::code(std::string_view id, std::string_view label, int digits, std::string_view value) {
    FormField f;
    f.kind = Kind::code;
    f.id = id, f.label = label, f.whole = digits;
    f.typed.start(ui::Digits::Kind::code, digits, 0, value);
    fields_.push_back(std::move(f));
    return fields_.back();
}

FormField& Form::time(std::string_view id, std::string_view label, std::optional<Instant> value) {
    FormField f;
    f.kind = Kind::time;
    f.id = id, f.label = label;
    f.typed.start(ui::Digits::Kind::time, 0, 0, "");
    f.at = value;
    fields_.push_back(std::move(f));
    return fields_.back();
}

FormField& Form::choice(std::string_view id, std::string_view label, std::vector<std::string> choices, int chosen) {
    FormField f;
    f.kind = Kind::choice;
    f.id = id, f.label = label, f.choices = std::move(choices), f.chosen = chosen;
    fields_.push_back(std::move(f));
    return fields_.back();
}

const FormField* Form::find(std::string_view id) const {
    for (const FormField& f : fields_)
        if (f.id == id && shown(f))
            return &f;
    return nullptr;
}

bool Form::has(std::string_view id) const { return find(id) != nullptr; }

std::optional<std::int64_t> Form::number(std::string_view id) const {
    const FormField* f = find(id);
    return f && f->refused.empty() ? f->typed.number() : std::nullopt;
}
std::string_view Form::code(std::string_view id) const {
    const FormField* f = find(id);
    return f ? std::string_view(f->typed.text) : std::string_view();
}
std::optional<Instant> Form::time(std::string_view id) const {
    const FormField* f = find(id);
    return f ? f->at : std::nullopt;
}
int Form::chosen(std::string_view id) const {
    for (const FormField& f : fields_)
        if (f.id == id)
            return f.chosen;
    return -1;
}
int Form::count(std::string_view id) const {
    for (const FormField& f : fields_)
        if (f.id == id)
            return static_cast<int>(f.choices.size());
    return 0;
}
void Form::choose(std::string_view id, int place) {
    for (FormField& f : fields_)
        if (f.id == id)
            f.chosen = place;
}

void Form::put(std::string_view id, std::string_view digits) {
    for (FormField& f : fields_) {
        if (f.id != id || f.kind == Kind::choice)
            continue;
        f.typed.clear();
        f.typed.fresh = true;
        for (const char c : digits)
            f.typed.type(static_cast<char32_t>(static_cast<unsigned char>(c)));
        take(f);
        if (f.kind == Kind::time)
            f.typed.fresh = true;
    }
}

const FormField* Form::first_missing() const {
    for (const FormField& f : fields_) {
        if (!f.needed || !shown(f))
            continue;
        const bool there = f.kind == Kind::choice ? f.chosen >= 0
                           : f.kind == Kind::time ? f.at.has_value()
                                                  : !f.typed.text.empty();
        if (!there)
            return &f;
    }
    return nullptr;
}

bool Form::refused_nothing() const {
    return std::none_of(fields_.begin(), fields_.end(), [&](const FormField& f) { return shown(f) && !f.refused.empty(); });
}

bool Form::complete() const { return !first_missing() && refused_nothing(); }

void Form::tell_time(Instant now, const WallClock& wall, const DayClock& day) {
    now_ = now;
    wall_ = wall;
    day_ = day;
}

std::string Form::value_of(const FormField& f) const {
    switch (f.kind) {
    case Kind::number:
    case Kind::code:
        return f.typed.text;
    case Kind::time:
        return f.at ? minute_text(*f.at, day_) : "";
    case Kind::choice:
        break;
    }
    return f.chosen >= 0 ? f.choices[static_cast<std::size_t>(f.chosen)] : "";
}

// Taken over at every key, so that what follows always belongs to what stands there.
void Form::take(FormField& f) {
    f.refused.clear();
    if (f.kind == Kind::number) {
        const auto n = f.typed.number();
        if (n && (*n < f.least || *n > f.most))
            f.refused = f.accepted;
    } else if (f.kind == Kind::code) {
        if (!f.typed.text.empty() && f.typed.text.size() != static_cast<std::size_t>(f.whole))
            f.refused = dose_number(f.whole, 1, 0) + " digits";
    } else if (f.kind == Kind::time) {
        f.at.reset();
        const std::optional<int> minutes_of_day = f.typed.time();
        if (!minutes_of_day) {
            if (!f.typed.text.empty())
                f.refused = "four digits, as 09:05";
            return;
        }
        // The nearest one is meant. What lies ahead is refused by whoever notes it, rather than taken for yesterday.
        for (int day = -1; day <= 1; ++day) {
            LocalTime t = civil_from_seconds((wall_.local_day(now_) + day) * 86400);
            t.hour = *minutes_of_day / 60;
            t.minute = *minutes_of_day % 60;
            const WallClock::Resolved found = wall_.resolve(t);
            const auto away = [&](Instant at) { return at < now_ ? now_ - at : at - now_; };
            for (const std::optional<Instant>& at : {found.first, found.second})
                if (at && (!f.at || away(*at) < away(*f.at)))
                    f.at = at;
        }
        if (!f.at)
            f.refused = "the clock does not show this time";
    }
}

std::optional<Form::Twice> Form::twice(const FormField& f) const {
    if (f.kind != Kind::time || !f.at)
        return std::nullopt;
    const WallClock::Resolved found = wall_.resolve(wall_.local(*f.at));
    if (!found.first || !found.second)
        return std::nullopt;
    return Twice{{*found.first, *found.second}};
}

float Form::fields(Ui& ui, Box box, int columns) {
    const float height = ui::entry_height(ui), gap = ui.px(ui::gap_px), top = box.y;
    int in_row = 0, touched = -1;
    Box line{};
    const FormField* wanted = editing() ? nullptr : first_missing();
    for (std::size_t i = 0; i < fields_.size(); ++i) {
        FormField& f = fields_[i];
        if (!shown(f))
            continue;
        const int across = f.whole_row ? 1 : columns;
        if (f.whole_row)
            in_row = 0;
        if (in_row == 0)
            line = box.cut_top(height, gap);
        ui::Entry e;
        const bool open = editing_ == static_cast<int>(i);
        std::string value = value_of(f);
        std::string_view empty = f.empty, unit = f.unit;
        if (open && f.kind != Kind::choice && (!f.typed.fresh || value.empty())) {
            value = f.typed.shown();
            if (value.empty())
                empty = f.kind == Kind::time ? "--:--" : "0", unit = {};
        }
        e.label = f.label;
        e.value = value;
        e.empty = empty;
        e.unit = unit;
        e.editing = open;
        e.typed = f.kind != Kind::choice;
        e.wanted = wanted == &f;
        e.refused = !f.refused.empty();
        e.note = f.refused;
        if (e.note.empty() && twice(f))
            e.note = "comes twice";
        if (ui::entry(ui, f.id, line.cell(across, 1, in_row, 0, gap), e))
            touched = static_cast<int>(i);
        in_row = (in_row + 1) % across;
    }
    if (touched >= 0) {
        if (touched == editing_)
            close(ui);
        else
            open_at(ui, touched);
    }
    return box.y - top;
}

float Form::dock_height(const Ui& ui, float width) const {
    if (!editing())
        return 0;
    const FormField& f = fields_[static_cast<std::size_t>(editing_)];
    const float head = ui.line_height(Face::body) + ui.px(8);
    if (f.kind != Kind::choice)
        return head + ui::keypad_height(ui) +
               (twice(f) ? ui.line_height(Face::small) + ui.px(6 + ui::row_px + ui::gap_px) : 0);
    const int columns = columns_of(ui, width), count = static_cast<int>(f.choices.size());
    return head + static_cast<float>((count + columns - 1) / columns) * ui.px(ui::row_px + ui::gap_px);
}

bool Form::choices(Ui& ui, Box box, FormField& f) {
    const int columns = columns_of(ui, box.w);
    const float row = ui.px(ui::row_px), gap = ui.px(ui::gap_px);
    Box rest = ui.begin_scroll("choices", box);
    rest.h = 1e6f;
    const float top = rest.y;
    Box line{};
    int taken = -1;
    for (int i = 0; i < static_cast<int>(f.choices.size()); ++i) {
        if (i % columns == 0)
            line = rest.cut_top(row, gap);
        if (ui::choice(ui, ui.id("choice.", i), line.cell(columns, 1, i % columns, 0, gap),
                       f.choices[static_cast<std::size_t>(i)], f.chosen == i))
            taken = i;
    }
    ui.end_scroll(rest.y - top);
    if (taken < 0)
        return false;
    f.chosen = taken;
    go_on(ui);
    return true;
}

bool Form::dock(Ui& ui, Box box) {
    if (!editing())
        return false;
    FormField& f = fields_[static_cast<std::size_t>(editing_)];
    std::string title(f.label);
    if (!f.unit.empty())
        title.append(", ").append(f.unit);
    ui::subheading(ui, "dock", box.cut_top(ui.line_height(Face::body), ui.px(8)), title);
    if (f.kind == Kind::choice) {
        for (const platform::Event& e : ui.keys())
            if (e.key == platform::Key::escape) {
                close(ui);
                return true;
            }
        return choices(ui, box, f);
    }
    if (const auto both = twice(f)) {
        ui::subheading(ui, "twice", box.cut_top(ui.line_height(Face::small), ui.px(6)),
                       "The clock shows this time twice. Which one?");
        const Box row = box.cut_top(ui.px(ui::row_px), ui.px(ui::gap_px));
        for (int n = 0; n < 2; ++n) {
            std::string label = n == 0 ? "first, " : "second, ";
            label += utc_offset_text(wall_.offset_at(both->moments[n]));
            if (ui::choice(ui, ui.id("twice.", n), row.cell(2, 1, n, 0, ui.px(ui::gap_px)), label,
                           *f.at == both->moments[n]))
                f.at = both->moments[n];
        }
    }
    box.h = std::min(box.h, ui::keypad_height(ui));
    switch (ui::keypad(ui, box, f.typed, "Done")) {
    case Typed::nothing:
        return false;
    case Typed::now: {
        const LocalTime t = wall_.local(now_);
        f.typed.start(ui::Digits::Kind::time, 0, 0, "");
        for (const int d : {t.hour / 10, t.hour % 10, t.minute / 10, t.minute % 10})
            f.typed.type(U'0' + static_cast<char32_t>(d));
        take(f);
        break;
    }
    case Typed::changed:
        take(f);
        break;
    case Typed::done:
        if (f.refused.empty())
            go_on(ui);
        break;
    case Typed::cancelled:
        give_back();
        close(ui);
        break;
    }
    return true;
}

void Form::open_at(Ui& ui, int n) {
    editing_ = n;
    FormField& f = fields_[static_cast<std::size_t>(n)];
    before_ = f;
    if (f.kind == Kind::choice) {
        ui.scroll_to_top("choices");
        ui.want_focus(ui.id("choice.", std::max(0, f.chosen)));
    } else {
        if (f.kind == Kind::time && f.at) {
            const LocalTime t = wall_.local(*f.at);
            const char text[4] = {static_cast<char>('0' + t.hour / 10), static_cast<char>('0' + t.hour % 10),
                                  static_cast<char>('0' + t.minute / 10), static_cast<char>('0' + t.minute % 10)};
            f.typed.start(ui::Digits::Kind::time, 0, 0, {text, 4});
        }
        f.typed.fresh = true;
        ui.want_focus(f.id);
    }
    ui.reveal(f.id);
    ui.change_screen(false);
}

void Form::open(Ui& ui, std::string_view id) {
    for (std::size_t i = 0; i < fields_.size(); ++i)
        if (fields_[i].id == id)
            open_at(ui, static_cast<int>(i));
}

bool Form::open_missing(Ui& ui) {
    const FormField* missing = first_missing();
    if (missing)
        open_at(ui, static_cast<int>(missing - fields_.data()));
    return missing != nullptr;
}

void Form::close(Ui& ui) {
    if (!editing())
        return;
    ui.want_focus(fields_[static_cast<std::size_t>(editing_)].id);
    editing_ = -1;
    before_.reset();
    ui.change_screen(false);
}

void Form::go_on(Ui& ui) {
    close(ui);
    open_missing(ui);
}

void Form::give_back() {
    if (!editing() || !before_)
        return;
    FormField& f = fields_[static_cast<std::size_t>(editing_)];
    const auto applies = f.applies;
    f = *before_;
    f.applies = applies;
}

} // namespace hangtime::screens
