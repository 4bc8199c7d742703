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
        v.wanted = wanted_of(c.state);
        v.wanted_sum = sum_of(SumKind::dose_by_weight, *order.dose_per_kg, c.state.recipient.weight, v.wanted);
    } else if (order.dose) {
        v.wanted = *order.dose;
        v.wanted_sum = sum_of(SumKind::dose_as_ordered, v.wanted);
    } else {
        v.wanted = bag;
        v.wanted_sum = sum_of(SumKind::whole_bag, v.bag, v.lost, v.wanted);
    }

    const bool saline = line.other_first();
    v.saline_first = saline ? v.line : Volume{};
    c.bag_at_start = bag_at_start(c.state);

    c.whole_push = whole_push(c.state);
    settle_volumes(c, v, c.whole_push);
}

}  // namespace hangtime::parts
