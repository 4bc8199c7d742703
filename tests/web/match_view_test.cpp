/// The match on screen, from plain values: what it says and what a touch wishes.

#include "core/protocol/read.hpp"
#include "tests/web/harness.hpp"
#include "web/render/renderer.hpp"
#include "web/screens/match_view.hpp"

#include <catch2/catch_test_macros.hpp>

#include <cstdlib>
#include <fstream>
#include <sstream>

using namespace hangtime;
using test::at;

namespace {

MatchRules rules_of_protocol(const std::string& name) {
    std::stringstream text;
    text << std::ifstream(test::root_folder() + "/demo-data/protocols/" + name + ".json").rdbuf();
    const Result<Protocol> read = read_protocol(text.str());
    REQUIRE(read.ok());
    REQUIRE(read.value().match.has_value());
    return *read.value().match;
}

// One screen by itself, without the page around it.
class OneScreen {
public:
    explicit OneScreen(const std::string& protocol, int width = 1280, int height = 800, float scale = 1)
        : rules(rules_of_protocol(protocol)), script(match_script(rules, true)) {
        surface_.width = width;
        surface_.height = height;
        surface_.scale = scale;
        frame();
    }

    void frame() {
        shown_.rules = rules_known ? &rules : nullptr;
        shown_.script = &script;
        shown_.state = &state;
        shown_.standing = standing_at(state, rules, now, std::nullopt);
        shown_.component = component;
        shown_.unit = unit ? &*unit : nullptr;
        shown_.compatibility = compatibility ? &*compatibility : nullptr;
        shown_.day = &day;
        if (ui_.fit(surface_)) {
            const ui::Ui::Atlas atlas = ui_.atlas();
            renderer_.set_atlas(atlas.alpha, atlas.width, atlas.height);
        }
        bool more = true;
        while (more) {
            more = ui_.feed();
            build();
        }
        test::take_items();
        build();
        for (const std::uint32_t item : test::without_node(test::take_items(), ui_.nodes())) {
            INFO("interactive item " << item << " has no node");
            CHECK(item == 0);
        }
    }

    void tap(std::string_view id) {
        const ui::Node* node = ui_.nodes().find(id);
        INFO("node " << id);
        REQUIRE(node != nullptr);
        REQUIRE(!node->clipped);
        CHECK(node->box.h >= 44 * surface_.scale);
        platform::Event e;
        e.kind = platform::Event::Kind::press;
        e.pointer = platform::Pointer::touch;
        e.x = node->box.x + node->box.w / 2;
        e.y = node->box.y + node->box.h / 2;
        ui_.input(e);
        e.kind = platform::Event::Kind::release;
        ui_.input(e);
        frame();
    }

    // Does what the owner of the log will do.
    MatchRefusal take(Instant when) {
        const auto wish = view_.take_wish();
        REQUIRE(wish.has_value());
        const Advanced next = advance(state, script, {wish->outcome, wish->step, when});
        state = next.state;
        now = when;
        frame();
        return next.refusal;
    }

    std::string label(std::string_view id) const {
        const ui::Node* node = ui_.nodes().find(id);
        return node == nullptr ? "" : std::string(node->label);
    }
    std::string value(std::string_view id) const {
        const ui::Node* node = ui_.nodes().find(id);
        return node == nullptr ? "" : std::string(node->value);
    }
    bool has(std::string_view id) const { return ui_.nodes().find(id) != nullptr; }
    ui::Box box(std::string_view id) const {
        const ui::Node* node = ui_.nodes().find(id);
        return node == nullptr ? ui::Box{} : node->box;
    }
    bool wishes() { return view_.take_wish().has_value(); }
    bool anything_to_type() const {
        for (const ui::Node& node : ui_.nodes().now())
            if (node.role == ui::Role::field)
                return true;
        return false;
    }

    void picture(const std::string& name) {
        const char* folder = std::getenv("HANGTIME_PICTURES");
        if (folder == nullptr)
            return;
        renderer_.draw(*ui_.draw_data(), surface_.width, surface_.height, ui_.palette().ground);
        test::write_png(std::string(folder) + "/match-" + name + ".png", renderer_.pixels(), surface_.width,
                        surface_.height);
    }

    MatchRules rules;
    MatchScript script;
    MatchState state;
    bool rules_known = true;
    Instant now = at(13, 45);
    Component component = Component::red_cells;
    std::optional<UnitComparison> unit;
    std::optional<Compatibility> compatibility;
    DayClock day{WallClock(Seconds{0}), at(13, 45)};

private:
    void build() {
        ui_.begin();
        ui::Box box = ui_.screen().inset(ui_.px(24));
        const ui::Box foot = box.cut_bottom(screens::MatchView::foot_height(ui_, box.w), ui_.px(12));
        view_.build(ui_, box, foot, shown_);
        ui_.end();
    }

