#include "core/match/compare.hpp"

#include "core/match/expiry.hpp"

#include <algorithm>

namespace hangtime {

namespace {

template <class T>
bool contradicts(const std::optional<T>& held, const std::optional<T>& scanned) {
    return held && scanned && !(*held == *scanned);
}

template <class T>
void take(std::optional<T>& held, const std::optional<T>& scanned) {
    if (scanned) held = scanned;
}

ShownText shown(std::string_view text) {
    ShownText out;
    out.add(text);
    return out;
}

ShownText shown(const std::optional<LabelGroup>& group) {
    ShownText out;
    if (!group) return out;
    if (!group->abo) {
        out.add('?');
        return out;
    }
    switch (*group->abo) {
        case Abo::o: out.add('O'); break;
        case Abo::a: out.add('A'); break;
        case Abo::b: out.add('B'); break;
        case Abo::ab: out.add("AB"); break;
    }
    out.add(!group->rhd ? '?' : *group->rhd == Rhd::positive ? '+' : '-');
    return out;
}

void add_digits(ShownText& out, int n, int digits) {
    int unit = 1;
    while (--digits > 0) unit *= 10;
    for (; unit > 0; unit /= 10) out.add(static_cast<char>('0' + n / unit % 10));
}

ShownText shown(const std::optional<LabelTime>& time) {
    ShownText out;
    if (!time) return out;
    add_digits(out, time->at.year, 4);
    out.add('-');
    add_digits(out, time->at.month, 2);
    out.add('-');
    add_digits(out, time->at.day, 2);
    out.add(' ');
    add_digits(out, time->at.hour, 2);
    out.add(':');
    add_digits(out, time->at.minute, 2);
    return out;
}

void set_side_by_side(FieldComparison& c) {
    const std::string_view bag = c.bag.view(), tag = c.tag.view();
    const std::size_t longest = std::max(bag.size(), tag.size());
    for (std::size_t i = 0; i < longest; ++i)
        if (i >= bag.size() || i >= tag.size() || bag[i] != tag[i]) c.differing |= 1U << i;
}

FieldComparison compared(MatchField field, ShownText bag, ShownText tag) {
    FieldComparison out{field, Agreement::cannot_tell, bag, tag, 0};
    if (bag.view().empty() || tag.view().empty()) return out;
    set_side_by_side(out);
    out.agreement = out.differing == 0 ? Agreement::same : Agreement::differs;
    return out;
}

FieldComparison compare_groups(const std::optional<LabelGroup>& bag, const std::optional<LabelGroup>& tag) {
    FieldComparison out = compared(MatchField::unit_group, shown(bag), shown(tag));
    if (!bag || !tag) return out;
    const bool abo_differs = bag->abo && tag->abo && *bag->abo != *tag->abo;
    const bool rhd_differs = bag->rhd && tag->rhd && *bag->rhd != *tag->rhd;
    const bool whole = bag->abo && tag->abo && bag->rhd.has_value() == tag->rhd.has_value();
    out.agreement = abo_differs || rhd_differs ? Agreement::differs
                    : whole                    ? Agreement::same
                                               : Agreement::cannot_tell;
    return out;
}

}  // namespace

bool add_scan(UnitData& unit, const LabelData& scan) {
    if (contradicts(unit.number, scan.number) || contradicts(unit.product, scan.product) ||
        contradicts(unit.group, scan.group) || contradicts(unit.expiry, scan.expiry))
        return false;
    take(unit.number, scan.number);
    take(unit.product, scan.product);
    take(unit.group, scan.group);
    take(unit.expiry, scan.expiry);
    return true;
}

FieldComparison compare_text(MatchField field, std::string_view bag, std::string_view tag) {
    return compared(field, shown(bag), shown(tag));
}

UnitComparison compare_unit(const UnitData& bag, const UnitData& tag) {
    UnitComparison out;
    const auto number = [](const UnitData& u) { return u.number ? u.number->view() : std::string_view(); };
    const auto product = [](const UnitData& u) { return u.product ? u.product->view() : std::string_view(); };
    out.fields.add(compare_text(MatchField::donation_number, number(bag), number(tag)));
    out.fields.add(compare_text(MatchField::product_code, product(bag), product(tag)));
    out.fields.add(compare_groups(bag.group, tag.group));
    out.unit = Agreement::same;
    for (const FieldComparison& f : out.fields) {
        if (f.agreement == Agreement::differs) out.unit = Agreement::differs;
        if (f.agreement == Agreement::cannot_tell && out.unit == Agreement::same)
            out.unit = Agreement::cannot_tell;
    }
    out.fields.add(compared(MatchField::expiry, shown(bag.expiry), shown(tag.expiry)));
    out.expiry = earliest_expiry(bag.expiry, tag.expiry);
    return out;
}

}  // namespace hangtime
