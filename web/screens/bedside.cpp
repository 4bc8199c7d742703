#include "web/screens/bedside.hpp"

#include "core/plan/record_words.hpp"
#include "core/words/bedside_words.hpp"
#include "core/words/session_spelling.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr float margin = 12; // CSS pixels
constexpr float header_px = 48;

constexpr std::string_view tab_ids[] = {"tab.ready",    "tab.unit",   "tab.match",     "tab.run",   "tab.signs",
                                        "tab.reaction", "tab.finish", "tab.hand_over", "tab.record"};
constexpr std::string_view tab_labels[] = {"Ready",    "Bag", "Match",     "Run",    "Signs",
                                           "Reaction", "End", "Hand over", "Records"};
constexpr std::string_view scan_notice =
    "That was a scan. Nothing here is filled in by scanning, and nothing of it was kept.";

} // namespace

void Bedside::show(Ui& ui, std::string_view key, bool joins) {
    key_ = key;
    joins_ = joins;
    case_ = desk_.find(key_);
    if (entry_.is_open())
        entry_.close(ui);
    if (observe_.is_open())
        observe_.close(ui);
    reading_.forget();
    reaction_.reset();
    says_.reset();
    said_.clear();
    open_.clear();
    open_sum_.clear();
    if (case_ && !case_->unreadable)
        tab_ = tab_of_now();
    ui.scroll_to_top("body");
    ui.change_screen();
}

void Bedside::follow(Ui& ui) {
    case_ = desk_.find(key_);
    if (case_ && !case_->unreadable && !case_->log.empty() && !entry_.is_open() && !observe_.is_open() && !reading_.is_open())
        go_to(ui, tab_of_now());
}

Bedside::Tab Bedside::tab_of_now() const {
    if (reaction_stands())
        return Tab::reaction;
    switch (session().phase) {
    case Phase::preparing: return Tab::ready;
    case Phase::called: return Tab::unit;
    case Phase::here: {
        const Doing first = live().to_do[0].what;
        return first == Doing::match || first == Doing::settle_groups ? Tab::match : Tab::unit;
    }
    case Phase::hung: return Tab::unit;
    case Phase::running:
    case Phase::paused: return Tab::run;
    case Phase::ended:
    case Phase::closed: break;
    }
    return Tab::finish;
}

Bedside::Wishes Bedside::take_wishes() {
    const Wishes w = wishes_;
    wishes_ = {};
    return w;
}

std::int64_t Bedside::quiet_ms(std::int64_t now_ms) const {
    return now_ms < quiet_until_ms_ ? quiet_until_ms_ - now_ms : -1;
}

void Bedside::go_to(Ui& ui, Tab tab) {
    if (tab != tab_)
        ui.scroll_to_top("body");
    tab_ = tab;
    open_.clear();
    open_sum_.clear();
    ui.change_screen();
}

// --- a frame --------------------------------------------------------------------------------------------

