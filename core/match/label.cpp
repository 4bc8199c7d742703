#include "core/match/label.hpp"

#include "core/match/label_shapes.hpp"

#include <algorithm>

namespace hangtime {

namespace {

using namespace label_shapes;

// A reader says which symbology it read. Code 128 (also where it has joined two bar codes) and an ordinary
// Data Matrix can carry a bag's label; ]C1 and ]d2 are GS1, which wristbands carry.
bool take_prefix(std::string_view& text) {
    if (!text.starts_with(']')) return true;
    for (const std::string_view known : {"]C0", "]C4", "]d1"})
        if (text.starts_with(known)) {
            text.remove_prefix(known.size());
            return true;
        }
    return false;
}

void drop_line_end(std::string_view& text) {
    for (int i = 0; i < 2 && !text.empty(); ++i) {
        const char last = text.back();
        if (last != '\r' && last != '\n' && last != '\t') return;
        text.remove_suffix(1);
    }
}

// Sets what was not there; false where it says something else than what is there already.
template <class T>
bool put(std::optional<T>& place, const T& value) {
    if (place && !(*place == value)) return false;
    place = value;
    return true;
}

class ScanReader {
public:
    ScanReason read(std::string_view text, LabelData& data) {
        const auto announced = take_compound_header(text);
        if (announced && *announced == 0) return ScanReason::broken_message;
        // Without a header a reader joins two bar codes at most.
        const std::size_t most = announced ? *announced : 2;
        std::size_t count = 0;
        while (!text.empty()) {
            const std::size_t length = shape_at(text, shape_);
            if (length == 0) return ScanReason::not_bag_data;
            if (count++ == most) return announced ? ScanReason::broken_message : ScanReason::not_bag_data;
            const ScanReason reason = take(text.substr(shape_.id.size(), length - shape_.id.size()), data);
            // A refusal further on must not hide that a later part is no bag data at all, so go on reading.
            if (reason != ScanReason::understood && first_ == ScanReason::understood) first_ = reason;
            text.remove_prefix(length);
        }
        if (announced && count != *announced) return ScanReason::broken_message;
        if (first_ != ScanReason::understood) return first_;
        return kept_ ? ScanReason::understood : ScanReason::not_needed;
    }

private:
    // How many structures a compound message announces; the number of the message itself is not used.
    static std::optional<std::size_t> take_compound_header(std::string_view& text) {
        if (!text.starts_with("=+") || text.size() < 7) return std::nullopt;
        for (std::size_t i = 2; i < 7; ++i)
            if (!is_digit(text[i])) return std::nullopt;
        const std::size_t count = number(text.substr(2, 2));
        text.remove_prefix(7);
        return count;
    }

    ScanReason take(std::string_view content, LabelData& data) {
        if (shape_.kind != Kind::skipped) kept_ = true;
        switch (shape_.kind) {
            case Kind::donation_number: return take_number(content, data);
            case Kind::group: return agree(put(data.group, group_of(content)));
            case Kind::product: return take_product(content, data);
            case Kind::expiry: return take_time(content, data.expiry);
            case Kind::collected: return take_time(content, data.collected);
            case Kind::dimensions: return take_volume(content, data);
            case Kind::skipped: break;
        }
        return ScanReason::understood;
    }

    static ScanReason agree(bool same) { return same ? ScanReason::understood : ScanReason::contradicts; }

    static ScanReason take_number(std::string_view content, LabelData& data) {
        // The identifier's second character is the first one of the number.
        DonationNumber n;
        std::copy_n(content.begin(), n.text.size(), n.text.begin());
        const std::size_t flags = number(content.substr(13));
        if (flags >= 6 && flags <= 10) return ScanReason::not_a_bag;
        if (flags >= 60 && flags <= 96) {
            if (flags != 60 + check_value(n.view())) return ScanReason::check_failed;
            data.number_checked = true;
        }
        return agree(put(data.number, n));
    }

    static ScanReason take_product(std::string_view content, LabelData& data) {
        // E and F are blood, A to D national or local codes for it; every other letter is something else.
        if (content[0] > 'F') return ScanReason::not_blood;
        ProductCode code;
        std::copy_n(content.begin(), code.text.size(), code.text.begin());
        return agree(put(data.product, code));
    }

    static ScanReason take_time(std::string_view content, std::optional<LabelTime>& place) {
        const auto time = time_of(content);
        if (!time) return ScanReason::bad_date;
        return agree(put(place, *time));
    }

    static ScanReason take_volume(std::string_view content, LabelData& data) {
        for (std::string_view rest = content.substr(2); !rest.empty(); rest.remove_prefix(14)) {
            const std::size_t relation = number(rest.substr(0, 2));
            const bool exact = relation == 1 || relation == 6;  // equal to, or nominal
            if (number(rest.substr(2, 4)) != 1 || !exact) continue;
            const auto volume = volume_of(rest.substr(6, 6));
            if (!volume) return ScanReason::bad_volume;
            if (!put(data.volume, *volume)) return ScanReason::contradicts;
        }
        return ScanReason::understood;
    }

