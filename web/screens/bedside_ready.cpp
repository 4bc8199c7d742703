#include "core/plan/record_words.hpp"
#include "core/words/bedside_words.hpp"
#include "core/words/session_spelling.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/bedside.hpp"
#include "web/widgets/controls.hpp"
#include "web/widgets/timeline.hpp"

#include <algorithm>
#include <cmath>

/// What has to be ready before the unit is called for, and before the start: by recipient, order and line.

namespace hangtime::screens {

using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

ui::Mark mark_of(ItemState state) {
    switch (state) {
    case ItemState::open: return ui::Mark::to_come;
    case ItemState::confirmed: return ui::Mark::done;
    case ItemState::not_needed: return ui::Mark::not_needed;
    case ItemState::waived: return ui::Mark::late;
    case ItemState::failed: break;
    }
    return ui::Mark::missed;
}

} // namespace

std::string Bedside::last_said(EventKind kind) const {
    const auto& events = case_->log.events();
    for (std::size_t i = events.size(); i-- > 0;)
        if (events[i].kind == kind && !case_->log.is_void(events[i].number))
            return record_text(events[i], day_);
    return {};
}

// Order, person and set in one line each; a touch opens their entry.
float Bedside::summaries(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    struct Row {
        std::string_view id, label, value;
        EventKind kind;
        bool wanted;
    };
    const std::string order = last_said(EventKind::ordered), person = last_said(EventKind::recipient_told);
    const Device& d = session().state.device;
    const Line& l = session().state.line;
    const std::string set = joined({name(d.kind), d.kind == DeviceKind::gravity ? ", " : "",
                                    d.kind == DeviceKind::gravity ? drop_factor_text(d.drops) : std::string(),
                                    ", line of ", volume_text(l.holds), ", ", name(l.primed_with)});
    const std::string rules = session().protocol->title;
    const Row rows[] = {
        {"ready.order", "The order", order, EventKind::ordered, order.empty()},
        {"ready.person", "The person, for the arithmetic", person, EventKind::recipient_told, person.empty()},
        {"ready.device", "Device and set", set, EventKind::equipment_chosen, false},
        {"ready.rules", "Rules", rules, EventKind::protocol_changed, false},
    };
    const int columns = box.w >= ui.px(620) ? 2 : 1;
    Box line{};
    int n = 0;
    for (const Row& row : rows) {
        if (n % columns == 0)
            line = box.cut_top(ui::entry_height(ui), gap);
        ui::Entry e;
        e.label = row.label;
        e.value = row.value;
        e.typed = false;
        e.note = row.kind == EventKind::protocol_changed && !session().protocol->adopted ? "example, not adopted" : "";
        if (ui::entry(ui, row.id, line.cell(columns, 1, n % columns, 0, gap), e))
            ask(ui, row.kind);
        ++n;
    }
    return box.y - top;
}

float Bedside::folded_list(Ui& ui, Box box, std::string_view id, std::string_view title, std::string_view above,
                           const std::vector<std::string>& lines) {
    const float top = box.y, gap = ui.px(6);
    const bool open = open_ == id;
    if (ui::fold(ui, id, box.cut_top(ui.px(ui::row_px), gap), title, open)) {
        if (open)
            open_.clear();
        else
            open_ = id;
        ui.change_screen();
    }
    if (!open)
        return box.y - top;
    int n = 0;
    Box in = box;
    in.cut_left(ui.px(16));
    const float from = in.y;
    in.cut_top(ui::paragraph(ui, ui.id(id, 0, ".above"), in, above, Face::small, true), gap);
    for (const std::string& line : lines)
        in.cut_top(ui::paragraph(ui, ui.id(id, ++n, ".line"), in, line), gap);
    box.cut_top(in.y - from);
    return box.y - top;
}

