#include "core/json/read.hpp"

#include <optional>

// Nothing in this library may end the program on bad input: in SAX mode it reports errors through the
// handler, and what is left of its own checks is of its own state, not of the input.
#define JSON_NOEXCEPTION 1
#define JSON_NO_IO 1
#define JSON_ASSERT(x) static_cast<void>(0)
#include <nlohmann/json.hpp>

namespace hangtime::json {

namespace {

// As much of `token` as an error should show, cut between characters.
std::string shown(std::string_view token) {
    constexpr std::size_t most = 24;
    if (token.size() <= most) return std::string(token);
    std::size_t end = most;
    while (end > 0 && (static_cast<unsigned char>(token[end]) & 0xC0) == 0x80) --end;
    return std::string(token.substr(0, end)) + "...";
}

class TreeBuilder : public nlohmann::json_sax<nlohmann::json> {
public:
    explicit TreeBuilder(std::string_view text) : text_(text) {}

    bool null() override { return put({}); }
    bool boolean(bool truth) override {
        Value v;
        v.kind = Kind::boolean;
        v.truth = truth;
        return put(std::move(v));
    }
    bool number_integer(number_integer_t n) override { return put_text(Kind::number, std::to_string(n)); }
    bool number_unsigned(number_unsigned_t n) override { return put_text(Kind::number, std::to_string(n)); }
    bool number_float(number_float_t, const string_t& as_written) override {
        return put_text(Kind::number, as_written);
    }
    bool string(string_t& s) override { return put_text(Kind::text, std::move(s)); }
    bool binary(binary_t&) override { return fail("is binary", "JSON text"); }

    bool start_object(std::size_t) override { return open(Kind::object); }
    bool start_array(std::size_t) override { return open(Kind::list); }
    bool end_object() override { return close(); }
    bool end_array() override { return close(); }

    bool key(string_t& k) override {
        std::vector<std::string>& keys = open_.back()->keys;
        keys.push_back(std::move(k));  // first, so that the path of an error ends in it
        for (std::size_t i = 0; i + 1 < keys.size(); ++i)
            if (keys[i] == keys.back()) return fail("has the key \"" + shown(keys.back()) + "\" twice", "each key once");
        return true;
    }

    bool parse_error(std::size_t position, const std::string& token,
                     const nlohmann::json::exception& problem) override {
        constexpr int number_overflow = 406;  // the library's number for it
        // The position counts the end of the text as one more character read.
        if (done_)
            error_ = {place_in(text_, position > 0 ? position - 1 : 0), "there is text after the end",
                      "one JSON object and nothing after it"};
        else if (position > text_.size())
            error_ = {place_in(text_, text_.size()), "the text ends too early", "a complete JSON object"};
        else if (problem.id == number_overflow)
            error_ = {place_in(text_, position > 0 ? position - 1 : 0), shown(token) + " is out of range",
                      "a number in plain digits"};
        else
            error_ = {place_in(text_, position > 0 ? position - 1 : 0),
                      "not JSON at \"" + shown(token) + "\"", "JSON: keys and texts in double quotes, commas "
                      "between members, no comments"};
        return false;
    }

    Result<Value> result() {
        if (error_) return *error_;
        return std::move(root_);
    }

private:
    // Where the value that comes next will stand.
    std::string path() const {
        std::string out;
        for (std::size_t i = 0; i < open_.size(); ++i) {
            const Value* v = open_[i];
            if (v->kind == Kind::object) {
                if (v->keys.empty()) break;
                if (!out.empty()) out += '.';
                out += shown(v->keys.back());
            } else {
                // The items up to the last level hold the one that is being read.
                const std::size_t begun = i + 1 < open_.size() ? 1 : 0;
                out += '[' + std::to_string(v->items.size() - begun) + ']';
            }
        }
        return out.empty() ? "the file" : out;
    }

    bool fail(std::string problem, std::string accepted) {
        error_ = {path(), std::move(problem), std::move(accepted)};
        return false;
    }

