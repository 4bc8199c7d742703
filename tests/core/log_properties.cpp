// What holds for any log of a session. Each property runs over the same random legal logs; a failure names the seed
// that made it.

#include "core/cli/replay_json.hpp"
#include "core/reckon/live.hpp"
#include "core/session/record.hpp"
#include "tests/core/log_script.hpp"
#include "tests/core/plan_support.hpp"
#include "tests/core/random_logs.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <set>

using namespace hangtime;
using namespace hangtime::test;

namespace {

std::shared_ptr<const Protocol> shipped(std::size_t which) {
    static const std::vector<std::string> names = demo_names("protocols");
    static std::vector<std::shared_ptr<const Protocol>> read(names.size());
    auto& protocol = read[which % names.size()];
    if (!protocol) protocol = std::make_shared<Protocol>(shipped_protocol(names[which % names.size()]));
    return protocol;
}

LogMaker maker(std::uint64_t seed) {
    return LogMaker(seed, shipped(static_cast<std::size_t>(seed)), shipped(static_cast<std::size_t>(seed / 4 + 1)));
}

// Calls `check` on each log; `steps` records were tried for it.
template <class F>
void for_each_log(std::uint64_t salt, int logs, int steps, F check) {
    for (int i = 0; i < logs; ++i) {
        const std::uint64_t seed = salt * 1'000'003 + static_cast<std::uint64_t>(i);
        LogMaker made = maker(seed);
        made.run(steps);
        INFO("seed " << seed);
        check(made);
    }
}

std::unique_ptr<Live> live_at(const Session& session, Instant now) {
    auto live = std::make_unique<Live>();
    reckon_live(session, now, *live);
    return live;
}

template <class List>
bool same_list(const List& a, const List& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end());
}

// Everything but what runs and the moment itself.
bool same(const Live& a, const Live& b) {
    Reckoning r = b.reckoning;
    r.now = a.reckoning.now;
    r.next_change = a.reckoning.next_change;
    // Of a thing to do "now" is no change.
    const auto same_to_do = [&](const ToDo& one, const ToDo& two) {
        ToDo then = two;
        if (one.at == a.reckoning.now && two.at == b.reckoning.now) then.at = one.at;
        return one == then;
    };
    return a.phase == b.phase && r == a.reckoning && a.assumed == b.assumed && same_list(a.ready, b.ready) &&
           a.open_before_call == b.open_before_call && a.open_before_start == b.open_before_start &&
           a.back_to_stock_until == b.back_to_stock_until && a.attended_until == b.attended_until &&
           std::equal(a.to_do.begin(), a.to_do.end(), b.to_do.begin(), b.to_do.end(), same_to_do) && a.uncharted == b.uncharted;
}

std::string said_at(const Log& log, Instant now) { return cli::replay_json(log, *live_at(log.session(), now)); }

}  // namespace

TEST_CASE("random logs go all the way and meet refusals", "[log]") {
    std::set<Phase> phases;
    std::set<EventKind> kinds;
    std::size_t second_units = 0, refused = 0, records = 0;
    for_each_log(1, 200, 0, [&](LogMaker& made) {
        for (int i = 0; i < 120; ++i) {
            made.step();
            phases.insert(made.log.session().phase);
        }
        for (const Event& e : made.log.events()) kinds.insert(e.kind);
        second_units += made.log.session().past_units.size();
        refused += static_cast<std::size_t>(made.refused);
        records += made.log.events().size();
    });
    CHECK(phases.size() == 8);
    CHECK(kinds.size() >= static_cast<std::size_t>(event_kind_count - 1));
    CHECK(second_units > 5);
    CHECK(refused > 1000);
    CHECK(records > 8000);
}

TEST_CASE("volumes of any log: given at most pushed, neither more than there is, never less than before", "[log]") {
    int ran = 0;
    for_each_log(2, 250, 140, [&](LogMaker& made) {
        const Session& s = made.log.session();
        if (s.state.run.flows.empty()) return;
        ++ran;
        const Volume bag = s.state.unit.bag.value_or(Volume{});
        RunningBand before;
        for (int i = 0; i < 12; ++i) {
            const auto live = live_at(s, made.now() + Seconds{i * 601});
            const RunningBand& band = live->running;
            CHECK(band.given <= band.pushed);
            CHECK(band.given <= bag);
            CHECK(band.least_given <= band.given);
            CHECK(band.given <= band.most_given);
            CHECK(band.most_given <= bag);
            CHECK(band.pushed >= before.pushed);
            CHECK(band.given >= before.given);
            before = band;
            if (!live->reckoning.planned) continue;
            const Volumes& v = live->reckoning.volumes;
            CHECK(band.pushed <= v.pushed);
            CHECK(v.left_in_bag >= Volume{});
            CHECK(v.left_in_line >= Volume{});
            // More than was wanted only where it was measured: a dose that was run over is said to be one.
            const Run& run = s.state.run;
            CHECK((v.given <= v.wanted || run.bag_empty || (run.read_off && *run.read_off > v.wanted)));
        }
    });
    CHECK(ran > 40);
}

