/// The protocol workshop on the twin: rules as a table, changed value by value, what that changes, and how they are kept.

#include "core/protocol/read.hpp"
#include "core/protocol/write.hpp"
#include "tests/web/one_screen.hpp"
#include "tests/web/ward.hpp"
#include "web/json_list.hpp"
#include "web/platform/store_twin.hpp"
#include "web/screens/workshop.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

using namespace hangtime;

namespace {

std::string text_of(const std::filesystem::path& file) {
    std::stringstream text;
    text << std::ifstream(file).rdbuf();
    return text.str();
}

std::vector<std::filesystem::path> files_of(const std::string& folder) {
    std::vector<std::filesystem::path> out;
    for (const auto& entry : std::filesystem::directory_iterator(test::root_folder() + "/demo-data/" + folder))
        if (entry.path().extension() == ".json")
            out.push_back(entry.path());
    std::sort(out.begin(), out.end());
    return out;
}

struct Screen {
    explicit Screen(int width = 1280, int height = 800)
        : protocols(all()), workshop(protocols), one(width, height, 1, [this](ui::Ui& ui, ui::Box box) {
              workshop.build(ui, box, test::at(13, 45), WallClock{});
          }) {
        platform::twin::reset(width, height, 1);
        std::vector<DemoCase> cases;
        for (const auto& file : files_of("transfusions"))
            cases.push_back({file.stem().string(), text_of(file)});
        workshop.tell_carried({}, std::move(cases));
        one.frame();
    }

    static std::vector<Protocol> all() {
        std::vector<Protocol> out;
        for (const auto& file : files_of("protocols")) {
            auto read = read_protocol(text_of(file));
            REQUIRE(read.ok());
            out.push_back(std::move(read.value()));
        }
        return out;
    }

    void act(std::string_view id) {
        one.wait(400);
        one.tap(id);
        one.frame();
    }
    void open(std::string_view id) {
        for (std::size_t i = 0; i < protocols.size(); ++i)
            if (protocols[i].id == id)
                act("workshop.page." + std::to_string(i));
        REQUIRE(workshop.edit());
    }
    // Unfolds the section with this title, which may have a count of what has changed behind it.
    void section(std::string_view title) {
        for (int i = 0; i < 30; ++i) {
            const std::string id = "section." + std::to_string(i);
            if (one.has(id) && one.label(id).substr(0, title.size()) == title) {
                if ((one.state(id) & ui::State::expanded) == 0)
                    act(id);
                return;
            }
        }
        FAIL("no section " << title);
    }
    void choose(std::string_view label) {
        for (int i = 0; i < 80; ++i) {
            const std::string id = "choice." + std::to_string(i);
            if (one.has(id) && one.label(id).substr(0, label.size()) == label) {
                act(id);
                return;
            }
        }
        FAIL("no choice " << label);
    }
    void type(std::string_view id, std::string_view keys) {
        act(id);
        one.wait(400);
        one.type(keys);
        one.wait(400);
        one.key(platform::Key::enter);
        one.wait(400);
        one.frame();
    }
    const Protocol& here() const { return workshop.edit()->protocol(); }
    platform::twin::Told& told() { return platform::twin::told(); }

    std::vector<Protocol> protocols;
    screens::Workshop workshop;
    test::OneScreen one;
};

const std::string hang = "rule.components.red_cells.limits[1]";

} // namespace

