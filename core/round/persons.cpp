#include "core/round/persons.hpp"

namespace hangtime::rounds {

int linked_to(const PlannedTransfusion& t) {
    if (t.follows >= 0) return t.follows;
    return t.same_person >= 0 ? t.same_person : t.beside;
}

std::vector<int> persons_of(const Round& round) {
    std::vector<int> out;
    int next = 0;
    for (const PlannedTransfusion& t : round.transfusions) {
        const int before = linked_to(t);  // stands above
        out.push_back(before >= 0 ? out[static_cast<std::size_t>(before)] : next++);
    }
    return out;
}

int beside(const Round& round, std::size_t i) {
    for (std::size_t k = 0; k < round.transfusions.size(); ++k)
        if (round.transfusions[k].beside == static_cast<int>(i)) return static_cast<int>(k);
    return round.transfusions[i].beside;
}

std::vector<std::size_t> lines_of(const Round& round) {
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i < round.transfusions.size(); ++i) {
        const PlannedTransfusion& t = round.transfusions[i];
        const int before = t.beside >= 0 ? -1 : linked_to(t);
        out.push_back(before >= 0 ? out[static_cast<std::size_t>(before)] : i);
    }
    return out;
}

}  // namespace hangtime::rounds
