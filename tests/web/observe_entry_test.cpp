/// A set of observations in one pass: by touch, by keyboard, with what is missing, unusual or impossible, and with a
/// scanner that goes off in between.

#include "tests/web/one_screen.hpp"
#include "web/screens/observe_entry.hpp"

#include <catch2/catch_test_macros.hpp>

using namespace hangtime;
using screens::ObserveEntry;
using test::at;
using test::OneScreen;
using platform::Key;

namespace {

struct Entry {
    explicit Entry(int width = 1280, int height = 800, float scale = 1,
                   TemperatureUnit unit = TemperatureUnit::celsius)
        : stage(width, height, scale, [this](ui::Ui& ui, ui::Box box) { build(ui, box); }) {
        baseline.temperature = tenths_c(368);
        baseline.pulse_per_min = 78;
        entry.open(stage.ui, "Observations after 15 min", unit);
        stage.frame();
        stage.frame();
    }

    void build(ui::Ui& ui, ui::Box box) {
        if (!entry.is_open())
            return;
        if (ui.take_scan_leak())
            entry.scan_leaked(wall);
        const ui::Box foot = box.cut_bottom(ui.px(56), ui.px(12));
        entry.build(ui, box, foot, {now, wall, day, with_baseline ? &baseline : nullptr});
    }

    ObserveEntry entry;
    Observation baseline;
    bool with_baseline = true;
    Instant now = at(14, 7);
    WallClock wall{Seconds{0}};
    DayClock day{wall, at(13, 45)};
    OneScreen stage;
};

Symptoms symptoms(std::initializer_list<Symptom> all) {
    Symptoms out;
    for (const Symptom s : all)
        out.add(s);
    return out;
}

} // namespace

TEST_CASE("a whole set goes in by one pass of the keypad, Done leading to the next", "[observe_entry]") {
    Entry e;
    OneScreen& s = e.stage;
    const auto press = [&](std::string_view digits) {
        for (const char c : digits)
            s.tap(c == '.' ? std::string("key.point") : std::string("key.") + c);
        s.tap("key.done");
    };
    CHECK((s.state("obs.temperature") & ui::State::editing) != 0);
    CHECK(s.label("obs.before") == "Baseline: 36.8 \xC2\xB0" "C");
    press("37.1");
    CHECK(s.label("obs.before") == "Baseline: 78 /min");
    press("92");
    press("124");
    press("71");
    press("18"); // the mean pressure is passed over: the baseline has none
    press("97");
    CHECK(s.label("obs.question") == "On oxygen, or on air?");
    s.tap("choice.0");
    s.tap("choice.0"); // alert
    s.tap("choice.0"); // clear
    s.tap("obs.skip"); // the site
    s.tap("choice.0"); // urine as usual
    CHECK(s.has("symptom.itching"));
    s.check_layout();
    s.picture("observe-symptoms");
    s.tap("symptom.itching");
    s.tap("symptom.back_pain");
    s.tap("symptoms.next");
    CHECK_FALSE(s.has("key.1"));
    CHECK(s.value("obs.site") == "not recorded");
    CHECK(s.value("obs.mean_pressure") == "not recorded");
    CHECK(s.value("obs.time") == "now");
    s.tap("obs.note");
    const auto taken = e.entry.take();
    REQUIRE(taken);
    CHECK_FALSE(taken->at);
    Observation wanted;
    wanted.temperature = tenths_c(371);
    wanted.pulse_per_min = 92;
    wanted.systolic_mmhg = 124;
    wanted.diastolic_mmhg = 71;
    wanted.respirations_per_min = 18;
    wanted.saturation_percent = 97;
    wanted.on_oxygen = false;
    wanted.consciousness = Consciousness::alert;
    wanted.lungs = Lungs::clear;
    wanted.urine = Urine::usual;
    wanted.symptoms = symptoms({Symptom::itching, Symptom::back_pain});
    CHECK(taken->set == wanted);
    CHECK_FALSE(e.entry.take()); // once
}

TEST_CASE("the pass can be made on the keyboard alone", "[observe_entry]") {
    Entry e;
    OneScreen& s = e.stage;
    for (const char* digits : {"368", "80", "120", "70", "16", "98"}) {
        s.type(digits); // of the temperature the point need not be typed
        s.key(Key::enter);
    }
    CHECK(e.entry.set().temperature == tenths_c(368));
    CHECK(e.entry.set().saturation_percent == 98);
    CHECK(s.label("obs.question") == "On oxygen, or on air?");
    s.type("6"); // there is no sixth
    CHECK(s.label("obs.question") == "On oxygen, or on air?");
    s.type("1310"); // air, responds to voice, clear, the site not recorded
    s.key(Key::enter); // of the urine nothing
    CHECK(e.entry.set().on_oxygen == false);
    CHECK(e.entry.set().consciousness == Consciousness::voice);
    CHECK(e.entry.set().lungs == Lungs::clear);
    CHECK_FALSE(e.entry.set().site);
    CHECK_FALSE(e.entry.set().urine);
    REQUIRE(s.has("symptoms.none"));
    s.key(Key::enter); // neither found nor denied: it stays
    REQUIRE(s.has("symptoms.none"));
    s.type("0");
    CHECK(e.entry.set().symptoms == Symptoms{});
    CHECK_FALSE(s.has("symptoms.none"));
    s.key(Key::enter);
    CHECK(e.entry.take());
}

