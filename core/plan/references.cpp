#include "core/plan/references.hpp"

#include "core/words/format.hpp"
#include "core/words/words.hpp"

namespace hangtime {

std::string References::cite(const Basis& basis) {
    const std::string_view grade = name(basis.grade);
    if (basis.source >= protocol_.sources.size()) return std::string(grade);
    std::size_t place = 0;
    while (place < cited_.size() && cited_[place] != basis.source) ++place;
    if (place == cited_.size()) cited_.push_back(basis.source);
    return joined({grade, " [", dose_number(static_cast<std::int64_t>(place) + 1, 1, 0), "]"});
}

void References::add_list(sheet::Document& document) const {
    if (cited_.empty()) return;
    document.heading("Sources");
    for (std::size_t i = 0; i < cited_.size(); ++i) {
        const Source& source = protocol_.sources[cited_[i]];
        document.item(joined({"[", dose_number(static_cast<std::int64_t>(i) + 1, 1, 0), "] ", source.title,
                              source.year.empty() ? "" : " (", source.year, source.year.empty() ? "." : ").",
                              source.place.empty() ? "" : " ", source.place, source.note.empty() ? "" : " (",
                              source.note, source.note.empty() ? "" : ")"}));
    }
}

}  // namespace hangtime
