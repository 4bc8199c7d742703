#include "web/screens/practice_menu.hpp"

#include "core/rehearse/debrief.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/practice_header.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

Happening plain(WorldKind kind) {
    Happening h;
    h.id = "console";
    h.kind = kind;
    return h;
}

// In the unit of the scenario's own signs, or none would be a straight line.
std::optional<Temperature> warmer(const Observation& signs, int tenths_of_c) {
    if (!signs.temperature)
        return std::nullopt;
    Temperature t = *signs.temperature;
    t.tenths = static_cast<std::int16_t>(t.tenths + (t.unit == TemperatureUnit::celsius ? tenths_of_c : tenths_of_c * 9 / 5));
    return t;
}

Happening complains(const Observation& now, std::initializer_list<Symptom> symptoms) {
    Happening h = plain(WorldKind::complaint);
    SignsAfter at_once;
    at_once.set.symptoms = Symptoms{};
    for (const Symptom s : symptoms)
        at_once.set.symptoms->add(s);
    h.signs.push_back(at_once);
    SignsAfter later;
    later.after = minutes(10);
    if (now.pulse_per_min)
        later.set.pulse_per_min = static_cast<std::int16_t>(*now.pulse_per_min + 25);
    if (later.set.pulse_per_min)
        h.signs.push_back(later);
    return h;
}

// Invented courses for a talk, and said to be so: within an hour, in straight lines.
Happening turns(const Observation& now, bool overload) {
    Happening h = plain(WorldKind::signs_change);
    SignsAfter later;
    later.after = minutes(30);
    if (overload) {
        if (now.respirations_per_min)
            later.set.respirations_per_min = static_cast<std::int16_t>(*now.respirations_per_min + 10);
        if (now.systolic_mmhg)
            later.set.systolic_mmhg = static_cast<std::int16_t>(*now.systolic_mmhg + 35);
        if (now.saturation_percent)
            later.set.saturation_percent = static_cast<std::int16_t>(std::max(70, *now.saturation_percent - 7));
    } else {
        later.set.temperature = warmer(now, 17);
        if (now.pulse_per_min)
            later.set.pulse_per_min = static_cast<std::int16_t>(*now.pulse_per_min + 30);
    }
    h.signs.push_back(later);
    return h;
}

} // namespace

std::vector<Injectable> injectables(const rehearse::Scene& scene) {
    std::vector<Injectable> out;
    const auto put = [&](std::string label, Happening h) { out.push_back({std::move(label), std::move(h)}); };
    for (const WorldKind kind : {WorldKind::checker_away, WorldKind::checker_back, WorldKind::pump_stops, WorldKind::line_fails,
                                 WorldKind::line_works, WorldKind::drug_asked_for, WorldKind::refusal, WorldKind::word_to_go_on,
                                 WorldKind::handover, WorldKind::move})
        put(std::string(name(kind)), plain(kind));
    const Observation now = scene.signs();
    put("The person itches and has hives", complains(now, {Symptom::itching, Symptom::hives}));
    put("The person shivers and feels cold", complains(now, {Symptom::rigors, Symptom::feeling_cold}));
    put("The temperature climbs, and nobody says so", turns(now, false));
    put("Breathing and pressure rise, and nobody says so", turns(now, true));
    // What a scenario keeps for later can be let happen at once as well: another bag, another component.
    const Scenario& s = scene.scenario();
    for (std::size_t i = 0; i < s.happenings.size(); ++i) {
        const bool told = std::any_of(scene.rehearsal().told().begin(), scene.rehearsal().told().end(),
                                      [i](const Told& t) { return t.happening == i; });
        const bool bag = s.happenings[i].record && s.happenings[i].record->kind == EventKind::issued;
        if (!told && bag)
            put(joined({"Now: ", happening_text(s.happenings[i])}), s.happenings[i]);
    }
    return out;
}

