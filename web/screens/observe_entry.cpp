#include "web/screens/observe_entry.hpp"

#include "core/report/observe_sheet.hpp"
#include "core/words/observe_words.hpp"
#include "web/screens/observe_signs.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Typed;
using ui::Ui;

using namespace sign_entry;

void ObserveEntry::open(Ui& ui, std::string title, TemperatureUnit unit, const Observation* old,
                        std::optional<Instant> at) {
    *this = {};
    open_ = true;
    title_ = std::move(title);
    unit_ = unit;
    if (old) {
        set_ = *old;
        if (set_.temperature)
            unit_ = set_.temperature->unit;
        passed_.fill(true);
    }
    at_ = at;
    start_ = old == nullptr;
    ui.scroll_to_top("obs");
    ui.change_screen();
}

void ObserveEntry::close(Ui& ui) {
    *this = {};
    ui.change_screen();
}

std::optional<ObserveEntry::Taken> ObserveEntry::take() {
    auto out = std::move(taken_);
    taken_.reset();
    return out;
}

std::optional<TemperatureUnit> ObserveEntry::take_unit() {
    const auto out = unit_wished_;
    unit_wished_.reset();
    return out;
}

bool ObserveEntry::in_pass(Sign sign, const Context& c) const {
    return sign != Sign::mean_pressure || (c.baseline && c.baseline->mean_mmhg) || set_.mean_mmhg;
}

void ObserveEntry::open_at(Ui& ui, int place, const Context& c) {
    place_ = place;
    before_ = set_;
    settled_ = false;
    asked_ = false;
    if (place == time_place) {
        time_.start(at_ ? at_ : c.now, c.wall);
        ui.want_focus("obs.time");
        ui.reveal("obs.time");
    } else {
        const std::string_view id = ui.keep(joined({"obs.", code(sign())}));
        if (is_number(sign())) {
            typed_.start(ui::Digits::Kind::number, sign() == Sign::temperature ? 4 : 3,
                         sign() == Sign::temperature ? 1 : 0, digits_of(set_, sign()));
            ui.want_focus(id);
        } else if (sign() == Sign::symptoms) {
            ui.scroll_to_top("symptoms");
            ui.want_focus("symptoms.none");
        } else {
            ui.want_focus(ui.id("choice.", std::max(0, chosen_of(set_, sign()))));
        }
        ui.reveal(id);
    }
    ui.change_screen(false);
}

void ObserveEntry::leave(Ui& ui) {
    if (editing())
        ui.want_focus(place_ == time_place ? std::string_view("obs.time") : ui.keep(joined({"obs.", code(sign())})));
    place_ = no_place;
    settled_ = false;
    ui.change_screen(false);
}

// To the next sign that was not passed yet; after the last one nothing is open.
void ObserveEntry::go_on(Ui& ui, const Context& c) {
    const int from = place_;
    if (from < sign_count)
        passed_[static_cast<std::size_t>(from)] = true;
    leave(ui);
    bool behind = from == time_place; // then on with the first that is open
    for (const Sign next : order) {
        const bool open = !passed_[static_cast<std::size_t>(next)] && (from != time_place || !set_.has(next));
        if (behind && in_pass(next, c) && open) {
            open_at(ui, static_cast<int>(next), c);
            return;
        }
        behind = behind || static_cast<int>(next) == from;
    }
    ui.want_focus("obs.note");
}

void ObserveEntry::give_back(const WallClock& wall) {
    set_ = before_;
    if (place_ == time_place)
        time_.give_back(wall);
    else if (editing() && is_number(sign()))
        typed_.start(typed_.kind, typed_.whole, typed_.places, digits_of(set_, sign()));
}

void ObserveEntry::scan_leaked(const WallClock& wall) {
    if (editing())
        give_back(wall);
}

