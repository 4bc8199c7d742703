#include "core/rehearse/debrief.hpp"

#include "core/json/write.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_spelling.hpp"

namespace hangtime {

namespace {

using json::Writer;

void time(Writer& w, std::string_view key, std::optional<Instant> at, const WallClock& wall) {
    if (at) w.text(key, iso_text(*at, wall));
    else w.null(key);
}

}  // namespace

std::string debrief_json(const Rehearsal& r, const Outcome& o) {
    const Scenario& s = r.scenario();
    const DayClock day(s.wall, s.begins);
    Writer w;
    w.begin_object().integer("hangtime_debrief", 1).boolean("rehearsal", true);
    w.text("note", rehearsal_sentence()).text("scenario", s.id).text("protocol", s.protocol);
    w.integer("case_number", case_number(s, r.seed())).integer("points", o.points).integer("most", o.most);
    time(w, "begins", s.begins, s.wall);
    time(w, "ends", r.now(), s.wall);
    w.key("parts").begin_list();
    for (const Part& part : o.parts) {
        const Scored& scored = s.scored[part.scored];
        w.begin_object().text("kind", code(scored.kind)).text("item", scored_text(scored)).boolean("met", part.met);
        w.integer("points", part.met ? scored.points : 0).integer("most", scored.points);
        time(w, "due", part.due, s.wall);
        time(w, "done", part.done, s.wall);
        if (part.volume) w.integer("volume_units", part.volume->units);
        w.text("what_came_of_it", part_text(s, part, day)).text("rule", scored.rule).text("from", source_text(s, part));
        w.end_object();
    }
    w.end_list().key("units").begin_list();
    for (const UnitCost& u : o.units) {
        w.begin_object().text("component", code(u.component)).integer("bag_units", u.bag.units);
        w.integer("given_units", u.given.units).integer("wasted_units", u.wasted.units);
        time(w, "issued", u.issued, s.wall);
        time(w, "started", u.started, s.wall);
        time(w, "ended", u.ended, s.wall);
        time(w, "limit", u.limit, s.wall);
        w.boolean("stopped", u.stopped).integer("over_limit_s", u.over_limit.count);
        w.integer("stood_still_s", u.stood_still.count).integer("checks", u.checks).integer("late", u.late);
        w.integer("missed", u.missed).end_object();
    }
    w.end_list().key("happened").begin_list();
    for (std::size_t i = 0; i < r.told().size(); ++i) {
        const Told& told = r.told()[i];
        if (told.happening >= s.happenings.size()) continue;
        const Happening& h = s.happenings[told.happening];
        w.begin_object().text("id", h.id).text("what", code(h.kind));
        time(w, "at", told.at, s.wall);
        if (told.refused) w.text("refused", code(*told.refused));
        for (const Unanswered& u : o.unanswered)
            if (u.told == i) {
                w.integer("unanswered_s", u.span.count).integer("ran_units", u.ran.units);
                w.boolean("answered", u.answered.has_value());
            }
        w.end_object();
    }
    w.end_list().key("refused").begin_list();
    for (const Tried& tried : r.tried()) {
        w.begin_object().text("what", code(tried.event.kind)).text("why", code(tried.refusal));
        time(w, "at", tried.event.at.at, s.wall);
        w.end_object();
    }
    w.end_list().end_object();
    return w.take();
}

}  // namespace hangtime
