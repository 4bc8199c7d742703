/// The review and the class on the twin: files a few at a time, figures with nothing below the floor, what was left out.

#include "core/protocol/read.hpp"
#include "core/session/record.hpp"
#include "tests/core/random_logs.hpp"
#include "tests/web/harness.hpp"
#include "tests/web/one_screen.hpp"
#include "web/platform/store_twin.hpp"
#include "web/screens/class_view.hpp"
#include "web/screens/review_view.hpp"
#include "web/teach.hpp"

#include <catch2/catch_test_macros.hpp>

#include <fstream>
#include <sstream>

using namespace hangtime;

namespace {

std::string text_of(const std::string& file) {
    std::stringstream text;
    text << std::ifstream(test::root_folder() + "/" + file).rdbuf();
    return text.str();
}

Protocol protocol(const std::string& id) {
    auto read = read_protocol(text_of("demo-data/protocols/" + id + ".json"));
    REQUIRE(read.ok());
    return std::move(read.value());
}

/// Logs of sessions that came far enough to be counted.
std::vector<std::string> logs(std::size_t count) {
    const auto ward = std::make_shared<const Protocol>(protocol("general-ward"));
    const auto other = std::make_shared<const Protocol>(protocol("half-hour-checks"));
    std::vector<std::string> out;
    for (std::uint64_t seed = 1; out.size() < count; ++seed) {
        test::LogMaker maker(seed, seed % 3 ? ward : other, seed % 3 ? other : ward);
        maker.run(140);
        if (maker.log.session().state.times.issued)
            out.push_back(write_log(maker.log));
    }
    return out;
}

struct ReviewScreen {
    explicit ReviewScreen(int width = 1280, int height = 800)
        : view(desk), one(width, height, 1, [this](ui::Ui& ui, ui::Box box) { view.build(ui, box); }) {
        platform::twin::reset_store();
    }
    void choose(const std::vector<std::string>& files) {
        view.files_chosen(static_cast<int>(files.size()));
        for (const std::string& file : files)
            view.file_read(platform::FileOutcome::opened, file);
        one.frame();
    }
    std::vector<Protocol> protocols;
    desk::Desk desk{protocols};
    screens::ReviewView view;
    test::OneScreen one;
};

std::string result(int number, bool late, int points) {
    return "{\"hangtime_debrief\": 1, \"rehearsal\": true, \"note\": \"Rehearsal\", \"scenario\": \"first-bag\", \"protocol\": "
           "\"general-ward\", \"case_number\": " + std::to_string(1000 + number) + ", \"points\": " + std::to_string(points) +
           ", \"most\": 5, \"begins\": null, \"ends\": null, \"parts\": ["
           "{\"kind\": \"check_on_time\", \"item\": \"Early check on time\", \"met\": " + (late ? "false" : "true") +
           ", \"points\": " + (late ? "0" : "2") + ", \"most\": 2, \"due\": \"2026-03-14T14:07:00+01:00\", \"done\": \"2026-03-14T14:" +
           (late ? "41" : "09") + ":00+01:00\", \"what_came_of_it\": \"x\", \"rule\": \"\", \"from\": \"the protocol\"},"
           "{\"kind\": \"window_kept\", \"item\": \"Hung inside the window\", \"met\": " + (points >= 3 ? "true" : "false") +
           ", \"points\": " + (points >= 3 ? "3" : "0") + ", \"most\": 3, \"due\": null, \"done\": null, \"what_came_of_it\": \"x\", "
           "\"rule\": \"Hang it in 30 min\", \"from\": \"\"}], \"units\": [], \"happened\": [], \"refused\": ["
           "{\"what\": \"rate_set\", \"why\": \"early_check_open\", \"at\": null}]}";
}

} // namespace

