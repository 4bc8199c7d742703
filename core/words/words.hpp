#pragma once

/// What every code says to a person: the only place in the product that has these words. Short, plain and
/// calm; no advice on treatment, drugs or doses. Screens, sheets and the command all take them from here.
///
/// `name(x)` is a label of a few words, without a full stop; `...sentence(x)` is a whole one.

#include "core/component.hpp"
#include "core/words/codes.hpp"
#include "core/words/figure.hpp"
#include "core/words/format.hpp"

#include <array>
#include <string>
#include <string_view>

namespace hangtime {

std::string_view name(Component);           // "Red cells"
std::string_view name(NotCovered);          // "Albumin"
std::string_view name(LimitKind);           // "Hang by"
std::string_view name(Anchor);              // "issue", as in "30 min from issue"
std::string_view name(WindowState);         // "open"
std::string_view name(CheckKind);           // "Early check"
std::string_view name(CheckState);          // "done late"
std::string_view name(Verdict);             // "Does not fit"
std::string_view name(StageKind);           // "Slow stage"
std::string_view name(CeilingKind);         // "highest rate by weight"
std::string_view name(RateRule);            // "raised, so that the limit is met"
std::string_view name(Severity);            // "Caution"
std::string_view name(Grade);               // "common practice, no source"
std::string_view name(Clearing);            // "must be cleared with saline at the end"
std::string_view name(Primed);              // "primed with component"
std::string_view name(CountsFrom);          // "from the start"
std::string_view name(SlowFrom);            // "from the first component in the vein"
std::string_view name(ExpiryRule);          // "start before it expires"
std::string_view name(LineKind);            // "plain set"
std::string_view name(DeviceKind);          // "pump"
std::string_view name(Answer);              // "not recorded"
std::string_view name(StepKind);            // "Raise the rate"

/// "Not covered here: follow your own procedure."
std::string_view not_covered_sentence();

/// "Observations at the start"
std::string_view check_title(CheckKind);

/// What a limit asks for, and what to do when it has passed.
std::string_view meaning_sentence(LimitKind);
std::string_view passed_sentence(LimitKind);

/// Why it does not fit, or is short of reserve.
std::string_view sentence(Reason);

/// A whole sentence with its figures, in the order that codes.hpp states.
std::string warning_text(Warning code, const std::array<Figure, 3>& figures, const DayClock& day);
/// "Ask the blood bank for a split of at most 217.5 mL."
std::string advice_text(Advice code, const std::array<Figure, 2>& figures, const DayClock& day);

/// Said once on every screen that can be printed and on every sheet: what this is not, and what comes first.
inline constexpr std::size_t caution_count = 4;
std::string_view caution(std::size_t index);

/// Stands beside the name of a protocol that no ward has adopted.
std::string_view example_label();  // "example, not adopted by a ward"

}  // namespace hangtime
