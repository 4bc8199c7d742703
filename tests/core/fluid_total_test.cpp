// What all the fluid into one person adds up to: the bag, the units before it, and linked sessions; and what is said about
// what cannot be known. The volumes are worked out by hand from the rates.

#include "core/cli/replay_json.hpp"
#include "core/report/session_report.hpp"
#include "tests/core/log_script.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <memory>

using namespace hangtime;
using namespace hangtime::test;

namespace {

Instant clock(int hour, int minute) { return Instant{1'773'446'400 + hour * 3600 + minute * 60}; }  // 2026-03-14, UTC

std::unique_ptr<Live> live_of(const Session& s, Instant now) {
    auto live = std::make_unique<Live>();
    reckon_live(s, now, *live);
    return live;
}

bool says(const std::vector<std::string>& lines, const char* words) {
    for (const std::string& line : lines)
        if (line.find(words) != std::string::npos) return true;
    return false;
}

Log running(const char* protocol = "\"@general-ward\"") {
    return played_text(R"({"splice": "prepared", "protocol": )" + std::string(protocol) + "}\n" +
                       R"({"at": "10:15", "what": "started", "rate_ml_per_h": 50}
)");
}

}  // namespace

TEST_CASE("an earlier unit of the same session counts, with what cleared it", "[fluid]") {
    // The first unit: 300 mL, the last 20 of them moved by saline that stayed in the line. The second runs from 12:40 at
    // 50 mL/h: by 12:50 25/3 mL, all of it the saline in the line.
    const Log log = played("29-second-unit");
    const Session& s = log.session();
    REQUIRE(s.past_units.size() == 1);
    CHECK(s.past_units[0].fluid == FluidParts{ml(300), {}, {}, {}});
    const auto live = live_of(s, clock(12, 50));
    const FluidTotal total = fluid_total(s, *live);
    CHECK(total.bag == FluidParts{{}, {ml(25).units / 3}, {}, {}});
    CHECK(total.all.total() == Volume{ml(300).units + ml(25).units / 3});
    CHECK(total.units == 2);
    CHECK(total.since == clock(10, 15));
    CHECK(total.weight.grams == 70'000);
    CHECK(says(total.counted, "With 1 earlier unit of this session: 300 mL."));
    CHECK_FALSE(says(total.not_known, "weight"));
    CHECK(says(total.not_known, "through other lines that was not entered"));
}

TEST_CASE("nothing counts before the start, and other lines of an earlier unit do after it", "[fluid]") {
    const Log before = prepared_log();
    CHECK(fluid_total(before.session(), *live_of(before.session(), clock(10, 14))).all == FluidParts{});
    Log log = running();
    Event other = event_of(log, R"({"at": "10:20", "what": "other_fluid", "total_ml": 100})");
    REQUIRE_FALSE(log.append(other, other.noted));
    Session next = with_next_unit(log.session());
    REQUIRE(next.past_units.size() == 1);
    CHECK(next.past_units[0].fluid.other_lines == ml(100));
    CHECK(next.other_fluid == Volume{});
    CHECK(fluid_total(next, *live_of(next, clock(10, 21))).all.other_lines == ml(100));
}

TEST_CASE("what the device moved is component or saline, and all of it", "[fluid]") {
    Session s = running().session();  // 300 mL, a line of 20 mL that is filled with component
    CHECK(fluid_moved(s, ml(40)) == FluidParts{ml(40), {}, {}, {}});
    s.state.line.primed_with = Primed::saline;
    CHECK(fluid_moved(s, ml(15)) == FluidParts{{}, ml(15), {}, {}});
    CHECK(fluid_moved(s, ml(20)) == FluidParts{{}, ml(20), {}, {}});
    CHECK(fluid_moved(s, ml(21)) == FluidParts{ml(1), ml(20), {}, {}});
    // A set that was kept and not cleared still holds the unit before.
    s.state.line.primed_with = Primed::component;
    s.state.line.from_last_unit = true;
    CHECK(fluid_moved(s, ml(15)) == FluidParts{ml(15), {}, {}, {}});
    CHECK(fluid_moved(s, ml(40)) == FluidParts{ml(40), {}, {}, {}});
    // A new set with saline, on the way (tests/logs/15): 205 mL moved, 20 of it saline.
    const Log changed = played("15-set-changed");
    const auto live = live_of(changed.session(), clock(11, 46));
    CHECK(fluid_of(changed.session(), *live) == FluidParts{ml(185), ml(20), {}, {}});
}

TEST_CASE("a linked session counts, one that is not at hand is named, and so is what was entered twice", "[fluid]") {
    Log log = running();
    Event link = event_of(log, R"({"at": "10:14", "what": "linked", "object": "leaf"})");
    REQUIRE_FALSE(log.append(link, link.noted));
    const Session& s = log.session();
    const auto live = live_of(s, clock(10, 45));  // 25 mL
    FluidTotal alone = fluid_total(s, *live);
    CHECK(alone.all.total() == ml(25));
    CHECK(says(alone.not_known, "The leaf is linked to this session and is not at hand here"));

    Session leaf = running().session();
    leaf.object = SpokenObject::leaf;
    leaf.other_fluid = ml(60);
    leaf.joined_at = clock(10, 0);
    const auto its = live_of(leaf, clock(10, 30));  // 12.5 mL
    const FluidBeside beside[] = {{leaf, *its, false}};
    const FluidTotal both = fluid_total(s, *live, beside);
    CHECK(both.bag.total() == ml(25));
    CHECK(both.all == FluidParts{{ml(25).units + ml(25).units / 2}, {}, {}, ml(60)});
    CHECK(both.units == 2);
    CHECK(says(both.counted, "Linked session, the leaf, with 1 unit: 72.5 mL."));
    CHECK_FALSE(says(both.not_known, "not at hand"));
    CHECK(says(both.not_known, "A record of the leaf is damaged"));
    CHECK(says(both.not_known, "The leaf was taken up half-way"));
    CHECK(says(both.not_known, "counted twice"));
}

TEST_CASE("a replay knows one log: what it counts and what it cannot know", "[fluid]") {
    const Log log = played("29-second-unit");
    const auto live = live_of(log.session(), clock(12, 50));
    const json::Value tree = tree_of(cli::replay_json(log, *live));
    const json::Value* all = tree.find("fluid")->find("all_units");
    REQUIRE(all);
    CHECK(all->find("total_units")->text == std::to_string(ml(300).units + ml(25).units / 3));
    CHECK(tree.find("fluid")->find("total_units")->text == std::to_string(ml(25).units / 3));
    CHECK(all->find("units")->text == "2");
    CHECK(all->find("text")->text == "308.3 mL, 4.4 mL/kg");
    const std::string sheet = sheet::to_text(session_document(log, *live));
    CHECK(sheet.find("308.3 mL, 4.4 mL/kg, since 10:15") != std::string::npos);
    CHECK(sheet.find("Not counted: what is on another device or on paper") != std::string::npos);
}