TEST_CASE("a review reads files a few at a time, and can be stopped", "[review-screen]") {
    ReviewScreen s;
    s.one.frame();
    s.one.check_layout();
    CHECK(s.one.has("review.intro"));
    s.one.tap("review.choose");
    CHECK(platform::twin::told().pickers == 1);
    const auto files = logs(30);
    s.view.files_chosen(30);
    s.view.work();
    for (int i = 0; i < 3; ++i)
        s.view.file_read(platform::FileOutcome::opened, files[static_cast<std::size_t>(i)]);
    s.one.frame();
    CHECK(s.one.value("review.progress") == "3 of 30");
    s.one.picture("review-reading");
    s.one.tap("review.cancel");
    s.one.frame();
    CHECK_FALSE(s.one.has("review.progress"));
    CHECK(s.one.has("review.stopped"));
    CHECK(s.view.review().sessions() == 3);
    // What was under way comes to nothing.
    s.view.file_read(platform::FileOutcome::opened, files[3]);
    CHECK(s.view.review().sessions() == 3);
    // More come on top.
    s.choose(files);
    CHECK(s.view.review().sessions() == 33);
    s.one.tap("review.forget");
    s.one.frame();
    CHECK(s.view.review().sessions() == 0);
    CHECK(s.one.has("review.intro"));
}

TEST_CASE("a review tells what was left out by its place, never by a name", "[review-screen]") {
    ReviewScreen s;
    auto files = logs(12);
    files[2] = "nothing of ours";
    files[5].replace(files[5].size() / 2, 1, "#");
    s.choose(files);
    CHECK(s.view.review().sessions() == 10);
    CHECK(s.one.label("review.left_out") == "Left out: 2 files");
    CHECK(s.one.label("review.left_out.0").starts_with("file 3: line 1"));
    CHECK(s.one.label("review.left_out.1").starts_with("file 6: line "));
    s.one.check_layout();
}

TEST_CASE("a review shows figures and saves them, with nothing below the floor", "[review-screen]") {
    for (const auto& [width, height] : {std::pair{1280, 800}, std::pair{768, 1024}}) {
        ReviewScreen s(width, height);
        s.choose(logs(80));
        const std::string size = std::to_string(width);
        CHECK(s.one.label("review.about").starts_with("All that is shown: "));
        CHECK(s.one.has("review.measure.0"));
        s.one.check_layout();
        s.one.picture("review-day-" + size);
        s.one.set_night(true);
        s.one.frame();
        s.one.picture("review-night-" + size);
        s.one.set_night(false);
        s.one.tap("review.group.0");
        s.one.frame();
        CHECK_FALSE(s.one.label("review.about").starts_with("All that is shown: "));
        s.one.check_layout();
        s.one.tap("review.floor.20");
        s.one.frame();
        CHECK(s.one.label("review.sessions").find("Floor: 20") != std::string::npos);
        s.one.tap("review.save");
        CHECK(platform::twin::told().file_name == "review.csv");
        CHECK(platform::twin::told().file_text.starts_with("protocol,component,figure,part,count,minutes\r\n"));
        CHECK(platform::twin::told().file_text == review_csv(s.view.review(), 20));
        s.one.tap("page.print");
        CHECK(s.view.take_wishes().print);
        REQUIRE(s.view.document());
        CHECK(s.view.document()->title == "Review of sessions");
    }
}

TEST_CASE("too few sessions show no figure", "[review-screen]") {
    ReviewScreen s;
    s.choose(logs(3));
    CHECK(s.one.has("review.none"));
    CHECK_FALSE(s.one.has("review.measure.0"));
    CHECK(s.one.all_text().find("3 session") == std::string::npos);
}

