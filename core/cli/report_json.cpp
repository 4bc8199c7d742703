#include "core/cli/report_json.hpp"

#include "core/cli/report_values.hpp"
#include "core/plan/plan_words.hpp"
#include "core/words/spelling.hpp"
#include "core/words/sums.hpp"
#include "core/words/words.hpp"

namespace hangtime::cli {

namespace {

// The warnings that a rule of the protocol gives rise to; the others follow from what is entered.
bool rests_on_a_rule(Warning warning) {
    switch (warning) {
        case Warning::volume_unusual:
        case Warning::duration_unusual:
        case Warning::slow_stage_lowered:
        case Warning::slow_stage_one_step:
        case Warning::gauge_small:
        case Warning::gauge_not_recorded:
        case Warning::return_by_temperature:
        case Warning::set_changes_during_run:
        case Warning::never_by_pump:
        case Warning::never_by_gravity:
        case Warning::controlled_delivery:
        case Warning::rate_above_ceiling: return true;
        case Warning::protocol_is_example:
        case Warning::component_after_slow_stage:
        case Warning::line_not_given:
        case Warning::weight_estimated:
        case Warning::overload_risk_not_recorded:
        case Warning::report_not_recorded:
        case Warning::thaw_not_recorded:
        case Warning::expiry_not_recorded:
        case Warning::spike_taken_as_start:
        case Warning::storage_taken_as_issue:
        case Warning::duration_not_met:
        case Warning::raised_to_limit:
        case Warning::dose_exceeds_bag:
        case Warning::child_whole_bag:
        case Warning::count_exactly:
        case Warning::start_in_the_past:
        case Warning::early_check_open:
        case Warning::early_check_before_component:
        case Warning::line_filled_from_saline:
        case Warning::shares_ceiling:
        case Warning::total_differs:
        case Warning::total_may_hold_priming:
        case Warning::stood_still:
        case Warning::fits_no_more_since:
        case Warning::set_held_component:
        case Warning::end_overdue:
        case Warning::early_check_flagged:
        case Warning::dose_run_over:
        case Warning::ended_before_rates:
        case Warning::new_set_asked: return false;
    }
    return false;
}

class ReportWriter : ReportValues {
public:
    using ReportValues::ReportValues;

