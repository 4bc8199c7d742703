#include "core/match/expiry.hpp"
#include "core/words/words.hpp"
#include "web/screens/record_entry.hpp"

#include <algorithm>
#include <array>

/// What was entered, as the facts of a record.

namespace hangtime::screens {
namespace {

constexpr std::array<std::int32_t, 6> gauges = {0, 16, 18, 20, 22, 24};
constexpr std::array<std::int32_t, 4> drop_factors = {10, 15, 20, 60};
constexpr std::array<std::int64_t, 3> step_tenths = {1, 10, 50};
constexpr int expiry_days = 7;

template <class E> E chosen(const Form& form, std::string_view id) {
    return static_cast<E>(std::max(0, form.chosen(id)));
}
Volume tenths_entered(const Form& form, std::string_view id) { return tenths_of_ml(form.number(id).value_or(0)); }

std::size_t at_most(int chosen, std::size_t count) {
    return std::min(static_cast<std::size_t>(std::max(0, chosen)), count - 1);
}

} // namespace

facts::Ordered RecordEntry::ordered() const {
    facts::Ordered f;
    f.component = chosen<Component>(form_, "act.component");
    if (const auto dose = form_.number("act.dose_ml"))
        f.order.dose = tenths_of_ml(*dose);
    if (const auto dose = form_.number("act.dose_ml_per_kg"))
        f.order.dose_per_kg = DosePerKg{*dose};
    f.order.pace = static_cast<Order::Pace>(std::max(0, form_.chosen("act.pace")));
    f.order.duration = minutes(form_.number("act.duration").value_or(0));
    f.order.rate = tenths_of_ml_per_h(form_.number("act.ordered_rate").value_or(0));
    if (const auto most = form_.number("act.most_rate"))
        f.order.most = tenths_of_ml_per_h(*most);
    if (const auto usual = form_.number("act.expected"))
        f.expected = tenths_of_ml(*usual);
    return f;
}

facts::PrimedWith RecordEntry::set() const {
    facts::PrimedWith f;
    f.with = chosen<Primed>(form_, "act.with");
    f.lost = tenths_entered(form_, "act.lost");
    f.holds = tenths_entered(form_, "act.line_ml");
    return f;
}

facts::Issued RecordEntry::issued(const Context& context) const {
    facts::Issued f;
    f.component = chosen<Component>(form_, "act.component");
    f.bag = tenths_entered(form_, "act.volume");
    const std::string_view digits = form_.code("act.digits");
    if (digits.size() == 4) {
        f.digits.emplace();
        std::copy(digits.begin(), digits.end(), f.digits->begin());
    }
    const int day = form_.chosen("act.expires");
    f.expires_far = day == expiry_days + 1;
    if (day == expiry_days + 2) {
        // Of a day that is over the last minute of yesterday is enough to close it, where no label said more.
        LocalTime local = civil_from_seconds((context.wall.local_day(context.now) - 1) * 86400);
        local.hour = 23, local.minute = 59;
        const auto found = context.wall.resolve(local).first;
        f.expires = Stated{label_expired_ ? *label_expired_ : found.value_or(context.now), Precision::minute};
    }
    if (day >= 1 && day <= expiry_days) {
        // A label that states no time: to the end of that day (ISBT 128, data structure 004).
        LocalTime local = civil_from_seconds((context.wall.local_day(context.now) + day - 1) * 86400);
        local.hour = 23, local.minute = 59;
        if (const auto at = form_.time("act.expires_time")) {
            const LocalTime typed = context.wall.local(*at);
            local.hour = typed.hour, local.minute = typed.minute;
        }
        // The earlier one of two: nothing is used longer than its label may mean.
        if (const auto found = context.wall.resolve(local).first)
            f.expires = Stated{*found, Precision::minute};
    }
    if (const auto thawed = form_.time("act.thawed"))
        f.thawed = Stated{*thawed, Precision::minute};
    return f;
}

void RecordEntry::scanned(const LabelData* label, std::string_view said, const Context& context) {
    scan_said_ = said;
    if (!label)
        return;
    refused_.clear();
    if (label->number)
        form_.put("act.digits", label->number->view().substr(label->number->view().size() - 4));
    if (label->volume)
        form_.put("act.volume", dose_number(label->volume->units / tenths_of_ml(1).units, 10, 1));
    if (!label->expiry)
        return;
    // A label without a time: to the end of that day, which stands as its last minute.
    const LabelTime& t = *label->expiry;
    const std::int64_t away = days_from_civil(t.at.year, t.at.month, t.at.day) - context.wall.local_day(context.now);
    const bool passed = away < 0;
    form_.choose("act.expires", passed ? expiry_days + 2
                                : away < expiry_days ? static_cast<int>(away) + 1
                                                     : expiry_days + 1);
    label_expired_.reset();
    if (passed)
        label_expired_ = expires_at(t, context.wall);
    const char digits[4] = {static_cast<char>('0' + t.at.hour / 10), static_cast<char>('0' + t.at.hour % 10),
                            static_cast<char>('0' + t.at.minute / 10), static_cast<char>('0' + t.at.minute % 10)};
    form_.put("act.expires_time", {digits, 4});
}

Rate RecordEntry::rate(const Context& context, std::string_view id) const {
    const Device& device = context.c.session().state.device;
    const std::int64_t n = form_.number(id).value_or(0);
    return device.kind == DeviceKind::gravity ? drops_per_min(n, device.drops) : tenths_of_ml_per_h(n);
}

Facts RecordEntry::facts(const Context& context) const {
    const Session& s = context.c.session();
    const auto filled = [&] {
        facts::PrimedWith f = set();
        const auto line = static_cast<std::size_t>(std::max(0, form_.chosen("act.line")));
        if (line < s.protocol->lines.size())
            f.holds = s.protocol->lines[line].holds;
        return f;
    };
    switch (kind_) {
    case EventKind::ordered: return ordered();
    case EventKind::recipient_told: {
        Recipient r = s.state.recipient;
        r.weight = {form_.number("act.weight").value_or(0) * 100};
        r.weight_estimated = r.weight.grams > 0 && form_.chosen("act.weight_is") == 1;
        r.overload_risk = chosen<Answer>(form_, "act.risk");
        r.can_report = chosen<Answer>(form_, "act.can_report");
        r.gauge = gauges[at_most(form_.chosen("act.gauge"), gauges.size())];
        return facts::RecipientTold{r};
    }
    case EventKind::equipment_chosen: {
        facts::EquipmentChosen f{s.state.device, s.state.line};
        f.device.kind = chosen<DeviceKind>(form_, "act.device");
        f.device.step = tenths_of_ml_per_h(step_tenths[at_most(form_.chosen("act.step"), step_tenths.size())]);
        f.device.drops = {drop_factors[at_most(form_.chosen("act.drops"), drop_factors.size())]};
        if (form_.has("act.with")) {
            const facts::PrimedWith line = filled();
            f.line.primed_with = line.with, f.line.holds = line.holds, f.line.lost = line.lost;
        }
        if (form_.has("act.cleared"))
            f.line.cleared = form_.chosen("act.cleared") == 0;
        return f;
    }
    case EventKind::item_noted: {
        facts::ItemNoted f;
        f.item = about_.item;
        f.count = static_cast<std::int32_t>(form_.number("act.units").value_or(0));
        const int how = form_.count("act.how") == 1 ? 2 : form_.chosen("act.how");
        f.how = how == 2 ? ItemHow::waived : how == 1 ? ItemHow::not_needed : ItemHow::confirmed;
        if (f.how == ItemHow::waived) {
            f.reason = chosen<WaiverReason>(form_, "act.reason");
            f.role = chosen<Role>(form_, "act.role");
            f.emergency = only_in_emergency(f.item);
        }
        if (f.item == Item::second_checker && f.how == ItemHow::confirmed && form_.chosen("act.checker") >= 0)
            f.checker = chosen<Role>(form_, "act.checker");
        return f;
    }
    case EventKind::issued: return issued(context);
    case EventKind::storage_noted: return facts::StorageNoted{chosen<StorageChange>(form_, "act.change")};
    case EventKind::bag_temperature:
        return facts::BagTemperature{static_cast<std::int32_t>(form_.number("act.temperature").value_or(0))};
    case EventKind::primed: return filled();
    case EventKind::set_changed: return facts::SetChanged{filled()};
    case EventKind::device_total:
        return facts::DeviceTotal{chosen<TotalKind>(form_, "act.total"), tenths_entered(form_, "act.total_ml")};
    case EventKind::started:
    case EventKind::rate_set: {
        facts::RateSet f{rate(context, "act.rate"), form_.chosen("act.happened") == 1, {}};
        if (form_.chosen("act.waived_by") >= 0)
            f.waived_by = chosen<Role>(form_, "act.waived_by");
        return f;
    }
    case EventKind::ceiling_lowered: return facts::CeilingLowered{rate(context, "act.rate")};
    case EventKind::restarted:
        return facts::Restarted{rate(context, "act.rate"), chosen<Role>(form_, "act.role"),
                                form_.chosen("act.identity") == 0};
    case EventKind::action_done: {
        facts::ActionTicked f{chosen<ActionKind>(form_, "act.action"), {}};
        if (form_.chosen("act.agrees") > 0)
            f.agrees = form_.chosen("act.agrees") == 1;
        return f;
    }
    case EventKind::other_fluid: return facts::OtherFluid{tenths_entered(form_, "act.other_ml")};
    case EventKind::rule_set_chosen: {
        const auto& sets = s.protocol->observations.rule_sets;
        if (sets.empty())
            return facts::RuleSetChosen{}; // refused: there is none of that name
        return facts::RuleSetChosen{sets[at_most(form_.chosen("act.rule_set"), sets.size())].id};
    }
    case EventKind::resumed: {
        facts::Resumed f;
        if (form_.chosen("act.role") >= 0)
            f.decided_by = chosen<Role>(form_, "act.role");
        return f;
    }
    case EventKind::paused: return facts::Paused{chosen<PauseReason>(form_, "act.reason")};
    case EventKind::observed: return facts::Observed{about_.check, about_.index, about_.extra, {}};
    case EventKind::handed_over:
    case EventKind::taken_over: return facts::HandedOver{chosen<Role>(form_, "act.role")};
    case EventKind::moved: return facts::Moved{chosen<Place>(form_, "act.place")};
    case EventKind::consent_withdrawn: return facts::ConsentWithdrawn{chosen<RefusalReason>(form_, "act.reason")};
    case EventKind::stopped: return facts::Stopped{chosen<StopReason>(form_, "act.reason")};
    case EventKind::returned:
        return facts::Returned{chosen<ReturnTo>(form_, "act.to"), chosen<ReturnReason>(form_, "act.reason")};
    case EventKind::discarded: return facts::Discarded{chosen<ReturnReason>(form_, "act.reason")};
    case EventKind::protocol_changed: {
        const std::size_t n = at_most(form_.chosen("act.protocol"), context.protocols.size());
        return facts::ProtocolChanged{{std::make_shared<Protocol>(context.protocols[n])}};
    }
    case EventKind::linked:
        if (context.others.empty())
            return facts::Linked{s.object}; // refused: that is this session
        return facts::Linked{context.others[at_most(form_.chosen("act.other"), context.others.size())]};
    case EventKind::opened:
    case EventKind::clock_set:
    case EventKind::joined:
    case EventKind::sample_drawn:
    case EventKind::requested:
    case EventKind::received:
    case EventKind::match_noted:
    case EventKind::groups_judged:
    case EventKind::spiked:
    case EventKind::connected:
    case EventKind::reaction_suspected:
    case EventKind::bag_empty:
    case EventKind::clearing_begun:
    case EventKind::all_in:
    case EventKind::bag_kept:
    case EventKind::charted:
    case EventKind::withdrawn: break;
    }
    return kept_;
}

std::vector<RecordEntry::Wish> RecordEntry::wishes(const Context& context) const {
    std::vector<Wish> out;
    if (kind_ == EventKind::joined) {
        wish_joined(context, out);
        return out;
    }
    Wish w{kind_, kept_, {context.now, Precision::second}, {}};
    if (!keeps_)
        w.facts = facts(context);
    if (const auto at = form_.time("act.at"))
        w.at = {*at, Precision::minute};
    if (replaces_ > 0)
        w.replaces = {replaces_};
    out.push_back(std::move(w));
    return out;
}

void RecordEntry::wish_joined(const Context& context, std::vector<Wish>& out) const {
    const Stated issue{form_.time("act.issued").value_or(context.now), Precision::minute};
    facts::Ordered order;
    order.component = chosen<Component>(form_, "act.component");
    out.push_back({EventKind::ordered, order, issue, {}});
    facts::RecipientTold person;
    person.recipient.weight = {form_.number("act.weight").value_or(0) * 100};
    person.recipient.overload_risk = chosen<Answer>(form_, "act.risk");
    person.recipient.can_report = chosen<Answer>(form_, "act.can_report");
    out.push_back({EventKind::recipient_told, person, issue, {}});
    out.push_back({EventKind::issued, issued(context), issue, {}});
    const auto started = form_.time("act.started");
    if (!started)
        return;
    out.push_back(
        {EventKind::started, facts::RateSet{rate(context, "act.rate"), true, {}}, {*started, Precision::minute}, {}});
    if (const auto since = form_.time("act.rate_since"); since && form_.number("act.rate_now"))
        out.push_back(
            {EventKind::rate_set, facts::RateSet{rate(context, "act.rate_now"), true, {}}, {*since, Precision::minute}, {}});
}

} // namespace hangtime::screens
