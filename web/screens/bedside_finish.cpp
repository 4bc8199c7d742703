#include "core/plan/record_words.hpp"
#include "core/words/bedside_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/bedside.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

/// After the end; handing over at any time; and what was noted, with the way to put it right.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

float Bedside::uncharted(Ui& ui, Box box) {
    const Session& s = session();
    const float top = box.y, gap = ui.px(ui::gap_px);
    ui::subheading(ui, "finish.chart", box.cut_top(ui.line_height(Face::small), ui.px(4)),
                   s.uncharted() == 0 ? "Everything is charted" : "Not charted yet: copy these into the record");
    const bool writes = desk_.store().may_write() && !case_->read_only();
    std::int32_t charted = 0;
    for (const Event& e : case_->log.events()) {
        const auto n = static_cast<std::size_t>(e.number);
        const bool open =
            n < s.to_chart.size() && s.to_chart[n] && !(n < s.is_charted.size() && s.is_charted[n]);
        if (!open || case_->log.is_void(e.number))
            continue;
        const std::string text = record_text(e, day_);
        const std::string line = joined({record_time_text(e, day_), "  ", name(e.kind), text.empty() ? "" : ", ", text});
        Box row = box.cut_top(ui.px(ui::row_px), ui.px(4));
        if (ui::button(ui, ui.id("finish.chart.", e.number), row.cut_right(ui.px(112), gap), "Charted", ui::Look::plain,
                       writes, ui.keep(joined({name(e.kind), ": charted"}))))
            charted = e.number;
        row.y += (row.h - ui.line_height(Face::body)) / 2;
        row.h = ui.line_height(Face::body);
        ui.note({.id = ui.id("finish.uncharted.", e.number), .label = line, .role = ui::Role::text, .box = row});
        ui.put_text(row, ui.text_width(Face::body, line) > row.w ? Face::small : Face::body, ui.palette().ink, line);
    }
    if (charted > 0 && quiet_ms(platform::now_ms()) < 0)
        note(ui, EventKind::charted, facts::Numbers{{charted}});
    return box.y - top;
}

float Bedside::finish(Ui& ui, Box box) {
    const Session& s = session();
    const float top = box.y, gap = ui.px(12);
    const bool ended = s.phase == Phase::ended, open = s.phase >= Phase::here && !s.disposal;
    const Reckoning& r = live().reckoning;
    if (s.phase < Phase::ended) {
        box.cut_top(ui::paragraph(ui, "finish.none", box, "It has not ended.", Face::title), gap);
    } else if (s.state.run.ended) {
        std::string said = joined({s.state.run.stopped ? "Stopped at " : "All in at ", clock_text(*s.state.run.ended, day_)});
        if (s.state.run.stopped)
            said += joined({": ", name(s.stop_reason)});
        said += joined({". Given: ", volume_text(s.state.run.stopped ? live().running.given : r.volumes.given), "."});
        box.cut_top(ui::paragraph(ui, "finish.end", box, said, Face::title), gap);
    }
    if (s.disposal)
        box.cut_top(ui::paragraph(ui, "finish.gone", box,
                                  joined({name(s.disposal->how), ": ", name(s.disposal->reason), ", ",
                                          clock_text(s.disposal->at, day_), "."})),
                    gap);
    if (!s.state.run.flows.empty())
        box.cut_top(check_list(ui, box, r, day_, box.w >= ui.px(720) ? 2 : 1), gap);
    const std::vector<Offer> all = {
        {"finish.keep", EventKind::bag_kept, ended, true},
        {"finish.send_back", EventKind::returned, open && s.phase != Phase::running && s.phase != Phase::paused},
        {"finish.discard", EventKind::discarded, open && s.phase != Phase::running && s.phase != Phase::paused},
        {"finish.reaction", EventKind::reaction_suspected, !s.state.run.flows.empty(), true},
    };
    box.cut_top(fluid(ui, box), gap);
    ui::subheading(ui, "finish.bag", box.cut_top(ui.line_height(Face::small), ui.px(4)), "Where the bag goes");
    box.cut_top(offers(ui, box, all, box.w >= ui.px(620) ? 4 : 2), gap);
    box.cut_top(uncharted(ui, box), gap);
    return box.y - top;
}

