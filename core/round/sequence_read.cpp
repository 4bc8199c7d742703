#include "core/protocol/fields.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/round/sequence.hpp"
#include "core/session/reader.hpp"

#include <memory>

namespace hangtime::rounds {

namespace {

using namespace session_reader;

constexpr FileForm form = {"hangtime_sequence", [](const json::Field& file) {
    return file.object({"hangtime_sequence", "protocol", "clock", "first_start_at", "over_by", "recipient", "line",
                        "device", "other_line_ml_per_h", "set_in_use", "call", "units"});
}};

class SequenceReader {
public:
    SequenceReader(const Protocol& protocol, json::Report& report) : protocol_(protocol), report_(report) {}

    Sequence read(const json::Object& top) {
        out_.protocol = protocol_.id;
        if (!protocol_.round) {
            top.named("protocol").fail("\"" + protocol_.id + "\" has no rules for more than one unit",
                                       "a protocol with \"round\"");
            return out_;
        }
        out_.common = new_state(protocol_);
        out_.wall = read_clock(top.at("clock"));
        out_.first_start = time(top.at("first_start_at"));
        if (const auto f = top.find("over_by")) over_by(*f);
        if (const auto f = top.find("recipient"))
            out_.common.recipient =
                read_recipient(f->object({"weight_kg", "weight_is", "overload_risk", "can_report", "gauge"}));
        if (const auto f = top.find("line")) read_line(*f, protocol_, out_.common.line);
        if (const auto f = top.find("device")) read_device(*f, out_.common.device);
        if (const auto f = top.find("other_line_ml_per_h")) out_.common.other_line = fields::rate(*f);
        if (const auto f = top.find("set_in_use")) set_in_use(*f);
        if (const auto f = top.find("call")) {
            const json::Object o = f->object({"ready_min", "transport_min"});
            if (const auto g = o.find("ready_min")) out_.ready = fields::minutes_of(*g, 0, 240);
            if (const auto g = o.find("transport_min")) out_.transport = fields::minutes_of(*g, 0, 120);
        }
        for (const json::Field& item : top.at("units").list(1, most_sequence_units)) unit(item);
        needs(top);
        return std::move(out_);
    }

private:
    Instant time(const json::Field& field) { return read_stated(field, out_.wall).at; }

    void over_by(const json::Field& field) {
        out_.over_by = time(field);
        if (report_.ok() && *out_.over_by <= out_.first_start)
            field.fail(iso_text(*out_.over_by, out_.wall) + " is not after first_start_at", "a later time");
        if (report_.ok() && *out_.over_by - out_.first_start > bounds::span)
            field.fail(iso_text(*out_.over_by, out_.wall) + " is more than 5 days after first_start_at",
                       "an earlier time");
    }

    void set_in_use(const json::Field& field) {
        const json::Object o = field.object({"hung_at", "units", "carried", "last"});
        const Instant hung = time(o.at("hung_at"));
        if (report_.ok() && hung >= out_.first_start)
            o.named("hung_at").fail(iso_text(hung, out_.wall) + " is not before first_start_at", "an earlier time");
        out_.set.hung = hung;
        out_.set.units = static_cast<int>(o.at("units").integer(1, most_units_through_a_set));
        for (const json::Field& item : o.at("carried").list(1, component_count))
            out_.set.carried = static_cast<std::uint8_t>(out_.set.carried | component_bit(read_component(item)));
        out_.set.last = read_component(o.at("last"));
        if (report_.ok() && (out_.set.carried & component_bit(out_.set.last)) == 0)
            o.named("last").fail("is not among carried", "one of those that it has carried");
    }

    void unit(const json::Field& item) {
        const json::Object o = item.object({"component", "bag_ml", "expires_at", "order"});
        SequenceUnit unit;
        unit.component = read_component(o.at("component"));
        unit.bag = fields::volume(o.at("bag_ml"));
        if (const auto f = o.find("expires_at")) unit.expires = read_stated(*f, out_.wall);
        if (const auto f = o.find("order")) unit.order = read_order(*f);
        if (report_.ok() && unit.order.dose && *unit.order.dose > unit.bag)
            o.named("order").fail("has a dose of more than the bag holds", "a dose of at most bag_ml");
        out_.units.push_back(unit);
    }

    // What no plan of a unit can be reckoned without.
    void needs(const json::Object& top) {
        if (!report_.ok()) return;
        SequencePlan::Unit planned;
        planned.issued = planned.start = out_.first_start;
        const auto r = std::make_unique<Reckoning>();
        for (std::size_t i = 0; i < out_.units.size(); ++i) {
            reckon(protocol_, sequence_state(out_, planned, i), out_.first_start, *r);
            if (!r->missing.weight) continue;
            top.named("recipient").report().fail("recipient.weight_kg",
                                                 "is missing, and a rule for units[" + std::to_string(i) + "] needs it",
                                                 "the weight in kg");
            return;
        }
    }

    const Protocol& protocol_;
    json::Report& report_;
    Sequence out_;
};

}  // namespace

Result<std::string> read_sequence_protocol_id(std::string_view text) { return read_protocol_key(text, form); }

Result<Sequence> read_sequence(std::string_view text, const Protocol& protocol) {
    return read_whole<Sequence>(text, form, protocol, [&](const json::Object& top, json::Report& report) {
        return SequenceReader(protocol, report).read(top);
    });
}

}  // namespace hangtime::rounds
