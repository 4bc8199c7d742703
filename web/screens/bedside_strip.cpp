#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/bedside.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/object.hpp"

/// Which session this is, on every one of its screens: its object, the bag's last digits, the limit that comes first,
/// the next check, and how far it is kept.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

void told(Ui& ui, std::string_view id, Box box, std::string_view label, std::string_view value, bool late = false) {
    ui.note({.id = id, .label = label, .value = value, .role = ui::Role::text, .box = box});
    ui.put_text(box.cut_top(ui.line_height(Face::small), ui.px(2)), Face::small, ui.palette().quiet, label);
    const Face face = ui.text_width(Face::body, value) > box.w ? Face::small : Face::body;
    if (late) { // a broken edge: this has passed
        ui.draw_bar({box.x - ui.px(9), box.y - ui.line_height(Face::small), ui.px(4), ui.px(14)});
        ui.draw_bar({box.x - ui.px(9), box.y, ui.px(4), ui.px(14)});
    }
    ui.put_text(box, face, ui.palette().ink, value, ui::Align::left, true);
}

const Window* first_window(const Live& live) {
    const Window* first = nullptr;
    for (const Window& w : live.reckoning.windows) {
        if (!w.binds || !w.latest)
            continue;
        if (w.state != WindowState::open && w.state != WindowState::closing && w.state != WindowState::passed)
            continue;
        // Once it hangs, what should have been before that is over.
        const bool before = w.kind != LimitKind::finish && w.kind != LimitKind::change_set && w.kind != LimitKind::start;
        if (before && live.phase != Phase::here)
            continue;
        if (w.kind == LimitKind::start && live.phase > Phase::hung)
            continue;
        if (live.phase >= Phase::ended)
            continue;
        // To make up one's mind is said where it is asked for; it is no limit.
        if (w.kind == LimitKind::decide)
            continue;
        if (!first || *w.latest < *first->latest)
            first = &w;
    }
    return first;
}

} // namespace

float Bedside::strip_height(const Ui& ui, float width) const {
    const float line = ui.line_height(Face::small) + ui.px(2) + ui.line_height(Face::body);
    // Where it is narrow a value may take two lines.
    return width < ui.px(700) ? 2 * (3 * ui.line_height(Face::small) + ui.px(2)) + ui.px(30) : std::max(ui.px(64), line + ui.px(18));
}

void Bedside::strip(Ui& ui, Box box) {
    ui::sheet(ui, box);
    const Session& s = session();
    const bool narrow = box.w < ui.px(700);
    Box in = box.inset(ui.px(12), ui.px(8));
    const float side = std::min(in.h, ui.px(64));
    Box mark = in.cut_left(side, ui.px(14));
    ui::object(ui, "strip.object", mark, s.object);

    const Window* w = first_window(live());
    std::string window_label = "Limits", window_value = "none runs";
    bool late = false;
    if (w) {
        window_label = joined({name(w->kind), ", latest"});
        window_value = clock_text(*w->latest, day_);
        late = w->state == WindowState::passed;
        window_value += late ? joined({", passed ", minutes_left_text(now_ - *w->latest), " ago"})
                             : joined({", ", minutes_left_text(*w->latest - now_), " left"});
    } else if (s.phase == Phase::here && live().reckoning.start_by) {
        window_label = "Start by, latest";
        window_value = clock_text(*live().reckoning.start_by, day_);
    }
    std::string check_value = "none";
    bool due = false;
    for (const Check& c : live().reckoning.checks) {
        const bool run = s.phase >= Phase::running;
        if (c.kind == CheckKind::baseline && run)
            continue;
        if (!run && c.kind != CheckKind::baseline)
            continue;
        if (c.state != CheckState::due && c.state != CheckState::to_come)
            continue;
        due = c.state == CheckState::due;
        check_value = c.kind == CheckKind::baseline ? std::string(name(c.kind))
                                                    : joined({clock_text(c.due, day_), ", ", name(c.kind)});
        if (due && c.kind != CheckKind::baseline)
            check_value += ", due";
        break;
    }
    const std::string bag =
        s.digits ? joined({name(s.object), ", bag ", std::string_view(s.digits->data(), 4)}) : joined({name(s.object), ", no bag digits"});
    const std::string trouble = store_trouble_text(desk_.store(), key_);
    const std::string kept = trouble.empty() ? std::string("Saved") : trouble;

    const int columns = narrow ? 2 : 4, rows = narrow ? 2 : 1;
    const float gap = ui.px(14);
    const auto cell = [&](int n) { return in.cell(columns, rows, n % columns, n / columns, gap); };
    told(ui, "strip.bag", cell(0), s.rehearsal ? "A rehearsal" : "This is", bag);
    told(ui, "strip.window", cell(1), window_label, window_value, late);
    told(ui, "strip.check", cell(2), "Next check", check_value);
    told(ui, "strip.store", cell(3), "Kept", kept, !trouble.empty());
}

std::string store_trouble_text(const store::SessionStore& store, std::string_view key) {
    switch (store.mode()) {
    case store::Mode::opening: return "not yet: the store opens";
    case store::Mode::memory: return "in memory only";
    case store::Mode::newer: return "in memory only";
    case store::Mode::read_only: return "read only here";
    case store::Mode::durable: break;
    }
    const store::Standing at = store.standing(key);
    if (at.gone)
        return "gone from the store";
    if (at.saved >= at.last)
        return {};
    switch (at.trouble) {
    case platform::Stored::full: return "not saved: no room";
    case platform::Stored::refused: return "not saved: refused";
    case platform::Stored::conflict:
    case platform::Stored::not_writer: return "not saved: another window";
    case platform::Stored::saved:
    case platform::Stored::lost:
    case platform::Stored::gap: break;
    }
    return "not saved yet";
}

std::string store_mode_text(const store::SessionStore& store) {
    switch (store.mode()) {
    case store::Mode::opening: return "Reading what is kept on this machine ...";
    case store::Mode::memory:
        return "Nothing can be kept on this machine: all of it is gone when this page is closed. Print the sheet, or "
               "save each session as a file.";
    case store::Mode::newer:
        return "A newer version of this page keeps sessions on this machine. They are left alone; what is noted here is "
               "gone when this page is closed.";
    case store::Mode::read_only: return "Another window of this page writes. This one only reads along.";
    case store::Mode::durable: break;
    }
    return {};
}

} // namespace hangtime::screens
