#include "core/words/match_words.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"
#include "web/screens/record_entry.hpp"

#include <array>

/// What each kind of record asks for.

namespace hangtime::screens {
namespace {

constexpr std::array<std::int32_t, 6> gauges = {0, 16, 18, 20, 22, 24};
constexpr std::array<std::int32_t, 4> drop_factors = {10, 15, 20, 60};
constexpr std::array<std::int64_t, 3> step_tenths = {1, 10, 50};
constexpr int expiry_days = 7;

template <class E> std::vector<std::string> names(int count) {
    std::vector<std::string> out;
    for (int i = 0; i < count; ++i)
        out.emplace_back(name(static_cast<E>(i)));
    return out;
}

template <class E> int place(E value) { return static_cast<int>(value); }

std::int64_t tenths(Volume v) { return v.units / (units_per_ml / 10); }
std::int64_t tenths(Rate r) { return r.units_per_s / (units_per_s_of_ml_per_h / 10); }
std::optional<std::int64_t> tenths(std::optional<Volume> v) {
    return v ? std::optional(tenths(*v)) : std::nullopt;
}
std::optional<std::int64_t> given(std::int64_t n) { return n == 0 ? std::nullopt : std::optional(n); }

template <class F> const F* old_facts(const Event* old) { return old ? std::get_if<F>(&old->facts) : nullptr; }

constexpr std::int64_t most_tenths_ml = bounds::volume.units / units_per_ml * 10;
constexpr std::int64_t most_tenths_ml_per_h = bounds::rate.units_per_s / units_per_s_of_ml_per_h * 10;

} // namespace

void RecordEntry::ask_order(const Context& context, const Event* old) {
    const Session& s = context.c.session();
    const auto* f = old_facts<facts::Ordered>(old);
    const Order order = f ? f->order : s.state.order;
    const auto component = f ? std::optional(f->component) : s.ordered;
    form_.choice("act.component", "Component", names<Component>(component_count), component ? place(*component) : -1)
        .needed = true;
    form_.choice("act.dose", "Dose", {"the whole bag", "... mL", "... mL/kg"},
                 order.dose ? 1 : order.dose_per_kg ? 2 : 0);
    auto& dose = form_.number("act.dose_ml", "Dose", "mL", 4, 1, 1, most_tenths_ml, "0.1 to 5000 mL", tenths(order.dose));
    dose.needed = true;
    dose.applies = [](const Form& form) { return form.chosen("act.dose") == 1; };
    auto& per_kg = form_.number("act.dose_ml_per_kg", "Dose", "mL/kg", 3, 1, 1, bounds::dose_per_kg.tenths_of_ml,
                                "0.1 to 200 mL/kg",
                                order.dose_per_kg ? std::optional(order.dose_per_kg->tenths_of_ml) : std::nullopt);
    per_kg.needed = true;
    per_kg.applies = [](const Form& form) { return form.chosen("act.dose") == 2; };
    form_.choice("act.pace", "How fast", {"usual for these rules", "within ...", "over at least ...", "at a rate of ..."},
                 order.pace == Order::Pace::at_rate_per_kg ? 0 : place(order.pace));
    auto& lasts = form_.number("act.duration", "Duration", "min", 4, 0, 1, bounds::span.count / 60, "1 to 7200 min",
                               given(order.duration.count / 60));
    lasts.needed = true;
    lasts.applies = [](const Form& form) { return form.chosen("act.pace") == 1 || form.chosen("act.pace") == 2; };
    auto& at_rate = form_.number("act.ordered_rate", "Ordered rate", "mL/h", 4, 1, 1, most_tenths_ml_per_h,
                                 "0.1 to 6000 mL/h", given(tenths(order.rate)));
    at_rate.needed = true;
    at_rate.applies = [](const Form& form) { return form.chosen("act.pace") == 3; };
    form_.number("act.most_rate", "Highest rate ordered", "mL/h", 4, 1, 1, most_tenths_ml_per_h, "0.1 to 6000 mL/h",
                 order.most ? std::optional(tenths(*order.most)) : std::nullopt)
        .empty = "none";
    auto& usual = form_.number("act.expected", "Volume usually expected", "mL", 4, 1, 1, most_tenths_ml,
                               "0.1 to 5000 mL", tenths(f ? f->expected : s.expected));
    usual.empty = "as these rules say";
}

void RecordEntry::ask_person(const Context& context, const Event* old) {
    const auto* f = old_facts<facts::RecipientTold>(old);
    const Recipient r = f ? f->recipient : context.c.session().state.recipient;
    form_.number("act.weight", "Weight", "kg", 3, 1, bounds::least_mass.grams / 100, bounds::mass.grams / 100,
                 "0.2 to 500 kg", given(r.weight.grams / 100))
        .needed = context.c.session().protocol->children;
    form_.choice("act.weight_is", "The weight was", {"measured", "estimated"}, r.weight_estimated ? 1 : 0);
    const bool told = context.c.session().recipient_told;
    form_.choice("act.risk", "Risk of overload", names<Answer>(3), told ? place(r.overload_risk) : -1).needed = true;
    form_.choice("act.can_report", "Can report symptoms", names<Answer>(3), told ? place(r.can_report) : -1).needed = true;
    std::vector<std::string> labels;
    int chosen = 0;
    for (std::size_t i = 0; i < gauges.size(); ++i) {
        labels.push_back(gauges[i] == 0 ? std::string(not_recorded_text) : dose_number(gauges[i], 1, 0) + " G");
        if (gauges[i] == r.gauge)
            chosen = static_cast<int>(i);
    }
    form_.choice("act.gauge", "Cannula", std::move(labels), chosen);
}

void RecordEntry::ask_equipment(const Context& context, const Event* old) {
    const Session& s = context.c.session();
    const auto* f = old_facts<facts::EquipmentChosen>(old);
    const Device device = f ? f->device : s.state.device;
    const Line line = f ? f->line : s.state.line;
    form_.choice("act.device", "Pump or gravity", names<DeviceKind>(2), place(device.kind)).needed = true;
    std::vector<std::string> steps, drops;
    int step = 0, factor = 0;
    for (std::size_t i = 0; i < step_tenths.size(); ++i) {
        steps.push_back(rate_text(tenths_of_ml_per_h(step_tenths[i])));
        if (device.step == tenths_of_ml_per_h(step_tenths[i]))
            step = static_cast<int>(i);
    }
    for (std::size_t i = 0; i < drop_factors.size(); ++i) {
        drops.push_back(drop_factor_text({drop_factors[i]}));
        if (device.drops.per_ml == drop_factors[i])
            factor = static_cast<int>(i);
    }
    form_.choice("act.step", "Pump goes in steps of", std::move(steps), step).applies = [](const Form& form) {
        return form.chosen("act.device") == 0;
    };
    form_.choice("act.drops", "Drop factor of the set", std::move(drops), factor).applies = [](const Form& form) {
        return form.chosen("act.device") == 1;
    };
    if (s.primed && !old)
        return; // the set is in use: it is changed by a record of its own
    const facts::PrimedWith filled{line.primed_with, line.holds, line.lost};
    ask_set(context, &filled);
    if (s.protocol->clearing.value == Clearing::optional)
        form_.choice("act.cleared", "Line cleared at the end", {"yes, with saline", "no"}, line.cleared ? 0 : 1);
}

// What a set is filled with, what it holds, and what was lost by filling it.
void RecordEntry::ask_set(const Context& context, const facts::PrimedWith* old) {
    const Session& s = context.c.session();
    const facts::PrimedWith set =
        old ? *old : facts::PrimedWith{s.state.line.primed_with, s.state.line.holds, s.state.line.lost};
    form_.choice("act.with", "Line primed with", {"saline", "component"}, place(set.with)).needed = true;
    std::vector<std::string> labels;
    int chosen = -1;
    for (const LinePreset& p : s.protocol->lines) {
        if (p.holds == set.holds)
            chosen = static_cast<int>(labels.size());
        labels.push_back(joined({name(p.kind), ", ", volume_text(p.holds)}));
    }
    if (chosen < 0)
        chosen = static_cast<int>(labels.size());
    labels.emplace_back("another volume ...");
    const int other = static_cast<int>(labels.size()) - 1;
    form_.choice("act.line", "The line holds", std::move(labels), chosen);
    auto& holds = form_.number("act.line_ml", "The line holds", "mL", 3, 1, 0, 2000, "0 to 200 mL",
                               chosen == other ? std::optional(tenths(set.holds)) : std::nullopt);
    holds.needed = true;
    holds.applies = [](const Form& form) { return form.chosen("act.line") == form.count("act.line") - 1; };
    auto& lost = form_.number("act.lost", "Lost in priming", "mL", 3, 1, 0, 2000, "0 to 200 mL", given(tenths(set.lost)));
    lost.empty = "nothing";
    lost.applies = [](const Form& form) { return form.chosen("act.with") == 1; };
}

void RecordEntry::ask_item(const Context& context, const Event* old) {
    (void)context;
    const auto* f = old_facts<facts::ItemNoted>(old);
    if (f)
        about_.item = f->item;
    title_ = name(about_.item);
    std::vector<std::string> ways = {"confirmed", "not needed"};
    if (can_be_waived(about_.item))
        ways.emplace_back("waived, with a reason");
    const int at = !f || f->how == ItemHow::withdrawn ? -1 : f->how == ItemHow::confirmed ? 0 : f->how == ItemHow::not_needed ? 1 : 2;
    if (about_.item == Item::authorisation) {
        form_.number("act.units", "Units that it covers", "", 2, 0, 1, 20, "1 to 20", f ? given(f->count) : std::nullopt)
            .needed = true;
        return;
    }
    // What follows from other records is never ticked by hand: all that can be done is to waive it.
    if (comes_by_itself(about_.item))
        form_.choice("act.how", "It is", {"waived, with a reason"}, 0);
    else
        form_.choice("act.how", "It is", std::move(ways), at).needed = true;
    if (about_.item == Item::second_checker) {
        form_.choose("act.how", at < 0 ? 0 : at);
        auto& checker = form_.choice("act.checker", "Who it is, as a role", names<Role>(6),
                                     f && f->checker ? place(*f->checker) : -1);
        checker.needed = true;
        checker.applies = [](const Form& form) { return form.chosen("act.how") == 0; };
    }
    const auto waives = [](const Form& form) {
        return form.chosen("act.how") == 2 || form.count("act.how") == 1;
    };
    auto& why = form_.choice("act.reason", "Why", names<WaiverReason>(4), f && at == 2 ? place(f->reason) : -1);
    why.needed = true;
    why.applies = waives;
    auto& who = form_.choice("act.role", "Who decides it", names<Role>(6), f && at == 2 ? place(f->role) : -1);
    who.needed = true;
    who.applies = waives;
}

void RecordEntry::ask_issued(const Context& context, const Event* old) {
    const Session& s = context.c.session();
    const auto* f = old_facts<facts::Issued>(old);
    const auto component = f ? std::optional(f->component) : s.ordered;
    form_.choice("act.component", "Component", names<Component>(component_count), component ? place(*component) : -1)
        .needed = true;
    form_.number("act.volume", "Volume on the label", "mL", 4, 1, 1, most_tenths_ml, "0.1 to 5000 mL",
                 f ? std::optional(tenths(f->bag)) : tenths(s.joined ? std::optional<Volume>() : s.expected))
        .needed = true;
    form_.code("act.digits", "Last 4 digits of the donation number", 4,
               f && f->digits ? std::string_view(f->digits->data(), 4) : std::string_view());
    std::vector<std::string> days = {std::string(not_recorded_text), "today", "tomorrow"};
    for (int n = 2; n < expiry_days; ++n)
        days.push_back("in " + dose_number(n, 1, 0) + " days");
    days.emplace_back("a week or more away");
    days.emplace_back("it has passed");
    int day = -1;
    std::optional<Instant> at;
    if (f) {
        day = f->expires_far ? expiry_days + 1 : 0;
        if (f->expires) {
            at = f->expires->at;
            const std::int64_t away = context.wall.local_day(*at) - context.wall.local_day(context.now);
            day = away >= 0 && away < expiry_days ? static_cast<int>(away) + 1 : 0;
        }
    }
    form_.choice("act.expires", "Expires", std::move(days), day).needed = true;
    auto& time = form_.time("act.expires_time", "Expires at", at);
    time.empty = "23:59";
    time.applies = [](const Form& form) {
        return form.chosen("act.expires") >= 1 && form.chosen("act.expires") <= expiry_days;
    };
    auto& thawed = form_.time("act.thawed", "Thawed at", f && f->thawed ? std::optional(f->thawed->at) : std::nullopt);
    thawed.applies = [](const Form& form) {
        const int c = form.chosen("act.component");
        return c == place(Component::plasma) || c == place(Component::cryoprecipitate);
    };
}

// By gravity drops are counted; a pump shows a rate.
void RecordEntry::ask_rate(const Context& context, std::string_view id, std::string_view label,
                           std::optional<Rate> value) {
    const Device& device = context.c.session().state.device;
    if (device.kind == DeviceKind::gravity) {
        const std::int64_t one = drops_per_min(1, device.drops).units_per_s;
        form_.number(id, label, "drops/min", 3, 0, 1, 999, "1 to 999 drops/min",
                     value ? std::optional(value->units_per_s / one) : std::nullopt)
            .needed = true;
        return;
    }
    form_.number(id, label, "mL/h", 4, 1, 1, most_tenths_ml_per_h, "0.1 to 6000 mL/h",
                 value ? std::optional(tenths(*value)) : std::nullopt)
        .needed = true;
}

// The few facts that rebuild a running session; each of the others stays "not recorded".
void RecordEntry::ask_joined(const Context& context) {
    form_.choice("act.component", "Component", names<Component>(component_count)).needed = true;
    form_.number("act.volume", "Volume on the label", "mL", 4, 1, 1, most_tenths_ml, "0.1 to 5000 mL").needed = true;
    form_.code("act.digits", "Last 4 digits of the donation number", 4);
    form_.time("act.issued", "Issued at").needed = true;
    form_.time("act.started", "Started at").empty = "not started yet";
    const auto runs = [](const Form& form) { return form.time("act.started").has_value(); };
    ask_rate(context, "act.rate", "Rate at the start", std::nullopt);
    form_.last().applies = runs;
    ask_rate(context, "act.rate_now", "Rate that runs now", std::nullopt);
    form_.last().applies = runs;
    form_.last().needed = false;
    form_.last().empty = "the same";
    auto& since = form_.time("act.rate_since", "Changed at");
    since.needed = true;
    since.applies = [](const Form& form) {
        return form.time("act.started").has_value() && form.number("act.rate_now").has_value();
    };
    form_.choice("act.risk", "Risk of overload", names<Answer>(3), 0);
    form_.choice("act.can_report", "Can report symptoms", names<Answer>(3), 0);
    form_.number("act.weight", "Weight", "kg", 3, 1, bounds::least_mass.grams / 100, bounds::mass.grams / 100,
                 "0.2 to 500 kg")
        .needed = context.c.session().protocol->children;
}

void RecordEntry::ask(const Context& context, const Event* old) {
    const Session& s = context.c.session();
    form_.clear();
    std::string_view when = "When";
    if (keeps_ && !old) {
        form_.time("act.at", when).empty = "now";
        return;
    }
    switch (kind_) {
    case EventKind::ordered: ask_order(context, old); break;
    case EventKind::recipient_told: ask_person(context, old); break;
    case EventKind::equipment_chosen: ask_equipment(context, old); break;
    case EventKind::item_noted: ask_item(context, old); break;
    case EventKind::issued: ask_issued(context, old), when = "Issued at"; break;
    case EventKind::sample_drawn: when = "Drawn at"; break;
    case EventKind::storage_noted: {
        const auto* f = old_facts<facts::StorageNoted>(old);
        form_.choice("act.change", "What", names<StorageChange>(3), f ? place(f->change) : -1).needed = true;
        break;
    }
    case EventKind::bag_temperature: {
        const auto* f = old_facts<facts::BagTemperature>(old);
        form_.number("act.temperature", "Temperature of the bag", "degrees C", 2, 1, 0, 450, "0 to 45 degrees C",
                     f ? std::optional<std::int64_t>(f->tenths_c) : std::nullopt)
            .needed = true;
        break;
    }
    case EventKind::primed: ask_set(context, old_facts<facts::PrimedWith>(old)); break;
    case EventKind::set_changed: {
        const auto* f = old_facts<facts::SetChanged>(old);
        ask_set(context, f ? &f->set : nullptr);
        break;
    }
    case EventKind::device_total: {
        const auto* f = old_facts<facts::DeviceTotal>(old);
        form_.choice("act.total", "The total was", names<TotalKind>(2), f ? place(f->kind) : 1).needed = true;
        auto& read = form_.number("act.total_ml", "It says", "mL", 4, 1, 0, most_tenths_ml, "0 to 5000 mL",
                                  f && f->kind == TotalKind::read ? std::optional(tenths(f->total)) : std::nullopt);
        read.needed = true;
        read.applies = [](const Form& form) { return form.chosen("act.total") == 1; };
        break;
    }
    case EventKind::started:
    case EventKind::rate_set: {
        const auto* f = old_facts<facts::RateSet>(old);
        // At the start nothing is proposed: the rate is read off the device (hazard 6).
        const bool proposed = kind_ == EventKind::rate_set && about_.rate > Rate{};
        ask_rate(context, "act.rate", "The rate that runs",
                 f ? std::optional(f->rate) : proposed ? std::optional(about_.rate) : std::nullopt);
        break;
    }
    case EventKind::ceiling_lowered: {
        const auto* f = old_facts<facts::CeilingLowered>(old);
        ask_rate(context, "act.rate", "At most, from now on",
                 f ? std::optional(f->most) : about_.rate > Rate{} ? std::optional(about_.rate) : std::nullopt);
        break;
    }
    case EventKind::restarted: {
        const auto* f = old_facts<facts::Restarted>(old);
        ask_rate(context, "act.rate", "The rate that runs", f ? std::optional(f->rate) : std::nullopt);
        form_.choice("act.role", "On the word of", names<Role>(6), f ? place(f->role) : -1).needed = true;
        form_.choice("act.identity", "Band and label, checked again", {"the same", "they differ"},
                     f ? f->identity_agrees ? 0 : 1 : -1)
            .needed = true;
        break;
    }
    case EventKind::action_done: {
        const auto* f = old_facts<facts::ActionTicked>(old);
        form_.choice("act.action", "What", names<ActionKind>(action_kind_count), f ? place(f->action) : -1).needed = true;
        auto& gave = form_.choice("act.agrees", "It gave", {"not recorded", "all agree", "something differs"},
                                  f && f->agrees ? *f->agrees ? 1 : 2 : 0);
        gave.applies = [](const Form& form) { return form.chosen("act.action") == place(ActionKind::identity); };
        break;
    }
    case EventKind::other_fluid: {
        const auto* f = old_facts<facts::OtherFluid>(old);
        form_.number("act.other_ml", "All of it since the start", "mL", 4, 1, 0, most_tenths_ml, "0 to 5000 mL",
                     f ? std::optional(tenths(f->total)) : std::nullopt)
            .needed = true;
        break;
    }
    case EventKind::rule_set_chosen: {
        const auto* f = old_facts<facts::RuleSetChosen>(old);
        std::vector<std::string> titles;
        int at = -1;
        for (const RuleSet& set : s.protocol->observations.rule_sets) {
            if (set.id == (f ? std::string_view(f->rule_set) : std::string_view(rules_now(s).rules() ? rules_now(s).rules()->id : "")))
                at = static_cast<int>(titles.size());
            titles.push_back(set.title);
        }
        form_.choice("act.rule_set", "Rules for a change", std::move(titles), at).needed = true;
        break;
    }
    case EventKind::paused: {
        const auto* f = old_facts<facts::Paused>(old);
        form_.choice("act.reason", "Why", names<PauseReason>(7), f ? place(f->reason) : -1).needed = true;
        break;
    }
    case EventKind::resumed: {
        const auto* f = old_facts<facts::Resumed>(old);
        const bool decided = f && f->decided_by;
        if (decided || (s.phase == Phase::paused && s.pause_reason == PauseReason::symptoms))
            form_.choice("act.role", "Who decides that it goes on", names<Role>(6), decided ? place(*f->decided_by) : -1).needed = true;
        break;
    }
    case EventKind::handed_over:
    case EventKind::taken_over: {
        const auto* f = old_facts<facts::HandedOver>(old);
        form_.choice("act.role", kind_ == EventKind::handed_over ? "To" : "By", names<Role>(6),
                     f ? place(f->role) : -1)
            .needed = true;
        break;
    }
    case EventKind::moved: {
        const auto* f = old_facts<facts::Moved>(old);
        form_.choice("act.place", "To", names<Place>(6), f ? place(f->place) : -1).needed = true;
        break;
    }
    case EventKind::consent_withdrawn: {
        const auto* f = old_facts<facts::ConsentWithdrawn>(old);
        form_.choice("act.reason", "Why, if it was said", names<RefusalReason>(5), f ? place(f->reason) : -1).needed = true;
        break;
    }
    case EventKind::stopped: {
        const auto* f = old_facts<facts::Stopped>(old);
        form_.choice("act.reason", "Why", names<StopReason>(7), f ? place(f->reason) : -1).needed = true;
        break;
    }
    case EventKind::returned: {
        const auto* f = old_facts<facts::Returned>(old);
        form_.choice("act.to", "Where to", names<ReturnTo>(2), f ? place(f->to) : s.state.times.spiked ? 1 : -1).needed =
            true;
        form_.choice("act.reason", "Why", names<ReturnReason>(10), f ? place(f->reason) : -1).needed = true;
        break;
    }
    case EventKind::discarded: {
        const auto* f = old_facts<facts::Discarded>(old);
        form_.choice("act.reason", "Why", names<ReturnReason>(10), f ? place(f->reason) : -1).needed = true;
        break;
    }
    case EventKind::protocol_changed: {
        std::vector<std::string> titles;
        for (const Protocol& p : context.protocols)
            titles.push_back(p.title);
        form_.choice("act.protocol", "Rules", std::move(titles)).needed = true;
        break;
    }
    case EventKind::linked: {
        std::vector<std::string> objects;
        for (const SpokenObject o : context.others)
            objects.emplace_back(name(o));
        form_.choice("act.other", "The other session", std::move(objects)).needed = true;
        break;
    }
    case EventKind::joined:
        ask_joined(context);
        return;
    case EventKind::opened:
    case EventKind::clock_set:
    case EventKind::requested:
    case EventKind::received:
    case EventKind::match_noted:
    case EventKind::groups_judged:
    case EventKind::spiked:
    case EventKind::connected:
    case EventKind::observed:
    case EventKind::reaction_suspected:
    case EventKind::bag_empty:
    case EventKind::clearing_begun:
    case EventKind::all_in:
    case EventKind::bag_kept:
    case EventKind::charted:
    case EventKind::withdrawn: break;
    }
    form_.time("act.at", when, old ? std::optional(old->at.at) : std::nullopt).empty = "now";
}

} // namespace hangtime::screens
