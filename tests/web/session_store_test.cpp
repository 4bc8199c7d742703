// What is kept of a session and how far, on the twin: a refusal at each point, a lost connection, a second window,
// a full store, no store, and at random all of these together with crashes.

#include "web/store/session_store.hpp"

#include "web/platform/platform_twin.hpp"
#include "web/platform/store_twin.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/generators/catch_generators.hpp>

#include <algorithm>
#include <memory>
#include <random>

using namespace hangtime;
using platform::Stored;
using platform::StoreState;
using store::Found;
using store::Mode;
using store::SessionStore;
namespace twin = platform::twin;

namespace {

// A program that does nothing but keep records.
struct Keeper : platform::Guest {
    SessionStore kept;
    std::vector<Found> found;
    std::vector<std::string> gone;
    std::vector<platform::Left> clearings;

    void start() override { kept.open(); }
    void frame() override { kept.tick(); }
    bool input(const platform::Event&) override { return false; }
    void before_print() override {}
    void store_state(StoreState state, bool writer) override { kept.store_state(state, writer); }
    void record_found(std::string_view session, int n, std::string_view text) override {
        found.push_back(kept.record_found(session, n, text));
    }
    void records_complete() override { kept.records_complete(); }
    void session_gone(std::string_view session) override {
        gone.emplace_back(session);
        kept.session_gone(session);
    }
    void stored(std::string_view session, int n, Stored outcome) override { kept.stored(session, n, outcome); }
    void removed(std::string_view session, Stored outcome) override { kept.removed(session, outcome); }
    void cleared(const platform::Left& left) override {
        clearings.push_back(left);
        kept.cleared();
    }

    int note(const std::string& text, std::string_view session = "kite") { return kept.append(session, text); }
    int saved(std::string_view session = "kite") const { return kept.standing(session).saved; }
    Stored trouble(std::string_view session = "kite") const { return kept.standing(session).trouble; }
    void wait(std::int64_t ms) {
        twin::advance_ms(ms);
        frame();
        twin::settle();
    }
};

struct Fresh {
    explicit Fresh(StoreState state = StoreState::open, bool other = false) {
        twin::reset(800, 600, 1);
        twin::set_store(state, other);
        platform::run(k);
        twin::settle();
    }
    Keeper k;
};

std::vector<std::string> on_disk(const std::string& session = "kite") {
    std::vector<std::string> texts;
    for (const auto& [id, text] : twin::disk())
        if (id.first == session) {
            REQUIRE(id.second == static_cast<int>(texts.size()) + 1);
            texts.push_back(text);
        }
    return texts;
}

} // namespace

TEST_CASE("a record counts as saved only when the store has answered", "[store]") {
    Fresh fresh;
    Keeper& k = fresh.k;
    CHECK(k.kept.mode() == Mode::durable);
    CHECK(k.note("one") == 1);
    CHECK(k.note("two") == 2);
    CHECK(k.saved() == 0);
    CHECK(k.kept.standing("kite").last == 2);
    twin::advance_ms(700);
    CHECK(k.kept.unsaved_for_ms("kite") == 700);
    CHECK(twin::settle(1) == 1);
    CHECK(k.saved() == 1);
    twin::settle();
    CHECK(k.saved() == 2);
    CHECK(k.kept.unsaved_for_ms("kite") == 0);
    CHECK(on_disk() == std::vector<std::string>{"one", "two"});
}

TEST_CASE("what was saved is there after a crash, whatever was under way", "[store]") {
    const bool written = GENERATE_COPY(false, true);
    Fresh fresh;
    fresh.k.note("one");
    twin::settle();
    fresh.k.note("two");
    twin::crash(written);
    Keeper again;
    platform::run(again);
    CHECK(again.kept.mode() == Mode::opening);
    CHECK(again.note("early") == 0); // nothing can be noted before it is known what is there
    twin::settle();
    CHECK(again.saved() == (written ? 2 : 1));
    REQUIRE(again.kept.records("kite") != nullptr);
    CHECK(again.kept.records("kite")->front() == "one");
    CHECK(again.note("next") == (written ? 3 : 2));
    twin::settle();
    CHECK(on_disk().back() == "next");
}