float Bedside::ready_item(Ui& ui, Box box, const ReadyItem& item) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const std::string base = joined({"ready.", code(item.item)});
    const bool opened = open_ == base, settled = item.state != ItemState::open && item.state != ItemState::failed;
    const bool writes = desk_.store().may_write() && !case_->read_only();
    const bool quiet = quiet_ms(platform::now_ms()) >= 0;
    Box row = box.cut_top(ui.px(ui::row_px), gap);

    // What one touch settles stands beside it.
    Primary direct;
    primary_for_item(item.item, direct);
    const bool by_touch = direct.note.has_value() || direct.ask.has_value();
    if (!settled && by_touch) {
        const std::string_view label = direct.ask ? "Enter ..." : direct.note == EventKind::item_noted ? "Confirm" : "Note it";
        if (ui::button(ui, ui.keep(base + ".confirm"), row.cut_right(ui.px(112), gap), label, ui::Look::plain, writes,
                       ui.keep(joined({name(item.item), ": ", label}))) &&
            !quiet) {
            press(ui, direct);
            return box.y - top;
        }
    }
    std::string state(name(item.state));
    if (item.state == ItemState::waived) {
        const ItemNote& noted = session().item(item.item);
        state = joined({name(item.state), ": ", name(noted.reason), ", by ", name(noted.role)});
    }
    if (item.item == Item::second_checker && item.state == ItemState::confirmed && session().item(item.item).checker)
        state += joined({", ", name(*session().item(item.item).checker)});
    if (item.item == Item::authorisation && session().units_covered > 0)
        state += joined({", ", dose_number(session().units_covered, 1, 0),
                         session().units_covered == 1 ? " unit" : " units", ", ",
                         dose_number(session().units_requested, 1, 0), " called for"});
    if (item.good_until && settled && *item.good_until > now_)
        state += joined({", good until ", clock_text(*item.good_until, day_)});
    if (ui::marked_row(ui, ui.keep(base), row, mark_of(item.state), name(item.item), state, opened)) {
        open_ = opened ? std::string() : base;
        ui.change_screen();
    }
    if (!opened)
        return box.y - top;

    Box in = box;
    in.cut_left(ui.px(34));
    const float from = in.y;
    in.cut_top(ui::paragraph(ui, ui.keep(base + ".question"), in, question(item.item)), gap);
    if (item.item == Item::overload_risk || item.item == Item::warmer_considered) {
        const bool risk = item.item == Item::overload_risk;
        if (risk)
            in.cut_top(ui::paragraph(ui, "ready.risk", in, overload_sentence(), Face::small, true), gap);
        const std::size_t count = risk ? overload_factor_count : warmer_case_count;
        for (std::size_t i = 0; i < count; ++i)
            in.cut_top(ui::paragraph(ui, ui.id("ready.list.", static_cast<int>(i)), in,
                                     joined({"- ", risk ? overload_factor(i) : warmer_case(i)})),
                       ui.px(2));
        in.cut_top(gap);
    }
    // Not needed, waived, taken back: each where it may be.
    Box buttons = in.cut_top(ui.px(ui::row_px), gap);
    const auto put = [&](std::string_view after, std::string_view label) {
        return ui::button(ui, ui.keep(base + std::string(after)), buttons.cut_left(ui.px(176), gap), label,
                          ui::Look::plain, writes) &&
               !quiet;
    };
    RecordEntry::About about;
    about.item = item.item;
    if (can_be_waived(item.item) && !settled) {
        const std::string_view label = only_in_emergency(item.item) ? "Emergency path ..." : "Otherwise ...";
        if (put(".otherwise", label)) {
            ask(ui, EventKind::item_noted, about);
            return box.y - top;
        }
    } else if (!settled && !can_be_waived(item.item)) {
        ui::paragraph(ui, ui.keep(base + ".never"), buttons, sentence(Refusal::cannot_be_waived), Face::small, true);
    }
    if (item.item == Item::sample && put(".drawn", "When it was drawn ...")) {
        ask(ui, EventKind::sample_drawn);
        return box.y - top;
    }
    const bool by_hand = !comes_by_itself(item.item) || item.state == ItemState::waived;
    if (settled && by_hand && session().item(item.item).number > 0 && put(".withdraw", "Take it back")) {
        facts::ItemNoted f;
        f.item = item.item;
        f.how = ItemHow::withdrawn;
        note(ui, EventKind::item_noted, f);
        return box.y - top;
    }
    box.cut_top(in.y - from);
    return box.y - top;
}

