#include "core/round/sequence_draft.hpp"

#include "core/session/reader.hpp"
#include "core/words/spelling.hpp"

namespace hangtime::rounds {

namespace {

using Layout = json::Writer::Layout;

class Writer {
public:
    explicit Writer(const SequenceDraft& draft) : draft_(draft) {}

    std::string write(const Protocol& protocol) {
        out_.begin_object().integer("hangtime_sequence", 1).text("protocol", protocol.id);
        session_reader::write_clock(out_, draft_.wall, Layout::along);
        time("first_start_at", draft_.first_start);
        time("over_by", draft_.over_by);
        out_.key("recipient").begin_object(Layout::along);
        if (draft_.weight_tenths) out_.decimal("weight_kg", *draft_.weight_tenths, 1);
        out_.text("overload_risk", code(draft_.overload_risk)).text("can_report", code(draft_.can_report));
        out_.end_object();
        if (draft_.other_line_tenths) out_.decimal("other_line_ml_per_h", *draft_.other_line_tenths, 1);
        if (draft_.set_hung || draft_.set_units || draft_.set_last || draft_.set_first) set_in_use();
        if (draft_.ready_min || draft_.transport_min) {
            out_.key("call").begin_object(Layout::along);
            if (draft_.ready_min) out_.integer("ready_min", *draft_.ready_min);
            if (draft_.transport_min) out_.integer("transport_min", *draft_.transport_min);
            out_.end_object();
        }
        out_.key("units").begin_list();
        for (const SequenceDraftUnit& u : draft_.units) unit(u);
        return out_.end_list().end_object().take();
    }

private:
    void time(std::string_view key, const std::optional<Instant>& at) {
        session_reader::write_time(out_, key, at, draft_.wall);
    }

    void set_in_use() {
        out_.key("set_in_use").begin_object(Layout::along);
        time("hung_at", draft_.set_hung);
        if (draft_.set_units) out_.integer("units", *draft_.set_units);
        out_.key("carried").begin_list(Layout::along);
        if (draft_.set_first) out_.text(code(*draft_.set_first));
        if (draft_.set_last && draft_.set_last != draft_.set_first) out_.text(code(*draft_.set_last));
        out_.end_list();
        if (draft_.set_last) out_.text("last", code(*draft_.set_last));
        else if (draft_.set_first) out_.text("last", code(*draft_.set_first));
        out_.end_object();
    }

    void unit(const SequenceDraftUnit& u) {
        out_.begin_object(Layout::along);
        if (u.component) out_.text("component", code(*u.component));
        if (u.bag_tenths) out_.decimal("bag_ml", *u.bag_tenths, 1);
        if (u.within_min) {
            out_.key("order").begin_object(Layout::along).integer("within_min", *u.within_min);
            out_.text("counts_from", "start").end_object();
        }
        out_.end_object();
    }

    const SequenceDraft& draft_;
    json::Writer out_;
};

}  // namespace

SequenceDraft new_sequence_draft(Instant now, const WallClock& wall) {
    SequenceDraft out;
    out.wall = wall;
    constexpr std::int64_t quarter = 15 * 60;
    out.first_start = Instant{ceil_div(now.utc + 3600, quarter) * quarter};
    out.units.resize(2);
    return out;
}

std::string draft_text(const SequenceDraft& draft, const Protocol& protocol) { return Writer(draft).write(protocol); }

}  // namespace hangtime::rounds