TEST_CASE("a refusal at any point: what follows waits, and all of it is saved in order later", "[store]") {
    const auto outcome = GENERATE(Stored::full, Stored::refused, Stored::lost);
    for (int at = 1; at <= 4; ++at) {
        Fresh fresh;
        Keeper& k = fresh.k;
        for (int n = 1; n <= 4; ++n) {
            if (n == at) {
                twin::settle();
                twin::writes_end(outcome, 2);
            }
            k.note("text " + std::to_string(n));
            if (n % 2 == 0) // also two at once
                twin::settle();
        }
        CAPTURE(at);
        CHECK(k.saved() == at - 1);
        CHECK(k.trouble() == outcome);
        CHECK(k.kept.unsaved() == 5 - at);
        CHECK(k.kept.retry_in() == 1000);
        k.wait(999);
        CHECK(k.saved() == at - 1);
        k.wait(1); // the second refusal
        CHECK(k.trouble() == outcome);
        CHECK(k.kept.retry_in() == 2000);
        k.wait(2000);
        CHECK(k.saved() == 4);
        CHECK(k.trouble() == Stored::saved);
        CHECK(k.kept.retry_in() == -1);
        CHECK(on_disk() == std::vector<std::string>{"text 1", "text 2", "text 3", "text 4"});
    }
}

TEST_CASE("a store that stays full is tried again less and less often, and at once when somebody asks", "[store]") {
    Fresh fresh;
    Keeper& k = fresh.k;
    twin::writes_end(Stored::full, 1000);
    k.note("one");
    twin::settle();
    for (const int pause : {1, 2, 5, 15, 30, 60, 60, 60}) {
        CHECK(k.kept.retry_in() == pause * 1000);
        k.wait(pause * 1000);
        CHECK(k.saved() == 0);
    }
    twin::writes_end(Stored::saved, 0); // there is room
    k.kept.retry();
    twin::settle();
    CHECK(k.saved() == 1);
    k.note("two");
    twin::settle();
    CHECK(k.saved() == 2);
}

TEST_CASE("the connection breaks with records under way: none twice, none missing", "[store]") {
    const bool written = GENERATE_COPY(false, true);
    Fresh fresh;
    Keeper& k = fresh.k;
    k.note("one");
    twin::settle();
    k.note("two");
    k.note("three");
    twin::break_connection(written);
    twin::settle();
    CHECK(k.saved() == 1);
    CHECK(k.kept.mode() == Mode::durable); // for the moment that it takes
    CHECK(k.note("four") == 4);
    twin::settle();
    CHECK(k.saved() == 1);
    twin::connect_again();
    twin::settle();
    CHECK(k.saved() == 4);
    CHECK(on_disk() == std::vector<std::string>{"one", "two", "three", "four"});
    for (const Found f : k.found)
        CHECK(f == Found::known);
}

TEST_CASE("without a store everything stays in memory, says so, and is kept as soon as there is one", "[store]") {
    const auto [state, mode] = GENERATE(table<StoreState, Mode>(
        {{StoreState::absent, Mode::memory}, {StoreState::unreadable, Mode::memory}, {StoreState::newer, Mode::newer}}));
    Fresh fresh(state);
    Keeper& k = fresh.k;
    CHECK(k.kept.mode() == mode);
    CHECK(k.note("one") == 1);
    CHECK(k.note("two") == 2);
    twin::settle();
    CHECK(k.saved() == 0);
    CHECK(k.trouble() == Stored::refused);
    CHECK(k.kept.records("kite")->size() == 2);
    CHECK(twin::disk().empty());
    twin::set_store(StoreState::open);
    k.kept.retry();
    twin::settle();
    CHECK(k.kept.mode() == Mode::durable);
    CHECK(k.saved() == 2);
    CHECK(on_disk() == std::vector<std::string>{"one", "two"});
}

