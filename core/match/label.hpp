#pragma once

/// Reading what stands in the bar codes of a bag, by a list of what is allowed.
///
/// How a screen uses core/match:
/// - A scan goes through `read_scan` before anything else sees it, and the characters are then forgotten.
///   What is not understood gives a reason and nothing else: the result of a refusal holds no byte of the
/// input, so it cannot reach a log, a store, a sheet, a title or a console. Show `name(reason)`.
/// - What was typed goes through `read_typed_number`, with the check character as it is printed in the box.
/// - `compare_unit` (core/match/compare.hpp) sets bag and tag side by side; `match_script`
///   (core/match/script.hpp) gives the steps at the bedside; `judge_compatibility`
///   (core/match/compatible.hpp) answers for groups; `look_list` (core/match/look.hpp) is the look at the
/// bag.
/// - The full donation number is for the match only. What is kept or shown afterwards is its last digits.
///
/// Layouts and the check: ICCBBA ST-001 (sections 2.1 to 2.5, 7.5, 10, appendix A), told in our own words; a
/// facility that uses ISBT 128 has to be registered. No table and no dictionary of products is here.

#include "core/clock.hpp"
#include "core/quantity.hpp"
#include "core/words/match_codes.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

namespace hangtime {

/// Longer than this is no scan of a bag.
inline constexpr std::size_t most_scanned = 256;

/// Thirteen characters: who issued it (5), the year (2) and a serial number (6).
struct DonationNumber {
    std::array<char, 13> text{};

    std::string_view view() const { return {text.data(), text.size()}; }
    friend bool operator==(const DonationNumber&, const DonationNumber&) = default;
};

/// The check character of a donation number as it is printed in its box: 0 to 9, A to Z or *. ISO/IEC 7064
/// MOD 37-2. It may be the letter O: that is not the digit 0.
char check_character(const DonationNumber& number);

/// Eight characters: the product (5), the type of donation (1) and the division (2). Two halves of a bag
/// differ in the division only, so all eight are compared.
struct ProductCode {
    std::array<char, 8> text{};

    std::string_view view() const { return {text.data(), text.size()}; }
    std::string_view division() const { return view().substr(6); }
    friend bool operator==(const ProductCode&, const ProductCode&) = default;
};

/// The group that a label states: none where it carries none, or one that is not recognised.
struct LabelGroup {
    std::optional<Abo> abo;
    std::optional<Rhd> rhd;
    LabelUse use = LabelUse::not_stated;

    friend bool operator==(const LabelGroup&, const LabelGroup&) = default;
};

/// A date on a label, by the clock on the wall. Without a time it is the end of that day; a bar code that
/// says 23:59 means the same, because that is what stands there when no time is given.
struct LabelTime {
    LocalTime at;  // to the minute; 23:59 where `end_of_day`
    bool end_of_day = false;

    friend bool operator==(const LabelTime&, const LabelTime&) = default;
};

/// What was understood of one scan. Everything may be missing.
struct LabelData {
    std::optional<DonationNumber> number;
    bool number_checked = false;  // the flags carried the check, and it was right
    std::optional<LabelGroup> group;
    std::optional<ProductCode> product;
    std::optional<LabelTime> expiry;
    std::optional<LabelTime> collected;
    std::optional<Volume> volume;  // with what was added to it, as the label counts it

    friend bool operator==(const LabelData&, const LabelData&) = default;
};

struct Scan {
    ScanReason reason = ScanReason::empty;
    LabelData data;  // empty unless understood

    bool understood() const { return reason == ScanReason::understood; }
};

/// One scan: a structure, two joined ones, or a compound message; with or without the reader's symbology
/// prefix and its line end. All of it has to be on the list, or nothing of it is kept.
Scan read_scan(std::string_view scanned);

/// A donation number that was typed with its check character, fourteen characters; spaces, as they are
/// printed between its parts, are left out. Nothing is folded: lower case, O for 0 and I for 1 are wrong.
struct TypedNumber {
    TypedReason reason = TypedReason::too_short;
    std::uint8_t at = 0;  // which of the fourteen, from 0, where a character cannot stand there
    std::optional<DonationNumber> number;  // only where right
};
TypedNumber read_typed_number(std::string_view typed);

/// A product code that was typed: eight characters as they are printed, nothing folded. It has no check, so
/// it is to be compared with another reading of it.
struct TypedProduct {
    TypedReason reason = TypedReason::too_short;
    std::uint8_t at = 0;
    std::optional<ProductCode> product;  // only where right
};
TypedProduct read_typed_product(std::string_view typed);

/// A date of a label that was entered, with its time, or without one for the end of that day; none where it
/// is no day of 2000 to 2099 or no time of a day.
struct HourMinute {
    int hour = 0, minute = 0;
};
std::optional<LabelTime> label_time(int year, int month, int day, std::optional<HourMinute> time);

/// A label group of the eight, for groups that are chosen and not scanned.
constexpr LabelGroup label_group(std::optional<Abo> abo, std::optional<Rhd> rhd) {
    return {abo, rhd, LabelUse::not_stated};
}

/// Whether such a group code may hang at all: no where the label says discard, quarantine, research, ...
bool may_be_transfused(LabelUse use);
/// Whether the label keeps the unit for one person or for a purpose, so that somebody has to be asked.
bool is_reserved(LabelUse use);

}  // namespace hangtime
