#include "core/plan/record_words.hpp"
#include "core/words/bedside_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/sums.hpp"
#include "core/words/words.hpp"
#include "web/screens/bedside.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

/// The bag from its issue until it hangs: what it is, how long it may wait, and where it goes; and its match.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

float Bedside::facts_of_unit(Ui& ui, Box box) {
    const Session& s = session();
    const State& st = s.state;
    const float top = box.y, gap = ui.px(ui::gap_px);
    const auto at = [&](std::optional<Instant> when) {
        return when ? clock_text(*when, day_) : std::string(not_recorded_text);
    };
    const auto stated = [&](const std::optional<Stated>& when) { return at(when ? std::optional(when->at) : std::nullopt); };
    struct Fact {
        std::string_view id, label;
        std::string value;
    };
    std::vector<Fact> facts;
    facts.push_back({"unit.component", "Component", st.unit.component ? std::string(name(*st.unit.component)) : std::string(not_recorded_text)});
    facts.push_back({"unit.volume", "On the label", st.unit.bag ? volume_text(*st.unit.bag) : std::string(not_recorded_text)});
    facts.push_back({"unit.digits", "Ends in", s.digits ? std::string(s.digits->data(), 4) : std::string(not_recorded_text)});
    facts.push_back({"unit.expires", "Expires", st.unit.expires_far ? "a week or more away" : stated(st.unit.expires)});
    facts.push_back({"unit.issued", "Issued", stated(st.times.issued)});
    if (st.unit.component == Component::plasma || st.unit.component == Component::cryoprecipitate)
        facts.push_back({"unit.thawed", "Thawed", stated(st.times.thawed)});
    facts.push_back({"unit.left_storage", "Left storage", stated(st.times.left_storage)});
    facts.push_back({"unit.received", "Here since", at(s.received)});
    if (s.protocol->keep_below_tenths_c)
        facts.push_back({"unit.temperature", "Temperature",
                         s.bag_tenths_c ? measured_number(*s.bag_tenths_c) + " degrees C" : std::string(not_recorded_text)});
    facts.push_back({"unit.spiked", "Spiked", stated(st.times.spiked)});
    const int columns = box.w >= ui.px(620) ? 4 : 2;
    const float height = ui.line_height(Face::small) + ui.line_height(Face::body) + ui.px(4);
    Box line{};
    for (std::size_t i = 0; i < facts.size(); ++i) {
        const int column = static_cast<int>(i) % columns;
        if (column == 0)
            line = box.cut_top(height, gap);
        Box cell = line.cell(columns, 1, column, 0, gap);
        ui.note({.id = facts[i].id, .label = facts[i].label, .value = facts[i].value, .role = ui::Role::text, .box = cell});
        ui.put_text(cell.cut_top(ui.line_height(Face::small)), Face::small, ui.palette().quiet, facts[i].label);
        ui.put_text(cell, Face::body, ui.palette().ink, facts[i].value);
    }
    return box.y - top;
}

float Bedside::windows(Ui& ui, Box box, int columns) {
    const Reckoning& r = live().reckoning;
    if (r.windows.empty() || !session().state.times.issued)
        return 0;
    const float top = box.y;
    ui::subheading(ui, "windows", box.cut_top(ui.line_height(Face::small), ui.px(4)),
                   "Limits, each with the event it counts from");
    int n = 0;
    Box line{};
    std::string sum;
    for (const Window& w : r.windows) {
        if (n % columns == 0)
            line = box.cut_top(ui::window_bar_height(ui), ui.px(ui::gap_px));
        const std::string_view id = ui.id("window.", n);
        const std::string label(name(w.kind)), value = w.latest ? clock_text(*w.latest, day_) : std::string(not_recorded_text);
        std::string said = joined({"from ", name(w.from)});
        if (w.latest && w.state == WindowState::met)
            said += joined({", ", name(w.state)});
        else if (w.latest && w.state != WindowState::not_running)
            said += *w.latest < now_ ? std::string(", passed") : joined({", ", minutes_left_text(*w.latest - now_), " left"});
        ui::WindowBar bar;
        bar.label = label, bar.value = value, bar.note = said;
        if (w.opened && w.latest)
            bar.from = w.opened->utc, bar.latest = w.latest->utc, bar.running = *w.opened <= now_;
        bar.now = now_.utc;
        bar.open = open_sum_ == id;
        if (bar.open) {
            sum = joined({label, ": ", sum_text(w.sum, day_), ". ", meaning_sentence(w.kind)});
            if (w.state == WindowState::passed)
                sum += joined({" ", passed_sentence(w.kind)});
        }
        if (ui::window_bar(ui, id, line.cell(columns, 1, n % columns, 0, ui.px(16)), bar))
            open_sum_ = bar.open ? std::string() : std::string(id);
        ++n;
    }
    if (!sum.empty())
        box.cut_top(ui::paragraph(ui, "sum", box, sum), ui.px(8));
    return box.y - top;
}

