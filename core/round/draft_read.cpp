#include "core/protocol/fields.hpp"
#include "core/round/draft.hpp"
#include "core/round/draft_parts.hpp"

#include <array>

/// A draft that was kept. The reader of round files asks for all that a round needs; this one takes what there is.

namespace hangtime::rounds {

namespace draft_parts {

Ordered ordered(const Found& field) {
    Ordered out;
    if (!field) return out;
    const json::Object order = field->object({"within_min", "counts_from", "max_rate_ml_per_h"});
    constexpr std::array<std::string_view, 1> start = {"start"};
    if (const Found f = order.find("counts_from")) f->choice(start);
    out.within_min = whole(order.find("within_min"), 1, bounds::span.count / 60);
    out.most_tenths = whole(order.find("max_rate_ml_per_h"), 1, 60'000, 1);
    return out;
}

Person person(const Found& field) {
    Person out;
    if (!field) return out;
    const json::Object o = field->object({"weight_kg", "overload_risk", "can_report"});
    out.weight_tenths = whole(o.find("weight_kg"), 1, 5'000, 1);
    if (const Found f = o.find("overload_risk")) out.overload_risk = fields::choice<Answer>(*f);
    if (const Found f = o.find("can_report")) out.can_report = fields::choice<Answer>(*f);
    return out;
}

}  // namespace draft_parts

namespace {

using namespace session_reader;
using draft_parts::Found;
using draft_parts::whole;

class DraftReader {
public:
    explicit DraftReader(json::Report& report) : report_(report) {}

    KeptDraft read(const json::Value& tree) {
        const json::Object top = json::Field(report_, &tree, "")
                                     .object({"hangtime_round", "protocol", "clock", "now", "from", "until",
                                              "match_second", "put_first", "nurses", "transfusions"});
        top.at("hangtime_round").integer(1, 1);
        out_.protocol = top.at("protocol").text(1, 40);
        Draft& d = out_.draft;
        d.wall = read_clock(top.at("clock"));
        d.now = time(top.find("now"));
        d.from = time(top.find("from"));
        d.until = time(top.find("until"));
        constexpr std::array<std::string_view, 2> seconds = {"outside", "round"}, first = {"finish", "promise"};
        d.second_from_round = top.at("match_second").choice(seconds) == 1;
        if (const Found f = top.find("put_first")) d.promise_first = f->choice(first) == 1;
        for (const json::Field& item : top.at("nurses").list(1, most_nurses)) nurse(item);
        for (const json::Field& item : top.at("transfusions").list(1, most_jobs)) transfusion(item);
        return std::move(out_);
    }

private:
    std::optional<Instant> time(const Found& field) { return draft_parts::time(field, out_.draft.wall); }

    DraftStretch stretch(const json::Field& field) {
        const json::Object o = field.object({"from", "until"});
        return {time(o.find("from")), time(o.find("until"))};
    }

    void two(const Found& field, DraftStretch* out) {
        if (!field) return;
        for (const json::Field& item : field->list(0, 2)) *out++ = stretch(item);
    }

    void nurse(const json::Field& field) {
        const json::Object o = field.object({"hours", "breaks", "handovers"});
        DraftNurse nurse;
        for (const json::Field& item : o.at("hours").list(0, 1)) nurse.hours = stretch(item);
        two(o.find("breaks"), nurse.rest);
        two(o.find("handovers"), nurse.handover);
        out_.draft.nurses.push_back(nurse);
    }

    std::optional<int> number(const Found& field) {
        if (!field) return std::nullopt;
        return static_cast<int>(field->integer(1, static_cast<std::int64_t>(out_.draft.nurses.size()))) - 1;
    }

    void transfusion(const json::Field& field) {
        const json::Object o = field.object({"object", "component", "bag_ml", "order", "recipient",
                                             "other_line_ml_per_h", "weight", "call", "follows", "same_person",
                                             "beside", "promised", "happened"});
        DraftTransfusion t;
        t.object = o.at("object").choice<SpokenObject>(spoken_object_names);
        t.component = draft_parts::component(o.find("component"));
        t.bag_tenths = whole(o.find("bag_ml"), 1, 50'000, 1);
        const draft_parts::Ordered ordered = draft_parts::ordered(o.find("order"));
        t.within_min = ordered.within_min;
        t.most_tenths = ordered.most_tenths;
        const draft_parts::Person person = draft_parts::person(o.find("recipient"));
        t.weight_tenths = person.weight_tenths;
        t.overload_risk = person.overload_risk;
        t.can_report = person.can_report;
        t.other_line_tenths = whole(o.find("other_line_ml_per_h"), 1, 60'000, 1);
        t.weight = whole(o.find("weight"), 1, most_weight);
        const json::Object call = o.at("call").object({"earliest", "latest", "ready_min", "transport_min"});
        t.earliest = time(call.find("earliest"));
        t.latest = time(call.find("latest"));
        t.ready_min = whole(call.find("ready_min"), 0, 240);
        t.transport_min = whole(call.find("transport_min"), 0, 120);
        for (std::size_t link = 0; link < draft_parts::person_link_keys.size(); ++link) {
            const Found f = o.find(draft_parts::person_link_keys[link]);
            if (!f) continue;
            t.person_of = f->choice<SpokenObject>(spoken_object_names);
            t.link = static_cast<PersonLink>(link);
        }
        if (const Found f = o.find("promised")) {
            const json::Object promised = f->object({"start_at", "nurse"});
            t.promised_start = time(promised.find("start_at"));
            t.promised_nurse = number(promised.find("nurse")).value_or(-1);
        }
        if (const Found f = o.find("happened")) happened(*f, t.happened);
        out_.draft.transfusions.push_back(t);
    }

    void happened(const json::Field& field, DraftHappened& h) {
        const json::Object o = field.object(
            {"issued_at", "started_at", "nurse", "paused_min", "reaction_at", "reaction_takes_min"});
        h.issued = time(o.find("issued_at"));
        h.started = time(o.find("started_at"));
        h.nurse = number(o.find("nurse"));
        h.paused_min = whole(o.find("paused_min"), 0, 360);
        h.reaction = time(o.find("reaction_at"));
        h.reaction_takes_min = whole(o.find("reaction_takes_min"), 5, 240);
    }

    json::Report& report_;
    KeptDraft out_;
};

}  // namespace

Result<KeptDraft> read_draft(std::string_view text) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    KeptDraft kept = DraftReader(report).read(tree.value());
    if (!report.ok()) return report.error();
    return kept;
}

}  // namespace hangtime::rounds
