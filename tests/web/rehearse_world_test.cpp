/// What happens in a rehearsal and who makes it happen; that real sessions go on beside it; results compared; and a
/// rehearsal changed in the form.

#include "core/rehearse/debrief.hpp"
#include "tests/web/learner.hpp"
#include "web/platform/store_twin.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>

using namespace hangtime;
using platform::FileOutcome;
using platform::Key;
using platform::Shelf;
using test::at;
using test::Learner;
namespace twin = platform::twin;

TEST_CASE("the second checker is called away, and a card says so", "[rehearse]") {
    Learner w;
    w.begin(4);
    w.act("do.call");
    w.until("practice.bag");
    w.act("tab.match");
    w.act("match.says.yes");
    for (int i = 0; i < 20 && !w.card(); ++i)
        w.act("match.same");
    REQUIRE(w.card());
    CHECK(w.label("card.text").find("called away") != std::string::npos);
    CHECK(w.session().match.passed.size() == 4);
    w.act("card.go_on");
    w.act("sessions");
    CHECK(w.label("menu.said.1").find("called away") != std::string::npos);
    CHECK(w.label("menu.said.0").find("A bag is brought") != std::string::npos);
}

TEST_CASE("a tag that differs is seen by who compares it, and nobody says so", "[rehearse]") {
    Learner w;
    w.begin(5);
    w.act("do.call");
    w.until("practice.bag");
    w.act("tab.unit");
    w.act("unit.receive"); // from then on the tag is another one
    const std::string bag = w.value("practice.bag"), tag = w.value("practice.tag");
    CHECK(bag != tag);
    REQUIRE(bag.size() == tag.size());
    int differing = 0;
    for (std::size_t i = 0; i < bag.size(); ++i)
        differing += bag[i] != tag[i] ? 1 : 0;
    CHECK(differing >= 1); // the number's check goes with it
    CHECK(differing <= 2);
    CHECK_FALSE(w.card());
    for (const auto& said : w.scene().history())
        CHECK(said.text.find("tag") == std::string::npos);
}

TEST_CASE("what is seen comes from the scenario, to be copied or entered", "[rehearse]") {
    Learner w;
    w.begin(6);
    w.until_runs();
    w.observe(); // at the start
    std::string said;
    for (int i = 0; i < 6 && said.find("rigors") == std::string::npos; ++i)
        said = w.next();
    INFO(said);
    REQUIRE(said.find("rigors") != std::string::npos);
    w.act("tab.signs");
    w.until("do.observe", 1);
    w.act("do.observe");
    CHECK(w.label("obs.seen").find("rigors") != std::string::npos);
    w.write_png("rehearse-seen");
    w.act("obs.copy");
    w.act("obs.note");
    if (w.has("obs.confirm"))
        w.act("obs.confirm");
    const auto& sets = w.session().sets;
    REQUIRE(!sets.empty());
    REQUIRE(sets.back().set.symptoms);
    CHECK(sets.back().set.symptoms->has(Symptom::rigors));
    CHECK(w.label("tab.signs") == "Signs");
    w.write_png("rehearse-signs");
}

TEST_CASE("a real session goes on beside a rehearsal: its reminders come, its records are apart", "[rehearse]") {
    Learner w;
    w.until_running(); // a real one, from 13:52 at 50 mL/h
    const std::size_t real = w.app().desk().cases()[0]->log.events().size();
    const auto disk = twin::disk();
    w.act("sessions");
    w.begin(1);
    w.act("do.call");
    w.settle();
    CHECK(twin::disk() == disk);
    const auto& shelf = twin::disk(Shelf::rehearsal);
    const auto records = std::count_if(shelf.begin(), shelf.end(), [&](const auto& r) { return r.first.first == w.scene().key(); });
    CHECK(records == static_cast<std::ptrdiff_t>(w.scene().rehearsal().log().events().size()));
    CHECK(w.app().desk().cases().size() == 1);
    CHECK(w.app().desk().cases()[0]->log.events().size() == real);
    w.act("clock.pause");
    twin::advance_ms(16 * 60 * 1000);
    w.frame();
    CHECK(w.label("reminder.real").find("Early check") != std::string::npos);
    CHECK(w.shown().title.starts_with("Rehearsal open. Real session: "));
    CHECK(w.shown().title.find("Early check") != std::string::npos);
    w.write_png("rehearse-real-reminder");
    // Back at the real one nothing says rehearsal.
    w.act("sessions");
    w.act("menu.give_up");
    w.act("menu.sure.yes");
    w.settle();
    CHECK(twin::disk(Shelf::rehearsal).empty());
    w.act("practice.back");
    w.act("more.back");
    CHECK_FALSE(w.has("rehearsal"));
    CHECK(w.app().ui().palette().ground == ui::day.ground);
    CHECK(w.shown().title.find("ehearsal") == std::string::npos);
}

