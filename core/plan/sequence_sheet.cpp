#include "core/plan/sequence_sheet.hpp"

#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/words/round_words.hpp"
#include "core/words/words.hpp"

#include <algorithm>
#include <memory>

namespace hangtime {

using namespace rounds;

namespace {

std::string units_text(std::size_t n) { return std::to_string(n) + (n == 1 ? " unit" : " units"); }

// "red cells", "platelets, then red cells", "red cells (2), then plasma"
std::string ordered(const Sequence& sequence) {
    std::string out;
    for (std::size_t i = 0; i < sequence.units.size();) {
        std::size_t next = i;
        while (next < sequence.units.size() && sequence.units[next].component == sequence.units[i].component) ++next;
        out.append(i == 0 ? "" : ", then ").append(lower_first(name(sequence.units[i].component)));
        if (next - i > 1 && next - i < sequence.units.size()) out += " (" + std::to_string(next - i) + ")";
        i = next;
    }
    return out;
}

// Rates by weight: what does not come out is cut off, so that it is never said to be more.
std::string per_kg(std::int64_t units, std::int64_t of_one, Mass weight, std::string_view unit) {
    return joined({dose_number(static_cast<Wide>(units) * 1000, weight.grams * of_one, 2), " ", unit});
}

class Builder {
public:
    Builder(const Protocol& protocol, const Sequence& sequence, const SequencePlan& plan)
        : protocol_(protocol), sequence_(sequence), plan_(plan), day_(day_of(sequence)),
          r_(std::make_unique<Reckoning>()) {}

    sheet::Document build() {
        document_.title = "Sequence of " + units_text(sequence_.units.size()) + ": " + ordered(sequence_);
        document_.start = sequence_.first_start;
        document_.fact("Rules", rules_text(protocol_));
        Instant end = plan_.units.back().over;
        if (const auto by = plan_.units.back().finish_by) end = std::max(end, *by);
        document_.fact("Void after", clock(end));
        if (sequence_.over_by) document_.fact("Everything over by", clock(*sequence_.over_by));
        document_.headline(sequence_headline(sequence_, plan_, day_));
        document_.item(sequence_totals_text(sequence_, plan_));
        if (std::string text = sequence_other_line_text(sequence_, plan_); !text.empty()) document_.item(text);
        if (plan_.units.size() > 1 && plan_.hold != CallHold::none)
            document_.item(joined({"Every unit after the first is planned only in case it is decided on: ",
                                   name(plan_.hold), "."}));
        table();
        for (std::size_t i = 0; i < plan_.units.size(); ++i) unit(i);
        if (plan_.units.size() < sequence_.units.size())
            document_.paragraph("What comes after that is not planned.");
        document_.paragraph(joined({"Each unit is called for, matched", people(), " and observed from its start like a first "
                            "one. The times after the first unit move with its end: plan again when it ends otherwise."}));
        add_rules_and_cautions(document_, protocol_);
        return std::move(document_);
    }

private:
    // How many match is the protocol's.
    std::string_view people() const {
        if (!protocol_.match) return "";
        return protocol_.match->people.value == MatchPeople::one ? " by one person" : " by two people";
    }

    std::string clock(Instant at) const { return clock_text(at, day_); }

    void table() {
        sheet::Table table;
        table.caption = "Unit by unit";
        table.add_column("Unit", sheet::Role::number);
        table.add_column("Component");
        table.add_column("Bag", sheet::Role::number);
        for (const char* heading : {"Call", "Match", "Start", "All in", "Finish by", "Last check"})
            table.add_column(heading, sheet::Role::time);
        table.add_column("Set");
        table.add_column("Bag ends in", sheet::Role::pen);
        for (std::size_t i = 0; i < plan_.units.size(); ++i) {
            const SequencePlan::Unit& u = plan_.units[i];
            const SequenceUnit& asked = sequence_.units[i];
            const bool fits = u.verdict != Verdict::does_not_fit;
            table.add_row({std::to_string(i + 1), name(asked.component), volume_text(asked.bag), clock(u.call_at),
                           clock(u.match_at), clock(u.start), fits ? clock(u.all_in) : "does not fit",
                           u.finish_by ? clock(*u.finish_by) : std::string(not_recorded_text),
                           fits ? clock(u.over) : "", u.set == NewSet::kept ? "same" : "new"});
        }
        document_.table(std::move(table));
    }