TEST_CASE("the workshop shows a ward's rules with their sources, all of them", "[workshop]") {
    Screen s;
    CHECK(s.one.label("title") == "Local rules");
    s.one.picture("workshop-choose-day");
    s.open("general-ward");
    CHECK(s.one.label("title") == "General ward, common practice");
    CHECK(s.one.label("workshop.rules").find("Revised " + s.here().revised) == 0);
    CHECK(s.one.label("workshop.rules").find("example, not adopted by a ward") != std::string::npos);
    s.section("Red cells");
    CHECK(s.one.label(hang) == "Hang by, counted from issue");
    CHECK(s.one.value(hang).find("30 min") == 0);
    CHECK(s.one.value(hang).find("common practice, no source") != std::string::npos);
    s.one.check_layout();
    s.one.picture("workshop-rules-day");

    // Every group of the file is in one of the sections.
    std::size_t rows = 0;
    for (int i = 0; s.one.has("section." + std::to_string(i)); ++i) {
        const std::string id = "section." + std::to_string(i);
        if ((s.one.state(id) & ui::State::expanded) == 0)
            s.act(id);
        for (const ui::Node& node : s.one.ui.nodes().now())
            rows += node.id.substr(0, 5) == "rule." ? 1 : 0;
    }
    CHECK(rows == s.workshop.edit()->groups().size());
    REQUIRE(s.workshop.document());
    CHECK(s.workshop.document()->title == "General ward, common practice");
}

TEST_CASE("a value is changed by keypad with its grade and source, and what it changes is shown", "[workshop]") {
    for (const bool wide : {true, false}) {
        Screen s(wide ? 1280 : 768, wide ? 800 : 1024);
        s.open("general-ward");
        s.section("Red cells");
        s.act("rule.components.red_cells.limits[2]");
        CHECK(s.one.label("group.name").find("all in by") != std::string::npos);
        CHECK(s.one.value("value.within_min") == "240 min");
        s.type("value.within_min", "180");
        CHECK(s.one.value("value.within_min") == "180 min");
        // Shorter than another rule allows: that rule is named, and what it would have to be.
        s.act("group.take");
        CHECK(s.one.label("group.refused").find("components.red_cells.usual_at_risk.most_min") != std::string::npos);
        s.type("value.within_min", "210");
        s.one.check_layout();
        s.one.picture(wide ? "workshop-form-day" : "workshop-form-768-day");
        // A published value needs a source: refused with the place, and nothing has changed.
        s.act("value.source");
        s.choose("No source");
        s.act("group.take");
        CHECK(s.one.label("group.refused").find("components.red_cells.limits[2].source is missing") != std::string::npos);
        CHECK(s.one.label("group.refused").find("Accepted: the key of one of the file's sources") != std::string::npos);
        CHECK(s.here() == s.protocols[1]);
        s.one.picture(wide ? "workshop-refused-day" : "workshop-refused-768-day");
        s.act("value.source");
        s.choose("The ward's own policy");
        s.act("group.take");
        CHECK_FALSE(s.one.has("group.take"));
        CHECK(s.here().rules(Component::red_cells).limits[2].within == minutes(210));
        const Basis& basis = s.here().rules(Component::red_cells).limits[2].basis;
        REQUIRE(basis.source != Basis::no_source);
        CHECK(s.here().sources[basis.source].title == "The ward's own policy");
        CHECK(s.one.value("rule.components.red_cells.limits[2]").find("changed here") != std::string::npos);
        CHECK(s.one.label("workshop.rules").find(wide ? "changes that are not kept yet" : "changed, not kept yet") !=
              std::string::npos);

        s.act("workshop.tab.changes");
        CHECK(s.one.label("changes.sum").find("of 12 cases come out differently") != std::string::npos);
        CHECK(s.one.all_text().find("Old: 14:00; New: 13:30") != std::string::npos);
        CHECK(s.one.label("changes.same").find("Platelets") != std::string::npos);
        s.one.picture(wide ? "workshop-changes-day" : "workshop-changes-768-day");
        s.one.set_night(true);
        s.one.frame();
        s.one.picture(wide ? "workshop-changes-night" : "workshop-changes-768-night");
        REQUIRE(s.workshop.document());
        CHECK(s.workshop.document()->title.find("What changes") == 0);

        s.act("workshop.tab.rules");
        s.one.picture(wide ? "workshop-rules-night" : "workshop-rules-768-night");
        s.act("workshop.undo");
        CHECK(s.here() == s.protocols[1]);
        s.act("workshop.tab.changes");
        CHECK(s.one.label("changes.sum").find("Nothing has been changed here yet") == 0);
    }
}

