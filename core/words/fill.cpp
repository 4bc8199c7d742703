#include "core/words/fill.hpp"

namespace hangtime::words {

std::string fill(std::string_view pattern, const Figure* figures, std::size_t count, const DayClock& day) {
    std::string out;
    std::size_t optional_from = std::string::npos;  // where in `out` the open "[" began
    bool missing = false;
    for (std::size_t i = 0; i < pattern.size(); ++i) {
        const char c = pattern[i];
        if (c == '[') {
            optional_from = out.size();
            missing = false;
        } else if (c == ']') {
            if (missing) out.resize(optional_from);
            optional_from = std::string::npos;
        } else if (c == '{') {
            const std::size_t index = static_cast<std::size_t>(pattern[i + 1] - '0');
            i += 2;  // over the digit and the closing brace
            const Figure figure = index < count ? figures[index] : Figure{};
            if (figure.kind == FigureKind::none && optional_from != std::string::npos) {
                missing = true;
            } else {
                out += figure_text(figure, day);
            }
        } else {
            out += c;
        }
    }
    return out;
}

}  // namespace hangtime::words
