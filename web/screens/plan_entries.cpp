#include "web/screens/plan_entries.hpp"

#include "core/words/words.hpp"

namespace hangtime::screens {
namespace {

constexpr FieldWords table[] = {
    {Field::none, "", "", "", EntryKind::choice},
    {Field::component, "unit.component", "Component", "", EntryKind::choice},
    {Field::volume, "unit.volume", "Volume on the label", "mL", EntryKind::number, 4, 1},
    {Field::issued, "unit.issued", "Issued at", "", EntryKind::time},
    {Field::start, "unit.start", "Start at", "", EntryKind::time},
    {Field::protocol, "protocol", "Rules", "", EntryKind::choice},
    {Field::weight, "person.weight", "Weight", "kg", EntryKind::number, 3, 1},
    {Field::estimated, "person.weight_estimated", "The weight was", "", EntryKind::choice},
    {Field::pace, "order.pace", "How fast", "", EntryKind::choice},
    {Field::duration, "order.duration", "Duration", "min", EntryKind::number, 4, 0},
    {Field::rate, "order.rate", "Ordered rate", "mL/h", EntryKind::number, 4, 1},
    {Field::counts_from, "order.counts_from", "Duration counts", "", EntryKind::choice},
    {Field::dose, "order.dose", "Dose", "", EntryKind::choice},
    {Field::dose_ml, "order.dose_ml", "Dose", "mL", EntryKind::number, 4, 1},
    {Field::dose_ml_per_kg, "order.dose_ml_per_kg", "Dose", "mL/kg", EntryKind::number, 3, 1},
    {Field::most_rate, "order.most_rate", "Highest rate ordered", "mL/h", EntryKind::number, 4, 1},
    {Field::risk, "person.overload_risk", "Risk of overload", "", EntryKind::choice},
    {Field::report, "person.can_report", "Can report symptoms", "", EntryKind::choice},
    {Field::gauge, "person.gauge", "Cannula", "", EntryKind::choice},
    {Field::device, "device.kind", "Pump or gravity", "", EntryKind::choice},
    {Field::step, "device.step", "Pump goes in steps of", "", EntryKind::choice},
    {Field::drops, "device.drops", "Drop factor of the set", "", EntryKind::choice},
    {Field::line, "line.holds", "The line holds", "", EntryKind::choice},
    {Field::line_ml, "line.holds_ml", "The line holds", "mL", EntryKind::number, 3, 1},
    {Field::primed, "line.primed", "Line primed with", "", EntryKind::choice},
    {Field::cleared, "line.cleared", "Line cleared at the end", "", EntryKind::choice},
    {Field::lost, "line.lost", "Lost in priming", "mL", EntryKind::number, 3, 1},
    {Field::left_storage, "unit.left_storage", "Left controlled storage", "", EntryKind::time},
    {Field::thawed, "unit.thawed", "Thawed at", "", EntryKind::time},
    {Field::spiked, "unit.spiked", "Spiked at", "", EntryKind::time},
    {Field::expires, "unit.expires", "Expires", "", EntryKind::choice},
    {Field::expires_time, "unit.expires_time", "Expires at", "", EntryKind::time},
};

constexpr int expiry_days = 7; // named one by one: platelets last about as long. What is further away is no limit

constexpr std::int32_t gauges[] = {0, 16, 18, 20, 22, 24};
constexpr std::int32_t drop_factors[] = {10, 15, 20, 60};
constexpr std::int64_t tenths_of_steps[] = {1, 10, 50};

std::string number(std::int64_t tenths) {
    return dose_number(tenths, 10, 1);
}
std::string number(Volume v) {
    return dose_number(v.units, units_per_ml, 2);
}
std::string number(Rate r) {
    return dose_number(r.units_per_s, units_per_s_of_ml_per_h, 2);
}

// A moment on the n-th day from that of `now`, whatever the clock does in between.
Instant noon_after(const WallClock& wall, Instant now, int n) {
    LocalTime t = civil_from_seconds((wall.local_day(now) + n) * 86400);
    t.hour = 12;
    return wall.resolve(t).first.value_or(now + hours(24 * n));
}

Entries::Choice pick(std::string_view label, bool chosen) {
    return {std::string(label), chosen, false};
}

} // namespace

const FieldWords& words_of(Field field) {
    return table[static_cast<std::size_t>(field)];
}

Entries::Entries(const std::vector<Protocol>& protocols) : protocols_(&protocols) {
    // A ward's own rules first, then those for adults; never a rule for children without being chosen.
    const auto rank = [](const Protocol& p) { return (p.adopted ? 2 : 0) + (p.children ? 0 : 1); };
    for (std::size_t i = 1; i < protocols.size(); ++i)
        if (rank(protocols[i]) > rank(protocols[protocol_]))
            protocol_ = i;
    state_ = new_state(protocol());
}

const std::string& Entries::refusal(Field field) const {
    static const std::string nothing;
    return field == refused_field_ ? refused_ : nothing;
}

std::optional<Stated> Entries::time(Field field) const {
    switch (field) {
    case Field::issued:
        return state_.times.issued;
    case Field::start:
        return state_.times.start ? std::optional(state_.times.start->when) : std::nullopt;
    case Field::left_storage:
        return state_.times.left_storage;
    case Field::thawed:
        return state_.times.thawed;
    case Field::spiked:
        return state_.times.spiked;
    case Field::expires_time:
        return state_.unit.expires;
    default:
        return std::nullopt;
    }
}

std::string Entries::value(Field field, const DayClock& day) const {
    const State& s = state_;
    switch (field) {
    case Field::component:
        return std::string(s.unit.component ? name(*s.unit.component)
                           : not_covered_   ? name(*not_covered_)
                                            : "");
    case Field::volume:
        return s.unit.bag ? number(*s.unit.bag) : "";
    case Field::protocol:
        return protocol().title;
    case Field::weight:
        return s.recipient.weight.grams == 0 ? "" : dose_number(s.recipient.weight.grams, 1000, 3);
    case Field::estimated:
        return s.recipient.weight_estimated ? "estimated" : "measured";
    case Field::pace:
        switch (s.order.pace) {
        case Order::Pace::usual:
            return "usual for these rules";
        case Order::Pace::within:
            return "within " + span_text(s.order.duration);
        case Order::Pace::at_least:
            return "over at least " + span_text(s.order.duration);
        case Order::Pace::at_rate:
            return "at " + rate_text(s.order.rate);
        case Order::Pace::at_rate_per_kg:
            return "at " + rate_per_kg_text(s.order.rate_per_kg);
        }
        return "";
    case Field::duration:
        return s.order.duration.count == 0 ? "" : number(s.order.duration.count / 6);
    case Field::rate:
        return s.order.rate.units_per_s == 0 ? "" : number(s.order.rate);
    case Field::counts_from:
        return std::string(name(s.order.counts_from.value_or(protocol().duration_counts_from.value)));
    case Field::dose:
        if (s.order.dose)
            return volume_text(*s.order.dose);
        if (s.order.dose_per_kg)
            return dose_per_kg_text(*s.order.dose_per_kg);
        return "the whole bag";
    case Field::dose_ml:
        return s.order.dose ? number(*s.order.dose) : "";
    case Field::dose_ml_per_kg:
        return s.order.dose_per_kg ? number(s.order.dose_per_kg->tenths_of_ml) : "";
    case Field::most_rate:
        return s.order.most ? number(*s.order.most) : "";
    case Field::risk:
        return s.recipient.overload_risk == Answer::not_recorded
                   ? ""
                   : std::string(name(s.recipient.overload_risk));
    case Field::report:
        return s.recipient.can_report == Answer::not_recorded ? ""
                                                              : std::string(name(s.recipient.can_report));
    case Field::gauge:
        return s.recipient.gauge == 0 ? "" : number(s.recipient.gauge * 10) + " G";
    case Field::device:
        return std::string(name(s.device.kind));
    case Field::step:
        return rate_text(s.device.step);
    case Field::drops:
        return drop_factor_text(s.device.drops);
    case Field::line:
        return volume_text(s.line.holds);
    case Field::line_ml:
        return number(s.line.holds);
    case Field::primed:
        return std::string(s.line.primed_with == Primed::saline ? "saline" : "component");
    case Field::cleared:
        return s.line.cleared ? "yes, with saline" : "no";
    case Field::lost:
        return s.line.lost.units == 0 ? "" : number(s.line.lost);
    case Field::expires: {
        if (s.unit.expires_far)
            return "a week or more away";
        if (!s.unit.expires)
            return "";
        const std::string clock = clock_text(s.unit.expires->at, day);
        return day_text(s.unit.expires->at) + " " + clock.substr(0, clock.find(" day"));
    }
    default: {
        const std::optional<Stated> when = time(field);
        return when ? clock_text(when->at, day) : "";
    }
    }
}

// "today", "Fri 27 Nov": as it stands on a label, never on paper.
std::string Entries::day_text(Instant at) const {
    static constexpr const char* weekdays[] = {"Thu", "Fri", "Sat", "Sun", "Mon", "Tue", "Wed"};
    static constexpr const char* months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                             "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    const std::int64_t day = wall_.local_day(at), away = day - wall_.local_day(now_);
    if (away == 0)
        return "today";
    if (away == 1)
        return "tomorrow";
    if (away == -1)
        return "yesterday";
    const LocalTime t = wall_.local(at);
    return std::string(weekdays[static_cast<std::size_t>((day % 7 + 7) % 7)]) + " " + dose_number(t.day, 1, 0) + " " +
           months[static_cast<std::size_t>(t.month - 1)];
}

std::string Entries::digits(Field field) const {
    if (words_of(field).kind == EntryKind::time) {
        const std::optional<Stated> when = time(field);
        if (!when)
            return "";
        const LocalTime t = wall_.local(when->at);
        const char text[4] = {static_cast<char>('0' + t.hour / 10), static_cast<char>('0' + t.hour % 10),
                              static_cast<char>('0' + t.minute / 10), static_cast<char>('0' + t.minute % 10)};
        return {text, 4};
    }
    return value(field, DayClock{});
}

bool Entries::applies(Field field) const {
    const State& s = state_;
    switch (field) {
    case Field::estimated:
        return s.recipient.weight.grams != 0;
    case Field::counts_from:
        return s.order.pace == Order::Pace::within || s.order.pace == Order::Pace::at_least;
    case Field::step:
        return s.device.kind == DeviceKind::pump;
    case Field::drops:
        return s.device.kind == DeviceKind::gravity;
    case Field::cleared:
        return protocol().clearing.value == Clearing::optional;
    case Field::lost:
        return s.line.primed_with == Primed::component;
    case Field::thawed:
        return s.unit.component == Component::plasma || s.unit.component == Component::cryoprecipitate;
    default:
        return true;
    }
}

std::vector<Entries::Choice> Entries::choices(Field field) const {
    const State& s = state_;
    std::vector<Choice> out;
    switch (field) {
    case Field::component:
        for (int i = 0; i < component_count; ++i) {
            const auto c = static_cast<Component>(i);
            out.push_back(pick(name(c), s.unit.component == c));
        }
        out.push_back({"Not covered here: follow your procedure", false, true});
        for (int i = 0; i < not_covered_count; ++i) {
            const auto c = static_cast<NotCovered>(i);
            out.push_back(pick(name(c), not_covered_ == c));
        }
        break;
    case Field::protocol:
        for (std::size_t i = 0; i < protocols_->size(); ++i)
            out.push_back(pick((*protocols_)[i].title, i == protocol_));
        break;
    case Field::estimated:
        out = {pick("measured", !s.recipient.weight_estimated),
               pick("estimated", s.recipient.weight_estimated)};
        break;
    case Field::pace:
        out = {pick("usual for these rules", s.order.pace == Order::Pace::usual),
               pick("within ...", s.order.pace == Order::Pace::within),
               pick("over at least ...", s.order.pace == Order::Pace::at_least),
               pick("at a rate of ...", s.order.pace == Order::Pace::at_rate)};
        break;
    case Field::counts_from:
        for (const CountsFrom c : {CountsFrom::start, CountsFrom::rate_change})
            out.push_back(
                pick(name(c), s.order.counts_from.value_or(protocol().duration_counts_from.value) == c));
        break;
    case Field::dose:
        out = {pick("the whole bag", !s.order.dose && !s.order.dose_per_kg),
               pick("... mL", s.order.dose.has_value()), pick("... mL/kg", s.order.dose_per_kg.has_value())};
        break;
    case Field::risk:
    case Field::report:
        for (const Answer a : {Answer::not_recorded, Answer::no, Answer::yes})
            out.push_back(pick(
                name(a), (field == Field::risk ? s.recipient.overload_risk : s.recipient.can_report) == a));
        break;
    case Field::gauge:
        for (const std::int32_t g : gauges)
            out.push_back(pick(g == 0 ? std::string(not_recorded_text) : number(g * 10) + " G",
                               s.recipient.gauge == g));
        break;
    case Field::device:
        for (const DeviceKind k : {DeviceKind::pump, DeviceKind::gravity})
            out.push_back(pick(name(k), s.device.kind == k));
        break;
    case Field::step:
        for (const std::int64_t t : tenths_of_steps)
            out.push_back(pick(rate_text(tenths_of_ml_per_h(t)), s.device.step == tenths_of_ml_per_h(t)));
        break;
    case Field::drops:
        for (const std::int32_t d : drop_factors)
            out.push_back(pick(drop_factor_text({d}), s.device.drops.per_ml == d));
        break;
    case Field::line: {
        bool preset = false;
        for (const LinePreset& p : protocol().lines) {
            preset = preset || p.holds == s.line.holds;
            out.push_back(
                pick(std::string(name(p.kind)) + ", " + volume_text(p.holds), p.holds == s.line.holds));
        }
        out.push_back(pick("another volume ...", !preset));
        break;
    }
    case Field::expires: {
        const std::optional<Stated>& expires = s.unit.expires;
        const std::int64_t day = expires ? wall_.local_day(expires->at) - wall_.local_day(now_) : 0;
        out.push_back(pick(not_recorded_text, !expires && !s.unit.expires_far));
        for (int n = 0; n < expiry_days; ++n)
            out.push_back(pick(day_text(noon_after(wall_, now_, n)), expires && day == n));
        out.push_back(pick("a week or more away", s.unit.expires_far || (expires && day >= expiry_days)));
        out.push_back(pick("before today", expires && day < 0));
        break;
    }
    case Field::primed:
        out = {pick("component", s.line.primed_with == Primed::component),
               pick("saline", s.line.primed_with == Primed::saline)};
        break;
    case Field::cleared:
        out = {pick("yes, with saline", s.line.cleared), pick("no", !s.line.cleared)};
        break;
    default:
        break;
    }
    return out;
}

Field Entries::choose(Field field, int place) {
    State& s = state_;
    const auto n = static_cast<std::size_t>(place);
    switch (field) {
    case Field::component:
        s.unit.component.reset();
        not_covered_.reset();
        if (place < component_count)
            s.unit.component = static_cast<Component>(place);
        else if (place > component_count)
            not_covered_ = static_cast<NotCovered>(place - component_count - 1);
        break;
    case Field::protocol:
        if (n < protocols_->size()) {
            protocol_ = n;
            const State fresh = new_state(protocol()); // the line and the device are the rules' own
            s.line = fresh.line;
            s.device = fresh.device;
            s.order.counts_from.reset();
        }
        break;
    case Field::estimated:
        s.recipient.weight_estimated = place == 1;
        break;
    case Field::pace:
        // Until its number is typed, a pace has no meaning: it stays the usual one.
        if (place == 0)
            s.order.pace = Order::Pace::usual;
        else if (place == 3)
            return Field::rate;
        else {
            s.order.pace = place == 1 ? Order::Pace::within : Order::Pace::at_least;
            if (s.order.duration.count == 0)
                s.order.duration = hours(2);
            return Field::duration;
        }
        break;
    case Field::counts_from:
        s.order.counts_from = place == 0 ? CountsFrom::start : CountsFrom::rate_change;
        break;
    case Field::dose:
        if (place == 1)
            return Field::dose_ml;
        if (place == 2)
            return Field::dose_ml_per_kg;
        s.order.dose.reset();
        s.order.dose_per_kg.reset();
        break;
    case Field::risk:
        s.recipient.overload_risk = static_cast<Answer>(place);
        break;
    case Field::report:
        s.recipient.can_report = static_cast<Answer>(place);
        break;
    case Field::gauge:
        s.recipient.gauge = gauges[n];
        break;
    case Field::device:
        s.device.kind = place == 0 ? DeviceKind::pump : DeviceKind::gravity;
        break;
    case Field::step:
        s.device.step = tenths_of_ml_per_h(tenths_of_steps[n]);
        break;
    case Field::drops:
        s.device.drops = {drop_factors[n]};
        break;
    case Field::line:
        if (n >= protocol().lines.size())
            return Field::line_ml;
        s.line.holds = protocol().lines[n].holds;
        break;
    case Field::expires:
        s.unit.expires.reset();
        s.unit.expires_far = place == expiry_days + 1;
        expiry_day_ = wall_.local_day(now_) + (place == expiry_days + 2 ? -1 : place - 1);
        if (place == 0 || s.unit.expires_far)
            break;
        // A label that states no time: to the end of that day (ISBT 128, data structure 004).
        type_expiry({});
        return place <= expiry_days ? Field::expires_time : Field::none;
    case Field::primed:
        s.line.primed_with = place == 0 ? Primed::component : Primed::saline;
        break;
    case Field::cleared:
        s.line.cleared = place == 0;
        break;
    default:
        break;
    }
    return Field::none;
}

} // namespace hangtime::screens
