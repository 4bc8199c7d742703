#include "core/sheet/line.hpp"

namespace hangtime::sheet {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

}  // namespace

std::size_t quantity_end(std::string_view text, std::size_t from) {
    if (from > 0 && (is_digit(text[from - 1]) || is_letter(text[from - 1]) || text[from - 1] == '.')) return from;
    std::size_t i = from;
    while (i < text.size() && (is_digit(text[i]) || (text[i] == '.' && i > from))) ++i;
    if (i == from || i + 1 >= text.size() || text[i] != ' ') return from;
    std::size_t unit = i + 1;
    while (unit < text.size() && (is_letter(text[unit]) || text[unit] == '/' || text[unit] == '%')) ++unit;
    return unit == i + 1 ? from : unit;
}

}  // namespace hangtime::sheet