float Bedside::hand_over(Ui& ui, Box box) {
    const Session& s = session();
    const Reckoning& r = live().reckoning;
    const float top = box.y, gap = ui.px(8);
    int n = 0;
    const auto say = [&](std::string_view label, const std::string& text) {
        const std::string line = joined({label, ": ", text});
        box.cut_top(ui::paragraph(ui, ui.id("hand.", n++), box, line, Face::title), gap);
    };
    say("This is", joined({name(s.object), s.digits ? ", bag ends in " : ", no bag digits",
                           s.digits ? std::string_view(s.digits->data(), 4) : std::string_view()}));
    say("Given", r.live ? joined({"about ", volume_text(live().running.given), " of ", volume_text(r.volumes.given)})
                        : std::string("nothing yet"));
    say("Runs at", s.phase == Phase::running ? rate_text(s.state.run.rate_in_force())
                   : s.phase == Phase::paused
                       ? joined({"stands still (", name(s.pause_reason), "), goes on at ", rate_text(rate_to_go_on(s.state))})
                       : std::string(name(s.phase)));
    if (r.planned && r.finish_by)
        say("All in", joined({"expected ", clock_text(r.all_in, day_), ", limit ", clock_text(*r.finish_by, day_)}));
    std::string check = "none";
    for (const Check& c : r.checks)
        if (c.kind != CheckKind::baseline && (c.state == CheckState::due || c.state == CheckState::to_come)) {
            check = joined({clock_text(c.due, day_), ", ", name(c.kind), ", ", name(c.state)});
            break;
        }
    say("Next check", check);
    std::string concerns;
    if (s.reaction)
        concerns += joined({"a reaction was suspected at ", clock_text(*s.reaction, day_), ". "});
    if (s.refused)
        concerns += joined({"the person refused at ", clock_text(*s.refused, day_), ". "});
    for (const Warned& w : r.warnings)
        if (w.severity != Severity::note)
            concerns += warning_text(w.code, w.figures, day_) + " ";
    say("Concerns", concerns.empty() ? std::string("none noted") : concerns);
    say("Not charted yet", dose_number(static_cast<Wide>(s.uncharted()), 1, 0));
    say("With", joined({name(s.with), s.offered ? " (offered, not taken over yet)" : "", ", ", name(s.place)}));
    box.cut_top(gap);
    box.cut_top(offers(ui, box,
                       {{"hand.over", EventKind::handed_over, true},
                        {"hand.take", EventKind::taken_over, true},
                        {"hand.move", EventKind::moved, true}},
                       box.w >= ui.px(500) ? 3 : 1),
                gap);
    return box.y - top;
}

float Bedside::record_row(Ui& ui, Box box, const Event& e) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const std::string_view id = ui.id("record.", e.number);
    const bool gone = case_->log.is_void(e.number), opened = open_ == id;
    const std::string text = record_text(e, day_);
    const std::string what = joined({record_time_text(e, day_), "  ", name(e.kind)});
    const std::string value = joined({text, gone ? text.empty() ? "no longer counts" : ", no longer counts" : ""});
    if (ui::fold_row(ui, id, box.cut_top(ui.px(ui::row_px), ui.px(2)), what, value, opened)) {
        open_ = opened ? std::string() : std::string(id);
        ui.change_screen();
        return box.y - top;
    }
    if (!opened)
        return box.y - top;
    Box row = box.cut_top(ui.px(ui::row_px), gap);
    row.cut_left(ui.px(34));
    const bool writes = desk_.store().may_write() && !case_->read_only();
    const bool can = writes && !gone && e.number > 1 && e.kind != EventKind::withdrawn && e.kind != EventKind::clock_set &&
                     e.kind != EventKind::joined && e.kind != EventKind::charted;
    if (ui::button(ui, ui.id("record.", e.number, ".correct"), row.cut_left(ui.px(210), gap), "It was otherwise ...",
                   ui::Look::plain, can)) {
        if (e.kind == EventKind::observed)
            observe(ui, facts_of<facts::Observed>(e), joined({"Record ", dose_number(e.number, 1, 0), ", put right"}), &e);
        else
            entry_.correct(ui, e, context());
        return box.y - top;
    }
    if (ui::button(ui, ui.id("record.", e.number, ".withdraw"), row.cut_left(ui.px(210), gap), "It did not happen",
                   ui::Look::plain, writes && !gone && e.number > 1 && desk_.may_take_back(*case_, e)) &&
        quiet_ms(platform::now_ms()) < 0)
        note(ui, EventKind::withdrawn, facts::Numbers{{e.number}});
    return box.y - top;
}

float Bedside::record(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(12);
    const bool writes = desk_.store().may_write() && !case_->read_only();
    Box row = box.cut_top(ui.px(ui::row_px), gap);
    const float width = std::min(ui.px(240), (row.w - 2 * ui.px(ui::gap_px)) / 3);
    if (ui::button(ui, "record.save_file", row.cut_left(width, ui.px(ui::gap_px)), "Save as a file"))
        platform::save_file(joined({desk_.rehearses() ? "hangtime-rehearsal-" : "hangtime-", name(session().object), ".jsonl"}), desk_.file_of(*case_), "application/jsonl");
    if (ui::button(ui, "record.link", row.cut_left(width, ui.px(ui::gap_px)), "Another line ...", ui::Look::plain,
                   writes && !context().others.empty(), action(EventKind::linked))) {
        ask(ui, EventKind::linked);
        return box.y - top;
    }
    if (ui::button(ui, "record.rules", row.cut_left(width, ui.px(ui::gap_px)), "Other rules ...", ui::Look::plain, writes,
                   action(EventKind::protocol_changed))) {
        ask(ui, EventKind::protocol_changed);
        return box.y - top;
    }
    const bool had_unit = std::any_of(case_->log.events().begin(), case_->log.events().end(),
                                      [](const Event& e) { return e.kind == EventKind::issued; });
    if (!desk_.rehearses() && had_unit &&
        ui::button(ui, "record.rehearse", box.cut_top(ui.px(ui::row_px), gap).cut_left(2 * width + ui.px(ui::gap_px)),
                   "Make this a rehearsal ..."))
        wishes_.rehearse = true;
    if (ui::button(ui, "record.sheet", box.cut_top(ui.px(ui::row_px), gap).cut_left(width), "Read the sheet"))
        wishes_.read = true;
    ui::subheading(ui, "record.list", box.cut_top(ui.line_height(Face::small), ui.px(4)), "What was noted, the latest first");
    const auto& events = case_->log.events();
    for (std::size_t i = events.size(); i-- > 0;)
        box.cut_top(record_row(ui, box, events[i]));
    return box.y - top;
}

} // namespace hangtime::screens
