#include "core/plan/card.hpp"

#include "core/plan/card_rates.hpp"
#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/references.hpp"
#include "core/words/format.hpp"
#include "core/words/words.hpp"

#include <optional>

namespace hangtime {

namespace {

using sheet::Document;
using sheet::Role;
using sheet::Table;

Component component_at(int index) { return static_cast<Component>(index); }

void add_limits(Document& document, const Protocol& protocol, References& references) {
    Table table;
    table.caption = "Limits: the latest moment, not a target";
    table.columns = {{"Component", Role::text}, {"Limit", Role::text}, {"Counted", Role::text},
                     {"Where from", Role::text}};
    for (int i = 0; i < component_count; ++i) {
        const Component component = component_at(i);
        for (const Limit& limit : protocol.rules(component).limits)
            table.rows.push_back({std::string(name(component)), std::string(name(limit.kind)),
                                  std::string(name(limit.from)) + " + " + span_text(limit.within),
                                  references.cite(limit.basis)});
    }
    document.table(std::move(table));
}

// "15 min after the start", or after the first component in the vein and when that is.
std::string after_first_text(const Protocol& protocol, Seconds after) {
    if (!card_parts::counts_from_vein(protocol)) return span_text(after) + " after the start";
    std::string out = span_text(after) + " after the first component in the vein";
    std::optional<Seconds> takes;
    for (const ComponentRules& rules : protocol.components) {
        if (!rules.slow) continue;
        const Seconds one = card_parts::saline_takes(protocol, rules);
        if (takes && *takes != one) return out;  // not the same for all
        takes = one;
    }
    if (takes && *takes > Seconds{})
        out += " (" + span_text(*takes + after) + " after the start, with " + volume_text(protocol.lines.front().holds) +
               " of saline in the line)";
    return out;
}

// How a kind of limit is counted, if all components agree on it.
std::string common_limit(const Protocol& protocol, LimitKind kind, bool& exists) {
    const Limit* common = nullptr;
    bool agreed = true;
    for (const ComponentRules& rules : protocol.components) {
        for (const Limit& limit : rules.limits) {
            if (limit.kind != kind) continue;
            if (common && (limit.from != common->from || limit.within != common->within)) agreed = false;
            if (!common) common = &limit;
        }
    }
    exists = common != nullptr;
    if (!common) return {};
    return agreed ? span_text(common->within) + " from " + std::string(name(common->from))
                  : std::string("see the limits of the component");
}

void add_form(Document& document, const Protocol& protocol) {
    Table table;
    table.caption = "One bag: the times, by hand";
    table.columns = {{"What", Role::text}, {"How", Role::text}, {"Due", Role::pen}, {"Done at", Role::pen},
                     {"Charted", Role::tick}};
    const auto add = [&table](std::string_view what, std::string how) {
        table.rows.push_back({std::string(what), std::move(how), "", "", ""});
    };
    const auto after = [](Seconds s, std::string_view what) {
        return span_text(s) + " after " + std::string(what);
    };
    const auto limit = [&](LimitKind kind) {
        bool exists = false;
        std::string how = common_limit(protocol, kind, exists);
        if (exists) add(name(kind), std::move(how));
    };
    table.rows.push_back({"Bag number ends in", "last 4 of the number on the bag"});
    table.rows.push_back({"Volume in the bag, mL", "from its label"});
    add("Issued", "as stated by the blood bank");
    limit(LimitKind::decide);
    limit(LimitKind::send_back);
    limit(LimitKind::hang);
    limit(LimitKind::start);
    const CheckRules& checks = protocol.checks;
    add(check_title(CheckKind::baseline),
        "at most " + span_text(checks.baseline_within.value) + " before the start");
    add("Spiked", "the time of spiking");
    add("Start, with the rate", "the time at which it runs into the person");
    if (checks.at_start.value) add(check_title(CheckKind::start), "at the start");
    for (const CheckRules::Early& early : checks.early)
        add(check_title(CheckKind::early),
            after_first_text(protocol, early.after) + (early.counts_from < early.after
                                                           ? ", not before " + span_text(early.counts_from)
                                                           : std::string()));
    std::optional<Seconds> slow;
    for (const ComponentRules& rules : protocol.components)
        if (rules.slow && (!slow || rules.slow->lasts < *slow)) slow = rules.slow->lasts;
    add("Main rate, with the rate", slow && card_parts::counts_from_vein(protocol)
                                        ? after_first_text(protocol, *slow) + ", once the early check is in"
                                        : std::string("once the early check is in"));
    // As far as the longest of the limits for "all in" reaches: a bag may run until then.
    Seconds longest{};
    for (const ComponentRules& rules : protocol.components)
        for (const Limit& l : rules.limits)
            if (l.kind == LimitKind::finish && l.from != Anchor::thawed && l.within > longest) longest = l.within;
    if (checks.interval)
        for (Seconds at = checks.interval->value; at <= longest; at = at + checks.interval->value)
            add(check_title(CheckKind::interval), after(at, "the start"));
    if (checks.interval_cannot_report && (!checks.interval || checks.interval_cannot_report->value < checks.interval->value))
        add(check_title(CheckKind::interval), "for somebody who cannot report symptoms every " +
                                                  span_text(checks.interval_cannot_report->value) + " instead");
    limit(LimitKind::finish);
    limit(LimitKind::change_set);
    add("All in", "the time at which the last of it is in");
    if (checks.at_end.value) add(check_title(CheckKind::end), "when all is in");
    for (const Given<Seconds>& given : checks.after)
        add(check_title(CheckKind::after), after(given.value, "all in"));
    document.part("A form for the times");
    document.table(std::move(table));
}

}  // namespace

Document card(const Protocol& protocol) {
    Document document;
    document.title = "Card for a day without a computer: " + protocol.title;
    References references(protocol);
    document.paragraph(joined({"Rules: ", rules_text(protocol), "."}));
    add_rules_and_cautions(document, protocol);
    add_limits(document, protocol, references);
    add_form(document, protocol);
    card_parts::add_rates(document, protocol);
    card_parts::add_weights(document, protocol);
    card_parts::add_drops(document, protocol);
    references.add_list(document);
    return document;
}

}  // namespace hangtime
