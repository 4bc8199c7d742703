#include "core/plan/references.hpp"

#include "core/words/words.hpp"

namespace hangtime {

std::string References::cite(const Basis& basis) {
    std::string out(name(basis.grade));
    if (basis.source >= protocol_.sources.size()) return out;
    std::size_t place = 0;
    while (place < cited_.size() && cited_[place] != basis.source) ++place;
    if (place == cited_.size()) cited_.push_back(basis.source);
    return out + " [" + std::to_string(place + 1) + "]";
}

void References::add_list(sheet::Document& document) const {
    if (cited_.empty()) return;
    document.heading("Sources");
    std::vector<std::string> items;
    for (std::size_t i = 0; i < cited_.size(); ++i) {
        const Source& source = protocol_.sources[cited_[i]];
        std::string item = "[" + std::to_string(i + 1) + "] " + source.title;
        if (!source.year.empty()) item += " (" + source.year + ")";
        item += '.';
        if (!source.place.empty()) item += " " + source.place;
        if (!source.note.empty()) item += " (" + source.note + ")";
        items.push_back(std::move(item));
    }
    document.list(std::move(items));
}

}  // namespace hangtime
