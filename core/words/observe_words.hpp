#pragma once

/// Spelling and words of the codes of observations and reactions. As in spelling.hpp and words.hpp: `code`
/// is stable, `name` is a label, `...sentence` a whole sentence. No treatment, no drugs, no doses.

#include "core/words/format.hpp"
#include "core/words/observe_codes.hpp"

#include <array>
#include <string>
#include <string_view>

namespace hangtime {

std::string_view code(TemperatureUnit);
std::string_view code(Sign);
std::string_view code(Consciousness);
std::string_view code(Lungs);
std::string_view code(Site);
std::string_view code(Urine);
std::string_view code(SymptomGroup);
std::string_view code(Symptom);
std::string_view code(AgeGroup);
std::string_view code(Join);
std::string_view code(PressureMeasures);
std::string_view code(PromptCode);
std::string_view code(OverloadSign);
std::string_view code(CaseQuestion);
std::string_view code(ActionKind);
std::string_view code(Restart);
std::string_view code(RestartBar);
std::string_view code(ScoreLimit);
std::string_view code(ScorePart);
std::string_view code(ScoreBand);

std::string_view name(TemperatureUnit);   // "°C"
std::string_view name(Sign);              // "Temperature"
std::string_view name(Consciousness);     // "new confusion"
std::string_view name(Lungs);             // "crackles"
std::string_view name(Site);
std::string_view name(Urine);
std::string_view name(SymptomGroup);      // "Skin"
std::string_view name(Symptom);           // "Itching"
std::string_view name(AgeGroup);          // "1 to 15 years"
std::string_view name(Join);              // "both"
std::string_view name(PressureMeasures);  // "systolic or diastolic"
std::string_view name(PromptCode);        // "Fever"
std::string_view name(OverloadSign);      // "crackles"
std::string_view name(ActionKind);        // "Stop, and clamp at the patient"
std::string_view name(Restart);
std::string_view name(ScorePart);

/// "Temperature 38.4 °C now, 36.9 °C at baseline (limit 38.0 °C)."
std::string prompt_sentence(PromptCode code, Sign sign, const std::array<Figure, 3>& figures);
/// What an action is, in one or two sentences.
std::string_view action_sentence(ActionKind);
std::string_view sentence(CaseQuestion);  // a question, and it ends in "?"
std::string_view sentence(Restart);
std::string_view sentence(RestartBar);
std::string_view sentence(ScoreLimit);
std::string_view sentence(ScoreBand);     // what the published chart asks for

/// What goes with every list of prompts, whether or not there is one.
std::string_view any_symptom_sentence();
/// Where the check of identity after a stop differs.
std::string_view identity_differs_sentence();  // any new symptom is enough to stop
std::string_view score_sentence();        // what the early-warning score is not

/// Asked or said while a set is entered (observe_entry_words.cpp).
std::string_view question(Sign);  // "On oxygen, or on air?"
std::string impossible_sentence(Sign, const Figure& least, const Figure& most);
std::string unusual_sentence(Sign, const Figure& value, const Figure& least, const Figure& most);
std::string_view not_below_systolic_sentence();
std::string_view mean_not_between_sentence();
std::string_view pressures_close_sentence();
std::string_view nothing_recorded_sentence();

}  // namespace hangtime
