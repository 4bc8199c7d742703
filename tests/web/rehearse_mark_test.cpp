/// A rehearsal can never be mistaken for a real session: the word stands on every screen, on every sheet, in the title of
/// the page and in every file that is saved, the ground is another one, and none of its files is taken among the real ones.

#include "core/words/rehearse_words.hpp"
#include "tests/web/learner.hpp"
#include "web/platform/store_twin.hpp"

#include <catch2/catch_test_macros.hpp>

#include <set>

using namespace hangtime;
using platform::FileOutcome;
using platform::Shelf;
using test::Learner;
namespace twin = platform::twin;

namespace {

/// What is on the screen now, by day and by night, and what would be printed of it.
void looks_rehearsed(Learner& w, std::string_view where) {
    INFO(where);
    CHECK(w.label("rehearsal") == "Rehearsal");
    CHECK(w.has("rehearsal.about"));
    CHECK(w.shown().title.starts_with("Rehearsal"));
    ui::Ui& ui = w.app().ui();
    CHECK(ui.palette().ground == (ui.night() ? ui::rehearsal_night : ui::rehearsal_day).ground);
    w.app().before_print();
    const std::string& paper = w.shown().print_html;
    if (paper.empty())
        return; // there is nothing to print: then nothing of a real session comes out either
    CHECK(paper.find("Rehearsal") != std::string::npos);
    CHECK(paper.find(rehearsal_sentence()) != std::string::npos);
}

void file_says_so(std::string_view what) {
    INFO(what);
    const auto& told = twin::told();
    INFO(told.file_name);
    CHECK((told.file_name.find("rehearsal") != std::string::npos || told.file_name.find("result") != std::string::npos));
    CHECK((told.file_text.find("\"rehearsal\": true") != std::string::npos || told.file_text.find("\"hangtime_rehearsal\"") != std::string::npos));
}

} // namespace

TEST_CASE("every screen of a rehearsal, its sheets, its title and its files carry the word", "[rehearse][mark]") {
    Learner w;
    w.to_list();
    looks_rehearsed(w, "list");
    w.act("rehearse.1");
    w.act("rehearse.1.sheet");
    looks_rehearsed(w, "the teacher's sheet");
    CHECK(w.shown().print_html.find("One bag, nothing goes wrong") != std::string::npos);
    w.act("rehearse.1.cards");
    looks_rehearsed(w, "cards");
    CHECK(w.shown().print_html.find("PRACTICE, NOT FOR TRANSFUSION") != std::string::npos);
    w.act("rehearse.enter_case");
    looks_rehearsed(w, "case number");
    w.act("rehearse.case.back");
    w.act("rehearse.1.change");
    for (const char* tab : {"author.frame", "author.person", "author.happenings", "author.scored"}) {
        w.act(tab);
        looks_rehearsed(w, tab);
    }
    w.act("author.save");
    file_says_so("a scenario");
    w.act("author.play");
    REQUIRE(w.scene().on());
    w.until_runs();
    for (const char* tab : {"tab.unit", "tab.match", "tab.run", "tab.signs", "tab.record"})
        if (w.has(tab)) {
            w.act(tab);
            looks_rehearsed(w, tab);
            w.act("page.ground");
            looks_rehearsed(w, tab);
            w.act("page.ground");
        }
    w.act("tab.record");
    w.act("record.save_file");
    file_says_so("a log");
    const std::string log = twin::told().file_text;
    w.act("sessions");
    looks_rehearsed(w, "menu");
    w.act("menu.console");
    looks_rehearsed(w, "console");
    w.act("console.discuss");
    looks_rehearsed(w, "talk");
    w.act("card.go_on");
    w.end();
    looks_rehearsed(w, "debrief");
    w.act("debrief.save");
    file_says_so("a result");
    const std::string result = twin::told().file_text;
    w.act("practice.back");
    looks_rehearsed(w, "results");

    // Back among the real sessions: no word, no ground, and neither file is taken for one.
    w.act("practice.back");
    w.act("practice.back");
    w.act("more.back");
    CHECK_FALSE(w.has("rehearsal"));
    CHECK(w.shown().title.find("ehears") == std::string::npos);
    w.app().before_print();
    CHECK(w.shown().print_html.find("ehears") == std::string::npos);
    for (const std::string& file : {log, result}) {
        w.act("front.import");
        twin::choose_file(FileOutcome::opened, file);
        w.settle();
        CHECK(w.app().desk().cases().empty());
        CHECK(w.all_text().find("That file is not taken") != std::string::npos);
    }
    CHECK(w.all_text().find("the log of a rehearsal") == std::string::npos); // the last message is of the result
    CHECK(twin::disk().empty());
}

TEST_CASE("the log of a rehearsal opens behind \"Rehearse\", and the front page says so", "[rehearse][mark]") {
    Learner w;
    w.begin(1);
    w.until_runs();
    w.act("tab.record");
    w.act("record.save_file");
    CHECK(twin::told().file_name.starts_with("hangtime-rehearsal-"));
    const std::string log = twin::told().file_text;
    w.act("sessions");
    w.act("menu.give_up");
    w.act("menu.sure.yes");
    w.act("rehearse.open_file");
    twin::choose_file(FileOutcome::opened, log);
    w.settle();
    CHECK(w.has("author.fine"));
    w.act("practice.back");
    w.act("practice.back");
    w.act("more.back");
    w.act("front.import");
    twin::choose_file(FileOutcome::opened, log);
    w.settle();
    CHECK(w.all_text().find("is the log of a rehearsal") != std::string::npos);
    CHECK(twin::disk().empty());
}
