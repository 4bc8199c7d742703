#include "core/session/fold.hpp"

namespace hangtime {

std::size_t facts_index(EventKind kind) {
    switch (kind) {
    case EventKind::opened: return Facts(facts::Opened{}).index();
    case EventKind::clock_set: return Facts(facts::ClockSet{}).index();
    case EventKind::protocol_changed: return Facts(facts::ProtocolChanged{}).index();
    case EventKind::linked: return Facts(facts::Linked{}).index();
    case EventKind::ordered: return Facts(facts::Ordered{}).index();
    case EventKind::recipient_told: return Facts(facts::RecipientTold{}).index();
    case EventKind::equipment_chosen: return Facts(facts::EquipmentChosen{}).index();
    case EventKind::item_noted: return Facts(facts::ItemNoted{}).index();
    case EventKind::issued: return Facts(facts::Issued{}).index();
    case EventKind::storage_noted: return Facts(facts::StorageNoted{}).index();
    case EventKind::bag_temperature: return Facts(facts::BagTemperature{}).index();
    case EventKind::match_noted: return Facts(facts::MatchNoted{}).index();
    case EventKind::primed: return Facts(facts::PrimedWith{}).index();
    case EventKind::device_total: return Facts(facts::DeviceTotal{}).index();
    case EventKind::started:
    case EventKind::rate_set: return Facts(facts::RateSet{}).index();
    case EventKind::paused: return Facts(facts::Paused{}).index();
    case EventKind::resumed: return Facts(facts::Resumed{}).index();
    case EventKind::observed: return Facts(facts::Observed{}).index();
    case EventKind::handed_over:
    case EventKind::taken_over: return Facts(facts::HandedOver{}).index();
    case EventKind::moved: return Facts(facts::Moved{}).index();
    case EventKind::consent_withdrawn: return Facts(facts::ConsentWithdrawn{}).index();
    case EventKind::stopped: return Facts(facts::Stopped{}).index();
    case EventKind::set_changed: return Facts(facts::SetChanged{}).index();
    case EventKind::returned: return Facts(facts::Returned{}).index();
    case EventKind::discarded: return Facts(facts::Discarded{}).index();
    case EventKind::action_done: return Facts(facts::ActionTicked{}).index();
    case EventKind::ceiling_lowered: return Facts(facts::CeilingLowered{}).index();
    case EventKind::restarted: return Facts(facts::Restarted{}).index();
    case EventKind::charted:
    case EventKind::withdrawn: return Facts(facts::Numbers{}).index();
    case EventKind::groups_judged: return Facts(facts::GroupsJudged{}).index();
    case EventKind::other_fluid: return Facts(facts::OtherFluid{}).index();
    case EventKind::rule_set_chosen: return Facts(facts::RuleSetChosen{}).index();
    case EventKind::joined:
    case EventKind::sample_drawn:
    case EventKind::requested:
    case EventKind::received:
    case EventKind::spiked:
    case EventKind::connected:
    case EventKind::reaction_suspected:
    case EventKind::bag_empty:
    case EventKind::clearing_begun:
    case EventKind::all_in:
    case EventKind::bag_kept: break;
    }
    return 0;
}

namespace {

std::optional<Refusal> take(Session& s, const Event& e) {
    switch (e.kind) {
    case EventKind::opened: return fold::opened(s, e);
    case EventKind::clock_set: return fold::clock_set(s, e);
    case EventKind::protocol_changed: return fold::protocol_changed(s, e);
    case EventKind::linked: return fold::linked(s, e);
    case EventKind::joined: return fold::joined(s, e);
    case EventKind::ordered: return fold::ordered(s, e);
    case EventKind::recipient_told: return fold::recipient_told(s, e);
    case EventKind::equipment_chosen: return fold::equipment_chosen(s, e);
    case EventKind::item_noted: return fold::item_noted(s, e);
    case EventKind::sample_drawn: return fold::sample_drawn(s, e);
    case EventKind::requested: return fold::requested(s, e);
    case EventKind::issued: return fold::issued(s, e);
    case EventKind::storage_noted: return fold::storage_noted(s, e);
    case EventKind::received: return fold::received(s, e);
    case EventKind::bag_temperature: return fold::bag_temperature(s, e);
    case EventKind::match_noted: return fold::match_noted(s, e);
    case EventKind::primed: return fold::primed(s, e);
    case EventKind::device_total: return fold::device_total(s, e);
    case EventKind::spiked: return fold::spiked(s, e);
    case EventKind::connected: return fold::connected(s, e);
    case EventKind::started: return fold::started(s, e);
    case EventKind::rate_set: return fold::rate_set(s, e);
    case EventKind::paused: return fold::paused(s, e);
    case EventKind::resumed: return fold::resumed(s, e);
    case EventKind::observed: return fold::observed(s, e);
    case EventKind::handed_over:
    case EventKind::taken_over:
    case EventKind::moved: return fold::handed(s, e);
    case EventKind::reaction_suspected: return fold::reaction_suspected(s, e);
    case EventKind::consent_withdrawn: return fold::consent_withdrawn(s, e);
    case EventKind::stopped: return fold::stopped(s, e);
    case EventKind::bag_empty: return fold::bag_empty(s, e);
    case EventKind::clearing_begun: return fold::clearing_begun(s, e);
    case EventKind::all_in: return fold::all_in(s, e);
    case EventKind::set_changed: return fold::set_changed(s, e);
    case EventKind::returned: return fold::returned(s, e);
    case EventKind::discarded: return fold::discarded(s, e);
    case EventKind::bag_kept: return fold::bag_kept(s, e);
    case EventKind::action_done: return fold::action_done(s, e);
    case EventKind::ceiling_lowered: return fold::ceiling_lowered(s, e);
    case EventKind::restarted: return fold::restarted(s, e);
    case EventKind::charted:
    case EventKind::withdrawn: return fold::numbers(s, e);
    case EventKind::groups_judged: return fold::groups_judged(s, e);
    case EventKind::other_fluid: return fold::other_fluid(s, e);
    case EventKind::rule_set_chosen: return fold::rule_set_chosen(s, e);
    }
    return Refusal::not_opened;
}

// What the ward's own record has to have too.
bool has_to_be_charted(EventKind kind) {
    switch (kind) {
    case EventKind::issued:
    case EventKind::match_noted:
    case EventKind::started:
    case EventKind::rate_set:
    case EventKind::paused:
    case EventKind::resumed:
    case EventKind::observed:
    case EventKind::reaction_suspected:
    case EventKind::consent_withdrawn:
    case EventKind::stopped:
    case EventKind::all_in:
    case EventKind::set_changed:
    case EventKind::returned:
    case EventKind::discarded:
    case EventKind::action_done:
    case EventKind::ceiling_lowered:
    case EventKind::groups_judged:
    case EventKind::other_fluid:
    case EventKind::restarted: return true;
    case EventKind::opened:
    case EventKind::clock_set:
    case EventKind::protocol_changed:
    case EventKind::linked:
    case EventKind::joined:
    case EventKind::ordered:
    case EventKind::recipient_told:
    case EventKind::equipment_chosen:
    case EventKind::item_noted:
    case EventKind::sample_drawn:
    case EventKind::requested:
    case EventKind::storage_noted:
    case EventKind::received:
    case EventKind::bag_temperature:
    case EventKind::primed:
    case EventKind::device_total:
    case EventKind::spiked:
    case EventKind::connected:
    case EventKind::handed_over:
    case EventKind::taken_over:
    case EventKind::moved:
    case EventKind::bag_empty:
    case EventKind::clearing_begun:
    case EventKind::bag_kept:
    case EventKind::rule_set_chosen:
    case EventKind::charted:
    case EventKind::withdrawn: break;
    }
    return false;
}

bool to_chart(const Event& e) {
    if (e.kind == EventKind::match_noted)
        return facts_of<facts::MatchNoted>(e).outcome == MatchOutcome::differed;
    return has_to_be_charted(e.kind);
}

}  // namespace

std::optional<Refusal> apply(Session& s, const Event& e) {
    if (!s.protocol && e.kind != EventKind::opened) return Refusal::not_opened;
    if (const auto refused = take(s, e)) return refused;
    const bool matched = e.kind == EventKind::match_noted && s.match.standing == MatchStanding::passed;
    if (matched || to_chart(e)) {
        const auto n = static_cast<std::size_t>(e.number);
        if (s.to_chart.size() <= n) s.to_chart.resize(n + 1);
        s.to_chart[n] = true;
    }
    return std::nullopt;
}

}  // namespace hangtime