TEST_CASE("stages of any log follow one another, and the phase says what the flow does", "[log]") {
    int ran = 0;
    for_each_log(3, 250, 140, [&](LogMaker& made) {
        const Session& s = made.log.session();
        const auto live = live_at(s, made.now());
        const Reckoning& r = live->reckoning;
        const bool started = s.state.times.start && s.state.times.start->happened;
        CHECK((s.phase == Phase::running) == (started && !s.state.run.ended && !s.state.run.paused()));
        CHECK((s.phase == Phase::paused) == s.state.run.paused());
        if (s.phase == Phase::closed) CHECK(s.disposal);
        if (s.phase < Phase::here) CHECK_FALSE(started);
        if (!live->reckoning.live) return;
        ++ran;
        for (std::size_t i = 1; i < r.stages.size(); ++i) {
            CHECK(r.stages[i].from == r.stages[i - 1].to);
            CHECK(r.stages[i].from < r.stages[i].to);
        }
        if (!r.stages.empty()) {
            CHECK(r.stages.back().to == r.all_in);
            if (s.state.run.flows.size() < 20) CHECK(r.stages[0].from == r.start);
        }
        CHECK((r.in_force == Rate{}) == (s.phase != Phase::running));
        CHECK_FALSE(live->to_do.empty());
    });
    CHECK(ran > 40);
}

TEST_CASE("a refused record leaves every byte of the log and all that follows from it", "[log]") {
    int tried = 0;
    for_each_log(4, in_steps(4) == 1 ? 60 : 15, 90, [&](LogMaker& made) {
        for (int i = 0; i < 25; ++i) {
            const Event event = made.next();
            const std::string file = write_log(made.log);
            const std::string before = said_at(made.log, made.now());
            const auto would = made.log.would_refuse(event, made.now());
            CHECK(said_at(made.log, made.now()) == before);
            const auto refused = made.log.append(event, made.now());
            CHECK(would == refused);
            if (!refused) continue;
            ++tried;
            CHECK(write_log(made.log) == file);
            CHECK(said_at(made.log, made.now()) == before);
        }
    });
    CHECK(tried > (in_steps(4) == 1 ? 200 : 50));
}

TEST_CASE("what was recorded and withdrawn again has never been", "[log]") {
    int undone = 0;
    for_each_log(5, 120, 90, [&](LogMaker& made) {
        for (int i = 0; i < 8; ++i) {
            Log with = made.log;
            const Event event = made.next();
            if (event.kind == EventKind::withdrawn || with.append(event, made.now())) continue;
            Event undo;
            undo.kind = EventKind::withdrawn;
            undo.at = {made.now(), Precision::second};
            undo.facts = facts::Numbers{{with.next_number() - 1}};
            REQUIRE_FALSE(with.append(undo, made.now()));
            ++undone;
            for (const Seconds later : {Seconds{0}, Seconds{1'000}, Seconds{20'000}}) {
                const Instant now = made.now() + later;
                const auto a = live_at(made.log.session(), now), b = live_at(with.session(), now);
                CHECK(same(*a, *b));
                CHECK(a->next_change == b->next_change);
                CHECK(a->running.given == b->running.given);
            }
        }
    });
    CHECK(undone > 300);
}

