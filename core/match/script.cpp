#include "core/match/script.hpp"

namespace hangtime {

namespace {

MatchStepKind first_step(const MatchRules& rules, bool can_say) {
    if (can_say) return MatchStepKind::ask_person;
    switch (rules.cannot_say.value) {
        case CannotSay::wristband_only: return MatchStepKind::wristband_only;
        case CannotSay::ask_companion: return MatchStepKind::ask_companion;
    }
    return MatchStepKind::wristband_only;
}

void add_pass(MatchScript& script, const MatchRules& rules, bool can_say, std::uint8_t pass) {
    const bool read_back = rules.people.value == MatchPeople::two_read_back;
    const MatchPerson reader = pass == 1 ? MatchPerson::first : MatchPerson::second;
    const MatchPerson other = pass == 1 ? MatchPerson::second : MatchPerson::first;
    const MatchPerson comparer = read_back ? other : reader;
    MatchStep step;
    step.pass = pass;
    step.reader = reader;
    step.comparer = comparer;
    // Both hear the person and both see the bag, so the second time through only the fields are read again.
    if (!read_back || pass == 1) {
        step.kind = first_step(rules, can_say);
        step.from = MatchPlace::wristband;
        script.add(step);
    }
    for (const MatchLine& line : rules.lines) {
        MatchStep field = step;
        field.kind = MatchStepKind::compare;
        field.field = line.field;
        field.from = line.read_from;
        field.against = line.compare_with;
        field.basis = line.basis;
        script.add(field);
    }
    if (!read_back || pass == 2) {
        MatchStep look = step;
        look.kind = MatchStepKind::look;
        look.from = MatchPlace::bag;
        if (read_back) look.reader = look.comparer = MatchPerson::both;
        script.add(look);
    }
}

}  // namespace

MatchScript match_script(const MatchRules& rules, bool can_say) {
    MatchScript script;
    add_pass(script, rules, can_say, 1);
    if (rules.people.value != MatchPeople::one) add_pass(script, rules, can_say, 2);
    return script;
}

MatchScript emergency_script(const MatchRules& rules) {
    MatchScript script;
    const int passes = rules.people.value == MatchPeople::one ? 1 : 2;
    for (int pass = 1; pass <= passes; ++pass) {
        MatchStep step;
        step.pass = static_cast<std::uint8_t>(pass);
        step.reader = step.comparer = pass == 1 ? MatchPerson::first : MatchPerson::second;
        step.kind = MatchStepKind::wristband_only;
        step.from = MatchPlace::wristband;
        script.add(step);
        step.kind = MatchStepKind::read;
        step.from = MatchPlace::bag;
        for (const MatchField field : {MatchField::component, MatchField::unit_group, MatchField::expiry,
                                       MatchField::donation_number}) {
            step.field = field;
            script.add(step);
        }
        step.field = {};
        step.kind = MatchStepKind::look;
        script.add(step);
    }
    return script;
}

std::optional<std::uint8_t> MatchState::next(const MatchScript& script) const {
    if (standing == MatchStanding::differed || passed.size() >= script.size()) return std::nullopt;
    return static_cast<std::uint8_t>(passed.size());
}

Advanced advance(const MatchState& state, const MatchScript& script, const MatchEvent& event) {
    const auto refused = [&state](MatchRefusal why) { return Advanced{state, why}; };
    if (state.standing == MatchStanding::differed) return refused(MatchRefusal::closed);
    if (state.last && event.at < *state.last) return refused(MatchRefusal::earlier);
    Advanced out{state, MatchRefusal::none};
    MatchState& next = out.state;
    next.last = event.at;
    if (event.outcome == MatchOutcome::interrupted) {
        next.passed.clear();
        next.standing = MatchStanding::interrupted;
        if (next.restarts < 255) ++next.restarts;
        return out;
    }
    // A difference counts whenever it is seen, also after the last step: nothing is safer than to stop.
    if (event.outcome == MatchOutcome::differed) {
        if (event.step >= script.size()) return refused(MatchRefusal::not_next);
        next.standing = MatchStanding::differed;
        next.differed_step = event.step;
        return out;
    }
    const auto expected = state.next(script);
    if (!expected) return refused(MatchRefusal::complete);
    if (event.step != *expected) return refused(MatchRefusal::not_next);
    next.passed.add(event.at);
    next.standing = next.passed.size() == script.size() ? MatchStanding::passed : MatchStanding::under_way;
    return out;
}

std::optional<Instant> good_until(const MatchState& state, const MatchRules& rules) {
    const bool counts =
        state.standing == MatchStanding::under_way || state.standing == MatchStanding::passed;
    if (!counts || state.passed.empty()) return std::nullopt;
    return state.passed.back() + rules.stale.value;
}

MatchStanding standing_at(const MatchState& state, const MatchRules& rules, Instant now,
                          std::optional<Instant> hung) {
    const auto until = good_until(state, rules);
    if (!until || now <= *until) return state.standing;
    if (state.standing == MatchStanding::passed && hung && *hung <= *until) return state.standing;
    return MatchStanding::stale;
}

bool may_be_hung(const MatchState& state, const MatchRules& rules, Instant at) {
    return state.standing == MatchStanding::passed && !state.passed.empty() && at >= state.passed.back() &&
           standing_at(state, rules, at, std::nullopt) == MatchStanding::passed;
}

}  // namespace hangtime