TEST_CASE("a second window reads along, and writes when the first is gone", "[store]") {
    Fresh fresh(StoreState::open, true);
    Keeper& k = fresh.k;
    CHECK(k.kept.mode() == Mode::read_only);
    CHECK(k.note("mine") == 0);
    twin::another_window_writes("kite", 1, "one");
    twin::another_window_writes("kite", 2, "two");
    twin::settle();
    CHECK(k.found == std::vector<Found>{Found::fresh, Found::fresh});
    CHECK(k.saved() == 2);
    twin::another_window_closes();
    twin::settle();
    CHECK(k.kept.mode() == Mode::durable);
    CHECK(k.note("three") == 3);
    twin::settle();
    CHECK(on_disk().size() == 3);
}

TEST_CASE("a window that was replaced with records under way loses nothing that was saved", "[store]") {
    Fresh fresh;
    Keeper& k = fresh.k;
    k.note("one");
    twin::settle();
    k.note("two");
    k.note("three");
    twin::another_window_takes_over();
    twin::settle();
    CHECK(k.kept.mode() == Mode::read_only);
    CHECK(k.trouble() == Stored::not_writer);
    CHECK(k.saved() == 1);

    SECTION("and the other one wrote nothing: sent when it writes again") {
        platform::take_over();
        twin::settle();
        CHECK(k.saved() == 3);
        CHECK(k.trouble() == Stored::saved);
    }
    SECTION("and the other one wrote: what was never saved gives way, and is said to") {
        twin::another_window_writes("kite", 2, "theirs");
        twin::settle();
        CHECK(k.found.back() == Found::displaced);
        CHECK(*k.kept.records("kite") == std::vector<std::string>{"one", "theirs"});
        platform::take_over();
        twin::settle();
        CHECK(k.note("mine again") == 3);
        twin::settle();
        CHECK(on_disk() == std::vector<std::string>{"one", "theirs", "mine again"});
    }
}

TEST_CASE("a conflict is found out by reading, and nothing that followed it is written", "[store]") {
    Fresh fresh;
    Keeper& k = fresh.k;
    k.note("one");
    twin::settle();
    twin::disk()[{"kite", 2}] = "theirs"; // behind the back of this window
    k.note("mine");
    k.note("after mine");
    twin::settle();
    CHECK(*k.kept.records("kite") == std::vector<std::string>{"one", "theirs"});
    CHECK(k.found.back() == Found::displaced);
    CHECK(on_disk() == std::vector<std::string>{"one", "theirs"});
    CHECK(k.trouble() == Stored::saved);
    CHECK(k.note("again") == 3);
    twin::settle();
    CHECK(k.saved() == 3);
}

TEST_CASE("a removed session is gone from the store, also when the store was not there at first", "[store]") {
    Fresh fresh;
    Keeper& k = fresh.k;
    k.note("one");
    k.note("other", "key");
    twin::settle();
    twin::writes_end(Stored::refused);
    k.kept.remove("kite");
    twin::settle();
    CHECK(k.kept.records("kite") == nullptr);
    CHECK(on_disk().size() == 1);
    k.wait(1000);
    CHECK(on_disk().empty());
    CHECK(on_disk("key").size() == 1);
    CHECK(k.kept.retry_in() == -1);
}

TEST_CASE("a session that vanished from the store is said to be gone, and can be kept", "[store]") {
    Fresh fresh;
    Keeper& k = fresh.k;
    k.note("one");
    k.note("two");
    twin::settle();
    twin::another_window_removes("kite");
    twin::settle();
    CHECK(k.gone == std::vector<std::string>{"kite"});
    CHECK(k.kept.standing("kite").gone);
    CHECK(k.saved() == 0);
    k.kept.keep("kite");
    twin::settle();
    CHECK_FALSE(k.kept.standing("kite").gone);
    CHECK(k.saved() == 2);
    CHECK(on_disk() == std::vector<std::string>{"one", "two"});
}

