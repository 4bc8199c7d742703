#pragma once

/// What was entered so far, of a round or of a sequence, as a document: for paper while there is no plan yet. It says so.

#include "core/protocol/protocol.hpp"
#include "core/round/draft.hpp"
#include "core/round/sequence_draft.hpp"
#include "core/sheet/document.hpp"

#include <string_view>

namespace hangtime {

/// `rules` is null where none are chosen; `refused` says what is missing or wrong, empty where nothing is.
sheet::Document round_entries_sheet(const rounds::Draft& draft, const Protocol* rules, std::string_view refused);
sheet::Document sequence_entries_sheet(const rounds::SequenceDraft& draft, const Protocol* rules,
                                       std::string_view refused);

}  // namespace hangtime
