#include "web/screens/sequence_view.hpp"

#include "core/plan/draft_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/sequence_sheet.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/words/round_words.hpp"
#include "core/words/words.hpp"
#include "web/platform/platform.hpp"
#include "web/screens/usual_rules.hpp"
#include "web/widgets/answer.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>
#include <array>

namespace hangtime::screens {

using namespace rounds;
using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr std::string_view text_name = "sequence", rules_name = "round.rules";
constexpr Seconds stale = hours(24);

constexpr std::array<std::string_view, 3> answer_words = {"Not recorded", "No", "Yes"};
Answer answer_of(int chosen) { return chosen == 1 ? Answer::no : chosen == 2 ? Answer::yes : Answer::not_recorded; }
int place_of(Answer a) { return a == Answer::no ? 1 : a == Answer::yes ? 2 : 0; }

std::vector<std::string> component_names() {
    std::vector<std::string> out;
    for (int c = 0; c < component_count; ++c)
        out.emplace_back(name(static_cast<Component>(c)));
    return out;
}
std::optional<Component> component_at(int chosen) {
    if (chosen < 0)
        return std::nullopt;
    return static_cast<Component>(chosen);
}
int place_of(const std::optional<Component>& c) { return c ? static_cast<int>(*c) : -1; }

// A time of day belongs to the sequence: to the day that begins so long before its first start.
std::optional<Instant> near(std::optional<Instant> at, const std::optional<Instant>& first, Seconds before) {
    if (!at || !first)
        return at;
    const std::int64_t from = first->utc - before.count;
    constexpr std::int64_t day_s = 86400;
    return Instant{from + ((at->utc - from) % day_s + day_s) % day_s};
}

} // namespace

SequenceView::Wishes SequenceView::take_wishes() {
    const Wishes w = wishes_;
    wishes_ = {};
    return w;
}

std::vector<const Protocol*> SequenceView::with_rounds() const { return protocols_with_rounds(protocols_); }

const Protocol* SequenceView::protocol() const {
    const auto rules = with_rounds();
    return rules_ >= 0 && rules_ < static_cast<int>(rules.size()) ? rules[static_cast<std::size_t>(rules_)] : nullptr;
}

std::optional<sheet::Document> SequenceView::document() const {
    if (plan_ && protocol())
        return sequence_sheet(*protocol(), *sequence_, *plan_);
    if (!draft_)
        return std::nullopt;
    return sequence_entries_sheet(*draft_, protocol(), refused_ ? refused_text() : std::string());
}

void SequenceView::forget() {
    draft_.reset();
    form_.clear();
    text_.clear();
    kept_.clear();
    refused_.reset();
    sequence_.reset();
    plan_.reset();
    rules_ = -1;
}

// What was kept, whatever was missing in it; or an empty one.
void SequenceView::begin() {
    const auto rules = with_rounds();
    const auto find = [&](std::string_view id) {
        for (std::size_t i = 0; i < rules.size(); ++i)
            if (rules[i]->id == id)
                return static_cast<int>(i);
        return -1;
    };
    const std::string text = platform::load_text(text_name);
    if (!text.empty()) {
        Result<KeptSequenceDraft> read = read_sequence_draft(text);
        const bool recent = read.ok() && (!read.value().draft.first_start || *read.value().draft.first_start + stale > now_);
        if (recent) {
            rules_ = find(read.value().protocol);
            draft_ = std::move(read.value().draft);
            kept_ = text;
            return;
        }
        platform::save_text(text_name, {});
    }
    draft_ = new_sequence_draft(now_, wall_);
    if (rules_ < 0)
        rules_ = find(platform::load_text(rules_name));
    if (rules_ < 0)
        rules_ = usual_rules(rules);
    if (const Protocol* chosen = protocol())
        kept_ = draft_text(*draft_, *chosen); // an empty one is not worth keeping
}

