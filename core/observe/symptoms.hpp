#pragma once

/// What is known about each symptom of the tick list: its group, whether it can be part of a mild reaction,
/// and the published list that it is from.

#include "core/observe/observation.hpp"

#include <array>
#include <string_view>

namespace hangtime {

/// Where a symptom is listed. Each was read in the text of the list that is named (a few stand in several).
enum class SymptomList : std::uint8_t {
    report_form,     // CDC, NHSN form 57.304, check-list of signs and symptoms
    allergic_table,  // CDC, NHSN Hemovigilance protocol v1.3.1, Appendix A, allergic reaction
    haemolysis,      // Australian Red Cross Lifeblood, acute haemolytic reactions (nosebleed: from memory)
    nz_severe,       // NZ Blood Service, adverse reaction guidelines, prompts for a severe reaction
    overload,        // ISBT/IHN/AABB 2018 definition of overload, and TRIP's notes to it
    febrile,         // NZ Blood handbook 7.4 and Practical Transfusion Medicine, chapter 8
    anaphylaxis,     // Newfoundland and Labrador provincial table of reaction types
};

struct SymptomFacts {
    SymptomGroup group{};
    SymptomList list{};
    bool mild = false;  // can be all there is of a mild reaction: itch, hives, flushing, a local rash
};

inline constexpr std::array<SymptomFacts, symptom_count> symptom_facts = {{
    {SymptomGroup::general, SymptomList::report_form},      // chills
    {SymptomGroup::general, SymptomList::report_form},      // rigors
    {SymptomGroup::general, SymptomList::febrile},          // feeling_cold
    {SymptomGroup::general, SymptomList::febrile},          // headache
    {SymptomGroup::general, SymptomList::report_form},      // nausea
    {SymptomGroup::general, SymptomList::report_form},      // vomiting
    {SymptomGroup::general, SymptomList::febrile},          // feeling_unwell
    {SymptomGroup::general, SymptomList::febrile},          // muscle_pain
    {SymptomGroup::general, SymptomList::haemolysis},       // dread
    {SymptomGroup::skin, SymptomList::report_form, true},   // itching
    {SymptomGroup::skin, SymptomList::report_form, true},   // hives
    {SymptomGroup::skin, SymptomList::report_form, true},   // rash
    {SymptomGroup::skin, SymptomList::nz_severe},           // extensive_rash
    {SymptomGroup::skin, SymptomList::report_form, true},   // flushing
    {SymptomGroup::skin, SymptomList::report_form},         // jaundice
    {SymptomGroup::skin, SymptomList::allergic_table},      // swelling
    {SymptomGroup::airway, SymptomList::allergic_table},    // swollen_lips_or_tongue
    {SymptomGroup::skin, SymptomList::allergic_table},      // swollen_eyes
    {SymptomGroup::airway, SymptomList::allergic_table},    // throat_tightness
    {SymptomGroup::airway, SymptomList::allergic_table},    // hoarseness
    {SymptomGroup::airway, SymptomList::allergic_table},    // difficulty_swallowing
    {SymptomGroup::airway, SymptomList::allergic_table},    // stridor
    {SymptomGroup::breathing, SymptomList::report_form},    // breathlessness
    {SymptomGroup::breathing, SymptomList::overload},       // breathless_lying_flat
    {SymptomGroup::breathing, SymptomList::anaphylaxis},    // chest_tightness
    {SymptomGroup::breathing, SymptomList::report_form},    // cough
    {SymptomGroup::breathing, SymptomList::allergic_table}, // wheeze
    {SymptomGroup::breathing, SymptomList::overload},       // blue_lips_or_skin
    {SymptomGroup::breathing, SymptomList::overload},       // frothy_sputum
    {SymptomGroup::circulation, SymptomList::allergic_table}, // collapse
    {SymptomGroup::circulation, SymptomList::allergic_table}, // floppy
    {SymptomGroup::circulation, SymptomList::nz_severe},    // raised_neck_veins
    {SymptomGroup::circulation, SymptomList::overload},     // swollen_legs
    {SymptomGroup::pain, SymptomList::haemolysis},          // chest_pain
    {SymptomGroup::pain, SymptomList::report_form},         // abdominal_pain
    {SymptomGroup::pain, SymptomList::report_form},         // back_pain
    {SymptomGroup::pain, SymptomList::report_form},         // flank_pain
    {SymptomGroup::pain, SymptomList::nz_severe},           // arm_pain
    {SymptomGroup::bleeding, SymptomList::haemolysis},      // nosebleed
    {SymptomGroup::bleeding, SymptomList::haemolysis},      // unusual_bleeding
}};

constexpr const SymptomFacts& facts_of(Symptom s) { return symptom_facts[static_cast<std::size_t>(s)]; }

constexpr Symptoms symptoms_where(bool (*wanted)(const SymptomFacts&)) {
    Symptoms out;
    for (int i = 0; i < symptom_count; ++i)
        if (wanted(symptom_facts[static_cast<std::size_t>(i)])) out.add(static_cast<Symptom>(i));
    return out;
}
inline constexpr Symptoms mild_symptoms = symptoms_where([](const SymptomFacts& f) { return f.mild; });
inline constexpr Symptoms breathing_symptoms =
    symptoms_where([](const SymptomFacts& f) { return f.group == SymptomGroup::breathing; });

}  // namespace hangtime
