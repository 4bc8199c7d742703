#include "web/rehearsals.hpp"

#include "core/plan/session_sheet.hpp"
#include "core/rehearse/cards.hpp"
#include "core/rehearse/debrief.hpp"
#include "core/report/session_report.hpp"
#include "core/words/rehearse_words.hpp"
#include "web/desk/reminders.hpp"

namespace hangtime {

using platform::FileOutcome;

namespace {

std::string error_text(const Error& e) {
    return joined({"That file is not taken: ", e.where, ": ", e.problem, "; accepted: ", e.accepted, "."});
}

} // namespace

void Rehearsals::enter(ui::Ui& ui) {
    if (!opened_) {
        opened_ = true;
        library_.open(protocols_);
        desk_.store().open(this);
    }
    go(ui, scene_.on() ? Place::menu : Place::list);
}

std::optional<Error> Rehearsals::make_of(ui::Ui& ui, const Log& log) {
    Result<Scenario> made = scenario_from(log);
    if (!made.ok())
        return made.error();
    author_.open(std::move(made.value()));
    go(ui, Place::author);
    return std::nullopt;
}

void Rehearsals::record_found(std::string_view session, int n, std::string_view text) {
    if (!scene_.kept().found(session, n, text))
        desk_.record_found(session, n, text);
}

void Rehearsals::cleared() {
    scene_.leave();
    scene_.kept().forget();
    desk_.store().cleared();
    desk_.cleared();
    place_ = Place::list;
}

void Rehearsals::file_opened(ui::Ui& ui, FileOutcome outcome, std::string_view text) {
    std::string said;
    switch (outcome) {
    case FileOutcome::none_chosen: return;
    case FileOutcome::too_large: said = "That file is too large to be a rehearsal."; break;
    case FileOutcome::unreadable: said = "That file could not be read."; break;
    case FileOutcome::opened: break;
    }
    if (said.empty() && looks_like_debrief(text)) {
        if (const auto error = debrief_.open(text, library_))
            said = error_text(*error);
        else {
            go(ui, Place::debrief);
            return;
        }
    } else if (said.empty() && text.substr(0, 400).find("\"opened\"") != text.npos) {
        const Result<LogRead> log = read_log(text);
        const auto error = log.ok() ? make_of(ui, log.value().log) : std::optional(log.error());
        if (!error)
            return;
        said = error_text(*error);
    } else if (said.empty()) {
        Result<rehearse::Shared> one = library_.read(text);
        if (one.ok()) {
            list_.add(one.value());
            go(ui, Place::list);
            return;
        }
        said = error_text(one.error());
    }
    list_.say(said);
    debrief_.say(said);
}

void Rehearsals::go(ui::Ui& ui, Place place) {
    if (place_ == Place::play && place != Place::play)
        bedside_.left();
    place_ = place;
    ui.change_screen();
}

void Rehearsals::begin(ui::Ui& ui, rehearse::Shared scenario, std::int32_t seed) {
    if (!scene_.begin(std::move(scenario), seed, platform::now_ms())) {
        list_.say("Nothing can be written in this window: another one rehearses, or the store is not open yet.");
        go(ui, Place::list);
        return;
    }
    reckon();
    bedside_.show(ui, scene_.key());
    go(ui, Place::play);
}

// Read when another one is kept, not for each picture.
void Rehearsals::look_at_kept() {
    if (scene_.kept().key() == kept_key_)
        return;
    kept_key_ = scene_.kept().key();
    kept_ = nullptr;
    const std::vector<std::string>* all = scene_.kept().all();
    if (!all)
        return;
    if (const Result<rehearse::Shared> read = library_.read(all->front()); read.ok())
        kept_ = read.value();
}

// At the moment at which it was left, and standing: the menu says what was said so far.
void Rehearsals::go_on(ui::Ui& ui) {
    if (const auto error = scene_.go_on(kept_, platform::now_ms())) {
        list_.say(joined({"It cannot be gone on with. ", error->where, ": ", error->problem, "."}));
        go(ui, Place::list);
        return;
    }
    reckon();
    bedside_.show(ui, scene_.key());
    paused_before_ = true;
    go(ui, Place::menu);
}

void Rehearsals::finish(ui::Ui& ui) {
    scene_.end();
    debrief_.add(scene_.rehearsal(), scene_.shared_scenario());
    const std::string key = scene_.key();
    scene_.leave();
    desk_.remove(key); // what came of it is in the debrief
    go(ui, Place::debrief);
}

void Rehearsals::reckon() {
    if (scene_.on())
        desk_.reckon(scene_.now(), scene_.scenario().wall);
}

void Rehearsals::forget_unseen() {
    if (platform::now() - looked_ >= screens::BagAndTag::unseen_for)
        bedside_.left();
}

std::optional<Instant> Rehearsals::forget_at() const {
    return bedside_.forget_at() ? std::optional(looked_ + screens::BagAndTag::unseen_for) : std::nullopt;
}

void Rehearsals::tick(ui::Ui& ui) {
    desk_.store().tick();
    forget_unseen();
    looked_ = platform::now();
    if (!scene_.on() || scene_.ended())
        return;
    const Phase before = scene_.rehearsal().log().session().phase;
    const bool said = scene_.said() != nullptr;
    scene_.tick(platform::now_ms());
    reckon();
    if (place_ == Place::play && scene_.rehearsal().log().session().phase != before)
        bedside_.follow(ui);
    if (place_ == Place::play && !said && scene_.said())
        ui.change_screen(); // a card lies on what was touched
    const auto most = desk::pressing(desk_, scene_.now());
    bedside_.remind(most ? desk::reminder_text(*most, scene_.now()) : std::string());
}

// The key that opens the educator's console, where nothing is typed.
bool Rehearsals::look_for_console(ui::Ui& ui) {
    if (ui.editing() || place_ == Place::console)
        return false;
    for (const platform::Event& e : ui.keys())
        if (e.key == platform::Key::character && (e.character == U'e' || e.character == U'E'))
            return true;
    return false;
}

void Rehearsals::build(ui::Ui& ui, std::string_view reminder) {
    const bool plays = place_ == Place::play;
    const bool console = (plays || place_ == Place::menu) && look_for_console(ui);
    if (console) {
        before_console_ = place_;
        if (plays)
            paused_before_ = scene_.paused();
        scene_.set_paused(true, platform::now_ms());
        go(ui, Place::console);
    }
    const bool here = scene_.on() && scene_.rehearsal().log().session().phase == Phase::here;
    head_.build(ui, {.scene = &scene_,
                     .clock = place_ == Place::play,
                     .labels = place_ == Place::play && here && !scene_.said(),
                     .reminder = reminder});
    const ui::Box area = ui.screen().inset(ui.px(12), ui.px(6));
    switch (place_) {
    case Place::list: {
        const std::string store = screens::store_mode_text(desk_.store());
        const bool interrupted = desk_.store().may_write() && !scene_.on() && !(desk_.cases().empty() && scene_.kept().key().empty());
        if (interrupted)
            look_at_kept();
        list_.build(ui, area, {desk_.store().may_write(), store, interrupted, interrupted ? kept_ : nullptr, !debrief_.empty()});
        break;
    }
    case Place::play:
        if (scene_.said())
            heard_ = menu_.card(ui, area, scene_) || heard_;
        else
            bedside_.build(ui, scene_.now(), scene_.scenario().wall, protocols_);
        break;
    case Place::menu: menu_.menu(ui, area, scene_); break;
    case Place::console: menu_.console(ui, area, scene_); break;
    case Place::debrief: debrief_.build(ui, area); break;
    case Place::author: author_.build(ui, area); break;
    }
}

// --- what the screens wish ------------------------------------------------------------------------------

Rehearsals::Wishes Rehearsals::do_wishes(ui::Ui& ui) {
    Wishes out;
    bool again = false;
    switch (place_) {
    case Place::list:
    case Place::author: again = do_list(ui, out); break;
    case Place::play: again = do_play(ui, out); break;
    case Place::menu:
    case Place::console: again = do_menu(ui, out); break;
    case Place::debrief: again = do_debrief(ui, out); break;
    }
    out.again = again || out.page.back || out.page.night;
    return out;
}

bool Rehearsals::do_list(ui::Ui& ui, Wishes& out) {
    if (place_ == Place::author) {
        auto w = author_.take_wishes();
        out.page.night = w.night;
        if (w.play) {
            list_.add(w.play);
            begin(ui, w.play, w.play->seed);
        } else if (w.back) {
            go(ui, Place::list);
        }
        return w.play || w.back;
    }
    auto w = list_.take_wishes();
    out.page.night = w.night;
    out.page.back = w.back;
    if (w.open_file)
        platform::open_file();
    if (w.take_over)
        desk_.store().take_over();
    if (w.sheet) {
        sheet_ = w.sheet;
        cards_ = w.cards ? std::optional(w.seed) : std::nullopt;
        out.page.print = true;
    }
    if (w.results) {
        debrief_.show_list();
        go(ui, Place::debrief);
    }
    if (w.change) {
        author_.open(*w.change);
        go(ui, Place::author);
    }
    if (w.go_on)
        go_on(ui);
    if (w.give_up)
        scene_.drop_left();
    if (w.start)
        begin(ui, w.start, w.seed);
    return w.results || w.change || w.start || w.go_on || w.give_up;
}

bool Rehearsals::do_play(ui::Ui& ui, Wishes& out) {
    const std::int64_t now_ms = platform::now_ms();
    bool again = false;
    const auto head = head_.take_wishes();
    if (head.speed)
        scene_.set_speed(*head.speed, now_ms), again = true;
    if (head.paused)
        scene_.set_paused(*head.paused, now_ms), again = true;
    if (head.jump) {
        const Phase before = scene_.rehearsal().log().session().phase;
        scene_.jump(now_ms);
        reckon();
        if (scene_.rehearsal().log().session().phase != before)
            bedside_.follow(ui);
        ui.change_screen();
        again = true;
    }
    if (heard_) {
        heard_ = false;
        scene_.heard(now_ms);
        bedside_.follow(ui);
        ui.change_screen();
        if (scene_.rehearsal().over() && !scene_.said())
            finish(ui);
        return true;
    }
    const screens::Bedside::Wishes w = bedside_.take_wishes();
    out.page.night = w.night;
    if (w.print || w.report || w.slip) {
        paper_ = w.report ? Paper::report : w.slip ? Paper::slip : Paper::sheet;
        out.page.print = true;
    }
    out.page.read = w.read;
    if (w.front) {
        paused_before_ = scene_.paused();
        scene_.set_paused(true, now_ms);
        go(ui, Place::menu);
        again = true;
    }
    // What was noted may have let something happen.
    if (scene_.said() && place_ == Place::play && !again)
        return false;
    return again;
}

bool Rehearsals::do_menu(ui::Ui& ui, Wishes& out) {
    const std::int64_t now_ms = platform::now_ms();
    auto w = menu_.take_wishes();
    out.page.night = w.night;
    if (w.console) {
        before_console_ = Place::menu;
        go(ui, Place::console);
        return true;
    }
    if (w.inject || w.discuss) {
        if (w.inject)
            scene_.inject(std::move(*w.inject), now_ms);
        else
            scene_.discuss(std::move(*w.discuss));
        reckon();
    }
    if (w.inject || w.discuss || w.go_on || (w.close_console && before_console_ == Place::play)) {
        scene_.set_paused(paused_before_, now_ms);
        go(ui, Place::play);
        bedside_.follow(ui);
        return true;
    }
    if (w.close_console) {
        go(ui, Place::menu);
        return true;
    }
    if (w.end) {
        finish(ui);
        return true;
    }
    if (w.give_up) {
        const std::string key = scene_.key();
        scene_.leave();
        desk_.remove(key);
        go(ui, Place::list);
        return true;
    }
    return false;
}

bool Rehearsals::do_debrief(ui::Ui& ui, Wishes& out) {
    auto w = debrief_.take_wishes();
    out.page.night = w.night;
    out.page.print = w.print;
    if (w.open_file)
        platform::open_file();
    if (w.again) {
        begin(ui, w.again, w.seed);
        return true;
    }
    if (w.back) {
        go(ui, Place::list);
        return true;
    }
    return false;
}

// --- paper, title, waking -------------------------------------------------------------------------------

std::optional<sheet::Document> Rehearsals::document() {
    std::optional<sheet::Document> out;
    if (place_ == Place::debrief) {
        out = debrief_.document();
    } else if (place_ == Place::list && sheet_) {
        out = cards_ ? practice_cards(*sheet_, *cards_) : scenario_sheet(*sheet_);
    } else if (place_ == Place::play && scene_.on()) {
        const desk::Case* c = desk_.find(scene_.key());
        if (!c || c->log.empty())
            return std::nullopt;
        const Session& s = c->session();
        const RuleSet* rules = rules_now(s).rules();
        if (paper_ == Paper::report && s.reaction && rules)
            out = reaction_report(*s.protocol, *rules, reaction_report_of(s, c->live));
        else if (paper_ == Paper::slip)
            out = late_symptoms_slip(*s.protocol);
        else
            out = session_document(c->log, c->live);
        paper_ = Paper::sheet;
    }
    if (!out)
        return out;
    // Whatever it is: it says so at its top.
    if (!out->title.starts_with("Rehearsal"))
        out->title = joined({"Rehearsal: ", out->title});
    if (out->blocks.empty() || out->blocks.front().text != rehearsal_sentence())
        out->blocks.insert(out->blocks.begin(), {sheet::BlockKind::headline, std::string(rehearsal_sentence())});
    return out;
}

std::string Rehearsals::title() const {
    return scene_.on() ? joined({"Rehearsal: case ", std::to_string(case_number(scene_.scenario(), scene_.rehearsal().seed()))}) : std::string("Rehearsal: Hangtime");
}

const Protocol* Rehearsals::rules() const {
    switch (place_) {
    case Place::list: break;
    case Place::play:
    case Place::menu:
    case Place::console: return scene_.on() ? scene_.scenario().rules.get() : nullptr;
    case Place::debrief: return debrief_.rules();
    case Place::author: return author_.rules();
    }
    return nullptr;
}

std::int64_t Rehearsals::wake_ms() const {
    return place_ == Place::play && scene_.on() ? scene_.wake_ms() : -1;
}

} // namespace hangtime
