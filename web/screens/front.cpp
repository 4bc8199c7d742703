#include "web/screens/front.hpp"

#include "core/plan/record_words.hpp"
#include "core/words/bedside_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/bedside.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/object.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

Front::Wishes Front::take_wishes() {
    Wishes w;
    std::swap(w, wishes_);
    return w;
}

void Front::begin(Ui& ui, Begin what) {
    if (desk_.ahead_known()) {
        wishes_.begin = what;
        return;
    }
    then_ = what;
    ask_for_clock(ui);
}

void Front::ask_for_clock(Ui& ui) {
    asks_clock_ = true;
    types_clock_ = false;
    form_.clear();
    ui.change_screen();
}

void Front::clock_jumped() {
    asks_clock_ = true;
    types_clock_ = false;
    form_.clear();
}

void Front::cleared(const platform::Left& left) {
    const auto count = [](int n, std::string_view what) {
        return n < 0 ? joined({what, ": cannot be read here"}) : joined({what, ": ", dose_number(n, 1, 0)});
    };
    message_ = joined({"Cleared. Read back, what is left on this machine: ", count(left.records, "records"), ", ",
                       count(left.settings, "settings"), ", ", count(left.caches, "caches"), "."});
    clears_ = false;
    last_opened_.clear();
}

void Front::build(Ui& ui, Instant machine_now, const WallClock& wall) {
    machine_now_ = machine_now;
    now_ = desk_.charted(machine_now);
    wall_ = wall;
    day_ = DayClock(wall, now_);
    if (ui.scans() != scans_seen_) {
        scans_seen_ = ui.scans();
        message_ = "That was a scan. Nothing here is filled in by scanning, and nothing of it was kept.";
        if (ui.take_scan_leak())
            form_.give_back();
    }
    ui.set_editing(asks_clock_ && form_.editing());
    Box area = ui.screen().inset(ui.px(12), ui.px(6));
    if (asks_clock_)
        clock(ui, area);
    else if (!confirming_.empty())
        confirm(ui, area);
    else if (clears_)
        clear(ui, area);
    else
        list(ui, area);
}

void Front::header(Ui& ui, Box box, std::string_view title, bool back) {
    const float gap = ui.px(ui::gap_px);
    if (back && ui::button(ui, "front.plan", box.cut_left(ui.px(110), gap), "The plan"))
        wishes_.plan = true;
    if (ui::button(ui, "page.ground", box.cut_right(ui.px(72), gap), ui.night() ? "Day" : "Night", ui::Look::plain, true,
                   ui.night() ? "Day colours" : "Night colours"))
        wishes_.night = true;
    const std::string clock = minute_text(now_, day_);
    Box time = box.cut_right(ui.text_width(Face::title, clock) + ui.px(8), gap);
    const float h = ui.line_height(Face::title), y = box.y + (box.h - h) / 2;
    time.y = y, time.h = h;
    ui.note({.id = "clock", .label = "It is", .value = clock, .role = ui::Role::text, .box = time});
    ui.put_text(time, Face::title, ui.palette().ink, clock);
    const Box line = {box.x, y, box.w, h};
    ui.note({.id = "title", .label = title, .role = ui::Role::heading, .box = line});
    ui.put_text(line, Face::title, ui.palette().ink, title);
}

// --- the list -------------------------------------------------------------------------------------------

float Front::store(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(10);
    const store::SessionStore& store = desk_.store();
    std::string text = store_mode_text(store);
    if (text.empty() && store.unsaved() > 0)
        text = joined({dose_number(store.unsaved(), 1, 0), " records are not saved yet. Keep this page open."});
    if (!text.empty())
        box.cut_top(ui::caution(ui, "front.store", box, "Store", text), gap);
    if (store.mode() == store::Mode::read_only &&
        ui::button(ui, "front.take_over", box.cut_top(ui.px(ui::row_px), gap).cut_left(ui.px(300)),
                   "Take over: write in this window"))
        platform::take_over();
    return box.y - top;
}

