#include "core/words/observe_words.hpp"

#include <cstddef>

namespace hangtime {

namespace {

struct Words {
    std::string_view code, name;
};

template <std::size_t n, class E>
constexpr std::string_view code_in(const Words (&table)[n], E value) {
    const auto i = static_cast<std::size_t>(value);
    return i < n ? table[i].code : std::string_view();
}
template <std::size_t n, class E>
constexpr std::string_view name_in(const Words (&table)[n], E value) {
    const auto i = static_cast<std::size_t>(value);
    return i < n ? table[i].name : std::string_view();
}

template <std::size_t n>
constexpr bool holds(const Words (&)[n], int count) {
    return n == static_cast<std::size_t>(count);
}

constexpr Words temperature_units[] = {{"c", "\xC2\xB0" "C"}, {"f", "\xC2\xB0" "F"}};

constexpr Words signs[] = {
    {"temperature", "Temperature"},
    {"pulse", "Pulse"},
    {"systolic", "Systolic pressure"},
    {"diastolic", "Diastolic pressure"},
    {"mean_pressure", "Mean pressure"},
    {"respirations", "Respirations"},
    {"saturation", "Oxygen saturation"},
    {"oxygen", "Oxygen or air"},
    {"consciousness", "Level of consciousness"},
    {"lungs", "Lung sounds"},
    {"site", "Site of the cannula"},
    {"urine", "Urine"},
    {"symptoms", "Symptoms"},
};
static_assert(holds(signs, sign_count));

constexpr Words consciousnesses[] = {
    {"alert", "alert"},
    {"confused", "new confusion"},
    {"voice", "responds to voice"},
    {"pain", "responds to pain"},
    {"unresponsive", "unresponsive"},
};
static_assert(holds(consciousnesses, consciousness_count));

constexpr Words lung_sounds[] = {
    {"clear", "clear"},
    {"wheeze", "wheeze"},
    {"crackles", "crackles"},
    {"wheeze_and_crackles", "wheeze and crackles"},
};
static_assert(holds(lung_sounds, lungs_count));

constexpr Words sites[] = {
    {"good", "as it should be"},
    {"painful", "painful"},
    {"swollen", "swollen or red"},
    {"oozing", "oozing"},
};
static_assert(holds(sites, site_count));

constexpr Words urines[] = {
    {"usual", "as usual"},
    {"little_or_none", "little or none"},
    {"dark", "dark"},
    {"red", "red"},
};
static_assert(holds(urines, urine_count));

constexpr Words symptom_groups[] = {
    {"general", "General"},         {"skin", "Skin"}, {"airway", "Throat"},     {"breathing", "Breathing"},
    {"circulation", "Circulation"}, {"pain", "Pain"}, {"bleeding", "Bleeding"},
};
static_assert(holds(symptom_groups, symptom_group_count));

constexpr Words symptoms[] = {
    {"chills", "Chills, shivering"},
    {"rigors", "Rigors, shaking that cannot be held"},
    {"feeling_cold", "Feeling cold"},
    {"headache", "Headache"},
    {"nausea", "Nausea"},
    {"vomiting", "Vomiting"},
    {"feeling_unwell", "Feeling unwell"},
    {"muscle_pain", "Aching muscles"},
    {"dread", "A sense of dread"},
    {"itching", "Itching"},
    {"hives", "Hives"},
    {"rash", "Rash in one place"},
    {"extensive_rash", "Rash over much of the body"},
    {"flushing", "Flushing"},
    {"jaundice", "Yellow skin or eyes"},
    {"swelling", "Swelling of the skin"},
    {"swollen_lips_or_tongue", "Swollen lips or tongue"},
    {"swollen_eyes", "Swollen eyes"},
    {"throat_tightness", "Tight throat, a lump in it"},
    {"hoarseness", "Hoarse voice"},
    {"difficulty_swallowing", "Hard to swallow"},
    {"stridor", "Noise on breathing in"},
    {"breathlessness", "Breathlessness"},
    {"breathless_lying_flat", "Breathless lying flat"},
    {"chest_tightness", "Tight chest"},
    {"cough", "Cough"},
    {"wheeze", "Wheeze"},
    {"blue_lips_or_skin", "Blue lips or skin"},
    {"frothy_sputum", "Pink or frothy sputum"},
    {"collapse", "Faint or collapse"},
    {"floppy", "Limp, floppy"},
    {"raised_neck_veins", "Raised neck veins"},
    {"swollen_legs", "Swollen legs"},
    {"chest_pain", "Pain in the chest"},
    {"abdominal_pain", "Pain in the belly"},
    {"back_pain", "Pain in the back"},
    {"flank_pain", "Pain in the side or loin"},
    {"arm_pain", "Pain up the arm of the cannula"},
    {"nosebleed", "Nosebleed"},
    {"unusual_bleeding", "Unusual bleeding"},
};
static_assert(holds(symptoms, symptom_count));

constexpr Words age_groups[] = {
    {"infant", "under 1 year"},
    {"child", "1 to 15 years"},
    {"youth", "16 or 17 years"},
    {"adult", "18 years or older"},
};
static_assert(holds(age_groups, age_group_count));

constexpr Words joins[] = {{"both", "both"}, {"either", "either"}};
static_assert(holds(joins, join_count));

constexpr Words measures[] = {
    {"systolic", "systolic"},
    {"systolic_or_diastolic", "systolic or diastolic"},
    {"any", "systolic, diastolic or mean"},
};
static_assert(holds(measures, pressure_measures_count));

constexpr Words prompts[] = {
    {"new_symptom", "New symptom"},
    {"fever", "Fever"},
    {"severe_fever", "High fever or a steep rise"},
    {"pressure_fall", "Fall of blood pressure"},
    {"pulse_rise", "Faster pulse"},
    {"saturation_low", "Low oxygen saturation"},
    {"consciousness_worse", "Less alert"},
    {"lung_sounds_new", "New lung sounds"},
    {"site_worse", "Change at the cannula"},
    {"urine_changed", "Change of urine"},
    {"breathing_worse", "Breathing is worse"},
    {"overload_signs", "Signs of overload"},
    {"baseline_symptom", "A symptom before the start"},
    {"baseline_fever", "Fever before the start"},
    {"baseline_out_of_range", "Out of the usual range before the start"},
};
static_assert(holds(prompts, prompt_code_count));

constexpr Words overload_signs[] = {
    {"breathless", "breathlessness or cough"},
    {"crackles", "crackles"},
    {"breathing_faster", "faster breathing"},
    {"saturation_falling", "falling saturation"},
    {"oxygen_needed", "oxygen newly needed"},
    {"pressure_rising", "rising pressure"},
    {"pulse_pressure_wider", "wider pulse pressure"},
    {"neck_veins_raised", "raised neck veins"},
    {"pulse_faster", "faster pulse"},
    {"legs_swollen", "swollen legs"},
};
static_assert(holds(overload_signs, overload_sign_count));

constexpr Words case_questions[] = {
    {"chest_findings", "Is there fluid on the lung, on examination or on an image?"},
    {"fluid_balance", "Is the fluid balance positive, or has weight gone up?"},
    {"heart_marker", "Has a marker of heart strain been taken, and how does it compare with one before?"},
    {"heart_or_kidney", "Is there heart or kidney disease, low weight, low albumin or old anaemia?"},
    {"both_lungs_image", "Does an image show both lungs affected?"},
    {"steady_before", "Was breathing steady in the 12 h before the transfusion?"},
    {"other_lung_cause", "Is there another reason for the lungs to be worse?"},
    {"bag_and_label", "Do person, band, label and bag still agree when read again at the bedside?"},
    {"urine_colour", "What colour is the urine?"},
    {"bag_looks", "Does the bag look as it should: colour, clots, bubbles, leaks?"},
    {"cultures", "Does the blood bank want cultures of the person and of the bag?"},
    {"other_fever_cause", "Was there fever, or a reason for fever, before the transfusion?"},
    {"airway_or_pressure", "Is the airway, the breathing or the pressure affected with it?"},
    {"onset_minutes", "How many minutes after the start did it begin?"},
    {"settled_after_stop", "Did it settle within 10 min of stopping?"},
};
static_assert(holds(case_questions, case_question_count));

constexpr Words actions[] = {
    {"stop", "Stop, and clamp at the patient"},
    {"new_set_saline", "Keep the vein open through a new set"},
    {"identity", "Check identity again at the bedside"},
    {"observe", "Take observations"},
    {"inspect", "Look at the bag"},
    {"call_clinician", "Call the responsible clinician"},
    {"call_blood_bank", "Call the blood bank"},
    {"keep_bag", "Keep the bag and the set, and return them"},
    {"samples", "Take samples"},
    {"urine", "Keep a urine sample"},
    {"report", "Fill in the report"},
};
static_assert(holds(actions, action_kind_count));

constexpr std::string_view action_sentences[] = {
    "Stop the transfusion and clamp the line at the patient. Nothing more of it goes in.",
    "Run 0.9 % saline through a new set. Do not flush the blood that stands in the old one.",
    "Read person, band, label and bag again at the bedside, and say what differs.",
    "Take a full set of observations now, and again as these rules say.",
    "Look at the bag: colour, clots, bubbles, leaks.",
    "Call the responsible clinician. For trouble with airway, breathing or circulation: emergency help.",
    "Call the blood bank, and ask whether another bag is affected.",
    "Do not discard the bag. Return it with the set on it and its sharp end covered.",
    "Take the samples that the blood bank asks for, away from the arm with the cannula.",
    "Keep the first urine that is passed, and note its colour.",
    "Write the report for the blood bank, with times, volume, signs and what was done.",
};
static_assert(sizeof action_sentences / sizeof *action_sentences == action_kind_count);

constexpr Words restarts[] = {
    {"no", "Not to be restarted"},
    {"cannot_tell", "Cannot be told yet"},
    {"on_a_clinicians_word", "Only on a clinician's word"},
};
static_assert(holds(restarts, restart_count));

constexpr std::string_view restart_sentences[] = {
    "Do not restart this bag.",
    "Do not restart: what has to be known for it is not recorded.",
    "These rules call it mild. Whether it goes on is a clinician's decision, never that of this tool.",
};
static_assert(sizeof restart_sentences / sizeof *restart_sentences == restart_count);

constexpr Words restart_bars[] = {
    {"rules_never", "These rules never restart a bag after a reaction."},
    {"identity_differs", "Person, band, label and bag do not agree."},
    {"identity_not_checked", "Identity has not been checked again."},
    {"severe_fever", "The fever is more than mild by these rules."},
    {"pressure_fall", "Blood pressure has fallen."},
    {"symptom_not_mild", "A symptom is there that is not among the mild ones."},
    {"other_sign", "A sign has changed that is not among the mild ones."},
    {"not_all_recorded", "Not every sign is recorded, at baseline and now."},
    {"past_the_limit", "The time to be all in has passed: stopping stopped no clock."},
};
static_assert(holds(restart_bars, restart_bar_count));

constexpr Words score_limits[] = {
    {"not_for_this_age", "The early-warning score is for people of 16 years or older."},
    {"age_not_recorded", "The age is not recorded: the early-warning score is for 16 years or older."},
    {"not_in_pregnancy", "The early-warning score does not apply in pregnancy."},
    {"incomplete", "Not every part is recorded: the score is at least this."},
};
static_assert(holds(score_limits, score_limit_count));

constexpr Words score_parts[] = {
    {"respirations", "Respirations"},
    {"saturation", "Oxygen saturation"},
    {"oxygen", "Oxygen or air"},
    {"systolic", "Systolic pressure"},
    {"pulse", "Pulse"},
    {"consciousness", "Level of consciousness"},
    {"temperature", "Temperature"},
};
static_assert(holds(score_parts, score_part_count));

// What the chart of responses says (Royal College of Physicians, 2017, chart 4), in our words. Its intervals of 12 h
// and of 4 to 6 h are not told: they are for a ward's round, and every set of rules here looks more often than that
// while blood runs.
constexpr Words score_bands[] = {
    {"zero", "The chart asks for nothing sooner than the transfusion's own checks: these stay."},
    {"low", "The chart asks for a registered nurse's assessment. The transfusion's own checks stay."},
    {"three_in_one", "The chart asks for observations at least every hour, and that the team is told. The "
                     "transfusion's own checks stay."},
    {"medium", "The chart asks for observations at least every hour, and an urgent assessment. The transfusion's own "
               "checks stay."},
    {"high", "The chart asks for continuous observation, and an emergency assessment. The transfusion's own checks "
             "stay."},
};
static_assert(holds(score_bands, score_band_count));

bool given(const Figure& figure) { return figure.kind != FigureKind::none; }

}  // namespace

std::string_view code(TemperatureUnit v) { return code_in(temperature_units, v); }
std::string_view code(Sign v) { return code_in(signs, v); }
std::string_view code(Consciousness v) { return code_in(consciousnesses, v); }
std::string_view code(Lungs v) { return code_in(lung_sounds, v); }
std::string_view code(Site v) { return code_in(sites, v); }
std::string_view code(Urine v) { return code_in(urines, v); }
std::string_view code(SymptomGroup v) { return code_in(symptom_groups, v); }
std::string_view code(Symptom v) { return code_in(symptoms, v); }
std::string_view code(AgeGroup v) { return code_in(age_groups, v); }
std::string_view code(Join v) { return code_in(joins, v); }
std::string_view code(PressureMeasures v) { return code_in(measures, v); }
std::string_view code(PromptCode v) { return code_in(prompts, v); }
std::string_view code(OverloadSign v) { return code_in(overload_signs, v); }
std::string_view code(CaseQuestion v) { return code_in(case_questions, v); }
std::string_view code(ActionKind v) { return code_in(actions, v); }
std::string_view code(Restart v) { return code_in(restarts, v); }
std::string_view code(RestartBar v) { return code_in(restart_bars, v); }
std::string_view code(ScoreLimit v) { return code_in(score_limits, v); }
std::string_view code(ScorePart v) { return code_in(score_parts, v); }
std::string_view code(ScoreBand v) { return code_in(score_bands, v); }

std::string_view name(TemperatureUnit v) { return name_in(temperature_units, v); }
std::string_view name(Sign v) { return name_in(signs, v); }
std::string_view name(Consciousness v) { return name_in(consciousnesses, v); }
std::string_view name(Lungs v) { return name_in(lung_sounds, v); }
std::string_view name(Site v) { return name_in(sites, v); }
std::string_view name(Urine v) { return name_in(urines, v); }
std::string_view name(SymptomGroup v) { return name_in(symptom_groups, v); }
std::string_view name(Symptom v) { return name_in(symptoms, v); }
std::string_view name(AgeGroup v) { return name_in(age_groups, v); }
std::string_view name(Join v) { return name_in(joins, v); }
std::string_view name(PressureMeasures v) { return name_in(measures, v); }
std::string_view name(PromptCode v) { return name_in(prompts, v); }
std::string_view name(OverloadSign v) { return name_in(overload_signs, v); }
std::string_view name(ActionKind v) { return name_in(actions, v); }
std::string_view name(Restart v) { return name_in(restarts, v); }
std::string_view name(ScorePart v) { return name_in(score_parts, v); }

std::string prompt_sentence(PromptCode code, Sign sign, const std::array<Figure, 3>& figures) {
    const auto& [baseline, now, limit] = figures;
    if (!given(now)) return joined({name(code), "."});
    const DayClock no_day;
    std::string out = joined({name(sign), " ", figure_text(now, no_day)});
    if (code < PromptCode::baseline_symptom)
        out += joined({" now, ",
                       given(baseline) ? figure_text(baseline, no_day) : std::string(not_recorded_text),
                       " at baseline"});
    if (given(limit)) out += joined({" (limit ", figure_text(limit, no_day), ")"});
    return out + ".";
}

std::string_view action_sentence(ActionKind v) {
    const auto i = static_cast<std::size_t>(v);
    return i < action_kind_count ? action_sentences[i] : std::string_view();
}

std::string_view sentence(CaseQuestion v) { return name_in(case_questions, v); }
std::string_view sentence(Restart v) {
    const auto i = static_cast<std::size_t>(v);
    return i < restart_count ? restart_sentences[i] : std::string_view();
}
std::string_view sentence(RestartBar v) { return name_in(restart_bars, v); }
std::string_view sentence(ScoreLimit v) { return name_in(score_limits, v); }

std::string_view sentence(ScoreBand v) { return name_in(score_bands, v); }

std::string_view identity_differs_sentence() {
    return "Nothing more of this bag. Tell the blood bank at once: another person may be about to get the bag that was "
           "meant here, or the other way round (common practice, no source).";
}

std::string_view any_symptom_sentence() {
    return "Any new symptom is enough to stop, whether or not a rule is met. "
           "What is not listed here is not ruled out.";
}

std::string_view score_sentence() {
    return "The early-warning score looks at one set alone, not at the change from baseline, and was not made "
           "to find reactions to a transfusion.";
}

}  // namespace hangtime