    platform::Surface surface_;
    ui::Ui ui_;
    render::Renderer renderer_;
    screens::MatchView view_;
    screens::MatchView::Shown shown_;
};

UnitData unit_data(std::initializer_list<const char*> scans) {
    UnitData out;
    for (const char* scan : scans)
        REQUIRE(add_scan(out, read_scan(scan).data));
    return out;
}

Compatibility judged(const MatchRules& rules, Abo recipient, Abo unit) {
    RecipientFacts r;
    r.abo = recipient;
    r.rhd = Rhd::positive;
    r.infant = r.transplant = r.child = r.rhd_listed = Answer::no;
    r.required = RequirementSet{};
    r.required->add(Requirement::irradiated);
    UnitFacts u{Component::red_cells, label_group(unit, Rhd::positive), Answer::no, RequirementSet{}};
    u.stated->add(Requirement::irradiated);
    return judge_compatibility(&rules.compatibility, r, u);
}

} // namespace

TEST_CASE("the match goes step by step, and nothing is typed", "[match]") {
    OneScreen stage("general-ward");
    for (std::size_t i = 0; i < stage.script.size(); ++i) {
        CHECK(stage.label("match.count") ==
              "Step " + std::to_string(i + 1) + " of " + std::to_string(stage.script.size()));
        CHECK_FALSE(stage.label("match.step").empty());
        CHECK_FALSE(stage.anything_to_type());
        if (i == 1)
            stage.picture("step");
        if (i + 1 == stage.script.size())
            stage.picture("look");
        stage.tap("match.same");
        CHECK(stage.take(at(13, 46, static_cast<int>(i))) == MatchRefusal::none);
    }
    CHECK(stage.label("match.standing") == "Matched All of it is the same. Hang the bag now and stay at the "
                                           "bedside. It counts until 13:56:21.");
    CHECK_FALSE(stage.has("match.same"));
    CHECK_FALSE(stage.wishes());
    stage.picture("matched");
    stage.tap("match.interrupted"); // somebody leaves: all of it again
    stage.take(at(13, 50));
    CHECK(stage.label("match.standing").starts_with("Interrupted"));
    CHECK(stage.label("match.count").starts_with("Step 1 of"));
}

TEST_CASE("each button of the match stays in its place whatever the step says", "[match]") {
    struct Size {
        int width, height;
    };
    for (const Size& s : {Size{360, 640}, {390, 844}, {768, 1024}, {1280, 800}}) {
        OneScreen stage("general-ward", s.width, s.height);
        const ui::Box same = stage.box("match.same"), differs = stage.box("match.differs"),
                      interrupted = stage.box("match.interrupted");
        const auto apart = [](const ui::Box& a, const ui::Box& b) {
            return a.right() + 8 <= b.x || b.right() + 8 <= a.x || a.bottom() + 8 <= b.y || b.bottom() + 8 <= a.y;
        };
        CHECK(apart(same, differs));
        CHECK(apart(same, interrupted));
        CHECK(apart(differs, interrupted));
        for (std::size_t i = 0; i < stage.script.size(); ++i) {
            const auto at_its_place = [&](std::string_view id, const ui::Box& was) {
                const ui::Box now = stage.box(id);
                INFO(s.width << ", step " << i << ", " << id);
                CHECK(now.x == was.x);
                CHECK(now.y == was.y);
                CHECK(now.w == was.w);
                CHECK(now.h == was.h);
            };
            at_its_place("match.same", same);
            at_its_place("match.differs", differs);
            at_its_place("match.interrupted", interrupted);
            stage.tap("match.same");
            REQUIRE(stage.take(at(13, 46, static_cast<int>(i))) == MatchRefusal::none);
        }
    }
}

TEST_CASE("a difference closes the unit on screen", "[match]") {
    OneScreen stage("removal-clock");
    stage.tap("match.same");
    stage.take(at(13, 46));
    stage.tap("match.differs");
    stage.take(at(13, 47));
    CHECK(stage.state.standing == MatchStanding::differed);
    CHECK(stage.label("match.standing").find("Do not give this unit.") != std::string::npos);
    for (const char* id : {"match.same", "match.differs", "match.interrupted", "match.again"})
        CHECK_FALSE(stage.has(id));
    stage.picture("differed");
}

