#include "core/rehearse/debrief.hpp"

#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/record_words.hpp"
#include "core/words/match_words.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"

#include <algorithm>

namespace hangtime {

namespace {

using sheet::Document;
using sheet::Table;

DayClock day_of(const Rehearsal& r) { return DayClock(r.scenario().wall, r.scenario().begins); }

std::string points_text(const Outcome& o) {
    return std::to_string(o.points) + " of " + std::to_string(o.most);
}

void add_top(Document& d, const Rehearsal& r) {
    const Scenario& s = r.scenario();
    d.headline(std::string(rehearsal_sentence()));
    d.fact("Scenario", s.title);
    d.fact("Level", name(s.level));
    d.fact("Case number", std::to_string(case_number(s, r.seed())));
    d.fact("Rules", rules_text(*s.rules));
    const DayClock day = day_of(r);
    d.fact("From", joined({clock_text(s.begins, day), " to ", clock_text(r.now(), day)}));
}

void add_parts(Document& d, const Rehearsal& r, const Outcome& o) {
    const Scenario& s = r.scenario();
    Table table;
    table.caption = "Each scored item";
    table.add_column("Item");
    table.add_column("Points", sheet::Role::number);
    table.add_column("What came of it");
    table.add_column("Rule");
    table.add_column("Where from");
    for (const Part& part : o.parts) {
        const Scored& scored = s.scored[part.scored];
        table.add_row({scored_text(scored), joined({part.met ? std::to_string(scored.points) : "0", " of ",
                                                    std::to_string(scored.points)}),
                       part_text(s, part, day_of(r)), scored.rule.empty() ? "as the protocol has it" : scored.rule,
                       source_text(s, part)});
    }
    d.table(std::move(table));
}

void add_costs(Document& d, const Rehearsal& r, const Outcome& o) {
    const DayClock day = day_of(r);
    if (o.units.empty()) d.fact("Volume", "no unit was issued");
    for (std::size_t i = 0; i < o.units.size(); ++i) {
        const UnitCost& u = o.units[i];
        const std::string which = o.units.size() > 1 ? joined({"Unit ", std::to_string(i + 1), ": "}) : std::string();
        std::string text = joined({name(u.component), ", ", volume_text(u.bag), "; given ", volume_text(u.given)});
        if (u.wasted > Volume{}) text += joined({", wasted ", volume_text(u.wasted)});
        if (!u.started) text += ", not started";
        else if (!u.ended) text += ", still running at the end";
        else text += joined({u.stopped ? ", stopped " : ", all in ", clock_text(*u.ended, day)});
        if (u.over_limit > Seconds{}) text += joined({", ", span_text(u.over_limit), " over the limit"});
        d.fact(which + "Volume", text);
        if (u.stood_still > Seconds{}) d.fact(which + "Stood still", span_text(u.stood_still));
        if (u.started)
            d.fact(which + "Checks that fell due", joined({std::to_string(u.checks), ", late ", std::to_string(u.late),
                                                           ", missed ", std::to_string(u.missed)}));
    }
    for (const Unanswered& u : o.unanswered) {
        const Told& told = r.told()[u.told];
        std::string text = u.answered ? "stopped after " + span_text(u.span) : "never stopped, for " + span_text(u.span);
        text += joined({"; ", volume_text(u.ran), " by the rates that were set"});
        const Happening& h = r.scenario().happenings[told.happening];
        d.fact(name(h.kind), joined({clock_text(told.at, day), "; ", text}));
    }
}

// What was due against what was done, for each unit: limits and checks in the order in which they were due.
void add_due(Document& d, const Rehearsal& r, const Outcome& o) {
    const DayClock day = day_of(r);
    for (std::size_t i = 0; i < o.ends.size(); ++i) {
        const UnitEnd& u = o.ends[i];
        const auto live = std::make_unique<Live>();
        reckon_live(u.session, u.until, *live);
        struct Row {
            Instant due;
            std::string what, done, how, from;
        };
        std::vector<Row> rows;
        const State& state = u.session.state;
        const bool started = state.times.start && state.times.start->happened;
        for (const Window& w : live->reckoning.windows) {
            if (!w.binds || !w.latest || w.kind == LimitKind::decide || w.kind == LimitKind::send_back) continue;
            std::optional<Instant> done;
            if (w.kind == LimitKind::hang && state.times.spiked) done = state.times.spiked->at;
            if (w.kind == LimitKind::start && started) done = state.times.start->when.at;
            if (w.kind == LimitKind::finish || w.kind == LimitKind::change_set) done = state.run.ended;
            if (w.kind == LimitKind::change_set && done && *done < *w.latest) continue;
            const std::string how = !done                ? std::string(name(w.state))
                                    : *done <= *w.latest ? std::string("kept")
                                                         : joined({span_text(*done - *w.latest), " late"});
            rows.push_back({*w.latest, std::string(name(w.kind)), done ? clock_text(*done, day) : "not done", how,
                            basis_text(*u.session.protocol, w.basis)});
        }
        if (started)
            for (const Check& c : live->reckoning.checks) {
                if (c.kind == CheckKind::baseline || c.state == CheckState::not_needed) continue;
                rows.push_back({c.due, std::string(check_title(c.kind)), c.done ? clock_text(*c.done, day) : "not done",
                                std::string(name(c.state)), basis_text(*u.session.protocol, c.basis)});
            }
        std::stable_sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) { return a.due < b.due; });
        Table table;
        table.caption = joined({"What was due and what was done", o.ends.size() > 1 ? ", unit " + std::to_string(i + 1) : ""});
        table.add_column("Due", sheet::Role::time);
        table.add_column("What");
        table.add_column("Done", sheet::Role::time);
        table.add_column("How");
        table.add_column("Where from");
        for (const Row& row : rows) table.add_row({clock_text(row.due, day), row.what, row.done, row.how, row.from});
        d.table(std::move(table));
    }
}

