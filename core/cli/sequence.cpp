#include "core/cli/sequence.hpp"

#include "core/cli/common.hpp"
#include "core/json/write.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/sequence_sheet.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/words/round_words.hpp"
#include "core/words/words.hpp"

#include <memory>

namespace hangtime::cli {

namespace {

using namespace rounds;
using Layout = json::Writer::Layout;

constexpr std::int64_t hundredth_of_ml = hundredths_of_ml(1).units;
constexpr std::int64_t hundredth_of_ml_per_h = hundredths_of_ml_per_h(1).units_per_s;

class Writer {
public:
    Writer(const Protocol& protocol, const Sequence& sequence, const SequencePlan& plan)
        : protocol_(protocol), sequence_(sequence), plan_(plan), day_(day_of(sequence)),
          r_(std::make_unique<Reckoning>()) {}

    std::string write() {
        out_.begin_object().integer("hangtime_sequence_plan", 1).text("protocol", sequence_.protocol);
        out_.boolean("fits", sequence_fits(sequence_, plan_));
        out_.text("headline", sequence_headline(sequence_, plan_, day_));
        out_.integer("fit", static_cast<std::int64_t>(plan_.fit)).boolean("all_planned", plan_.all_planned);
        maybe("over_by", sequence_.over_by);
        volume("total_ml", plan_.total);
        const Mass weight = sequence_.common.recipient.weight;
        if (weight.grams > 0)
            out_.decimal("total_ml_per_kg",
                         ceil_div(static_cast<Wide>(plan_.total.units) * 100'000, weight.grams * units_per_ml), 2);
        else out_.null("total_ml_per_kg");
        rate("highest_ml_per_h", plan_.most);
        if (sequence_.common.other_line > Rate{}) rate("other_line_ml_per_h", sequence_.common.other_line);
        else out_.null("other_line_ml_per_h");
        out_.key("between_units").begin_object(Layout::along).text("hold", code(plan_.hold));
        out_.text("text", name(plan_.hold));
        out_.integer("reassess_min", protocol_.round->reassess_takes.count / 60).end_object();
        out_.key("units").begin_list();
        for (std::size_t i = 0; i < plan_.units.size(); ++i) unit(i);
        out_.end_list().key("cautions").begin_list();
        for (std::size_t i = 0; i < caution_count; ++i) out_.text(caution(i));
        out_.end_list().end_object();
        return out_.take();
    }

private:
    void time(std::string_view key, Instant at) { out_.text(key, iso_text(at, sequence_.wall)); }
    void maybe(std::string_view key, const std::optional<Instant>& at) {
        if (at) time(key, *at);
        else out_.null(key);
    }
    // To the hundredth: a volume rounded down, so that it is never said to be more than it is.
    void volume(std::string_view key, Volume v) { out_.decimal(key, floor_div(v.units, hundredth_of_ml), 2); }
    void rate(std::string_view key, Rate r) { out_.decimal(key, ceil_div(r.units_per_s, hundredth_of_ml_per_h), 2); }

    void unit(std::size_t i) {
        const SequencePlan::Unit& u = plan_.units[i];
        const SequenceUnit& asked = sequence_.units[i];
        const bool fits = u.verdict != Verdict::does_not_fit;
        reckon(protocol_, sequence_state(sequence_, u, i), u.issued, *r_);
        out_.begin_object().text("component", code(asked.component));
        volume("bag_ml", asked.bag);
        out_.text("verdict", code(u.verdict)).boolean("over_in_time", u.before_hour);
        out_.key("call").begin_object(Layout::along);
        time("at", u.call_at);
        out_.text("hold", code(u.hold)).text("text", sequence_call_text(u, i == 0, day_)).end_object();
        time("issued_at", u.issued);
        time("match_at", u.match_at);
        time("start_at", u.start);
        maybe("all_in_at", fits ? std::optional(u.all_in) : std::nullopt);
        maybe("over_at", fits ? std::optional(u.over) : std::nullopt);
        maybe("finish_by", u.finish_by);
        out_.key("set").begin_object().boolean("new", u.set != NewSet::kept).text("reason", code(u.set));
        maybe("change_by", u.set_change_by);
        maybe("old_change_by", u.old_set_change_by);
        maybe("latest_start_on_it", u.latest_on_set);
        out_.text("text", sequence_set_text(u, day_)).end_object();
        out_.key("baseline").begin_object(Layout::along).text("from", u.baseline_is_end_check ? "end_check" : "new");
        out_.text("text", sequence_baseline_text(protocol_, plan_, i, day_)).end_object();
        volume("given_ml", fits ? u.given : Volume{});
        out_.key("stages").begin_list();
        if (fits) {
            for (const Stage& stage : r_->stages) {
                out_.begin_object(Layout::along);
                time("from", stage.from);
                time("to", stage.to);
                rate("rate_ml_per_h", stage.rate);
                out_.text("text", stage_rate_text(stage)).end_object();
            }
        }
        out_.end_list().key("checks").begin_list();
        if (fits)
            for (const Check& check : r_->checks) {
                if (check.kind == CheckKind::baseline) continue;
                out_.begin_object(Layout::along).text("kind", code(check.kind));
                time("due_at", check.due);
                out_.end_object();
            }
        out_.end_list();
        if (u.left_of_ceiling)
            out_.decimal("left_of_ceiling_ml_per_h",
                         floor_div(u.left_of_ceiling->num, u.left_of_ceiling->den * hundredth_of_ml_per_h), 2);
        else out_.null("left_of_ceiling_ml_per_h");
        out_.text("after", sequence_after_text(protocol_, plan_, i, day_)).end_object();
    }

    const Protocol& protocol_;
    const Sequence& sequence_;
    const SequencePlan& plan_;
    DayClock day_;
    std::unique_ptr<Reckoning> r_;
    json::Writer out_;
};

}  // namespace

std::string sequence_json(const Protocol& protocol, const Sequence& sequence, const SequencePlan& plan) {
    return Writer(protocol, sequence, plan).write();
}

Outcome run_sequence(const Options& options) {
    Outcome failure;
    const auto loaded = load_with_protocol<Sequence>(options, read_sequence_protocol_id, read_sequence, failure);
    if (!loaded) return failure;
    const auto& [file, protocol, sequence] = *loaded;
    const SequencePlan plan = plan_sequence(protocol, sequence);
    const Status status = sequence_fits(sequence, plan) ? Status::fits : Status::does_not_fit;
    if (options.as == Format::json) return delivered(options, status, sequence_json(protocol, sequence, plan));
    return delivered(options, status,
                     written_as(options.as, sequence_sheet(protocol, sequence, plan), sequence.first_start));
}

}  // namespace hangtime::cli
