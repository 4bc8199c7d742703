#include "web/screens/debrief_view.hpp"

#include "core/rehearse/debrief.hpp"
#include "core/words/words.hpp"
#include "web/platform/platform.hpp"
#include "web/screens/document_view.hpp"
#include "web/screens/practice_header.hpp"
#include "web/screens/reckoned.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

DebriefView::Wishes DebriefView::take_wishes() {
    Wishes w;
    std::swap(w, wishes_);
    return w;
}

void DebriefView::add(const Rehearsal& rehearsal, rehearse::Shared scenario) {
    Outcome outcome = outcome_of(rehearsal);
    Attempt a;
    a.file = debrief_json(rehearsal, outcome);
    // What is shown of an attempt and what is saved of it are the same text.
    Result<SavedDebrief> saved = read_debrief(a.file);
    if (saved.ok())
        a.saved = std::move(saved.value());
    a.sheet = debrief_sheet(rehearsal, outcome);
    a.title = scenario->title;
    a.seed = rehearsal.seed();
    a.scenario = std::move(scenario);
    for (const UnitEnd& end : outcome.ends) {
        a.live.push_back(std::make_unique<Live>());
        reckon_live(end.session, end.until, *a.live.back());
    }
    a.ends = std::move(outcome.ends);
    attempts_.push_back(std::move(a));
    shown_ = attempts_.size() - 1;
    picked_.clear();
    mode_ = Mode::one;
    message_.clear();
}

std::optional<Error> DebriefView::open(std::string_view text, const rehearse::Library& library) {
    Result<SavedDebrief> saved = read_debrief(text);
    if (!saved.ok())
        return saved.error();
    Attempt a;
    a.saved = std::move(saved.value());
    if (const auto known = library.by_number(a.saved.case_number / 1000); known && known->id == a.saved.scenario)
        a.title = known->title;
    else
        a.title = a.saved.scenario;
    a.sheet = saved_debrief_sheet(a.saved, a.title);
    attempts_.push_back(std::move(a));
    picked_.clear();
    message_ = "The result was read. It stands last in the list.";
    mode_ = Mode::list;
    return std::nullopt;
}

std::optional<sheet::Document> DebriefView::document() const {
    if (mode_ == Mode::one && shown_ < attempts_.size())
        return attempts_[shown_].sheet;
    if (mode_ == Mode::two)
        return compared_;
    return std::nullopt;
}

const Protocol* DebriefView::rules() const {
    const bool one = mode_ == Mode::one && shown_ < attempts_.size();
    return one && attempts_[shown_].scenario ? attempts_[shown_].scenario->rules.get() : nullptr;
}

void DebriefView::build(Ui& ui, Box area) {
    ui.set_editing(false);
    if (mode_ == Mode::one && shown_ < attempts_.size())
        one(ui, area);
    else if (mode_ == Mode::two)
        two(ui, area);
    else
        list(ui, area);
}

std::string DebriefView::line_of(std::size_t i) const {
    const Attempt& a = attempts_[i];
    return joined({std::to_string(i + 1), "  ", a.title});
}

void DebriefView::list(Ui& ui, Box area) {
    const float gap = ui.px(ui::gap_px);
    const PracticeHeader head = practice_header(ui, area.cut_top(ui.px(48), ui.px(8)), "Rehearse", "Results", false);
    wishes_.back = wishes_.back || head.back;
    wishes_.night = wishes_.night || head.night;
    Box foot = area.cut_bottom(ui.px(56), ui.px(12));
    const Box file = foot.cut_right(foot.w * 0.4f, gap);
    if (ui::button(ui, "results.compare", foot, "Set two side by side", ui::Look::primary, picked_.size() == 2)) {
        const Attempt& a = attempts_[picked_[0]];
        const Attempt& b = attempts_[picked_[1]];
        compared_ = compared_debriefs(a.saved, b.saved, a.saved.scenario == b.saved.scenario ? a.title : "");
        mode_ = Mode::two;
        ui.change_screen();
        return;
    }
    if (ui::button(ui, "results.open_file", file, "Open a saved one ..."))
        wishes_.open_file = true;
    const Box in = ui.begin_scroll("results", area);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    if (!message_.empty())
        rest.cut_top(ui::caution(ui, "results.message", rest, "", message_), ui.px(12));
    rest.cut_top(ui::paragraph(ui, "results.about", rest,
                               "They are kept while this page is open; a file keeps one for longer. None of them says who rehearsed. Choose "
                               "two to compare, the first one first."),
                 ui.px(12));
    for (std::size_t i = 0; i < attempts_.size(); ++i) {
        const Attempt& a = attempts_[i];
        const int n = static_cast<int>(i);
        Box row = rest.cut_top(ui.px(ui::row_px + 8), gap);
        const auto at = std::find(picked_.begin(), picked_.end(), i);
        const bool picked = at != picked_.end();
        const std::string label = picked ? joined({at == picked_.begin() ? "First" : "Second"}) : std::string("Choose");
        if (ui::choice(ui, ui.id("results.pick.", n), row.cut_right(ui.px(130), gap), ui.keep(label), picked)) {
            if (picked)
                picked_.erase(at);
            else if (picked_.size() < 2)
                picked_.push_back(i);
        }
        const std::string value = joined({std::to_string(a.saved.points), " of ", std::to_string(a.saved.most), " points, case ",
                                          std::to_string(a.saved.case_number), a.file.empty() ? ", from a file" : ""});
        if (ui::fold_row(ui, ui.id("results.", n), row, ui.keep(line_of(i)), ui.keep(value), false)) {
            shown_ = i;
            mode_ = Mode::one;
            ui.change_screen();
        }
    }
    ui.end_scroll(rest.y - in.y);
    ui.announce("Results");
}

