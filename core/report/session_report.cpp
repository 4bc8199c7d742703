#include "core/report/session_report.hpp"

#include "core/plan/record_words.hpp"
#include "core/plan/session_sheet.hpp"
#include "core/report/trend_picture.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/words.hpp"

namespace hangtime {

namespace {

bool started(const Session& s) { return s.state.times.start && s.state.times.start->happened; }

Instant zero_of(const Session& s) {
    if (started(s)) return s.state.times.start->when.at;
    return s.sets.empty() ? s.opened : s.sets.front().when.at;
}

JudgedBy judged_by(const ChangeRules& rules) { return {rules.protocol.get(), rules.rules()}; }

// The rules that a set was judged by, or the ones in force where there were none for it.
JudgedBy judged_by(const Session& s, const ObservedSet& set) {
    const ChangeRules& then = rules_of(s, set);
    return judged_by(then.rules() ? then : rules_now(s));
}

bool is_charted(const Session& s, const ObservedSet& set) {
    const auto n = static_cast<std::size_t>(set.number);
    return n < s.is_charted.size() && s.is_charted[n];
}

void add_prompts(sheet::Document& d, const Session& s, const DayClock& day) {
    const ObservedSet* baseline = baseline_set(s);
    if (s.sets.empty()) return;
    const std::vector<ReportedRules> used = rules_used(s);
    if (used.empty()) return;
    const bool one = used.size() == 1;
    d.heading(one ? joined({"What changed, by the rules \"", used[0].by.rules->title, "\""})
                  : std::string("What changed, by the rules of its time"));
    for (const ReportedRules& rules : used)
        d.fact(joined({"From ", clock_text(rules.from, day)}),
               joined({rule_set_text(*rules.by.rules), rules.chosen ? ", chosen" : ", the first of these rules", "; limits from ",
                       rule_set_sources(*rules.by.protocol, *rules.by.rules)}));
    const auto by = [&](const ObservedSet& set) {
        const RuleSet* rules = rules_of(s, set).rules();
        return one || !rules ? std::string() : joined({" (by \"", rules->title, "\")"});
    };
    const Instant zero = zero_of(s);
    const Observation none;
    for (const ObservedSet& set : s.sets) {
        const bool is_baseline = baseline && set.number == baseline->number;
        const std::string when = is_baseline ? "Baseline" : elapsed_text(set.when.at - zero);
        if (is_baseline) {
            if (const RuleSet* rules = rules_of(s, set).rules())
                for (const Prompt& p : baseline_of(rules_of(s, set).protocol->observations, *rules, person_of(s), set.set))
                    d.item(joined({when, ": ", prompt_text(p, none, set.set), by(set)}));
            continue;
        }
        const auto change = change_of(s, set);
        if (!change) continue;
        for (const Prompt& p : change->prompts)
            d.item(joined({when, ": ", prompt_text(p, baseline->set, set.set), by(set)}));
        const std::string missing = missing_text(*change);
        if (!missing.empty()) d.item(joined({when, ", not compared: ", missing}));
    }
    d.paragraph(std::string(any_symptom_sentence()));
}

void add_actions(sheet::Document& d, const Session& s, const DayClock& day) {
    if (!s.reaction) return;
    sheet::Table table;
    table.caption = "Since a reaction was suspected";
    table.add_column("What");
    table.add_column("When", sheet::Role::time);
    for (const ActionLine& line : action_list(s.protocol->reaction, s.actions))
        table.add_row({name(line.kind), line.at ? clock_text(*line.at, day) : std::string("open")});
    d.table(std::move(table));
    d.fact("Identity checked again", identity_text(s.identity_agrees, s.identity_at, day));
    if (s.identity_agrees == false) d.paragraph(std::string(identity_differs_sentence()));
}

// Rates and checks as they stand over the signs; of checks, those of this unit.
TrendFrame frame_of(const Session& s, const Live& live) {
    TrendFrame out;
    if (!started(s)) return out;
    const Instant zero = zero_of(s);
    for (const Flow& flow : s.state.run.flows)
        out.stages.push_back({flow.from - zero, flow.paused ? std::string("stands still") : rate_text(flow.rate)});
    for (const Check& check : live.reckoning.checks) {
        using As = TrendFrame::CheckMark::As;
        if (check.kind == CheckKind::baseline || check.state == CheckState::not_needed ||
            check.state == CheckState::not_recorded)
            continue;
        const bool past = check.due <= live.reckoning.now;
        if (check.done) out.checks.push_back({*check.done - zero, As::done});
        else if (check.state == CheckState::missed) out.checks.push_back({check.due - zero, As::missed});
        else if (past) out.checks.push_back({check.due - zero, As::open});
    }
    if (s.reaction && *s.reaction >= zero) out.stopped = *s.reaction - zero;
    if (s.state.run.ended) out.ended = *s.state.run.ended - zero;
    return out;
}

// What all of it adds up to, and what is kept and reported afterwards.
void add_after(sheet::Document& d, const Session& s, const Live& live, std::span<const FluidBeside> beside, const DayClock& day) {
    const FluidTotal fluid = fluid_total(s, live, beside);
    d.fact("All fluid so far", joined({fluid_text(fluid), fluid.since ? joined({", since ", clock_text(*fluid.since, day)}) : std::string()}));
    d.fact("That is", fluid_parts_text(fluid.all));
    for (const std::string& counted : fluid.counted) d.item(counted);
    for (const std::string& not_known : fluid.not_known) d.item(not_known);
    if (!s.state.run.ended) return;
    const ReactionRules& rules = s.protocol->reaction;
    d.fact("Keep the empty bag until", clock_text(keep_bag_until(rules, *s.state.run.ended), day));
    d.fact("Late symptoms: report until", clock_text(report_late_until(rules, *s.state.run.ended), day));
}

}  // namespace

std::vector<ReportedRules> rules_used(const Session& s) {
    std::vector<ReportedRules> out;
    for (const ChangeRules& rules : s.change_rules) {
        if (!rules.rules()) continue;
        const bool same = !out.empty() && out.back().by.protocol == rules.protocol.get() && out.back().by.rules == rules.rules();
        if (!same) out.push_back({rules.from, judged_by(rules), rules.chosen});
    }
    return out;
}

ObserveFile observations_of(const Session& s) {
    ObserveFile out;
    out.protocol = s.protocol->id;
    out.person = person_of(s);
    const Instant zero = zero_of(s);
    const ObservedSet* baseline = baseline_set(s);
    if (baseline) out.baseline = {baseline->when.at - zero, baseline->set, judged_by(s, *baseline)};
    for (const ObservedSet& set : s.sets)
        if (!baseline || set.number != baseline->number)
            out.sets.push_back({set.when.at - zero, set.set, judged_by(s, set)});
    return out;
}

ReactionReport reaction_report_of(const Session& s, const Live& live, std::span<const FluidBeside> beside) {
    ReactionReport out;
    out.day = day_clock_of(s);
    out.zero = zero_of(s);
    out.component = s.state.unit.component;
    if (s.digits) out.bag_digits = std::string(s.digits->data(), s.digits->size());
    out.object = name(s.object);
    out.person = person_of(s);
    if (s.state.times.issued) out.issued = s.state.times.issued->at;
    if (started(s)) out.started = s.state.times.start->when.at;
    out.stopped = s.reaction.value_or(live.reckoning.now);
    out.given = given_of(s.state, s.state.run.moved_at(out.stopped));
    out.bag = s.state.unit.bag;
    for (const Flow& flow : s.state.run.flows)
        if (flow.from < out.stopped && (out.rates.empty() || out.rates.back().rate != flow.rate))
            out.rates.push_back({flow.from, flow.rate});
    const ObserveFile seen = observations_of(s);
    out.baseline = seen.baseline;
    out.sets = seen.sets;
    const ObservedSet* baseline = baseline_set(s);
    out.baseline_taken = baseline != nullptr;
    out.baseline_charted = baseline && is_charted(s, *baseline);
    for (const ObservedSet& set : s.sets) {
        if (baseline && set.number == baseline->number) continue;
        out.charted.push_back(is_charted(s, set));
        out.titles.push_back(set.extra                          ? "between the checks"
                             : set.kind == CheckKind::baseline ? "a baseline before that"
                                                               : std::string(check_title(set.kind)));
    }
    out.rules = rules_used(s);
    out.done = s.actions;
    out.identity_agrees = s.identity_agrees;
    out.identity_at = s.identity_at;
    out.frame = frame_of(s, live);
    const FluidTotal fluid = fluid_total(s, live, beside);
    out.fluid = fluid.all;
    out.fluid_since = fluid.since;
    out.fluid_counted = fluid.counted;
    out.fluid_not_known = fluid.not_known;
    if (out.person.weight.grams == 0) out.person.weight = fluid.weight;
    out.latest_end = live.reckoning.finish_by;
    out.now = live.reckoning.now;
    return out;
}

sheet::Document session_document(const Log& log, const Live& live, std::span<const FluidBeside> beside) {
    sheet::Document d = session_sheet(log, live);
    const Session& s = log.session();
    if (s.sets.empty() && !s.reaction && !started(s)) return d;
    d.part("Observations");
    add_actions(d, s, day_clock_of(s));
    add_prompts(d, s, day_clock_of(s));
    const ObserveFile seen = observations_of(s);
    d.picture(trend_picture(seen.baseline, seen.sets, frame_of(s, live)));
    d.table(trend_table(seen.baseline, seen.sets));
    if (started(s)) add_after(d, s, live, beside, day_clock_of(s));
    return d;
}

}  // namespace hangtime