    std::string write();

private:
    void write_protocol();
    void write_unit();
    void write_missing();
    void write_windows();
    void write_plan();
    void write_volumes();
    void write_rates();
    void write_stages();
    void write_checks();
    void write_verdict();
    void write_next();
    void write_warnings();
};

void ReportWriter::write_protocol() {
    out_.key("protocol").begin_object().text("id", protocol_.id).text("title", protocol_.title);
    out_.text("revised", protocol_.revised).boolean("adopted", protocol_.adopted);
    out_.key("sources").begin_list();
    for (const Source& s : protocol_.sources) {
        out_.begin_object().text("key", s.key).text("title", s.title).text("year", s.year);
        out_.text("place", s.place).text("note", s.note).end_object();
    }
    out_.end_list().end_object();
}

void ReportWriter::write_unit() {
    const Unit& unit = request_.state.unit;
    out_.key("bag").begin_object();
    if (request_.object) {
        out_.text("object", name(*request_.object));
    } else {
        out_.null("object");
    }
    if (request_.bag_digits.empty()) {
        out_.null("digits");
    } else {
        out_.text("digits", request_.bag_digits);
    }
    if (unit.component) {
        out_.text("component", code(*unit.component));
    } else {
        out_.null("component");
    }
    if (unit.bag) {
        volume("volume", *unit.bag);
    } else {
        out_.null("volume");
    }
    out_.end_object();
}

void ReportWriter::write_missing() {
    const Missing& m = r_.missing;
    out_.key("missing").begin_list(Layout::along);
    if (m.component) out_.text("component");
    if (m.volume) out_.text("volume");
    if (m.issued) out_.text("issued");
    if (m.start) out_.text("start");
    if (m.weight) out_.text("weight");
    out_.end_list();
}

void ReportWriter::write_windows() {
    out_.key("windows").begin_list();
    for (const Window& w : r_.windows) {
        out_.begin_object().text("kind", code(w.kind)).text("name", name(w.kind)).text("from", code(w.from));
        if (w.from == Anchor::label_expiry) {
            out_.null("within_s");
        } else {
            out_.integer("within_s", w.within.count);
        }
        time("opened", w.opened);
        out_.boolean("opened_assumed", w.opened_assumed);
        time("latest", w.latest);
        time("planned", w.planned);
        out_.boolean("binds", w.binds).boolean("kept", w.kept).text("state", code(w.state));
        sum("sum", w.sum);
        source(w.basis);
        out_.end_object();
    }
    out_.end_list();
    time("start_by", r_.start_by);
    time("finish_by", r_.finish_by);
}

void ReportWriter::write_volumes() {
    const Volumes& v = r_.volumes;
    out_.key("volumes").begin_object();
    volume("bag", v.bag);
    volume("lost_in_priming", v.lost);
    volume("line", v.line);
    volume("wanted", v.wanted);
    volume("pushed", v.pushed);
    volume("given", v.given);
    volume("left_in_bag", v.left_in_bag);
    volume("left_in_line", v.left_in_line);
    volume("saline_first", v.saline_first);
    sum("wanted_sum", v.wanted_sum);
    sum("pushed_sum", v.pushed_sum);
    out_.end_object();
}

void ReportWriter::write_rates() {
    const Rates& rates = r_.rates;
    out_.key("rates").begin_object();
    ratio("floor", rates.floor);
    ratio("target", rates.target);
    out_.key("ceilings").begin_list();
    for (const Ceiling& ceiling : rates.ceilings) {
        out_.begin_object().text("kind", code(ceiling.kind)).text("name", name(ceiling.kind));
        ratio("rate", ceiling.rate);
        sum("sum", ceiling.sum);
        source(ceiling.basis, ceiling.kind != CeilingKind::order && ceiling.kind != CeilingKind::device &&
                                  ceiling.kind != CeilingKind::slowed);
        out_.end_object();
    }
    out_.end_list().text("ceiling", code(rates.ceiling.kind));
    rate("set", rates.set);
    out_.text("rule", code(rates.rule));
    rate("step", rates.step);
    sum("floor_sum", rates.floor_sum);
    sum("set_sum", rates.set_sum);
    out_.end_object();
}

void ReportWriter::write_stages() {
    out_.key("stages").begin_list();
    for (const Stage& stage : r_.stages) {
        out_.begin_object().text("kind", code(stage.kind)).text("name", name(stage.kind));
        time("from", stage.from);
        time("to", stage.to);
        rate("rate", stage.rate);
        volume("volume", stage.volume);
        if (stage.drops_per_min > 0) {
            out_.integer("drops_per_min", stage.drops_per_min);
            out_.key("count").begin_object(Layout::along).integer("drops", stage.count_drops);
            out_.integer("in_s", stage.count_over.count).end_object();
        } else {
            out_.null("drops_per_min").null("count");
        }
        sum("sum", stage.sum);
        source(stage.basis, stage.kind == StageKind::slow);
        out_.end_object();
    }
    out_.end_list();
    if (r_.stage_now < 0) {
        out_.null("stage_now");
    } else {
        out_.integer("stage_now", r_.stage_now);
    }
}

void ReportWriter::write_checks() {
    out_.key("checks").begin_list();
    for (const Check& check : r_.checks) {
        out_.begin_object().text("kind", code(check.kind)).integer("index", check.index);
        out_.text("name", check_title(check.kind));
        time("due", check.due);
        time("counts_from", check.counts_from);
        out_.text("state", code(check.state));
        time("done", check.done);
        sum("sum", check.sum);
        source(check.basis);
        out_.end_object();
    }
    out_.end_list();
}

void ReportWriter::write_verdict() {
    const Judgement& j = r_.judgement;
    out_.key("verdict").begin_object().text("code", code(j.verdict)).text("text", verdict_text(r_, day_));
    out_.key("reasons").begin_list();
    for (const Reason reason : j.reasons)
        out_.begin_object().text("code", code(reason)).text("text", sentence(reason)).end_object();
    out_.end_list().key("advice").begin_list();
    for (const Advised& advised : j.advice) {
        out_.begin_object().text("code", code(advised.code));
        out_.text("text", advice_text(advised.code, advised.figures, day_));
        sum("sum", advised.sum);
        out_.end_object();
    }
    out_.end_list().integer("over_by_s", j.over_by.count);
    volume("can_give", j.can_give);
    volume("would_be_left", j.would_be_left);
    volume("largest_bag", j.largest_bag);
    time("latest_start", j.latest_start);
    mass("weight_exact_kg", j.weight_exact);
    mass("weight_on_grid_kg", j.weight_on_grid);
    sum("over_by_sum", j.over_sum);
    sum("can_give_sum", j.can_give_sum);
    sum("would_be_left_sum", j.left_sum);
    sum("largest_bag_sum", j.largest_bag_sum);
    sum("latest_start_sum", j.latest_start_sum);
    out_.end_object();
}

void ReportWriter::write_next() {
    out_.key("next").begin_list();
    for (const Step& step : r_.next) {
        out_.begin_object().text("kind", code(step.kind)).text("name", name(step.kind));
        time("at", step.at);
        if (step.kind == StepKind::start || step.kind == StepKind::raise_rate ||
            step.kind == StepKind::set_rate) {
            rate("rate", step.rate);
        } else {
            out_.null("rate");
        }
        if (step.check < 0) {
            out_.null("check");
        } else {
            out_.integer("check", step.check);
        }
        out_.end_object();
    }
    out_.end_list();
}

void ReportWriter::write_warnings() {
    out_.key("warnings").begin_list();
    for (const Warned& warned : r_.warnings) {
        out_.begin_object().text("code", code(warned.code)).text("severity", code(warned.severity));
        out_.text("text", warning_text(warned.code, warned.figures, day_));
        source(warned.basis, rests_on_a_rule(warned.code));
        out_.end_object();
    }
    out_.end_list();
}

void ReportWriter::write_plan() {
    if (!r_.planned) {
        out_.null("plan");
        return;
    }
    out_.key("plan").begin_object();
    write_verdict();
    out_.boolean("held", r_.held).boolean("stopped", r_.stopped);
    time("start", r_.start);
    time("first_component", r_.first_component);
    time("bag_empty", r_.bag_empty);
    time("all_in", r_.all_in);
    sum("all_in_sum", r_.all_in_sum);
    time("void_after", void_after(r_));
    write_volumes();
    write_rates();
    write_stages();
    write_checks();
    write_next();
    const Running running = running_at(r_, r_.now);
    out_.key("running").begin_object();
    volume("pushed", running.pushed);
    volume("given", running.given);
    out_.end_object().end_object();
}

void write_cautions(json::Writer& out) {
    out.key("cautions").begin_list();
    for (std::size_t i = 0; i < caution_count; ++i) out.text(caution(i));
    out.end_list();
}

std::string ReportWriter::write() {
    out_.begin_object().integer("hangtime_sheet", sheet_version);
    out_.text("result", r_.planned ? "planned" : "incomplete");
    write_missing();
    write_protocol();
    write_unit();
    time("now", r_.now);
    time("next_change", r_.next_change);
    write_windows();
    write_plan();
    write_warnings();
    write_cautions(out_);
    out_.end_object();
    return out_.take();
}

}  // namespace

std::string report_json(const Protocol& protocol, const Request& request, const Reckoning& reckoning) {
    return ReportWriter(protocol, request, reckoning).write();
}

std::string not_covered_json(NotCovered what) {
    json::Writer out;
    out.begin_object().integer("hangtime_sheet", sheet_version).text("result", "not_covered");
    out.text("component", code(what)).text("text", not_covered_sentence());
    write_cautions(out);
    out.end_object();
    return out.take();
}

}  // namespace hangtime::cli
