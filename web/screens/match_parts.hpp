#pragma once

/// What the match shows on more than one screen: bag beside tag, and whether the groups fit. Each returns its
/// height.

#include "core/match/compare.hpp"
#include "core/match/compatible.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/ui.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace hangtime::screens {

float bag_beside_tag(ui::Ui& ui, ui::Box box, const UnitComparison& unit);
/// The four fields, character by character; ids from `prefix`.
float fields_side_by_side(ui::Ui& ui, ui::Box box, std::string_view prefix, const UnitComparison& unit);
float groups_answer(ui::Ui& ui, ui::Box box, const Compatibility& compatibility);

/// Asks, before the first step, whether the person can say who they are; `says` is set by a touch.
float who_says(ui::Ui& ui, ui::Box box, const MatchRules& rules, std::optional<bool>& says);
/// How these rules want it done: how many people, whether the laboratory's form is used, how long it counts.
float match_rules_note(ui::Ui& ui, ui::Box box, const MatchRules& rules);

/// A verdict as high as its words need.
float sealed(ui::Ui& ui, std::string_view id, ui::Box box, ui::Seal seal, std::string_view title,
             std::string_view detail);
std::string with_capital(std::string_view text);

} // namespace hangtime::screens