float Front::sessions(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const auto& cases = desk_.cases();
    if (cases.empty())
        box.cut_top(ui::paragraph(ui, "front.none", box, "No session is on this machine.", Face::title), gap);
    int n = 0;
    for (const auto& c : cases) {
        ++n;
        Box row = box.cut_top(ui.px(84), gap);
        if (c->unreadable || c->log.empty()) {
            const std::string why = c->unreadable ? joined({c->unreadable->where, ": ", c->unreadable->problem}) : "";
            if (ui::session_row(ui, ui.id("front.unreadable.", n), row, std::nullopt, "A session that cannot be read", why, ""))
                wishes_.open = c->key;
            continue;
        }
        const Session& s = c->session();
        const DayClock day = day_clock_of(s);
        const ToDo& next = c->live.to_do[0];
        std::string due = joined({name(s.phase), ". Next: ", to_do_text(next, c->live.reckoning)});
        due += next.due ? (next.what == Doing::observe ? joined({", due since ", clock_text(next.at, day)}) : std::string(", now"))
                        : joined({", at ", clock_text(next.at, day)});
        const std::string trouble = store_trouble_text(desk_.store(), c->key);
        const std::string title = joined({name(s.object), s.digits ? ", bag ends in " : ", no bag digits",
                                          s.digits ? std::string_view(s.digits->data(), 4) : std::string_view(),
                                          s.rehearsal ? ", rehearsal" : ""});
        // A log that came as a file may have the object of another session: then that is said.
        const int alike = static_cast<int>(std::count_if(cases.begin(), cases.end(), [&](const auto& other) {
            return !other->unreadable && !other->log.empty() && other->session().object == s.object;
        }));
        const bool first = std::find_if(cases.begin(), cases.end(), [&](const auto& other) {
                               return !other->unreadable && !other->log.empty() && other->session().object == s.object;
                           })->get() == c.get();
        const std::string id = joined({"front.", name(s.object), first ? std::string() : "." + dose_number(n, 1, 0)});
        const std::string word = !c->damaged.empty() ? "damaged: read only" : alike > 1 ? "this object stands here twice" : trouble;
        if (!ui::session_row(ui, ui.keep(id), row, s.object, title, due, word))
            continue;
        message_.clear();
        const bool sure = last_opened_ == c->key || (last_opened_.empty() && cases.size() == 1);
        if (sure) {
            wishes_.open = c->key;
        } else {
            confirming_ = c->key;
            ui.change_screen();
        }
    }
    return box.y - top;
}

float Front::machine(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    ui::subheading(ui, "front.machine", box.cut_top(ui.line_height(Face::small), ui.px(4)), "This machine");
    std::string ahead = "The clock has not been compared with the one that you chart by.";
    if (desk_.ahead_known())
        ahead = desk_.ahead() == Seconds{} ? std::string("Its clock is the one that you chart by.")
                                           : joined({"Its clock is ", span_text(desk_.ahead()),
                                                     desk_.ahead() > Seconds{} ? " behind" : " ahead of",
                                                     desk_.ahead() > Seconds{} ? " the one that you chart by; all times here are right."
                                                                               : " the one that you chart by; all times here are right."});
    box.cut_top(ui::paragraph(ui, "front.ahead", box, ahead), gap);
    const int columns = box.w >= ui.px(620) ? 3 : 2;
    Box line{};
    int n = 0;
    const auto put = [&](std::string_view id, std::string_view label, bool enabled = true) {
        if (n % columns == 0)
            line = box.cut_top(ui.px(ui::row_px), gap);
        return ui::button(ui, id, line.cell(columns, 1, n++ % columns, 0, gap), label, ui::Look::plain, enabled);
    };
    if (put("front.clock", "Compare the clock"))
        ask_for_clock(ui);
    const platform::Sound sound = platform::sound();
    if (put("front.sound", sound == platform::Sound::off ? "Soft sound: off" : "Soft sound: on")) {
        platform::set_sound(sound == platform::Sound::off);
        if (sound == platform::Sound::off)
            platform::chime();
    }
    if (put("front.import", "Open a log file", desk_.store().may_write()))
        platform::open_file();
    if (put("page.about", "About and licences"))
        wishes_.licences = true;
    if (put("front.clear", "Clear this device ...")) {
        clears_ = true;
        ui.change_screen();
    }
    return box.y - top;
}

