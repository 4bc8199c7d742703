#include "web/widgets/keypad.hpp"

#include "web/widgets/typed_keys.hpp"

namespace hangtime::ui {

void Digits::start(Kind k, int whole_digits, int decimal_places, std::string_view current) {
    kind = k;
    whole = whole_digits;
    places = decimal_places;
    fresh = true;
    text.assign(current);
}

bool Digits::accepts(char32_t c) const {
    if (fresh)
        return (c >= U'0' && c <= U'9') || (c == U'.' && kind == Kind::number && places > 0);
    if (kind == Kind::time) {
        if (c < U'0' || c > U'9' || text.size() >= 4)
            return false;
        switch (text.size()) {
        case 1:
            return text[0] < '2' || c <= U'3';
        case 2:
            return c <= U'5';
        default:
            return true;
        }
    }
    if (kind == Kind::code)
        return c >= U'0' && c <= U'9' && text.size() < static_cast<std::size_t>(whole);
    const std::size_t point = text.find('.');
    if (c == U'.')
        return places > 0 && point == std::string::npos;
    if (c < U'0' || c > U'9')
        return false;
    if (point != std::string::npos)
        return text.size() - point - 1 < static_cast<std::size_t>(places);
    return text == "0" || text.size() < static_cast<std::size_t>(whole);
}

bool Digits::type(char32_t c) {
    if (c == U',')
        c = U'.'; // half of all keyboards have the comma there
    if (!accepts(c))
        return false;
    if (fresh)
        text.clear();
    fresh = false;
    if (kind == Kind::time && text.empty() && c >= U'3')
        text = "0"; // 9 o'clock is 09
    if (kind == Kind::number && c == U'.' && text.empty())
        text = "0";
    if (kind == Kind::number && text == "0" && c != U'.')
        text.clear();
    text.push_back(static_cast<char>(c));
    return true;
}

void Digits::remove_last() {
    fresh = false;
    if (!text.empty())
        text.pop_back();
}

void Digits::clear() {
    fresh = false;
    text.clear();
}

std::string Digits::shown() const {
    if (kind != Kind::time || text.empty())
        return text;
    std::string out = text;
    out.resize(4, '_');
    out.insert(2, ":");
    return out;
}

std::optional<int> Digits::time() const {
    if (kind != Kind::time || text.size() != 4)
        return std::nullopt;
    return ((text[0] - '0') * 10 + text[1] - '0') * 60 + (text[2] - '0') * 10 + text[3] - '0';
}

std::optional<std::int64_t> Digits::number() const {
    if (text.empty())
        return std::nullopt;
    std::int64_t value = 0;
    int decimals = -1;
    for (const char c : text) {
        if (c == '.')
            decimals = 0;
        else {
            value = value * 10 + (c - '0');
            if (decimals >= 0)
                ++decimals;
        }
    }
    for (int i = decimals < 0 ? 0 : decimals; i < places; ++i)
        value *= 10;
    return value;
}

float keypad_height(const Ui& ui) {
    return 4 * ui.px(row_px) + 3 * ui.px(gap_px);
}

Typed keypad(Ui& ui, Box box, Digits& digits, std::string_view done_label) {
    const auto accepts = [&](char32_t c) { return digits.type(c); };
    Typed result = typed_keys(ui, digits, accepts);
    const auto type = [&](char32_t c) {
        if (accepts(c))
            result = Typed::changed;
    };
    const float gap = ui.px(gap_px);
    const auto at = [&](int column, int row, int across = 1, int down = 1) {
        return box.cell(4, 4, column, row, gap, across, down);
    };
    static constexpr int rows[3][3] = {{7, 8, 9}, {4, 5, 6}, {1, 2, 3}};
    const auto digit = [&](int d, Box where) {
        const char label[1] = {static_cast<char>('0' + d)};
        if (button(ui, ui.id("key.", d), where, {label, 1}, Look::key,
                   digits.accepts(U'0' + static_cast<char32_t>(d))))
            type(U'0' + static_cast<char32_t>(d));
    };
    for (int r = 0; r < 3; ++r)
        for (int c = 0; c < 3; ++c)
            digit(rows[r][c], at(c, r));
    const bool time = digits.kind == Digits::Kind::time;
    const bool point = digits.kind == Digits::Kind::number && digits.places > 0;
    digit(0, at(0, 3, point || time ? 2 : 3));
    if (point && button(ui, "key.point", at(2, 3), ".", Look::key, digits.accepts(U'.'), "point"))
        type(U'.');
    if (time && button(ui, "key.now", at(2, 3), "Now", Look::key))
        result = Typed::now;
    if (take_back_keys(ui, at(3, 0), at(3, 1), digits, digits.text.empty(), "Delete the last digit"))
        result = Typed::changed;
    if (button(ui, "key.done", at(3, 2, 1, 2), done_label, Look::primary))
        result = Typed::done;
    return result;
}

} // namespace hangtime::ui