PracticeMenu::Wishes PracticeMenu::take_wishes() {
    Wishes w;
    std::swap(w, wishes_);
    return w;
}

bool PracticeMenu::card(Ui& ui, Box area, const rehearse::Scene& scene) {
    const rehearse::Spoken* said = scene.said();
    if (!said)
        return false;
    ui.set_editing(false);
    const float gap = ui.px(16);
    const std::string when = minute_text(said->at, DayClock(scene.scenario().wall, scene.scenario().begins));
    area.cut_top(ui.px(24));
    Box foot = area.cut_bottom(ui.px(56), gap);
    Box middle = area;
    middle.w = std::min(area.w, ui.px(760));
    middle.x = area.x + (area.w - middle.w) / 2;
    ui.note({.id = "title", .label = said->question ? "Talk about it" : "Something happens", .role = ui::Role::heading,
             .box = middle.cut_top(0)});
    const float h = ui.text_height(Face::title, said->text, middle.w - ui.px(48)) + ui.line_height(Face::body) + ui.px(52);
    const Box sheet = middle.cut_top(h, gap);
    ui::sheet(ui, sheet);
    Box in = sheet.inset(ui.px(24), ui.px(18));
    ui::subheading(ui, "card.when", in.cut_top(ui.line_height(Face::body), ui.px(10)),
                   said->question ? std::string_view("The clock stands. Talk about it:") : ui.keep(joined({"It is ", when, ". "})));
    ui::paragraph(ui, "card.text", in, said->text, Face::title);
    if (said->question)
        ui::paragraph(ui, "card.more", middle, "Nothing is scored while you talk. Go on when everybody has been heard.");
    ui.announce(said->text);
    foot.x = middle.x, foot.w = middle.w;
    const bool over = scene.rehearsal().over();
    return ui::button(ui, "card.go_on", foot, over ? "To the end of it" : "Go on", ui::Look::primary);
}

void PracticeMenu::menu(Ui& ui, Box area, const rehearse::Scene& scene) {
    ui.set_editing(false);
    const float gap = ui.px(12);
    const PracticeHeader head = practice_header(ui, area.cut_top(ui.px(48), ui.px(8)), "To the bedside",
                                                ui.keep(joined({"Case ", std::to_string(case_number(scene.scenario(), scene.rehearsal().seed()))})),
                                                false);
    wishes_.go_on = wishes_.go_on || head.back;
    wishes_.night = wishes_.night || head.night;
    Box foot = area.cut_bottom(ui.px(56), gap);
    if (asks_to_give_up_) {
        ui::paragraph(ui, "menu.sure", area, "Nothing is kept of it, and there is no debrief.", Face::title);
        const Box no = foot.cut_right(foot.w * 0.5f, ui.px(ui::gap_px));
        if (ui::button(ui, "menu.sure.yes", foot, "Give it up")) {
            asks_to_give_up_ = false;
            wishes_.give_up = true;
        } else if (ui::button(ui, "menu.sure.no", no, "No", ui::Look::primary)) {
            asks_to_give_up_ = false;
            ui.change_screen();
        }
        return;
    }
    if (ui::button(ui, "menu.end", foot, "End it, and see what came of it", ui::Look::primary))
        wishes_.end = true;
    const Box in = ui.begin_scroll("menu", area);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    const DayClock day(scene.scenario().wall, scene.scenario().begins);
    const bool over = scene.rehearsal().over();
    std::string about = over ? std::string("Its time is over.")
                             : joined({"The clock stands still here, at ", clock_text(scene.now(), day), ". When it is ended before its time, the rest of it passes: what runs "
                                       "runs on, and what falls due is missed. It lasts until ",
                                       clock_text(scene.rehearsal().ends(), day), "."});
    rest.cut_top(ui::paragraph(ui, "menu.about", rest, about), gap);
    Box line = rest.cut_top(ui.px(ui::row_px), gap);
    const float w = (line.w - ui.px(ui::gap_px)) / 2;
    if (ui::button(ui, "menu.console", line.cut_left(w, ui.px(ui::gap_px)), "For the educator (key E)"))
        wishes_.console = true;
    if (ui::button(ui, "menu.give_up", line, "Give it up ...")) {
        asks_to_give_up_ = true;
        ui.change_screen();
    }
    ui::subheading(ui, "menu.said", rest.cut_top(ui.line_height(Face::small), ui.px(6)), "What was said, the latest first");
    const auto& all = scene.history();
    if (all.empty())
        rest.cut_top(ui::paragraph(ui, "menu.said.none", rest, "Nothing yet."), gap);
    for (std::size_t i = all.size(); i-- > 0;)
        rest.cut_top(ui::caution(ui, ui.id("menu.said.", static_cast<int>(i)), rest, clock_text(all[i].at, day), all[i].text), ui.px(8));
    ui.end_scroll(rest.y - in.y);
    ui.announce("The rehearsal stands still");
}