TEST_CASE("a number outside its bounds cannot be taken, and what would be accepted is said", "[workshop]") {
    Screen s;
    s.open("general-ward");
    s.section("Red cells");
    s.act(hang);
    s.act("value.within_min");
    s.one.wait(400);
    s.one.type("9999");
    s.one.frame();
    CHECK(s.one.value("value.within_min").find("a whole number from 1 to 7200") != std::string::npos);
    CHECK((s.one.state("group.take") & ui::State::disabled) != 0);
    s.one.key(platform::Key::escape);
    s.one.wait(400);
    s.one.frame();
    CHECK(s.one.value("value.within_min") == "30 min");
    s.act("group.back");
    CHECK_FALSE(s.one.has("group.take"));
}

TEST_CASE("an optional rule is added, its choices follow one another, and it is left out again", "[workshop]") {
    Screen s;
    s.open("general-ward");
    s.section("Plasma");
    const std::size_t n = s.here().rules(Component::plasma).limits.size();
    const std::string more = "rule.components.plasma.limits[" + std::to_string(n) + "]";
    CHECK(s.one.label(more) == "One more limit");
    s.act(more);
    s.act("group.take"); // the first that is missing opens
    s.choose("Start");
    s.choose("Spiked");
    s.one.type("20");
    s.one.wait(400);
    s.one.key(platform::Key::enter);
    s.one.wait(400);
    s.one.frame();
    s.choose("Common practice");
    s.act("group.take");
    REQUIRE(s.here().rules(Component::plasma).limits.size() == n + 1);
    CHECK(s.here().rules(Component::plasma).limits[n].from == Anchor::spiked);
    s.act(more);
    s.act("group.remove");
    CHECK(s.here() == s.protocols[1]);
}

TEST_CASE("rules are named and dated without free text, and kept as a file and as a page", "[workshop]") {
    Screen s;
    s.open("general-ward");
    s.section("Name and standing");
    s.act("rule.head");
    s.act("head.title");
    s.choose("Surgical ward");
    s.type("head.number", "12");
    s.type("head.revised", "20261125");
    s.act("head.adopted");
    s.choose("Adopted by the ward");
    s.act("group.take");
    CHECK(s.here().title == "Surgical ward 12");
    CHECK(s.here().id == "surgical-ward-12");
    CHECK(s.here().revised == "2026-11-25");
    CHECK(s.here().adopted);
    s.act("workshop.tab.keep");
    CHECK(s.one.label("keep.rules") == "Surgical ward 12, revised 2026-11-25");
    CHECK_FALSE(s.one.has("keep.name"));
    s.one.check_layout();
    s.one.picture("workshop-keep-day");
    s.act("keep.file");
    CHECK(s.told().file_name == "surgical-ward-12.json");
    const auto file = read_protocol(s.told().file_text);
    REQUIRE(file.ok());
    CHECK(file.value() == s.here());
    s.act("keep.page");
    CHECK(s.told().page_name == "hangtime-surgical-ward-12.html");
    const auto inside = elements_of(s.told().page_protocols);
    REQUIRE(inside.size() == 1);
    CHECK(read_protocol(inside[0]).value() == s.here());
}

TEST_CASE("a copy of a ward's page keeps the ward's other rules", "[workshop]") {
    Screen s;
    s.workshop.tell_examples(false);
    s.open("half-hour-checks");
    s.act("workshop.tab.keep");
    s.act("keep.page");
    const auto inside = elements_of(s.told().page_protocols);
    REQUIRE(inside.size() == s.protocols.size());
    CHECK(read_protocol(inside[0]).value().id == "half-hour-checks");
}