// Taken over at every key. A point need not be typed where without it the temperature could not be: 3 6 8 is 36.8.
void ObserveEntry::read_digits() {
    set_.clear(sign());
    if (sign() == Sign::temperature) {
        const auto whole = [&] { return typed_.number().value_or(0); }; // in tenths
        if (typed_.text.size() >= 3 && typed_.text.find('.') == std::string::npos &&
            whole() > range_of(Sign::temperature, unit_).most)
            typed_.text.insert(typed_.text.size() - 1, 1, '.');
        if (const auto n = typed_.number())
            set_.temperature = Temperature{static_cast<std::int16_t>(std::min<std::int64_t>(*n, 9'999)), unit_};
        return;
    }
    if (const auto n = typed_.number())
        *number_of(set_, sign()) = static_cast<std::int16_t>(*n);
}

// Why this sign cannot be as it stands; of a number that is being typed only what no further digit can mend.
std::string ObserveEntry::problem_text(Sign sign) const {
    const SignRange range = range_of(sign, unit_);
    const Figure value = figure_of(set_, sign);
    const bool typing = place_ == static_cast<int>(sign) && !settled_;
    if (is_number(sign) && value.kind != FigureKind::none) {
        const bool low = value.a < range.least && !typing, high = value.a > range.most;
        if (low || high)
            return impossible_sentence(sign, Figure(value.kind, range.least), Figure(value.kind, range.most));
    }
    if (typing)
        return {};
    const auto problem = problem_of(set_);
    if (!problem || problem->sign != sign)
        return {};
    if (problem->kind == SetProblem::Kind::not_below_systolic)
        return std::string(not_below_systolic_sentence());
    if (problem->kind == SetProblem::Kind::mean_not_between)
        return std::string(mean_not_between_sentence());
    return {};
}

// --- what is drawn --------------------------------------------------------------------------------------

// Of a rehearsal: what there is to be seen and read, to be entered by hand, or copied.
float ObserveEntry::seen(Ui& ui, Box box, const Observation& what) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    std::string text;
    for (const Sign s : order) {
        if (!what.has(s))
            continue;
        std::string one = joined({lower_first(name(s)), " ", value_text(what, s)});
        if (s == Sign::oxygen)
            one = joined({"breathing ", *what.on_oxygen ? "oxygen" : "air"});
        if (s == Sign::symptoms && what.symptoms->bits != 0) { // each by its name: whoever looks has to see them
            one = "symptoms: ";
            for (int i = 0, n = 0; i < symptom_count; ++i)
                if (what.symptoms->has(static_cast<Symptom>(i)))
                    one += joined({n++ == 0 ? "" : ", ", lower_first(name(static_cast<Symptom>(i)))});
        }
        text += joined({text.empty() ? "" : ", ", one});
    }
    const float w = ui.px(120);
    Box words = box;
    words.w -= w + gap;
    const float h = ui::caution(ui, "obs.seen", words, "You see", text.empty() ? std::string("nothing that can be recorded") : text);
    if (ui::button(ui, "obs.copy", {box.right() - w, box.y, w, ui.px(ui::row_px)}, "Copy it", ui::Look::plain, !text.empty(),
                   "Copy what is seen")) {
        set_ = what;
        if (set_.temperature)
            unit_ = set_.temperature->unit;
        passed_.fill(true);
        leave(ui);
    }
    box.cut_top(std::max(h, ui.px(ui::row_px)));
    return box.y - top;
}

float ObserveEntry::fields(Ui& ui, Box box, int columns, const Context& c) {
    const float height = ui::entry_height(ui), gap = ui.px(ui::gap_px), top = box.y;
    int column = 0, touched = no_place;
    Box line{};
    const auto put = [&](int place, std::string_view id, const ui::Entry& e) {
        if (column == 0)
            line = box.cut_top(height, gap);
        if (ui::entry(ui, id, line.cell(columns, 1, column, 0, gap), e))
            touched = place;
        column = (column + 1) % columns;
    };
    for (const Sign s : order) {
        const bool open = place_ == static_cast<int>(s);
        ui::Entry e;
        std::string value = is_number(s) ? digits_of(set_, s) : set_.has(s) ? value_text(set_, s) : std::string();
        const std::string_view unit = unit_text(s, unit_);
        e.label = name(s);
        if (open && is_number(s) && (!typed_.fresh || value.empty())) {
            value = typed_.text;
            e.empty = "type it";
        } else if (!passed_[static_cast<std::size_t>(s)] && value.empty()) {
            e.empty = in_pass(s, c) ? "to come" : "not recorded";
        }
        e.value = value;
        e.unit = unit;
        e.editing = open;
        e.typed = is_number(s);
        const std::string problem = problem_text(s);
        e.refused = !problem.empty();
        if (e.refused)
            e.note = "cannot be";
        put(static_cast<int>(s), ui.keep(joined({"obs.", code(s)})), e);
    }
    ui::Entry e;
    const bool open = place_ == time_place;
    const std::string time = open ? time_.shown() : at_ ? minute_text(*at_, c.day) : std::string();
    e.label = "Taken at";
    e.value = time;
    e.empty = open ? "--:--" : "now";
    e.editing = open;
    e.refused = open && !time_.refused().empty();
    put(time_place, "obs.time", e);
    if (touched != no_place) {
        const bool same = touched == place_;
        leave(ui);
        if (!same)
            open_at(ui, touched, c);
    }
    return box.y - top;
}

void ObserveEntry::questions(Ui& ui, Box box) {
    const float gap = ui.px(10);
    ui::subheading(ui, "obs.asked", box.cut_top(ui.line_height(Face::body), gap), "Is this right?");
    int n = 0;
    for (const SetQuestion& q : questions_about(set_)) {
        std::string text;
        switch (q.kind) {
        case SetQuestion::Kind::unusual: text = unusual_sentence(q.sign, q.value, q.least, q.most); break;
        case SetQuestion::Kind::pressures_close: text = pressures_close_sentence(); break;
        case SetQuestion::Kind::nothing_recorded: text = nothing_recorded_sentence(); break;
        }
        box.cut_top(ui::caution(ui, ui.id("obs.asked.", n++), box, "", text), gap);
    }
}

void ObserveEntry::buttons(Ui& ui, Box box, const Context& c, bool may_enter) {
    const float gap = ui.px(ui::gap_px);
    const Box back = box.cut_right(std::min(box.w * 0.3f, ui.px(180)), gap);
    if (asked_) {
        if (ui::button(ui, "obs.change", back, "Change it")) {
            asked_ = false;
            const auto all = questions_about(set_);
            if (!all.empty() && all[0].kind != SetQuestion::Kind::nothing_recorded)
                open_at(ui, static_cast<int>(all[0].sign), c);
            else
                ui.change_screen();
            return;
        }
        if (ui::button(ui, "obs.confirm", box, "Yes, note it like this", ui::Look::primary))
            taken_ = Taken{set_, at_};
        return;
    }
    if (ui::button(ui, "obs.back", back, "Back")) {
        close(ui);
        return;
    }
    // While an entry is open its own Next is the one thing to do.
    const bool possible = !problem_of(set_);
    bool enter = false;
    for (const platform::Event& e : ui.keys())
        enter = enter || (e.key == platform::Key::enter && !ui.enter_is_for_widget() && may_enter && possible);
    if (!ui::button(ui, "obs.note", box, "Note these observations", editing() ? ui::Look::plain : ui::Look::primary, possible) &&
        !enter)
        return;
    leave(ui);
    if (questions_about(set_).empty()) {
        taken_ = Taken{set_, at_};
        return;
    }
    asked_ = true;
    ui.want_focus("obs.change");
    ui.change_screen();
}

void ObserveEntry::build(Ui& ui, Box body, Box foot, const Context& c) {
    if (start_) {
        start_ = false;
        open_at(ui, static_cast<int>(Sign::temperature), c);
    }
    ui.set_editing(editing());
    const bool may_enter = !editing(); // the Enter that closes an entry notes nothing
    const float gap = ui.px(ui::gap_px);
    body.cut_top(ui::paragraph(ui, "obs.title", body, title_, Face::title), gap);
    if (c.seen)
        body.cut_top(seen(ui, body, *c.seen), gap);
    if (!refused_.empty())
        body.cut_top(ui::caution(ui, "obs.refused", body, "Not noted", refused_), gap);
    if (asked_) {
        questions(ui, body);
        buttons(ui, foot, c, may_enter);
        return;
    }
    if (editing() && place_ == static_cast<int>(Sign::symptoms)) {
        symptoms(ui, body, c);
        buttons(ui, foot, c, may_enter);
        return;
    }
    const bool beside = body.w >= ui.px(760) && body.w > body.h * 1.1f;
    Box keys{};
    if (beside) {
        keys = body;
        keys.cut_left(body.w * 0.56f);
        body.w = body.w * 0.56f - ui.px(20);
    } else if (editing()) {
        keys = body.cut_bottom(std::min(body.h * 0.7f, dock_height(ui, body.w)), ui.px(12));
    }
    const Box in = ui.begin_scroll("obs", body);
    Box rest{in.x, in.y, in.w - ui.px(10), 1e6f};
    const float top = rest.y;
    rest.cut_top(fields(ui, rest, rest.w < ui.px(420) ? 1 : rest.w < ui.px(700) ? 2 : 3, c), gap);
    ui.end_scroll(rest.y - top);
    if (editing() && place_ != static_cast<int>(Sign::symptoms))
        dock(ui, keys, c);
    buttons(ui, foot, c, may_enter);
}

} // namespace hangtime::screens