void PracticeMenu::console(Ui& ui, Box area, const rehearse::Scene& scene) {
    ui.set_editing(false);
    const float gap = ui.px(ui::gap_px);
    const PracticeHeader head = practice_header(ui, area.cut_top(ui.px(48), ui.px(8)), "Close", "For the educator", false);
    wishes_.close_console = wishes_.close_console || head.back;
    wishes_.night = wishes_.night || head.night;
    for (const platform::Event& e : ui.keys())
        if (e.key == platform::Key::escape)
            wishes_.close_console = true;
    const Box in = ui.begin_scroll("console", area);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    rest.cut_top(ui::paragraph(ui, "console.about", rest,
                               "The clock stands while this is open. What you let happen comes to the learner as a card, and stands in the "
                               "debrief as yours; it is not scored."),
                 ui.px(12));
    ui::subheading(ui, "console.talk", rest.cut_top(ui.line_height(Face::small), ui.px(6)), "Pause, and talk about it");
    const Scenario& s = scene.scenario();
    const auto ask = [&](std::string_view id, std::string_view label, std::string question) {
        Box line = rest.cut_top(std::max(ui.px(ui::row_px), ui.text_height(Face::body, label, rest.w - ui.px(24)) + ui.px(20)), gap);
        if (ui::fold_row(ui, id, line, label, "", false))
            wishes_.discuss = std::move(question);
    };
    ask("console.discuss", "What has just happened, and what comes next?", "What has just happened, and what comes next? Who should know?");
    for (std::size_t i = 0; i < s.teaches.size(); ++i)
        ask(ui.id("console.teaches.", static_cast<int>(i)), s.teaches[i],
            joined({"Do you agree, and what does it mean here? \xE2\x80\x9C", s.teaches[i], "\xE2\x80\x9D"}));
    rest.cut_top(ui.px(8));
    ui::subheading(ui, "console.happen", rest.cut_top(ui.line_height(Face::small), ui.px(6)), "Let it happen now");
    const auto all = injectables(scene);
    const float half = (rest.w - gap) / 2 - ui.px(16);
    const bool fit = std::all_of(all.begin(), all.end(), [&](const Injectable& one) { return ui.text_width(Face::body, one.label) <= half; });
    const int columns = rest.w >= ui.px(720) && fit ? 2 : 1;
    Box line{};
    for (std::size_t i = 0; i < all.size(); ++i) {
        const int column = static_cast<int>(i) % columns;
        if (column == 0)
            line = rest.cut_top(ui.px(ui::row_px), gap);
        if (ui::button(ui, ui.id("console.", static_cast<int>(i)), line.cell(columns, 1, column, 0, gap), ui.keep(all[i].label)))
            wishes_.inject = all[i].happening;
    }
    ui.end_scroll(rest.y - in.y);
    ui.announce("For the educator");
}

} // namespace hangtime::screens