void Front::list(Ui& ui, Box area) {
    const float gap = ui.px(12);
    header(ui, area.cut_top(ui.px(48), ui.px(8)), "Sessions", true);
    Box foot = area.cut_bottom(ui.px(56), gap);
    const bool can = desk_.store().may_write();
    const Box join = foot.cut_right(foot.w * 0.4f, ui.px(ui::gap_px));
    if (ui::button(ui, "front.new", foot, "New session", ui::Look::primary, can))
        begin(ui, Begin::empty);
    if (ui::button(ui, "front.join", join, "Join one half-way", ui::Look::plain, can))
        begin(ui, Begin::join);
    const Box in = ui.begin_scroll("front", area);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    const float top = rest.y;
    if (!reminder_.empty())
        rest.cut_top(ui::caution(ui, "reminder", rest, "", reminder_), gap);
    if (const std::string slept = desk_.sleep_text(); !slept.empty())
        rest.cut_top(ui::paragraph(ui, "clock.slept", rest, slept), gap);
    if (!message_.empty())
        rest.cut_top(ui::paragraph(ui, "front.message", rest, message_), gap);
    rest.cut_top(store(ui, rest), 0);
    rest.cut_top(sessions(ui, rest), gap);
    if (ui::button(ui, "front.round", rest.cut_top(ui.px(ui::row_px), gap), "Plan a round: several units, one or more nurses"))
        wishes_.round = true;
    if (ui::button(ui, "front.sequence", rest.cut_top(ui.px(ui::row_px), gap), "Plan several units for one person"))
        wishes_.sequence = true;
    if (ui::button(ui, "front.more", rest.cut_top(ui.px(ui::row_px), gap), "More: what is not for the bedside"))
        wishes_.more = true;
    rest.cut_top(machine(ui, rest), gap);
    std::string text(watch_sentence());
    for (std::size_t i = 0; i < caution_count; ++i)
        text.append(" ").append(caution(i));
    rest.cut_top(ui::paragraph(ui, "caution", rest, text, Face::small, true), gap);
    ui.end_scroll(rest.y - top);
    ui.announce(!message_.empty() ? std::string_view(message_) : !reminder_.empty() ? std::string_view(reminder_) : "Sessions");
}

// --- single questions -----------------------------------------------------------------------------------

// Two sessions are told apart by their objects: whoever opens another one says which it is.
void Front::confirm(Ui& ui, Box area) {
    const desk::Case* c = desk_.find(confirming_);
    if (!c || c->unreadable) {
        confirming_.clear();
        return;
    }
    const Session& s = c->session();
    const float gap = ui.px(16);
    header(ui, area.cut_top(ui.px(48), ui.px(8)), "Is this the one?", false);
    Box foot = area.cut_bottom(ui.px(56), gap);
    const Box no = foot.cut_right(foot.w * 0.4f, ui.px(ui::gap_px));
    ui::object(ui, "confirm.object", area.cut_top(std::min(area.h * 0.5f, ui.px(240)), gap), s.object);
    const std::string what = joined({"The ", name(s.object), s.digits ? ". Its bag ends in " : ". It has no bag digits",
                                     s.digits ? std::string_view(s.digits->data(), 4) : std::string_view(), ". ",
                                     name(s.phase), "."});
    area.cut_top(ui::paragraph(ui, "confirm.what", area, what, Face::title), gap);
    ui::paragraph(ui, "confirm.look", area, "Look at the bag in front of you: is it this one?");
    ui.announce(what);
    const std::string yes = joined({"Yes, the ", name(s.object)});
    if (ui::button(ui, "confirm.yes", foot, yes, ui::Look::primary)) {
        wishes_.open = confirming_;
        confirming_.clear();
        ui.change_screen();
    } else if (ui::button(ui, "confirm.no", no, "No")) {
        confirming_.clear();
        ui.change_screen();
    }
}

