// The bag beside its tag: every single difference is found, at its character.

#include "core/match/compare.hpp"
#include "core/match/match_text.hpp"

#include <catch2/catch_test_macros.hpp>

#include <string>

using namespace hangtime;

namespace {

UnitData unit() {
    UnitData out;
    for (const char* scan : {"=A99992112345663", "=<E4306V00", "=%6200", "&>0260731340"})
        REQUIRE(add_scan(out, read_scan(scan).data));
    return out;
}

const FieldComparison& field(const UnitComparison& c, MatchField f) {
    for (const FieldComparison& found : c.fields)
        if (found.field == f) return found;
    FAIL("no such field");
    return c.fields[0];
}

}  // namespace

TEST_CASE("bag and tag that say the same", "[match]") {
    const UnitComparison c = compare_unit(unit(), unit());
    REQUIRE(c.fields.size() == 4);
    for (const FieldComparison& f : c.fields) {
        CHECK(f.agreement == Agreement::same);
        CHECK(f.differing == 0);
    }
    CHECK(c.unit == Agreement::same);
    CHECK(field(c, MatchField::donation_number).bag.view() == "A999921123456");
    CHECK(field(c, MatchField::product_code).tag.view() == "E4306V00");
    CHECK(field(c, MatchField::unit_group).bag.view() == "A+");
    CHECK(field(c, MatchField::expiry).bag.view() == "2026-03-14 13:40");
    CHECK(c.expiry == unit().expiry);
}

TEST_CASE("each single character of number and product that differs is found where it is", "[match]") {
    for (std::size_t i = 0; i < 13; ++i) {
        UnitData tag = unit();
        char& c = tag.number->text[i];
        c = c == '7' ? '8' : '7';
        const UnitComparison compared = compare_unit(unit(), tag);
        CHECK(compared.unit == Agreement::differs);
        CHECK(field(compared, MatchField::donation_number).differing == 1U << i);
        CHECK(field(compared, MatchField::donation_number).differs_at(i));
        CHECK(field(compared, MatchField::product_code).agreement == Agreement::same);
    }
    for (std::size_t i = 0; i < 8; ++i) {  // the last two are the division
        UnitData tag = unit();
        tag.product->text[i] = 'a';
        const UnitComparison compared = compare_unit(unit(), tag);
        CHECK(compared.unit == Agreement::differs);
        CHECK(field(compared, MatchField::product_code).differing == 1U << i);
    }
}

TEST_CASE("the letter O and the digit 0 differ, and so do a text and a longer one", "[match]") {
    CHECK(compare_text(MatchField::donation_number, "A99O", "A990").differing == 1U << 3);
    CHECK(compare_text(MatchField::product_code, "E4306V00", "E4306V").differing == 3U << 6);
    CHECK(compare_text(MatchField::product_code, "E4306V00", "").agreement == Agreement::cannot_tell);
}

TEST_CASE("groups: another group differs, a missing part cannot be told", "[match]") {
    const auto with = [](std::optional<LabelGroup> bag, std::optional<LabelGroup> tag) {
        UnitData a = unit(), b = unit();
        a.group = bag;
        b.group = tag;
        return compare_unit(a, b);
    };
    for (int a = 0; a < abo_count; ++a)
        for (int b = 0; b < abo_count; ++b)
            for (const Rhd r : {Rhd::negative, Rhd::positive})
                for (const Rhd s : {Rhd::negative, Rhd::positive}) {
                    const auto c =
                        with(label_group(static_cast<Abo>(a), r), label_group(static_cast<Abo>(b), s));
                    const bool same = a == b && r == s;
                    CHECK(c.unit == (same ? Agreement::same : Agreement::differs));
                    CHECK((field(c, MatchField::unit_group).differing == 0) == same);
                }
    const LabelGroup whole = label_group(Abo::a, Rhd::positive), half = label_group(Abo::a, std::nullopt);
    CHECK(with(whole, half).unit == Agreement::cannot_tell);
    CHECK(with(half, half).unit == Agreement::same);  // plasma may carry ABO only, on both
    CHECK(with(label_group(Abo::b, std::nullopt), whole).unit == Agreement::differs);
    CHECK(with(whole, std::nullopt).unit == Agreement::cannot_tell);
    const LabelGroup none{std::nullopt, std::nullopt, LabelUse::no_group};
    CHECK(with(none, none).unit == Agreement::cannot_tell);
    CHECK(with(none, whole).unit == Agreement::cannot_tell);
}

TEST_CASE("what is missing is \"cannot tell\", and a difference beside it still counts", "[match]") {
    UnitData tag = unit();
    tag.number.reset();
    CHECK(compare_unit(unit(), tag).unit == Agreement::cannot_tell);
    tag.product->text[7] = 'a';
    CHECK(compare_unit(unit(), tag).unit == Agreement::differs);
    CHECK(compare_unit(unit(), {}).unit == Agreement::cannot_tell);
    CHECK(compare_unit({}, {}).unit == Agreement::cannot_tell);
}

TEST_CASE("the earliest expiry wins, and the difference is shown", "[match]") {
    UnitData tag = unit();
    tag.expiry = read_scan("&>0260731240").data.expiry;  // an hour earlier
    const UnitComparison c = compare_unit(unit(), tag);
    CHECK(c.expiry == tag.expiry);
    CHECK(compare_unit(tag, unit()).expiry == tag.expiry);
    CHECK(field(c, MatchField::expiry).agreement == Agreement::differs);
    CHECK(field(c, MatchField::expiry).differs_at(12));
    CHECK(c.unit == Agreement::same);  // it is the same unit; the nurse confirms the time against the label
    tag.expiry.reset();
    CHECK(compare_unit(unit(), tag).expiry == unit().expiry);
    CHECK(field(compare_unit(unit(), tag), MatchField::expiry).agreement == Agreement::cannot_tell);
}

TEST_CASE("scans add up to one unit, and one that contradicts is not taken", "[match]") {
    UnitData held = unit();
    CHECK(add_scan(held, read_scan("=A99992112345663=%6200").data));  // the same again
    const UnitData before = held;
    CHECK_FALSE(add_scan(held, read_scan("=A99991712345669").data));
    CHECK_FALSE(add_scan(held, read_scan("=<E4306VA0").data));
    CHECK_FALSE(add_scan(held, read_scan("=%5100").data));
    CHECK_FALSE(add_scan(held, read_scan("=>026074").data));
    CHECK(held == before);
}

TEST_CASE("a comparison is said with its place", "[match]") {
    const auto said = [](std::string_view bag, std::string_view tag) {
        return comparison_text(compare_text(MatchField::donation_number, bag, tag));
    };
    CHECK(said("A999921123456", "A999921123456") == "the same");
    CHECK(said("A999921123456", "A998921123456") == "differs at character 4: bag 9, tag 8");
    CHECK(said("E4306V00", "E4306V") == "differs at characters 7 and 8: bag 0 0, tag nothing nothing");
    CHECK(said("A999921123456", "A999917123465") ==
          "differs at characters 6, 7, 12 and 13: bag 2 1 5 6, tag 1 7 6 5");
    CHECK(said("E4306V00", "") == "cannot tell: the tag is not read");
    CHECK(said("", "E4306V00") == "cannot tell: the bag is not read");
    CHECK(said("", "") == "cannot tell: neither is read");
}
