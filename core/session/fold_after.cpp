#include "core/session/fold.hpp"

namespace hangtime::fold {

namespace {

void close(Session& s, const Event& e, ReturnTo to, ReturnReason reason) {
    if (s.version >= 2 && !s.state.times.start && s.units_drawn() > 0) ++s.units_returned;
    s.disposal = Disposal{e.kind, to, reason, e.at.at};
    s.phase = Phase::closed;
    clear_items_of_unit(s);
}

// Whether a bag that comes back for this reason can be one to keep for somebody else: the blood bank deals with the
// others.
bool may_be_kept(ReturnReason reason) {
    switch (reason) {
    case ReturnReason::damaged:
    case ReturnReason::mismatch:
    case ReturnReason::reaction:
    case ReturnReason::part_given:
    case ReturnReason::too_late: return false;
    case ReturnReason::not_needed:
    case ReturnReason::no_access:
    case ReturnReason::refused:
    case ReturnReason::unwell:
    case ReturnReason::plan_does_not_fit: break;
    }
    return true;
}

// After a reaction that was opened again by, the bag goes another way.
bool is_gone(const Session& s) { return s.disposal && s.phase == Phase::closed; }

}  // namespace

Refused returned(Session& s, const Event& e) {
    const auto& f = facts_of<facts::Returned>(e);
    if (s.phase < Phase::here) return Refusal::not_issued;
    if (is_gone(s)) return Refusal::unit_closed;
    if (s.phase == Phase::running || s.phase == Phase::paused) return Refusal::not_ended;
    if (f.to == ReturnTo::stock) {
        if (s.state.times.spiked || s.state.run.ended) return Refusal::back_to_stock_spiked;
        if (s.protocol->keep_below_tenths_c) {
            if (!s.bag_tenths_c) return Refusal::temperature_missing;
            if (*s.bag_tenths_c > s.protocol->keep_below_tenths_c->value) return Refusal::back_to_stock_warm;
            // What it was some time ago says nothing of what it is now.
            if (s.version >= 2 && e.at.at - *s.bag_read_at > s.protocol->keep_reading_counts()) return Refusal::temperature_old;
        }
        if (s.version >= 2 && !may_be_kept(f.reason)) return Refusal::back_to_stock_reason;
        if (const auto until = back_to_stock_until(s); until && e.at.at > *until) return Refusal::back_to_stock_late;
    }
    close(s, e, f.to, f.reason);
    return std::nullopt;
}

Refused discarded(Session& s, const Event& e) {
    if (s.phase < Phase::here) return Refusal::not_issued;
    if (is_gone(s)) return Refusal::unit_closed;
    if (s.phase == Phase::running || s.phase == Phase::paused) return Refusal::not_ended;
    close(s, e, ReturnTo::blood_bank, facts_of<facts::Discarded>(e).reason);
    return std::nullopt;
}

Refused bag_kept(Session& s, const Event& e) {
    if (!s.state.run.ended) return s.phase < Phase::here ? Refusal::not_issued : Refusal::not_ended;
    if (is_gone(s)) return Refusal::unit_closed;
    close(s, e, ReturnTo::blood_bank, ReturnReason::part_given);
    return std::nullopt;
}

}  // namespace hangtime::fold
