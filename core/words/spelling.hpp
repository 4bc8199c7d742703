#pragma once

/// The spelling of every code: as it stands in files, in output and in tests. Stable: a spelling is never
/// changed, and the reader of protocols, the writer and the output all take it from here.
///
/// `code(x)` spells a value (an empty text for a number that is no value); `code_from<E>(text)` reads one.
/// Components have theirs in core/component.hpp.

#include "core/words/codes.hpp"

#include <optional>
#include <string_view>

namespace hangtime {

std::string_view code(Grade);
std::string_view code(Anchor);
std::string_view code(LimitKind);
std::string_view code(WindowState);
std::string_view code(CheckKind);
std::string_view code(CheckState);
std::string_view code(Verdict);
std::string_view code(Reason);
std::string_view code(CeilingKind);
std::string_view code(RateRule);
std::string_view code(StageKind);
std::string_view code(Severity);
std::string_view code(Warning);
std::string_view code(Advice);
std::string_view code(Clearing);
std::string_view code(Primed);
std::string_view code(CountsFrom);
std::string_view code(SlowFrom);
std::string_view code(ExpiryRule);
std::string_view code(LineKind);
std::string_view code(DeviceKind);
std::string_view code(Answer);
std::string_view code(StepKind);
std::string_view code(SumKind);

/// The value that is spelled so, or none.
template <class E>
std::optional<E> code_from(std::string_view text) {
    for (int i = 0;; ++i) {
        const std::string_view spelled = code(static_cast<E>(i));
        if (spelled.empty()) return std::nullopt;
        if (spelled == text) return static_cast<E>(i);
    }
}

/// How many values E has.
template <class E>
int code_count() {
    int n = 0;
    while (!code(static_cast<E>(n)).empty()) ++n;
    return n;
}

}  // namespace hangtime
