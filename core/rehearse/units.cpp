#include "core/rehearse/units.hpp"

#include <algorithm>

namespace hangtime {

namespace {

bool stands_first(const Event& e) {
    return e.kind == EventKind::opened || e.kind == EventKind::joined || e.kind == EventKind::linked;
}

}  // namespace

std::vector<const Event*> in_order(const Log& log) {
    std::vector<const Event*> out;
    for (const Event& e : log.events())
        if (!log.is_void(e.number)) out.push_back(&e);
    std::sort(out.begin(), out.end(), [](const Event* a, const Event* b) {
        const bool first_a = stands_first(*a), first_b = stands_first(*b);
        if (first_a != first_b) return first_a;
        if (!first_a && a->at.at != b->at.at) return a->at.at < b->at.at;
        return a->number < b->number;
    });
    return out;
}

void for_each_unit(const Log& log, Instant end, const std::function<void(const Session&, Instant)>& see) {
    int issued = 0;
    for (const Event& e : log.events()) issued += e.kind == EventKind::issued && !log.is_void(e.number) ? 1 : 0;
    if (issued == 0) return;
    std::size_t seen = 0;
    if (issued > 1 || !log.session().past_units.empty()) {
        // Folded once more: whenever a unit is put among those that are past, what stood before was its end.
        Session s;
        Session before;
        for (const Event* e : in_order(log)) {
            const bool may_begin = e->kind == EventKind::requested || e->kind == EventKind::issued ||
                                   e->kind == EventKind::ordered;
            if (may_begin) before = s;
            apply(s, *e);
            if (may_begin && s.past_units.size() > seen) {
                ++seen;
                see(before, e->at.at);
            }
        }
    }
    if (log.session().state.times.issued || seen == 0) see(log.session(), end);
}

std::vector<UnitEnd> units_of(const Log& log, Instant end) {
    std::vector<UnitEnd> out;
    for_each_unit(log, end, [&](const Session& s, Instant until) { out.push_back({s, until}); });
    return out;
}

}  // namespace hangtime
