#pragma once

/// The bag beside the tag that is attached to it: what is the same, what differs and at which characters.

#include "core/fixed_list.hpp"
#include "core/match/label.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

namespace hangtime {

/// What one of the two carries, scanned or typed, part of each if need be. What was not read stays missing.
struct UnitData {
    std::optional<DonationNumber> number;
    std::optional<ProductCode> product;
    std::optional<LabelGroup> group;
    std::optional<LabelTime> expiry;

    friend bool operator==(const UnitData&, const UnitData&) = default;
};

/// Adds what a scan said; false, and nothing is changed, where that contradicts what is there already.
bool add_scan(UnitData& unit, const LabelData& scan);

/// One side as it is shown, character by character: "A999921123456", "E4306V00", "A-", "2026-03-14 23:59".
/// A place that is not read is "?"; an RhD that is not stated too ("A?").
class ShownText {
public:
    static constexpr std::size_t most = 16;

    std::string_view view() const { return {text_.data(), size_}; }
    void add(char c) {
        if (size_ < most) text_[size_++] = c;
    }
    void add(std::string_view text) {
        for (const char c : text) add(c);
    }
    friend bool operator==(const ShownText& a, const ShownText& b) { return a.view() == b.view(); }

private:
    std::array<char, most> text_{};
    std::uint8_t size_ = 0;
};

struct FieldComparison {
    MatchField field{};  // donation_number, product_code, unit_group or expiry
    Agreement agreement = Agreement::cannot_tell;
    ShownText bag{}, tag{};
    std::uint32_t differing = 0;  // bit i: the characters at i are not the same, or one side has none there

    bool differs_at(std::size_t i) const { return i < 32 && (differing >> i & 1U) != 0; }
};

struct UnitComparison {
    FixedList<FieldComparison, 4> fields;  // always the four, in the order above
    /// Whether it is the same unit: number, product code and group. `cannot_tell` while one is missing.
    Agreement unit = Agreement::cannot_tell;
    /// The earlier of the two where they differ. It is to be confirmed against the label in any case: a bar
    /// code can be older than the time that was written on the bag after thawing.
    std::optional<LabelTime> expiry;
};

UnitComparison compare_unit(const UnitData& bag, const UnitData& tag);

/// The same for one field of text; for a number that is typed next to one that was scanned.
FieldComparison compare_text(MatchField field, std::string_view bag, std::string_view tag);

}  // namespace hangtime