// Everything, in the order of time: what happened, what was recorded, what was tried and refused.
void add_timeline(Document& d, const Rehearsal& r) {
    const DayClock day = day_of(r);
    struct Row {
        Instant at;
        std::string who, what;
    };
    std::vector<Row> rows;
    for (const Told& told : r.told()) {
        std::string text = happening_text(r.happening(told.happening));
        if (told.happening >= r.scenario().happenings.size()) text += " (by the educator)";
        if (told.refused) text += joined({" (", sentence(*told.refused), ")"});
        rows.push_back({told.at, "it happens", text});
    }
    std::size_t steps = 0;
    for (const Event& e : r.log().events()) {
        if (e.at.at < r.scenario().begins) continue;
        bool world = false;
        for (const Told& told : r.told()) world = world || told.record == e.number;
        if (world) continue;
        // The steps of a match that were the same stand as one line.
        const auto* match = std::get_if<facts::MatchNoted>(&e.facts);
        if (match && match->outcome == MatchOutcome::passed) {
            ++steps;
            const std::string text = std::to_string(steps) + (steps == 1 ? " step" : " steps") + " of the match: the same";
            if (steps > 1) rows.back() = {e.at.at, "done", text};
            else rows.push_back({e.at.at, "done", text});
            continue;
        }
        steps = 0;
        const std::string more = record_text(e, day);
        const bool later = e.noted - e.at.at >= minutes(1);
        rows.push_back({e.at.at, "done", joined({name(e.kind), more.empty() ? "" : ": ", more,
                                                 later ? ", noted at " + clock_text(e.noted, day) : std::string(),
                                                 r.log().is_void(e.number) ? ", taken back or put right later" : ""})});
    }
    for (const Tried& tried : r.tried())
        rows.push_back({tried.event.at.at, "refused", joined({name(tried.event.kind), ": ", sentence(tried.refusal)})});
    std::stable_sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) { return a.at < b.at; });
    Table table;
    table.caption = "What happened";
    table.add_column("When", sheet::Role::time);
    table.add_column("How");
    table.add_column("What");
    for (const Row& row : rows) table.add_row({clock_text(row.at, day), row.who, row.what});
    d.table(std::move(table));
}

}  // namespace

