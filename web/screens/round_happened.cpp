#include "web/screens/round_view.hpp"

#include "core/plan/round_trial.hpp"
#include "core/words/words.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

/// When the day goes otherwise: what has happened to one transfusion is entered, what stands in the plan counts as
/// promised, and the rest is planned again with the fewest changes to that.

namespace hangtime::screens {

using namespace rounds;
using ui::Box;
using ui::Face;
using ui::Ui;

void RoundView::open_happened(Ui& ui, std::size_t transfusion) {
    if (!draft_ || fixed_)
        return;
    told_ = transfusion;
    after_ = draft_;
    after_->now = Instant{floor_div(now_.utc, 60) * 60};
    // What the plan says of those that have not begun is what was promised.
    std::vector<Promise> promises(after_->transfusions.size());
    for (std::size_t i = 0; i < promises.size(); ++i)
        promises[i] = {after_->transfusions[i].promised_start, after_->transfusions[i].promised_nurse};
    if (plan_->schedule())
        for (std::size_t j = 0; j < plan_->jobs(); ++j) {
            const auto i = static_cast<std::size_t>(plan_->options().transfusion[j]);
            const bool runs = plan_->transfusion(j).happened.started.has_value();
            if (i < promises.size() && !runs)
                promises[i] = {plan_->detail(j)->start, plan_->schedule()->choices[j].nurse};
        }
    promise(*after_, promises);
    told_promise_ = promises[transfusion];
    after_->promise_first = true;

    const DraftTransfusion& t = after_->transfusions[transfusion];
    const DraftHappened& h = t.happened;
    form_.clear();
    item_ = -2;
    form_.time("happened.issued", "Bag issued at", h.issued).empty = "not yet";
    form_.time("happened.started", "Started at", h.started).empty = "not yet";
    std::vector<std::string> nurses;
    for (std::size_t k = 0; k < after_->nurses.size(); ++k)
        nurses.push_back(nurse_text(static_cast<int>(k)));
    form_.choice("happened.nurse", "Started by", std::move(nurses), h.nurse.value_or(-1));
    form_.number("happened.paused", "Stood still so far", "min", 3, 0, 0, 360, "0 to 360 min", h.paused_min).empty = "0";
    form_.time("happened.reaction", "Stopped, suspected reaction, at", h.reaction).empty = "no";
    form_.number("happened.takes", "Her nurse stays for", "min", 3, 0, 5, 240, "5 to 240 min", h.reaction_takes_min);
    form_.time("happened.earliest", "Not started: call from", t.earliest);
    form_.time("happened.latest", "Not started: call by", t.latest);
    mode_ = Mode::happened;
    plan_->cancel();
    plan_->stop_trying();
    ui.change_screen();
    ui.scroll_to_top("happened.form");
}

void RoundView::store_happened() {
    DraftTransfusion& t = after_->transfusions[told_];
    DraftHappened& h = t.happened;
    h.issued = form_.time("happened.issued");
    h.started = form_.time("happened.started");
    // Once it runs there is nothing to keep or to change.
    t.promised_start = h.started ? std::nullopt : told_promise_.start;
    t.promised_nurse = h.started ? -1 : told_promise_.nurse;
    h.nurse.reset();
    if (h.started && form_.chosen("happened.nurse") >= 0)
        h.nurse = form_.chosen("happened.nurse");
    h.paused_min = form_.number("happened.paused");
    if (h.paused_min == 0 && !h.started)
        h.paused_min.reset();
    h.reaction = form_.time("happened.reaction");
    h.reaction_takes_min = form_.number("happened.takes");
    if (!h.reaction)
        h.reaction_takes_min.reset();
    t.earliest = form_.time("happened.earliest");
    t.latest = form_.time("happened.latest");
    after_->now = Instant{floor_div(now_.utc, 60) * 60};
}

void RoundView::happened(Ui& ui, Box area) {
    const float gap = ui.px(12);
    const Protocol* rules = protocol();
    if (!after_ || !rules) {
        mode_ = Mode::board;
        return;
    }
    form_.tell_time(now_, wall_, day_);
    store_happened();
    const Result<Round> read = read_round(draft_text(*after_, *rules), *rules);
    std::string object(name(after_->transfusions[told_].object));
    if (object[0] >= 'a' && object[0] <= 'z')
        object[0] = static_cast<char>(object[0] - 'a' + 'A');
    header(ui, area.cut_top(ui.px(52), ui.px(8)), "What has happened: " + object, true);
    const auto promised = std::count_if(after_->transfusions.begin(), after_->transfusions.end(),
                                        [](const DraftTransfusion& t) { return t.promised_start && !t.happened.started; });
    std::string said = joined({"The rest is planned from ", minute_text(now_, day_), " on, with the fewest changes to what "
                               "was promised: ", std::to_string(promised), promised == 1 ? " start." : " starts."});
    const bool can = read.ok() && form_.complete();
    if (!read.ok())
        said = joined({read.error().where, " ", read.error().problem, "; accepted: ", read.error().accepted, "."});
    Box foot = area.cut_bottom(ui.px(ui::row_px), gap);
    ui::paragraph(ui, "happened.said", area.cut_bottom(ui.text_height(Face::small, said, area.w), ui.px(8)), said,
                  Face::small);
    ui.announce(said);
    const Box back = foot.cut_right(foot.w * 0.35f, ui.px(ui::gap_px));
    const bool plans = ui::button(ui, "happened.plan", foot, "Plan the rest again", ui::Look::primary, can);
    const bool leaves = ui::button(ui, "happened.back", back, "Leave it as it is");
    if (form_.editing())
        form_.dock(ui, area.cut_bottom(std::min(area.h * 0.6f, form_.dock_height(ui, area.w)), gap));
    const Box in = ui.begin_scroll("happened.form", area);
    ui.end_scroll(form_.fields(ui, {in.x, in.y, in.w - ui.px(10), 1e6f}, 2));
    if (plans && can) {
        draft_ = std::move(*after_);
        after_.reset();
        form_.close(ui);
        check();
        plan_it(read.value());
        keep();
        ui.change_screen();
    } else if (leaves) {
        after_.reset();
        form_.close(ui);
        mode_ = Mode::board;
        plan_->go_on();
        ui.change_screen();
    }
}

} // namespace hangtime::screens
