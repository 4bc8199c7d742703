#include "core/words/observe_words.hpp"

#include <cstddef>

namespace hangtime {

namespace {

constexpr std::string_view questions[] = {
    "What is the temperature?",
    "How many beats a minute?",
    "What is the systolic pressure?",
    "What is the diastolic pressure?",
    "What is the mean pressure?",
    "How many breaths a minute?",
    "What is the oxygen saturation?",
    "On oxygen, or on air?",
    "How alert is the person?",
    "What is heard over the lungs?",
    "How is the site of the cannula?",
    "How is the urine?",
    "Ask about each group, and look. Tick what is there.",
};
static_assert(sizeof questions / sizeof *questions == sign_count);

std::string range_text(const Figure& least, const Figure& most) {
    const DayClock no_day;
    return joined({figure_text(least, no_day), " to ", figure_text(most, no_day)});
}

}  // namespace

std::string_view question(Sign v) {
    const auto i = static_cast<std::size_t>(v);
    return i < sign_count ? questions[i] : std::string_view();
}

std::string impossible_sentence(Sign sign, const Figure& least, const Figure& most) {
    return joined({name(sign), " can be ", range_text(least, most), "."});
}

std::string unusual_sentence(Sign sign, const Figure& value, const Figure& least, const Figure& most) {
    return joined({name(sign), " ", figure_text(value, {}), ": usual is ", range_text(least, most),
                   ". Was it read and typed like that?"});
}

std::string_view not_below_systolic_sentence() { return "The diastolic pressure has to be below the systolic one."; }
std::string_view mean_not_between_sentence() {
    return "The mean pressure has to be between the diastolic and the systolic one.";
}
std::string_view pressures_close_sentence() {
    return "Systolic and diastolic pressure are less than 10 mmHg apart. Were they read and typed like that?";
}
std::string_view nothing_recorded_sentence() { return "Nothing is recorded in this set. Was nothing observed?"; }

}  // namespace hangtime