TEST_CASE("a match that got too old is begun again", "[match]") {
    OneScreen stage("half-hour-checks");
    stage.tap("match.same");
    stage.take(at(13, 46));
    stage.now = at(14, 1);
    stage.frame();
    CHECK(stage.has("match.same")); // fifteen minutes are still inside
    stage.now = at(14, 1, 1);
    stage.frame();
    CHECK(stage.label("match.standing").starts_with("Too old"));
    CHECK_FALSE(stage.has("match.same"));
    stage.tap("match.again");
    stage.take(at(14, 2));
    CHECK(stage.label("match.count").starts_with("Step 1 of"));
}

TEST_CASE("bag and tag stand side by side, and the character that differs is named", "[match]") {
    OneScreen stage("general-ward");
    const UnitData bag = unit_data({"=A99992112345663", "=<E4306V00", "=%6200", "&>0260731340"});
    const UnitData tag = unit_data({"=A99991712345669", "=<E4306V00", "&>0260731240"});
    stage.unit = compare_unit(bag, tag);
    stage.compatibility = judged(stage.rules, Abo::o, Abo::a);
    stage.frame();
    CHECK(stage.label("unit.field.0") == "Donation number");
    CHECK(stage.value("unit.field.0") == "differs at characters 6 and 7: bag 2 1, tag 1 7");
    CHECK(stage.value("unit.field.1") == "the same");
    CHECK(stage.value("unit.field.2") == "cannot tell: the tag is not read");
    CHECK(stage.value("unit.field.3") == "differs at character 13: bag 3, tag 2");
    CHECK(stage.label("unit.verdict").starts_with("Bag and tag differ"));
    CHECK(stage.has("unit.confirm_expiry"));
    stage.picture("differences");

    // Nothing leads on from there but closing the unit.
    CHECK_FALSE(stage.has("match.same"));
    CHECK(stage.label("match.stopped").starts_with("Do not give this unit."));

    stage.unit = compare_unit(bag, bag);
    stage.frame();
    CHECK(stage.value("unit.field.0") == "the same");
    CHECK_FALSE(stage.has("unit.verdict"));
    CHECK_FALSE(stage.has("match.same")); // the groups still clash
    stage.compatibility = judged(stage.rules, Abo::a, Abo::o);
    stage.frame();
    CHECK(stage.has("match.same"));
    stage.unit = compare_unit(bag, tag);
    stage.frame();
    stage.tap("match.differs");
    stage.take(at(13, 47));
    CHECK(stage.state.standing == MatchStanding::differed);
}

TEST_CASE("the answer about groups is said with its reason", "[match]") {
    OneScreen stage("general-ward");
    stage.compatibility = judged(stage.rules, Abo::o, Abo::a);
    stage.frame();
    CHECK(stage.label("compatible.verdict") ==
          "Not compatible The recipient has antibodies against these red cells. Do not give this unit.");
    stage.compatibility = judged(stage.rules, Abo::a, Abo::o);
    stage.frame();
    CHECK(stage.label("compatible.verdict") == "Compatible Another group, and it fits.");
    CHECK(stage.label("compatible.requirement.0") == "Irradiated: on the label.");
    stage.compatibility = judge_compatibility(nullptr, {}, {});
    stage.frame();
    CHECK(stage.label("compatible.verdict").starts_with("Cannot tell: do not hang it yet"));
}

TEST_CASE("rules that say nothing about the match leave it to the ward's policy", "[match]") {
    OneScreen stage("general-ward");
    stage.rules_known = false;
    stage.frame();
    CHECK(stage.label("match.no_rules").find("Follow your own policy") != std::string::npos);
    CHECK_FALSE(stage.has("match.same"));
}

TEST_CASE("the match fits a phone and a tablet: buttons first, no letter cut off", "[match]") {
    struct Size {
        int width, height;
        float scale;
    };
    for (const Size& s : {Size{390, 844, 1}, {768, 1024, 1}, {1280, 800, 1}, {2048, 1536, 2}}) {
        OneScreen stage("general-ward", s.width, s.height, s.scale);
        const UnitData bag = unit_data({"=A99992112345663", "=<E4306V00", "=%6200", "&>0260731340"});
        stage.unit = compare_unit(bag, bag);
        stage.compatibility = judged(stage.rules, Abo::a, Abo::a);
        stage.frame();
        stage.tap("match.same"); // is in sight without scrolling
        CHECK(stage.wishes());
        stage.picture(std::to_string(s.width));
    }
}
