#include "core/words/rehearse_words.hpp"

#include <array>

namespace hangtime {

namespace {

struct Said {
    std::string_view code, name;
};

constexpr std::array<Said, 3> levels = {{{"easy", "easy"}, {"middle", "middle"}, {"hard", "hard"}}};
constexpr std::array<Said, world_kind_count> happenings = {{
    {"bag_arrives", "The bag arrives"},
    {"wrong_component", "The blood bank sends another component"},
    {"second_bag", "Another bag is brought for the same person"},
    {"checker_away", "The second checker is called away"},
    {"checker_back", "The second checker is back"},
    {"tag_differs", "One character of the tag is not that of the bag"},
    {"pump_stops", "The pump stops"},
    {"line_fails", "The cannula leaks into the tissue"},
    {"line_works", "A new cannula is in"},
    {"signs_change", "The signs change"},
    {"complaint", "The person says how they feel"},
    {"refusal", "The person does not want it any more"},
    {"word_to_go_on", "A clinician says that it may go on"},
    {"handover", "The shift ends"},
    {"move", "The person is taken elsewhere"},
    {"order_changes", "The order changes"},
    {"discuss", "Pause, and talk about it"},
    {"drug_asked_for", "Somebody asks to give a drug through the same line"},
}};
constexpr std::array<Said, score_kind_count> scores = {{
    {"check_on_time", "Check on time"},
    {"window_kept", "Limit kept"},
    {"done_within", "Done"},
    {"never_done", "Not done"},
    {"done_before", "Done first"},
    {"rate_not_raised", "Rate not raised"},
    {"given_at_most", "Not too much given"},
    {"given_at_least", "Enough given"},
    {"difference_found", "Difference found"},
    {"not_tried", "Not tried"},
}};
constexpr std::array<Said, measure_count> measures = {{
    {"hung_in_time", "Hung inside the window"},
    {"finished_in_time", "All in inside the limit"},
    {"early_on_time", "Early check on time"},
    {"checks_done", "Checks done"},
    {"run_unpaused", "Ran without a pause"},
    {"not_wasted", "Nothing discarded or left over"},
}};
constexpr std::array<std::string_view, measure_count> others = {
    "hung late", "all in late", "early check late or missed", "checks missed", "stood still", "discarded or left over"};

constexpr std::array<Said, spread_count> spreads = {{
    {"until_hung", "From issue until hung"},
    {"until_in", "From issue until all in"},
    {"early_after_due", "Early check after it was due"},
    {"pause", "How long a pause was"},
    {"until_gone", "From issue until returned or discarded"},
}};
constexpr std::array<std::string_view, spread_count> without = {"not hung", "not all in", "missed", "", ""};

template <std::size_t n, class E>
std::string_view code_in(const std::array<Said, n>& list, E value) {
    const auto i = static_cast<std::size_t>(value);
    return i < n ? list[i].code : std::string_view{};
}
template <std::size_t n, class E>
std::string_view name_in(const std::array<Said, n>& list, E value) {
    const auto i = static_cast<std::size_t>(value);
    return i < n ? list[i].name : std::string_view{};
}

}  // namespace

std::string_view code(Level x) { return code_in(levels, x); }
std::string_view code(WorldKind x) { return code_in(happenings, x); }
std::string_view code(ScoreKind x) { return code_in(scores, x); }
std::string_view code(Measure x) { return code_in(measures, x); }
std::string_view name(Level x) { return name_in(levels, x); }
std::string_view name(WorldKind x) { return name_in(happenings, x); }
std::string_view name(ScoreKind x) { return name_in(scores, x); }
std::string_view name(Measure x) { return name_in(measures, x); }
std::string_view code(Spread x) { return code_in(spreads, x); }
std::string_view name(Spread x) { return name_in(spreads, x); }
std::string_view none_name(Spread x) {
    const auto i = static_cast<std::size_t>(x);
    return i < without.size() ? without[i] : std::string_view{};
}
std::string_view other_name(Measure x) {
    const auto i = static_cast<std::size_t>(x);
    return i < others.size() ? others[i] : std::string_view{};
}

std::string_view rehearsal_sentence() { return "Rehearsal: nothing here is about a real person"; }
std::string_view review_sentence() {
    return "Counts come from what was recorded. What was not recorded is not known, and a count says nothing about why.";
}

}  // namespace hangtime
