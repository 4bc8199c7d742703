#pragma once

/// Codes of rehearsals and of the review of past sessions; see core/words/codes.hpp for what a code is.

#include <cstdint>

namespace hangtime {

enum class Level : std::uint8_t { easy, middle, hard };

/// What happens to a learner in a rehearsal, beside what the learner does.
enum class WorldKind : std::uint8_t {
    bag_arrives,       // with the record that says so
    wrong_component,   // the blood bank sends another component than was ordered
    second_bag,        // another bag for the same person is brought
    checker_away,      // the second checker is called away
    checker_back,
    tag_differs,       // one character of the tag is not that of the bag
    pump_stops,
    line_fails,        // the cannula leaks into the tissue
    line_works,        // a new cannula is in
    signs_change,      // what would be seen changes, and nobody says so
    complaint,         // the same, and the person says what they feel
    refusal,           // the person does not want it any more
    word_to_go_on,     // a clinician says that it may go on
    handover,          // the shift ends
    move,              // the person is taken elsewhere
    order_changes,
    discuss,           // the educator asks for a pause, to talk
    drug_asked_for,    // somebody asks to give a drug through the same line
};
inline constexpr int world_kind_count = 18;

/// A kind of thing that is scored.
enum class ScoreKind : std::uint8_t {
    check_on_time,
    window_kept,
    done_within,       // something was done, within minutes of something else where it says so
    never_done,
    done_before,       // one thing before another
    rate_not_raised,   // from a moment on
    given_at_most,
    given_at_least,
    difference_found,
    not_tried,         // nothing was refused for this reason
};
inline constexpr int score_kind_count = 10;

/// What a review counts: a yes or no about each unit, or about each check.
enum class Measure : std::uint8_t {
    hung_in_time,      // of the units that were hung and have a limit for it
    finished_in_time,  // of the units that were all in
    early_on_time,     // of the early checks that fell due
    checks_done,       // of all checks from the start on that fell due: done, on time or late
    run_unpaused,      // of the units that were started
    not_wasted,        // of the units that are done with: neither discarded nor stopped with some of it left
};
inline constexpr int measure_count = 6;

/// What a review shows as a distribution, in minutes.
enum class Spread : std::uint8_t {
    until_hung,        // from issue to spiked; none: not hung
    until_in,          // from issue to all in; none: stopped before, or not given
    early_after_due,   // the early check; none: missed
    pause,
    until_gone,        // from issue until returned or discarded
};
inline constexpr int spread_count = 5;

}  // namespace hangtime