void Front::answer_clock(Ui& ui, Seconds ahead) {
    desk_.set_ahead(ahead);
    asks_clock_ = false;
    types_clock_ = false;
    form_.clear();
    wishes_.clock_answered = true;
    wishes_.begin = then_;
    then_ = Begin::none;
    ui.change_screen();
}

void Front::clock(Ui& ui, Box area) {
    const float gap = ui.px(12);
    header(ui, area.cut_top(ui.px(48), ui.px(8)), "The clock", false);
    form_.tell_time(machine_now_, wall_, day_);
    const std::string machine = minute_text(now_, day_);
    std::string text;
    if (const auto jump = desk_.jump())
        text = joined({"This machine's clock moved ", *jump > Seconds{} ? "forward" : "back", " by ", span_text(*jump),
                       *jump > Seconds{} ? ": it was set, or the machine slept. " : ": it was set. "});
    text += joined({"It is now ", machine, " here. Does the clock that you chart by say the same?"});
    Box foot = area.cut_bottom(ui.px(56), gap);
    area.cut_top(ui::paragraph(ui, "clock.question", area, text, Face::title), gap);
    ui.announce(text);
    if (!types_clock_) {
        area.cut_top(ui::paragraph(ui, "clock.why", area,
                                   "It is asked once. The difference is kept, and every time here is told by your clock."),
                     gap);
        const Box other = foot.cut_right(foot.w * 0.45f, ui.px(ui::gap_px));
        if (ui::button(ui, "clock.same", foot, "The same", ui::Look::primary))
            answer_clock(ui, desk_.ahead());
        else if (ui::button(ui, "clock.other", other, "It says another time ...")) {
            types_clock_ = true;
            form_.clear();
            form_.time("clock.time", "The clock that you chart by says").needed = true;
            ui.change_screen();
            form_.open_missing(ui);
        }
        return;
    }
    Box left = area;
    left.w = std::min(left.w, ui.px(520));
    left.cut_top(form_.fields(ui, left, 1), gap);
    form_.dock(ui, left);
    const auto said = form_.time("clock.time");
    const Box back = foot.cut_right(foot.w * 0.35f, ui.px(ui::gap_px));
    if (ui::button(ui, "clock.confirm", foot, "It says this", ui::Look::primary, said.has_value()) && said) {
        // Both to the minute: the difference is whole minutes.
        answer_clock(ui, *said - minute_of(machine_now_));
    } else if (ui::button(ui, "clock.back", back, "Back")) {
        types_clock_ = false;
        form_.clear();
        ui.change_screen();
    }
}

void Front::clear(Ui& ui, Box area) {
    const float gap = ui.px(16);
    header(ui, area.cut_top(ui.px(48), ui.px(8)), "Clear this device", false);
    Box foot = area.cut_bottom(ui.px(56), gap);
    const Box no = foot.cut_right(foot.w * 0.5f, ui.px(ui::gap_px));
    int open = 0;
    for (const auto& c : desk_.cases())
        open += !c->unreadable && !c->log.empty() && c->session().phase != Phase::closed ? 1 : 0;
    std::string text = joined({"All that this page keeps on this machine goes, at once and for good: ",
                               dose_number(static_cast<Wide>(desk_.cases().size()), 1, 0), " sessions, and the settings."});
    if (open > 0)
        text += joined({" ", dose_number(open, 1, 0), open == 1 ? " of them is" : " of them are", " not closed yet."});
    ui::paragraph(ui, "clear.what", area, text, Face::title);
    ui.announce(text);
    if (ui::button(ui, "clear.yes", foot, "Remove all of it")) {
        wishes_.clear = true;
        ui.change_screen();
    } else if (ui::button(ui, "clear.no", no, "Keep it", ui::Look::primary)) {
        clears_ = false;
        ui.change_screen();
    }
}

} // namespace hangtime::screens
