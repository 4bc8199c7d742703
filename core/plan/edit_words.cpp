#include "core/plan/edit_words.hpp"

#include "core/json/units.hpp"
#include "core/plan/protocol_sheet.hpp"
#include "core/words/format.hpp"
#include "core/words/spelling.hpp"
#include "core/words/words.hpp"

#include <algorithm>

namespace hangtime {

namespace {

constexpr struct {
    std::string_view path, words;
} own[] = {
    {"", "Name and standing"},
    {"usual", "Usual pace"},
    {"usual_at_risk", "Usual pace at risk of overload"},
    {"pump", "Pump"},
    {"gravity", "Drop factor of the set"},
    {"reserve", "Reserve before a limit"},
    {"saline", "Bags of 0.9 % saline"},
    {"session.sample", "A sample is good for"},
    {"session.finished", "A finished session is kept for"},
    {"round.set", "A set for more than one unit"},
    {"round.component_change", "Another component needs a new set"},
    {"round.reassess", "Looking again before the next unit"},
    {"round.reassessment", "Looking again takes"},
    {"round.next_baseline", "The check at the end is the next baseline"},
    {"round.call", "From the call to the ward"},
    {"round.match", "The match and hanging take"},
    {"round.attended", "The nurse stays for the first"},
    {"round.check", "One set of observations takes"},
};

std::string spaced(std::string_view code) {
    std::string out(code);
    std::replace(out.begin(), out.end(), '_', ' ');
    return out;
}

std::string capital(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

// What rule_label makes of a path that it does not know.
std::string plain(std::string_view path) {
    std::string out = spaced(path);
    std::replace(out.begin(), out.end(), '.', ' ');
    return capital(std::move(out));
}

// "limits" and 2 of "limits[2]"; of "early[0].counts" "early" and 0, with the rest in `after`.
struct Item {
    std::string_view list, after;
    int number = -1;  // from 1; -1: no list
};
Item item_of(std::string_view path) {
    const std::size_t open = path.find('[');
    if (open == path.npos) return {path, {}, -1};
    int n = 0;
    std::size_t i = open + 1;
    for (; i < path.size() && path[i] != ']'; ++i) n = n * 10 + (path[i] - '0');
    std::string_view after = path.substr(std::min(path.size(), i + 1));
    if (after.starts_with('.')) after.remove_prefix(1);
    return {path.substr(0, open), after, n + 1};
}

std::string_view without_component(std::string_view path) {
    constexpr std::string_view prefix = "components.";
    if (!path.starts_with(prefix)) return path;
    path.remove_prefix(prefix.size());
    const std::size_t dot = path.find('.');
    return dot == path.npos ? std::string_view() : path.substr(dot + 1);
}

std::string text_at(const EditGroup& group, std::string_view key) {
    const EditValue* value = group.find(key);
    return value && value->text ? *value->text : std::string();
}

// What of a group stands in its label already.
bool in_label(std::string_view path, std::string_view key) {
    const Item item = item_of(without_component(path));
    if (item.list == "limits") return key == "kind" || key == "from";
    if (item.list == "lines") return key == "kind";
    return item.list == "match.fields" && key == "field";
}

std::string numbered(std::string_view words, int n) { return joined({words, " ", std::to_string(n)}); }

}  // namespace

std::string edit_label(const EditGroup& group, const Protocol& protocol) {
    if (group.path.starts_with("sources.")) {
        const std::string_view key = std::string_view(group.path).substr(8);
        for (const Source& source : protocol.sources)
            if (source.key == key) return source.title;
        return std::string(key);
    }
    const std::string_view path = without_component(group.path);
    for (const auto& o : own)
        if (o.path == path) return std::string(o.words);
    const Item item = item_of(path);
    if (item.list == "limits")
        return group.there ? rule_label(joined({"limits.", text_at(group, "kind"), ".", text_at(group, "from")}))
                           : std::string("One more limit");
    if (item.list == "lines")
        return group.there ? rule_label("lines." + text_at(group, "kind")) : std::string("One more line");
    if (item.list == "match.fields")
        return group.there ? rule_label("match.fields." + text_at(group, "field")) : std::string("One more field");
    if (item.list == "checks.early") {
        if (!group.there && item.after.empty()) return "One more early check";
        return numbered("Early check", item.number) + (item.after.empty() ? ", after the start" : ", counts from");
    }
    if (item.list == "checks.after")
        return group.there ? numbered("Observations after the end", item.number) : std::string("One more after the end");
    if (item.list == "observations.rule_sets") {
        if (item.after.empty()) return joined({"The rules ", text_at(group, "id")});
        return rule_label(joined({"observations.x.", item.after}));
    }
    std::string known = rule_label(path);
    if (known != plain(path)) return known;
    // A group of one value is told as the rule that it is.
    if (group.values.size() == 1) {
        const std::string_view key = group.values[0].key;
        for (const std::string_view end : {key, json::parts_of(key).stem}) {
            const std::string whole = joined({path, ".", end});
            if (std::string label = rule_label(whole); label != plain(whole)) return label;
        }
    }
    return known;
}

std::string value_label(std::string_view key) {
    const Item item = item_of(key);
    std::string_view stem = json::parts_of(item.list).stem;
    for (const std::string_view end : {"_years", "_percent_on_air"})
        if (stem.ends_with(end)) stem.remove_suffix(end.size());
    std::string out = capital(spaced(stem.empty() ? item.list : stem));
    return item.number > 0 ? numbered(out, item.number) : out;
}

std::string value_text(const EditValue& value) {
    if (!value.text) return "left out";
    if (value.asked.kind == json::Asked::Kind::truth) return *value.text == "true" ? "yes" : "no";
    if (value.asked.kind == json::Asked::Kind::choice) return spaced(*value.text);
    if (value.asked.kind != json::Asked::Kind::number) return *value.text;
    const std::string_view unit = edit_unit(value.key);
    std::string out = joined({*value.text, unit.empty() ? "" : " ", unit});
    if (unit == "min" && value.text->size() >= 2 && value.text->size() <= 6) {
        std::int64_t n = 0;
        for (const char c : *value.text) n = n * 10 + (c - '0');
        if (n > 60) out += joined({" (", span_text(minutes(n)), ")"});
    }
    return out;
}

std::string edit_value(const EditGroup& group) {
    if (!group.there) return "no rule";
    if (group.path.empty() || group.path.starts_with("sources.")) {  // words, and only those that say something
        std::string out;
        for (const EditValue& value : group.values)
            if (value.text && value.asked.kind == json::Asked::Kind::text && value.key != "id" &&
                !(value.key == "title" && !group.path.empty()))
                out += joined({out.empty() ? "" : ", ", *value.text});
        return out;
    }
    int shown = 0;
    for (const EditValue& value : group.values)
        shown += value.text && !in_label(group.path, value.key) && value.key.find('[') == std::string::npos ? 1 : 0;
    std::string out;
    std::string_view last_list;
    for (const EditValue& value : group.values) {
        if (!value.text || in_label(group.path, value.key)) continue;
        const Item item = item_of(value.key);
        const bool goes_on = item.number > 0 && item.list == last_list;
        if (!out.empty()) out += ", ";
        const bool alone = shown + (item.number > 0 ? 1 : 0) <= 1;
        if (!goes_on && !alone) out += lower_first(value_label(item.list)) + " ";
        out += value_text(value);
        last_list = item.number > 0 ? item.list : std::string_view();
    }
    return out;
}

std::string edit_section(std::string_view path) {
    if (path.empty()) return "Name and standing";
    if (path.starts_with("sources")) return "Sources";
    if (path.starts_with("components.") || path.starts_with("match.")) return rule_group(path);
    if (path.starts_with("checks.")) return "Observations, when";
    if (path.starts_with("observations.")) return "Observations, what is a change";
    if (path.starts_with("reaction.")) return "Suspected reaction";
    if (path.starts_with("round.")) return "More than one unit";
    return "Everything else";
}

std::string part_label(std::string_view path) {
    if (path == "match") return "Matching the bag to the person";
    if (path == "round") return "More than one unit";
    if (path == "session") return "What a session asks";
    if (path.starts_with("observations.rule_sets")) return "One more set of rules for a change";
    return capital(spaced(path));
}

std::string edit_basis(const EditGroup& group, const Protocol& protocol) {
    if (!group.has_basis || !group.there) return {};
    const auto grade = code_from<Grade>(group.grade);
    std::string out(grade ? name(*grade) : std::string_view());
    for (const Source& source : protocol.sources)
        if (source.key == group.source) out = joined({out, ": ", source.title, ", ", source.year});
    return out;
}

}  // namespace hangtime
