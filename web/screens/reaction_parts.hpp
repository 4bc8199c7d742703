#pragma once

/// What the files of the reaction's screen share; for web/screens/reaction_*.cpp only.

#include "core/session/log.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string_view>
#include <vector>

namespace hangtime::screens::reaction_parts {

inline bool has_started(const Session& s) { return s.state.times.start && s.state.times.start->happened; }

/// The records that stand for the stop (the last one), or for an action since then.
inline std::vector<std::int32_t> records_of(const Log& log, EventKind kind, std::optional<ActionKind> action = {}) {
    std::vector<std::int32_t> out;
    const std::optional<Instant> since = log.session().reaction;
    for (const Event& e : log.events()) {
        if (log.is_void(e.number) || e.kind != kind)
            continue;
        if (action && (facts_of<facts::ActionTicked>(e).action != *action || (since && e.at.at < *since)))
            continue;
        if (!action)
            out.clear(); // the last one is the one that counts
        out.push_back(e.number);
    }
    return out;
}

/// All records of an action since the stop, those that were put right too: a correction that is taken back alone would
/// bring back what it stood in the place of.
inline std::vector<std::int32_t> every_record_of(const Log& log, ActionKind action) {
    std::vector<std::int32_t> out;
    const std::optional<Instant> since = log.session().reaction;
    for (const Event& e : log.events())
        if (e.kind == EventKind::action_done && facts_of<facts::ActionTicked>(e).action == action &&
            !(since && e.at.at < *since))
            out.push_back(e.number);
    return out;
}

inline float heading(ui::Ui& ui, ui::Box& box, std::string_view id, std::string_view text) {
    const float top = box.y;
    ui::subheading(ui, id, box.cut_top(ui.line_height(ui::Face::small), ui.px(6)), text);
    return box.y - top;
}

} // namespace hangtime::screens::reaction_parts