    void unit(std::size_t i) {
        const SequencePlan::Unit& u = plan_.units[i];
        reckon(protocol_, sequence_state(sequence_, u, i), u.issued, *r_);
        const std::string title = sequence_unit_text(sequence_, i);
        document_.heading(title);
        if (u.verdict != Verdict::fits) {
            document_.item(verdict_text(*r_, day_));
            for (const Advised& advised : r_->judgement.advice)
                document_.item(advice_text(advised.code, advised.figures, day_));
        }
        document_.item("Set: " + sequence_set_text(u, day_));
        document_.item("Call: " + sequence_call_text(u, i == 0, day_));
        document_.item(joined({"Match: a new one", people(), ", at ", clock(u.match_at), "."}));
        document_.item("Baseline: " + sequence_baseline_text(protocol_, plan_, i, day_));
        moment("call", title + ": call for the bag", u.call_at, i == 0 ? std::string() : std::string(name(u.hold)));
        moment("match", title + ": match, hang", u.match_at, std::string(name(u.set)));
        if (u.verdict == Verdict::does_not_fit) return;
        std::string rates;
        for (const Stage& stage : r_->stages) {
            rates += rates.empty() ? "" : "; ";
            rates += joined({stage_rate_text(stage), " from ", clock(stage.from)});
            if (const std::string count = stage_count_text(stage); !count.empty()) rates += ", " + count;
        }
        document_.item("Rates: " + rates + ".");
        std::string checks;
        for (const Check& check : r_->checks) {
            if (check.kind == CheckKind::baseline) continue;
            checks += joined({checks.empty() ? "" : ", ", clock(check.due), " (", lower_first(name(check.kind)), ")"});
            moment("check", title + ": " + lower_first(check_title(check.kind)), check.due, {});
        }
        document_.item("Observations, a cycle of its own: " + checks + ".");
        if (u.left_of_ceiling)
            document_.item(joined({"Ceiling: ", ratio_text(*u.left_of_ceiling, Rounding::down),
                                   " is left for this line by the other one."}));
        document_.item("After it: " + sequence_after_text(protocol_, plan_, i, day_));
        moment("start", title + ": start", u.start, rates);
        moment("all_in", title + ": all in", u.all_in, u.finish_by ? "at the latest " + clock(*u.finish_by) : "");
        if (u.set_change_by) moment("set", title + ": change the set by", *u.set_change_by, {});
    }

    void moment(const char* code, std::string what, Instant at, std::string detail) {
        sheet::Moment moment;
        moment.kind = "sequence";
        moment.code = code;
        moment.name = std::move(what);
        moment.at = at;
        moment.shown = clock(at);
        moment.detail = std::move(detail);
        document_.moments.push_back(std::move(moment));
    }

