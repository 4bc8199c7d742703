#include "core/match/label_shapes.hpp"

namespace hangtime::label_shapes {

namespace {

constexpr std::string_view product_content = "AXXXXzXa";

// What is on no line of this list is not read. Structures that say who somebody is (a patient's number or
// date of birth, a donor, a member of staff) are deliberately on none, nor is a donor's test result.
constexpr Shape shapes[] = {
    {"=%", "zzX0", Kind::group},
    {"=<", product_content, Kind::product},
    {"=>", "999999", Kind::expiry},
    {"&>", "9999999999", Kind::expiry},
    {"=*", "999999", Kind::collected},
    {"&*", "9999999999", Kind::collected},
    // Stepped over.
    {"=}", "999999", Kind::skipped},              // production date
    {"&}", "9999999999", Kind::skipped},          // and time
    {"&(", "XXXXX", Kind::skipped},               // special testing
    {"=\\", "999999999999999999", Kind::skipped},  // red-cell antigens
    {"&\\", "999999999999999999", Kind::skipped},
    {"&{", "999999999999999999", Kind::skipped},  // platelet antigens
    {"=)", "XXXXXXXXXX", Kind::skipped},          // the container: maker and catalogue number
    {"&)", "XXXXXXXXXX", Kind::skipped},          // and lot
    {"=,", "XXXXXX", Kind::skipped},              // divisions
    {"&+", "XXXXXXXXXXX", Kind::skipped},         // processing facility
    {"=/", "XXXXXXXXXXXXXXXX", Kind::skipped},    // and its own product number
};
constexpr Shape number_shape = {"=", "FPP999999999999", Kind::donation_number};
static_assert(number_shape.content.size() == 15);

constexpr bool is_capital(char c) { return c >= 'A' && c <= 'Z'; }
constexpr bool is_small(char c) { return c >= 'a' && c <= 'z'; }

bool fits(char c, char wanted) {
    switch (wanted) {
        case '9': return is_digit(c);
        case '0': return c == '0';
        case 'A': return is_capital(c);
        case 'X': return is_capital(c) || is_digit(c);
        case 'a': return is_small(c) || is_digit(c);
        case 'z': return is_capital(c) || is_small(c) || is_digit(c);
        case 'P': return (is_capital(c) && c != 'O') || is_digit(c);
        case 'F': return (is_capital(c) && c != 'O') || (is_digit(c) && c != '0');
        default: return false;
    }
}

bool fits(std::string_view text, std::string_view content) {
    if (text.size() < content.size()) return false;
    for (std::size_t i = 0; i < content.size(); ++i)
        if (!fits(text[i], content[i])) return false;
    return true;
}

// "&$" says how many measures of fourteen digits follow.
std::size_t dimensions_at(std::string_view text) {
    if (text.size() < 4 || !is_digit(text[2]) || !is_digit(text[3])) return 0;
    const std::size_t count = number(text.substr(2, 2));
    const std::size_t length = 4 + 14 * count;
    if (count == 0 || text.size() < length) return 0;
    for (std::size_t i = 4; i < length; ++i)
        if (!is_digit(text[i])) return 0;
    for (std::size_t i = 4; i < length; i += 14)
        if (text.substr(i + 12, 2) != "00") return 0;
    return length;
}

// What the place of a group code in its row says about the use; the row's own code is in the middle.
constexpr LabelUse uses[] = {
    LabelUse::directed,           LabelUse::emergency,
    LabelUse::directed_biohazard, LabelUse::directed_crossover,
    LabelUse::not_stated,         LabelUse::autologous_crossover,
    LabelUse::autologous,         LabelUse::autologous_biohazard,
};

constexpr Abo abos[] = {Abo::o, Abo::a, Abo::b, Abo::ab};

LabelGroup unread(LabelUse use) { return {std::nullopt, std::nullopt, use}; }

LabelGroup group_of_digits(int code) {
    if (code == 0) return unread(LabelUse::no_group);
    // Rows of eight, eleven apart: A, B, AB negative from 2; O, A, B, AB positive from 47; O negative from
    // 91; and the four codes of a group without RhD stand eight after the beginning of a positive row.
    const auto in_row = [code](int first) { return code >= first && code < first + 8; };
    const auto use = [code](int first) { return uses[code - first]; };
    for (int i = 0; i < 3; ++i)
        if (const int first = 2 + 11 * i; in_row(first)) return {abos[i + 1], Rhd::negative, use(first)};
    for (int i = 0; i < 4; ++i) {
        const int first = 47 + 11 * i;
        if (in_row(first)) return {abos[i], Rhd::positive, use(first)};
        if (code == first + 8) return {abos[i], std::nullopt, LabelUse::not_stated};
    }
    if (in_row(91)) return {Abo::o, Rhd::negative, use(91)};
    return unread(LabelUse::not_recognised);
}

// A group without RhD and with a use: one letter a group, one digit a use, in the order of `uses`.
LabelGroup group_of_letter(char letter, char digit) {
    constexpr std::string_view letters = "PABC", digits = "2345789";
    const std::size_t row = letters.find(letter), column = digits.find(digit);
    if (row == letters.npos || column == digits.npos) return unread(LabelUse::not_recognised);
    return {abos[row], std::nullopt, uses[column < 4 ? column : column + 1]};
}

struct Special {
    std::string_view code;
    LabelUse use;
};
constexpr Special specials[] = {
    {"Mb", LabelUse::biohazard},  {"Md", LabelUse::discard},
    {"Mf", LabelUse::fractionation}, {"Mq", LabelUse::quarantine},
    {"Mr", LabelUse::research},   {"Mx", LabelUse::not_for_transfusion},
    {"Ma", LabelUse::autologous},
};

}  // namespace

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::size_t number(std::string_view text) {
    std::size_t n = 0;
    for (const char c : text) n = n * 10 + static_cast<std::size_t>(c - '0');
    return n;
}

std::size_t shape_at(std::string_view text, Shape& shape) {
    if (text.size() < 2) return 0;
    if (text.starts_with("&$")) {
        shape = {"&$", {}, Kind::dimensions};
        return dimensions_at(text);
    }
    for (const Shape& s : shapes)
        if (text.starts_with(s.id)) {
            shape = s;
            return fits(text.substr(s.id.size()), s.content) ? s.id.size() + s.content.size() : 0;
        }
    if (text[0] != '=' || !fits(text.substr(1), number_shape.content)) return 0;
    shape = number_shape;
    return 1 + number_shape.content.size();
}

bool may_stand_in_number(char c, std::size_t at) { return at < 13 && fits(c, number_shape.content[at]); }

bool may_stand_in_product(char c, std::size_t at) { return at < 8 && fits(c, product_content[at]); }

std::optional<int> character_value(char c) {
    if (is_digit(c)) return c - '0';
    if (is_capital(c)) return c - 'A' + 10;
    if (c == '*') return 36;
    return std::nullopt;
}

// ISO/IEC 7064 MOD 37-2, the recursive way: each character is added and the sum doubled; number and check
// together leave 1.
std::size_t check_value(std::string_view number) {
    int sum = 0;
    for (const char c : number) sum = (sum + character_value(c).value_or(0)) * 2 % 37;
    return static_cast<std::size_t>((38 - sum) % 37);
}

LabelGroup group_of(std::string_view content) {
    const std::string_view code = content.substr(0, 2);
    if (is_digit(code[0]) && is_digit(code[1])) return group_of_digits(static_cast<int>(number(code)));
    for (const Special& special : specials)
        if (special.code == code) return unread(special.use);
    if (code[0] == 'T' && code[1] >= '1' && code[1] <= '6') return unread(LabelUse::tissue);
    return group_of_letter(code[0], code[1]);
}

std::optional<LabelTime> time_of(std::string_view content) {
    if (content[0] != '0') return std::nullopt;  // another century: no bag
    const int year = 2000 + static_cast<int>(number(content.substr(1, 2)));
    const int day = static_cast<int>(number(content.substr(3, 3)));
    const bool leap = year % 4 == 0;  // in 2000 to 2099
    if (day < 1 || day > (leap ? 366 : 365)) return std::nullopt;
    const LocalTime date = civil_from_seconds((days_from_civil(year, 1, 1) + day - 1) * 86'400);
    std::optional<HourMinute> time;
    if (content.size() > 6)
        time = HourMinute{static_cast<int>(number(content.substr(6, 2))),
                          static_cast<int>(number(content.substr(8, 2)))};
    return label_time(date.year, date.month, date.day, time);
}

std::optional<Volume> volume_of(std::string_view content) {
    const std::size_t decimals = number(content.substr(5, 1));
    if (decimals > 5) return std::nullopt;
    std::int64_t units = static_cast<std::int64_t>(number(content.substr(0, 5))) * units_per_ml;
    for (std::size_t i = 0; i < decimals; ++i) {
        if (units % 10 != 0) return std::nullopt;
        units /= 10;
    }
    const Volume volume{units};
    // Finer than a hundredth of a mL is no volume that somebody measured.
    if (units % hundredths_of_ml(1).units != 0) return std::nullopt;
    if (volume < tenths_of_ml(1) || volume > bounds::volume) return std::nullopt;
    return volume;
}

}  // namespace hangtime::label_shapes
