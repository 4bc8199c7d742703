#pragma once

/// A debrief that was saved (what `hangtime rehearse --as json` writes), read back: to set two attempts side by side,
/// or to count those of a class. Described in core/rehearse/result.schema.json. It holds no names, and nothing else that
/// says who rehearsed: a key that is not known is refused.

#include "core/quantity.hpp"
#include "core/clock.hpp"
#include "core/component.hpp"
#include "core/result.hpp"
#include "core/sheet/document.hpp"
#include "core/words/rehearse_codes.hpp"
#include "core/words/session_codes.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime {

struct SavedPart {
    ScoreKind kind{};
    std::string item;          // "Early check on time"
    bool met = false;
    std::int32_t points = 0, most = 0;
    std::string came;          // "14:09, 2 min after 14:07."
    std::string rule, from;    // the rule may be empty: the protocol's
    std::optional<Instant> due, done;
};

struct SavedUnit {
    Component component{};
    Volume bag{}, given{}, wasted{};
    bool started = false, ended = false, stopped = false;
    Seconds over_limit{}, stood_still{};
    std::int32_t checks = 0, late = 0, missed = 0;
};

struct SavedDebrief {
    std::string scenario, protocol;     // ids
    std::int32_t case_number = 0;
    std::int32_t points = 0, most = 0;
    std::vector<SavedPart> parts;
    std::vector<SavedUnit> units;
    std::vector<Refusal> refused;       // of each thing that was tried and that the log refused
};

/// True where a text seems to be such a file; which of several kinds somebody opened.
bool looks_like_debrief(std::string_view text);

/// All of it, or the first thing that is wrong with it.
Result<SavedDebrief> read_debrief(std::string_view text);

/// One of them, as far as the file tells.
sheet::Document saved_debrief_sheet(const SavedDebrief& debrief, std::string_view title);

/// Two of them side by side. `title` is the scenario's, empty where it is not known.
sheet::Document compared_debriefs(const SavedDebrief& first, const SavedDebrief& second, std::string_view title);

}  // namespace hangtime
