#include "core/json/write.hpp"

#include "core/json/field.hpp"
#include "core/json/read.hpp"

namespace hangtime::json {

std::string quoted_text(std::string_view text) {
    constexpr std::string_view hex = "0123456789abcdef";
    std::string out = "\"";
    while (!text.empty()) {
        const std::size_t valid = valid_utf8(text);
        for (const char c : text.substr(0, valid)) {
            const auto byte = static_cast<unsigned char>(c);
            switch (c) {
            case '"': out += "\\\""; break;
            case '\\': out += "\\\\"; break;
            case '\n': out += "\\n"; break;
            case '\r': out += "\\r"; break;
            case '\t': out += "\\t"; break;
            default:
                if (byte < 0x20 || c == '<') {
                    out += "\\u00";
                    out += hex[byte >> 4];
                    out += hex[byte & 15];
                } else {
                    out += c;
                }
            }
        }
        text.remove_prefix(valid);
        if (!text.empty()) {
            out += "\xEF\xBF\xBD";
            text.remove_prefix(1);
        }
    }
    return out + "\"";
}

void Writer::line_break() {
    out_ += '\n';
    out_.append(2 * levels_.size(), ' ');
}

void Writer::before_value() {
    if (after_key_) {
        after_key_ = false;
        return;
    }
    if (levels_.empty()) return;
    Level& level = levels_.back();
    if (!level.empty) out_ += level.layout == Layout::along ? ", " : ",";
    if (level.layout == Layout::across) line_break();
    level.empty = false;
}

Writer& Writer::begin(char bracket, Layout layout) {
    before_value();
    out_ += bracket;
    // What stands inside one line stays on it.
    if (!levels_.empty() && levels_.back().layout == Layout::along) layout = Layout::along;
    levels_.push_back({layout});
    return *this;
}

Writer& Writer::end(char bracket) {
    const Level level = levels_.back();
    levels_.pop_back();
    if (!level.empty && level.layout == Layout::across) line_break();
    out_ += bracket;
    return *this;
}

Writer& Writer::key(std::string_view key) {
    before_value();
    out_ += quoted_text(key);
    out_ += ": ";
    after_key_ = true;
    return *this;
}

Writer& Writer::text(std::string_view text) {
    before_value();
    out_ += quoted_text(text);
    return *this;
}

Writer& Writer::integer(std::int64_t n) {
    before_value();
    out_ += std::to_string(n);
    return *this;
}

Writer& Writer::decimal(std::int64_t n, int places) {
    before_value();
    out_ += decimal_text(n, places);
    return *this;
}

Writer& Writer::boolean(bool truth) {
    before_value();
    out_ += truth ? "true" : "false";
    return *this;
}

Writer& Writer::null() {
    before_value();
    out_ += "null";
    return *this;
}

std::string Writer::take() {
    std::string out = std::move(out_) + "\n";
    *this = Writer();
    return out;
}

}  // namespace hangtime::json