TEST_CASE("rules come from a file, and a broken one is refused with the place", "[workshop]") {
    Screen s;
    s.act("workshop.open");
    CHECK(s.told().pickers == 1);
    std::string text = write_protocol(s.protocols[1]);
    const std::size_t at = text.find("\"within_min\": 30");
    REQUIRE(at != std::string::npos);
    std::string broken = text;
    broken.replace(at, 16, "\"within_h\": 1");
    s.workshop.file_opened(platform::FileOutcome::opened, broken);
    s.one.frame();
    CHECK_FALSE(s.workshop.edit());
    CHECK(s.one.label("workshop.message").find("components.red_cells.limits[1].within_h") != std::string::npos);
    CHECK(s.one.label("workshop.message").find("within_min") != std::string::npos);
    s.one.picture("workshop-broken-day");
    s.workshop.file_opened(platform::FileOutcome::opened, text);
    s.one.frame();
    REQUIRE(s.workshop.edit());
    CHECK(s.here() == s.protocols[1]);
    // A second, broken file changes nothing of what is open.
    s.workshop.file_opened(platform::FileOutcome::opened, "{");
    s.one.frame();
    CHECK(s.here() == s.protocols[1]);
}

TEST_CASE("two wards are compared, and one card is printed for who floats", "[workshop]") {
    for (const bool wide : {true, false}) {
        Screen s(wide ? 1280 : 768, wide ? 800 : 1024);
        s.open("half-hour-checks");
        s.act("workshop.tab.differs");
        CHECK(s.one.label("differs.sum") == "Nothing differs: both say the same.");
        for (int i = 0; s.one.has("differs.other." + std::to_string(i)); ++i)
            if (s.one.label("differs.other." + std::to_string(i)).find("General ward") == 0)
                s.act("differs.other." + std::to_string(i));
        CHECK(s.one.label("differs.sum").find("rules are different here") != std::string::npos);
        s.one.check_layout();
        s.one.picture(wide ? "workshop-differs-day" : "workshop-differs-768-day");
        s.act("differs.card");
        CHECK(s.workshop.take_wishes().print);
        REQUIRE(s.workshop.document());
        CHECK(s.workshop.document()->title.find("What is different here: ") == 0);
        s.act("page.print");
        CHECK(s.workshop.document()->title.find("What differs: ") == 0);
    }
}

TEST_CASE("whose rules and of when stands at the foot of every screen", "[workshop]") {
    test::Page page;
    const std::string rules = "Rules: General ward, common practice, revised 2026-03 - example, not adopted by a ward";
    const auto foot = [&] {
        const ui::Node* node = page.find("page.rules");
        REQUIRE(node);
        CHECK_FALSE(node->clipped);
        CHECK(node->box.bottom() <= 801);
        return std::string(node->label);
    };
    CHECK(foot() == rules);
    page.act("plan.sessions");
    CHECK(foot().find("Rules of this page: ") == 0);
    CHECK(foot().find(", and 3 more") != std::string::npos);
    page.act("front.round");
    CHECK(foot().find("Rules: ") == 0);
    CHECK(foot().find("revised") != std::string::npos);
    page.act("round.back");
    page.act("front.more");
    CHECK(foot().find("Rules of this page") == 0);
    page.act("more.protocols");
    CHECK(page.label("title") == "Local rules");
    CHECK(foot().find("Rules of this page") == 0);
    page.act("workshop.page.1");
    CHECK(page.label("workshop.rules").find("Revised ") == 0);
    page.act("workshop.back");
    CHECK(page.label("title") == "More");
}

TEST_CASE("the examples are told by their number at the foot, and a session by the rules that it was begun under", "[workshop]") {
    platform::twin::reset(1280, 800, 1);
    platform::twin::set_protocols(test::shipped_protocols(), true);
    App app;
    platform::run(app);
    for (int i = 0; i < 6; ++i)
        app.frame();
    const ui::Node* node = app.ui().nodes().find("page.rules");
    REQUIRE(node);
    CHECK(node->label.find("revised 2026-03") != std::string_view::npos);

    test::Ward w;
    w.until_running();
    REQUIRE(w.find("page.rules"));
    CHECK(w.label("page.rules") == "Rules: General ward, common practice, revised 2026-03 - example, not adopted by a ward");
}