void SequenceView::load(Ui& ui) {
    const SequenceDraft& d = *draft_;
    form_.clear();
    std::vector<std::string> rules, answers(answer_words.begin(), answer_words.end());
    for (const Protocol* p : with_rounds())
        rules.push_back(p->title);
    for (std::size_t i = 0; i < d.units.size(); ++i) {
        const SequenceDraftUnit& u = d.units[i];
        const int n = static_cast<int>(i);
        const std::string which = "Unit " + std::to_string(i + 1);
        form_.choice(ui.id("seq.component.", n), which, component_names(), place_of(u.component)).needed = true;
        form_.number(ui.id("seq.volume.", n), which + ", in the bag", "mL", 4, 1, 10, 50000, "1 to 5000 mL", u.bag_tenths)
            .needed = true;
    }
    form_.time("seq.start", "First one starts", d.first_start).needed = true;
    form_.time("seq.by", "Everything over by", d.over_by).empty = "no such hour";
    form_.choice("seq.risk", "At risk of overload", answers, place_of(d.overload_risk));
    form_.number("seq.weight", "Weight", "kg", 3, 1, 2, 5000, "0.2 to 500 kg", d.weight_tenths);
    form_.choice("seq.report", "Can report symptoms", answers, place_of(d.can_report));
    form_.number("seq.other", "Other line, same person", "mL/h", 4, 1, 1, 60000, "0.1 to 6000 mL/h", d.other_line_tenths)
        .empty = "none";
    form_.choice("seq.rules", "Rules", std::move(rules), rules_).needed = true;
    if (!more_)
        return;
    for (std::size_t i = 0; i < d.units.size(); ++i)
        form_.number(ui.id("seq.within.", static_cast<int>(i)), "Unit " + std::to_string(i + 1) + ", over", "min", 4, 0, 1,
                     7200, "1 to 7200 min", d.units[i].within_min)
            .empty = "by the rules";
    form_.number("seq.ready", "From the call to issue", "min", 3, 0, 0, 240, "0 to 240 min", d.ready_min).empty = "by the rules";
    form_.number("seq.transport", "From issue to the ward", "min", 3, 0, 0, 120, "0 to 120 min", d.transport_min).empty =
        "by the rules";
    form_.time("seq.set.hung", "A set in use, hung at", d.set_hung).empty = "none";
    form_.number("seq.set.units", "Units through it", "", 2, 0, 1, 20, "1 to 20", d.set_units).empty = "none";
    form_.choice("seq.set.first", "It carried", component_names(), place_of(d.set_first)).empty = "nothing else";
    form_.choice("seq.set.last", "It carried last", component_names(), place_of(d.set_last)).empty = "none";
}

void SequenceView::store() {
    SequenceDraft& d = *draft_;
    for (std::size_t i = 0; i < d.units.size(); ++i) {
        const std::string n = std::to_string(i);
        d.units[i].component = component_at(form_.chosen("seq.component." + n));
        d.units[i].bag_tenths = form_.number("seq.volume." + n);
    }
    d.first_start = form_.time("seq.start");
    d.over_by = near(form_.time("seq.by"), d.first_start, Seconds{0});
    d.overload_risk = answer_of(form_.chosen("seq.risk"));
    d.weight_tenths = form_.number("seq.weight");
    d.can_report = answer_of(form_.chosen("seq.report"));
    d.other_line_tenths = form_.number("seq.other");
    rules_ = form_.chosen("seq.rules");
    if (!form_.has("seq.ready"))
        return;
    for (std::size_t i = 0; i < d.units.size(); ++i)
        d.units[i].within_min = form_.number("seq.within." + std::to_string(i));
    d.ready_min = form_.number("seq.ready");
    d.transport_min = form_.number("seq.transport");
    d.set_hung = near(form_.time("seq.set.hung"), d.first_start, hours(23));
    d.set_units = form_.number("seq.set.units");
    d.set_first = component_at(form_.chosen("seq.set.first"));
    d.set_last = component_at(form_.chosen("seq.set.last"));
}

// As a file would be read; planned at once, since that takes no time.
void SequenceView::check() {
    const Protocol* rules = protocol();
    std::string text = rules ? draft_text(*draft_, *rules) : std::string("no rules");
    if (text == text_)
        return;
    text_ = std::move(text);
    refused_.reset();
    sequence_.reset();
    plan_.reset();
    if (!rules) {
        refused_ = Error{"protocol", "is not chosen", "the rules to plan by"};
        return;
    }
    if (kept_ != text_) {
        kept_ = text_;
        platform::save_text(text_name, kept_);
        platform::save_text(rules_name, rules->id);
    }
    Result<Sequence> read = read_sequence(text_, *rules);
    if (!read.ok()) {
        refused_ = read.error();
        return;
    }
    sequence_ = std::move(read.value());
    plan_ = plan_sequence(*rules, *sequence_);
}

