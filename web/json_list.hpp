#pragma once

/// The elements of a JSON list as the texts that they are, so that each can be read by itself.

#include <string_view>
#include <vector>

namespace hangtime {

/// Nothing is checked but brackets and quotes: the reader of each element does the rest. A text that is no
/// list has no elements.
inline std::vector<std::string_view> elements_of(std::string_view text) {
    std::vector<std::string_view> out;
    const std::size_t open = text.find('[');
    if (open == std::string_view::npos)
        return out;
    int depth = 0;
    bool quoted = false;
    std::size_t from = open + 1;
    const auto take = [&](std::size_t to) {
        const std::string_view part = text.substr(from, to - from);
        if (part.find_first_not_of(" \t\r\n") != std::string_view::npos)
            out.push_back(part);
        from = to + 1;
    };
    for (std::size_t i = open + 1; i < text.size(); ++i) {
        const char c = text[i];
        if (quoted) {
            if (c == '\\')
                ++i;
            else if (c == '"')
                quoted = false;
        } else if (c == '"') {
            quoted = true;
        } else if (c == '{' || c == '[') {
            ++depth;
        } else if ((c == '}' || c == ']') && depth > 0) {
            --depth;
        } else if (c == ']') {
            take(i);
            break;
        } else if (c == ',' && depth == 0) {
            take(i);
        }
    }
    return out;
}

} // namespace hangtime
