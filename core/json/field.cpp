#include "core/json/field.hpp"

#include "core/json/units.hpp"

#include <algorithm>

namespace hangtime::json {

namespace {

constexpr std::int64_t power_of_ten(int n) {
    std::int64_t out = 1;
    while (n-- > 0) out *= 10;
    return out;
}

std::string decimals_words(int places) {
    if (places == 0) return "a whole number";
    return "a number with at most " + std::to_string(places) + (places == 1 ? " decimal" : " decimals");
}

enum class Parsed { fine, exponent, too_many_decimals, too_long };

// `text` is a JSON number.
Parsed parse(std::string_view text, int places, std::int64_t& out) {
    if (text.find_first_of("eE") != text.npos) return Parsed::exponent;
    const bool negative = text.starts_with('-');
    if (negative) text.remove_prefix(1);
    const std::size_t point = text.find('.');
    const std::string_view whole = text.substr(0, point);
    std::string_view part = point == text.npos ? std::string_view() : text.substr(point + 1);
    while (part.ends_with('0')) part.remove_suffix(1);
    if (part.size() > static_cast<std::size_t>(places)) return Parsed::too_many_decimals;
    if (whole.size() > 12) return Parsed::too_long;
    std::int64_t n = 0;
    for (const char c : whole) n = n * 10 + (c - '0');
    for (const char c : part) n = n * 10 + (c - '0');
    n *= power_of_ten(places - static_cast<int>(part.size()));
    out = negative ? -n : n;
    return Parsed::fine;
}

std::string joined(const std::string& path, std::string_view key) {
    const std::string last = key.empty() ? "\"\"" : std::string(key);
    return path.empty() ? last : path + "." + last;
}

std::string quoted(std::string_view text) { return "\"" + std::string(text) + "\""; }

}  // namespace

std::string decimal_text(std::int64_t n, int places) {
    const bool negative = n < 0;
    const std::int64_t size = negative ? -n : n;
    const std::int64_t unit = power_of_ten(places);
    std::string part = std::to_string(size % unit + unit).substr(1);
    while (part.ends_with('0')) part.pop_back();
    if (places == 0) part.clear();
    return (negative ? "-" : "") + std::to_string(size / unit) + (part.empty() ? "" : "." + part);
}

std::string listed(std::span<const std::string_view> words) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) out += i + 1 == words.size() ? " or " : ", ";
        out += words[i];
    }
    return out;
}

bool is_key(std::string_view text) {
    if (text.empty() || text.size() > 40 || text[0] < 'a' || text[0] > 'z') return false;
    return std::all_of(text.begin(), text.end(),
                       [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; });
}

bool Field::is(Kind kind) const {
    if (absent()) return false;
    if (value_->kind == kind) return true;
    std::string accepted(name_of(kind));
    if (kind == Kind::number && value_->kind == Kind::text) accepted += ", without quotes";
    fail("is " + std::string(name_of(value_->kind)), std::move(accepted));
    return false;
}

void Field::asks(Asked::Kind kind, int places, std::int64_t least, std::int64_t most,
                 std::span<const std::string_view> words) const {
    if (Survey* survey = report_->survey())
        survey->note(path_, {kind, places, least, most, {words.begin(), words.end()}});
}

std::string Field::text(std::size_t least, std::size_t most) const {
    asks(Asked::Kind::text, 0, static_cast<std::int64_t>(least), static_cast<std::int64_t>(most));
    if (!is(Kind::text)) return {};
    const std::string& text = value_->text;
    const auto control = [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; };
    const std::string range = std::to_string(least) + " to " + std::to_string(most) + " characters of text";
    if (std::any_of(text.begin(), text.end(), control)) {
        fail("has a control character in it", range + " on one line");
        return {};
    }
    if (text.size() < least || text.size() > most) {
        fail(text.empty() ? "is empty" : "has " + std::to_string(text.size()) + " characters", range);
        return {};
    }
    return text;
}

std::string Field::key() const {
    std::string id = text(1, 40);
    if (!id.empty() && !is_key(id))
        fail("\"" + id + "\" is not an id", "letters a to z, digits and -, beginning with a letter");
    return id;
}

