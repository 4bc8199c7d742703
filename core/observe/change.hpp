#pragma once

/// What changed from the baseline, under one named set of rules: a list of prompts, each with its figures and
/// where its rule is from. There is no result that says that there is no reaction: what is not met is not
/// listed, what could not be compared is listed as such, and any new symptom is enough to stop.
///
/// How a session and a screen use it: take the check of kind `baseline` as the first set (the last one before
/// the start), call `baseline_of` before the start and `change_from` for each later set, with the rule set
/// that the protocol has first or that was chosen. Keep nothing: a corrected log gives other prompts. An
/// early check "shows no flagged change" where `stops()` is false and `missing` holds no sign that the ward
/// asks for.

#include "core/observe/overload.hpp"
#include "core/observe/person.hpp"
#include "core/protocol/observe_rules.hpp"

#include <array>

namespace hangtime {

struct Prompt {
    PromptCode code{};
    Severity severity{};
    Sign sign{};
    std::array<Figure, 3> figures{};  // baseline, now, limit; none where the sign is not a number
    Basis basis{};                    // of the rule that is met
    PressureFor pressure{};           // for pressure_fall
    Symptoms symptoms{};              // for new_symptom and baseline_symptom
    OverloadSigns overload{};         // for breathing_worse and overload_signs
};
using Prompts = FixedList<Prompt, 24>;

/// A sign that could not be compared, and on which side it is missing.
struct NotCompared {
    Sign sign{};
    bool in_baseline = false, now = false;
};

struct Change {
    Prompts prompts;
    FixedList<NotCompared, sign_count> missing;

    const Prompt* find(PromptCode code) const;
    bool stops() const;  // any prompt that says: hold and ask
};

/// `now` against `baseline`. A rule with two limbs of which one cannot be told counts as met when the other
/// one is; a rule that cannot be told at all is not listed, and its sign is among `missing`.
Change change_from(const ObserveRules& rules, const RuleSet& set, const Person& person,
                   const Observation& baseline, const Observation& now);

/// What is said of a baseline before the start: symptoms, a temperature above the ward's, and values out of
/// the bands of the early-warning score (for 16 years and older) or of the rule set's own limits.
Prompts baseline_of(const ObserveRules& rules, const RuleSet& set, const Person& person,
                    const Observation& baseline);

/// What the published case definitions would ask about next, in their order; questions, never an answer.
using CaseQuestions = FixedList<CaseQuestion, case_question_count>;
CaseQuestions questions_for(const Change& change);

/// The rule behind a prompt in words: "at least 38.0 °C and up by at least 1.0 °C".
std::string rule_text_of(const ObserveRules& rules, const RuleSet& set, const Prompt& prompt);

}  // namespace hangtime
