#pragma once

/// A writer of JSON text: streaming, pretty-printed, decimals exact. It keeps the commas and the indentation;
/// that keys and values come in a sensible order is the caller's business.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace hangtime::json {

class Writer {
public:
    /// `across` puts every member on its own line, `along` all of them on one.
    enum class Layout : std::uint8_t { across, along };

    Writer& begin_object(Layout layout = Layout::across) { return begin('{', layout); }
    Writer& end_object() { return end('}'); }
    Writer& begin_list(Layout layout = Layout::across) { return begin('[', layout); }
    Writer& end_list() { return end(']'); }

    Writer& key(std::string_view key);

    Writer& text(std::string_view text);
    Writer& integer(std::int64_t n);
    /// `n` of the last of `places`: (505, 1) is 50.5, (500, 1) is 50.
    Writer& decimal(std::int64_t n, int places);
    Writer& boolean(bool truth);
    Writer& null();

    /// A key and its value at once.
    Writer& text(std::string_view k, std::string_view value) { return key(k).text(value); }
    Writer& integer(std::string_view k, std::int64_t n) { return key(k).integer(n); }
    Writer& decimal(std::string_view k, std::int64_t n, int places) { return key(k).decimal(n, places); }
    Writer& boolean(std::string_view k, bool truth) { return key(k).boolean(truth); }
    Writer& null(std::string_view k) { return key(k).null(); }

    /// What was written, with a newline at its end; the writer is empty afterwards.
    std::string take();

private:
    struct Level {
        Layout layout;
        bool empty = true;
    };
    Writer& begin(char bracket, Layout layout);
    Writer& end(char bracket);
    void before_value();
    void line_break();

    std::string out_;
    std::vector<Level> levels_;
    bool after_key_ = false;
};

/// A JSON text with its quotes; what is not valid UTF-8 in it becomes U+FFFD. "<" is escaped as well, so that
/// the output can stand inside a page's script element.
std::string quoted_text(std::string_view text);

}  // namespace hangtime::json
