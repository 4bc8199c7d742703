#include "core/plan/card.hpp"

#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/references.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/words/format.hpp"
#include "core/words/words.hpp"

#include <algorithm>
#include <memory>

namespace hangtime {

namespace {

using sheet::Document;
using sheet::Role;
using sheet::Table;

constexpr std::string_view no_value = "-";
constexpr std::int64_t durations_min[] = {20, 30, 45, 60, 90, 120, 150, 180, 210, 240};
constexpr std::int64_t kilograms[] = {3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100};

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

std::string slow_text(const ComponentRules& rules) {
    if (!rules.slow) return "no slow stage";
    std::string out;
    if (rules.slow->rate) out = rate_text(*rules.slow->rate);
    if (rules.slow->rate_per_kg) {
        if (!out.empty()) out += " or, if lower, ";
        out += rate_per_kg_text(*rules.slow->rate_per_kg);
    }
    return "the first " + span_text(rules.slow->lasts) + " at " + out + ", then";
}

// The rate that a plan for this volume and duration comes out with, or none where it would not be kept to.
std::string planned_rate(const Protocol& protocol, Component component, Volume volume, Seconds within,
                         Reckoning& scratch) {
    State state = new_state(protocol);
    state.line = {};  // the volume is what the device moves
    state.unit.component = component;
    state.unit.bag = volume;
    state.order.pace = Order::Pace::within;
    state.order.duration = within;
    state.device = {};
    state.device.step = protocol.pump.step;
    state.device.most = protocol.pump.most;
    const Stated start{bounds::earliest};
    state.times.issued = start;
    state.times.start = Start{start, false};
    reckon(protocol, state, start.at, scratch);
    const bool kept = scratch.planned && scratch.judgement.verdict != Verdict::does_not_fit &&
                      scratch.all_in - scratch.start <= within && scratch.rates.rule == RateRule::target;
    return kept ? rate_text(scratch.rates.set) : std::string(no_value);
}

// Leaves out rows and columns that hold no value at all; the first column stays.
void drop_empty(Table& table) {
    const auto empty = [](const std::string& text) { return text == no_value; };
    std::erase_if(table.rows,
                  [&](const auto& row) { return std::all_of(row.begin() + 1, row.end(), empty); });
    for (std::size_t i = table.columns.size(); i-- > 1;) {
        const auto at_i = [i, &empty](const auto& row) { return empty(row[i]); };
        if (!std::all_of(table.rows.begin(), table.rows.end(), at_i)) continue;
        const auto offset = static_cast<std::ptrdiff_t>(i);
        table.columns.erase(table.columns.begin() + offset);
        for (auto& row : table.rows) row.erase(row.begin() + offset);
    }
}

Table rate_table(const Protocol& protocol, Component component, Reckoning& scratch) {
    Table table;
    table.columns.push_back({"Volume", Role::number});
    for (const std::int64_t m : durations_min) table.columns.push_back({span_text(minutes(m)), Role::number});
    for (std::int64_t volume = 50; volume <= 500; volume += 25) {
        std::vector<std::string> row = {volume_text(ml(volume))};
        for (const std::int64_t m : durations_min) {
            std::string rate = planned_rate(protocol, component, ml(volume), minutes(m), scratch);
            if (const std::size_t unit = rate.find(' '); unit != std::string::npos) rate.resize(unit);
            row.push_back(std::move(rate));
        }
        table.rows.push_back(std::move(row));
    }
    drop_empty(table);
    return table;
}

void add_rates(Document& document, const Protocol& protocol) {
    struct Group {
        std::string names, slow;
        Table table;
    };
    std::vector<Group> groups;
    const auto scratch = std::make_unique<Reckoning>();
    for (int i = 0; i < component_count; ++i) {
        Group made{std::string(name(component_at(i))), slow_text(protocol.rules(component_at(i))),
                   rate_table(protocol, component_at(i), *scratch)};
        if (made.table.rows.empty()) continue;
        const auto same = std::find_if(groups.begin(), groups.end(), [&](const Group& g) {
            return g.slow == made.slow && g.table.rows == made.table.rows;
        });
        if (same == groups.end()) {
            groups.push_back(std::move(made));
        } else {
            same->names += ", " + made.names;
        }
    }
    if (groups.empty()) return;
    document.part("Rates by pump, mL/h");
    document.list({
        "All in after the time at the head of the column, counted from the start.",
        "The volume is what the device has to move. A line primed with saline holds some: add it.",
        "Between two rows take the larger volume: it ends a little earlier.",
        "A limit counted from issue runs already at the start: take a time that ends inside it.",
        "\"-\" is faster than these rules allow, or past a limit. A rate below that of the slow stage runs "
        "from the start.",
    });
    for (Group& group : groups) {
        group.table.caption = group.names + ": " + group.slow;
        document.table(std::move(group.table));
    }
}

void add_drops(Document& document, const Protocol& protocol) {
    document.part("Drops a minute, by gravity");
    document.list({"One rate throughout, no slow stage. Whole drops, rounded up, so that the time is kept.",
                   "Count for 60 s. Compare the rate in mL/h with the highest that is allowed."});
    std::vector<std::int32_t> factors = {10, 15, 20, 60};
    if (std::find(factors.begin(), factors.end(), protocol.drop_factor.per_ml) == factors.end())
        factors.insert(factors.begin(), protocol.drop_factor.per_ml);
    for (const std::int32_t per_ml : factors) {
        const Rate drop = drops_per_min(1, {per_ml});
        Table table;
        table.caption = "Set with " + drop_factor_text({per_ml}) + " (1 drop/min is " + rate_text(drop) + ")";
        table.columns.push_back({"Volume", Role::number});
        for (const std::int64_t m : durations_min)
            table.columns.push_back({span_text(minutes(m)), Role::number});
        for (const std::int64_t volume : {50, 100, 150, 200, 250, 300, 350, 400, 450, 500}) {
            std::vector<std::string> row = {volume_text(ml(volume))};
            for (const std::int64_t m : durations_min) {
                const Rate rate = round_up(ml(volume) / minutes(m), drop);
                const std::int64_t drops = rate.units_per_s / drop.units_per_s;
                row.push_back(drops > 200 ? std::string(no_value)
                                          : dose_number(drops, 1, 0)); // beyond counting
            }
            table.rows.push_back(std::move(row));
        }
        drop_empty(table);
        document.table(std::move(table));
    }
}

struct WeightRule {
    RatePerKg rate;
    std::string what, components;
};

void see_weight_rule(std::vector<WeightRule>& rules, RatePerKg rate, const std::string& what,
                     Component component) {
    const std::string named(name(component));
    for (WeightRule& rule : rules) {
        if (rule.rate != rate || rule.what != what) continue;
        rule.components += ", " + named;
        return;
    }
    rules.push_back({rate, what, named});
}

void add_weights(Document& document, const Protocol& protocol) {
    std::vector<WeightRule> rules;
    for (int i = 0; i < component_count; ++i) {
        const ComponentRules& r = protocol.rules(component_at(i));
        const auto see = [&](RatePerKg rate, std::string_view what) {
            see_weight_rule(rules, rate, std::string(what), component_at(i));
        };
        if (r.slow && r.slow->rate_per_kg) see(*r.slow->rate_per_kg, name(StageKind::slow));
        if (r.usual.rate_per_kg) see(*r.usual.rate_per_kg, "usual rate");
        if (r.usual_at_risk && r.usual_at_risk->rate_per_kg)
            see(*r.usual_at_risk->rate_per_kg, "usual rate at risk of overload");
        if (r.most_per_kg) see(r.most_per_kg->value, name(CeilingKind::weight));
        if (r.most_per_kg_at_risk) see(r.most_per_kg_at_risk->value, name(CeilingKind::overload_risk));
    }
    std::vector<RatePerKg> columns;
    for (const WeightRule& rule : rules) columns.push_back(rule.rate);
    if (columns.empty())
        for (const std::int64_t n : {100, 200, 500}) columns.push_back(hundredths_of_ml_per_kg_per_h(n));
    std::sort(columns.begin(), columns.end());
    columns.erase(std::unique(columns.begin(), columns.end()), columns.end());

    document.part("Rates by weight, mL/h");
    std::vector<std::string> items;
    for (const WeightRule& rule : rules)
        items.push_back(rate_per_kg_text(rule.rate) + ": " + rule.what + " (" + rule.components + ")");
    items.emplace_back("Rounded down to the device's step of " + rate_text(protocol.pump.step) + ".");
    document.list(std::move(items));
    Table table;
    table.columns.push_back({"Weight", Role::number});
    for (const RatePerKg rate : columns) table.columns.push_back({rate_per_kg_text(rate), Role::number});
    for (const std::int64_t kg : kilograms) {
        const Mass mass{kg * 1000};
        std::vector<std::string> row = {mass_text(mass)};
        for (const RatePerKg rate : columns) {
            const Rate set = round_down(rate * mass, protocol.pump.step);
            std::string text =
                set > Rate{} && set <= protocol.pump.most ? rate_text(set) : std::string(no_value);
            if (const std::size_t unit = text.find(' '); unit != std::string::npos) text.resize(unit);
            row.push_back(std::move(text));
        }
        table.rows.push_back(std::move(row));
    }
    document.table(std::move(table));
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
            after(early.after, "the start") + (early.counts_from < early.after
                                                   ? ", not before " + span_text(early.counts_from)
                                                   : std::string()));
    add("Main rate, with the rate", "once the early check is in");
    if (checks.interval)
        for (int i = 1; i <= 4; ++i)
            add(check_title(CheckKind::interval), after({checks.interval->value.count * i}, "the start"));
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
    add_rates(document, protocol);
    add_weights(document, protocol);
    add_drops(document, protocol);
    references.add_list(document);
    return document;
}

}  // namespace hangtime
