#include "core/reckon/parts.hpp"

namespace hangtime::parts {

void settle_volumes(const Context& c, Volumes& v, Volume pushed) {
    v.pushed = pushed;
    v.given = given_of(c.state, pushed);
    v.left_in_bag = pushed < c.bag_at_start ? c.bag_at_start - pushed : Volume{};
    const Volume in_old_set = c.state.run.old_set ? c.state.run.old_set->lost : Volume{};
    v.left_in_line = v.bag - v.lost - v.given - v.left_in_bag - in_old_set;
    v.pushed_sum = sum_of(SumKind::pushed, v.given, pushed - v.given, pushed);
}

// Design section 5, "Volumes". With line d, bag b after what priming lost, and dose D (= b for the whole bag),
// all the cases there come out of three lines: what stands in the bag when the device starts, what the
// device would have to move so that the vein gets D, and what it can move if the line must not be cleared.
void find_volumes(Context& c, Reckoning& out) {
    const Line& line = c.state.line;
    Volumes& v = out.volumes;
    v.bag = *c.state.unit.bag;
    v.lost = line.lost < v.bag ? line.lost : v.bag;
    v.line = line.holds;
    const Volume bag = v.bag - v.lost;

    const Order& order = c.state.order;
    if (order.dose_per_kg) {
        v.wanted = *order.dose_per_kg * c.state.recipient.weight;
        v.wanted_sum = sum_of(SumKind::dose_by_weight, *order.dose_per_kg, c.state.recipient.weight, v.wanted);
    } else if (order.dose) {
        v.wanted = *order.dose;
        v.wanted_sum = sum_of(SumKind::dose_as_ordered, v.wanted);
    } else {
        v.wanted = bag;
        v.wanted_sum = sum_of(SumKind::whole_bag, v.bag, v.lost, v.wanted);
    }

    const bool saline = line.primed_with == Primed::saline;
    v.saline_first = saline ? v.line : Volume{};
    const Volume in_line = saline ? Volume{} : (v.line < bag ? v.line : bag);
    c.bag_at_start = bag_at_start(c.state);

    Volume needed = (v.wanted < bag ? v.wanted : bag) + v.saline_first;
    if (const auto& old = c.state.run.old_set) {
        // A set was changed: what is still to come comes out of the bag, and of the new set where that fills it.
        const Volume to_come = v.wanted > old->given ? v.wanted - old->given : Volume{};
        const Volume there = old->bag_left + in_line;
        needed = old->moved + (to_come < there ? to_come : there) + v.saline_first;
    }
    const bool runs_empty = needed > c.bag_at_start;
    c.whole_push = runs_empty && !line.cleared ? c.bag_at_start : needed;
    settle_volumes(c, v, c.whole_push);
}

}  // namespace hangtime::parts
