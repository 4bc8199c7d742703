// The plan's sheet. tests/core/golden/plan_sheet.txt was read through and approved; what may not be on a
// sheet is asked of every demo transfusion.

#include "core/plan/card.hpp"
#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/protocol_sheet.hpp"
#include "core/protocol/describe.hpp"
#include "core/words/words.hpp"
#include "tests/core/plan_support.hpp"
#include "tests/core/support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <cctype>
#include <string>

using namespace hangtime;
using namespace hangtime::test;

namespace {

const WallClock utc_wall{Seconds{0}};

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

int occurrences(const std::string& text, std::string_view part) {
    int n = 0;
    for (std::size_t i = text.find(part); i != std::string::npos; i = text.find(part, i + 1)) ++n;
    return n;
}

std::string sheet_text(const Protocol& p, const State& s) {
    return sheet::to_text(plan_sheet(p, s, reckoned(p, s), utc_wall));
}

// Words run over lines in a terminal; for finding a sentence they are put side by side.
std::string unwrapped(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c != '\n' && c != ' ') out += c;
        else if (!out.empty() && out.back() != ' ') out += ' ';
    }
    return out;
}

const sheet::Table* table(const sheet::Document& d, std::string_view caption) {
    for (const sheet::Block& block : d.blocks)
        if (block.kind == sheet::BlockKind::table && block.table.caption.starts_with(caption))
            return &block.table;
    return nullptr;
}

}  // namespace

TEST_CASE("the sheet of the first worked result is as it was approved") {
    Protocol p = plain_protocol();
    p.title = "Worked results";
    const State s = plain_state(p, ml(316), at("13:40"), at("13:52"));
    const Reckoning r = reckoned(p, s, at("13:45"));
    const sheet::Document d = plan_sheet(p, s, r, utc_wall, {"kite", "4821"});
    CHECK(sheet::to_text(d) == file_text("tests/core/golden/plan_sheet.txt"));
}

TEST_CASE("no demo sheet holds a date, and each says its cautions once and when it is void") {
    for (const std::string& name_ : demo_names("transfusions")) {
        const Request request = demo_request(name_);
        if (request.not_covered) continue;
        const Protocol p = shipped_protocol(request.protocol);
        const Instant now = request.now ? request.now->at : request.state.times.issued->at;
        const Reckoning r = reckoned(p, request.state, now);
        const sheet::Document d = plan_sheet(p, request.state, r, request.wall);
        std::string text = without_revision(sheet::to_text(d), p);
        CHECK(text != sheet::to_text(d));  // it says of when its rules are
        CAPTURE(name_);
        text.resize(text.find("Sources\n") == std::string::npos ? text.size() : text.find("Sources\n"));
        CHECK_FALSE(contains(text, "2026"));
        CHECK_FALSE(contains(text, "Mar"));
        CHECK(contains(text, "Void after"));
        for (std::size_t i = 0; i < caution_count; ++i) CHECK(occurrences(unwrapped(text), caution(i)) == 1);
        CHECK(contains(unwrapped(text), "example, not adopted by a ward"));
        CHECK(contains(text, "Bag number ends in"));
    }
}

