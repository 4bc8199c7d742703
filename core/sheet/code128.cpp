#include "core/sheet/code128.hpp"

#include <cstddef>

namespace hangtime::sheet {

namespace {

// Six widths a sign; the values are those of the standard's table, each proven by reading it back (tests/oracle).
constexpr char patterns[] =
    "212222" "222122" "222221" "121223" "121322" "131222" "122213" "122312" "132212" "221213"
    "221312" "231212" "112232" "122132" "122231" "113222" "123122" "123221" "223211" "221132"
    "221231" "213212" "223112" "312131" "311222" "321122" "321221" "312212" "322112" "322211"
    "212123" "212321" "232121" "111323" "131123" "131321" "112313" "132113" "132311" "211313"
    "231113" "231311" "112133" "112331" "132131" "113123" "113321" "133121" "313121" "211331"
    "231131" "213113" "213311" "213131" "311123" "311321" "331121" "312113" "312311" "332111"
    "314111" "221411" "431111" "111224" "111422" "121124" "121421" "141122" "141221" "112214"
    "112412" "122114" "122411" "142112" "142211" "241211" "221114" "413111" "241112" "134111"
    "111242" "121142" "121241" "114212" "124112" "124211" "411212" "421112" "421211" "212141"
    "214121" "412121" "111143" "111341" "131141" "114113" "114311" "411113" "411311" "113141"
    "114131" "311141" "411131" "211412" "211214" "211232";
static_assert(sizeof patterns == 106 * 6 + 1);
constexpr char stop[] = "2331112";

constexpr int to_c = 99, to_b = 100, start_b = 104, start_c = 105;

std::size_t digits_at(std::string_view text, std::size_t from) {
    std::size_t n = 0;
    while (from + n < text.size() && text[from + n] >= '0' && text[from + n] <= '9') ++n;
    return n;
}

}  // namespace

std::vector<std::uint8_t> code128(std::string_view text) {
    if (text.empty()) return {};
    for (const char c : text)
        if (c < ' ' || c > '~') return {};
    std::vector<int> signs;
    bool pairs = false;
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t digits = digits_at(text, i);
        // Changing over costs a sign, and another one to come back.
        const bool at_edge = i == 0 || i + digits == text.size();
        const std::size_t worth = at_edge ? 4 : 6;
        const bool odd = digits % 2 != 0;
        const bool change = pairs ? digits < 2 : digits >= worth && !(odd && i > 0);
        if (signs.empty()) {
            pairs = digits >= 4;
            signs.push_back(pairs ? start_c : start_b);
        } else if (change) {
            pairs = !pairs;
            signs.push_back(pairs ? to_c : to_b);
        }
        if (pairs) {
            signs.push_back((text[i] - '0') * 10 + (text[i + 1] - '0'));
            i += 2;
        } else {
            signs.push_back(text[i] - ' ');
            ++i;
        }
    }
    int check = signs[0];
    for (std::size_t i = 1; i < signs.size(); ++i) check = (check + static_cast<int>(i % 103) * signs[i]) % 103;
    signs.push_back(check);
    std::vector<std::uint8_t> out;
    for (const int sign : signs)
        for (std::size_t k = 0; k < 6; ++k)
            out.push_back(static_cast<std::uint8_t>(patterns[static_cast<std::size_t>(sign) * 6 + k] - '0'));
    for (const char c : std::string_view(stop)) out.push_back(static_cast<std::uint8_t>(c - '0'));
    return out;
}

}  // namespace hangtime::sheet
