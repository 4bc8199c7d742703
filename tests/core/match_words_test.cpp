// Every code of the match has a spelling of its own and words for a person.

#include "core/words/match_words.hpp"

#include <catch2/catch_test_macros.hpp>

#include <set>
#include <string>

using namespace hangtime;

namespace {

template <class E>
void spelled(int count) {
    REQUIRE(code_count<E>() == count);
    std::set<std::string> spellings;
    for (int i = 0; i < count; ++i) {
        const E value = static_cast<E>(i);
        CHECK(code_from<E>(code(value)) == value);
        CHECK(spellings.insert(std::string(code(value))).second);
    }
}

template <class E>
void named(int count) {
    spelled<E>(count);
    std::set<std::string> names;
    for (int i = 0; i < count; ++i) {
        const std::string text(name(static_cast<E>(i)));
        CAPTURE(text);
        CHECK_FALSE(text.empty());
        CHECK(text.find('.') == text.npos);
        CHECK(names.insert(text).second);
    }
}

void reads_well(std::string_view text) {
    CAPTURE(text);
    REQUIRE_FALSE(text.empty());
    CHECK(text.back() == '.');
    CHECK(text.find('!') == text.npos);
    CHECK(text.find("  ") == text.npos);
}

template <class E>
void said(int count) {
    std::set<std::string> all;
    for (int i = 0; i < count; ++i) {
        reads_well(sentence(static_cast<E>(i)));
        all.insert(std::string(sentence(static_cast<E>(i))));
    }
    CHECK(all.size() + 1 >= static_cast<std::size_t>(count));  // the two good endings may say the same
}

}  // namespace

TEST_CASE("every code of the match is spelled and named, each differently", "[match]") {
    named<Abo>(abo_count);
    named<Rhd>(2);
    named<ScanReason>(12);
    named<TypedReason>(5);
    named<LabelUse>(17);
    named<MatchField>(match_field_count);
    named<MatchPlace>(match_place_count);
    named<MatchPeople>(3);
    named<CannotSay>(2);
    named<MatchStepKind>(6);
    named<MatchPerson>(3);
    named<MatchOutcome>(3);
    named<MatchStanding>(6);
    spelled<MatchRefusal>(5);
    named<Agreement>(3);
    named<Compatible>(4);
    spelled<CompatibleReason>(35);
    named<PlasmaRule>(4);
    named<UnknownPlasma>(2);
    named<WholeBloodRule>(2);
    named<RhdRule>(3);
    named<Requirement>(requirement_count);
    named<RequirementState>(4);
    named<GroupsBy>(groups_by_count);
    named<LookFor>(look_for_count);
}

TEST_CASE("every outcome of the match is said in a sentence", "[match]") {
    said<ScanReason>(code_count<ScanReason>());
    said<TypedReason>(code_count<TypedReason>());
    said<MatchStanding>(code_count<MatchStanding>());
    said<MatchRefusal>(code_count<MatchRefusal>());
    said<CompatibleReason>(code_count<CompatibleReason>());
    said<LookFor>(look_for_count);
    reads_well(look_failed_sentence());
    CHECK(name(ScanReason::not_bag_data) == "not bag data, not kept");
}

TEST_CASE("a group is said with what is missing of it", "[match]") {
    CHECK(group_text(Abo::ab, Rhd::negative) == "AB, RhD negative");
    CHECK(group_text(Abo::o, std::nullopt) == "O, RhD not stated");
    CHECK(group_text(std::nullopt, Rhd::positive) == "group not recorded, RhD positive");
    CHECK(group_text(std::nullopt, std::nullopt) == "not recorded");
}