std::string SequenceView::refused_text() const {
    return joined({refused_->where, " ", refused_->problem, "; accepted: ", refused_->accepted, "."});
}

void SequenceView::header(Ui& ui, Box box) {
    const float gap = ui.px(ui::gap_px);
    const bool tight = box.w < ui.px(700);
    if (ui::button(ui, "seq.back", box.cut_left(ui.px(tight ? 72 : 96), ui.px(12)), "Back"))
        wishes_.back = true;
    if (ui::button(ui, "page.print", box.cut_right(ui.px(tight ? 64 : 130), gap), tight ? "Print" : "Print sheet",
                   ui::Look::plain, draft_.has_value()))
        wishes_.print = true;
    if (ui::button(ui, "page.ground", box.cut_right(ui.px(72), gap), ui.night() ? "Day" : "Night", ui::Look::plain, true,
                   ui.night() ? "Day colours" : "Night colours"))
        wishes_.night = true;
    const float h = ui.line_height(Face::title);
    const Box line = {box.x, box.y + (box.h - h) / 2, box.w, h};
    const std::string_view title = tight ? "Several units" : "Several units for one person";
    ui.note({.id = "title", .label = title, .role = ui::Role::heading, .box = line});
    ui.put_text(line, Face::title, ui.palette().ink, title);
}

float SequenceView::entries(Ui& ui, Box box, int columns) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    box.cut_top(form_.fields(ui, box, columns), 0);
    const Box row = box.cut_top(ui.px(ui::row_px), gap);
    const std::size_t units = draft_->units.size();
    bool changed = false;
    if (ui::button(ui, "seq.add", row.cell(2, 1, 0, 0, gap), "Add a unit", ui::Look::plain, units < most_sequence_units)) {
        draft_->units.push_back(draft_->units.back()); // most often another one of the same
        draft_->units.back().bag_tenths.reset();
        changed = true;
    } else if (ui::button(ui, "seq.remove", row.cell(2, 1, 1, 0, gap), "Remove the last", ui::Look::plain, units > 1)) {
        draft_->units.pop_back();
        changed = true;
    }
    if (ui::fold(ui, "seq.more", box.cut_top(ui.px(ui::row_px), gap), "How long each takes, the blood bank's times, a set in use", more_)) {
        more_ = !more_;
        changed = true;
    }
    if (changed) {
        load(ui);
        ui.change_screen(false);
    }
    return box.y - top;
}

float SequenceView::unit(Ui& ui, Box box, std::size_t i) {
    const float top = box.y, gap = ui.px(4);
    const SequencePlan::Unit& u = plan_->units[i];
    const int n = static_cast<int>(i);
    const auto say = [&](std::string_view what, std::string text, Face face = Face::body) {
        box.cut_top(ui::paragraph(ui, ui.id(what, n), box, text, face), gap);
    };
    ui::subheading(ui, ui.id("seq.unit.", n), box.cut_top(ui.line_height(Face::body), ui.px(6)),
                   sequence_unit_text(*sequence_, i));
    const auto r = std::make_unique<Reckoning>();
    reckon(*protocol(), sequence_state(*sequence_, u, i), u.issued, *r);
    if (u.verdict != Verdict::fits)
        say("seq.verdict.", verdict_text(*r, day_));
    if (u.verdict == Verdict::does_not_fit)
        for (const Advised& advised : r->judgement.advice)
            say("seq.advice.", advice_text(advised.code, advised.figures, day_));
    else
        say("seq.times.", joined({"Match ", clock_text(u.match_at, day_), ", start ", clock_text(u.start, day_), ", all in ",
                                  clock_text(u.all_in, day_), "; latest ",
                                  u.finish_by ? clock_text(*u.finish_by, day_) : std::string(not_recorded_text),
                                  ". Last check ", clock_text(u.over, day_),
                                  u.before_hour ? "." : ": after the hour by which all has to be over."}));
    say("seq.set.", "Set: " + sequence_set_text(u, day_));
    say("seq.call.", "Call: " + sequence_call_text(u, i == 0, day_));
    say("seq.baseline.", "Baseline: " + sequence_baseline_text(*protocol(), *plan_, i, day_));
    if (u.verdict != Verdict::does_not_fit) {
        std::string rates;
        for (const Stage& stage : r->stages)
            rates += joined({rates.empty() ? "" : ", then ", stage_rate_text(stage)});
        if (u.left_of_ceiling)
            rates += joined({"; the other line leaves ", ratio_text(*u.left_of_ceiling, Rounding::down)});
        say("seq.rates.", "Rates: " + rates + ".");
        say("seq.after.", "After it: " + sequence_after_text(*protocol(), *plan_, i, day_));
    }
    return box.y - top;
}