    // Puts a value where it belongs and keeps its address until it is closed: the list that holds it grows
    // only afterwards.
    bool put(Value v) {
        if (open_.empty()) {
            if (v.kind != Kind::object)
                return fail("is " + std::string(name_of(v.kind)), "one JSON object, in braces");
            root_ = std::move(v);
            return true;
        }
        Value& parent = *open_.back();
        if (parent.items.size() == most_items)
            return fail("has too many items", "at most " + std::to_string(most_items));
        parent.items.push_back(std::move(v));
        return true;
    }
    bool put_text(Kind kind, std::string text) {
        Value v;
        v.kind = kind;
        v.text = std::move(text);
        return put(std::move(v));
    }
    bool open(Kind kind) {
        if (open_.size() == most_depth)
            return fail("is nested too deep", "at most " + std::to_string(most_depth) + " levels");
        Value v;
        v.kind = kind;
        // Most objects have a few members, and a list that grows step by step is moved as often.
        v.items.reserve(8);
        if (kind == Kind::object) v.keys.reserve(8);
        if (!put(std::move(v))) return false;
        open_.push_back(open_.empty() ? &root_ : &open_.back()->items.back());
        return true;
    }
    bool close() {
        open_.pop_back();
        done_ = open_.empty();
        return true;
    }

    std::string_view text_;
    Value root_;
    std::vector<Value*> open_;
    bool done_ = false;
    std::optional<Error> error_;
};

}  // namespace

std::string_view name_of(Kind kind) {
    constexpr std::string_view names[] = {"null", "true or false", "a number", "text", "a list", "an object"};
    return names[static_cast<std::size_t>(kind)];
}

const Value* Value::find(std::string_view key) const {
    for (std::size_t i = 0; i < keys.size(); ++i)
        if (keys[i] == key) return &items[i];
    return nullptr;
}

std::string place_in(std::string_view text, std::size_t offset) {
    std::size_t line = 1, column = 1;
    for (std::size_t i = 0; i < offset && i < text.size(); ++i) {
        ++column;
        if (text[i] == '\n') {
            ++line;
            column = 1;
        }
    }
    return "line " + std::to_string(line) + ", column " + std::to_string(column);
}

std::size_t valid_utf8(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    for (std::size_t i = 0; i < text.size();) {
        const unsigned lead = byte(i);
        std::size_t more = 0;
        unsigned least = 0x80, most = 0xBF;  // of the byte after the first one
        if (lead < 0x80) {
            ++i;
            continue;
        }
        if (lead >= 0xC2 && lead <= 0xDF) {
            more = 1;
        } else if (lead >= 0xE0 && lead <= 0xEF) {
            more = 2;
            if (lead == 0xE0) least = 0xA0;  // overlong
            if (lead == 0xED) most = 0x9F;   // surrogates
        } else if (lead >= 0xF0 && lead <= 0xF4) {
            more = 3;
            if (lead == 0xF0) least = 0x90;
            if (lead == 0xF4) most = 0x8F;  // beyond U+10FFFF
        } else {
            return i;
        }
        if (text.size() - i <= more) return i;
        if (byte(i + 1) < least || byte(i + 1) > most) return i;
        for (std::size_t j = 2; j <= more; ++j)
            if (byte(i + j) < 0x80 || byte(i + j) > 0xBF) return i;
        i += more + 1;
    }
    return text.size();
}

Result<Value> read(std::string_view text) {
    if (text.size() > most_bytes)
        return Error{"the file", "is larger than " + std::to_string(most_bytes) + " bytes", "a smaller file"};
    if (const std::size_t bad = valid_utf8(text); bad < text.size())
        return Error{place_in(text, bad), "is not valid UTF-8", "a file saved as UTF-8"};
    // The library takes a zero byte for the end of the text.
    if (const std::size_t zero = text.find('\0'); zero != text.npos)
        return Error{place_in(text, zero), "there is a zero byte", "JSON text"};
    TreeBuilder builder(text);
    nlohmann::json::sax_parse(text.begin(), text.end(), &builder);
    return builder.result();
}

}  // namespace hangtime::json
