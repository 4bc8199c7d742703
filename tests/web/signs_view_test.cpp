/// Observations on screen: what changed and by which rule, what could not be compared, the score beside it, and
/// slowing down with what no longer fits.

#include "tests/web/logged.hpp"
#include "tests/web/one_screen.hpp"
#include "web/screens/signs_view.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using screens::SignsView;
using test::at;
using test::Logged;
using test::OneScreen;
using test::unremarkable;

namespace {

struct Signs {
    explicit Signs(Logged& l, int width = 1280, int height = 800, float scale = 1)
        : logged(l), screen(width, height, scale, [this](ui::Ui& ui, ui::Box box) { build(ui, box); }) {}

    void build(ui::Ui& ui, ui::Box box) {
        const DayClock day = logged.day();
        const ui::Box in = ui.begin_scroll("body", box);
        ui.end_scroll(view.build(ui, {in.x, in.y, in.w - ui.px(12), 1e6f}, {logged.log, logged.live, day, may_note}));
    }

    Logged& logged;
    SignsView view;
    bool may_note = true;
    OneScreen screen;
};

Observation hot() {
    Observation o = unremarkable();
    o.temperature = tenths_c(384);
    o.pulse_per_min = 104;
    o.symptoms->add(Symptom::chills);
    return o;
}

Observation overloaded() {
    Observation o = unremarkable();
    o.respirations_per_min = 26;
    o.saturation_percent = 92;
    o.systolic_mmhg = 158;
    o.diastolic_mmhg = 84;
    o.lungs = Lungs::crackles;
    o.symptoms->add(Symptom::breathlessness);
    return o;
}

} // namespace

TEST_CASE("what changed stands with its figures, its rule and where that is from", "[signs_view]") {
    Logged l;
    l.observe(CheckKind::early, hot(), at(14, 15));
    Signs s(l);
    CHECK(s.screen.label("signs.hold").starts_with("Hold, and ask"));
    const std::string all = s.screen.all_text();
    CHECK(all.find("Fever: Temperature 38.4 \xC2\xB0" "C now, 36.8 \xC2\xB0" "C at baseline.") != std::string::npos);
    CHECK(all.find("New symptom: Chills, shivering.") != std::string::npos);
    CHECK(all.find("Rule: at least 38.0 \xC2\xB0" "C and up by at least 1.0 \xC2\xB0" "C, \"Fever by both limits") !=
          std::string::npos);
    CHECK(all.find("published: ") != std::string::npos);
    CHECK(all.find("Any new symptom is enough to stop") != std::string::npos);
    CHECK(all.find("Early-warning score (NEWS2): 2; Pulse 1, Temperature 1.") != std::string::npos);
    CHECK(all.find("was not made to find reactions to a transfusion") != std::string::npos);
    s.screen.tap("signs.suspect");
    const auto wish = s.view.take_wish();
    REQUIRE(wish);
    CHECK(wish->kind == EventKind::reaction_suspected);
    CHECK_FALSE(s.view.take_wish());
}

TEST_CASE("nothing is ever said to be no reaction, and what is missing is named", "[signs_view]") {
    Logged l;
    Observation part = unremarkable();
    part.pulse_per_min.reset();
    part.symptoms.reset();
    l.observe(CheckKind::early, part, at(14, 15));
    Signs s(l);
    CHECK_FALSE(s.screen.has("signs.hold"));
    CHECK_FALSE(s.screen.has("signs.prompt.0"));
    CHECK(s.screen.label("signs.missing").find("Pulse (now)") != std::string::npos);
    CHECK(s.screen.label("signs.missing").find("Symptoms (now)") != std::string::npos);
    CHECK(s.screen.label("signs.any_symptom").find("not ruled out") != std::string::npos);
    CHECK(s.screen.label("trend.pulse").find("not recorded last") != std::string::npos);
    std::string all = s.screen.all_text();
    for (char& c : all)
        c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    for (const char* never : {"no reaction", "normal", "all clear", "no change"})
        CHECK(all.find(never) == std::string::npos);
    CHECK(s.screen.label("set.0.score").starts_with("Early-warning score (NEWS2): at least 0. Not every part is "
                                                    "recorded: the score is at least this. Missing: "));
    CHECK(s.screen.label("set.0.score").find("chart asks") == std::string::npos); // and not how seldom to look
}

TEST_CASE("a baseline that is not as usual is said before the start", "[signs_view]") {
    Logged l("general-ward", false);
    Observation warm = unremarkable();
    warm.temperature = tenths_c(391);
    l.observe(CheckKind::baseline, warm, at(13, 50));
    Signs s(l);
    CHECK(s.screen.label("signs.hold").find("ask before the start") != std::string::npos);
    CHECK(s.screen.label("signs.before.0").find("Fever before the start") != std::string::npos);
    CHECK_FALSE(s.screen.has("signs.suspect")); // nothing has been given
    s.screen.picture("signs-before");
}

