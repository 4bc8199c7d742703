#include "core/session/fold.hpp"

namespace hangtime::fold {

// Before the bag hangs; afterwards nothing is left to decide.
Refused groups_judged(Session& s, const Event& e) {
    if (s.phase < Phase::here) return Refusal::not_issued;
    if (unit_is_closed(s)) return Refusal::unit_closed;
    if (s.state.times.spiked) return Refusal::spiked_already;
    if (s.state.run.ended) return Refusal::ended_already;
    const auto& f = facts_of<facts::GroupsJudged>(e);
    // What fits needs nobody's word, and what clashes has nobody's.
    if (f.by != GroupsBy::answer && (!settles(f.because, f.by) || settles(f.because, GroupsBy::answer)))
        return Refusal::groups_not_decidable;
    s.groups = GroupsNote{f.because, f.unmet, f.by, f.reason, f.role, e.at.at, e.number};
    return std::nullopt;
}

// The last total counts; it may be put lower, because somebody may have read it wrongly.
Refused other_fluid(Session& s, const Event& e) {
    if (!s.state.times.start || !s.state.times.start->happened) return Refusal::not_started;
    s.other_fluid = facts_of<facts::OtherFluid>(e).total;
    return std::nullopt;
}

}  // namespace hangtime::fold
