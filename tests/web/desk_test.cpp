// All sessions between the store and the screens, on the twin: what is noted comes back after a crash, a clock that
// jumps moves no charted time by itself, a damaged record is named and nothing is added behind it, and what runs into
// the same person through another line is known to both.

#include "web/desk/desk.hpp"
#include "web/desk/reminders.hpp"

#include "tests/web/harness.hpp"
#include "core/protocol/read.hpp"
#include "web/json_list.hpp"
#include "web/platform/platform_twin.hpp"
#include "web/platform/store_twin.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using desk::Case;
using desk::Desk;
using test::at;
namespace twin = platform::twin;

namespace {

const std::vector<Protocol>& protocols() {
    static const std::vector<Protocol> all = [] {
        std::vector<Protocol> out;
        const std::string text = test::shipped_protocols();
        for (const std::string_view file : elements_of(text)) {
            Result<Protocol> read = read_protocol(file);
            REQUIRE(read.ok());
            out.push_back(std::move(read.value()));
        }
        return out;
    }();
    return all;
}

struct Window final : platform::Guest {
    Desk desk{protocols()};
    void start() override { desk.store().open(); }
    void frame() override { desk.store().tick(); }
    bool input(const platform::Event&) override { return false; }
    void before_print() override {}
    void store_state(platform::StoreState state, bool writer) override { desk.store().store_state(state, writer); }
    void record_found(std::string_view s, int n, std::string_view text) override { desk.record_found(s, n, text); }
    void records_complete() override { desk.store().records_complete(); }
    void session_gone(std::string_view s) override { desk.session_gone(s); }
    void stored(std::string_view s, int n, platform::Stored o) override { desk.store().stored(s, n, o); }
};

std::unique_ptr<Window> open_window(std::size_t memory = store::SessionStore::memory) {
    auto window = std::make_unique<Window>();
    window->desk.store().set_memory(memory);
    platform::run(*window);
    twin::settle();
    return window;
}

void fresh() {
    twin::reset(1280, 800, 1);
    twin::clear_settings();
    twin::reset_store();
    twin::set_wall(WallClock(Seconds{0}));
}

const WallClock utc(Seconds{0});

// A session taken up half-way that runs at `rate` since `start`.
Case& running(Desk& desk, Instant start, Rate rate, Instant now) {
    Case* c = desk.open(0, now, utc, true);
    REQUIRE(c);
    const auto note = [&](EventKind kind, Facts facts, Instant when) {
        const auto refused = desk.note(*c, kind, std::move(facts), {when, Precision::minute}, now);
        CAPTURE(static_cast<int>(kind));
        REQUIRE_FALSE(refused);
    };
    facts::Issued issued;
    issued.component = Component::red_cells;
    issued.bag = ml(300);
    note(EventKind::recipient_told, facts::RecipientTold{{Mass{60'000}, false, Answer::no, Answer::yes, 20}}, start);
    note(EventKind::issued, issued, start - minutes(10));
    note(EventKind::spiked, {}, start - minutes(1));
    note(EventKind::started, facts::RateSet{rate, false, {}}, start);
    return *c;
}

}  // namespace

TEST_CASE("what was noted is there after a crash, and reckons the same") {
    fresh();
    std::string before;
    {
        auto window = open_window();
        Case& c = running(window->desk, at(13, 30), ml_per_h(50), at(13, 45));
        twin::settle();
        CHECK(window->desk.store().standing(c.key).saved == static_cast<int>(c.log.events().size()));
        before = write_log(c.log);
        twin::crash(false);
    }
    auto window = open_window();
    window->desk.reckon(at(13, 50), utc);
    REQUIRE(window->desk.cases().size() == 1);
    const Case& again = *window->desk.cases()[0];
    CHECK(write_log(again.log) == before);
    CHECK(again.live.running.pushed == ml_per_h(50) * minutes(20));
    CHECK(again.live.phase == Phase::running);
}

TEST_CASE("a clock that is put back moves no charted time, one put forward is taken until somebody says otherwise") {
    fresh();
    auto window = open_window();
    Desk& desk = window->desk;
    Case& c = running(desk, at(13, 30), ml_per_h(50), at(13, 45));
    const Seconds hour = hours(1);

    desk.clock_jumped(-hour, at(12, 45), utc);
    REQUIRE(desk.jump() == -hour);
    CHECK(desk.charted(at(12, 45)) == at(13, 45));
    CHECK_FALSE(desk.note_now(c, EventKind::paused, facts::Paused{}, at(12, 46)));
    CHECK(c.log.events().back().at.at == at(13, 46));
    // It was the machine that had been wrong: then the new time is the right one.
    desk.answer_jump(false, at(12, 46), utc);
    CHECK(desk.charted(at(12, 46)) == at(12, 46));
    CHECK_FALSE(desk.jump());

    desk.clock_jumped(hour, at(14, 46), utc);
    CHECK(desk.charted(at(14, 46)) == at(14, 46));
    desk.answer_jump(true, at(14, 46), utc);
    CHECK(desk.charted(at(14, 46)) == at(13, 46));
}

TEST_CASE("the difference of the clock is kept by the machine and by each log") {
    fresh();
    {
        auto window = open_window();
        CHECK_FALSE(window->desk.ahead_known());
        window->desk.set_ahead(minutes(7));
        const Case* c = window->desk.open(0, at(13, 0), utc, false);
        REQUIRE(c);
        CHECK(c->session().opened == at(13, 7));
        CHECK(c->session().ahead == minutes(7));
    }
    auto window = open_window();
    CHECK(window->desk.ahead_known());
    CHECK(window->desk.ahead() == minutes(7));
}

TEST_CASE("a damaged record is named, the others count, and nothing is added behind it") {
    fresh();
    std::string key;
    {
        auto window = open_window();
        key = running(window->desk, at(13, 30), ml_per_h(50), at(13, 45)).key;
        twin::settle();
        twin::crash(true);
    }
    auto& text = twin::disk().at({key, 3});
    text[text.size() / 2] ^= 1;
    auto window = open_window();
    window->desk.reckon(at(13, 50), utc);
    Case* c = window->desk.find(key);
    REQUIRE(c);
    REQUIRE(c->damaged.size() == 1);
    CHECK(c->damaged[0].number == 3);
    CHECK(c->read_only());
    CHECK(c->session().phase == Phase::running);
    const auto refused = window->desk.note_now(*c, EventKind::paused, facts::Paused{}, at(13, 51));
    REQUIRE(refused);
    CHECK(refused->read_only);
}

TEST_CASE("what was noted last is taken back, and then what came before it") {
    fresh();
    auto window = open_window();
    Case& c = running(window->desk, at(13, 30), ml_per_h(50), at(13, 45));
    CHECK_FALSE(window->desk.note_now(c, EventKind::paused, facts::Paused{}, at(13, 46)));
    CHECK(c.session().phase == Phase::paused);
    CHECK_FALSE(window->desk.undo(c, at(13, 47)));
    CHECK(c.session().phase == Phase::running);
    CHECK_FALSE(window->desk.undo(c, at(13, 47)));
    CHECK(c.session().phase == Phase::hung);
}

TEST_CASE("two lines into one person share what the person may have at most") {
    fresh();
    auto window = open_window();
    Desk& desk = window->desk;
    Case& first = running(desk, at(13, 30), ml_per_h(50), at(13, 45));
    Case& second = running(desk, at(13, 40), ml_per_h(30), at(13, 45));
    CHECK(desk.other_line(first) == Rate{});
    const RateRatio alone = first.live.reckoning.rates.ceiling.rate;
    CHECK_FALSE(desk.note_now(second, EventKind::linked, facts::Linked{first.session().object}, at(13, 46)));
    desk.reckon(at(13, 46), utc);
    CHECK(desk.other_line(first) == ml_per_h(30));
    CHECK(desk.other_line(second) == ml_per_h(50));
    const RateRatio shared = first.live.reckoning.rates.ceiling.rate;
    CHECK(compare_ratio(shared, alone) < 0);
    // A rate that is allowed alone is refused while the other line runs.
    const Rate all{alone.num / alone.den};
    const auto refused =
        desk.note_now(first, EventKind::rate_set, facts::RateSet{all, false, Role::prescriber}, at(13, 47));
    REQUIRE(refused);
    CHECK(refused->refusal == Refusal::rate_above_ceiling);
}

TEST_CASE("two lines into one person have one reaction") {
    fresh();
    auto window = open_window();
    Desk& desk = window->desk;
    Case& first = running(desk, at(13, 30), ml_per_h(50), at(13, 45));
    Case& second = running(desk, at(13, 30), ml_per_h(60), at(13, 45));
    Case& waits = *desk.open(0, at(13, 45), utc, false);
    facts::ItemNoted may;
    may.item = Item::authorisation;
    may.count = 1;
    REQUIRE_FALSE(desk.note_now(waits, EventKind::item_noted, may, at(13, 45)));
    Case& other_person = running(desk, at(13, 30), ml_per_h(70), at(13, 45));
    REQUIRE_FALSE(desk.note_now(second, EventKind::linked, facts::Linked{first.session().object}, at(13, 46)));
    REQUIRE_FALSE(desk.note_now(waits, EventKind::linked, facts::Linked{first.session().object}, at(13, 46)));
    REQUIRE_FALSE(desk.note_now(first, EventKind::reaction_suspected, std::monostate{}, at(13, 50)));
    CHECK(first.session().phase == Phase::paused);
    CHECK(second.session().phase == Phase::paused);
    CHECK(second.session().reaction == at(13, 50));
    CHECK(waits.session().units_covered == 0);
    CHECK(other_person.session().phase == Phase::running);
    const auto resumed = desk.note_now(second, EventKind::resumed, facts::Resumed{Role::nurse}, at(13, 51));
    REQUIRE(resumed);
    CHECK(resumed->refusal == Refusal::needs_restart);
}

TEST_CASE("a session goes out as a file and comes back as one of its own") {
    fresh();
    auto window = open_window();
    Case& c = running(window->desk, at(13, 30), ml_per_h(50), at(13, 45));
    const std::string file = window->desk.file_of(c);
    const SpokenObject own = c.session().object;
    const auto twice = window->desk.import(file);
    REQUIRE(twice.ok());
    REQUIRE(window->desk.cases().size() == 2);
    // The other session has its object: it gets the next free one, and all else is as it was.
    CHECK(twice.value().was == own);
    CHECK(twice.value().object != own);
    const Log& again = window->desk.cases()[1]->log;
    CHECK(again.session().object == twice.value().object);
    CHECK(again.events().size() == c.log.events().size());
    CHECK(again.session().state.run.moved_at(at(13, 45)) == c.session().state.run.moved_at(at(13, 45)));
    const auto wrong = window->desk.import("{\"n\": 1}\n");
    REQUIRE_FALSE(wrong.ok());
    CHECK(wrong.error().where.find("line 1") == 0);
    CHECK(window->desk.cases().size() == 2);
    // Where its object is free it stays, to the byte.
    window->desk.remove(window->desk.cases()[0]->key);
    window->desk.remove(window->desk.cases()[0]->key);
    const auto alone = window->desk.import(file);
    REQUIRE(alone.ok());
    CHECK_FALSE(alone.value().was);
    CHECK(window->desk.file_of(*window->desk.find(alone.value().key)) == file);
}

TEST_CASE("a log that comes as a file is linked to nobody here") {
    fresh();
    auto window = open_window();
    Desk& desk = window->desk;
    Case& first = running(desk, at(13, 30), ml_per_h(50), at(13, 45));
    Case& second = running(desk, at(13, 30), ml_per_h(60), at(13, 45));
    REQUIRE_FALSE(desk.note_now(second, EventKind::linked, facts::Linked{first.session().object}, at(13, 46)));
    CHECK(desk.other_line(first) == ml_per_h(60));
    const std::string file = desk.file_of(second);
    const auto taken = desk.import(file);
    REQUIRE(taken.ok());
    CHECK(taken.value().unlinked);
    Case& third = *desk.find(taken.value().key);
    CHECK_FALSE(third.session().linked);
    // A bug report that is looked at takes nothing off the rate of somebody who is here.
    CHECK(desk.other_line(first) == ml_per_h(60));
    CHECK(desk.other_line(third) == Rate{});
    twin::settle();
    // Also after a reload: it is part of the log.
    window.reset();
    twin::crash(true);
    window = open_window();
    window->desk.reckon(at(13, 47), utc);
    CHECK_FALSE(window->desk.find(taken.value().key)->session().linked);
}

TEST_CASE("the time that a machine slept is taken as it is and said, without a question") {
    fresh();
    auto window = open_window();
    Desk& desk = window->desk;
    Case& c = running(desk, at(13, 30), ml_per_h(50), at(13, 45));
    desk.slept(hours(2), at(15, 45), utc);
    CHECK_FALSE(desk.jump());
    CHECK(desk.charted(at(15, 45)) == at(15, 45));
    CHECK(desk.sleep_text().find("2 h") != std::string::npos);
    CHECK(facts_of<facts::ClockSet>(c.log.events().back()).jumped == hours(2));
    REQUIRE_FALSE(desk.note_now(c, EventKind::paused, facts::Paused{}, at(15, 46)));
    CHECK(desk.sleep_text().empty());
}

TEST_CASE("the desk for rehearsals keeps to its own shelf, and leaves the clock's difference alone") {
    fresh();
    auto window = open_window();
    window->desk.set_ahead(Seconds{120});
    Desk rehearsal(protocols(), platform::Shelf::rehearsal);
    CHECK(rehearsal.rehearses());
    CHECK(rehearsal.ahead() == Seconds{});
    CHECK(rehearsal.ahead_known()); // a simulated clock is asked about nothing
    CHECK(rehearsal.open(0, at(9, 0), utc, false) == nullptr); // its shelf is not open yet
    rehearsal.open();
    twin::settle();
    Case& real = running(window->desk, at(13, 30), ml_per_h(50), at(13, 45));
    Case& played = running(rehearsal, at(9, 0), ml_per_h(50), at(9, 20)); // at a time of its own
    twin::settle();
    CHECK(window->desk.cases().size() == 1);
    CHECK(rehearsal.cases().size() == 1);
    CHECK(rehearsal.store().standing(played.key).saved == static_cast<int>(played.log.events().size()));
    CHECK(window->desk.store().standing(real.key).saved == static_cast<int>(real.log.events().size()));
    CHECK(window->desk.find(played.key) == nullptr);
    CHECK(rehearsal.find(real.key) == nullptr);
    rehearsal.set_ahead(Seconds{-600});
    rehearsal.clock_jumped(Seconds{-60}, at(9, 21), utc);
    CHECK(Desk(protocols()).ahead() == Seconds{120});

    const std::string log = write_log(played.log);
    twin::settle();
    twin::crash(false);
    window = open_window();
    window->desk.reckon(at(13, 50), utc);
    CHECK(window->desk.cases().size() == 1);
    Desk again(protocols(), platform::Shelf::rehearsal);
    again.open();
    twin::settle();
    again.reckon(at(9, 30), utc);
    REQUIRE(again.cases().size() == 1);
    CHECK(write_log(again.cases()[0]->log) == log);
    CHECK(again.cases()[0]->live.running.pushed == ml_per_h(50) * minutes(30));
}

TEST_CASE("three lines into one person are three lines to each of them, and no stranger takes an object that is linked") {
    fresh();
    auto window = open_window();
    Desk& desk = window->desk;
    Case& first = running(desk, at(13, 30), ml_per_h(50), at(13, 45));
    Case& second = running(desk, at(13, 30), ml_per_h(60), at(13, 45));
    Case& third = running(desk, at(13, 30), ml_per_h(70), at(13, 45));
    Case& stranger = running(desk, at(13, 30), ml_per_h(80), at(13, 45));
    REQUIRE_FALSE(desk.note_now(second, EventKind::linked, facts::Linked{first.session().object}, at(13, 46)));
    REQUIRE_FALSE(desk.note_now(third, EventKind::linked, facts::Linked{second.session().object}, at(13, 46)));
    CHECK(desk.other_line(first) == ml_per_h(130));
    CHECK(desk.other_line(second) == ml_per_h(120));
    CHECK(desk.other_line(third) == ml_per_h(110));
    CHECK(desk.other_line(stranger) == Rate{});
    desk.reckon(at(13, 46), utc);
    CHECK(desk.beside(first).size() == 2);
    CHECK(fluid_total(first.session(), first.live, desk.beside(first)).units == 3);
    // The first one goes: its object stays free as long as somebody is linked to it, for a new session and for a file.
    const SpokenObject gone = first.session().object;
    const std::string file = desk.file_of(first);
    desk.remove(first.key);
    CHECK(desk.open(0, at(13, 47), utc, false)->session().object != gone);
    const auto taken = desk.import(file);
    REQUIRE(taken.ok());
    CHECK(taken.value().object != gone);
    CHECK(desk.other_line(second) == ml_per_h(70));
}

TEST_CASE("logs come in as long as there is room for them, and what is refused loses nothing") {
    fresh();
    auto window = open_window();
    Desk& desk = window->desk;
    Case& c = running(desk, at(13, 30), ml_per_h(50), at(13, 45));
    const std::string file = desk.file_of(c), key = c.key;
    const std::size_t one = desk.store().held();
    // Room for this one, a second, and less than a third with what coming in takes for a moment.
    desk.store().set_memory(3 * one);
    REQUIRE(desk.import(file).ok());
    const std::size_t two = desk.store().held();
    CHECK(two >= 2 * one - 1000);
    const auto refused = desk.import(file);
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.error().where == "this page");
    CHECK(refused.error().problem.find("beside the 2 sessions that are here; nothing has changed") != std::string::npos);
    CHECK(desk.cases().size() == 2);
    CHECK(desk.store().held() == two);
    // What is noted by hand is never refused for that, and is saved.
    desk.store().set_memory(one);
    CHECK_FALSE(desk.note_now(*desk.find(key), EventKind::paused, facts::Paused{}, at(13, 50)));
    twin::settle();
    CHECK(desk.store().unsaved() == 0);
    // With one less there is room again.
    desk.store().set_memory(3 * one);
    for (const auto& other : desk.cases())
        if (other->key != key) {
            desk.remove(std::string(other->key));
            break;
        }
    CHECK(desk.store().held() < two);
    CHECK(desk.import(file).ok());
}

TEST_CASE("the limit of the room is to the byte") {
    fresh();
    auto window = open_window();
    store::SessionStore& kept = window->desk.store();
    const std::size_t needed = store::SessionStore::session_bytes + 2 * (1000 + 10 * store::SessionStore::record_bytes);
    kept.set_memory(needed);
    CHECK(kept.has_room(1000, 10));
    CHECK_FALSE(kept.has_room(1001, 10));
    CHECK_FALSE(kept.has_room(1000, 11));
    // By the page's own budget: ordinary sessions by the dozen, and no log that would fill it alone.
    kept.set_memory(store::SessionStore::memory);
    CHECK(kept.has_room(40'000, 100));
    CHECK_FALSE(kept.has_room(8'000'000, 50'000));
}

TEST_CASE("a session that finds no room when the page opens is named, kept in the store, and the others work") {
    fresh();
    std::vector<std::string> keys;
    std::size_t one = 0;
    {
        auto window = open_window();
        for (int i = 0; i < 3; ++i)
            keys.push_back(running(window->desk, at(13, 30), ml_per_h(50), at(13, 45)).key);
        one = window->desk.store().held() / 3;
        twin::settle();
        REQUIRE(window->desk.store().unsaved() == 0);
    }
    const std::size_t on_disk = twin::disk().size();
    twin::crash(true);
    auto window = open_window(2 * one * 4 / 5 + one / 4); // with a quarter more: two, and not three
    Desk& desk = window->desk;
    desk.reckon(at(13, 46), utc);
    REQUIRE(desk.cases().size() == 3);
    int readable = 0, left_out = 0;
    for (const auto& c : desk.cases()) {
        readable += !c->unreadable;
        if (!c->unreadable)
            continue;
        ++left_out;
        CHECK(c->unreadable->problem.find("has no room for it") != std::string::npos);
        CHECK(desk.note_now(*c, EventKind::paused, facts::Paused{}, at(13, 47))->read_only);
    }
    CHECK(readable == 2);
    CHECK(left_out == 1);
    CHECK(twin::disk().size() == on_disk);
    for (const auto& c : desk.cases())
        if (!c->unreadable)
            CHECK_FALSE(desk.note_now(*c, EventKind::paused, facts::Paused{}, at(13, 47)));
    twin::settle();
    CHECK(twin::disk().size() == on_disk + 2);
    // Opened again with room for it, all of it is there.
    window.reset();
    twin::crash(true);
    window = open_window();
    window->desk.reckon(at(13, 48), utc);
    for (const auto& c : window->desk.cases())
        CHECK_FALSE(c->unreadable);
}

TEST_CASE("after a suspected reaction observations are reminded of by its own interval, until the unit is closed") {
    fresh();
    auto window = open_window();
    Desk& desk = window->desk;
    Case& c = running(desk, at(13, 30), ml_per_h(50), at(13, 45));
    const auto due = [&]() -> std::optional<Instant> {
        desk.reckon(at(14, 30), utc);
        for (const desk::Reminder& r : desk::reminders_of(c))
            if (r.what == "Observations after the stop")
                return r.at;
        return std::nullopt;
    };
    CHECK_FALSE(due());
    REQUIRE_FALSE(desk.note_now(c, EventKind::reaction_suspected, std::monostate{}, at(13, 50)));
    CHECK(due() == at(13, 50)); // at once
    facts::Observed seen;
    seen.extra = true;
    REQUIRE_FALSE(desk.note_now(c, EventKind::observed, seen, at(13, 52)));
    CHECK(due() == at(13, 52) + c.session().protocol->reaction.observe_every.value);
    REQUIRE_FALSE(desk.note_now(c, EventKind::stopped, facts::Stopped{StopReason::reaction}, at(13, 55)));
    CHECK(due() == at(13, 52) + c.session().protocol->reaction.observe_every.value);
    REQUIRE_FALSE(desk.note_now(c, EventKind::bag_kept, std::monostate{}, at(13, 56)));
    CHECK_FALSE(due());
}
