#include "core/sheet/line.hpp"

namespace hangtime::sheet {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

}  // namespace

namespace {

// The end of a time of day with the offset and the day that belong to it: "02:30 UTC+1 day +1".
std::size_t time_end(std::string_view text, std::size_t from) {
    const auto two_digits = [&](std::size_t at) {
        return at + 1 < text.size() && is_digit(text[at]) && is_digit(text[at + 1]);
    };
    if (!two_digits(from)) return from;
    std::size_t i = from + 2;
    int parts = 1;
    while (i < text.size() && text[i] == ':' && two_digits(i + 1)) {
        i += 3;
        ++parts;
    }
    if (parts == 1) return from;
    for (const std::string_view next : {std::string_view(" UTC"), std::string_view(" day ")}) {
        if (!text.substr(i).starts_with(next)) continue;
        i += next.size();
        while (i < text.size() && (is_digit(text[i]) || text[i] == '+' || text[i] == '-' || text[i] == ':'))
            ++i;
        if (text[i - 1] == ':') --i;
    }
    return i;
}

}  // namespace

std::size_t quantity_end(std::string_view text, std::size_t from) {
    if (from > 0) {  // inside a word, a number or a time
        const char before = text[from - 1];
        if (is_digit(before) || is_letter(before) || before == '.' || before == ':') return from;
    }
    if (const std::size_t end = time_end(text, from); end != from) return end;
    std::size_t i = from;
    while (i < text.size() && (is_digit(text[i]) || (text[i] == '.' && i > from))) ++i;
    if (i == from || i + 1 >= text.size() || text[i] != ' ') return from;
    std::size_t unit = i + 1;
    while (unit < text.size() && (is_letter(text[unit]) || text[unit] == '/' || text[unit] == '%')) ++unit;
    return unit == i + 1 ? from : unit;
}

}  // namespace hangtime::sheet