void Bedside::build(Ui& ui, Instant machine_now, const WallClock& wall, const std::vector<Protocol>& protocols) {
    machine_now_ = machine_now;
    now_ = desk_.charted(machine_now);
    wall_ = wall;
    protocols_ = &protocols;
    case_ = desk_.find(key_);
    if (!case_) {
        wishes_.front = true;
        return;
    }
    seen_ms_ = platform::now_ms();
    seen_at_ = machine_now;
    Box area = ui.screen().inset(ui.px(margin), ui.px(margin / 2));
    if (case_->unreadable || case_->log.empty()) {
        ui.set_editing(false);
        header(ui, area.cut_top(ui.px(header_px), ui.px(6)));
        unreadable(ui, area);
        return;
    }
    day_ = day_clock_of(session());
    if (joins_) {
        joins_ = false;
        ask(ui, EventKind::joined);
    }
    take_scans(ui);
    ui.set_editing(entry_.editing() || observe_.is_open() || reading_.editing() ||
                   (tab_ == Tab::reaction && reaction_.editing()));
    header(ui, area.cut_top(ui.px(header_px), ui.px(6)));
    strip(ui, area.cut_top(strip_height(ui, area.w), ui.px(8)));
    if (entry_.is_open()) {
        const Box bottom = area.cut_bottom(ui.px(56), ui.px(12));
        entry_.build(ui, area, bottom, context());
        note_wishes(ui);
        ui.announce(entry_.is_open() ? action(entry_.kind()) : "Noted.");
        return;
    }
    if (reading_.is_open()) {
        reading(ui, area);
        return;
    }
    if (observe_.is_open()) {
        const Box bottom = area.cut_bottom(ui.px(56), ui.px(12));
        observing(ui, area, bottom);
        return;
    }
    tabs(ui, area.cut_top(tabs_height(ui, area.w), ui.px(10)));
    const Primary p = primary();
    Box bottom = area.cut_bottom(foot_height(ui, area.w, p), ui.px(10));
    Box match_foot{};
    if (tab_ == Tab::match && session().phase >= Phase::here)
        match_foot = bottom.cut_top(matching() ? MatchView::foot_height(ui, area.w) : 0, ui.px(10));
    foot(ui, bottom, p);
    body(ui, area, match_foot);

    std::string said = scan_said_ ? std::string(scan_notice) : said_;
    if (said.empty())
        said = reminder_;
    if (said.empty())
        said = joined({name(session().object), ": ", p.label});
    ui.announce(said);
}

void Bedside::body(Ui& ui, Box box, Box match_foot) {
    if (tab_ == Tab::match) {
        match(ui, box, match_foot);
        return;
    }
    const Box in = ui.begin_scroll("body", box);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    const float top = rest.y, gap = ui.px(12);
    if (scan_said_)
        rest.cut_top(ui::paragraph(ui, "scan", rest, scan_notice, Face::small), gap);
    if (!reminder_.empty())
        rest.cut_top(ui::caution(ui, "reminder", rest, "", reminder_), gap);
    if (const std::string slept = desk_.sleep_text(); !slept.empty())
        rest.cut_top(ui::paragraph(ui, "clock.slept", rest, slept), gap);
    if (!case_->damaged.empty())
        rest.cut_top(ui::paragraph(ui, "damaged", rest,
                                   joined({"A record of this session is damaged (", case_->damaged[0].error.where,
                                           "). What is left can be read, and nothing can be added."})),
                     gap);
    switch (tab_) {
    case Tab::ready: rest.cut_top(ready(ui, rest), gap); break;
    case Tab::unit: rest.cut_top(unit(ui, rest), gap); break;
    case Tab::run: rest.cut_top(run(ui, rest), gap); break;
    case Tab::signs: rest.cut_top(signs(ui, rest), gap); break;
    case Tab::reaction: rest.cut_top(reaction(ui, rest), gap); break;
    case Tab::finish: rest.cut_top(finish(ui, rest), gap); break;
    case Tab::hand_over: rest.cut_top(hand_over(ui, rest), gap); break;
    case Tab::record: rest.cut_top(record(ui, rest), gap); break;
    case Tab::match: break;
    }
    std::string foot(watch_sentence());
    for (std::size_t i = 0; i < caution_count; ++i)
        foot.append(" ").append(caution(i));
    rest.cut_top(ui::paragraph(ui, "caution", rest, foot, Face::small, true), gap);
    ui.end_scroll(rest.y - top);
}

