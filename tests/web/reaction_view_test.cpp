/// A suspected reaction on screen: one press, the list in any order with its times, what the call needs, and whether it
/// may go on.

#include "tests/web/logged.hpp"
#include "tests/web/one_screen.hpp"
#include "web/screens/reaction_view.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using platform::Key;
using screens::ReactionView;
using test::at;
using test::Logged;
using test::OneScreen;
using test::unremarkable;

namespace {

struct Reaction {
    explicit Reaction(Logged& l, int width = 1280, int height = 800, float scale = 1)
        : logged(l), screen(width, height, scale, [this](ui::Ui& ui, ui::Box box) { build(ui, box); }) {}

    void build(ui::Ui& ui, ui::Box box) {
        if (ui.take_scan_leak())
            view.scan_leaked(logged.wall);
        const DayClock day = logged.day();
        const ui::Box in = ui.begin_scroll("body", box);
        ui.end_scroll(view.build(ui, {in.x, in.y, in.w - ui.px(12), 1e6f},
                                 {logged.log, logged.live, logged.now, logged.wall, day, may_note}));
    }

    // Does what the owner of the log will do.
    std::optional<Refusal> take() {
        const auto wish = view.take_wish();
        REQUIRE(wish.has_value());
        REQUIRE(wish->kind == ReactionView::Wish::Kind::note);
        Event e;
        e.kind = wish->event;
        e.facts = wish->facts;
        e.at = {wish->at.value_or(logged.now), wish->at ? Precision::minute : Precision::second};
        e.noted = logged.now;
        e.replaces = wish->replaces;
        auto refused = refuses(logged.log, e, logged.now);
        if (!refused)
            refused = logged.log.append(e, logged.now);
        logged.reckon_at(logged.now);
        screen.frame();
        return refused;
    }
    void go_to(Instant when) {
        logged.reckon_at(when);
        screen.frame();
    }

    Logged& logged;
    ReactionView view;
    bool may_note = true;
    OneScreen screen;
};

Observation itching() {
    Observation o = unremarkable();
    o.symptoms->add(Symptom::itching);
    return o;
}

Observation hot() {
    Observation o = unremarkable();
    o.temperature = tenths_c(391);
    o.systolic_mmhg = 78;
    o.diastolic_mmhg = 44;
    o.symptoms->add(Symptom::rigors);
    return o;
}

} // namespace

TEST_CASE("one press stops the clock of delivery and shows what to do, stop first", "[reaction_view]") {
    Logged l;
    l.reckon_at(at(14, 38));
    Reaction r(l);
    CHECK_FALSE(r.screen.has("action.stop"));
    r.screen.tap("reaction.suspect");
    REQUIRE_FALSE(r.take());
    CHECK(l.log.session().reaction == at(14, 38));
    CHECK(l.log.session().phase == Phase::paused);
    CHECK(r.screen.label("reaction.stopped").starts_with("Stopped at 14:38 Stop first, and clamp at the patient."));
    // The order of the protocol, the stop first and done.
    std::vector<std::string> order;
    for (const ui::Node& n : r.screen.ui.nodes().now())
        if (n.id.starts_with("action.") && n.role == ui::Role::choice)
            order.emplace_back(n.id.substr(7));
    CHECK(order == std::vector<std::string>{"stop", "observe", "new_set_saline", "identity", "call_clinician",
                                            "call_blood_bank", "samples", "urine", "keep_bag", "report"});
    CHECK((r.screen.state("action.stop") & ui::State::chosen) != 0);
    CHECK(r.screen.value("action.stop") == "14:38");
    // What the call needs: 38 min at 50 mL/h.
    CHECK(r.screen.label("call.minutes") == "Stopped 38 min after the start (14:00).");
    CHECK(r.screen.label("call.given").starts_with("Given until then: 31.7 mL of 300 mL."));
    CHECK(r.screen.label("call.bag") == "Red cells; the donation number ends in 5663.");
    CHECK(r.screen.label("call.changed") == "No set of observations since the start: none of it is known.");
    CHECK(r.screen.label("reaction.next").starts_with("Next observations: now, then every 15 min (published: "));
    // The volume stands still from then on.
    r.go_to(at(15, 20));
    CHECK(r.screen.label("call.given").starts_with("Given until then: 31.7 mL of 300 mL."));
}

