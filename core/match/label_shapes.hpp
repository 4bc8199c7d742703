#pragma once

/// The structures that a scan may hold, and what their contents mean; for core/match/label.cpp and tests.

#include "core/match/label.hpp"

#include <cstddef>
#include <optional>
#include <string_view>

namespace hangtime::label_shapes {

/// `skipped`: label data that nothing here asks for. It is stepped over inside a joined scan, never kept.
enum class Kind : std::uint8_t { donation_number, group, product, expiry, collected, dimensions, skipped };

/// An identifier and the class of each character after it: 9 a digit, A a capital, X a capital or digit,
/// a a lower-case letter or digit, z any letter or digit, F and P the first characters of a number, 0 the
/// digit 0.
struct Shape {
    std::string_view id;  // the number's is "=" alone
    std::string_view content;
    Kind kind{};
};

/// The structure that `text` begins with, in all its length; 0 where it is none of them.
std::size_t shape_at(std::string_view text, Shape& shape);

bool is_digit(char c);
/// `text` is digits, at most nine.
std::size_t number(std::string_view text);

/// Whether a character may stand at place `at` of the thirteen.
bool may_stand_in_number(char c, std::size_t at);
/// Whether a character may stand at place `at` of a product code's eight.
bool may_stand_in_product(char c, std::size_t at);
/// 0 to 36 for 0 to 9, A to Z and *.
std::optional<int> character_value(char c);
/// The MOD 37-2 check of thirteen characters of that alphabet, 0 to 36.
std::size_t check_value(std::string_view number);

LabelGroup group_of(std::string_view content);
/// "cyyjjj" or "cyyjjjhhmm"; none where it is no day or time of this century.
std::optional<LabelTime> time_of(std::string_view content);
/// "cccccd": a value and how many of its digits are decimals; none for nothing, or more than a bag holds.
std::optional<Volume> volume_of(std::string_view content);

}  // namespace hangtime::label_shapes