TEST_CASE("a sheet that does not fit has options and no times to go by") {
    Protocol p = plain_protocol();
    red_cells(p).most_per_kg_at_risk = Given<RatePerKg>{hundredths_of_ml_per_kg_per_h(100), {}};
    State s = plain_state(p, ml(300), at("13:40"), at("14:00"));
    s.recipient.weight = {60'000};
    s.recipient.overload_risk = Answer::yes;
    const std::string text = sheet_text(p, s);
    CHECK(contains(text, "Does not fit. By 17:40 only 217.5 mL can be given; 82.5 mL would be left."));
    CHECK(contains(text, "Ask the blood bank for a split of at most 217.5 mL."));
    CHECK(contains(text, "An earlier start does not help."));
    CHECK(contains(sheet::to_html_fragment(plan_sheet(p, s, reckoned(p, s), utc_wall)),
                   "84.147 kg</span>; with this device from <span class=\"q\">85 kg</span>"));
    CHECK_FALSE(contains(text, "What to do"));
    CHECK_FALSE(contains(text, "Done at"));
    CHECK_FALSE(contains(text, "Start by"));
}

TEST_CASE("a part of a bag: what stays behind is said, and that the line is not pushed") {
    const Protocol p = plain_protocol();
    State s = plain_state(p, ml(205), at("13:40"), at("13:52"));
    s.order.dose = ml(116);
    s.line.holds = ml(10);
    const std::string text = unwrapped(sheet_text(p, s));
    CHECK(contains(text, "Stop: the dose is in."));
    CHECK(contains(text, "79 mL stay"));
    CHECK(contains(text, "10 mL stay"));
}

TEST_CASE("by gravity the sheet says drops, their rate and how to count") {
    Protocol p = plain_protocol();
    red_cells(p).slow.reset();
    State s = plain_state(p, ml(250), at("13:40"), at("13:40"));
    s.order.duration = hours(4);
    s.device.kind = DeviceKind::gravity;
    s.device.drops = {10};
    const std::string text = sheet_text(p, s);
    CHECK(contains(text, "13:40, set 11 drops/min (66 mL/h), count 11 drops in 60 s"));
}

TEST_CASE("what is missing is said, and the limits that are known stand there") {
    const Protocol p = plain_protocol();
    State s = plain_state(p, ml(316), at("13:40"), at("13:52"));
    s.unit.bag.reset();
    s.times.start.reset();
    const Reckoning r = reckoned(p, s, at("13:45"));
    const std::string text = sheet::to_text(plan_sheet(p, s, r, utc_wall));
    CHECK(verdict_text(r, day_clock_of(s, utc_wall, r.now)) ==
          "Cannot be worked out yet: the volume of the bag and the time of the start are not recorded.");
    CHECK(contains(text, "Hang by     14:10"));
    CHECK_FALSE(void_after(r));
}

TEST_CASE("a limit that has passed is said first") {
    const Protocol p = plain_protocol();
    const State s = plain_state(p, ml(316), at("13:40"), at("13:52"));
    const Reckoning r = reckoned(p, s, at("14:11"));
    CHECK(limit_passed(r));
    const std::string text = sheet::to_text(plan_sheet(p, s, r, utc_wall));
    CHECK(contains(unwrapped(text), "Hang by 14:10: The time to hang this bag has passed."));
    CHECK_FALSE(limit_passed(reckoned(p, s, at("14:10"))));
}

TEST_CASE("the change of the clock is told by the clock that it ends") {
    const Protocol p = plain_protocol();
    WallClock wall(hours(1));
    const Instant change = at("22:00");  // 23:00 becomes 22:00
    REQUIRE(wall.add_change(change, Seconds{0}));
    const State s = plain_state(p, ml(316), at("20:40"), at("20:52"));
    const std::string text = unwrapped(sheet::to_text(plan_sheet(p, s, reckoned(p, s), wall)));
    CHECK(contains(text, "The clock is put back 1 h at 23:00. Times that say UTC are by the new time."));
    CHECK(contains(text, "22:51:40 UTC"));
}

TEST_CASE("observations taken before they count are said to be too early or too old, and leave the place for the pen") {
    const Protocol p = plain_protocol();
    State s = plain_state(p, ml(316), at("13:40"), at("13:52"));
    const auto row = [&](CheckKind kind, const char* taken, bool happened, const char* now) {
        State done = s;
        done.times.start->happened = happened;
        done.checks_done.add({kind, 0, {at(taken), Precision::minute}});
        const sheet::Document d = plan_sheet(p, done, reckoned(p, done, at(now)), utc_wall);
        const sheet::Table* t = table(d, "What to do, and when");
        REQUIRE(t != nullptr);
        for (const auto& cells : t->rows)
            if (cells[2].starts_with(check_title(kind))) return joined({cells[2], " | ", cells[3]});
        return std::string("no row");
    };
    const Reckoning r = reckoned(p, s);
    const std::string from = clock_of(check_of(r, CheckKind::baseline).counts_from);
    const std::string baseline = joined({check_title(CheckKind::baseline), ", from ", from});
    CHECK(row(CheckKind::baseline, "11:00", false, "13:45") == baseline + "; taken at 11:00: too old, take it again | ");
    CHECK(row(CheckKind::baseline, from.c_str(), false, "13:45") == baseline + " | " + from);
    const std::string early = joined({check_title(CheckKind::early), ", not before 14:02"});
    CHECK(row(CheckKind::early, "14:01", true, "14:08") == early + "; taken at 14:01: too early, take it again | ");
    CHECK(row(CheckKind::early, "14:02", true, "14:08") == early + " | 14:02");
    // Once it has started a baseline is not taken again.
    CHECK(contains(row(CheckKind::baseline, "11:00", true, "14:08"), "taken at 11:00: too old | "));
}

TEST_CASE("a calendar of a plan that does not fit holds limits only, and each entry says so") {
    const Protocol p = plain_protocol();
    State s = plain_state(p, ml(300), at("10:00"), at("10:20"));
    s.recipient.weight = Mass{60'000};
    const auto calendar = [&](Answer risk) {
        s.recipient.overload_risk = risk;
        const Reckoning r = reckoned(p, s);
        sheet::Document d = plan_sheet(p, s, r, utc_wall);
        add_moments(d, p, s, r, utc_wall);
        return sheet::to_calendar(d, r.now);
    };
    const std::string fits = calendar(Answer::no), not_fits = calendar(Answer::yes);
    CHECK(contains(fits, "Early check"));
    CHECK_FALSE(contains(fits, "Does not fit"));
    CHECK_FALSE(contains(not_fits, "Early check"));
    CHECK(occurrences(not_fits, "BEGIN:VEVENT") > 0);
    CHECK(occurrences(not_fits, "SUMMARY:Does not fit") == occurrences(not_fits, "BEGIN:VEVENT"));
}

TEST_CASE("the card's rates end in time, and a step less would not") {
    const Protocol p = shipped_protocol("general-ward");
    const sheet::Document d = card(p);
    const sheet::Table* t = table(d, "Red cells");
    REQUIRE(t != nullptr);
    const auto number = [](const std::string& text) { return std::stoll(text); };
    const auto minutes_of = [](const std::string& text) {
        std::int64_t sum = 0, n = 0;
        for (std::size_t i = 0; i < text.size(); ++i) {
            if (std::isdigit(static_cast<unsigned char>(text[i]))) n = n * 10 + (text[i] - '0');
            if (text[i] == 'h') sum += 60 * n, n = 0;
            if (text[i] == 'm') sum += n, n = 0;
        }
        return sum;
    };
    // Our own arithmetic, in mL x 60: 50 mL/h for 15 min, then the rate of the cell.
    int cells = 0;
    for (const auto& row : t->rows) {
        for (std::size_t i = 1; i < row.size(); ++i) {
            if (row[i] == "-") continue;
            ++cells;
            const std::int64_t volume = number(row[0]) * 60, rate = number(row[i]);
            const std::int64_t span = minutes_of(t->columns[i].heading);
            const auto moved = [&](std::int64_t at_rate) {
                return at_rate <= 50 ? at_rate * span : 50 * 15 + at_rate * (span - 15);
            };
            CAPTURE(row[0], t->columns[i].heading, rate);
            CHECK(moved(rate) >= volume);
            CHECK(moved(rate - 1) < volume);
            CHECK(rate <= 300);  // the protocol's highest
        }
    }
    CHECK(cells > 100);
}

TEST_CASE("the card's drops: 250 mL in 4 h with 10 drops/mL is 11, as in the worked result") {
    const sheet::Document d = card(shipped_protocol("general-ward"));
    const sheet::Table* t = table(d, "Set with 10 drops/mL");
    REQUIRE(t != nullptr);
    std::string found;
    for (const auto& row : t->rows)
        if (row[0] == "250 mL") found = row.back();
    CHECK(t->columns.back().heading == "4 h");
    CHECK(found == "11");
}

TEST_CASE("the card's rates by weight never exceed a highest rate of the protocol, and name it") {
    const Protocol p = shipped_protocol("children-by-weight");
    const sheet::Document d = card(p);
    const auto cell = [](const sheet::Table& t, std::string_view heading, std::string_view weight) {
        std::size_t column = 0;
        for (std::size_t i = 0; i < t.columns.size(); ++i)
            if (t.columns[i].heading == heading) column = i;
        REQUIRE(column > 0);
        for (const auto& row : t.rows)
            if (row[0] == weight) return row[column];
        return std::string("no row");
    };
    const sheet::Table* red = table(d, "Red cells, at most 150 mL/h");
    REQUIRE(red != nullptr);
    CHECK(cell(*red, "5 mL/kg/h", "12 kg") == "60");
    CHECK(cell(*red, "5 mL/kg/h", "30 kg") == "150");  // just at the highest rate for red cells
    CHECK(cell(*red, "5 mL/kg/h", "40 kg") == "150");  // and above it, where the product would be 200
    CHECK(cell(*red, "1 mL/kg/h, at risk", "40 kg") == "40");
    const sheet::Table* whole = table(d, "Whole blood, at most 150 mL/h");
    REQUIRE(whole != nullptr);
    CHECK(cell(*whole, "6.66 mL/kg/h", "20 kg") == "133.2");
    CHECK(cell(*whole, "6.66 mL/kg/h", "100 kg") == "150");

    // Every cell against each ceiling, by the rules themselves.
    int cells = 0;
    for (int i = 0; i < component_count; ++i) {
        const ComponentRules& rules = p.rules(static_cast<Component>(i));
        for (const sheet::Block& block : d.blocks) {
            const sheet::Table& t = block.table;
            if (block.kind != sheet::BlockKind::table || t.columns[0].heading != "Weight") continue;
            if (!contains(t.caption, std::string(name(static_cast<Component>(i))))) continue;
            for (const auto& row : t.rows)
                for (std::size_t k = 1; k < row.size(); ++k) {
                    if (row[k] == "-") continue;
                    ++cells;
                    const double rate = std::stod(row[k]), kg = std::stod(row[0]);
                    CAPTURE(t.caption, row[0], row[k]);
                    CHECK(rate * 600 <= static_cast<double>(rules.most->value.units_per_s));
                    CHECK(rate * 600 <= static_cast<double>(rules.most_per_kg->value.units_per_s) * kg + 0.001);
                }
        }
    }
    CHECK(cells > 150);
}

TEST_CASE("the card has no drops where the rules ask for controlled delivery, and says why") {
    const sheet::Document d = card(shipped_protocol("children-by-weight"));
    CHECK(table(d, "Set with") == nullptr);
    CHECK(contains(unwrapped(sheet::to_text(d)), "No tables of drops: these rules ask for controlled delivery"));
    const sheet::Document ward = card(shipped_protocol("general-ward"));
    REQUIRE(table(ward, "Set with") != nullptr);
    // 500 mL in 1 h 30 min is 333.3 mL/h: too fast for red cells, whose table names 300.
    const sheet::Table* red = table(ward, "Set with 20 drops/mL (1 drop/min is 3 mL/h): Red cells");
    REQUIRE(red != nullptr);
    CHECK(contains(red->caption, "at most 300 mL/h"));
    for (const auto& row : red->rows)
        for (std::size_t i = 1; i < row.size(); ++i)
            if (row[i] != "-") CHECK(std::stoi(row[i]) <= 100);
}

TEST_CASE("the card counts the first minutes as the sheet does, where they count from the first component in the vein") {
    const Protocol p = shipped_protocol("half-hour-checks");
    const sheet::Document d = card(p);
    const std::string text = unwrapped(sheet::to_text(d));
    CHECK(contains(text, "the first 39 min at 50 mL/h (24 min of it for the saline in the line), then"));
    const sheet::Table* form = table(d, "One bag: the times, by hand");
    REQUIRE(form != nullptr);
    std::vector<std::string> checks;
    for (const auto& row : form->rows) {
        if (row[0] == check_title(CheckKind::early) || row[0].starts_with("Main rate"))
            CHECK(contains(row[1], "15 min after the first component in the vein (39 min after the start, with 20 mL of saline"));
        if (row[0] == check_title(CheckKind::interval)) checks.push_back(row[1]);
    }
    // As far as the limit of 4 h.
    REQUIRE(checks.size() == 8);
    CHECK(checks.front() == "30 min after the start");
    CHECK(checks.back() == "4 h after the start");

    // A cell is the rate that a plan sets.
    State s = new_state(p);
    s.unit.component = Component::red_cells;
    s.unit.bag = ml(300);
    s.order.pace = Order::Pace::within;
    s.order.duration = minutes(120);
    s.times.issued = Stated{at("10:00"), Precision::minute};
    s.times.start = Start{{at("10:05"), Precision::minute}, false};
    const Reckoning r = reckoned(p, s);
    REQUIRE(r.stages.size() == 2);
    CHECK(r.stages[0].to - r.stages[0].from == minutes(39));
    const sheet::Table* rates = table(d, "Red cells");
    REQUIRE(rates != nullptr);
    for (const auto& row : rates->rows)
        for (std::size_t i = 1; i < row.size(); ++i)
            if (row[0] == "300 mL" && rates->columns[i].heading == "2 h")
                CHECK(joined({row[i], " mL/h"}) == rate_text(r.rates.set));
}

TEST_CASE("every rule of a shipped protocol is in its table, once, with words of its own") {
    for (const std::string& id : demo_names("protocols")) {
        const Protocol p = shipped_protocol(id);
        std::size_t rows = 0;
        for (const sheet::Block& block : protocol_sheet(p).blocks) rows += block.table.rows.size();
        CHECK(rows + 1 == rules_of(p).size());  // "children" stands above the tables
        for (const Rule& rule : rules_of(p)) {
            CAPTURE(rule.path);
            CHECK(rule_label(rule.path).find('_') == std::string::npos);
        }
    }
}

TEST_CASE("what differs: nothing between a protocol and itself, something between those that disagree") {
    const Protocol one = shipped_protocol("general-ward"), two = shipped_protocol("removal-clock");
    CHECK(contains(sheet::to_text(difference_sheet(one, one)), "Nothing differs"));
    CHECK(contains(sheet::to_text(difference_sheet(one, two)), "rules differ."));
}
