#include "core/plan/session_sheet.hpp"

#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/record_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"

namespace hangtime {

namespace {

using sheet::Document;
using sheet::Role;
using sheet::Table;

std::string said(const Event& e, const DayClock& day) {
    const std::string text = record_text(e, day);
    return joined({name(e.kind), text.empty() ? "" : ": ", text});
}

void add_uncharted(Document& d, const Log& log, const DayClock& day) {
    const Session& s = log.session();
    if (s.uncharted() == 0) return;
    Table table;
    table.caption = "Not charted yet: copy these into the record";
    table.add_column("When", Role::time);
    table.add_column("What");
    table.add_column("Charted", Role::tick);
    for (const Event& e : log.events()) {
        const auto n = static_cast<std::size_t>(e.number);
        const bool open = n < s.to_chart.size() && s.to_chart[n] && !(n < s.is_charted.size() && s.is_charted[n]);
        if (!open || log.is_void(e.number)) continue;
        table.add_row({record_time_text(e, day), said(e, day), ""});
    }
    d.table(std::move(table));
}

void add_to_do(Document& d, const Live& live, const DayClock& day) {
    d.heading("What to do");
    for (const ToDo& todo : live.to_do) {
        const bool until = todo.what == Doing::stay;  // it begins now
        std::string text = joined({todo.due || until ? "now" : clock_text(todo.at, day), ": ", to_do_text(todo, live.reckoning)});
        if (until) text += joined({" until ", clock_text(todo.at, day)});
        if (todo.latest) text += joined({", ", clock_text(*todo.latest, day), " at the latest"});
        d.item(text);
    }
}

void add_ready(Document& d, const Live& live, const DayClock& day) {
    Table table;
    table.caption = "Ready";
    table.add_column("Item");
    table.add_column("Before");
    table.add_column("State");
    table.add_column("Good until", Role::time);
    for (const ReadyItem& item : live.ready)
        table.add_row({name(item.item), item.before_call ? "the call" : "the start", name(item.state),
                       item.good_until ? clock_text(*item.good_until, day) : std::string()});
    d.table(std::move(table));
}

void add_events(Document& d, const Log& log, const DayClock& day) {
    Table table;
    table.caption = "What happened";
    table.add_column("No.", Role::number);
    table.add_column("When", Role::time);
    table.add_column("What");
    table.add_column("More");
    for (const Event& e : log.events())
        table.add_row({std::to_string(e.number), record_time_text(e, day), name(e.kind),
                       joined({record_text(e, day), log.is_void(e.number) ? " (no longer counts)" : ""})});
    d.table(std::move(table));
}

}  // namespace

Document session_sheet(const Log& log, const Live& live) {
    const Session& s = log.session();
    const DayClock day = day_clock_of(s);
    SheetLabels labels;
    labels.object = name(s.object);
    if (s.digits) labels.bag_digits = std::string(s.digits->data(), s.digits->size());

    Assumed assumed;
    const State state = assumed_state(s, live.reckoning.now, assumed);
    Document plan = plan_sheet(*s.protocol, state, live.reckoning, s.wall, labels);
    Document d;
    d.title = plan.title;
    d.start = plan.start;
    if (s.rehearsal) d.headline("Rehearsal: nothing here is about a real person");
    if (s.reaction) d.headline(joined({"A reaction is suspected since ", clock_text(*s.reaction, day), "."}));
    if (live.to_do[0].what == Doing::hold_and_ask) d.headline("Hold and ask: the last observations say so.");
    if (s.refused) d.headline(joined({"The person refuses, since ", clock_text(*s.refused, day), "."}));
    add_uncharted(d, log, day);
    if (s.groups) d.fact("Groups and requirements", groups_text(*s.groups));
    if (s.can_say) d.fact("Can say who they are", *s.can_say ? "yes" : "no");
    d.fact("State", name(s.phase));
    if (live.reckoning.live) {
        const RunningBand& r = live.running;
        d.fact("Given so far", joined({"about ", volume_text(r.given), ", between ", volume_text(r.least_given, Rounding::down),
                                       " and ", volume_text(r.most_given, Rounding::up)}));
    }
    if (live.assumed.volume || live.assumed.issue || live.assumed.start)
        d.fact("Taken as usual", joined({live.assumed.volume ? "the volume; " : "", live.assumed.issue ? "the time of issue; " : "",
                                         live.assumed.start ? "the start" : ""}));
    add_to_do(d, live, day);
    for (sheet::Block& block : plan.blocks) d.blocks.push_back(std::move(block));
    d.part("The session");
    add_ready(d, live, day);
    add_events(d, log, day);
    return d;
}

}  // namespace hangtime