    const Protocol& protocol_;
    const Sequence& sequence_;
    const SequencePlan& plan_;
    DayClock day_;
    std::unique_ptr<Reckoning> r_;
    sheet::Document document_;
};

}  // namespace

sheet::Document sequence_sheet(const Protocol& protocol, const Sequence& sequence, const SequencePlan& plan) {
    return Builder(protocol, sequence, plan).build();
}

DayClock day_of(const Sequence& sequence) {
    return DayClock(sequence.wall, sequence.first_start - hours(2));  // the first call is before the first start
}

bool sequence_fits(const Sequence& sequence, const SequencePlan& plan) { return plan.fit == sequence.units.size(); }

std::string sequence_unit_text(const Sequence& sequence, std::size_t i) {
    const SequenceUnit& unit = sequence.units[i];
    return joined({"Unit ", std::to_string(i + 1), ": ", lower_first(name(unit.component)), ", ", volume_text(unit.bag)});
}

std::string sequence_headline(const Sequence& sequence, const SequencePlan& plan, const DayClock& day) {
    const std::size_t all = sequence.units.size();
    std::string out;
    if (all > 1 && plan.hold != CallHold::none && plan.hold != CallHold::reassess_first)
        out = "One unit, then look again. ";
    const SequencePlan::Unit& last = plan.units.back();
    if (plan.fit == all)
        return out + joined({all == 1 ? "It fits" : all == 2 ? "Both units fit" : "All " + units_text(all) + " fit", "; the last check is at ",
                             clock_text(last.over, day), "."});
    const std::string hour = sequence.over_by ? clock_text(*sequence.over_by, day) : std::string();
    const SequencePlan::Unit& wrong = plan.units[plan.fit];
    if (wrong.verdict == Verdict::does_not_fit)
        out += joined({"Unit ", std::to_string(plan.fit + 1), " does not fit. "});
    else
        out += joined({"Unit ", std::to_string(plan.fit + 1), " would not be over by ", hour, ": its last check is at ",
                       clock_text(wrong.over, day), ". "});
    if (plan.fit == 0) return out + "No unit of these can be given so.";
    return out + joined({"The longest sequence that fits", sequence.over_by ? " before " + hour : "", " is the first ",
                         plan.fit == 1 ? "unit" : units_text(plan.fit), ", over at ",
                         clock_text(plan.units[plan.fit - 1].over, day), "."});
}

std::string sequence_set_text(const SequencePlan::Unit& u, const DayClock& day) {
    std::string out = std::string(name(u.set)) + ".";
    if (u.set == NewSet::would_expire && u.old_set_change_by)
        out = joined({"a new set before it is hung: the old one has to be changed by ",
                      clock_text(*u.old_set_change_by, day), ", and this unit would be all in after that."});
    if (u.set_change_by)
        out += joined({u.set == NewSet::kept ? " It has to be changed by " : " The new one has to be changed by ",
                       clock_text(*u.set_change_by, day), "."});
    if (u.set == NewSet::kept && u.latest_on_set)
        out += joined({" If this unit starts after ", minute_text(*u.latest_on_set, day),
                       ", it would not be all in by then: hang a new set first."});
    return out;
}

std::string sequence_call_text(const SequencePlan::Unit& u, bool first, const DayClock& day) {
    const std::string at = clock_text(u.call_at, day), there = clock_text(u.match_at, day);
    if (first) return joined({"at ", at, "; it is issued at ", clock_text(u.issued, day), " and on the ward at ", there, "."});
    if (u.hold == CallHold::none)
        return joined({"at ", at, ", while the unit before it runs, so that it is on the ward at ", there,
                       ", when that one ends, and not before."});
    return joined({name(u.hold), ". At ", at, " at the earliest; then it is on the ward at ", there, "."});
}

std::string sequence_baseline_text(const Protocol& protocol, const SequencePlan& plan, std::size_t i,
                                   const DayClock& day) {
    const SequencePlan::Unit& u = plan.units[i];
    const std::string within = span_text(protocol.checks.baseline_within.value);
    if (i > 0 && u.baseline_is_end_check)
        return joined({"the check at or after the end of the unit before it (", clock_text(plan.units[i - 1].all_in, day),
                       ") may stand for it while it is no older than ", within, " at the start."});
    std::string out = joined({"a new one, within ", within, " before the start"});
    if (i == 0) return out + ".";
    if (!protocol.round->end_check_is_baseline.value) return out + ": these rules do not take the last check for it.";
    return out + ": the check at the end of the unit before it is too old by then.";
}

std::string sequence_after_text(const Protocol& protocol, const SequencePlan& plan, std::size_t i, const DayClock& day) {
    if (plan.hold == CallHold::none) return "these rules do not ask for somebody to look again before another unit.";
    return joined({"somebody looks again before any other is called for: from ", clock_text(plan.units[i].all_in, day),
                   ", ", span_text(protocol.round->reassess_takes), " are kept for it."});
}

std::string sequence_totals_text(const Sequence& sequence, const SequencePlan& plan) {
    const Mass weight = sequence.common.recipient.weight;
    const bool other = sequence.common.other_line > Rate{};
    std::string out = joined({volume_text(plan.total), " in all"});
    if (weight.grams > 0) out += joined({", ", per_kg(plan.total.units, units_per_ml, weight, "mL/kg")});
    out += joined({"; the highest rate", other ? " of both lines together" : "", " is ", rate_text(plan.most)});
    if (weight.grams > 0)
        out += joined({", ", per_kg(plan.most.units_per_s, units_per_s_of_ml_per_h, weight, "mL/kg/h")});
    else
        out += ". The weight is not recorded: nothing is said by weight";
    return out + ".";
}

std::string sequence_other_line_text(const Sequence& sequence, const SequencePlan& plan) {
    const Rate other = sequence.common.other_line;
    if (other <= Rate{}) return {};
    const bool known = std::any_of(plan.units.begin(), plan.units.end(),
                                   [](const SequencePlan::Unit& u) { return u.left_of_ceiling.has_value(); });
    return joined({rate_text(other), " runs into the same person through another line: ",
                   known ? "it is taken off what the person may have at most."
                         : "these rules and this weight give no ceiling that the two would share; ask about it."});
}

}  // namespace hangtime