std::int64_t Field::decimal(int places, std::int64_t least, std::int64_t most) const {
    asks(Asked::Kind::number, places, least, most);
    if (!is(Kind::number)) return least;
    const std::string range = decimals_words(places) + " from " + decimal_text(least, places) + " to " +
                              decimal_text(most, places);
    const std::string& text = value_->text;
    const std::string as_shown = text.size() > 24 ? text.substr(0, 24) + "..." : text;
    std::int64_t n = 0;
    switch (parse(text, places, n)) {
    case Parsed::fine:
        if (n >= least && n <= most) return n;
        fail(as_shown + (n < least ? " is too small" : " is too large"), range);
        break;
    case Parsed::exponent:
        fail(as_shown + " is written with an exponent", range + ", in plain digits");
        break;
    case Parsed::too_many_decimals:
        fail(as_shown + (places == 0 ? " is not a whole number" : " has too many decimals"), range);
        break;
    case Parsed::too_long: fail(as_shown + " is out of range", range); break;
    }
    return least;
}

bool Field::boolean() const {
    asks(Asked::Kind::truth, 0, 0, 1);
    return is(Kind::boolean) && value_->truth;
}

std::size_t Field::choice(std::span<const std::string_view> accepted) const {
    asks(Asked::Kind::choice, 0, 0, 0, accepted);
    if (!is(Kind::text)) return 0;
    for (std::size_t i = 0; i < accepted.size(); ++i)
        if (accepted[i] == value_->text) return i;
    fail(quoted(value_->text.substr(0, 60)) + " is not one of the choices", listed(accepted));
    return 0;
}

std::vector<Field> Field::list(std::size_t least, std::size_t most) const {
    asks(Asked::Kind::list, 0, static_cast<std::int64_t>(least), static_cast<std::int64_t>(most));
    std::vector<Field> out;
    if (!is(Kind::list)) return out;
    const std::size_t n = value_->items.size();
    if (n < least || n > most) {
        fail("has " + std::to_string(n) + " items",
             "a list of " + std::to_string(least) + " to " + std::to_string(most) + " items");
        return out;
    }
    out.reserve(n);
    for (std::size_t i = 0; i < n; ++i)
        out.emplace_back(*report_, &value_->items[i], path_ + "[" + std::to_string(i) + "]");
    return out;
}

Object Field::object(std::initializer_list<std::string_view> accepted) const {
    asks(Asked::Kind::object, 0, 0, 0, {accepted.begin(), accepted.size()});
    if (!is(Kind::object)) return Object(*this);
    for (const std::string& key : value_->keys) {
        if (std::find(accepted.begin(), accepted.end(), key) != accepted.end() || report_->passes_over_unknown()) continue;
        report_->fail(joined(path_, key.substr(0, 60)), why_unknown(key, {accepted.begin(), accepted.size()}),
                      "only " + listed({accepted.begin(), accepted.size()}));
        return Object(*this);
    }
    return Object(*this, value_);
}

std::optional<Field> Field::member(std::string_view key) const {
    const Value* found = value_ && value_->kind == Kind::object ? value_->find(key) : nullptr;
    if (!found) return std::nullopt;
    return Field(*report_, found, joined(path_, key));
}

std::vector<Field::Named> Field::members(std::size_t most) const {
    asks(Asked::Kind::members, 0, 0, static_cast<std::int64_t>(most));
    std::vector<Named> out;
    if (!is(Kind::object)) return out;
    if (value_->keys.size() > most) {
        fail("has " + std::to_string(value_->keys.size()) + " members",
             "at most " + std::to_string(most) + " members");
        return out;
    }
    for (std::size_t i = 0; i < value_->keys.size(); ++i) {
        const std::string& key = value_->keys[i];
        if (!is_key(key)) {
            fail("has the key " + quoted(key.substr(0, 60)),
                 "keys of at most 40 letters a to z, digits and -, beginning with a letter");
            return {};
        }
        out.push_back({key, Field(*report_, &value_->items[i], joined(path_, key))});
    }
    return out;
}

Field Object::named(std::string_view key) const {
    return Field(field_.report(), value_ ? value_->find(key) : nullptr, joined(field_.path(), key));
}

Field Object::at(std::string_view key) const {
    Field out = named(key);
    if (Survey* survey = field_.report().survey()) survey->need(out.path());
    if (value_ && out.absent()) out.fail("is missing", "the key \"" + std::string(key) + "\"");
    return out;
}

std::optional<Field> Object::find(std::string_view key) const {
    if (!has(key)) return std::nullopt;
    return named(key);
}

}  // namespace hangtime::json