float Bedside::unit(Ui& ui, Box box) {
    const Session& s = session();
    const float top = box.y, gap = ui.px(12);
    if (s.phase < Phase::here) {
        box.cut_top(ui::paragraph(ui, "unit.none", box,
                                  s.phase == Phase::called ? "The unit is called for. Its time begins when it is issued."
                                                           : "No unit is here. First get ready, then call for it.",
                                  Face::title),
                    gap);
        if (desk_.rehearses())
            return box.y - top; // the blood bank sends it by itself
        if (s.phase == Phase::called)
            box.cut_top(ui::paragraph(ui, "unit.scan", box, "When the bag is here: scan its number and its expiry, or type them."),
                        gap);
        box.cut_top(offers(ui, box, {{"unit.issue", EventKind::issued, s.phase == Phase::called || s.joined}}, 2), gap);
        return box.y - top;
    }
    // Hang it or send it back: until when each is right.
    const bool waits = s.phase == Phase::here && !s.disposal;
    if (waits) {
        Told told;
        told.seal = ui::Seal::noted;
        const auto& back = live().back_to_stock_until;
        const auto hang = live().reckoning.start_by;
        bool decide = false;
        for (const ToDo& todo : live().to_do)
            decide = decide || todo.what == Doing::decide;
        told.title = decide ? "Decide now: hang it or send it back" : "Hang it, or send it back in time";
        if (hang)
            told.detail += *hang < now_ ? joined({"The time to hang it passed at ", clock_text(*hang, day_), ". "})
                                        : joined({"To hang it ", minutes_left_text(*hang - now_), " are left, until ",
                                                  clock_text(*hang, day_), ". "});
        if (s.protocol->keep_below_tenths_c)
            told.detail += joined({"Back to stock only at ",
                                   measured_number(s.protocol->keep_below_tenths_c->value),
                                   " degrees C or less: read its temperature. "});
        else if (back)
            told.detail += *back < now_ ? joined({"Too late for stock since ", clock_text(*back, day_), ": then to the blood bank."})
                                        : joined({"Back to stock until ", clock_text(*back, day_), ", ",
                                                  minutes_left_text(*back - now_), " left."});
        if (decide || (hang && *hang < now_))
            told.seal = ui::Seal::thin;
        ui::verdict(ui, "unit.decide", box.cut_top(told_height(ui, told, box.w), gap), told.seal, told.title, told.detail);
    } else if (s.disposal) {
        box.cut_top(ui::paragraph(ui, "unit.gone", box,
                                  joined({name(s.disposal->how), ": ", name(s.disposal->to), ", ", name(s.disposal->reason), ", ",
                                          clock_text(s.disposal->at, day_), "."}),
                                  Face::title),
                    gap);
    }
    box.cut_top(facts_of_unit(ui, box), gap);
    if (takes_scans() && ui::button(ui, "unit.read", box.cut_top(ui.px(ui::row_px), gap), "Bag and tag: scan or type"))
        reading_.open(ui);
    const bool before = s.phase == Phase::here || s.phase == Phase::hung;
    const bool gone = s.disposal.has_value();
    // A bag that differs, or that the person refuses, leads nowhere but back.
    const bool may_hang = !gone && !s.refused && s.match.standing != MatchStanding::differed;
    const std::vector<Offer> all = {
        {"unit.receive", EventKind::received, !gone && !s.received, true},
        {"unit.storage", EventKind::storage_noted, !gone},
        {"unit.take_temperature", EventKind::bag_temperature, !gone},
        {"unit.prime", EventKind::primed, may_hang && before && !s.connected},
        {"unit.total", EventKind::device_total, !gone},
        {"unit.spike", EventKind::spiked, may_hang && s.phase == Phase::here, true},
        {"unit.connect", EventKind::connected, may_hang && before && !s.connected, true},
        {"unit.send_back", EventKind::returned, !gone && s.phase != Phase::running && s.phase != Phase::paused},
        {"unit.discard", EventKind::discarded, !gone && s.phase != Phase::running && s.phase != Phase::paused},
    };
    box.cut_top(offers(ui, box, all, box.w >= ui.px(620) ? 3 : 2), gap);
    box.cut_top(windows(ui, box, box.w >= ui.px(720) ? 2 : 1), gap);
    box.cut_top(warning_list(ui, box, live().reckoning, day_), gap);
    return box.y - top;
}

} // namespace hangtime::screens