TEST_CASE("what happened by itself cannot be taken back, what the learner noted can", "[rehearse]") {
    Learner w;
    w.begin(1);
    CHECK_FALSE(w.has("undo")); // what stands there was so before it began
    w.act("do.call");
    CHECK(w.has("undo"));
    w.until("practice.bag");
    CHECK_FALSE(w.has("undo")); // the bag is there
    w.act("tab.record");
    const auto number = std::to_string(w.scene().rehearsal().log().next_number() - 1);
    w.act("record." + number);
    CHECK((w.find("record." + number + ".withdraw")->state & ui::State::disabled) != 0);
}

TEST_CASE("the educator's console is a drawer that a key opens: it lets things happen, and stops for a talk", "[rehearse][console]") {
    Learner w;
    w.begin(1);
    w.type("e");
    REQUIRE(w.label("title") == "For the educator");
    CHECK(w.scene().paused());
    w.write_png("rehearse-console");
    w.act("console.teaches.0");
    REQUIRE(w.card());
    CHECK(w.label("title") == "Talk about it");
    CHECK(w.label("card.text").find(w.scene().scenario().teaches[0]) != std::string::npos);
    w.write_png("rehearse-talk");
    const Instant stands = w.scene().now();
    w.wait(5000);
    CHECK(w.scene().now() == stands);
    w.act("card.go_on");
    CHECK(w.has("strip.object"));

    w.type("e");
    const auto all = screens::injectables(w.scene());
    std::size_t i = 0;
    while (i < all.size() && all[i].happening.kind != WorldKind::pump_stops)
        ++i;
    REQUIRE(i < all.size());
    w.act("console." + std::to_string(i));
    REQUIRE(w.card());
    CHECK(w.label("card.text").find("device says") != std::string::npos);
    w.act("card.go_on");
    w.end();
    CHECK(w.all_text().find("by the educator") != std::string::npos);
}

TEST_CASE("every happening of the console can happen at any time", "[rehearse][console]") {
    for (const char* which : {"8001", "9001", "10001"}) {
        Learner w;
        w.begin_case(which);
        REQUIRE(w.scene().on());
        const auto all = screens::injectables(w.scene());
        CHECK(all.size() >= 14);
        for (const auto& one : all) {
            INFO(one.label);
            const std::size_t before = w.scene().rehearsal().told().size();
            w.scene().inject(one.happening, platform::now_ms());
            CHECK(w.scene().rehearsal().told().size() > before);
            w.frame();
            while (w.card())
                w.act("card.go_on");
        }
        // What was let happen to the signs is seen, and stays possible.
        w.scene().inject(all[all.size() > 13 ? 13 : 0].happening, platform::now_ms());
        CHECK_FALSE(problem_of(w.scene().signs()));
        w.end();
    }
}

TEST_CASE("two attempts stand side by side, also one out of a file", "[rehearse][debrief]") {
    Learner w;
    w.begin(1);
    w.act("do.call");
    w.end(); // with hardly anything done
    w.act("debrief.save");
    const std::string first = twin::told().file_text;
    w.act("debrief.again");
    REQUIRE(w.scene().on());
    w.until_runs();
    w.end();
    w.act("practice.back");
    CHECK(w.label("title") == "Results");
    w.act("results.pick.0");
    w.act("results.pick.1");
    CHECK(w.label("results.pick.0") == "First");
    w.write_png("rehearse-results");
    w.act("results.compare");
    CHECK(w.label("title") == "Two attempts");
    CHECK(w.all_text().find("better") != std::string::npos);
    w.write_png("rehearse-compared");
    w.act("page.print");
    CHECK(w.shown().print_html.find("two attempts") != std::string::npos);
    CHECK(w.shown().print_html.find("Rehearsal") != std::string::npos);
    w.act("practice.back");
    w.act("results.open_file");
    twin::choose_file(FileOutcome::opened, first);
    w.settle();
    CHECK(w.value("results.2").find("from a file") != std::string::npos);
    w.act("results.2");
    CHECK(w.label("debrief.points").find("of 13 points") != std::string::npos);

    // One that was changed by hand is not taken.
    w.act("practice.back");
    std::string changed = first;
    changed.replace(changed.find("\"points\""), 8, "\"pointz\"");
    w.act("results.open_file");
    twin::choose_file(FileOutcome::opened, changed);
    w.settle();
    CHECK(w.label("results.message").find("pointz") != std::string::npos);
}

TEST_CASE("a rehearsal out of a file is checked, and says where it is wrong", "[rehearse]") {
    Learner w;
    w.to_list();
    std::string text = write_scenario(*w.app().rehearsals().library().by_number(1));
    std::string wrong = text;
    const std::size_t at_lasts = wrong.find("\"lasts_min\"");
    REQUIRE(at_lasts != std::string::npos);
    const std::size_t digits = wrong.find_first_of("0123456789", at_lasts);
    wrong.replace(digits, wrong.find_first_not_of("0123456789", digits) - digits, "0");
    w.act("rehearse.open_file");
    twin::choose_file(FileOutcome::opened, wrong);
    w.settle();
    CHECK(w.label("rehearse.message").find("lasts_min") != std::string::npos);
    w.act("rehearse.open_file");
    twin::choose_file(FileOutcome::opened, text);
    w.settle();
    CHECK_FALSE(w.has("rehearse.message"));
    w.act("rehearse.own.start");
    CHECK(w.scene().on());
}

