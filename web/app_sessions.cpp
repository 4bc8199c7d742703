#include "web/app.hpp"

#include "core/words/words.hpp"
#include "web/desk/reminders.hpp"
#include "web/rehearsals.hpp"
#include "web/teach.hpp"
#include "web/screens/workshop.hpp"
#include "web/widgets/answer.hpp"

/// The sessions of the App: the platform's calls on their way to the desk, what the screens wish, and reminders.

namespace hangtime {

using screens::Front;

// --- from the platform ----------------------------------------------------------------------------------

void App::store_state(platform::StoreState state, bool writer) { desk_.store().store_state(state, writer); }

void App::record_found(std::string_view session, int n, std::string_view text) { desk_.record_found(session, n, text); }

void App::records_complete() { desk_.store().records_complete(); }

void App::session_gone(std::string_view session) { desk_.session_gone(session); }

void App::stored(std::string_view session, int n, platform::Stored outcome) { desk_.store().stored(session, n, outcome); }

void App::removed(std::string_view session, platform::Stored outcome) { desk_.store().removed(session, outcome); }

void App::cleared(const platform::Left& left) {
    desk_.store().cleared();
    desk_.cleared();
    front_.cleared(left);
    round_.forget();
    sequence_.forget();
    rehearsals_->cleared();
    teach_->cleared();
    go(Where::front);
}

void App::woken() {
    // The page may be hidden: then its title is all that shows, and no frame follows.
    desk_.reckon(platform::now(), platform::wall_clock());
    remind();
    rehearsals_->forget_unseen();
    if (bedside_.forget_unseen(platform::now()))
        frame(); // also while it is hidden: what stands in the page is taken out of it
}

void App::awake() { woken(); }

void App::clock_jumped(Seconds by) {
    if (!plan_)
        return;
    desk_.clock_jumped(by, platform::now(), platform::wall_clock());
    front_.clock_jumped();
    if (where_ == Where::session) {
        was_in_ = bedside_.key();
        go(Where::front);
    }
}

void App::slept(Seconds by) {
    if (!plan_)
        return;
    desk_.slept(by, platform::now(), platform::wall_clock());
}

void App::file_opened(platform::FileOutcome outcome, std::string_view text) {
    if (where_ == Where::rehearse) {
        rehearsals_->file_opened(ui_, outcome, text);
        return;
    }
    if (where_ == Where::rules) {
        workshop_->file_opened(outcome, text);
        return;
    }
    switch (outcome) {
    case platform::FileOutcome::none_chosen: return;
    case platform::FileOutcome::too_large: front_.say("That file is too large to be a log of this page."); return;
    case platform::FileOutcome::unreadable: front_.say("That file could not be read."); return;
    case platform::FileOutcome::opened: break;
    }
    const auto taken = desk_.import(text);
    if (!taken.ok()) {
        const Error& error = taken.error();
        front_.say("That file is not taken: " + error.where + ": " + error.problem + "; accepted: " + error.accepted + ".");
        return;
    }
    const desk::Desk::Imported& log = taken.value();
    std::string said = joined({"The log is taken as a session of its own, the ", name(log.object), "."});
    if (log.was)
        said += joined({" It was the ", name(*log.was), " where it comes from; here another session has that object."});
    if (log.unlinked)
        said += " It was linked to another line there. If that line is here too, link the two again.";
    front_.say(std::move(said));
}

// --- reminders ------------------------------------------------------------------------------------------

void App::set_title(std::string title) {
    if (title == title_)
        return;
    title_ = std::move(title);
    platform::set_title(title_);
}

void App::remind() {
    const Instant now = desk_.charted(platform::now());
    const auto most = desk::pressing(desk_, now);
    const std::string text = most ? desk::reminder_text(*most, now) : std::string();
    front_.remind(text);
    bedside_.remind(text);
    doors_.remind(text);
    reminder_ = text;
    if (where_ == Where::rehearse)
        set_title(text.empty() ? rehearsals_->title() : joined({"Rehearsal open. Real session: ", text}));
    else if (!text.empty())
        set_title(text);
    else
        set_title(where_ == Where::plan ? "Hangtime: plan a transfusion"
                  : where_ == Where::round ? "Hangtime: round"
                  : where_ == Where::sequence ? "Hangtime: several units"
                  : where_ == Where::teach ? std::string(teach_->title()) : "Hangtime: sessions");
    if (reminded_until_ && now > *reminded_until_ && desk::reminded(desk_, *reminded_until_, now))
        platform::chime();
    reminded_until_ = now;
    std::optional<Instant> next = desk::next_reminder(desk_, now);
    if (next)
        next = *next - desk_.ahead();
    for (const std::optional<Instant> forget : {bedside_.forget_at(), rehearsals_->forget_at()})
        if (forget && (!next || *forget < *next))
            next = forget;
    platform::remind_at(next);
}

void App::show_reminder() {
    ui_.announce_first(reminder_.empty() ? std::string()
                       : where_ == Where::rehearse ? joined({"A real session, now: ", reminder_})
                                                   : reminder_);
    if (where_ == Where::rehearse)
        return; // it has a head of its own
    const bool missing = where_ == Where::plan || where_ == Where::round || where_ == Where::sequence || where_ == Where::rules ||
                         (where_ == Where::session && bedside_.entering());
    const bool shown = missing && !reminder_.empty();
    const float side = ui_.px(12), gap = ui_.px(6), before = ui_.head().h;
    const float inner = ui_.head().w - 2 * side;
    ui_.set_head(shown ? ui_.text_height(ui::Face::body, reminder_, inner - ui_.px(14)) + 2 * gap : 0);
    const ui::Box head = ui_.head();
    // All of it moves, or where the screen itself says it all that it says: no touch may land on what stands elsewhere now.
    if (head.h != before || reminder_.empty() == reminder_shown_)
        ui_.moved();
    reminder_shown_ = !reminder_.empty();
    if (shown)
        ui::caution(ui_, "reminder", {head.x + side, head.y + gap, inner, head.h - gap}, "", reminder_);
}

// --- what the screens wish ------------------------------------------------------------------------------

void App::go(Where where) {
    if (where != Where::session)
        bedside_.left();
    where_ = where;
    ui_.set_head(0);
    ui_.set_rehearsal(where == Where::rehearse);
    ui_.change_screen();
}

bool App::do_wishes() {
    if (!plan_)
        return false;
    switch (where_) {
    case Where::plan: return do_plan_wishes();
    case Where::front: return do_front_wishes();
    case Where::round: return do_page_wishes(round_.take_wishes(), Where::front);
    case Where::sequence: return do_page_wishes(sequence_.take_wishes(), Where::front);
    case Where::more: return do_more_wishes();
    case Where::rehearse: return do_rehearse_wishes();
    case Where::teach: return do_page_wishes(teach_->take_wishes(), Where::more);
    case Where::rules: return do_page_wishes(workshop_->take_wishes(), Where::more);
    case Where::session: break;
    }
    return do_session_wishes();
}

bool App::do_plan_wishes() {
    const screens::Plan::Wishes wishes = plan_->take_wishes();
    if (wishes.licences)
        platform::show_licences();
    if (wishes.print) {
        before_print();
        platform::print();
    }
    if (wishes.toggle_night)
        toggle_night();
    if (wishes.sessions) {
        protocols();
        go(Where::front);
    }
    if (wishes.go_on) {
        protocols();
        go(Where::front);
        front_.begin(ui_, Front::Begin::from_plan);
    }
    return wishes.toggle_night || wishes.sessions || wishes.go_on;
}

bool App::do_front_wishes() {
    const Front::Wishes wishes = front_.take_wishes();
    if (wishes.licences)
        platform::show_licences();
    if (wishes.clear)
        platform::clear_all();
    if (wishes.night)
        toggle_night();
    if (wishes.plan)
        go(Where::plan);
    if (wishes.clock_answered) {
        note_clock();
        if (!was_in_.empty() && desk_.find(was_in_) && wishes.begin == Front::Begin::none)
            open_session(was_in_);
        was_in_.clear();
    }
    if (wishes.round)
        go(Where::round);
    if (wishes.sequence)
        go(Where::sequence);
    if (wishes.more)
        go(Where::more);
    if (!wishes.open.empty())
        open_session(wishes.open);
    if (wishes.begin != Front::Begin::none)
        begin_session(wishes.begin);
    return wishes.night || wishes.plan || wishes.round || wishes.sequence || wishes.more || wishes.clock_answered ||
           !wishes.open.empty() || wishes.begin != Front::Begin::none;
}

bool App::do_session_wishes() {
    const screens::Bedside::Wishes wishes = bedside_.take_wishes();
    if (wishes.print) {
        before_print();
        platform::print();
    }
    for (const Paper paper : {Paper::report, Paper::slip})
        if (paper == Paper::report ? wishes.report : wishes.slip) {
            paper_ = paper; // until the next touch: the browser asks for it once more when it prints
            before_print();
            platform::print();
        }
    if (wishes.read) {
        before_print();
        platform::show_sheet();
    }
    if (wishes.night)
        toggle_night();
    if (wishes.rehearse)
        rehearse_open_session();
    if (wishes.front)
        go(Where::front);
    return wishes.night || wishes.front || wishes.rehearse;
}

// Of the screens beside the bedside: `to` is where their way back leads.
bool App::do_page_wishes(const screens::PageWishes& wishes, Where to) {
    if (wishes.print) {
        before_print();
        platform::print();
    }
    if (wishes.read) {
        before_print();
        platform::show_sheet();
    }
    if (wishes.night)
        toggle_night();
    if (wishes.back)
        go(to);
    return wishes.night || wishes.back;
}

// A slice of a round's search before each picture; so long that a picture still comes sixty times a second.
bool App::work_on_round() {
    constexpr std::int64_t slice_ms = 8, most_nodes = 2000, step = 50;
    const std::int64_t begun = platform::now_ms();
    std::int64_t nodes = 0;
    bool more = true;
    do
        more = round_.work(step), nodes += step;
    while (more && nodes < most_nodes && platform::now_ms() - begun < slice_ms);
    return more;
}

void App::open_session(std::string_view key, bool joins) {
    desk_.reckon(platform::now(), platform::wall_clock());
    front_.opened(key);
    bedside_.show(ui_, key, joins);
    go(Where::session);
}

void App::begin_session(Front::Begin how) {
    const screens::Entries& entries = plan_->entries();
    std::size_t rules = 0;
    while (rules + 1 < protocols_.size() && &protocols_[rules] != &entries.protocol())
        ++rules;
    const Instant now = platform::now();
    // A bag that has been issued already is a session that is taken up half-way.
    const auto& issued = entries.state().times.issued;
    const bool here = how == Front::Begin::from_plan && issued && issued->at <= desk_.charted(now);
    desk::Case* c = desk_.open(rules, now, platform::wall_clock(), here || how == Front::Begin::join);
    if (!c) {
        front_.say("Nothing can be written in this window.");
        return;
    }
    if (how == Front::Begin::from_plan)
        carry_over(*c);
    const std::string key = c->key;
    open_session(key, how == Front::Begin::join);
}

// What stands in the plan's entries, as records of the session.
void App::carry_over(desk::Case& c) {
    const State& s = plan_->entries().state();
    const Instant now = platform::now();
    facts::Ordered ordered;
    ordered.component = *s.unit.component;
    ordered.order = s.order;
    ordered.expected = s.unit.bag;
    desk_.note_now(c, EventKind::ordered, ordered, now);
    const Recipient& r = s.recipient;
    if (r.weight.grams > 0 || r.gauge > 0 || r.overload_risk != Answer::not_recorded || r.can_report != Answer::not_recorded)
        desk_.note_now(c, EventKind::recipient_told, facts::RecipientTold{r}, now);
    desk_.note_now(c, EventKind::equipment_chosen, facts::EquipmentChosen{s.device, s.line}, now);
    if (!c.session().joined)
        return;
    facts::Issued issued;
    issued.component = *s.unit.component;
    issued.bag = *s.unit.bag;
    issued.expires = s.unit.expires;
    issued.expires_far = s.unit.expires_far;
    issued.thawed = s.times.thawed;
    desk_.note(c, EventKind::issued, issued, *s.times.issued, now);
    if (s.times.left_storage && s.times.left_storage->at <= desk_.charted(now))
        desk_.note(c, EventKind::storage_noted, facts::StorageNoted{StorageChange::left}, *s.times.left_storage, now);
}

// The clock was compared: each session that is open learns of it.
void App::note_clock() {
    const Instant now = platform::now();
    reminded_until_.reset();
    if (desk_.jump()) {
        // What it says now was agreed to, or was put right by hand.
        desk_.answer_jump(desk_.jump_stays(), now, platform::wall_clock());
        return;
    }
    for (const auto& c : desk_.cases()) {
        if (c->read_only() || c->log.empty() || c->session().phase == Phase::closed || c->session().ahead == desk_.ahead())
            continue;
        desk_.note_now(*c, EventKind::clock_set, facts::ClockSet{platform::wall_clock(), desk_.ahead(), {}}, now);
    }
}

} // namespace hangtime
