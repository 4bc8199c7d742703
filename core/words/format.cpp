#include "core/words/format.hpp"

namespace hangtime {

namespace {

constexpr std::int64_t power_of_ten(int places) {
    std::int64_t power = 1;
    for (int i = 0; i < places; ++i) power *= 10;
    return power;
}

void append_whole(std::string& out, std::int64_t n) {
    char digits[20];
    int count = 0;
    do {
        digits[count++] = static_cast<char>('0' + n % 10);
        n /= 10;
    } while (n > 0);
    while (count > 0) out += digits[--count];
}

void append_two(std::string& out, std::int64_t n) {
    out += static_cast<char>('0' + n / 10 % 10);
    out += static_cast<char>('0' + n % 10);
}

// `scaled` is a value times 10^places, not negative.
void append_decimals(std::string& out, std::int64_t scaled, int places, bool keep_zeros) {
    const std::int64_t power = power_of_ten(places);
    append_whole(out, scaled / power);
    std::int64_t rest = scaled % power;
    if (!keep_zeros) {
        while (places > 0 && rest % 10 == 0) {
            rest /= 10;
            --places;
        }
    }
    if (places == 0) return;
    out += '.';
    for (std::int64_t digit = power_of_ten(places - 1); digit > 0; digit /= 10)
        out += static_cast<char>('0' + rest / digit % 10);
}

constexpr std::int64_t per_hour = units_per_s_of_ml_per_h;

std::string with_unit(std::string number, std::string_view unit) {
    number += ' ';
    number += unit;
    return number;
}

}  // namespace

std::string joined(std::initializer_list<std::string_view> parts) {
    std::string out;
    for (const std::string_view part : parts) out += part;
    return out;
}

std::string lower_first(std::string_view text) {
    std::string out(text);
    if (!out.empty() && out[0] >= 'A' && out[0] <= 'Z') out[0] = static_cast<char>(out[0] - 'A' + 'a');
    return out;
}

std::string dose_number(Wide num, std::int64_t den, int places, Rounding rounding) {
    const bool negative = num < 0;
    const Wide scaled = (negative ? -num : num) * power_of_ten(places);
    // Away from zero is up for a positive and down for a negative value.
    const bool away = rounding == (negative ? Rounding::down : Rounding::up);
    const std::int64_t whole = rounding == Rounding::nearest ? floor_div(2 * scaled + den, 2 * den)
                               : away                        ? ceil_div(scaled, den)
                                                             : floor_div(scaled, den);
    std::string out;
    if (negative && whole > 0) out += '-';
    append_decimals(out, whole, places, false);
    return out;
}

std::string measured_number(std::int64_t tenths) {
    std::string out;
    if (tenths < 0) out += '-';
    append_decimals(out, tenths < 0 ? -tenths : tenths, 1, true);
    return out;
}

std::string volume_text(Volume v, Rounding rounding) {
    const bool small = v < ml(10) && v > ml(-10);
    return with_unit(dose_number(v.units, units_per_ml, small ? 2 : 1, rounding), "mL");
}

std::string exact_volume_text(Volume v) { return with_unit(dose_number(v.units, units_per_ml, 2), "mL"); }

std::string rate_text(Rate r) { return with_unit(dose_number(r.units_per_s, per_hour, 2), "mL/h"); }

std::string ratio_text(RateRatio r, Rounding rounding) {
    return with_unit(dose_number(r.num, r.den * per_hour, 2, rounding), "mL/h");
}

std::string mass_text(Mass m) {
    if (m.grams == 0) return std::string(not_recorded_text);
    return with_unit(dose_number(m.grams, 1000, 3), "kg");
}

std::string rate_per_kg_text(RatePerKg r) {
    return with_unit(dose_number(r.units_per_s, per_hour, 2), "mL/kg/h");
}
std::string dose_per_kg_text(DosePerKg d) { return with_unit(dose_number(d.tenths_of_ml, 10, 1), "mL/kg"); }
std::string drop_factor_text(DropFactor f) { return with_unit(dose_number(f.per_ml, 1, 0), "drops/mL"); }
std::string drops_text(std::int64_t per_min) {
    return with_unit(dose_number(per_min, 1, 0), per_min == 1 ? "drop/min" : "drops/min");
}
std::string percent_text(std::int64_t tenths) { return with_unit(dose_number(tenths, 10, 1), "%"); }

std::string span_text(Seconds s) {
    const std::int64_t all = s.count < 0 ? -s.count : s.count;
    std::string out;
    const auto part = [&out](std::int64_t n, std::string_view unit) {
        if (n == 0) return;
        if (!out.empty()) out += ' ';
        append_whole(out, n);
        out += ' ';
        out += unit;
    };
    part(all / 3600, "h");
    part(all / 60 % 60, "min");
    part(all % 60, "s");
    if (out.empty()) out = "0 min";
    return out;
}

std::string minutes_left_text(Seconds s) { return span_text({floor_div(s.count, 60) * 60}); }

std::string elapsed_text(Seconds s) {
    const std::int64_t all = s.count < 0 ? -s.count : s.count;
    std::string out(1, s.count < 0 ? '-' : '+');
    append_whole(out, all / 3600);
    out += ':';
    append_two(out, all / 60 % 60);
    if (all % 60 != 0) {
        out += ':';
        append_two(out, all % 60);
    }
    return out;
}

DayClock::DayClock(const WallClock& clock, Instant first)
    : wall(clock), first_day(clock.local_day(first)), offset(clock.offset_at(first)) {}

std::string utc_offset_text(Seconds offset) {
    std::string out = "UTC";
    const std::int64_t all = (offset.count < 0 ? -offset.count : offset.count) / 60;
    if (all == 0) return out;
    out += offset.count < 0 ? '-' : '+';
    append_whole(out, all / 60);
    if (all % 60 != 0) {
        out += ':';
        append_two(out, all % 60);
    }
    return out;
}

std::string clock_text(Instant at, const DayClock& day) {
    const LocalTime t = day.wall.local(at);
    std::string out;
    append_two(out, t.hour);
    out += ':';
    append_two(out, t.minute);
    if (t.second != 0) {
        out += ':';
        append_two(out, t.second);
    }
    const Seconds offset = day.wall.offset_at(at);
    if (day.wall.change_count() > 0 && (offset != day.offset || day.wall.resolve(t).second)) {
        out += ' ';
        out += utc_offset_text(offset);
    }
    const std::int64_t days = day.wall.local_day(at) - day.first_day;
    if (days != 0) {
        out += days < 0 ? " day -" : " day +";
        append_whole(out, days < 0 ? -days : days);
    }
    return out;
}

std::string minute_text(Instant at, const DayClock& day) {
    return clock_text({floor_div(at.utc, 60) * 60}, day);
}

std::string figure_text(const Figure& figure, const DayClock& day) {
    switch (figure.kind) {
        case FigureKind::none: return std::string(not_recorded_text);
        case FigureKind::volume: return exact_volume_text({figure.a});
        case FigureKind::rate: return rate_text({figure.a});
        case FigureKind::ratio: return ratio_text({figure.a, figure.b});
        case FigureKind::span: return span_text({figure.a});
        case FigureKind::instant: return clock_text({figure.a}, day);
        case FigureKind::mass: return mass_text({figure.a});
        case FigureKind::rate_per_kg: return rate_per_kg_text({figure.a});
        case FigureKind::dose_per_kg: return dose_per_kg_text({figure.a});
        case FigureKind::drop_factor: return drop_factor_text({static_cast<std::int32_t>(figure.a)});
        case FigureKind::count: return dose_number(figure.a, 1, 0);
        case FigureKind::percent_tenths: return percent_text(figure.a);
        case FigureKind::tenths_c: return measured_number(figure.a) + " \xC2\xB0" "C";
        case FigureKind::tenths_f: return measured_number(figure.a) + " \xC2\xB0" "F";
        case FigureKind::mmhg: return dose_number(figure.a, 1, 0) + " mmHg";
        case FigureKind::per_min: return dose_number(figure.a, 1, 0) + " /min";
        case FigureKind::percent: return percent_text(figure.a * 10);
    }
    return {};
}

}  // namespace hangtime