void Bedside::header(Ui& ui, Box box) {
    const float gap = ui.px(ui::gap_px);
    const bool tight = box.w < ui.px(700);
    const bool practice = desk_.rehearses();
    if (ui::button(ui, "sessions", box.cut_left(ui.px(tight ? 100 : 150), gap),
                   practice ? "Menu" : tight ? "Sessions" : "All sessions", ui::Look::plain, true,
                   practice ? "Menu of the rehearsal" : ""))
        wishes_.front = true;
    if (ui::button(ui, "page.print", box.cut_right(ui.px(tight ? 64 : 130), gap), tight ? "Print" : "Print sheet",
                   ui::Look::plain, !case_->unreadable))
        wishes_.print = true;
    if (ui::button(ui, "page.ground", box.cut_right(ui.px(72), gap), ui.night() ? "Day" : "Night", ui::Look::plain,
                   true, ui.night() ? "Day colours" : "Night colours"))
        wishes_.night = true;
    const std::string clock = case_->unreadable ? "" : minute_text(now_, day_);
    Box time = box.cut_right(ui.text_width(Face::title, clock) + ui.px(8), gap);
    time.y += (time.h - ui.line_height(Face::title)) / 2;
    time.h = ui.line_height(Face::title);
    ui.note({.id = "clock", .label = "It is", .value = clock, .role = ui::Role::text, .box = time});
    ui.put_text(time, Face::title, ui.palette().ink, clock);
    const std::string_view title = case_->unreadable ? std::string_view("Session") : name(session().phase);
    Box line = {box.x, box.y + (box.h - ui.line_height(Face::title)) / 2, box.w, ui.line_height(Face::title)};
    ui.note({.id = "title",
             .label = case_->unreadable ? title : ui.keep(joined({name(session().object), ": ", title})),
             .role = ui::Role::heading,
             .box = line});
    if (ui.text_width(Face::title, title) <= line.w)
        ui.put_text(line, Face::title, ui.palette().ink, title);
}

float Bedside::tabs_height(const Ui& ui, float width) const {
    const float rows = width < ui.px(700) ? 2 : 1;
    return rows * ui.px(ui::row_px - 2) + (rows - 1) * ui.px(ui::gap_px);
}

void Bedside::tabs(Ui& ui, Box box) {
    const int rows = box.w < ui.px(700) ? 2 : 1, columns = (tab_count + rows - 1) / rows;
    for (int i = 0; i < tab_count; ++i)
        if (ui::tab(ui, tab_ids[i], box.cell(columns, rows, i % columns, i / columns, ui.px(ui::gap_px)),
                    tab_labels[i], tab_ == static_cast<Tab>(i)))
            go_to(ui, static_cast<Tab>(i));
}

float Bedside::foot_height(Ui& ui, float width, const Primary& p) const {
    // Nothing that is said may move the buttons of the match: it stands above them, in the body.
    if (matching())
        return MatchView::foot_height(ui, width) + ui.px(10) + ui.px(ui::row_px);
    float h = ui.px(56) + ui.px(10) + ui.px(ui::row_px);
    if (p.note && width < ui.px(560))
        h += ui.px(ui::row_px + ui::gap_px);
    if (!p.question.empty())
        h += ui.text_height(Face::body, p.question, width - ui.px(14)) + ui.px(8);
    if (!said_.empty())
        h += ui.text_height(Face::body, said_, width - ui.px(30)) + ui.px(8);
    return h;
}

