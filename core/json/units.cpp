#include "core/json/units.hpp"

namespace hangtime::json {

namespace {

// Longer ones first where one is the end of another.
constexpr std::string_view units[] = {
    "ml_per_kg_per_h", "ml_per_kg_per_min", "l_per_h", "ml_per_min", "ml_per_h", "cc_per_h", "drops_per_min",
    "drops_per_ml", "per_min", "mmhg", "ml_per_kg", "g_per_dl", "g_per_l", "percent", "minutes", "hours",
    "min", "sec", "lbs", "lb", "kg", "mg", "st", "ml", "cc", "dl", "g", "l", "h", "s", "c", "f", "k", "days", "d", "units",
};

}  // namespace

KeyParts parts_of(std::string_view key) {
    for (const std::string_view unit : units) {
        if (key.size() > unit.size() + 1 && key.ends_with(unit) && key[key.size() - unit.size() - 1] == '_')
            return {key.substr(0, key.size() - unit.size() - 1), unit};
        if (key == unit) return {"", unit};
    }
    return {key, ""};
}

std::string why_unknown(std::string_view key, std::span<const std::string_view> accepted) {
    const KeyParts given = parts_of(key);
    std::string meant;
    for (const std::string_view candidate : accepted) {
        const KeyParts known = parts_of(candidate);
        if (known.unit.empty() || known.stem != given.stem) continue;
        meant += (meant.empty() ? "\"" : " or \"") + std::string(candidate) + "\"";
    }
    if (meant.empty()) return "is not known here";
    return (given.unit.empty() ? "has no unit in its name; " : "has another unit in its name than ") +
           std::string(given.unit.empty() ? "this tool reads " : "this tool reads: ") + meant;
}

}  // namespace hangtime::json
