#include "web/screens/plan_entries.hpp"

/// How what was typed becomes part of a State: numbers inside the readers' bounds, times on the nearest day.

namespace hangtime::screens {

void Entries::type(Field field, const ui::Digits& digits) {
    refused_field_ = field;
    refused_.clear();
    if (words_of(field).kind == EntryKind::number) {
        type_number(field, digits.number());
        return;
    }
    if (field == Field::expires_time) {
        type_expiry(digits);
        return;
    }
    std::optional<Stated> when;
    if (const std::optional<int> minutes = digits.time()) {
        // A start belongs to its issue, an issue to now; the nearest one is meant. What is thawed is placed by
        // the issue too, if there is one.
        Instant near = now_;
        if (field != Field::issued && state_.times.issued)
            near = state_.times.issued->at;
        when = place_time(*minutes, near);
    } else if (!digits.text.empty()) {
        refused_ = "four digits, as 09:05";
    }
    type_time(field, when);
}

// The day was chosen; a time that was cleared is the end of it.
void Entries::type_expiry(const ui::Digits& digits) {
    state_.unit.expires.reset();
    if (!digits.text.empty() && !digits.time()) {
        refused_ = "four digits, as 23:59";
        return;
    }
    const int minutes_of_day = digits.time().value_or(24 * 60 - 1);
    LocalTime local = civil_from_seconds(expiry_day_ * 86400);
    local.hour = minutes_of_day / 60;
    local.minute = minutes_of_day % 60;
    const WallClock::Resolved found = wall_.resolve(local);
    if (found.first) // the earlier one of two: nothing is used longer than its label may mean
        state_.unit.expires = Stated{*found.first, Precision::minute};
    else
        refused_ = "the clock does not show this time";
}

std::optional<Stated> Entries::place_time(int minutes_of_day, Instant near) {
    std::optional<Instant> best;
    for (int day = -1; day <= 1; ++day) {
        const WallClock::Resolved found = wall_.resolve([&] {
            LocalTime t = civil_from_seconds((wall_.local_day(near) + day) * 86400);
            t.hour = minutes_of_day / 60;
            t.minute = minutes_of_day % 60;
            return t;
        }());
        for (const std::optional<Instant>& at : {found.first, found.second}) {
            if (!at)
                continue;
            const auto away = [near](Instant t) { return t < near ? near - t : t - near; };
            if (!best || away(*at) < away(*best))
                best = at;
        }
    }
    if (!best) {
        refused_ = "the clock does not show this time";
        return std::nullopt;
    }
    return Stated{*best, Precision::minute};
}

std::optional<Entries::Twice> Entries::twice(Field field) const {
    const std::optional<Stated> when = time(field == Field::expires ? Field::expires_time : field);
    if (!when)
        return std::nullopt;
    const WallClock::Resolved found = wall_.resolve(wall_.local(when->at));
    if (!found.first || !found.second)
        return std::nullopt;
    return Twice{{*found.first, *found.second}, when->at == *found.second ? 1 : 0};
}

void Entries::type_time(Field field, std::optional<Stated> when) {
    State& s = state_;
    switch (field) {
    case Field::issued:
        s.times.issued = when;
        break;
    case Field::start:
        s.times.start.reset();
        if (when)
            s.times.start = Start{*when, false};
        break;
    case Field::left_storage:
        s.times.left_storage = when;
        break;
    case Field::thawed:
        s.times.thawed = when;
        break;
    case Field::spiked:
        s.times.spiked = when;
        break;
    case Field::expires_time:
        s.unit.expires = when;
        break;
    default:
        break;
    }
}

void Entries::type_number(Field field, std::optional<std::int64_t> value) {
    State& s = state_;
    // The bounds are those of the readers of files (core/quantity.hpp); what lies outside is not taken over.
    const auto within = [&](std::int64_t least, std::int64_t most, std::string_view said) -> bool {
        if (!value)
            return false;
        if (*value >= least && *value <= most)
            return true;
        refused_ = said;
        return false;
    };
    const auto volume_within = [&](std::string_view said) {
        return within(1, bounds::volume.units / units_per_ml * 10, said);
    };
    const auto rate_within = [&] {
        return within(1, bounds::rate.units_per_s / units_per_s_of_ml_per_h * 10, "0.1 to 6000 mL/h");
    };
    switch (field) {
    case Field::volume:
        s.unit.bag.reset();
        if (volume_within("0.1 to 5000 mL"))
            s.unit.bag = tenths_of_ml(*value);
        break;
    case Field::weight:
        s.recipient.weight = {};
        if (within(bounds::least_mass.grams / 100, bounds::mass.grams / 100, "0.2 to 500 kg"))
            s.recipient.weight = {*value * 100};
        break;
    case Field::duration:
        s.order.duration = {};
        if (within(1, bounds::span.count / 60, "1 to 7200 min"))
            s.order.duration = minutes(*value);
        else if (s.order.pace == Order::Pace::within || s.order.pace == Order::Pace::at_least)
            s.order.pace = Order::Pace::usual;
        break;
    case Field::rate:
        s.order.rate = {};
        s.order.pace = Order::Pace::usual;
        if (rate_within()) {
            s.order.rate = tenths_of_ml_per_h(*value);
            s.order.pace = Order::Pace::at_rate;
        }
        break;
    case Field::dose_ml:
        s.order.dose.reset();
        s.order.dose_per_kg.reset();
        if (volume_within("0.1 to 5000 mL"))
            s.order.dose = tenths_of_ml(*value);
        break;
    case Field::dose_ml_per_kg:
        s.order.dose.reset();
        s.order.dose_per_kg.reset();
        if (within(1, bounds::dose_per_kg.tenths_of_ml, "0.1 to 200 mL/kg"))
            s.order.dose_per_kg = DosePerKg{*value};
        break;
    case Field::most_rate:
        s.order.most.reset();
        if (rate_within())
            s.order.most = tenths_of_ml_per_h(*value);
        break;
    case Field::line_ml:
        s.line.holds = {};
        if (within(0, 2000, "0 to 200 mL"))
            s.line.holds = tenths_of_ml(*value);
        break;
    case Field::lost:
        s.line.lost = {};
        if (within(0, 2000, "0 to 200 mL"))
            s.line.lost = tenths_of_ml(*value);
        break;
    default:
        break;
    }
}

} // namespace hangtime::screens