TEST_CASE("actions are ticked in any order, and each time can be put right", "[reaction_view]") {
    Logged l;
    l.reckon_at(at(14, 38));
    Reaction r(l);
    r.screen.tap("reaction.suspect");
    REQUIRE_FALSE(r.take());
    r.go_to(at(14, 41));
    r.screen.tap("action.call_clinician");
    REQUIRE_FALSE(r.take());
    CHECK(r.screen.value("action.call_clinician") == "14:41");
    r.go_to(at(14, 43));
    r.screen.tap("action.new_set_saline");
    REQUIRE_FALSE(r.take());
    CHECK(l.log.session().actions.size() == 3);

    // The call was earlier.
    r.screen.tap("action.call_clinician");
    CHECK_FALSE(r.view.take_wish()); // it only opens
    r.screen.tap("action.time");
    r.screen.type("1439");
    r.screen.tap("key.done");
    REQUIRE_FALSE(r.take());
    CHECK(r.screen.value("action.call_clinician") == "14:39");

    // The saline was not run after all.
    r.screen.tap("action.new_set_saline");
    r.screen.tap("action.undo");
    REQUIRE_FALSE(r.take());
    CHECK(r.screen.value("action.new_set_saline").empty());
    CHECK(l.log.session().actions.size() == 2);

    // The stop was two minutes earlier: less was given.
    r.screen.tap("action.stop");
    r.screen.tap("action.time");
    r.screen.type("1436");
    r.screen.key(Key::enter);
    REQUIRE_FALSE(r.take());
    CHECK(l.log.session().reaction == at(14, 36));
    CHECK(r.screen.value("action.stop") == "14:36");
    CHECK(r.screen.value("action.call_clinician") == "14:39"); // kept
    CHECK(r.screen.label("call.given").starts_with("Given until then: 30 mL of 300 mL."));
    r.screen.check_layout();
}

TEST_CASE("a stop that was earlier than the press is entered with its time", "[reaction_view]") {
    Logged l;
    l.reckon_at(at(14, 38));
    Reaction r(l);
    r.screen.tap("reaction.earlier");
    r.screen.check_layout();
    r.screen.type("1450"); // lies ahead
    r.screen.tap("key.done");
    CHECK_FALSE(r.view.take_wish());
    CHECK(r.screen.has("time.refused"));
    r.screen.tap("key.clear");
    r.screen.type("1430");
    r.screen.scan("=A99992112345663"); // a scanner leaves nothing in it
    CHECK_FALSE(r.view.take_wish());
    r.screen.tap("key.clear");
    r.screen.type("1430");
    r.screen.tap("key.done");
    REQUIRE_FALSE(r.take());
    CHECK(l.log.session().reaction == at(14, 30));
}

TEST_CASE("the signs that changed and the questions of the case definitions stand beside the list", "[reaction_view]") {
    Logged l;
    l.observe(CheckKind::early, hot(), at(14, 15));
    l.add(EventKind::reaction_suspected, std::monostate{}, at(14, 17));
    Reaction r(l);
    const std::string all = r.screen.all_text();
    CHECK(all.find("Fever: Temperature 39.1 \xC2\xB0" "C now, 36.8 \xC2\xB0" "C at baseline.") != std::string::npos);
    CHECK(all.find("Fall of blood pressure: Systolic pressure 78 mmHg now, 124 mmHg at baseline") != std::string::npos);
    CHECK(all.find("New symptom: Rigors") != std::string::npos);
    REQUIRE(r.screen.has("question.0"));
    for (const ui::Node& n : r.screen.ui.nodes().now())
        if (n.id.starts_with("question."))
            CHECK(n.label.ends_with("?"));
    // The interval is the one of a reaction, from the last set after the stop.
    CHECK(r.screen.label("reaction.next").starts_with("Next observations: now"));
    l.observe(CheckKind::interval, hot(), at(14, 20));
    r.screen.frame();
    CHECK(r.screen.label("reaction.next").starts_with("Next observations: 14:35, then every 15 min"));
}