TEST_CASE("the order of noting does not matter, only the order in which things happened", "[log]") {
    int compared = 0;
    for_each_log(6, 200, 120, [&](LogMaker& made) {
        // The same records, each noted when it happened; void ones and those that name numbers left out.
        std::vector<Event> order;
        for (const Event& e : made.log.events()) {
            const bool numbers = e.kind == EventKind::withdrawn || e.kind == EventKind::charted;
            if (!made.log.is_void(e.number) && !numbers) order.push_back(e);
        }
        const auto first = [](const Event& e) {
            return e.kind == EventKind::opened ? 0 : e.kind == EventKind::joined || e.kind == EventKind::linked ? 1 : 2;
        };
        std::stable_sort(order.begin(), order.end(), [&](const Event& a, const Event& b) {
            if (first(a) != first(b)) return first(a) < first(b);
            return first(a) == 2 && a.at.at < b.at.at;
        });
        Log again;
        for (Event e : order) {
            e.replaces.clear();
            REQUIRE_FALSE(again.append(e, made.now()));
        }
        ++compared;
        for (const Seconds later : {Seconds{0}, Seconds{3'000}}) {
            const auto a = live_at(made.log.session(), made.now() + later), b = live_at(again.session(), made.now() + later);
            a->uncharted = b->uncharted = 0;
            CHECK(same(*a, *b));
            CHECK(a->running.given == b->running.given);
        }
    });
    CHECK(compared == 200);
}

TEST_CASE("a log as a file and back is the same, and as it stood at any moment", "[log]") {
    for_each_log(7, 60, 110, [&](LogMaker& made) {
        const std::string file = write_log(made.log);
        const auto read = read_log(file);
        REQUIRE(read.ok());
        CHECK(read.value().damaged.empty());
        CHECK(read.value().sealed);
        CHECK(write_log(read.value().log) == file);
        CHECK(said_at(read.value().log, made.now()) == said_at(made.log, made.now()));
        CHECK(said_at(made.log.as_noted_at(made.now()), made.now()) == said_at(made.log, made.now()));

        // Appended one by one it is the same as folded once.
        Log one_by_one;
        for (const Event& e : made.log.events()) REQUIRE_FALSE(one_by_one.adopt(e));
        CHECK(write_log(one_by_one) == file);
        CHECK(said_at(one_by_one, made.now()) == said_at(made.log, made.now()));
    });
}

TEST_CASE("nothing but running volumes of a session changes before next_change, and something changes at it", "[log]") {
    int with_next = 0;
    for_each_log(8, 400, 100, [&](LogMaker& made) {
        const Session& s = made.log.session();
        const auto live = live_at(s, made.now());
        if (!live->next_change) {
            CHECK(same(*live, *live_at(s, made.now() + hours(200))));
            return;
        }
        ++with_next;
        const Seconds quiet = *live->next_change - made.now();
        REQUIRE(quiet > Seconds{});
        for (int i = 0; i < 3; ++i) {
            const Instant later = i == 0 ? *live->next_change - Seconds{1}
                                         : made.now() + Seconds{made.random().between(0, quiet.count - 1)};
            const auto again = live_at(s, later);
            CHECK(same(*live, *again));
            CHECK(again->next_change == live->next_change);
        }
        CHECK_FALSE(same(*live, *live_at(s, *live->next_change)));
    });
    CHECK(with_next > 200);
}

TEST_CASE("a session that is joined half-way from a few facts equals the one that was there all the time", "[log]") {
    const Log original = played_text(R"({"splice": "prepared"}
{"at": "10:15", "what": "started", "rate_ml_per_h": 50}
{"at": "10:16", "what": "observed", "check": "start"}
{"at": "10:30", "what": "observed", "check": "early"}
{"at": "10:30", "what": "rate_set", "rate_ml_per_h": 165}
{"at": "11:00", "what": "paused", "reason": "line_needed"}
{"at": "11:10", "what": "resumed"}
)");
    const Log joined = played_text(R"({"at": "11:20", "what": "opened", "hangtime_log": 2, "object": "kite", "clock": {"utc_offset_min": 0}, "protocol": "@general-ward"}
{"at": "11:20", "what": "joined"}
{"at": "09:31", "noted": "11:20", "what": "ordered", "component": "red_cells", "order": {"within_min": 120}}
{"at": "09:32", "noted": "11:20", "what": "recipient_told", "recipient": {"weight_kg": 70, "weight_is": "measured", "overload_risk": "no", "can_report": "yes", "gauge": 20}}
{"at": "09:50", "noted": "11:20", "what": "observed", "check": "baseline"}
{"at": "10:00", "noted": "11:20", "what": "issued", "component": "red_cells", "bag_ml": 300, "expires_at": "+1 23:59", "bag_digits": "4711"}
{"at": "10:13", "noted": "11:20", "what": "spiked"}
{"at": "10:15", "noted": "11:20", "what": "started", "rate_ml_per_h": 50}
{"at": "10:16", "noted": "11:20", "what": "observed", "check": "start"}
{"at": "10:30", "noted": "11:20", "what": "observed", "check": "early"}
{"at": "10:30", "noted": "11:21", "what": "rate_set", "rate_ml_per_h": 165}
{"at": "11:00", "noted": "11:21", "what": "paused", "reason": "line_needed"}
{"at": "11:10", "noted": "11:21", "what": "resumed"}
)");
    for (const char* clock : {"11:21", "11:40", "12:25", "13:30", "14:05", "16:00"}) {
        INFO(clock);
        const auto a = live_at(original.session(), at(clock)), b = live_at(joined.session(), at(clock));
        CHECK(a->phase == b->phase);
        CHECK(a->reckoning == b->reckoning);
        CHECK(a->running.given == b->running.given);
        CHECK(a->running.least_given == b->running.least_given);
        CHECK(same_list(a->to_do, b->to_do));
        CHECK(a->attended_until == b->attended_until);
    }
}
