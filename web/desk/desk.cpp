#include "web/desk/desk.hpp"

#include "core/words/words.hpp"

#include <algorithm>

namespace hangtime::desk {
namespace {

constexpr int object_count = static_cast<int>(spoken_object_names.size());

// Kept as a number that a setting can hold: one more than the seconds, so that 0 stays "never asked".
constexpr int ahead_shift = 1'000'000;

} // namespace

Desk::Desk(const std::vector<Protocol>& protocols, platform::Shelf shelf)
    : protocols_(protocols), store_(shelf), ahead_known_(rehearses()) {
    if (rehearses())
        return;
    const int kept = platform::load_setting("ahead", 0);
    ahead_known_ = kept != 0;
    if (ahead_known_)
        ahead_ = Seconds{kept - ahead_shift};
}

void Desk::set_ahead(Seconds ahead) {
    ahead_ = ahead;
    ahead_known_ = true;
    if (!rehearses())
        platform::save_setting("ahead", static_cast<int>(ahead.count) + ahead_shift);
}

void Desk::note_clock(Seconds jumped, Instant machine_now, const WallClock& wall) {
    for (const auto& c : cases_)
        if (!c->read_only() && !c->log.empty() && c->session().phase != Phase::closed)
            note_now(*c, EventKind::clock_set, facts::ClockSet{wall, ahead_, jumped}, machine_now);
}

void Desk::clock_jumped(Seconds by, Instant machine_now, const WallClock& wall) {
    jump_ = by;
    jump_stays_ = by < Seconds{};
    if (jump_stays_)
        set_ahead(ahead_ - by);
    note_clock(by, machine_now, wall);
}

void Desk::slept(Seconds by, Instant machine_now, const WallClock& wall) {
    const Seconds before = slept_.value_or(Seconds{});
    note_clock(by, machine_now, wall);
    slept_ = before + by;
}

std::string Desk::sleep_text() const {
    if (!slept_)
        return {};
    return joined({"This machine slept for ", span_text(*slept_), ". The time has gone on, and so has every limit. If the clock "
                   "here is not the one that you chart by, compare it."});
}

void Desk::answer_jump(bool stays, Instant machine_now, const WallClock& wall) {
    if (!jump_)
        return;
    if (stays != jump_stays_)
        set_ahead(stays ? ahead_ - *jump_ : ahead_ + *jump_);
    jump_.reset();
    note_clock({}, machine_now, wall);
}

Case* Desk::find(std::string_view key) {
    for (const auto& c : cases_)
        if (c->key == key)
            return c.get();
    return nullptr;
}

Case& Desk::case_of(std::string_view key) {
    if (Case* there = find(key))
        return *there;
    cases_.push_back(std::make_unique<Case>());
    cases_.back()->key = key;
    return *cases_.back();
}

void Desk::record_found(std::string_view session, int n, std::string_view text) {
    const store::Found found = store_.record_found(session, n, text);
    if (found == store::Found::fresh || found == store::Found::displaced || found == store::Found::too_much)
        case_of(session).stale = true;
}

void Desk::session_gone(std::string_view session) {
    store_.session_gone(session);
}

void Desk::removed(std::string_view session) {
    std::erase_if(cases_, [&](const auto& c) { return c->key == session; });
}

void Desk::cleared() {
    cases_.clear();
    ahead_ = {};
    ahead_known_ = rehearses();
    jump_.reset();
    slept_.reset();
}

void Desk::read_again(Case& c) {
    c.stale = false;
    c.damaged.clear();
    c.unreadable.reset();
    if (store_.left_out(c.key)) {
        c.unreadable = Error{"this page", "has no room for it beside the other sessions; it is kept as it is",
                             "fewer sessions on this device, and opening the page again"};
        c.log = {};
        return;
    }
    const std::vector<std::string>* texts = store_.records(c.key);
    const std::vector<std::string_view> lines =
        texts ? std::vector<std::string_view>(texts->begin(), texts->end()) : std::vector<std::string_view>();
    Result<LogRead> read = read_log(lines);
    if (!read.ok()) {
        c.unreadable = read.error();
        c.log = {};
        return;
    }
    c.log = std::move(read.value().log);
    c.sum = read.value().sum;
    c.damaged = std::move(read.value().damaged);
}

void Desk::reckon(Instant machine_now, const WallClock& wall) {
    (void)wall;
    const Instant now = charted(machine_now);
    for (const auto& c : cases_)
        if (c->stale)
            read_again(*c);
    std::vector<std::string> over;
    for (const auto& c : cases_) {
        if (c->unreadable)
            continue;
        reckon_live(c->session(), now, c->live, other_line(*c));
        const Session& s = c->session();
        if (c->key != staged_ && s.phase == Phase::closed && s.protocol->session && c->live.to_do[0].what == Doing::finished &&
            now > c->log.events().back().noted + s.protocol->session->keep_finished.value)
            over.push_back(c->key);
    }
    for (const std::string& key : over)
        remove(key);
}

std::optional<SpokenObject> Desk::free_object(std::optional<SpokenObject> but) const {
    for (int i = 0; i < object_count; ++i) {
        const auto object = static_cast<SpokenObject>(i);
        if (object == but)
            continue;
        // Nor one that a session is still linked to: another person would be taken for that one.
        const bool taken = std::any_of(cases_.begin(), cases_.end(), [object](const auto& c) {
            return !c->unreadable && !c->log.empty() && (c->session().object == object || c->session().linked == object);
        });
        if (!taken)
            return object;
    }
    return std::nullopt;
}

Case* Desk::open(std::size_t protocol, Instant machine_now, const WallClock& wall, bool joined) {
    if (!store_.may_write())
        return nullptr;
    const SpokenObject object = free_object().value_or(static_cast<SpokenObject>(object_count - 1));
    Case& c = case_of(platform::new_session_key());
    c.stale = false;
    facts::Opened opened;
    opened.object = object;
    opened.wall = wall;
    opened.rules = {std::make_shared<Protocol>(protocols_[protocol])};
    const Instant now = charted(machine_now);
    note(c, EventKind::opened, std::move(opened), {now, Precision::second}, machine_now);
    if (ahead_ != Seconds{})
        note(c, EventKind::clock_set, facts::ClockSet{wall, ahead_, {}}, {now, Precision::second}, machine_now);
    if (joined)
        note(c, EventKind::joined, std::monostate{}, {now, Precision::second}, machine_now);
    reckon_live(c.session(), now, c.live);
    return &c;
}

std::optional<NotNoted> Desk::note(Case& c, EventKind kind, Facts facts, Stated at, Instant machine_now,
                                   std::vector<std::int32_t> replaces) {
    if (c.read_only() || !store_.may_write())
        return NotNoted{{}, true};
    Event event;
    event.kind = kind;
    event.facts = std::move(facts);
    event.at = at;
    event.replaces = std::move(replaces);
    const Instant now = charted(machine_now);
    if (c.key == staged_) {
        if (!stage_)
            return NotNoted{{}, true}; // its clock has stopped
        const auto refused = stage_->note(std::move(event));
        stage_moved(now);
        return refused ? std::optional(NotNoted{refused, false}) : std::nullopt;
    }
    const Rate other = other_line(c);
    if (!c.log.empty())
        if (const auto refused = refuses(c.log, event, now, other))
            return NotNoted{refused, false};
    if (const auto refused = c.log.append(std::move(event), now))
        return NotNoted{refused, false};
    store_.append(c.key, write_record(c.log.events().back(), c.sum));
    reckon_live(c.session(), now, c.live, other);
    slept_.reset();
    const Event& noted = c.log.events().back();
    if (noted.kind == EventKind::reaction_suspected && noted.replaces.empty())
        share_reaction(c, noted.at.at, machine_now);
    return std::nullopt;
}

Case* Desk::stage(Stage& stage, Instant now) {
    if (!store_.may_write())
        return nullptr;
    stage_ = &stage;
    Case& c = case_of(platform::new_session_key());
    staged_ = c.key;
    c.stale = false;
    stage_moved(now);
    return &c;
}

void Desk::stage_moved(Instant now) {
    Case* c = stage_ ? find(staged_) : nullptr;
    if (!c)
        return;
    catch_up(*c);
    reckon_live(c->session(), now, c->live);
}

// The case holds the same log, record for record: each was judged there already.
void Desk::catch_up(Case& c) {
    const auto& theirs = stage_->log().events();
    while (c.log.events().size() < theirs.size()) {
        if (c.log.adopt(theirs[c.log.events().size()]))
            return;
        store_.append(c.key, write_record(c.log.events().back(), c.sum));
    }
}

std::optional<NotNoted> Desk::note_now(Case& c, EventKind kind, Facts facts, Instant machine_now) {
    return note(c, kind, std::move(facts), {charted(machine_now), Precision::second}, machine_now);
}

const Event* Desk::last_to_undo(const Case& c) const {
    for (std::size_t i = c.log.events().size(); i-- > 1;) {
        const Event& e = c.log.events()[i];
        if (c.log.is_void(e.number) || e.kind == EventKind::withdrawn || e.kind == EventKind::clock_set)
            continue;
        return may_take_back(c, e) ? &e : nullptr;
    }
    return nullptr;
}

std::optional<NotNoted> Desk::undo(Case& c, Instant machine_now) {
    const Event* last = last_to_undo(c);
    if (!last)
        return NotNoted{Refusal::no_such_record, false};
    return note_now(c, EventKind::withdrawn, facts::Numbers{{last->number}}, machine_now);
}

void Desk::remove(std::string_view key) {
    const std::string held(key);
    store_.remove(held);
    std::erase_if(cases_, [&](const auto& c) { return c->key == held; });
}

Result<Desk::Imported> Desk::import(std::string_view text) {
    const auto records = static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')) + 1;
    if (!store_.has_room(text.size(), records))
        return Error{"this page",
                     joined({"has no room for ", dose_number(static_cast<Wide>(records), 1, 0), " records beside the ",
                             dose_number(static_cast<Wide>(cases_.size()), 1, 0), " sessions that are here; nothing has changed"}),
                     "a shorter log, or fewer sessions: finished ones go when their keep time is over"};
    Result<LogRead> read = read_log(text);
    if (!read.ok())
        return read.error();
    if (!read.value().damaged.empty())
        return read.value().damaged[0].error;
    if (read.value().log.session().rehearsal != rehearses())
        return rehearses() ? Error{"line 1", "is the log of a real session", "the log of a rehearsal"}
                           : Error{"line 1: rehearsal", "is the log of a rehearsal", "the log of a session; what was rehearsed opens behind \"Rehearse\""};
    if (!store_.may_write())
        return Error{"the store", "cannot be written to", "this window as the one that writes"};
    Log log = std::move(read.value().log);
    Imported out{platform::new_session_key(), log.session().object, {}, false};
    const bool taken = std::any_of(cases_.begin(), cases_.end(), [&](const auto& c) {
        return !c->unreadable && !c->log.empty() && (c->session().object == out.object || c->session().linked == out.object);
    });
    // Nobody who is linked here is meant by a file either.
    if (const auto free = free_object(log.session().linked); taken && free) {
        std::vector<Event> events = log.events();
        auto opened = facts_of<facts::Opened>(events.front());
        opened.object = *free;
        events.front().facts = std::move(opened);
        if (std::optional<Log> renamed = Log::of(std::move(events))) {
            log = std::move(*renamed);
            out.was = out.object;
            out.object = *free;
        }
    }
    Case& c = case_of(out.key);
    c.log = std::move(log);
    c.stale = false;
    c.sum = first_sum;
    for (const Event& event : c.log.events())
        store_.append(c.key, write_record(event, c.sum));
    if (c.session().linked) {
        facts::Numbers links;
        for (const Event& event : c.log.events())
            if (event.kind == EventKind::linked && !c.log.is_void(event.number))
                links.of.push_back(event.number);
        Event event;
        event.kind = EventKind::withdrawn;
        event.facts = std::move(links);
        // After all that was noted, whatever the clock says here.
        const Instant at = c.log.events().back().noted;
        event.at = {at, Precision::second};
        if (!c.log.append(std::move(event), at)) {
            store_.append(c.key, write_record(c.log.events().back(), c.sum));
            out.unlinked = true;
        }
    }
    return out;
}

std::vector<Case*> Desk::other_lines(const Case& c) const {
    std::vector<Case*> out;
    const auto linked = [](const Session& a, const Session& b) {
        return (a.linked && *a.linked == b.object) || (b.linked && *b.linked == a.object);
    };
    const Case* from = &c;
    for (std::size_t i = 0;; from = out[i++]) {
        for (const auto& other : cases_) {
            if (other.get() == &c || other->unreadable || from->log.empty() || other->log.empty() ||
                std::find(out.begin(), out.end(), other.get()) != out.end())
                continue;
            if (linked(from->session(), other->session()))
                out.push_back(other.get());
        }
        if (i >= out.size())
            return out;
    }
}

std::vector<FluidBeside> Desk::beside(const Case& c) const {
    std::vector<FluidBeside> out;
    for (const Case* other : other_lines(c))
        out.push_back({other->session(), other->live, other->damaged.empty()});
    return out;
}

Rate Desk::other_line(const Case& c) const {
    Rate sum{};
    for (const Case* other : other_lines(c))
        if (other->session().phase == Phase::running)
            sum = sum + other->session().state.run.rate_in_force();
    return sum;
}

// Two lines into one person have one reaction: what runs through the other stops too, what is over is suspect too, and
// what has not begun there needs somebody's word again.
void Desk::share_reaction(const Case& c, Instant at, Instant machine_now) {
    for (Case* other : other_lines(c)) {
        const Session& s = other->session();
        if (s.reaction && *s.reaction >= at)
            continue;
        if (!note(*other, EventKind::reaction_suspected, std::monostate{}, {at, Precision::second}, machine_now))
            continue;
        facts::ItemNoted taken_back;
        taken_back.item = Item::authorisation;
        taken_back.how = ItemHow::withdrawn;
        if (s.units_covered > 0)
            note_now(*other, EventKind::item_noted, taken_back, machine_now);
    }
}

std::optional<Instant> Desk::next_change() const {
    std::optional<Instant> next;
    for (const auto& c : cases_) {
        if (c->unreadable || !c->live.next_change)
            continue;
        const Instant machine = *c->live.next_change - ahead_;
        if (!next || machine < *next)
            next = machine;
    }
    return next;
}

} // namespace hangtime::desk
