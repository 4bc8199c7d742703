#pragma once

/// Practice bags and tags for a rehearsal, as cards to be cut out and scanned: valid label data under the issuer numbers
/// that ICCBBA sets aside for validation (A9990 to A9999; ST-001 section 5.3), and marked as no blood at all.

#include "core/match/label.hpp"
#include "core/rehearse/scenario.hpp"
#include "core/sheet/document.hpp"

#include <string>
#include <vector>

namespace hangtime {

/// What stands on a bag or on its tag.
struct PracticeLabel {
    std::string number;       // thirteen characters
    std::string product;      // eight
    std::string group;        // "62": the code; what it means is in words
    std::string group_words;
    std::string expiry;       // "0260751340"
    std::string expiry_words;
    Component component{};
    Volume bag{};
};

/// One bag that the scenario brings and the tag that is attached to it. Where one character of the tag is not the bag's
/// (the happening "tag_differs"), it is so here.
struct PracticeBag {
    std::string happening;    // its id
    PracticeLabel bag, tag;
};
std::vector<PracticeBag> practice_bags(const Scenario& scenario, std::int32_t seed);

sheet::Document practice_cards(const Scenario& scenario, std::int32_t seed);

/// What is in the bar codes of a label: number with its check in the flags, group, product, expiry, volume.
std::vector<std::string> bar_codes_of(const PracticeLabel& label);

}  // namespace hangtime