TEST_CASE("a class shows each item, the points and the common mistakes", "[review-screen]") {
    for (const auto& [width, height] : {std::pair{1280, 800}, std::pair{768, 1024}}) {
        screens::ClassView view;
        test::OneScreen one(width, height, 1, [&](ui::Ui& ui, ui::Box box) { view.build(ui, box); });
        one.frame();
        one.check_layout();
        CHECK(one.has("class.intro"));
        CHECK_FALSE(view.document());
        view.files_chosen(7);
        for (int i = 0; i < 4; ++i)
            view.file_read(platform::FileOutcome::opened, result(i, i < 3, i < 3 ? 3 : 5));
        view.file_read(platform::FileOutcome::opened, result(4, true, 0));
        view.file_read(platform::FileOutcome::too_large, "");
        std::string named = result(5, false, 5);
        named.replace(named.find("\"note\""), 6, "\"name\"");
        view.file_read(platform::FileOutcome::opened, named);
        one.frame();
        CHECK(view.summary().attempts() == 5);
        CHECK(one.label("class.about") == "first-bag, general-ward: 5 attempts");
        CHECK(one.value("class.item.0") == "1 of 5");
        CHECK(one.value("class.item.1") == "4 of 5");
        CHECK(one.label("class.mistake.0").starts_with(
            "Early check on time: 4 of 5 did not meet it: 4 late (34 min in the middle). The rule is from the protocol."));
        CHECK(one.label("class.mistake.1").starts_with("Hung inside the window: 1 of 5 did not meet it: 1 not done. Hang it"));
        CHECK(one.label("class.refused.0").starts_with("Tried and refused, in 5 of 5: "));
        CHECK(one.label("class.points").starts_with("Points 0 to 5 of 5, 3 in the middle."));
        CHECK(one.label("class.left_out.0") == "file 6: is too large");
        CHECK(one.label("class.left_out.1").starts_with("file 7: name"));
        one.check_layout();
        one.picture("class-day-" + std::to_string(width));
        one.set_night(true);
        one.frame();
        one.picture("class-night-" + std::to_string(width));
        one.tap("class.save");
        CHECK(platform::twin::told().file_text == class_csv(view.summary()));
        one.tap("class.forget");
        one.frame();
        CHECK(view.summary().attempts() == 0);
    }
}

TEST_CASE("the doors lead to the review and to a class, and files go where they were asked for", "[review-screen]") {
    test::Page page(1280, 800, 1, test::at(13, 45));
    page.settle();
    page.tap("plan.sessions");
    page.act("front.more");
    page.act("more.review");
    CHECK(page.label("title") == "Review of sessions");
    CHECK(page.shown().title == "Hangtime: review");
    page.act("review.choose");
    std::vector<platform::twin::ChosenFile> files;
    for (const std::string& log : logs(25))
        files.push_back({platform::FileOutcome::opened, log});
    files.push_back({platform::FileOutcome::unreadable, ""});
    platform::twin::choose_files(files);
    page.settle(); // a few at a time, until all have come
    CHECK_FALSE(page.has("review.progress"));
    CHECK(page.app().teach().review().review().sessions() == 25);
    CHECK(page.label("review.left_out.0") == "file 26: cannot be read as text");
    page.act("page.print");
    CHECK(page.shown().print_html.find("Review of sessions") != std::string::npos);
    CHECK(page.shown().prints == 1);
    page.act("review.back");
    page.act("more.class");
    CHECK(page.label("title") == "A class");
    page.act("class.choose");
    platform::twin::choose_files({{platform::FileOutcome::opened, result(1, false, 5)}});
    page.settle();
    page.settle();
    CHECK(page.app().teach().a_class().summary().attempts() == 1);
    CHECK(page.app().teach().review().review().sessions() == 25);
    // None chosen changes nothing.
    page.act("class.choose");
    platform::twin::choose_files({});
    page.settle();
    CHECK(page.app().teach().a_class().summary().attempts() == 1);
    page.app().cleared({});
    CHECK(page.app().teach().review().review().sessions() == 0);
}

TEST_CASE("practice cards of a rehearsal are printed from its line, and of a case from its number", "[review-screen]") {
    test::Page page(1280, 800, 1, test::at(13, 45));
    page.settle();
    page.tap("plan.sessions");
    page.act("front.more");
    page.act("more.rehearse");
    page.act("rehearse.1");
    page.act("rehearse.1.cards");
    const std::string first = page.shown().print_html;
    CHECK(first.find("PRACTICE, NOT FOR TRANSFUSION") != std::string::npos);
    CHECK(first.find("Practice cards, case 1001") != std::string::npos);
    CHECK(first.find("<svg") != std::string::npos);
    page.act("rehearse.enter_case");
    page.type("1007");
    page.act("rehearse.case.cards");
    CHECK(page.shown().print_html.find("Practice cards, case 1007") != std::string::npos);
    CHECK(page.shown().print_html != first);
}