TEST_CASE("what was not recorded stays missing, and no symptom found is not the same as not asked", "[observe_entry]") {
    Entry e;
    OneScreen& s = e.stage;
    s.type("37");
    s.key(Key::enter);
    for (int i = 0; i < 10; ++i) {
        INFO(i);
        s.tap("obs.skip");
    }
    s.tap("symptoms.skip");
    CHECK_FALSE(e.entry.set().symptoms);
    CHECK(s.value("obs.symptoms") == "not recorded");
    s.tap("obs.symptoms");
    s.tap("symptom.cough");
    CHECK(e.entry.set().symptoms == symptoms({Symptom::cough}));
    s.tap("symptom.cough"); // taken back: that is not yet "none"
    CHECK_FALSE(e.entry.set().symptoms);
    CHECK((s.state("symptoms.next") & ui::State::disabled) != 0);
    s.tap("symptoms.none");
    CHECK(s.value("obs.symptoms") == "none found");
    s.tap("obs.note");
    const auto taken = e.entry.take();
    REQUIRE(taken);
    Observation wanted;
    wanted.temperature = tenths_c(370);
    wanted.symptoms = Symptoms{};
    CHECK(taken->set == wanted);
}

TEST_CASE("what cannot be is refused with what would be accepted, on both sides of the limit", "[observe_entry]") {
    Entry e;
    OneScreen& s = e.stage;
    const auto refused = [&](std::string_view digits, bool is) {
        s.type(digits);
        s.key(Key::enter);
        CHECK(s.has("obs.problem") == is);
    };
    refused("24.9", true);
    CHECK(s.label("obs.problem") == "Not taken: Temperature can be 25.0 \xC2\xB0" "C to 46.0 \xC2\xB0" "C.");
    CHECK((s.state("obs.note") & ui::State::disabled) != 0);
    s.picture("observe-refused");
    refused("46.1", true);
    refused("46.0", false); // and it goes on to the pulse
    CHECK((s.state("obs.pulse") & ui::State::editing) != 0);
    refused("321", true);
    refused("320", false);
    refused("9", true); // systolic
    refused("10", false);
    refused("10", true); // diastolic: not below the systolic one
    CHECK(s.label("obs.problem") == "Not taken: The diastolic pressure has to be below the systolic one.");
    refused("9", false);
    refused("151", true); // respirations
    refused("150", false);
    refused("101", true); // saturation
    refused("19", true);
    refused("20", false);
}

TEST_CASE("what is unusual is asked about before it is kept", "[observe_entry]") {
    Entry e;
    OneScreen& s = e.stage;
    s.type("335");
    s.key(Key::enter);
    s.type("18");
    s.key(Key::enter);
    s.tap("obs.note");
    CHECK_FALSE(e.entry.take());
    CHECK(s.label("obs.asked.0") == "Temperature 33.5 \xC2\xB0" "C: usual is 34.0 \xC2\xB0" "C to 42.0 \xC2\xB0"
                                    "C. Was it read and typed like that?");
    CHECK(s.label("obs.asked.1").starts_with("Pulse 18 /min: usual is 40 /min to 180 /min."));
    s.check_layout();
    s.picture("observe-asked");
    s.tap("obs.change"); // leads to the first of them
    CHECK((s.state("obs.temperature") & ui::State::editing) != 0);
    s.type("365");
    s.tap("obs.note");
    s.tap("obs.confirm");
    const auto taken = e.entry.take();
    REQUIRE(taken);
    CHECK(taken->set.temperature == tenths_c(365));
    CHECK(taken->set.pulse_per_min == 18);
}

TEST_CASE("an empty set is asked about too", "[observe_entry]") {
    Entry e;
    e.stage.tap("obs.note");
    CHECK_FALSE(e.entry.take());
    CHECK(e.stage.label("obs.asked.0") == "Nothing is recorded in this set. Was nothing observed?");
    e.stage.tap("obs.confirm");
    REQUIRE(e.entry.take());
}

