/// The end of a session on screen: what is charted is ticked one by one, what all the fluid adds up to, the slip about late
/// symptoms, and how long the empty bag is kept.

#include "tests/web/ward.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using test::at;
using test::Ward;

namespace {

/// From the start at 13:52 to all in at 15:56, by what stands on the button.
void to_the_end(Ward& w) {
    w.until_running();
    w.act("do.observe");
    w.go_to(at(14, 7));
    w.act("do.observe");
    w.act("do.raise_rate");
    w.confirm();
    w.go_to(at(14, 52));
    w.act("do.observe");
    w.go_to(at(15, 46));
    if (w.has("do.observe"))
        w.act("do.observe");
    w.act("do.look_at_end");
    w.act("do.clear_line");
    w.go_to(at(15, 56));
    w.act("do.end");
    REQUIRE(w.session().phase == Phase::ended);
    w.act("tab.finish");
}

int open_ticks(const Ward& w) {
    int n = 0;
    for (const Event& e : const_cast<Ward&>(w).only().log.events())
        n += const_cast<Ward&>(w).has("finish.chart." + std::to_string(e.number));
    return n;
}

} // namespace

TEST_CASE("what is to be charted is listed on the end screen, and ticked one by one", "[session_end]") {
    Ward w;
    to_the_end(w);
    const std::size_t all = w.session().uncharted();
    REQUIRE(all > 4);
    CHECK(w.label("finish.chart") == "Not charted yet: copy these into the record");
    CHECK(open_ticks(w) == static_cast<int>(all));
    std::int32_t started = 0;
    for (const Event& e : w.only().log.events())
        if (e.kind == EventKind::started)
            started = e.number;
    const std::string line = "finish.uncharted." + std::to_string(started);
    CHECK(w.label(line).find("50 mL/h") != std::string::npos);
    w.act("finish.chart." + std::to_string(started));
    CHECK(w.session().uncharted() == all - 1);
    CHECK_FALSE(w.has(line)); // that one, and no other
    CHECK(open_ticks(w) == static_cast<int>(all) - 1);
    // First on the sheet what is not charted yet, and that alone.
    w.act("page.print");
    const std::string paper = w.shown().print_html;
    const std::size_t list = paper.find("Not charted yet"), plan = paper.find("State");
    REQUIRE(list != std::string::npos);
    CHECK(list < plan);
    CHECK(paper.substr(list, plan - list).find("Started: 50 mL/h") == std::string::npos);
    // A tick that was wrong is taken back like anything else.
    w.wait(500);
    w.act("undo");
    CHECK(w.session().uncharted() == all);
    CHECK(w.has(line));
    // A correction of what was charted has to be charted anew.
    w.wait(500);
    w.act("finish.chart." + std::to_string(started));
    w.act("tab.record");
    w.wait(500);
    w.act("record." + std::to_string(started));
    w.act("record." + std::to_string(started) + ".correct");
    w.number("act.rate", "48");
    w.confirm();
    w.act("tab.finish");
    CHECK(w.session().uncharted() == all);
    // Ticked to the last, it says so.
    for (int i = 0; i < 40 && w.session().uncharted() > 0; ++i)
        for (const Event& e : std::vector<Event>(w.only().log.events())) {
            const std::string id = "finish.chart." + std::to_string(e.number);
            if (!w.has(id))
                continue;
            w.act(id);
            w.wait(500);
        }
    CHECK(w.session().uncharted() == 0);
    CHECK(w.label("finish.chart") == "Everything is charted");
    CHECK(open_ticks(w) == 0);
}

TEST_CASE("the end screen says how long the bag is kept and prints the slip, only once it has ended", "[session_end]") {
    Ward w;
    w.until_running();
    w.act("tab.finish");
    CHECK_FALSE(w.has("fluid.keep_bag"));
    CHECK_FALSE(w.has("fluid.slip"));
    Ward ended;
    to_the_end(ended);
    // The ward's rules: 1440 minutes for both, from the end at 15:56.
    CHECK(ended.label("fluid.keep_bag") == "Keep the empty bag until 15:56 day +1 (common practice, no source).");
    CHECK(ended.label("fluid.late").starts_with("Late symptoms are to be reported until 15:56 day +1 (published: "));
    CHECK(ended.label("fluid.late").ends_with("Whoever goes home gets the slip."));
    ended.write_png("bedside-end-fluid");
    ended.act("fluid.slip");
    const std::string slip = ended.shown().print_html;
    CHECK(slip.find("After your transfusion") != std::string::npos);
    CHECK(slip.find("For the next") != std::string::npos);
    for (const char* never : {"4821", "anchor", "316"})
        CHECK(slip.find(never) == std::string::npos);
    // What is printed next is the sheet again, with the same times on it.
    ended.act("page.print");
    CHECK(ended.shown().print_html.find("Keep the empty bag until") != std::string::npos);
}

TEST_CASE("all the fluid is told against weight, with other lines, and a linked session counts by itself", "[session_end]") {
    Ward w;
    w.until_running(); // the anchor: 50 mL/h from 13:52
    w.go_to(at(14, 52));
    w.act("tab.finish");
    CHECK(w.label("fluid.total") == "50 mL, since 13:52");
    CHECK(w.label("fluid.parts") == "component 50 mL.");
    CHECK(w.label("fluid.not_known.0").starts_with("No weight is recorded"));
    w.act("fluid.other");
    w.number("act.other_ml", "100");
    w.confirm();
    w.act("tab.finish");
    CHECK(w.label("fluid.total") == "150 mL, since 13:52");
    CHECK(w.label("fluid.parts") == "component 50 mL, other lines 100 mL.");
    // A second line into the same person.
    w.to_sessions();
    w.act("front.join");
    w.pick("act.component", "Red cells");
    w.number("act.volume", "250");
    w.number("act.issued", "1442");
    w.number("act.digits", "5151");
    w.number("act.started", "1452");
    w.number("act.rate", "30");
    w.confirm();
    const std::string second = w.label("strip.object");
    w.act("tab.record");
    w.act("record.link");
    w.choose("anchor");
    w.confirm();
    w.go_to(at(15, 52));
    w.act("tab.finish");
    CHECK(w.label("fluid.total") == "230 mL, since 13:52"); // 30, and of the anchor 100 and 100
    CHECK(w.label("fluid.counted.0") == "With this bag: 30 mL.");
    CHECK(w.label("fluid.counted.1") == "Linked session, the anchor, with 1 unit: 200 mL.");
    w.write_png("bedside-fluid-two-lines");
    w.act("page.print");
    for (const char* text : {"Linked session, the anchor, with <", ">200 mL<", ">230 mL</span>, since"}) {
        INFO(text);
        CHECK(w.shown().print_html.find(text) != std::string::npos);
    }
    // And the other way round.
    w.open("anchor");
    w.act("tab.finish");
    CHECK(w.label("fluid.total") == "230 mL, since 13:52");
    CHECK(w.label("fluid.counted.1") == "Linked session, the " + second + ", with 1 unit: 30 mL.");
}

TEST_CASE("the sheet of a session can be read on the screen, as it would be printed", "[session_end]") {
    Ward w;
    w.until_running();
    w.act("tab.record");
    w.act("record.sheet");
    CHECK(w.shown().sheets_read == 1);
    CHECK(w.shown().prints == 0);
    CHECK(w.shown().print_html.find("4821") != std::string::npos);
    CHECK(w.shown().print_html.find("Not charted yet") != std::string::npos);
}
