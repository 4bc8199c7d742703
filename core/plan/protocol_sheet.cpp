#include "core/plan/protocol_sheet.hpp"

#include "core/component.hpp"
#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/references.hpp"
#include "core/protocol/describe.hpp"
#include "core/words/match_words.hpp"
#include "core/words/spelling.hpp"
#include "core/words/words.hpp"

namespace hangtime {

namespace {

using sheet::Document;
using sheet::Role;
using sheet::Table;

// What stands before the first dot, and what is left.
std::string_view take_segment(std::string_view& path) {
    const std::size_t dot = path.find('.');
    const std::string_view segment = path.substr(0, dot);
    path = dot == std::string_view::npos ? std::string_view() : path.substr(dot + 1);
    return segment;
}

// The words for paths whose own words do not say it well enough.
constexpr struct {
    std::string_view path, words;
} known[] = {
    {"children", "For children by weight"},
    {"usual.duration", "Usual duration"},
    {"usual.rate", "Usual rate"},
    {"usual_at_risk.duration", "Usual duration at risk of overload"},
    {"usual_at_risk.rate", "Usual rate at risk of overload"},
    {"highest", "Highest rate"},
    {"highest_by_weight", "Highest rate by weight"},
    {"highest_by_weight_at_risk", "Highest rate by weight at risk of overload"},
    {"usual_bag", "Usual volume of a bag"},
    {"controlled_delivery", "A pump or another controlled device"},
    {"never_by", "Never given by"},
    {"new_set", "A new administration set"},
    {"checks.baseline", "Baseline observations"},
    {"checks.interval", "Observations while it runs"},
    {"checks.interval_cannot_report", "Observations, for somebody who cannot report symptoms"},
    {"checks.at_start", "Observations at the start"},
    {"checks.at_end", "Observations at the end"},
    {"checks.grace", "An observation is late after"},
    {"checks.merge_into_end", "Left out where the end is closer than"},
    {"duration.counts_from", "A duration counts from"},
    {"slow_stage.counts_from", "The slow stage counts from"},
    {"expiry.rule", "Expiry on the label"},
    {"clearing.rule", "Clearing the line with saline"},
    {"priming.with", "The line is primed with"},
    {"saline.bags", "Bags of 0.9 % saline"},
    {"keeping.below", "A bag can be kept below"},
    {"keeping_reading.counts", "A reading of its temperature"},
    {"set.most_units", "Units through one set, at most"},
    {"after_send_back.may_be_used", "May be hung when it can no longer go back"},
    {"match.people", "Who matches"},
    {"match.cannot_say", "Where the person cannot say who they are"},
    {"match.lab_form", "The lab's form may be used at the bedside"},
    {"match.stale", "The match is too old after"},
    {"match.compatibility.plasma", "Plasma, beside what fits"},
    {"match.compatibility.plasma_unknown_group", "Plasma while no group is known"},
    {"match.compatibility.cryoprecipitate", "Cryoprecipitate, beside what fits"},
    {"match.compatibility.platelets", "Platelets, beside what fits"},
    {"match.compatibility.whole_blood", "Whole blood"},
    {"match.compatibility.rhd_negative_listed", "RhD positive for those listed"},
    {"match.compatibility.rhd_negative_listed.who", "Listed: if RhD negative, to have RhD negative"},
    {"match.compatibility.rhd_negative_others", "RhD positive for other RhD negative people"},
    {"pump.step", "Pump, step"},
    {"pump.most", "Pump, highest rate"},
    {"gravity.drop_factor", "Drop factor of the set"},
    {"reserve.accuracy", "Reserve, device accuracy"},
    {"reserve.least", "Reserve, minutes"},
    {"closing.last", "A limit is closing in its last"},
    {"observations.new_symptom", "Any new symptom"},
    {"observations.baseline_fever", "Fever before the start"},
    {"observations.breathing", "Breathing that is worse"},
    {"observations.pressure_rise", "Pressure that rises"},
    {"reaction.order", "What is done, in order"},
    {"reaction.observations", "Observations afterwards"},
    {"reaction.mild_restart", "Restart of what is mild"},
    {"reaction.slow_down", "Slowing down for signs of overload"},
    {"reaction.empty_bag", "The empty bag"},
    {"reaction.late_symptoms", "Late symptoms"},
};

// The same for what stands below a named set of rules, "observations.ID.".
constexpr struct {
    std::string_view path, words;
} known_of_rule_sets[] = {
    {"fever", "Fever"},
    {"severe_fever", "Fever that is more than mild"},
    {"pressure_adult", "Fall of blood pressure, adults"},
    {"pressure_child", "Fall of blood pressure, 1 to 17 years"},
    {"pressure_small", "Fall of blood pressure, infants and the small"},
    {"small", "Infants and the small"},
    {"pulse", "Faster pulse"},
    {"saturation", "Low oxygen saturation"},
};

// "both-limbs" of "observations.both-limbs.fever", or nothing.
std::string_view rule_set_of(std::string_view path) {
    if (take_segment(path) != "observations") return {};
    const std::string_view id = take_segment(path);
    return path.empty() ? std::string_view() : id;
}

std::string numbered(std::string_view words, std::string_view index) {
    return std::string(words) + " " + std::to_string(index.empty() ? 1 : index.front() - '0' + 1);
}

// "components.red_cells." of a path, or nothing.
std::string_view component_of(std::string_view path) {
    constexpr std::string_view prefix = "components.";
    if (!path.starts_with(prefix)) return {};
    path.remove_prefix(prefix.size());
    return take_segment(path);
}

void begin_document(Document& document, const Protocol& protocol) {
    document.fact("Identifier", protocol.id);
    if (!protocol.issued_by.empty()) document.fact("Issued by", protocol.issued_by);
    if (!protocol.revised.empty()) document.fact("Revised", protocol.revised);
    document.fact("For", protocol.children ? "children, by weight" : "adults");
    document.fact("Standing", protocol.adopted ? "adopted" : example_label());
}

}  // namespace

std::string value_words(std::string_view path, const std::string& text) {
    const auto say = [&text](auto value) { return value ? std::string(name(*value)) : text; };
    if (path == "duration.counts_from") return say(code_from<CountsFrom>(text));
    if (path == "slow_stage.counts_from") return say(code_from<SlowFrom>(text));
    if (path == "expiry.rule") return say(code_from<ExpiryRule>(text));
    if (path == "clearing.rule") return say(code_from<Clearing>(text));
    if (path == "priming.with") return text;
    return text;
}

std::string rule_group(std::string_view path) {
    const std::string_view component = component_of(path);
    if (!component.empty()) {
        const auto found = component_from(component);
        return found ? std::string(name(*found)) : std::string(component);
    }
    if (path.starts_with("match.compatibility.")) return "Compatibility";
    if (path.starts_with("match.")) return "Matching the bag to the person";
    const std::string_view rule_set = rule_set_of(path);
    if (!rule_set.empty()) return joined({"Change from the baseline, by the rules ", rule_set});
    if (path.starts_with("observations.") || path.starts_with("reaction.")) return "Suspected reaction";
    return path.starts_with("checks.") ? "Observations" : "Everything else";
}

std::string rule_label(std::string_view path) {
    if (path.starts_with("components.")) {
        take_segment(path);
        take_segment(path);
    }
    for (const auto& k : known)
        if (k.path == path) return std::string(k.words);
    const std::string_view whole = path;
    if (!rule_set_of(path).empty())
        for (const auto& k : known_of_rule_sets)
            if (path.substr(path.rfind('.') + 1) == k.path) return std::string(k.words);
    const std::string_view first = take_segment(path);
    if (first == "limits") {
        const auto kind = code_from<LimitKind>(take_segment(path));
        const auto from = code_from<Anchor>(path);
        if (kind && from) return std::string(name(*kind)) + ", counted from " + std::string(name(*from));
    }
    if (first == "match" && path.starts_with("fields.")) {
        take_segment(path);
        const auto field = code_from<MatchField>(path);
        if (field) return std::string(name(*field)) + ", read from";
    }
    if (first == "lines") {
        const auto kind = code_from<LineKind>(path);
        if (kind) return "Held by a " + std::string(name(*kind));
    }
    if (first == "checks") {
        const std::string_view kind = take_segment(path);
        const std::string_view index = take_segment(path);
        if (kind == "early")
            return numbered("Early check", index) + (path == "after" ? ", after the start" : ", counts from");
        if (kind == "after") return numbered("Observations after the end", index);
    }
    std::string out;
    for (const char c : whole) out += c == '_' || c == '.' ? ' ' : c;
    if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
    return out;
}

Document protocol_sheet(const Protocol& protocol) {
    Document document;
    document.title = protocol.title;
    begin_document(document, protocol);
    References references(protocol);
    std::vector<Table> tables;
    for (const Rule& rule : rules_of(protocol)) {
        if (rule.path == "children") continue;  // stands above
        const std::string group = rule_group(rule.path);
        Table* table = nullptr;
        for (Table& t : tables)
            if (t.caption == group) table = &t;
        if (!table) {
            tables.push_back(
                {group, {{"Rule", Role::text}, {"Value", Role::text}, {"Where from", Role::text}}, {}});
            table = &tables.back();
        }
        table->rows.push_back({rule_label(rule.path), value_words(rule.path, rule.text),
                               references.cite(rule.basis)});
    }
    for (Table& table : tables) document.table(std::move(table));
    references.add_list(document);
    add_rules_and_cautions(document, protocol);
    return document;
}

Document difference_sheet(const Protocol& left, const Protocol& right) {
    Document document;
    document.title = "What differs: " + left.title + " and " + right.title;
    document.fact("Left", rules_text(left));
    document.fact("Right", rules_text(right));
    const std::vector<Difference> differences = compare(left, right);
    document.headline(differences.empty()
                          ? "Nothing differs: both say the same."
                          : std::to_string(differences.size()) +
                                (differences.size() == 1 ? " rule differs." : " rules differ."));
    std::vector<Table> tables;
    for (const Difference& d : differences) {
        const std::string group = rule_group(d.path);
        if (tables.empty() || tables.back().caption != group)
            tables.push_back(
                {group, {{"Rule", Role::text}, {left.title, Role::text}, {right.title, Role::text}}, {}});
        tables.back().rows.push_back(
            {rule_label(d.path), value_words(d.path, d.left), value_words(d.path, d.right)});
    }
    for (Table& table : tables) document.table(std::move(table));
    add_rules_and_cautions(document, right);
    return document;
}

}  // namespace hangtime
