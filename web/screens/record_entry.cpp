#include "web/screens/record_entry.hpp"

#include "core/words/bedside_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/device_lines.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

void RecordEntry::open(Ui& ui, EventKind kind, const Context& context, const About& about) {
    open_ = true;
    kind_ = kind;
    about_ = about;
    title_ = about.title.empty() ? action(kind) : about.title;
    replaces_ = 0;
    kept_ = about.known;
    keeps_ = about.time_only;
    refused_.clear();
    scan_said_.clear();
    label_expired_.reset();
    as_it_happened_ = false;
    form_.tell_time(context.now, context.wall, context.day);
    ask(context, nullptr);
    ui.scroll_to_top("act");
    ui.change_screen(false);
    if (keeps_)
        form_.open(ui, "act.at");
    else
        form_.open_missing(ui);
}

void RecordEntry::correct(Ui& ui, const Event& event, const Context& context) {
    open_ = true;
    kind_ = event.kind;
    about_ = {};
    title_ = joined({"Record ", dose_number(event.number, 1, 0), ", put right: ", name(event.kind)});
    replaces_ = event.number;
    kept_ = event.facts;
    // These come from elsewhere: what is put right here is their time.
    keeps_ = event.kind == EventKind::observed || event.kind == EventKind::match_noted;
    refused_.clear();
    scan_said_.clear();
    label_expired_.reset();
    as_it_happened_ = false;
    form_.tell_time(context.now, context.wall, context.day);
    ask(context, &event);
    ui.scroll_to_top("act");
    ui.change_screen();
}

void RecordEntry::close(Ui& ui) {
    open_ = false;
    form_.clear();
    ui.change_screen();
}

std::vector<RecordEntry::Wish> RecordEntry::take_wishes() {
    std::vector<Wish> out;
    out.swap(wished_);
    return out;
}

void RecordEntry::refuse(const std::string& why, std::optional<Refusal> refusal) {
    refused_ = why;
    // What did happen can be said to have happened, whatever the rules say (late charting of what nobody prevented).
    const bool rate = kind_ == EventKind::started || kind_ == EventKind::rate_set;
    if (rate && refusal == Refusal::early_check_open && !form_.has("act.waived_by")) {
        std::vector<std::string> roles;
        for (int i = 0; i <= static_cast<int>(Role::outreach); ++i)
            roles.emplace_back(name(static_cast<Role>(i)));
        form_.choice("act.waived_by", "Somebody decides it all the same", std::move(roles)).empty = "nobody";
    }
    if (rate && !as_it_happened_ && (refusal == Refusal::rate_above_ceiling || refusal == Refusal::not_ready)) {
        as_it_happened_ = true;
        form_.choice("act.happened", "It did happen", {"no, it is put right", "yes, as entered"}, 0);
    }
}

std::string RecordEntry::note(const Context& context) const {
    std::string out(entry_sentence(kind_));
    if (kind_ == EventKind::item_noted) {
        out = question(about_.item);
        if (only_in_emergency(about_.item) && form_.chosen("act.how") == 2)
            out.append(" ").append(emergency_sentence());
    }
    if (kind_ == EventKind::started || kind_ == EventKind::rate_set)
        if (about_.rate > Rate{})
            out += joined({" By the plan it is ", rate_text(about_.rate), "."});
    if (kind_ == EventKind::resumed) {
        const Session& s = context.c.session();
        out = joined({"It stood still because: ", name(s.pause_reason), ". Go on at ",
                      rate_text(rate_to_go_on(s.state)), ". ", out});
        if (s.pause_reason == PauseReason::symptoms)
            out = joined({sentence(Refusal::needs_decision), " ", out});
    }
    if (kind_ == EventKind::all_in && replaces_ == 0) {
        const Live& live = context.c.live;
        const Volume all = live.reckoning.volumes.pushed, moved = live.running.pushed;
        if (all > moved)
            out = joined({"By the rates that were set ", volume_text(all - moved),
                          " are still to come. If it was stopped before, note that it was stopped."});
    }
    return out;
}

void RecordEntry::build(Ui& ui, Box body, Box foot, const Context& context) {
    form_.tell_time(context.now, context.wall, context.day);
    const float gap = ui.px(ui::gap_px);

    // The fields on the left and the keys on the right where there is room, else the keys below.
    const bool beside = body.w >= ui.px(860) && body.w > body.h;
    Box dock{};
    if (beside) {
        dock = body;
        dock.cut_left(body.w * 0.54f);
        body.w = body.w * 0.54f - ui.px(24);
    } else if (form_.editing()) {
        dock = body.cut_bottom(std::min(body.h * 0.62f, form_.dock_height(ui, body.w)), ui.px(12));
    }
    const Box in = ui.begin_scroll("act", body);
    Box rest{in.x, in.y, in.w - ui.px(10), 1e6f};
    const float top = rest.y;
    rest.cut_top(ui::paragraph(ui, "act.title", rest, title_, Face::title), gap);
    if (const std::string said = note(context); !said.empty())
        rest.cut_top(ui::caution(ui, "act.note", rest, "", said), ui.px(12));
    const bool rate = kind_ == EventKind::started || kind_ == EventKind::rate_set || kind_ == EventKind::resumed;
    const State& state = context.c.session().state;
    if (rate && replaces_ == 0 && state.device.kind == DeviceKind::pump) {
        // Going on is at the rate that is set; else at the one that the plan has.
        const auto at = kind_ != EventKind::resumed && about_.rate > Rate{} ? std::optional(about_.rate) : std::nullopt;
        if (const auto entry = device_entry(state, context.c.live.reckoning, at))
            rest.cut_top(device_lines(ui, rest, "act.device", *entry), ui.px(12));
    }
    if (!scan_said_.empty())
        rest.cut_top(ui::caution(ui, "act.scan", rest, "", scan_said_), ui.px(12));
    rest.cut_top(form_.fields(ui, rest, rest.w < ui.px(420) ? 1 : 2), gap);
    if (!refused_.empty())
        rest.cut_top(ui::caution(ui, "act.refused", rest, "Not noted", refused_), gap);
    ui.end_scroll(rest.y - top);
    if (form_.editing() && form_.dock(ui, dock))
        refused_.clear();

    const bool ready = form_.complete();
    const Box cancel = foot.cut_right(std::min(foot.w * 0.3f, ui.px(180)), gap);
    const std::string_view done = replaces_ > 0 ? "Put it right" : kind_ == EventKind::joined ? "Join" : "Note it";
    const bool pressed = ui::button(ui, "act.confirm", foot, done, ui::Look::primary, ready, title_);
    if (ui::button(ui, "act.cancel", cancel, "Back")) {
        close(ui);
        return;
    }
    if (pressed && ready)
        wished_ = wishes(context);
}

} // namespace hangtime::screens