TEST_CASE("it goes on only where the rules call it mild, on a word, with the identity checked, inside the limits",
          "[reaction_view]") {
    Logged l;
    l.add(EventKind::reaction_suspected, std::monostate{}, at(14, 38));
    Reaction r(l);
    // Nothing was observed since: it cannot be told.
    CHECK(r.screen.label("restart.answer").starts_with("Do not restart: what has to be known"));
    CHECK_FALSE(r.screen.has("restart.go"));
    l.observe(CheckKind::interval, itching(), at(14, 40));
    r.screen.frame();
    CHECK(r.screen.label("restart.bar.0") == "Identity has not been checked again.");
    r.screen.tap("identity.agrees");
    REQUIRE_FALSE(r.take());
    CHECK(l.log.session().identity_agrees == true);
    CHECK(r.screen.value("action.identity") == "14:40, all agree");
    CHECK(r.screen.label("restart.wait").starts_with("Not before: 15:08"));
    CHECK_FALSE(r.screen.has("restart.go"));
    r.go_to(at(15, 8));
    REQUIRE(r.screen.has("restart.go"));
    CHECK((r.screen.state("restart.go") & ui::State::disabled) != 0);
    r.screen.tap("restart.role.0");
    r.screen.tap("restart.rate");
    r.screen.check_layout();
    r.screen.type("999");
    CHECK(r.screen.label("restart.rate.problem").starts_with("Not taken: "));
    r.screen.tap("key.clear");
    r.screen.type("60");
    r.screen.tap("key.done");
    r.screen.picture("reaction-restart");
    r.screen.tap("restart.go");
    REQUIRE_FALSE(r.take());
    CHECK(l.log.session().phase == Phase::running);
    CHECK(l.log.session().state.run.rate_in_force() == ml_per_h(60));
    CHECK(l.log.session().identity_agrees == true);
    CHECK_FALSE(r.screen.has("restart.go"));
}

TEST_CASE("what is not mild does not go on, and an identity that differs never does", "[reaction_view]") {
    Logged l;
    l.add(EventKind::reaction_suspected, std::monostate{}, at(14, 38));
    l.observe(CheckKind::interval, hot(), at(14, 40));
    l.observe(CheckKind::interval, unremarkable(), at(14, 55)); // better since: what was seen stays seen
    l.reckon_at(at(15, 30));
    Reaction r(l);
    CHECK(r.screen.label("restart.answer") == "Do not restart this bag.");
    const std::string all = r.screen.all_text();
    CHECK(all.find("Blood pressure has fallen.") != std::string::npos);
    CHECK_FALSE(r.screen.has("restart.go"));
    r.screen.tap("reaction.stop_for_good");
    REQUIRE_FALSE(r.take());
    CHECK(l.log.session().phase == Phase::ended);
    CHECK(r.screen.label("reaction.keep").find("Keep the bag until 15:30 day +1") != std::string::npos);

    Logged m;
    m.add(EventKind::reaction_suspected, std::monostate{}, at(14, 38));
    m.observe(CheckKind::interval, itching(), at(14, 40));
    m.reckon_at(at(15, 30));
    Reaction d(m);
    d.screen.tap("identity.differs");
    REQUIRE_FALSE(d.take());
    CHECK(d.screen.value("action.identity") == "15:30, something differs");
    CHECK(d.screen.label("identity.stop").find("Tell the blood bank at once") != std::string::npos);
    CHECK(d.screen.label("restart.answer") == "Do not restart this bag.");
    CHECK_FALSE(d.screen.has("restart.go"));

    // Where the rules never restart, nothing is offered.
    Logged c("children-by-weight");
    c.add(EventKind::reaction_suspected, std::monostate{}, at(14, 38));
    c.observe(CheckKind::interval, itching(), at(14, 40));
    c.reckon_at(at(15, 30));
    Reaction never(c);
    CHECK(never.screen.label("restart.bar.0") == "These rules never restart a bag after a reaction.");
    CHECK_FALSE(never.screen.has("restart.go"));
}

TEST_CASE("a restart by gravity is entered in drops a minute", "[reaction_view]") {
    Logged l;
    facts::EquipmentChosen drip;
    drip.device.kind = DeviceKind::gravity;
    drip.device.drops = {20};
    l.add(EventKind::equipment_chosen, drip, at(14, 10));
    l.add(EventKind::reaction_suspected, std::monostate{}, at(14, 38));
    l.observe(CheckKind::interval, itching(), at(14, 40));
    l.add(EventKind::action_done, facts::ActionTicked{ActionKind::identity, true}, at(14, 41));
    l.reckon_at(at(15, 10));
    Reaction r(l);
    r.screen.tap("restart.role.0");
    r.screen.tap("restart.rate");
    r.screen.type("17");
    CHECK(r.screen.value("restart.rate").find("drops/min") != std::string::npos);
    CHECK(r.screen.label("restart.limits").starts_with("17 drops/min are 51 mL/h at 20 drops/mL.")); // 17 x 60 / 20
    r.screen.tap("key.done");
    r.screen.tap("restart.go");
    REQUIRE_FALSE(r.take());
    CHECK(l.log.session().state.run.rate_in_force() == drops_per_min(17, DropFactor{20}));
    CHECK(l.log.session().state.run.rate_in_force() == ml_per_h(51));
}

