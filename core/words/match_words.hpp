#pragma once

/// Spelling and words of core/words/match_codes.hpp. `code(x)` is the spelling in files and output, stable;
/// `name(x)` a label of a few words; `sentence(x)` a whole sentence. No advice on treatment, drugs or doses.

#include "core/component.hpp"
#include "core/words/match_codes.hpp"
#include "core/words/spelling.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace hangtime {

std::string_view code(Abo);
std::string_view code(Rhd);
std::string_view code(ScanReason);
std::string_view code(TypedReason);
std::string_view code(LabelUse);
std::string_view code(MatchField);
std::string_view code(MatchPlace);
std::string_view code(MatchPeople);
std::string_view code(CannotSay);
std::string_view code(MatchStepKind);
std::string_view code(MatchPerson);
std::string_view code(MatchOutcome);
std::string_view code(MatchStanding);
std::string_view code(MatchRefusal);
std::string_view code(Agreement);
std::string_view code(Compatible);
std::string_view code(CompatibleReason);
std::string_view code(GroupsBy);
std::string_view code(PlasmaRule);
std::string_view code(UnknownPlasma);
std::string_view code(WholeBloodRule);
std::string_view code(RhdRule);
std::string_view code(Requirement);
std::string_view code(RequirementState);
std::string_view code(LookFor);

std::string_view name(Abo);               // "AB"
std::string_view name(Rhd);               // "RhD negative"
std::string_view name(ScanReason);        // "not bag data, not kept"
std::string_view name(TypedReason);       // "the check character does not fit"
std::string_view name(LabelUse);          // "for autologous use only"
std::string_view name(MatchField);        // "Donation number"
std::string_view name(MatchPlace);        // "wristband"
std::string_view name(MatchPeople);       // "two people: one reads, ..."
std::string_view name(CannotSay);         // "somebody who knows the person says it"
std::string_view name(MatchStepKind);     // "Ask the person"
std::string_view name(MatchPerson);       // "first person"
std::string_view name(MatchOutcome);      // "the same"
std::string_view name(MatchStanding);     // "matched"
std::string_view name(Agreement);         // "differs"
std::string_view name(Compatible);        // "only by local rule"
std::string_view name(GroupsBy);          // "the laboratory's instruction is followed"
std::string_view name(PlasmaRule);        // "any group"
std::string_view name(UnknownPlasma);     // "AB only"
std::string_view name(WholeBloodRule);    // "the same group only"
std::string_view name(RhdRule);           // "the blood bank decides"
std::string_view name(Requirement);       // "Irradiated"
std::string_view name(RequirementState);  // "not on the label"
std::string_view name(LookFor);           // "Leaks"

/// What a person does next about a scan, an outcome or a refusal.
std::string_view sentence(ScanReason);
std::string_view sentence(TypedReason);
std::string_view sentence(MatchStanding);
std::string_view sentence(MatchRefusal);
std::string_view sentence(CompatibleReason);
/// What a person is asked to look for: "No leak anywhere, also when it is pressed gently."
std::string_view sentence(LookFor);
/// What to do when something seen is not right.
std::string_view look_failed_sentence();

/// "A, RhD negative"; what is missing is said: "A, RhD not stated", "not recorded".
std::string group_text(std::optional<Abo> abo, std::optional<Rhd> rhd);

}  // namespace hangtime