float Bedside::ready_group(Ui& ui, Box box, ItemGroup group, bool before_call) {
    const float top = box.y;
    bool any = false;
    for (const ReadyItem& item : live().ready) {
        if (group_of(item.item) != group || item.before_call != before_call)
            continue;
        if (!any) {
            const int n = static_cast<int>(group) + (before_call ? 0 : 4);
            ui::subheading(ui, ui.id("ready.group.", n), box.cut_top(ui.line_height(Face::small), ui.px(4)), name(group));
        }
        any = true;
        box.cut_top(ready_item(ui, box, item));
    }
    return any ? box.y - top + ui.px(6) : 0;
}

float Bedside::ready(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(12);
    box.cut_top(summaries(ui, box), gap);
    box.cut_top(verdict(ui, box), gap);
    const bool wide = box.w >= ui.px(860);
    const bool later = session().phase >= Phase::here;
    std::vector<std::string> steps;
    for (std::size_t i = 0; i < set_step_count; ++i)
        steps.push_back(joined({dose_number(static_cast<Wide>(i) + 1, 1, 0), ". ",
                                set_step(i, session().state.line.primed_with)}));
    const Line& line = session().state.line;
    steps.push_back(line.primed_with == Primed::component
                        ? joined({"It takes ", volume_text(line.holds), " of the component to fill the line",
                                  line.lost > Volume{} ? joined({", and ", volume_text(line.lost), " is lost"}) : std::string(),
                                  "."})
                        : joined({"The line holds ", volume_text(line.holds), " of saline, which runs in first."}));
    const auto list = [&](Box at, bool before_call) {
        const float from = at.y;
        ui::subheading(ui, before_call ? "ready.before_call" : "ready.before_start",
                       at.cut_top(ui.line_height(Face::small), ui.px(8)),
                       before_call ? "Before the unit is called for" : "Before the start");
        for (const ItemGroup group : {ItemGroup::recipient, ItemGroup::order, ItemGroup::line, ItemGroup::bag})
            at.cut_top(ready_group(ui, at, group, before_call));
        return at.y - from;
    };
    if (wide) {
        const float half = std::floor((box.w - ui.px(24)) / 2);
        const Box left = {box.x, box.y, half, box.h}, right = {box.x + half + ui.px(24), box.y, half, box.h};
        const float a = list(left, !later), b = list(right, later);
        box.cut_top(std::max(a, b), gap);
    } else {
        box.cut_top(list(box, !later), gap);
        box.cut_top(list(box, later), gap);
    }
    box.cut_top(folded_list(ui, box, "ready.set_steps", "Make the set ready", set_sentence(), steps), gap);
    return box.y - top;
}

// Whether the plan fits, with what was taken as usual, and what can be done where it does not.
float Bedside::verdict(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(8);
    const Reckoning& r = live().reckoning;
    Told told;
    if (r.planned) {
        told = told_of(r, day_);
    } else {
        const Missing& m = r.missing;
        told.title = m.component ? "Enter the order: then it is told whether the plan fits"
                     : m.weight  ? "Enter the weight: these rules need it"
                     : m.volume  ? "Enter the volume usually expected"
                                 : "Enter what is missing";
    }
    const Assumed& a = live().assumed;
    if (r.planned && (a.volume || a.issue || a.start)) {
        if (!told.detail.empty() && told.detail.back() != '\n')
            told.detail += " ";
        told.detail += joined({"Taken as usual: ", a.volume ? "the volume " : "",
                               a.volume ? volume_text(r.volumes.bag) : std::string(), a.volume ? ", " : "",
                               a.issue ? "issue now, " : "", "start at ", clock_text(r.start, day_), "."});
    }
    ui::verdict(ui, "verdict", box.cut_top(told_height(ui, told, box.w), gap), told.seal, told.title, told.detail);
    if (r.planned && r.judgement.verdict == Verdict::does_not_fit && session().phase <= Phase::called) {
        RecordEntry::About about;
        about.item = Item::plan_fits;
        const bool waived = session().item(Item::plan_fits).state == ItemState::waived;
        if (!waived && ui::button(ui, "ready.plan_fits.waive", box.cut_top(ui.px(ui::row_px), gap).cut_left(ui.px(280)),
                                  "Somebody decides it all the same ...", ui::Look::plain,
                                  desk_.store().may_write() && !case_->read_only()))
            ask(ui, EventKind::item_noted, about);
    }
    return box.y - top;
}

} // namespace hangtime::screens