float SequenceView::answers(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(14);
    std::string title, detail;
    ui::Seal seal = ui::Seal::none;
    if (!plan_) {
        title = form_.first_missing() ? "Something is missing" : "This cannot be planned as it is";
        if (refused_)
            detail = refused_text();
    } else {
        const bool fits = sequence_fits(*sequence_, *plan_);
        title = sequence_headline(*sequence_, *plan_, day_);
        detail = sequence_totals_text(*sequence_, *plan_);
        if (const std::string other = sequence_other_line_text(*sequence_, *plan_); !other.empty())
            detail += " " + other;
        seal = fits ? plan_->hold == CallHold::none ? ui::Seal::whole : ui::Seal::noted : ui::Seal::broken;
    }
    const float w = box.w - ui.px(32) - ui.px(48);
    Box first = box;
    first.h = std::max(ui.px(64), ui.px(22) + ui.text_height(Face::title, title, w) +
                                      (detail.empty() ? 0 : ui.text_height(Face::body, detail, w)) + ui.px(10));
    ui::verdict(ui, "seq.answer", first, seal, title, detail);
    box.cut_top(first.h, gap);
    ui.announce(title);
    if (plan_) {
        if (plan_->units.size() > 1 && plan_->hold != CallHold::none)
            box.cut_top(ui::paragraph(ui, "seq.in_case", box,
                                      joined({"Every unit after the first is planned only in case it is decided on: ",
                                              name(plan_->hold), "."})),
                        gap);
        for (std::size_t i = 0; i < plan_->units.size(); ++i)
            box.cut_top(unit(ui, box, i), gap);
    }
    std::string text;
    for (std::size_t i = 0; i < caution_count; ++i)
        text.append(i > 0 ? " " : "").append(caution(i));
    if (protocol() && !protocol()->adopted)
        text = joined({"Rules: ", protocol()->title, ", ", example_label(), ". ", text});
    box.cut_top(ui::paragraph(ui, "caution", box, text, Face::small, true), ui.px(4));
    return box.y - top;
}

void SequenceView::build(Ui& ui, Box area, Instant now, const WallClock& wall) {
    now_ = now;
    wall_ = wall;
    const float gap = ui.px(12);
    ui.set_editing(form_.editing());
    if (with_rounds().empty()) {
        header(ui, area.cut_top(ui.px(52), ui.px(8)));
        ui::paragraph(ui, "seq.no_rules", area,
                      "These rules say nothing about more than one unit. Follow your own policy.", Face::title);
        return;
    }
    if (!draft_) {
        begin();
        load(ui);
    }
    day_ = DayClock(wall_, draft_->first_start.value_or(now_) - hours(2));
    form_.tell_time(now_, wall_, day_);
    store();
    check();
    if (sequence_)
        day_ = day_of(*sequence_);
    header(ui, area.cut_top(ui.px(52), ui.px(8)));
    if (area.w >= ui.px(1000)) {
        Box left = area.cut_left(ui.px(480), ui.px(16));
        if (form_.editing())
            form_.dock(ui, left.cut_bottom(std::min(left.h * 0.6f, form_.dock_height(ui, left.w)), gap));
        const Box fields = ui.begin_scroll("seq.form", left);
        ui.end_scroll(entries(ui, {fields.x, fields.y, fields.w - ui.px(10), 1e6f}, 2));
        const Box in = ui.begin_scroll("seq.answers", area);
        ui.end_scroll(answers(ui, {in.x, in.y, in.w - ui.px(12), 1e6f}));
        return;
    }
    if (form_.editing())
        form_.dock(ui, area.cut_bottom(std::min(area.h * 0.55f, form_.dock_height(ui, area.w)), gap));
    const Box in = ui.begin_scroll("seq.form", area);
    Box rest = {in.x, in.y, in.w - ui.px(10), 1e6f};
    rest.cut_top(entries(ui, rest, 2), gap);
    if (!form_.editing())
        rest.cut_top(answers(ui, rest), gap);
    ui.end_scroll(rest.y - in.y);
}

} // namespace hangtime::screens
