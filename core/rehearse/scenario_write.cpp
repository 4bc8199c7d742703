#include "core/rehearse/filter_read.hpp"
#include "core/rehearse/scenario.hpp"

#include "core/json/write.hpp"
#include "core/protocol/write.hpp"
#include "core/session/reader.hpp"
#include "core/words/match_words.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_spelling.hpp"

namespace hangtime {

namespace {

using json::Writer;
using namespace rehearse_reader;

void volume(Writer& w, std::string_view key, Volume v) { w.decimal(key, v.units / hundredths_of_ml(1).units, 2); }

void write_record(Writer& w, const Event& event) {
    w.key("record").begin_object(Writer::Layout::along);
    write_facts_of(w, event);
    w.end_object();
}

// Order and recipient stand as in the log, but for the key that says which kind of record it is.
void write_order(Writer& w, const Scenario& s) {
    Event ordered;
    ordered.kind = EventKind::ordered;
    ordered.facts = s.ordered;
    w.key("order").begin_object();
    write_only_facts(w, ordered);
    w.end_object();
    Event told;
    told.kind = EventKind::recipient_told;
    told.facts = facts::RecipientTold{s.recipient};
    write_only_facts(w, told);
}

void write_trigger(Writer& w, const Trigger& t) {
    w.key("when").begin_object(Writer::Layout::along);
    switch (t.how) {
    case Trigger::How::since:
        if (!t.since.happening.empty()) w.text("after_happening", t.since.happening);
        if (t.since.record) {
            w.key("after");
            write_filter(w, *t.since.record, t.since.nth);
        }
        break;
    case Trigger::How::given: volume(w, "given_ml", t.given); break;
    case Trigger::How::match_step: w.integer("match_step", t.step); break;
    }
    if (t.wait > Seconds{}) w.integer("wait_min", t.wait.count / 60);
    if (t.vary > Seconds{}) w.integer("vary_min", t.vary.count / 60);
    w.end_object();
}

}  // namespace

void rehearse_reader::write_happening(Writer& w, const Happening& h) {
    w.begin_object().text("id", h.id).text("what", code(h.kind));
    write_trigger(w, h.when);
    if (h.record) write_record(w, *h.record);
    if (h.vary_volume > Volume{}) volume(w, "vary_ml", h.vary_volume);
    if (!h.signs.empty()) {
        w.key("signs").begin_list();
        for (const SignsAfter& point : h.signs) {
            w.begin_object(Writer::Layout::along).integer("after_min", point.after.count / 60).key("set");
            write_observation(w, point.set);
            w.end_object();
        }
        w.end_list();
    }
    if (h.while_running) w.boolean("while_running", true);
    if (h.field) w.text("field", code(*h.field));
    if (h.unless) {
        w.key("unless");
        write_filter(w, *h.unless);
    }
    w.end_object();
}

namespace {

void write_since(Writer& w, const Since& since) {
    if (since == Since{}) return;
    w.key("since").begin_object(Writer::Layout::along);
    if (since.record) {
        w.key("record");
        write_filter(w, *since.record, since.nth);
    } else {
        w.text("happening", since.happening);
    }
    w.end_object();
}

void write_scored(Writer& w, const Scenario& scenario, const Scored& s) {
    w.begin_object().text("kind", code(s.kind)).integer("points", s.points);
    switch (s.kind) {
    case ScoreKind::check_on_time:
        w.text("check", code(s.check));
        if (s.index > 0) w.integer("index", s.index);
        break;
    case ScoreKind::window_kept: w.text("limit", code(s.limit)); break;
    case ScoreKind::done_within:
    case ScoreKind::never_done:
    case ScoreKind::done_before:
        w.key("done");
        write_filter(w, s.done);
        if (s.then) {
            w.key("then");
            write_filter(w, *s.then);
        }
        break;
    case ScoreKind::rate_not_raised: break;
    case ScoreKind::given_at_most:
    case ScoreKind::given_at_least: volume(w, "ml", s.volume); break;
    case ScoreKind::difference_found: w.text("field", code(s.field)); break;
    case ScoreKind::not_tried: w.text("refusal", code(s.refusal)); break;
    }
    if (s.unit > 1) w.integer("unit", s.unit);
    write_since(w, s.since);
    if (s.within) w.integer("within_min", s.within->count / 60);
    if (!s.rule.empty()) w.text("rule", s.rule);
    if (s.basis) {
        if (s.basis->source < scenario.sources.size()) w.text("source", scenario.sources[s.basis->source].key);
        w.text("grade", code(s.basis->grade));
    }
    w.end_object();
}

}  // namespace

std::string write_scenario(const Scenario& s) {
    Writer w;
    w.begin_object().integer("hangtime_rehearsal", s.version).text("id", s.id).integer("number", s.number);
    w.text("title", s.title).text("level", code(s.level)).key("teaches").begin_list();
    for (const std::string& text : s.teaches) w.text(text);
    w.end_list();
    if (!s.sources.empty()) {
        w.key("sources").begin_object();
        for (const Source& source : s.sources) {
            w.key(source.key).begin_object().text("title", source.title).text("year", source.year);
            w.text("place", source.place);
            if (!source.note.empty()) w.text("note", source.note);
            w.end_object();
        }
        w.end_object();
    }
    if (s.whole_protocol) {
        w.key("protocol");
        write_protocol(*s.rules, w);
    } else {
        w.text("protocol", s.protocol);
    }
    session_reader::write_clock(w, s.wall);
    w.text("begins", iso_text(s.begins, s.wall)).integer("lasts_min", s.lasts.count / 60);
    w.text("object", spoken_object_names[static_cast<std::size_t>(s.object)]).integer("seed", s.seed);
    write_order(w, s);
    w.key("signs");
    write_observation(w, s.signs);
    w.key("before").begin_list();
    for (const Before& before : s.before) {
        w.begin_object(Writer::Layout::along).integer("at_min", before.at.count / 60);
        write_record(w, before.record);
        w.end_object();
    }
    w.end_list().key("happens").begin_list();
    for (const Happening& h : s.happenings) write_happening(w, h);
    w.end_list().key("scored").begin_list();
    for (const Scored& scored : s.scored) write_scored(w, s, scored);
    w.end_list().end_object();
    return w.take();
}

}  // namespace hangtime