TEST_CASE("temperatures go in as the ward charts them and are never converted", "[observe_entry]") {
    Entry e(1280, 800, 1, TemperatureUnit::fahrenheit);
    OneScreen& s = e.stage;
    s.type("984"); // 98.4
    CHECK(e.entry.set().temperature == tenths_f(984));
    s.tap("key.clear");
    s.type("1004"); // 100.4
    CHECK(e.entry.set().temperature == tenths_f(1004));
    s.tap("key.clear");
    s.type("100.4");
    CHECK(e.entry.set().temperature == tenths_f(1004));
    CHECK_FALSE(e.entry.take_unit());
    s.tap("obs.unit.c");
    CHECK_FALSE(e.entry.set().temperature); // typed again
    CHECK(e.entry.take_unit() == TemperatureUnit::celsius);
    s.type("38");
    s.key(Key::enter);
    CHECK(e.entry.set().temperature == tenths_c(380));
}

TEST_CASE("a set that was taken earlier says so, and none lies ahead", "[observe_entry]") {
    Entry e;
    OneScreen& s = e.stage;
    s.type("37");
    s.tap("obs.time");
    s.type("1401");
    s.key(Key::enter);
    CHECK(s.value("obs.time") == "14:01");
    CHECK((s.state("obs.pulse") & ui::State::editing) != 0); // the temperature is there already
    CHECK_FALSE(e.entry.take());                              // the Enter of the time noted nothing
    s.tap("obs.time");
    s.type("1408"); // it is 14:07
    s.key(Key::enter);
    CHECK(s.label("time.refused") == "It lies ahead. Enter when it happened.");
    s.key(Key::escape);
    CHECK(s.value("obs.time") == "14:01");
    s.tap("obs.note");
    const auto taken = e.entry.take();
    REQUIRE(taken);
    CHECK(taken->at == at(14, 1));
    // Shortly after midnight yesterday's evening is meant.
    Entry night;
    night.now = at(24, 5);
    night.stage.tap("obs.time");
    night.stage.type("2358");
    night.stage.key(Key::enter);
    CHECK((night.stage.state("obs.temperature") & ui::State::editing) != 0);
    night.stage.type("37");
    night.stage.key(Key::enter);
    CHECK((night.stage.state("obs.temperature") & ui::State::editing) == 0); // it goes on with what is open
    night.stage.tap("obs.note");
    const auto late = night.entry.take();
    REQUIRE(late);
    CHECK(late->at == at(23, 58));
}

TEST_CASE("a scanner leaves no digit in a value and presses nothing", "[observe_entry]") {
    Entry e;
    OneScreen& s = e.stage;
    s.type("37");
    s.key(Key::enter);
    s.type("8");
    s.scan("=A99992112345663");
    CHECK((s.state("obs.pulse") & ui::State::editing) != 0);
    CHECK(e.entry.set().temperature == tenths_c(370));
    const auto pulse = e.entry.set().pulse_per_min;
    CHECK((!pulse || pulse == 8));
    s.scan("0260731340");
    CHECK((s.state("obs.pulse") & ui::State::editing) != 0);
    const auto after = e.entry.set().pulse_per_min;
    CHECK((!after || after == 8));
}

TEST_CASE("a set that is put right begins with what stands in it", "[observe_entry]") {
    Entry e;
    Observation old;
    old.temperature = tenths_f(1001);
    old.pulse_per_min = 90;
    old.symptoms = Symptoms{};
    e.entry.open(e.stage.ui, "Put right", TemperatureUnit::celsius, &old, at(14, 0));
    e.stage.frame();
    CHECK(e.stage.value("obs.temperature") == "100.1 \xC2\xB0" "F");
    CHECK(e.stage.value("obs.time") == "14:00");
    e.stage.tap("obs.pulse");
    e.stage.type("96");
    e.stage.key(Key::enter);
    e.stage.tap("obs.note");
    const auto taken = e.entry.take();
    REQUIRE(taken);
    CHECK(taken->at == at(14, 0));
    old.pulse_per_min = 96;
    CHECK(taken->set == old);
}

TEST_CASE("the entry of a set fits a phone, a tablet and a desk", "[observe_entry]") {
    struct Size {
        int width, height;
        float scale;
        bool night;
    };
    for (const Size& z : {Size{390, 844, 1, false}, {768, 1024, 1, true}, {1024, 768, 1, false}, {1280, 800, 1, false},
                          {1280, 800, 1, true}, {2048, 1536, 2, false}}) {
        Entry e(z.width, z.height, z.scale);
        e.stage.set_night(z.night);
        e.stage.frame();
        const std::string size = std::to_string(z.width) + (z.night ? "-night" : "");
        INFO(size);
        e.stage.check_layout();
        e.stage.type("368");
        e.stage.picture("observe-" + size);
        e.stage.key(Key::enter);
        e.stage.tap("obs.lungs");
        e.stage.check_layout();
        e.stage.picture("observe-choice-" + size);
        e.stage.tap("obs.time");
        e.stage.check_layout();
        e.stage.tap("obs.symptoms");
        e.stage.check_layout();
        e.stage.picture("observe-symptoms-" + size);
        e.stage.tap("symptom.unusual_bleeding");
        e.stage.tap("symptoms.next");
        CHECK(e.entry.set().symptoms == symptoms({Symptom::unusual_bleeding}));
    }
}
