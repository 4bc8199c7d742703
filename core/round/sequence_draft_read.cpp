#include "core/round/draft_parts.hpp"
#include "core/round/sequence_draft.hpp"

/// A sequence that was kept while it was being entered, whatever was missing in it.

namespace hangtime::rounds {

namespace {

using namespace draft_parts;

// What `draft_text` writes of a set in use: its first and its last component, the same one once.
void read_set(const json::Field& field, SequenceDraft& d) {
    const json::Object o = field.object({"hung_at", "units", "carried", "last"});
    d.set_hung = time(o.find("hung_at"), d.wall);
    d.set_units = whole(o.find("units"), 1, most_units_through_a_set);
    d.set_last = component(o.find("last"));
    const auto carried = o.at("carried").list(0, 2);
    for (const json::Field& item : carried)
        if (const Component c = session_reader::read_component(item); c != d.set_last) d.set_first = c;
}

KeptSequenceDraft read(const json::Field& file) {
    const json::Object top = file.object({"hangtime_sequence", "protocol", "clock", "first_start_at", "over_by",
                                          "recipient", "other_line_ml_per_h", "set_in_use", "call", "units"});
    top.at("hangtime_sequence").integer(1, 1);
    KeptSequenceDraft out;
    out.protocol = top.at("protocol").text(1, 40);
    SequenceDraft& d = out.draft;
    d.wall = session_reader::read_clock(top.at("clock"));
    d.first_start = time(top.find("first_start_at"), d.wall);
    d.over_by = time(top.find("over_by"), d.wall);
    const Person who = person(top.find("recipient"));
    d.weight_tenths = who.weight_tenths;
    d.overload_risk = who.overload_risk;
    d.can_report = who.can_report;
    d.other_line_tenths = whole(top.find("other_line_ml_per_h"), 1, 60'000, 1);
    if (const Found f = top.find("set_in_use")) read_set(*f, d);
    if (const Found f = top.find("call")) {
        const json::Object call = f->object({"ready_min", "transport_min"});
        d.ready_min = whole(call.find("ready_min"), 0, 240);
        d.transport_min = whole(call.find("transport_min"), 0, 120);
    }
    for (const json::Field& item : top.at("units").list(1, most_sequence_units)) {
        const json::Object o = item.object({"component", "bag_ml", "order"});
        d.units.push_back({component(o.find("component")), whole(o.find("bag_ml"), 1, 50'000, 1),
                           ordered(o.find("order")).within_min});
    }
    return out;
}

}  // namespace

Result<KeptSequenceDraft> read_sequence_draft(std::string_view text) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    KeptSequenceDraft kept = read(json::Field(report, &tree.value(), ""));
    if (!report.ok()) return report.error();
    return kept;
}

}  // namespace hangtime::rounds
