// The clock that is watched, and the twin's reminders, sound and files.

#include "web/platform/clock_watch.hpp"
#include "web/platform/platform_twin.hpp"
#include "web/platform/store_twin.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using platform::ClockWatch;
namespace twin = platform::twin;

namespace {
struct Listener : platform::Guest {
    int wakings = 0, awakenings = 0;
    std::vector<std::int64_t> jumps;
    std::string file;
    void start() override {}
    void frame() override {}
    bool input(const platform::Event&) override { return false; }
    void before_print() override {}
    void woken() override { ++wakings; }
    void awake() override { ++awakenings; }
    void clock_jumped(Seconds by) override { jumps.push_back(by.count); }
    void file_opened(platform::FileOutcome, std::string_view text) override { file = text; }
};
} // namespace

TEST_CASE("a wall clock that is set jumps, one that is put right little by little does not", "[platform]") {
    ClockWatch watch;
    std::int64_t now = 1000, wall = 1'700'000'000'000;
    CHECK_FALSE(watch.look(now, wall)); // the first look
    CHECK_FALSE(watch.look(now += 3'600'000, wall += 3'600'000));
    for (int i = 0; i < 100; ++i)
        CHECK_FALSE(watch.look(now += 1000, wall += 1100));
    CHECK_FALSE(watch.look(now += 1000, wall += 1000 + 1499));
    CHECK(watch.look(now += 1000, wall += 1000 + 1500) == Seconds{2});
    CHECK_FALSE(watch.look(now += 1000, wall += 1000 - 1499));
    CHECK(watch.look(now += 1000, wall += 1000 - 1500) == Seconds{-2});
    CHECK(watch.look(now += 1000, wall += 1000 + 3'600'000) == Seconds{3600});
    CHECK_FALSE(watch.look(now += 1000, wall += 1000)); // said once
    CHECK(watch.look(now += 1000, wall += 1000 - 3'600'000) == Seconds{-3600});
    CHECK(watch.look(now += 5, wall += 28'800'000) == Seconds{28'800}); // a machine that slept for eight hours
}

TEST_CASE("a reminder comes once, when its moment has come by the wall clock", "[platform]") {
    twin::reset(800, 600, 1);
    twin::set_now({1'700'000'000});
    Listener guest;
    platform::run(guest);
    CHECK(platform::ticker() == platform::Ticker::none);
    platform::remind_at(Instant{1'700'000'005});
    CHECK(platform::ticker() == platform::Ticker::worker);
    for (int i = 0; i < 4; ++i)
        twin::tick();
    CHECK(guest.wakings == 0);
    twin::tick();
    CHECK(guest.wakings == 1);
    twin::tick();
    CHECK(guest.wakings == 1);
    // The clock is put forward: it has come at once, and the jump is said.
    platform::remind_at(Instant{1'700'003'600});
    twin::jump_ms(3'600'000);
    twin::tick();
    CHECK(guest.wakings == 2);
    CHECK(guest.jumps == std::vector<std::int64_t>{3600});
    // Put back: it waits as long as the wall clock says.
    platform::remind_at(Instant{platform::now().utc + 2});
    twin::jump_ms(-3'600'000);
    twin::tick(3000);
    CHECK(guest.wakings == 2);
    CHECK(guest.jumps.back() == -3600);
    platform::remind_at(std::nullopt);
    twin::tick(7'200'000);
    CHECK(guest.wakings == 2);
}

TEST_CASE("the sound is off until it is switched on, waits for a touch, and the choice is kept", "[platform]") {
    twin::reset(800, 600, 1);
    Listener guest;
    platform::run(guest);
    CHECK(platform::sound() == platform::Sound::off);
    platform::chime();
    CHECK(twin::told().chimes == 0);
    platform::set_sound(true);
    CHECK(platform::sound() == platform::Sound::waits);
    platform::chime();
    CHECK(twin::told().chimes == 0);
    twin::touch();
    platform::chime();
    CHECK(twin::told().chimes == 1);
    twin::crash(false);
    CHECK(platform::sound() == platform::Sound::waits);
}

TEST_CASE("somebody looks again, and a file is chosen", "[platform]") {
    twin::reset(800, 600, 1);
    Listener guest;
    platform::run(guest);
    twin::set_hidden(true);
    CHECK(platform::hidden());
    twin::jump_ms(60'000);
    twin::come_back();
    CHECK_FALSE(platform::hidden());
    CHECK(guest.awakenings == 1);
    CHECK(guest.jumps == std::vector<std::int64_t>{60});
    platform::save_file("kite.json", "{}", "application/json");
    CHECK(twin::told().file_name == "kite.json");
    platform::open_file();
    CHECK(twin::told().pickers == 1);
    twin::choose_file(platform::FileOutcome::opened, "{}");
    CHECK(guest.file.empty());
    twin::settle();
    CHECK(guest.file == "{}");
}