void DebriefView::picture(Ui& ui, Box box, const Attempt& a) {
    for (std::size_t i = a.ends.size(); i-- > 0;) {
        const State& state = a.ends[i].session.state;
        if (!state.times.start || !state.times.start->happened)
            continue;
        const WallClock& wall = a.scenario->wall;
        const DayClock day(wall, a.scenario->begins);
        draw_plan(ui, "debrief.picture", box,
                  {a.live[i]->reckoning, state, a.ends[i].until, wall, day});
        return;
    }
}

void DebriefView::one(Ui& ui, Box area) {
    const Attempt& a = attempts_[shown_];
    const float gap = ui.px(ui::gap_px);
    const PracticeHeader head = practice_header(ui, area.cut_top(ui.px(48), ui.px(8)), "Results", "Debrief", true);
    wishes_.night = wishes_.night || head.night;
    wishes_.print = wishes_.print || head.print;
    if (head.back) {
        mode_ = Mode::list;
        ui.change_screen();
        return;
    }
    Box foot = area.cut_bottom(ui.px(56), ui.px(12));
    if (a.scenario) {
        const Box again = foot.cut_right(foot.w * 0.4f, gap);
        if (ui::button(ui, "debrief.again", again, "The same case again")) {
            wishes_.again = a.scenario;
            wishes_.seed = a.seed;
        }
    }
    if (ui::button(ui, "debrief.save", foot, "Save the result as a file", ui::Look::primary, !a.file.empty())) {
        platform::save_file(joined({"hangtime-result-", std::to_string(a.saved.case_number), ".json"}), a.file, "application/json");
        message_ = "Offered as a file. It holds no name; whoever collects it has to know whose it is.";
    }
    const Box in = ui.begin_scroll("debrief", area);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    if (!message_.empty())
        rest.cut_top(ui::caution(ui, "debrief.message", rest, "", message_), ui.px(12));
    const std::string points = joined({a.title, ": ", std::to_string(a.saved.points), " of ", std::to_string(a.saved.most),
                                       " points"});
    rest.cut_top(ui::paragraph(ui, "debrief.points", rest, points, Face::title), ui.px(10));
    const bool runs = std::any_of(a.ends.begin(), a.ends.end(), [](const UnitEnd& u) {
        return u.session.state.times.start && u.session.state.times.start->happened;
    });
    if (runs)
        picture(ui, rest.cut_top(ui.px(250), ui.px(12)), a);
    rest.cut_top(document_view(ui, "debrief.", rest, a.sheet), gap);
    ui.end_scroll(rest.y - in.y);
    ui.announce(points);
}

void DebriefView::two(Ui& ui, Box area) {
    const PracticeHeader head = practice_header(ui, area.cut_top(ui.px(48), ui.px(8)), "Results", "Two attempts", true);
    wishes_.night = wishes_.night || head.night;
    wishes_.print = wishes_.print || head.print;
    if (head.back) {
        mode_ = Mode::list;
        ui.change_screen();
        return;
    }
    const Box in = ui.begin_scroll("compared", area);
    Box rest{in.x, in.y, in.w - ui.px(12), 1e6f};
    rest.cut_top(document_view(ui, "compared.", rest, compared_), ui.px(8));
    ui.end_scroll(rest.y - in.y);
    ui.announce("Two attempts side by side");
}

} // namespace hangtime::screens
