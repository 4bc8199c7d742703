#pragma once

/// What another protocol would change in given transfusions: old against new, only what differs. A case is a
/// transfusion file; which protocol it asks for does not matter here, both are tried on it.

#include "core/protocol/protocol.hpp"
#include "core/sheet/document.hpp"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

struct DemoCase {
    std::string name;  // "02-frail-does-not-fit"
    std::string text;  // the file
};

/// One answer that is not the same.
struct CaseLine {
    std::string what, before, after;
};

struct CaseChange {
    std::string title;            // "Frail does not fit"
    std::string about;            // "Red cells, 300 mL"; empty where it cannot be told
    std::vector<CaseLine> lines;  // empty: nothing changes
    bool covered = true;          // false: not covered under any protocol
};

std::vector<CaseChange> case_changes(const Protocol& before, const Protocol& after, std::span<const DemoCase> cases);

/// In how many of them something changes.
std::size_t changed_cases(std::span<const CaseChange> changes);
/// "4 of 12 cases come out differently.", "Nothing changes in these 12 cases."
std::string changed_sentence(std::span<const CaseChange> changes);

sheet::Document case_sheet(const Protocol& before, const Protocol& after, std::span<const DemoCase> cases);

/// "02-frail-does-not-fit" -> "Frail does not fit"
std::string case_title(std::string_view name);

}  // namespace hangtime
