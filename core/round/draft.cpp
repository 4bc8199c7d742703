#include "core/round/draft.hpp"
#include "core/round/draft_parts.hpp"

#include "core/session/reader.hpp"
#include "core/words/spelling.hpp"

#include <algorithm>

namespace hangtime::rounds {

namespace {

using Layout = json::Writer::Layout;

class Writer {
public:
    explicit Writer(const Draft& draft) : draft_(draft) {}

    std::string write(const Protocol& protocol) {
        out_.begin_object().integer("hangtime_round", 1).text("protocol", protocol.id);
        session_reader::write_clock(out_, draft_.wall, Layout::along);
        time("now", draft_.now);
        time("from", draft_.from);
        time("until", draft_.until);
        out_.text("match_second", draft_.second_from_round ? "round" : "outside");
        if (draft_.promise_first) out_.text("put_first", "promise");
        out_.key("nurses").begin_list();
        for (const DraftNurse& n : draft_.nurses) nurse(n);
        out_.end_list().key("transfusions").begin_list();
        for (const DraftTransfusion& t : draft_.transfusions) transfusion(t);
        return out_.end_list().end_object().take();
    }

private:
    void time(std::string_view key, const std::optional<Instant>& at) {
        session_reader::write_time(out_, key, at, draft_.wall);
    }

    void stretch(const DraftStretch& s) {
        out_.begin_object(Layout::along);
        time("from", s.from);
        time("until", s.until);
        out_.end_object();
    }

    void stretches(std::string_view key, const DraftStretch* two) {
        out_.key(key).begin_list(Layout::along);
        for (int i = 0; i < 2; ++i)
            if (!two[i].empty()) stretch(two[i]);
        out_.end_list();
    }

    void nurse(const DraftNurse& n) {
        out_.begin_object().key("hours").begin_list(Layout::along);
        stretch(n.hours);
        out_.end_list();
        stretches("breaks", n.rest);
        stretches("handovers", n.handover);
        out_.end_object();
    }

    void transfusion(const DraftTransfusion& t) {
        out_.begin_object().text("object", name(t.object));
        if (t.component) out_.text("component", code(*t.component));
        if (t.bag_tenths) out_.decimal("bag_ml", *t.bag_tenths, 1);
        if (t.within_min || t.most_tenths) {
            out_.key("order").begin_object(Layout::along);
            if (t.within_min) out_.integer("within_min", *t.within_min).text("counts_from", "start");
            if (t.most_tenths) out_.decimal("max_rate_ml_per_h", *t.most_tenths, 1);
            out_.end_object();
        }
        const DraftTransfusion& person = person_entries(draft_, t);
        out_.key("recipient").begin_object(Layout::along);
        out_.text("overload_risk", code(person.overload_risk)).text("can_report", code(person.can_report));
        if (person.weight_tenths) out_.decimal("weight_kg", *person.weight_tenths, 1);
        out_.end_object();
        if (t.other_line_tenths) out_.decimal("other_line_ml_per_h", *t.other_line_tenths, 1);
        if (t.weight) out_.integer("weight", *t.weight);
        out_.key("call").begin_object(Layout::along);
        time("earliest", t.earliest);
        time("latest", t.latest);
        if (t.ready_min) out_.integer("ready_min", *t.ready_min);
        if (t.transport_min) out_.integer("transport_min", *t.transport_min);
        out_.end_object();
        if (t.person_of) out_.text(draft_parts::person_link_keys[static_cast<std::size_t>(t.link)], name(*t.person_of));
        if (t.promised_start) {
            out_.key("promised").begin_object(Layout::along);
            time("start_at", t.promised_start);
            out_.integer("nurse", t.promised_nurse + 1).end_object();
        }
        if (t.happened.any()) happened(t.happened);
        out_.end_object();
    }

    void happened(const DraftHappened& h) {
        out_.key("happened").begin_object(Layout::along);
        time("issued_at", h.issued);
        time("started_at", h.started);
        if (h.nurse) out_.integer("nurse", *h.nurse + 1);
        if (h.paused_min) out_.integer("paused_min", *h.paused_min);
        time("reaction_at", h.reaction);
        if (h.reaction_takes_min) out_.integer("reaction_takes_min", *h.reaction_takes_min);
        out_.end_object();
    }

    const Draft& draft_;
    json::Writer out_;
};

}  // namespace

Draft new_draft(Instant now, const WallClock& wall) {
    Draft out;
    out.wall = wall;
    const Seconds offset = wall.offset_at(now);
    const Instant hour{(floor_div(now.utc + offset.count, 3600) + 1) * 3600 - offset.count};
    out.from = hour;
    out.until = hour + Seconds{8 * 3600};
    DraftNurse nurse;
    nurse.hours = {out.from, out.until};
    out.nurses.push_back(nurse);
    out.transfusions.push_back(new_transfusion(out));
    return out;
}

const DraftTransfusion& person_entries(const Draft& draft, const DraftTransfusion& t) {
    const DraftTransfusion* at = &t;
    for (std::size_t steps = 0; at->person_of && steps < draft.transfusions.size(); ++steps) {
        const auto other = std::find_if(draft.transfusions.begin(), draft.transfusions.end(),
                                        [&](const DraftTransfusion& o) { return o.object == *at->person_of; });
        if (other == draft.transfusions.end()) break;
        at = &*other;
    }
    return *at;
}

void leave_to_the_others(Draft& draft, const DraftTransfusion& gone) {
    std::optional<SpokenObject> person = gone.person_of;
    for (DraftTransfusion& t : draft.transfusions) {
        if (t.person_of != gone.object) continue;
        t.person_of = person;
        if (person) continue;
        // The next of them is the one where the person's entries stand now.
        t.overload_risk = gone.overload_risk;
        t.can_report = gone.can_report;
        t.weight_tenths = gone.weight_tenths;
        person = t.object;
    }
}

DraftTransfusion new_transfusion(const Draft& draft) {
    // Told apart at a glance, and not by their first letters alone.
    constexpr SpokenObject order[] = {SpokenObject::kite, SpokenObject::leaf, SpokenObject::boat, SpokenObject::key,
                                      SpokenObject::owl, SpokenObject::bell, SpokenObject::snail, SpokenObject::tree,
                                      SpokenObject::fish, SpokenObject::wheel, SpokenObject::anchor, SpokenObject::candle,
                                      SpokenObject::ladder, SpokenObject::umbrella, SpokenObject::rocket,
                                      SpokenObject::hammer};
    static_assert(std::size(order) >= most_jobs);
    DraftTransfusion out;
    for (const SpokenObject o : order) {
        const bool taken = std::any_of(draft.transfusions.begin(), draft.transfusions.end(),
                                       [o](const DraftTransfusion& t) { return t.object == o; });
        if (taken) continue;
        out.object = o;
        break;
    }
    out.earliest = draft.from;
    return out;
}

void promise(Draft& draft, const std::vector<Promise>& promises) {
    for (std::size_t i = 0; i < draft.transfusions.size() && i < promises.size(); ++i) {
        draft.transfusions[i].promised_start = promises[i].start;
        draft.transfusions[i].promised_nurse = promises[i].nurse;
    }
}

std::string draft_text(const Draft& draft, const Protocol& protocol) { return Writer(draft).write(protocol); }

}  // namespace hangtime::rounds