TEST_CASE("signs of overload offer to slow down, and what no longer fits is said at once", "[signs_view]") {
    Logged l;
    l.add(EventKind::rate_set, facts::RateSet{ml_per_h(120), false, Role::prescriber}, at(14, 20));
    l.observe(CheckKind::interval, overloaded(), at(15, 0));
    Signs s(l);
    CHECK(s.screen.label("signs.overload").find("a prompt, not a diagnosis") != std::string::npos);
    CHECK(s.screen.label("signs.overload").find("50 % of the rate that runs") != std::string::npos);
    CHECK(s.screen.label("signs.slow") == "Slow down: 60 mL/h at most for the rest");
    s.screen.picture("signs-overload");
    s.screen.tap("signs.slow");
    const auto wish = s.view.take_wish();
    REQUIRE(wish);
    REQUIRE(wish->kind == EventKind::ceiling_lowered);
    l.add(wish->kind, wish->facts, at(15, 2));
    s.screen.frame();
    CHECK(l.log.session().state.run.rate_in_force() == ml_per_h(60));
    // 300 mL, 13:45 issued: at 50 for 20 min and 120 for 42 min there are 199 mL left, which 60 mL/h cannot move in time.
    CHECK(s.screen.label("signs.slowed").find("the rest runs at 60 mL/h at most. Does not fit.") != std::string::npos);
    CHECK(s.screen.label("signs.slowed").find("would be left") != std::string::npos);
    CHECK_FALSE(s.screen.has("signs.slow")); // these signs have been answered
    s.screen.picture("signs-slowed");
    // The next set that shows them offers it again.
    l.observe(CheckKind::interval, overloaded(), at(15, 10));
    s.screen.frame();
    CHECK(s.screen.label("signs.slow") == "Slow down: 30 mL/h at most for the rest");
}

TEST_CASE("a session that can only be read offers nothing to press", "[signs_view]") {
    Logged l;
    l.observe(CheckKind::early, overloaded(), at(14, 15));
    Signs s(l);
    s.may_note = false;
    s.screen.frame();
    CHECK_FALSE(s.screen.has("signs.suspect"));
    CHECK((s.screen.state("signs.slow") & ui::State::disabled) != 0);
}

TEST_CASE("without a baseline nothing is compared, and it says so", "[signs_view]") {
    Logged l("general-ward", false);
    facts::Issued issued;
    issued.component = Component::red_cells;
    issued.bag = ml(300);
    l.add(EventKind::issued, issued, at(13, 45));
    l.add(EventKind::spiked, std::monostate{}, at(13, 55));
    l.add(EventKind::started, facts::RateSet{ml_per_h(50), false, {}}, at(14, 0));
    l.observe(CheckKind::early, hot(), at(14, 15));
    Signs s(l);
    CHECK(s.screen.label("signs.no_baseline").find("nothing can be compared") != std::string::npos);
    CHECK(s.screen.has("signs.any_symptom"));
}

TEST_CASE("the signs fit a phone, a tablet and a desk", "[signs_view]") {
    struct Size {
        int width, height;
        float scale;
        bool night;
    };
    for (const Size& z : {Size{390, 844, 1, false}, {768, 1024, 1, false}, {1280, 800, 1, false}, {1280, 800, 1, true},
                          {2048, 1536, 2, false}}) {
        Logged l;
        Observation some = unremarkable();
        some.pulse_per_min = 84;
        l.observe(CheckKind::early, some, at(14, 15));
        l.add(EventKind::rate_set, facts::RateSet{ml_per_h(100), false, {}}, at(14, 16));
        some.temperature = tenths_c(372);
        some.saturation_percent.reset();
        l.observe(CheckKind::interval, some, at(15, 0));
        l.observe(CheckKind::interval, hot(), at(15, 30));
        Signs s(l, z.width, z.height, z.scale);
        s.screen.set_night(z.night);
        s.screen.frame();
        INFO(z.width);
        s.screen.check_layout();
        s.screen.picture("signs-" + std::to_string(z.width) + (z.night ? "-night" : ""));
    }
}

TEST_CASE("the rules for a change are named with their source, and a choice leaves what was judged as it is", "[signs_view]") {
    Logged l;
    Observation warmer = unremarkable();
    warmer.temperature = tenths_c(379); // up by 1.1 and below 38.0: one of two limits
    l.observe(CheckKind::early, warmer, at(14, 15));
    Signs s(l);
    CHECK(s.screen.value("signs.rules") == "Fever by both limits, a fall of pressure by two limbs");
    CHECK(s.screen.label("signs.rules.from").starts_with("The first set of these rules. Limits from: "));
    CHECK_FALSE(s.screen.has("signs.hold"));
    s.screen.tap("signs.rules");
    const auto wish = s.view.take_wish();
    REQUIRE(wish);
    CHECK(wish->kind == EventKind::rule_set_chosen);
    // By either limit it is a fever: it is said of the same set, and named apart.
    l.add(EventKind::rule_set_chosen, facts::RuleSetChosen{"either-limit"}, at(14, 20));
    s.screen.frame();
    CHECK(s.screen.value("signs.rules") == "Fever by either limit, severe from 1.5 degrees");
    CHECK(s.screen.label("signs.rules.from").starts_with("Chosen at 14:20. Limits from: "));
    CHECK(s.screen.label("signs.hold").starts_with("Hold, and ask"));
    CHECK(s.screen.has("signs.anew"));
    CHECK(s.screen.all_text().find("Judged by \"Fever by both limits, a fall of pressure by two limbs\", as it was in force then.") !=
          std::string::npos);
    s.screen.picture("signs-rules");
    // A set after it is judged by the new rules alone, and stays so under the old ones.
    l.observe(CheckKind::interval, warmer, at(14, 30));
    s.screen.frame();
    CHECK_FALSE(s.screen.has("signs.anew"));
    CHECK(s.screen.all_text().find("\"Fever by either limit, severe from 1.5 degrees\"") != std::string::npos);
    l.add(EventKind::rule_set_chosen, facts::RuleSetChosen{"both-limbs"}, at(14, 40));
    s.screen.frame();
    CHECK(s.screen.label("signs.hold").starts_with("Hold, and ask"));
    CHECK(s.screen.all_text().find("Rule: at least 38.0 \xC2\xB0" "C or up by at least 1.0") != std::string::npos);
}
