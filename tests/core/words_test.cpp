// Every code has a spelling of its own and words for a person; every sum and sentence takes its figures.

#include "core/words/spelling.hpp"
#include "core/words/sums.hpp"
#include "core/words/words.hpp"

#include <catch2/catch_test_macros.hpp>

#include <set>
#include <string>

using namespace hangtime;

namespace {

const DayClock noon_day(WallClock(Seconds{0}), Instant{1'773'446'400});  // 2026-03-14T00:00Z

Instant at(int hour, int minute, int second = 0) {
    return {1'773'446'400 + hour * 3600 + minute * 60 + second};
}

template <class E>
void spelled_and_named(int count) {
    REQUIRE(code_count<E>() == count);
    std::set<std::string> spellings, names;
    for (int i = 0; i < count; ++i) {
        const E value = static_cast<E>(i);
        CHECK(code_from<E>(code(value)) == value);
        CHECK(spellings.insert(std::string(code(value))).second);
        CHECK_FALSE(name(value).empty());
        CHECK(name(value).back() != '.');
        CHECK(names.insert(std::string(name(value))).second);
    }
    CHECK_FALSE(code_from<E>("nothing_of_the_kind"));
    CHECK_FALSE(code_from<E>(""));
}

// What ISMP's list of error-prone designations and design rule 7 keep out of a sentence.
void reads_well(const std::string& text) {
    CAPTURE(text);
    CHECK_FALSE(text.empty());
    CHECK(text.find('[') == std::string::npos);
    CHECK(text.find('{') == std::string::npos);
    CHECK(text.find("  ") == std::string::npos);
    CHECK(text.find('!') == std::string::npos);
    CHECK(text.find(" ,") == std::string::npos);
    CHECK(text.find(" .") == std::string::npos);
    CHECK(text.find("larm") == std::string::npos);  // its reminders are no alarms
    CHECK(text.back() == '.');
}

}  // namespace

TEST_CASE("every code is spelled and named, each differently") {
    spelled_and_named<Grade>(4);
    spelled_and_named<Anchor>(anchor_count);
    spelled_and_named<LimitKind>(limit_kind_count);
    spelled_and_named<WindowState>(6);
    spelled_and_named<CheckKind>(6);
    spelled_and_named<CheckState>(7);
    spelled_and_named<Verdict>(3);
    spelled_and_named<StageKind>(3);
    spelled_and_named<CeilingKind>(7);
    spelled_and_named<RateRule>(6);
    spelled_and_named<Severity>(3);
    spelled_and_named<Clearing>(3);
    spelled_and_named<Primed>(2);
    spelled_and_named<CountsFrom>(2);
    spelled_and_named<SlowFrom>(2);
    spelled_and_named<ExpiryRule>(2);
    spelled_and_named<LineKind>(3);
    spelled_and_named<DeviceKind>(2);
    spelled_and_named<Answer>(3);
    spelled_and_named<StepKind>(10);
    for (int i = 0; i < code_count<CheckKind>(); ++i)
        CHECK_FALSE(check_title(static_cast<CheckKind>(i)).empty());
    for (int i = 0; i < component_count; ++i) CHECK_FALSE(name(static_cast<Component>(i)).empty());
    for (int i = 0; i < not_covered_count; ++i) CHECK_FALSE(name(static_cast<NotCovered>(i)).empty());
}

TEST_CASE("every limit, reason, warning and piece of advice is a sentence, with its figures and without") {
    for (int i = 0; i < limit_kind_count; ++i) {
        reads_well(std::string(meaning_sentence(static_cast<LimitKind>(i))));
        reads_well(std::string(passed_sentence(static_cast<LimitKind>(i))));
    }
    REQUIRE(code_count<Reason>() == reason_count);
    for (int i = 0; i < reason_count; ++i) reads_well(std::string(sentence(static_cast<Reason>(i))));
    REQUIRE(code_count<Warning>() == warning_count);
    const Figure some{FigureKind::volume, ml(5).units};
    for (int i = 0; i < warning_count; ++i) {
        const Warning w = static_cast<Warning>(i);
        reads_well(warning_text(w, {}, noon_day));
        reads_well(warning_text(w, {some, some, some}, noon_day));
        reads_well(warning_text(w, {some, Figure{}, Figure{}}, noon_day));
    }
    for (int i = 0; i < code_count<Advice>(); ++i) {
        reads_well(advice_text(static_cast<Advice>(i), {}, noon_day));
        reads_well(advice_text(static_cast<Advice>(i), {some, some}, noon_day));
    }
    CHECK(not_covered_sentence() == "Not covered here, follow your procedure.");
}

TEST_CASE("a warning says its figures") {
    CHECK(warning_text(Warning::component_after_slow_stage, {Figure(at(14, 9, 26)), Figure(ml_per_h(185))},
                       noon_day) ==
          "The line is full of saline: the first blood reaches the vein at 14:09:26, after the slow stage, "
          "and would then run at the full rate of 185 mL/h.");
    CHECK(warning_text(Warning::line_not_given, {Figure(ml(20)), Figure(ml(296))}, noon_day) ==
          "What stands in the line at the end, 20 mL, is not given: 296 mL are given.");
    CHECK(warning_text(Warning::return_by_temperature, {Figure(FigureKind::count, 100)}, noon_day) ==
          "A bag that is warmer than 10 degrees C cannot be kept, even in time.");
    CHECK(warning_text(Warning::gauge_small, {Figure(FigureKind::count, 24), Figure(FigureKind::count, 22)},
                       noon_day) == "The cannula, 24 G, is narrower than the 22 G of these rules.");
    CHECK(
        warning_text(Warning::count_exactly, {Figure(FigureKind::count, 11), Figure(minutes(1))}, noon_day) ==
        "Count exactly: 11 drops in 60 s. One drop more or fewer breaks a limit.");
    CHECK(advice_text(Advice::ask_split, {Figure(tenths_of_ml(2175))}, noon_day) ==
          "Ask the blood bank for a split of at most 217.5 mL.");
}

TEST_CASE("the cautions of design rule 7 are there, in words") {
    std::string all;
    for (std::size_t i = 0; i < caution_count; ++i) {
        CHECK_FALSE(caution(i).empty());
        all += caution(i);
    }
    CHECK(caution(caution_count).empty());
    for (const char* said : {"not a medical device", "not an alarm", "not a record", "local policy",
                             "label on the bag", "licensed practice", "does not watch the patient"})
        CHECK(all.find(said) != std::string::npos);
}

TEST_CASE("sums, one line each") {
    const auto says = [](const Sum& sum) { return sum_text(sum, noon_day); };
    const RateRatio main_rate = tenths_of_ml(3035) / minutes(105);
    CHECK(says(sum_of(SumKind::after, at(13, 40), minutes(30), at(14, 10))) == "13:40 + 30 min = 14:10");
    CHECK(says(sum_of(SumKind::before, at(13, 52), minutes(30), at(13, 22))) == "13:52 - 30 min = 13:22");
    CHECK(says(sum_of(SumKind::as_stated, at(14, 10))) == "as stated: 14:10");
    CHECK(says(sum_of(SumKind::dose_by_weight, DosePerKg{100}, Mass{11'600}, ml(116))) ==
          "10 mL/kg x 11.6 kg = 116 mL");
    CHECK(says(sum_of(SumKind::dose_as_ordered, ml(116))) == "as ordered: 116 mL");
    CHECK(says(sum_of(SumKind::whole_bag, ml(316), ml(0), ml(316))) == "the whole bag: 316 mL");
    CHECK(says(sum_of(SumKind::whole_bag, ml(316), ml(6), ml(310))) ==
          "316 mL - 6 mL lost in priming = 310 mL");
    CHECK(says(sum_of(SumKind::pushed, ml(316), ml(20), ml(336))) == "316 mL + 20 mL of the line = 336 mL");
    CHECK(says(sum_of(SumKind::pushed, ml(316), ml(0), ml(316))) == "316 mL, nothing added for the line");
    CHECK(says(sum_of(SumKind::slow_volume, ml_per_h(50), minutes(15), tenths_of_ml(125))) ==
          "50 mL/h for 15 min = 12.5 mL");
    CHECK(says(sum_of(SumKind::rate_by_weight, hundredths_of_ml_per_kg_per_h(100), Mass{84'147},
                      RateRatio{84'147 * 600, 1000}, ml_per_h(84))) ==
          "1 mL/kg/h x 84.147 kg = 84.15 mL/h, on the device 84 mL/h");
    CHECK(says(sum_of(SumKind::rest_in_time, ml(316), tenths_of_ml(125), minutes(105), main_rate,
                      ml_per_h(174))) == "(316 mL - 12.5 mL) in 1 h 45 min = 173.43 mL/h, set 174 mL/h");
    CHECK(says(sum_of(SumKind::rest_in_time, ml(116), ml(0), hours(2), exactly(ml_per_h(58)),
                      ml_per_h(58))) == "116 mL in 2 h = 58 mL/h");
    CHECK(says(sum_of(SumKind::rest_to_limit, ml(316), tenths_of_ml(125), minutes(105), main_rate)) ==
          "(316 mL - 12.5 mL) in the 1 h 45 min until the limit = 173.43 mL/h");
    CHECK(says(sum_of(SumKind::rate_as_limited, main_rate, ml_per_h(173))) ==
          "173.43 mL/h, on the device 173 mL/h");
    CHECK(says(sum_of(SumKind::runs_out, at(14, 7), tenths_of_ml(3035), ml_per_h(174), at(15, 51, 40))) ==
          "14:07 + 303.5 mL at 174 mL/h = 15:51:40");
    CHECK(says(sum_of(SumKind::can_be_given, ml_per_h(50), minutes(15), ml_per_h(60), minutes(205),
                      tenths_of_ml(2175))) == "50 mL/h for 15 min + 60 mL/h for 3 h 25 min = 217.5 mL");
    CHECK(says(sum_of(SumKind::can_be_given_after_line, tenths_of_ml(125), ml_per_h(60), minutes(205), ml(20),
                      tenths_of_ml(1975))) ==
          "12.5 mL in the slow stage + 60 mL/h for 3 h 25 min - 20 mL that stands in the line first = 197.5 mL");
    CHECK(says(sum_of(SumKind::can_be_given_after_line, ml(0), ml_per_h(60), minutes(120), ml(20), ml(100))) ==
          "60 mL/h for 2 h - 20 mL that stands in the line first = 100 mL");
    CHECK(says(sum_of(SumKind::can_be_given_after_line, tenths_of_ml(125), ml_per_h(60), minutes(0), ml(10),
                      tenths_of_ml(25))) == "12.5 mL in the slow stage - 10 mL that stands in the line first = 2.5 mL");
    CHECK(says(sum_of(SumKind::left_over, ml(300), tenths_of_ml(2175), tenths_of_ml(825))) ==
          "300 mL - 217.5 mL = 82.5 mL");
    CHECK(says(sum_of(SumKind::largest_bag, tenths_of_ml(2175), ml(0), ml(0), tenths_of_ml(2175))) ==
          "217.5 mL can be pushed in time");
    CHECK(says(sum_of(SumKind::largest_bag, ml(200), ml(20), ml(0), ml(200))) ==
          "200 mL can be pushed in time");
    CHECK(says(sum_of(SumKind::largest_bag, ml(200), ml(20), ml(5), ml(205))) ==
          "200 mL + 5 mL lost in priming = 205 mL");
    CHECK(says(sum_of(SumKind::largest_bag, ml(200), ml(20), ml(5), ml(225))) ==
          "200 mL + 20 mL in the line + 5 mL lost in priming = 225 mL");
    CHECK(says(sum_of(SumKind::largest_bag, ml(200), ml(20), ml(5), ml(185))) ==
          "200 mL - 20 mL in the line + 5 mL lost in priming = 185 mL");
    CHECK(
        says(sum_of(SumKind::drops, ml(250) / minutes(240), DropFactor{10}, Figure(FigureKind::count, 11))) ==
        "62.5 mL/h x 10 drops/mL = 10.42 drops/min, set 11 drops/min");
    CHECK(says(sum_of(SumKind::drops, drops_per_min(11, {10}), DropFactor{10},
                      Figure(FigureKind::count, 11))) == "66 mL/h x 10 drops/mL = 11 drops/min");
    CHECK(says(sum_of(SumKind::latest_start, at(17, 40), minutes(120), at(15, 40))) == "17:40 - 2 h = 15:40");
    CHECK(says(sum_of(SumKind::over_by, at(17, 52), at(17, 40), minutes(12))) ==
          "17:52 is 12 min after 17:40");
    CHECK(says(sum_of(SumKind::weight_needed, exactly(ml_per_h(84)), hundredths_of_ml_per_kg_per_h(100),
                      Mass{84'000})) == "84 mL/h / 1 mL/kg/h = 84 kg");
    CHECK(says(Sum{}).empty());
    REQUIRE(code_count<SumKind>() == 22);
    for (int i = 1; i < 21; ++i) CHECK_FALSE(says(Sum{static_cast<SumKind>(i), {}}).empty());
}
