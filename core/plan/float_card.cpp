#include "core/plan/float_card.hpp"

#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/protocol_sheet.hpp"
#include "core/plan/references.hpp"
#include "core/protocol/compare.hpp"
#include "core/protocol/describe.hpp"
#include "core/words/words.hpp"

#include <algorithm>
#include <array>

namespace hangtime {

namespace {

using sheet::Document;
using sheet::Role;
using sheet::Table;

// In the order in which it is needed at a bedside.
enum class Topic : std::uint8_t { limits, rates, checks, match, reaction, rest };
constexpr int topic_count = 6;

std::string_view heading(Topic topic) {
    switch (topic) {
        case Topic::limits: return "Limits, the latest moments";
        case Topic::rates: return "Rates and bags";
        case Topic::checks: return "Observations";
        case Topic::match: return "Matching and groups";
        case Topic::reaction: return "Signs and a suspected reaction";
        case Topic::rest: return "Line, set and everything else";
    }
    return {};
}

Topic topic_of(std::string_view path) {
    if (path.starts_with("components.")) return path.find(".limits.") != path.npos ? Topic::limits : Topic::rates;
    if (path.starts_with("checks.")) return Topic::checks;
    if (path.starts_with("match.")) return Topic::match;
    if (path.starts_with("observations.") || path.starts_with("reaction.")) return Topic::reaction;
    return Topic::rest;
}

// "red_cells" of "components.red_cells.highest", or nothing.
std::optional<Component> component_in(std::string_view path) {
    constexpr std::string_view prefix = "components.";
    if (!path.starts_with(prefix)) return std::nullopt;
    path.remove_prefix(prefix.size());
    return component_from(path.substr(0, path.find('.')));
}

struct CardLine {
    Topic topic{};
    std::string label, usual, here, from;
    std::array<bool, component_count> of{};
    bool of_components = false;

    std::string components() const {
        std::string out;
        int n = 0;
        for (int i = 0; i < component_count; ++i)
            if (of[static_cast<std::size_t>(i)]) {
                const std::string_view said = name(static_cast<Component>(i));
                out += n++ == 0 ? std::string(said) : ", " + lower_first(said);
            }
        return n == component_count ? std::string("Every component") : out;
    }
};

}  // namespace

Document float_card(const Protocol& usual, const Protocol& here) {
    Document document;
    document.title = "What is different here: " + here.title;
    document.fact("Here", rules_text(here));
    document.fact("Compared with", rules_text(usual));
    const std::vector<Difference> differences = compare(usual, here);
    document.headline(differences.empty() ? "Nothing differs: both say the same."
                                          : joined({std::to_string(differences.size()),
                                                    differences.size() == 1 ? " rule is" : " rules are",
                                                    " different here. What is not listed is the same."}));
    References references(here);
    const std::vector<Rule> rules = rules_of(here);
    std::vector<CardLine> lines;
    for (const Difference& d : differences) {
        const auto rule = std::find_if(rules.begin(), rules.end(), [&](const Rule& r) { return r.path == d.path; });
        CardLine line{topic_of(d.path), rule_label(d.path), value_words(d.path, d.left), value_words(d.path, d.right),
                  rule == rules.end() || rule->path == "children" ? std::string("-") : references.cite(rule->basis), {}, false};
        const auto component = component_in(d.path);
        line.of_components = component.has_value();
        const auto alike = std::find_if(lines.begin(), lines.end(), [&](const CardLine& l) {
            return l.of_components && line.of_components && l.label == line.label && l.usual == line.usual &&
                   l.here == line.here && l.from == line.from;
        });
        if (component) (alike == lines.end() ? line : *alike).of[static_cast<std::size_t>(*component)] = true;
        if (alike == lines.end()) lines.push_back(std::move(line));
    }
    for (int t = 0; t < topic_count; ++t) {
        const auto topic = static_cast<Topic>(t);
        const bool components = topic == Topic::limits || topic == Topic::rates;
        Table table{std::string(heading(topic)), {}, {}};
        table.columns = {{"Rule", Role::text}, {"Here", Role::text}, {"Usual", Role::text}, {"Where from", Role::text}};
        if (components) table.columns.insert(table.columns.begin() + 1, {"Of", Role::text});
        for (const CardLine& line : lines) {
            if (line.topic != topic) continue;
            std::vector<std::string> row = {line.label, line.here, line.usual, line.from};
            if (components) row.insert(row.begin() + 1, line.components());
            table.rows.push_back(std::move(row));
        }
        if (!table.rows.empty()) document.table(std::move(table));
    }
    references.add_list(document);
    add_rules_and_cautions(document, here);
    return document;
}

}  // namespace hangtime