TEST_CASE("the check of identity is done with what it gave, and can be put right", "[reaction_view]") {
    Logged l;
    l.add(EventKind::reaction_suspected, std::monostate{}, at(14, 38));
    l.reckon_at(at(14, 41));
    Reaction r(l);
    r.screen.tap("action.identity"); // by itself it says nothing: what did it give?
    CHECK_FALSE(r.view.take_wish());
    r.screen.check_layout();
    r.screen.tap("identity.agrees");
    REQUIRE_FALSE(r.take());
    CHECK(l.log.session().identity_at == at(14, 41));
    CHECK_FALSE(r.screen.has("identity.agrees"));
    r.screen.tap("action.identity");
    r.screen.tap("action.time");
    r.screen.type("1440");
    r.screen.tap("key.done");
    REQUIRE_FALSE(r.take());
    CHECK(r.screen.value("action.identity") == "14:40, all agree"); // the result is kept
    r.screen.tap("action.identity");
    r.screen.tap("action.undo");
    REQUIRE_FALSE(r.take());
    CHECK_FALSE(l.log.session().identity_agrees.has_value());
    REQUIRE(r.screen.has("identity.agrees"));
    // A log from before it was asked: ticked, and what it gave is not recorded.
    l.add(EventKind::action_done, facts::ActionTicked{ActionKind::identity, {}}, at(14, 45));
    r.screen.frame();
    CHECK(r.screen.value("action.identity") == "14:45, result not recorded");
    CHECK(r.screen.has("identity.differs"));
}

TEST_CASE("report, slip and observations are one touch away", "[reaction_view]") {
    Logged l;
    l.add(EventKind::reaction_suspected, std::monostate{}, at(14, 38));
    Reaction r(l);
    using Kind = ReactionView::Wish::Kind;
    for (const auto& [id, kind] : {std::pair{"reaction.observe", Kind::observe},
                                   {"reaction.report", Kind::print_report},
                                   {"reaction.slip", Kind::print_slip}}) {
        r.screen.tap(id);
        const auto wish = r.view.take_wish();
        REQUIRE(wish);
        CHECK(wish->kind == kind);
    }
}

TEST_CASE("a session that can only be read notes nothing", "[reaction_view]") {
    Logged l;
    Reaction r(l);
    r.may_note = false;
    r.screen.frame();
    CHECK((r.screen.state("reaction.suspect") & ui::State::disabled) != 0);
    l.add(EventKind::reaction_suspected, std::monostate{}, at(14, 38));
    r.screen.frame();
    CHECK((r.screen.state("action.identity") & ui::State::disabled) != 0);
    CHECK((r.screen.state("reaction.stop_for_good") & ui::State::disabled) != 0);
    CHECK((r.screen.state("reaction.report") & ui::State::disabled) == 0);
}

TEST_CASE("the list fits a phone, a tablet and a desk, and names no treatment", "[reaction_view]") {
    struct Size {
        int width, height;
        float scale;
        bool night;
    };
    for (const Size& z : {Size{390, 844, 1, false}, {768, 1024, 1, true}, {768, 1024, 1, false}, {1280, 800, 1, false},
                          {1280, 800, 1, true}, {2048, 1536, 2, false}}) {
        Logged l;
        l.reckon_at(at(14, 36));
        INFO(z.width);
        const std::string size = std::to_string(z.width) + (z.night ? "-night" : "");
        Reaction r(l, z.width, z.height, z.scale);
        r.screen.set_night(z.night);
        r.screen.check_layout();
        r.screen.picture("reaction-before-" + size);
        l.observe(CheckKind::interval, hot(), at(14, 37));
        l.add(EventKind::reaction_suspected, std::monostate{}, at(14, 38));
        l.add(EventKind::action_done, facts::ActionTicked{ActionKind::call_clinician}, at(14, 40));
        r.screen.frame();
        r.screen.check_layout();
        r.screen.picture("reaction-" + size);
        r.screen.tap("action.call_clinician");
        r.screen.check_layout();
        std::string all = r.screen.all_text();
        for (char& c : all)
            c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        for (const char* never : {"adrenaline", "epinephrine", "antihistamine", "paracetamol", "steroid", "diuretic", " mg ", "dose of"})
            CHECK(all.find(never) == std::string::npos);
    }
}