TEST_CASE("clearing this device leaves nothing, and says what it found", "[store]") {
    Fresh fresh;
    Keeper& k = fresh.k;
    platform::set_sound(true);
    k.note("one");
    twin::settle();
    k.note("under way");
    platform::clear_all();
    twin::settle();
    CHECK(k.clearings == std::vector<platform::Left>{{0, 0, 0}});
    CHECK(twin::disk().empty());
    CHECK(k.kept.sessions().empty());
    CHECK(platform::load_setting("sound", 7) == 7);
    CHECK(platform::sound() == platform::Sound::off);
    CHECK(k.note("another", "key") == 1);
    twin::settle();
    CHECK(k.saved("key") == 1);
}

TEST_CASE("a record that is missing in the middle keeps its place, and a number that can't be is left alone", "[store]") {
    twin::reset(800, 600, 1);
    twin::disk() = {{{"kite", 1}, "one"}, {{"kite", 3}, "three"}, {{"kite", 2'000'000'000}, "?"}, {{"kite", -4}, "?"}};
    Keeper k;
    platform::run(k);
    twin::settle();
    CHECK(*k.kept.records("kite") == std::vector<std::string>{"one", "", "three"});
    CHECK(k.note("four") == 4);
    twin::settle();
    CHECK(k.saved() == 4);
    CHECK(twin::disk().size() == 5);
}

TEST_CASE("whatever goes wrong in whatever order, nothing that was called saved is ever missing", "[store]") {
    std::mt19937 random(20260314);
    const auto pick = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
    int saves = 0, crashes = 0, displaced = 0;
    for (int run = 0; run < 400; ++run) {
        twin::reset(800, 600, 1);
        auto k = std::make_unique<Keeper>();
        platform::run(*k);
        std::map<std::string, std::vector<std::string>> promised; // what was ever called saved
        int serial = 0;
        for (int step = 0; step < 60; ++step) {
            const std::string session = pick(2) == 0 ? "kite" : "key";
            switch (pick(12)) {
            case 0:
                twin::writes_end(static_cast<Stored>(1 + pick(3)), 1 + pick(3));
                break;
            case 1:
                twin::break_connection(pick(2) == 0);
                break;
            case 2:
                twin::connect_again();
                break;
            case 3:
                twin::crash(pick(2) == 0);
                displaced += static_cast<int>(std::count(k->found.begin(), k->found.end(), Found::displaced));
                k = std::make_unique<Keeper>();
                platform::run(*k);
                ++crashes;
                break;
            case 4:
                twin::another_window_takes_over();
                break;
            case 5: {
                const int n = static_cast<int>(on_disk(session).size()) + 1;
                if (k->kept.mode() == Mode::read_only) {
                    twin::another_window_writes(session, n, "theirs " + std::to_string(++serial));
                    promised[session] = on_disk(session);
                }
                break;
            }
            case 6:
                platform::take_over();
                break;
            case 7:
                k->wait(pick(40'000));
                break;
            default:
                k->kept.append(session, "mine " + std::to_string(++serial));
            }
            twin::settle(pick(6));
            for (const std::string& s : k->kept.sessions()) {
                const int saved = k->kept.standing(s).saved;
                auto& before = promised[s];
                while (static_cast<int>(before.size()) < saved) {
                    before.push_back((*k->kept.records(s))[before.size()]);
                    ++saves;
                }
            }
            for (const auto& [s, texts] : promised) {
                const auto there = on_disk(s);
                REQUIRE(there.size() >= texts.size());
                REQUIRE(std::equal(texts.begin(), texts.end(), there.begin()));
            }
        }
        // When all is well again, everything that is known is saved.
        twin::writes_end(Stored::saved, 0);
        twin::connect_again();
        twin::settle();
        platform::take_over();
        k->wait(120'000);
        k->wait(120'000);
        for (const std::string& s : k->kept.sessions()) {
            REQUIRE(k->saved(s) == k->kept.standing(s).last);
            REQUIRE(*k->kept.records(s) == on_disk(s));
        }
        REQUIRE(k->kept.unsaved() == 0);
    }
    CHECK(saves > 2000);
    CHECK(crashes > 1000);
    CHECK(displaced > 20);
}

TEST_CASE("what is rehearsed stands on a shelf of its own: own records, own writer, own answers", "[store]") {
    struct Practice final : platform::Keeper {
        SessionStore kept{platform::Shelf::rehearsal};
        int heard = 0;
        void store_state(StoreState state, bool writer) override { ++heard, kept.store_state(state, writer); }
        void record_found(std::string_view s, int n, std::string_view text) override {
            ++heard, kept.record_found(s, n, text);
        }
        void records_complete() override { ++heard, kept.records_complete(); }
        void session_gone(std::string_view s) override { ++heard, kept.session_gone(s); }
        void stored(std::string_view s, int n, Stored outcome) override { ++heard, kept.stored(s, n, outcome); }
        void removed(std::string_view s, Stored outcome) override { ++heard, kept.removed(s, outcome); }
    };
    constexpr platform::Shelf rehearsal = platform::Shelf::rehearsal;
    const auto played = [] {
        std::vector<std::string> out;
        for (const auto& [id, text] : twin::disk(platform::Shelf::rehearsal))
            out.push_back(text);
        return out;
    };

    Fresh fresh;
    Keeper& k = fresh.k;
    Practice practice;
    k.note("real");
    twin::settle();
    CHECK(practice.heard == 0);
    CHECK(practice.kept.append("kite", "early") == 0); // not open yet
    practice.kept.open(&practice);
    twin::settle();
    CHECK(practice.kept.mode() == Mode::durable);
    CHECK(practice.kept.append("kite", "played") == 1);
    CHECK(practice.kept.append("kite", "played on") == 2);
    twin::settle();
    CHECK(practice.kept.standing("kite").saved == 2);
    CHECK(k.kept.standing("kite").last == 1);
    CHECK(on_disk() == std::vector<std::string>{"real"});
    CHECK(played() == std::vector<std::string>{"played", "played on"});

    // A window that takes over the one leaves the other, both ways.
    twin::another_window_takes_over(rehearsal);
    twin::settle();
    CHECK(practice.kept.mode() == Mode::read_only);
    CHECK(k.kept.mode() == Mode::durable);
    practice.kept.take_over();
    twin::another_window_takes_over();
    twin::settle();
    CHECK(practice.kept.mode() == Mode::durable);
    CHECK(k.kept.mode() == Mode::read_only);
    twin::another_window_closes();
    twin::settle();

    // A failure on the one stops only what follows it there.
    twin::writes_end(Stored::full);
    practice.kept.append("kite", "no room");
    k.note("real too");
    twin::settle();
    CHECK(practice.kept.standing("kite").trouble == Stored::full);
    CHECK(k.saved() == 2);
    practice.kept.retry();
    twin::settle();
    CHECK(practice.kept.standing("kite").saved == 3);

    practice.kept.remove("kite");
    twin::settle();
    CHECK(played().empty());
    CHECK(on_disk() == std::vector<std::string>{"real", "real too"});

    // Clearing this device takes what is rehearsed too, whether it is open or not.
    practice.kept.append("key", "once more");
    twin::settle();
    const bool open = GENERATE(true, false);
    if (!open)
        twin::crash(false);
    Keeper again;
    if (!open) {
        platform::run(again);
        twin::settle();
    }
    REQUIRE(played() == std::vector<std::string>{"once more"});
    platform::clear_all();
    twin::settle();
    CHECK(played().empty());
    CHECK(on_disk().empty());
    CHECK((open ? k : again).clearings == std::vector<platform::Left>{{0, 0, 0}});
}