TEST_CASE("a rehearsal is changed in a form, checked at each number, played and saved", "[rehearse][author]") {
    Learner w;
    w.to_list();
    w.act("rehearse.1");
    w.act("rehearse.1.change");
    CHECK(w.has("author.fine"));
    w.write_png("rehearse-author");
    w.number("author.number", "42");
    w.number("author.bag.0", "280");
    w.act("author.person");
    w.number("author.weight", "52.5");
    w.pick("author.age", "1 to 15 years");
    w.act("author.happenings");
    w.number("author.when.0", "12");
    w.write_png("rehearse-author-happenings");
    w.act("author.scored");
    w.number("author.points.0", "5");
    CHECK(w.has("author.fine"));
    w.act("author.save");
    const auto read = w.app().rehearsals().library().read(twin::told().file_text);
    REQUIRE(read.ok());
    const Scenario& s = *read.value();
    CHECK(s.number == 42);
    CHECK(std::get<facts::Issued>(s.happenings[0].record->facts).bag == ml(280));
    CHECK(s.recipient.weight.grams == 52'500);
    CHECK(s.recipient.age == AgeGroup::child);
    CHECK(s.happenings[0].when.wait == minutes(12));
    CHECK(s.scored[0].points == 5);
    w.act("author.play");
    REQUIRE(w.scene().on());
    CHECK(w.label("rehearsal.about").find("Case 42001") != std::string::npos);
}

TEST_CASE("what cannot be played is said with its place, and is neither played nor saved", "[rehearse][author]") {
    Learner w;
    w.to_list();
    w.act("rehearse.1");
    w.act("rehearse.1.change");
    // A bag smaller than the millilitres by which a seed moves it.
    w.number("author.bag.0", "5");
    INFO(w.all_text());
    REQUIRE(w.has("author.error"));
    CHECK(w.label("author.error").find("happens[0].vary_ml") != std::string::npos);
    CHECK(w.label("author.error").find("The bag arrives: red cells") != std::string::npos);
    w.write_png("rehearse-author-error");
    const std::string before = twin::told().file_name;
    w.tap("author.save");
    w.tap("author.play");
    CHECK(twin::told().file_name == before);
    CHECK_FALSE(w.scene().on());
}

TEST_CASE("what happens is moved, or left out and comes back; what refers to it says so", "[rehearse][author]") {
    Learner w(at(13, 30), 1280, 800);
    w.to_list();
    w.act("rehearse.4");
    w.act("rehearse.4.change");
    w.act("author.happenings");
    const auto& shipped = *w.app().rehearsals().library().by_number(4);
    std::size_t away = 0;
    while (shipped.happenings[away].id != "away")
        ++away;
    const std::string n = std::to_string(away);
    CHECK(w.value("author.when." + n).find("steps of the match") != std::string::npos);
    w.number("author.when." + n, "6");
    CHECK(w.has("author.fine"));
    w.write_png("rehearse-author-times");
    // What comes after it, and what is scored from it on, cannot be without it.
    w.pick("author.happens." + n, "Left out");
    REQUIRE(w.has("author.error"));
    CHECK(w.label("author.error").find("after_happening") != std::string::npos);
    w.pick("author.happens." + n, "It happens");
    REQUIRE(w.has("author.fine"));
    w.act("author.scored");
    w.number("author.points.0", "0");
    w.write_png("rehearse-author-scored");
    w.act("author.save");
    const auto read = w.app().rehearsals().library().read(twin::told().file_text);
    REQUIRE(read.ok());
    CHECK(read.value()->happenings.size() == shipped.happenings.size());
    CHECK(read.value()->happenings[away].when.step == 6);
    CHECK(read.value()->scored.size() == shipped.scored.size() - 1);
    // All of it left out leaves nothing to score.
    for (std::size_t i = 1; i < shipped.scored.size(); ++i)
        w.number("author.points." + std::to_string(i), "0");
    CHECK(w.label("author.error").find("scored") != std::string::npos);
    w.number("author.points.0", "2");
    CHECK(w.has("author.fine"));
}

TEST_CASE("a real session is made a rehearsal from its records", "[rehearse][author]") {
    Learner w;
    w.until_running();
    w.act("tab.record");
    w.act("record.rehearse");
    REQUIRE(w.has("author.fine"));
    CHECK(w.label("rehearsal") == "Rehearsal");
    w.act("author.play");
    REQUIRE(w.scene().on());
    // Of the bag's number nothing is kept.
    for (const auto& event : w.scene().rehearsal().log().events())
        if (const auto* issued = std::get_if<facts::Issued>(&event.facts))
            CHECK_FALSE(issued->digits);
}