Document debrief_sheet(const Rehearsal& r, const Outcome& o) {
    Document d;
    d.title = joined({"Rehearsal: ", r.scenario().title});
    d.start = r.scenario().begins;
    add_top(d, r);
    d.fact("Points", joined({points_text(o), ", the sum of the items below"}));
    add_parts(d, r, o);
    d.heading("What it came to");
    add_costs(d, r, o);
    d.part("From the beginning to the end");
    add_due(d, r, o);
    add_timeline(d, r);
    d.heading("What it teaches");
    for (const std::string& text : r.scenario().teaches) d.item(text);
    add_rules_and_cautions(d, *r.scenario().rules);
    return d;
}

Document comparison_sheet(const Rehearsal& a, const Outcome& x, const Rehearsal& b, const Outcome& y) {
    const Scenario& s = a.scenario();
    Document d;
    d.title = joined({"Rehearsal: ", s.title, ", two attempts"});
    d.start = s.begins;
    d.headline(std::string(rehearsal_sentence()));
    d.fact("Scenario", s.title);
    d.fact("Case numbers", joined({std::to_string(case_number(s, a.seed())), " and ",
                                   std::to_string(case_number(b.scenario(), b.seed()))}));
    d.fact("Rules", rules_text(*s.rules));
    d.fact("Points", joined({points_text(x), " and ", points_text(y)}));
    Table table;
    table.caption = "Each scored item";
    table.add_column("Item");
    table.add_column("First");
    table.add_column("Second");
    table.add_column("Change");
    for (std::size_t i = 0; i < x.parts.size() && i < y.parts.size(); ++i) {
        const Part& one = x.parts[i];
        const Part& two = y.parts[i];
        const std::string_view change = one.met == two.met ? (one.met ? "both" : "neither")
                                        : two.met          ? "better"
                                                           : "worse";
        table.add_row({scored_text(s.scored[one.scored]), part_text(s, one, day_of(a)),
                       part_text(b.scenario(), two, day_of(b)), change});
    }
    d.table(std::move(table));
    d.heading("What the first came to");
    add_costs(d, a, x);
    d.heading("What the second came to");
    add_costs(d, b, y);
    add_rules_and_cautions(d, *s.rules);
    return d;
}

Document scenario_sheet(const Scenario& s) {
    Document d;
    d.title = joined({"Rehearsal: ", s.title});
    d.start = s.begins;
    d.headline(std::string(rehearsal_sentence()));
    d.fact("Number", std::to_string(s.number));
    d.fact("Level", name(s.level));
    d.fact("Rules", rules_text(*s.rules));
    d.fact("Lasts", span_text(s.lasts));
    d.heading("What it teaches");
    for (const std::string& text : s.teaches) d.item(text);
    d.heading("What happens");
    for (const Happening& h : s.happenings) d.item(joined({happening_text(h), ", ", when_text(s, h.when)}));
    Table table;
    table.caption = "What is scored";
    table.add_column("Item");
    table.add_column("Points", sheet::Role::number);
    table.add_column("Rule");
    table.add_column("Where from");
    for (std::size_t i = 0; i < s.scored.size(); ++i) {
        Part part;
        part.scored = i;
        table.add_row({scored_text(s.scored[i]), std::to_string(s.scored[i].points),
                       s.scored[i].rule.empty() ? "as the protocol has it" : s.scored[i].rule, source_text(s, part)});
    }
    d.table(std::move(table));
    add_rules_and_cautions(d, *s.rules);
    return d;
}

}  // namespace hangtime