void Bedside::foot(Ui& ui, Box box, const Primary& p) {
    const float gap = ui.px(ui::gap_px);
    // What was noted last, and the way back from it.
    Box last = box.cut_bottom(ui.px(ui::row_px), ui.px(10));
    const bool writes = desk_.store().may_write() && !case_->read_only();
    if (const Event* e = desk_.last_to_undo(*case_)) {
        const bool quiet = quiet_ms(platform::now_ms()) >= 0;
        if (ui::button(ui, "undo", last.cut_right(ui.px(140), gap), "Take it back", ui::Look::plain, writes) && !quiet) {
            const auto no = desk_.undo(*case_, machine_now_);
            said_ = no ? why(*no) : std::string();
            quiet_until_ms_ = platform::now_ms() + quiet_for_ms;
            ui.change_screen();
            return;
        }
        const std::string text = record_text(*e, day_);
        const std::string said = joined({"Last: ", record_time_text(*e, day_), " ", name(e->kind),
                                         text.empty() ? "" : ", ", text});
        const Face face = ui.text_width(Face::body, said) > last.w ? Face::small : Face::body;
        const float h = std::min(last.h, ui.text_height(face, said, last.w));
        const Box line = {last.x, last.y + (last.h - h) / 2, last.w, h};
        ui.note({.id = "undo.last", .label = said, .role = ui::Role::text, .box = line});
        ui.put_text(line, face, ui.palette().quiet, said, ui::Align::left, true);
    }
    if (matching())
        return;
    if (!said_.empty())
        box.cut_top(ui::paragraph(ui, "refused", box, joined({"Not noted: ", said_})), gap);
    if (!p.question.empty())
        box.cut_top(ui::paragraph(ui, "do.question", box, p.question), gap);
    // What the clock has put there is another thing to do: no touch that was meant for the one before may note it.
    if (p.id != first_to_do_.first || p.label != first_to_do_.second) {
        first_to_do_ = {p.id, p.label};
        ui.moved();
    }
    if (p.label.empty())
        return;
    Box row = box.cut_bottom(ui.px(56), gap);
    const bool quiet = quiet_ms(platform::now_ms()) >= 0;
    const bool enabled = writes || p.go || p.leave || p.read;
    // What one touch notes can be given another time, and a check its values: beside it, or above where it is narrow.
    const bool narrow = box.w < ui.px(560);
    Box beside = p.note && narrow ? box.cut_bottom(ui.px(ui::row_px), gap) : Box{};
    const auto cut = [&] { return narrow ? beside.cut_left((box.w - gap) / 2, gap) : row.cut_right(ui.px(190), gap); };
    if (p.note && ui::button(ui, "do.later", cut(), "Another time ...", ui::Look::plain, enabled) && !quiet) {
        RecordEntry::About about = p.about;
        about.time_only = true;
        about.known = p.facts;
        about.title = p.label;
        ask(ui, *p.note, about);
        return;
    }
    if (p.note == EventKind::observed &&
        ui::button(ui, "do.values", cut(), "With the values ...", ui::Look::plain, enabled) && !quiet) {
        observe(ui, *std::get_if<facts::Observed>(&p.facts), p.label);
        return;
    }
    if (ui::button(ui, p.id, row, p.label, p.due ? ui::Look::primary : ui::Look::plain, enabled) && !quiet)
        press(ui, p);
}

float Bedside::offers(Ui& ui, Box box, const std::vector<Offer>& all, int columns) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const bool writes = desk_.store().may_write() && !case_->read_only();
    const bool quiet = quiet_ms(platform::now_ms()) >= 0;
    const Offer* pressed = nullptr;
    Box line{};
    for (std::size_t i = 0; i < all.size(); ++i) {
        const int column = static_cast<int>(i) % columns;
        if (column == 0)
            line = box.cut_top(ui.px(ui::row_px), gap);
        if (ui::button(ui, all[i].id, line.cell(columns, 1, column, 0, gap), action(all[i].kind), ui::Look::plain,
                       all[i].enabled && writes) &&
            !quiet)
            pressed = &all[i];
    }
    if (pressed && pressed->at_once)
        note(ui, pressed->kind, std::monostate{});
    else if (pressed)
        ask(ui, pressed->kind);
    return box.y - top;
}

void Bedside::unreadable(Ui& ui, Box box) {
    std::string text = "Nothing can be read of this session yet.";
    if (case_->unreadable)
        text = joined({"This session cannot be read (", case_->unreadable->where, ": ", case_->unreadable->problem,
                       "). It is kept as it is. Go on by your own procedure and on paper."});
    ui::paragraph(ui, "damaged", box, text, Face::title);
}

} // namespace hangtime::screens
