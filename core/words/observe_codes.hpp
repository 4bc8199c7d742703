#pragma once

/// Codes of observations, of what changed in them, and of what is done after a suspected reaction. As in
/// codes.hpp: stable, spelled and worded in one place (observe_words.hpp), nothing here has a text.

#include <cstdint>

namespace hangtime {

enum class TemperatureUnit : std::uint8_t { celsius, fahrenheit };

/// What is observed.
enum class Sign : std::uint8_t {
    temperature,
    pulse,
    systolic,
    diastolic,
    mean_pressure,
    respirations,
    saturation,
    oxygen,         // on oxygen or on air
    consciousness,
    lungs,
    site,           // of the cannula
    urine,
    symptoms,
};
inline constexpr int sign_count = 13;

/// From best to worst.
enum class Consciousness : std::uint8_t { alert, confused, voice, pain, unresponsive };
inline constexpr int consciousness_count = 5;

/// The value is a set of two bits: wheeze 1, crackles 2.
enum class Lungs : std::uint8_t { clear, wheeze, crackles, wheeze_and_crackles };
inline constexpr int lungs_count = 4;

enum class Site : std::uint8_t { good, painful, swollen, oozing };
inline constexpr int site_count = 4;

enum class Urine : std::uint8_t { usual, little_or_none, dark, red };
inline constexpr int urine_count = 4;

enum class SymptomGroup : std::uint8_t { general, skin, airway, breathing, circulation, pain, bleeding };
inline constexpr int symptom_group_count = 7;

/// The tick list. The order is that of the bits of a set; new ones are added at the end.
enum class Symptom : std::uint8_t {
    chills, rigors, feeling_cold, headache, nausea, vomiting, feeling_unwell, muscle_pain, dread,
    itching, hives, rash, extensive_rash, flushing, jaundice, swelling, swollen_lips_or_tongue, swollen_eyes,
    throat_tightness, hoarseness, difficulty_swallowing, stridor,
    breathlessness, breathless_lying_flat, chest_tightness, cough, wheeze, blue_lips_or_skin, frothy_sputum,
    collapse, floppy, raised_neck_veins, swollen_legs,
    chest_pain, abdominal_pain, back_pain, flank_pain, arm_pain,
    nosebleed, unusual_bleeding,
};
inline constexpr int symptom_count = 40;

/// What some rules depend on. From 16 years the early-warning score applies, from 18 the rules for adults.
enum class AgeGroup : std::uint8_t { infant, child, youth, adult };
inline constexpr int age_group_count = 4;

/// Whether both limbs of a rule have to be met, or either.
enum class Join : std::uint8_t { both, either };
inline constexpr int join_count = 2;

/// The pressures that a rule looks at.
enum class PressureMeasures : std::uint8_t { systolic, systolic_or_diastolic, any };
inline constexpr int pressure_measures_count = 3;

/// What a set of observations shows against the baseline (the first ones), and what a baseline shows by
/// itself. There is no code for "no reaction": what is not met is not listed. Figures: baseline, now, limit.
enum class PromptCode : std::uint8_t {
    new_symptom,            // no figures: the symptoms are in the prompt
    fever,
    severe_fever,
    pressure_fall,
    pulse_rise,
    saturation_low,
    consciousness_worse,
    lung_sounds_new,
    site_worse,
    urine_changed,
    breathing_worse,
    overload_signs,         // no figures: which signs, is in the prompt
    baseline_symptom,       // no figures
    baseline_fever,         // none, now, limit: warmer than the rules want it at the start
    baseline_out_of_range,  // none, now
};
inline constexpr int prompt_code_count = 15;

/// Signs of circulatory overload, as bits of a set in this order.
enum class OverloadSign : std::uint8_t {
    breathless, crackles, breathing_faster, saturation_falling, oxygen_needed,  // breathing
    pressure_rising, pulse_pressure_wider, neck_veins_raised,                   // pressure
    pulse_faster, legs_swollen,                                                 // beside them
};
inline constexpr int overload_sign_count = 10;

/// What the published case definitions would ask about next; never an answer.
enum class CaseQuestion : std::uint8_t {
    chest_findings,      // overload: oedema of the lung on examination or image
    fluid_balance,       // overload: positive balance, weight gain
    heart_marker,        // overload: against the value before the transfusion
    heart_or_kidney,     // overload: known heart or kidney disease, low weight, low albumin
    both_lungs_image,    // lung injury
    steady_before,       // lung injury: breathing steady in the 12 h before
    other_lung_cause,    // lung injury: another reason for it
    bag_and_label,       // wrong blood, haemolysis: bag, label and band checked again
    urine_colour,        // haemolysis
    bag_looks,           // infection: colour, clots, bubbles, leaks
    cultures,            // infection
    other_fever_cause,
    airway_or_pressure,  // allergic: airway, breathing or pressure with it
    onset_minutes,       // fall of pressure: minutes from the start
    settled_after_stop,  // fall of pressure: settled within 10 min
};
inline constexpr int case_question_count = 15;

/// What is done after a suspected reaction. `stop` always comes first.
enum class ActionKind : std::uint8_t {
    stop,             // and clamp at the patient
    new_set_saline,   // keep the vein open with saline through a new set
    identity,         // person, band and label again, at the bedside
    observe,
    inspect,          // the component
    call_clinician,
    call_blood_bank,
    keep_bag,         // bag and set, to be returned
    samples,
    urine,
    report,
};
inline constexpr int action_kind_count = 11;

/// Whether a transfusion that was stopped may go on. There is no plain yes.
enum class Restart : std::uint8_t { no, cannot_tell, on_a_clinicians_word };
inline constexpr int restart_count = 3;

/// Why a restart is ruled out or cannot be told.
enum class RestartBar : std::uint8_t {
    rules_never,            // these rules never restart
    identity_differs,
    identity_not_checked,
    severe_fever,
    pressure_fall,
    symptom_not_mild,
    other_sign,             // any other prompt than a mild fever or a mild symptom
    not_all_recorded,       // a sign that has to be known is not recorded
    past_the_limit,         // no time is left: the clock ran on
};
inline constexpr int restart_bar_count = 9;

/// The parts of the early-warning score, in the order of its chart.
enum class ScorePart : std::uint8_t {
    respirations, saturation, oxygen, systolic, pulse, consciousness, temperature,
};
inline constexpr int score_part_count = 7;

/// What the published chart asks for at a score.
enum class ScoreBand : std::uint8_t { zero, low, three_in_one, medium, high };
inline constexpr int score_band_count = 5;

/// Which of a rule set's three rules for a fall of pressure.
enum class PressureFor : std::uint8_t { adult, child, small };

/// Why the early-warning score is not given, or what has to be known beside it.
enum class ScoreLimit : std::uint8_t { not_for_this_age, age_not_recorded, not_in_pregnancy, incomplete };
inline constexpr int score_limit_count = 4;

}  // namespace hangtime
