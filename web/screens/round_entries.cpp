#include "core/words/words.hpp"
#include "web/screens/round_view.hpp"
#include "web/screens/usual_rules.hpp"
#include "web/widgets/controls.hpp"

#include <algorithm>
#include <array>

/// The entries of a round. Each change is read by the reader of round files; what it refuses is said in its words.

namespace hangtime::screens {

using namespace rounds;
using ui::Box;
using ui::Face;
using ui::Ui;

namespace {

constexpr int nothing = -2, the_round = -1;

// A time of day belongs to the round: from two hours before it begins, for a day.
std::optional<Instant> near(std::optional<Instant> at, const std::optional<Instant>& from) {
    if (!at || !from)
        return at;
    const Instant first = *from - Seconds{2 * 3600};
    constexpr std::int64_t day_s = 86400;
    return Instant{at->utc + ceil_div(std::max<std::int64_t>(first.utc - at->utc, 0), day_s) * day_s -
                   floor_div(std::max<std::int64_t>(at->utc - first.utc, 0), day_s) * day_s};
}

constexpr std::array<std::string_view, 3> answers = {"Not recorded", "No", "Yes"};
Answer answer_of(int chosen) { return chosen == 1 ? Answer::no : chosen == 2 ? Answer::yes : Answer::not_recorded; }
int place_of(Answer a) { return a == Answer::no ? 1 : a == Answer::yes ? 2 : 0; }

// In the order of PersonLink.
constexpr std::array<std::string_view, 3> link_texts = {"That one first", "Either first, never at once",
                                                        "At once, over two lines"};
bool is_linked(const Form& f) { return f.chosen("unit.person") > 0; }
bool is_first(const Form& f) { return !is_linked(f); }

std::vector<std::string> answer_texts() { return {answers.begin(), answers.end()}; }

} // namespace

std::vector<const Protocol*> RoundView::with_rounds() const {
    return protocols_with_rounds(protocols_);
}

const Protocol* RoundView::protocol() const {
    const auto rules = with_rounds();
    return rules_ >= 0 && rules_ < static_cast<int>(rules.size()) ? rules[static_cast<std::size_t>(rules_)] : nullptr;
}

std::string RoundView::item_name(int item) const {
    const int nurses = static_cast<int>(draft_->nurses.size());
    if (item == the_round)
        return "The round";
    if (item < nurses)
        return nurse_text(item);
    std::string text(name(draft_->transfusions[static_cast<std::size_t>(item - nurses)].object));
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

void RoundView::load(Ui& ui, int item) {
    if (item_ != nothing)
        store();
    item_ = item;
    form_.clear();
    ui.change_screen();
    ui.scroll_to_top("round.form");
    if (item == the_round)
        load_round();
    else if (item >= 0 && item < static_cast<int>(draft_->nurses.size()))
        load_nurse(draft_->nurses[static_cast<std::size_t>(item)]);
    else if (item >= 0)
        load_transfusion(draft_->transfusions[static_cast<std::size_t>(item) - draft_->nurses.size()],
                         static_cast<std::size_t>(item) - draft_->nurses.size());
}

void RoundView::load_round() {
    std::vector<std::string> rules;
    for (const Protocol* p : with_rounds())
        rules.push_back(p->title);
    form_.choice("round.rules", "Rules", std::move(rules), rules_).needed = true;
    form_.time("round.from", "The round begins", draft_->from).needed = true;
    form_.time("round.until", "Everything is over by", draft_->until).needed = true;
    form_.choice("round.second", "Second person at the match", {"Somebody outside the round", "Another nurse of it"},
                 draft_->second_from_round ? 1 : 0);
}

void RoundView::load_nurse(const DraftNurse& n) {
    form_.time("nurse.from", "There from", n.hours.from).needed = true;
    form_.time("nurse.until", "There until", n.hours.until).needed = true;
    const auto stretch = [&](const DraftStretch& s, std::string_view from, std::string_view until,
                             std::string_view from_label, std::string_view until_label) {
        form_.time(from, from_label, s.from).empty = "none";
        form_.time(until, until_label, s.until).empty = "none";
    };
    stretch(n.rest[0], "nurse.rest.from", "nurse.rest.until", "Break from", "until");
    stretch(n.rest[1], "nurse.rest2.from", "nurse.rest2.until", "Second break from", "until");
    stretch(n.handover[0], "nurse.handover.from", "nurse.handover.until", "Hand-over from", "until");
    stretch(n.handover[1], "nurse.handover2.from", "nurse.handover2.until", "Second hand-over from", "until");
}

void RoundView::load_transfusion(const DraftTransfusion& t, std::size_t index) {
    std::vector<std::string> components;
    for (int c = 0; c < component_count; ++c)
        components.emplace_back(name(static_cast<Component>(c)));
    form_.choice("unit.component", "Component", std::move(components), t.component ? static_cast<int>(*t.component) : -1)
        .needed = true;
    form_.number("unit.volume", "Volume in the bag", "mL", 4, 1, 10, 50000, "1 to 5000 mL", t.bag_tenths).needed = true;
    form_.time("call.earliest", "Call from", t.earliest).needed = true;
    form_.time("call.latest", "Call by", t.latest).needed = true;
    form_.number("call.ready", "From the call to issue", "min", 3, 0, 0, 240, "0 to 240 min", t.ready_min).empty =
        "by the rules";
    form_.number("call.transport", "From issue to the ward", "min", 3, 0, 0, 120, "0 to 120 min", t.transport_min).empty =
        "by the rules";
    form_.number("weight.finish", "Weight of its finish", "", 1, 0, 1, most_weight, "1 to 9", t.weight.value_or(1));
    form_.number("order.within", "Over", "min", 4, 0, 1, 7200, "1 to 7200 min", t.within_min).empty = "by the rules";
    form_.number("order.most", "At most", "mL/h", 4, 1, 1, 60000, "0.1 to 6000 mL/h", t.most_tenths).empty = "by the rules";
    if (index > 0) {
        std::vector<std::string> others{"Nobody else"};
        int chosen = 0;
        for (std::size_t i = 0; i < index; ++i) {
            others.push_back(item_name(static_cast<int>(draft_->nurses.size() + i)));
            if (t.person_of == draft_->transfusions[i].object)
                chosen = static_cast<int>(i) + 1;
        }
        form_.choice("unit.person", "Same person as", std::move(others), chosen);
        form_.choice("unit.link", "The two run", std::vector<std::string>(link_texts.begin(), link_texts.end()),
                     static_cast<int>(t.link))
            .applies = is_linked;
    }
    // A person is entered once.
    form_.choice("person.risk", "At risk of overload", answer_texts(), place_of(t.overload_risk)).applies = is_first;
    form_.choice("person.report", "Can report symptoms", answer_texts(), place_of(t.can_report)).applies = is_first;
    form_.number("person.weight", "Weight", "kg", 3, 1, 1, 5000, "0.1 to 500 kg", t.weight_tenths).applies = is_first;
    FormField& line =
        form_.number("line.other", "Other line, same person", "mL/h", 4, 1, 1, 60000, "0.1 to 6000 mL/h", t.other_line_tenths);
    line.empty = "none";
    line.applies = [](const Form& f) { return is_first(f) || f.chosen("unit.link") != static_cast<int>(PersonLink::beside); };
}

void RoundView::store() {
    Draft& d = *draft_;
    const auto time = [&](std::string_view id) { return near(form_.time(id), d.from); };
    if (item_ == the_round) {
        rules_ = form_.chosen("round.rules");
        d.from = form_.time("round.from");
        d.until = time("round.until");
        d.second_from_round = form_.chosen("round.second") == 1;
    } else if (item_ >= 0 && item_ < static_cast<int>(d.nurses.size())) {
        DraftNurse& n = d.nurses[static_cast<std::size_t>(item_)];
        n.hours = {time("nurse.from"), time("nurse.until")};
        n.rest[0] = {time("nurse.rest.from"), time("nurse.rest.until")};
        n.rest[1] = {time("nurse.rest2.from"), time("nurse.rest2.until")};
        n.handover[0] = {time("nurse.handover.from"), time("nurse.handover.until")};
        n.handover[1] = {time("nurse.handover2.from"), time("nurse.handover2.until")};
    } else if (item_ >= 0) {
        const auto index = static_cast<std::size_t>(item_) - d.nurses.size();
        DraftTransfusion& t = d.transfusions[index];
        const int component = form_.chosen("unit.component");
        t.component.reset();
        if (component >= 0)
            t.component = static_cast<Component>(component);
        t.bag_tenths = form_.number("unit.volume");
        t.earliest = time("call.earliest");
        t.latest = time("call.latest");
        t.ready_min = form_.number("call.ready");
        t.transport_min = form_.number("call.transport");
        t.other_line_tenths = form_.number("line.other");
        t.weight = form_.number("weight.finish");
        t.within_min = form_.number("order.within");
        t.most_tenths = form_.number("order.most");
        t.person_of.reset();
        if (is_linked(form_)) {
            t.person_of = d.transfusions[static_cast<std::size_t>(form_.chosen("unit.person")) - 1].object;
            t.link = static_cast<PersonLink>(form_.chosen("unit.link"));
        } else {
            t.overload_risk = answer_of(form_.chosen("person.risk"));
            t.can_report = answer_of(form_.chosen("person.report"));
            t.weight_tenths = form_.number("person.weight");
        }
    }
}

// As a file would be read.
void RoundView::check() {
    const Protocol* rules = protocol();
    if (!rules) {
        text_.clear();
        round_.reset();
        refused_ = Error{"protocol", "is not chosen", "the rules to plan by"};
        return;
    }
    std::string text = draft_text(*draft_, *rules);
    if (text == text_)
        return;
    text_ = std::move(text);
    Result<Round> read = read_round(text_, *rules);
    refused_.reset();
    round_.reset();
    if (read.ok())
        round_ = std::move(read.value());
    else
        refused_ = read.error();
}

// Which entries a path of the file belongs to: the_round, or the place in the list.
static int item_of(std::string_view where, std::size_t nurses) {
    const auto number = [&](std::string_view before) {
        int n = 0;
        for (std::size_t i = before.size(); i < where.size() && where[i] >= '0' && where[i] <= '9'; ++i)
            n = n * 10 + (where[i] - '0');
        return n;
    };
    constexpr std::string_view of_nurses = "nurses[", of_transfusions = "transfusions[";
    if (where.starts_with(of_nurses))
        return number(of_nurses);
    if (where.starts_with(of_transfusions))
        return static_cast<int>(nurses) + number(of_transfusions);
    return the_round;
}

// What is missing or wrong, and where.
std::string RoundView::refused_text() const {
    const int item = item_of(refused_->where, draft_->nurses.size());
    return joined({item_name(std::min(item, static_cast<int>(draft_->nurses.size() + draft_->transfusions.size()) - 1)),
                   ": ", refused_->where, " ", refused_->problem, "; accepted: ", refused_->accepted, "."});
}

float RoundView::list(Ui& ui, Box box) {
    const float top = box.y, gap = ui.px(ui::gap_px);
    const int nurses = static_cast<int>(draft_->nurses.size()), all = nurses + static_cast<int>(draft_->transfusions.size());
    const int wrong = refused_ ? item_of(refused_->where, draft_->nurses.size()) : nothing;
    int wanted = nothing;
    for (int i = the_round; i < all; ++i) {
        std::string label = item_name(i);
        if (i >= nurses) {
            const DraftTransfusion& t = draft_->transfusions[static_cast<std::size_t>(i - nurses)];
            if (t.component)
                label.append(", ").append(name(*t.component));
        }
        if (i == wrong)
            label += ": look here";
        if (ui::choice(ui, ui.id("item.", i + 1), box.cut_top(ui.px(ui::row_px), gap), label, i == item_) && i != item_)
            wanted = i;
    }
    Box row = box.cut_top(ui.px(ui::row_px), gap);
    const bool more_nurses = nurses < most_nurses, more = all - nurses < most_jobs;
    if (ui::button(ui, "add.transfusion", row.cell(2, 1, 0, 0, gap), "Add a unit", ui::Look::plain, more)) {
        store();
        draft_->transfusions.push_back(new_transfusion(*draft_));
        wanted = all;
    } else if (ui::button(ui, "add.nurse", row.cell(2, 1, 1, 0, gap), "Add a nurse", ui::Look::plain, more_nurses)) {
        store();
        DraftNurse nurse;
        nurse.hours = {draft_->from, draft_->until};
        item_ = nothing;
        draft_->nurses.push_back(nurse);
        wanted = nurses;
    }
    if (wanted != nothing)
        load(ui, wanted);
    return box.y - top;
}

void RoundView::plan_it(Round round) {
    plan_ = std::make_unique<RoundPlan>(*protocol(), std::move(round));
    mode_ = Mode::board;
    fixed_ = false;
    chosen_ = -1;
    drag_ = {};
}

// From now on, where the round has begun: nothing is planned into the past.
void RoundView::draw_plan(Ui& ui) {
    if (draft_->from && now_ > *draft_->from) {
        draft_->now = Instant{floor_div(now_.utc, 60) * 60};
        check();
    }
    if (!round_)
        return;
    plan_it(*round_);
    form_.close(ui);
    keep();
    ui.change_screen();
}

void RoundView::begin_draft() {
    draft_ = new_draft(now_, wall_);
    if (rules_ < 0)
        rules_ = usual_rules(with_rounds());
    item_ = nothing;
}

void RoundView::remove_item(Ui& ui) {
    const int item = item_, nurses = static_cast<int>(draft_->nurses.size());
    item_ = nothing;
    if (item == the_round) {
        begin_draft();
        plan_.reset();
    } else if (item < nurses) {
        draft_->nurses.erase(draft_->nurses.begin() + item);
        for (DraftTransfusion& t : draft_->transfusions) {
            // Promises and what has happened are told by the nurse's number.
            if (t.promised_nurse == item)
                t.promised_start.reset(), t.promised_nurse = -1;
            else if (t.promised_nurse > item)
                --t.promised_nurse;
            if (t.happened.nurse == item)
                t.happened.nurse.reset();
            else if (t.happened.nurse && *t.happened.nurse > item)
                --*t.happened.nurse;
        }
    } else {
        const auto at = draft_->transfusions.begin() + (item - nurses);
        const DraftTransfusion gone = *at;
        draft_->transfusions.erase(at);
        leave_to_the_others(*draft_, gone);
    }
    load(ui, the_round);
}

void RoundView::entries(Ui& ui, Box area) {
    const float gap = ui.px(12);
    if (with_rounds().empty()) {
        header(ui, area.cut_top(ui.px(52), ui.px(8)), "Round", false);
        ui::paragraph(ui, "round.no_rules", area, "These rules say nothing about more than one unit. Follow your own policy.",
                      Face::title);
        return;
    }
    if (!draft_) {
        begin_draft();
        load(ui, rules_ < 0 ? the_round : static_cast<int>(draft_->nurses.size()));
    } else if (item_ == nothing) {
        load(ui, the_round); // taken up from what was kept
    }
    // Whoever begins a round after midnight still means the times of this one.
    const Instant first = draft_->from.value_or(now_);
    day_ = DayClock(wall_, first);
    form_.tell_time(now_, wall_, day_);
    store();
    check();
    keep();
    header(ui, area.cut_top(ui.px(52), ui.px(8)), "Round: entries", true);

    const bool can_plan = round_.has_value() && form_.complete();
    const std::string said = refused_ ? refused_text() : std::string("Nothing is missing.");
    Box foot = area.cut_bottom(ui.px(ui::row_px), gap);
    const bool wide = area.w >= ui.px(760);
    const float said_h = ui.text_height(Face::small, said, area.w);
    ui::paragraph(ui, "round.said", area.cut_bottom(said_h, ui.px(8)), said, Face::small);
    ui.announce(said);
    const int nurses = static_cast<int>(draft_->nurses.size()), all = nurses + static_cast<int>(draft_->transfusions.size());
    const bool removable = item_ < 0 || (item_ < nurses ? nurses > 1 : all - nurses > 1);
    const Box remove = foot.cut_right(foot.w * 0.35f, ui.px(ui::gap_px));
    bool removes = false, plans = false;
    plans = ui::button(ui, "round.plan", foot, "Plan the round", ui::Look::primary, can_plan);
    const std::string removing = item_ >= 0 ? "Remove " + item_name(item_) : std::string("Empty it all");
    removes = ui::button(ui, "round.remove", remove, removing, ui::Look::plain, removable);

    if (wide) {
        Box left = area.cut_left(ui.px(300), ui.px(16));
        const Box in = ui.begin_scroll("round.list", left);
        ui.end_scroll(list(ui, {in.x, in.y, in.w - ui.px(10), 1e6f}));
        if (form_.editing())
            form_.dock(ui, area.cut_bottom(std::min(area.h * 0.6f, form_.dock_height(ui, area.w)), gap));
        const Box fields = ui.begin_scroll("round.form", area);
        ui.end_scroll(form_.fields(ui, {fields.x, fields.y, fields.w - ui.px(10), 1e6f}, 2));
    } else {
        if (form_.editing())
            form_.dock(ui, area.cut_bottom(std::min(area.h * 0.55f, form_.dock_height(ui, area.w)), gap));
        const Box in = ui.begin_scroll("round.form", area);
        Box rest = {in.x, in.y, in.w - ui.px(10), 1e6f};
        rest.cut_top(form_.fields(ui, rest, 2), gap);
        if (!form_.editing())
            rest.cut_top(list(ui, rest), gap);
        ui.end_scroll(rest.y - in.y);
    }
    if (plans && can_plan) {
        draw_plan(ui);
    } else if (removes && removable) {
        remove_item(ui);
    }
}

} // namespace hangtime::screens
