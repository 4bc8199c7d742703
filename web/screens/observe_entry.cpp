#include "web/screens/observe_entry.hpp"

#include "core/observe/symptoms.hpp"
#include "core/report/observe_sheet.hpp"
#include "core/words/observe_words.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/tick.hpp"

#include <algorithm>
#include <vector>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Typed;
using ui::Ui;

namespace {

// As a chart has them; the mean pressure where the baseline has one.
constexpr Sign order[] = {Sign::temperature,   Sign::pulse,        Sign::systolic,   Sign::diastolic,
                          Sign::mean_pressure, Sign::respirations, Sign::saturation, Sign::oxygen,
                          Sign::consciousness, Sign::lungs,        Sign::site,       Sign::urine,
                          Sign::symptoms};
static_assert(sizeof order / sizeof *order == sign_count);

constexpr bool is_number(Sign sign) { return sign <= Sign::saturation; }

std::optional<std::int16_t>* number_of(Observation& set, Sign sign) {
    switch (sign) {
    case Sign::pulse: return &set.pulse_per_min;
    case Sign::systolic: return &set.systolic_mmhg;
    case Sign::diastolic: return &set.diastolic_mmhg;
    case Sign::mean_pressure: return &set.mean_mmhg;
    case Sign::respirations: return &set.respirations_per_min;
    case Sign::saturation: return &set.saturation_percent;
    default: return nullptr;
    }
}

std::string_view unit_text(Sign sign, TemperatureUnit unit) {
    switch (sign) {
    case Sign::temperature: return name(unit);
    case Sign::pulse:
    case Sign::respirations: return "/min";
    case Sign::systolic:
    case Sign::diastolic:
    case Sign::mean_pressure: return "mmHg";
    case Sign::saturation: return "%";
    default: return {};
    }
}

std::string digits_of(const Observation& set, Sign sign) {
    const Figure f = figure_of(set, sign);
    if (f.kind == FigureKind::none)
        return {};
    return sign == Sign::temperature ? measured_number(f.a) : dose_number(f.a, 1, 0);
}

std::vector<std::string_view> choices_of(Sign sign) {
    std::vector<std::string_view> out;
    switch (sign) {
    case Sign::oxygen: return {"air", "oxygen"};
    case Sign::consciousness:
        for (int i = 0; i < consciousness_count; ++i)
            out.push_back(name(static_cast<Consciousness>(i)));
        break;
    case Sign::lungs:
        for (int i = 0; i < lungs_count; ++i)
            out.push_back(name(static_cast<Lungs>(i)));
        break;
    case Sign::site:
        for (int i = 0; i < site_count; ++i)
            out.push_back(name(static_cast<Site>(i)));
        break;
    case Sign::urine:
        for (int i = 0; i < urine_count; ++i)
            out.push_back(name(static_cast<Urine>(i)));
        break;
    default: break;
    }
    return out;
}

int chosen_of(const Observation& set, Sign sign) {
    if (!set.has(sign))
        return -1;
    switch (sign) {
    case Sign::oxygen: return *set.on_oxygen ? 1 : 0;
    case Sign::consciousness: return static_cast<int>(*set.consciousness);
    case Sign::lungs: return static_cast<int>(*set.lungs);
    case Sign::site: return static_cast<int>(*set.site);
    case Sign::urine: return static_cast<int>(*set.urine);
    default: return -1;
    }
}

void choose(Observation& set, Sign sign, int n) {
    switch (sign) {
    case Sign::oxygen: set.on_oxygen = n == 1; break;
    case Sign::consciousness: set.consciousness = static_cast<Consciousness>(n); break;
    case Sign::lungs: set.lungs = static_cast<Lungs>(n); break;
    case Sign::site: set.site = static_cast<Site>(n); break;
    case Sign::urine: set.urine = static_cast<Urine>(n); break;
    default: break;
    }
}

} // namespace

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