    Shape shape_{};
    ScanReason first_ = ScanReason::understood;
    bool kept_ = false;
};

}  // namespace

char check_character(const DonationNumber& number) {
    return "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"[check_value(number.view())];
}

Scan read_scan(std::string_view scanned) {
    if (scanned.size() > most_scanned) return {ScanReason::too_long, {}};
    drop_line_end(scanned);
    if (scanned.empty()) return {ScanReason::empty, {}};
    if (!take_prefix(scanned) || scanned.empty()) return {ScanReason::not_bag_data, {}};
    Scan scan;
    scan.reason = ScanReader().read(scanned, scan.data);
    if (!scan.understood()) return {scan.reason, {}};
    return scan;
}

TypedNumber read_typed_number(std::string_view typed) {
    std::array<char, 14> text{};
    std::size_t count = 0;
    for (const char c : typed) {
        if (c == ' ') continue;
        if (count == text.size()) return {TypedReason::too_long, 0, std::nullopt};
        text[count++] = c;
    }
    for (std::size_t i = 0; i < count; ++i) {
        const bool fits = i < 13 ? may_stand_in_number(text[i], i) : character_value(text[i]).has_value();
        if (!fits) return {TypedReason::wrong_character, static_cast<std::uint8_t>(i), std::nullopt};
    }
    if (count < text.size()) return {TypedReason::too_short, 0, std::nullopt};
    DonationNumber n;
    std::copy_n(text.begin(), n.text.size(), n.text.begin());
    if (check_character(n) != text[13]) return {TypedReason::check_failed, 0, std::nullopt};
    return {TypedReason::right, 0, n};
}

TypedProduct read_typed_product(std::string_view typed) {
    ProductCode code;
    if (typed.size() > code.text.size()) return {TypedReason::too_long, 0, std::nullopt};
    for (std::size_t i = 0; i < typed.size(); ++i)
        if (!may_stand_in_product(typed[i], i) || (i == 0 && typed[i] > 'F'))
            return {TypedReason::wrong_character, static_cast<std::uint8_t>(i), std::nullopt};
    if (typed.size() < code.text.size()) return {TypedReason::too_short, 0, std::nullopt};
    std::copy(typed.begin(), typed.end(), code.text.begin());
    return {TypedReason::right, 0, code};
}

std::optional<LabelTime> label_time(int year, int month, int day, std::optional<HourMinute> time) {
    const bool in_range = year >= 2000 && year <= 2099 && month >= 1 && month <= 12 && day >= 1 && day <= 31;
    if (!in_range) return std::nullopt;
    LabelTime out;
    out.at = civil_from_seconds(days_from_civil(year, month, day) * 86'400);
    if (out.at.month != month || out.at.day != day) return std::nullopt;  // 31 April
    const HourMinute at = time.value_or(HourMinute{23, 59});
    if (at.hour < 0 || at.hour > 23 || at.minute < 0 || at.minute > 59) return std::nullopt;
    out.at.hour = at.hour;
    out.at.minute = at.minute;
    out.end_of_day = at.hour == 23 && at.minute == 59;
    return out;
}

bool may_be_transfused(LabelUse use) {
    switch (use) {
        case LabelUse::discard:
        case LabelUse::fractionation:
        case LabelUse::quarantine:
        case LabelUse::research:
        case LabelUse::not_for_transfusion:
        case LabelUse::tissue: return false;
        case LabelUse::not_stated:
        case LabelUse::directed:
        case LabelUse::emergency:
        case LabelUse::directed_biohazard:
        case LabelUse::directed_crossover:
        case LabelUse::autologous_crossover:
        case LabelUse::autologous:
        case LabelUse::autologous_biohazard:
        case LabelUse::no_group:
        case LabelUse::biohazard:
        case LabelUse::not_recognised: return true;
    }
    return false;
}

bool is_reserved(LabelUse use) {
    switch (use) {
        case LabelUse::directed:
        case LabelUse::directed_biohazard:
        case LabelUse::directed_crossover:
        case LabelUse::autologous_crossover:
        case LabelUse::autologous:
        case LabelUse::autologous_biohazard:
        case LabelUse::biohazard: return true;
        case LabelUse::not_stated:
        case LabelUse::emergency:
        case LabelUse::no_group:
        case LabelUse::discard:
        case LabelUse::fractionation:
        case LabelUse::quarantine:
        case LabelUse::research:
        case LabelUse::not_for_transfusion:
        case LabelUse::tissue:
        case LabelUse::not_recognised: return false;
    }
    return false;
}

}  // namespace hangtime
