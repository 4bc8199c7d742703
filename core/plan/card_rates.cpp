#include "core/plan/card_rates.hpp"

#include "core/reckon/reckoning.hpp"
#include "core/words/format.hpp"
#include "core/words/words.hpp"

#include <algorithm>
#include <memory>
#include <optional>
#include <utility>

namespace hangtime::card_parts {

using sheet::Document;
using sheet::Role;
using sheet::Table;

bool counts_from_vein(const Protocol& protocol) {
    return protocol.slow_counts_from.value == SlowFrom::vein && protocol.primed_with.value == Primed::saline &&
           !protocol.lines.empty() && protocol.lines.front().holds > Volume{};
}

Seconds saline_takes(const Protocol& protocol, const ComponentRules& rules) {
    const bool known = counts_from_vein(protocol) && rules.slow && rules.slow->rate && !rules.slow->rate_per_kg;
    return known ? time_for(protocol.lines.front().holds, *rules.slow->rate) : Seconds{};
}

namespace {

constexpr std::string_view no_value = "-";
constexpr std::int64_t durations_min[] = {20, 30, 45, 60, 90, 120, 150, 180, 210, 240};
constexpr std::int64_t kilograms[] = {3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100};

Component component_at(int index) { return static_cast<Component>(index); }

// The highest rate that does not go by weight: the component's, or what the pump can do.
Rate highest(const Protocol& protocol, Component component) {
    const auto& most = protocol.rules(component).most;
    return most && most->value < protocol.pump.most ? most->value : protocol.pump.most;
}

bool never_by(const ComponentRules& rules, DeviceKind device) {
    return rules.never_by && rules.never_by->value == device;
}

std::string highest_text(const Protocol& protocol, Component component) {
    return "at most " + rate_text(highest(protocol, component));
}

std::string slow_text(const Protocol& protocol, const ComponentRules& rules) {
    if (!rules.slow) return "no slow stage";
    std::string out;
    if (rules.slow->rate) out = rate_text(*rules.slow->rate);
    if (rules.slow->rate_per_kg) {
        if (!out.empty()) out += " or, if lower, ";
        out += rate_per_kg_text(*rules.slow->rate_per_kg);
    }
    const Seconds saline = saline_takes(protocol, rules);
    if (saline > Seconds{})
        out += " (" + span_text(saline) + " of it for the saline in the line)";
    return "the first " + span_text(rules.slow->lasts + saline) + " at " + out + ", then";
}

// The rate that a plan for this volume and duration comes out with, or none where it would not be kept to.
std::string planned_rate(const Protocol& protocol, Component component, Volume volume, Seconds within,
                         Reckoning& scratch) {
    State state = new_state(protocol);
    if (!counts_from_vein(protocol)) state.line = {};  // the volume is what the device moves
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

}  // namespace

void add_rates(Document& document, const Protocol& protocol) {
    struct Group {
        std::string names, slow;
        Component first{};
        Table table;
    };
    std::vector<Group> groups;
    const auto scratch = std::make_unique<Reckoning>();
    for (int i = 0; i < component_count; ++i) {
        if (never_by(protocol.rules(component_at(i)), DeviceKind::pump)) continue;
        Group made{std::string(name(component_at(i))), slow_text(protocol, protocol.rules(component_at(i))),
                   component_at(i), rate_table(protocol, component_at(i), *scratch)};
        if (made.table.rows.empty()) continue;
        const auto same = std::find_if(groups.begin(), groups.end(), [&](const Group& g) {
            return g.slow == made.slow && highest(protocol, g.first) == highest(protocol, made.first) &&
                   g.table.rows == made.table.rows;
        });
        if (same == groups.end()) {
            groups.push_back(std::move(made));
        } else {
            same->names += ", " + made.names;
        }
    }
    if (groups.empty()) return;
    bool by_weight = false;
    for (const ComponentRules& rules : protocol.components)
        by_weight = by_weight || rules.most_per_kg || rules.most_per_kg_at_risk;
    document.part("Rates by pump, mL/h");
    std::vector<std::string> items = {"All in after the time at the head of the column, counted from the start."};
    if (counts_from_vein(protocol))
        items.push_back("The volume is that of the bag. The " + volume_text(protocol.lines.front().holds) +
                        " of saline in the line are counted in, and the first minutes count from the first component "
                        "in the vein.");
    else
        items.emplace_back("The volume is what the device has to move. A line primed with saline holds some: add it.");
    items.insert(items.end(), {
        "Between two rows take the larger volume: it ends a little earlier.",
        "A limit counted from issue runs already at the start: take a time that ends inside it.",
        "\"-\" is faster than these rules allow, or past a limit. A rate below that of the slow stage runs "
        "from the start.",
    });
    if (by_weight)
        items.emplace_back("Never above the highest rate by weight, below, and for somebody at risk of overload never "
                           "above the one for that.");
    document.list(std::move(items));
    for (Group& group : groups) {
        group.table.caption = group.names + ", " + highest_text(protocol, group.first) + ": " + group.slow;
        document.table(std::move(group.table));
    }
}

namespace {

// Where the rules ask for a device that holds the rate, a table of drops would invite what they forbid.
bool leaves_out_drops(Document& document, const Protocol& protocol) {
    std::string controlled, by_drops;
    for (int i = 0; i < component_count; ++i) {
        const ComponentRules& rules = protocol.rules(component_at(i));
        if (never_by(rules, DeviceKind::gravity)) continue;
        std::string& names = rules.controlled_delivery ? controlled : by_drops;
        names += (names.empty() ? "" : ", ") + std::string(name(component_at(i)));
    }
    if (controlled.empty()) return false;
    std::vector<std::string> items = {"No tables of drops: these rules ask for controlled delivery, by a device that "
                                      "holds the rate (" + controlled + ")."};
    if (!by_drops.empty())
        items.push_back(by_drops + ": take the rate from the tables above, mL/h x drops/mL / 60 = drops/min, rounded "
                        "down.");
    document.list(std::move(items));
    return true;
}

}  // namespace

void add_drops(Document& document, const Protocol& protocol) {
    document.part("Drops a minute, by gravity");
    if (leaves_out_drops(document, protocol)) return;
    document.list({"One rate throughout, no slow stage. Whole drops, rounded up, so that the time is kept.",
                   "Count for 60 s. \"-\" is faster than these rules allow for the components above the table, or than "
                   "can be counted.",
                   "Never above the highest rate by weight, where there is one."});
    std::vector<std::int32_t> factors = {10, 15, 20, 60};
    if (std::find(factors.begin(), factors.end(), protocol.drop_factor.per_ml) == factors.end())
        factors.insert(factors.begin(), protocol.drop_factor.per_ml);
    // Components with the same highest rate share a table; the pump's own does not bind a drip.
    std::vector<std::pair<std::optional<Rate>, std::string>> groups;
    for (int i = 0; i < component_count; ++i) {
        if (never_by(protocol.rules(component_at(i)), DeviceKind::gravity)) continue;
        const auto& most = protocol.rules(component_at(i)).most;
        const std::optional<Rate> rate = most ? std::optional(most->value) : std::nullopt;
        const auto same = std::find_if(groups.begin(), groups.end(), [&](const auto& g) { return g.first == rate; });
        if (same == groups.end()) groups.emplace_back(rate, std::string(name(component_at(i))));
        else same->second += ", " + std::string(name(component_at(i)));
    }
    for (const auto& [most, names] : groups)
        for (const std::int32_t per_ml : factors) {
            const Rate drop = drops_per_min(1, {per_ml});
            Table table;
            table.caption = "Set with " + drop_factor_text({per_ml}) + " (1 drop/min is " + rate_text(drop) + "): " + names +
                            (most ? ", at most " + rate_text(*most) : std::string(", no highest rate by these rules"));
            table.columns.push_back({"Volume", Role::number});
            for (const std::int64_t m : durations_min)
                table.columns.push_back({span_text(minutes(m)), Role::number});
            for (const std::int64_t volume : {50, 100, 150, 200, 250, 300, 350, 400, 450, 500}) {
                std::vector<std::string> row = {volume_text(ml(volume))};
                for (const std::int64_t m : durations_min) {
                    const Rate rate = round_up(ml(volume) / minutes(m), drop);
                    const std::int64_t drops = rate.units_per_s / drop.units_per_s;
                    const bool out = drops > 200 || (most && rate > *most);
                    row.push_back(out ? std::string(no_value) : dose_number(drops, 1, 0));
                }
                table.rows.push_back(std::move(row));
            }
            drop_empty(table);
            if (!table.rows.empty()) document.table(std::move(table));
        }
}

namespace {

// A rate by weight that the rules of a component name, and for whom.
struct WeightRule {
    RatePerKg rate;
    bool at_risk = false;
    std::string what;

    friend bool operator==(const WeightRule&, const WeightRule&) = default;
};

std::vector<WeightRule> weight_rules(const ComponentRules& r) {
    std::vector<WeightRule> rules;
    const auto see = [&rules](RatePerKg rate, bool at_risk, std::string_view what) {
        for (WeightRule& rule : rules) {
            if (rule.rate != rate || rule.at_risk != at_risk) continue;
            rule.what += joined({", ", what});
            return;
        }
        rules.push_back({rate, at_risk, std::string(what)});
    };
    if (r.slow && r.slow->rate_per_kg) see(*r.slow->rate_per_kg, false, name(StageKind::slow));
    if (r.usual.rate_per_kg) see(*r.usual.rate_per_kg, false, "usual rate");
    if (r.most_per_kg) see(r.most_per_kg->value, false, name(CeilingKind::weight));
    if (r.usual_at_risk && r.usual_at_risk->rate_per_kg)
        see(*r.usual_at_risk->rate_per_kg, true, "usual rate at risk of overload");
    if (r.most_per_kg_at_risk) see(r.most_per_kg_at_risk->value, true, name(CeilingKind::overload_risk));
    return rules;
}

// The rate of a rule for this weight, inside each ceiling that the protocol has for the component.
std::string rate_for_weight(const Protocol& protocol, Component component, const WeightRule& rule, Mass mass) {
    const ComponentRules& r = protocol.rules(component);
    RateRatio rate = rule.rate * mass;
    const auto hold = [&rate](RateRatio most) {
        if (compare_ratio(most, rate) < 0) rate = most;
    };
    hold(exactly(highest(protocol, component)));
    if (r.slow && r.slow->rate && r.slow->rate_per_kg == rule.rate && rule.what == name(StageKind::slow))
        hold(exactly(*r.slow->rate));
    if (r.most_per_kg) hold(r.most_per_kg->value * mass);
    if (rule.at_risk && r.most_per_kg_at_risk) hold(r.most_per_kg_at_risk->value * mass);
    const Rate set = round_down(rate, protocol.pump.step);
    if (set == Rate{}) return std::string(no_value);
    std::string text = rate_text(set);
    text.resize(text.find(' '));
    return text;
}

}  // namespace

void add_weights(Document& document, const Protocol& protocol) {
    struct Group {
        std::string names;
        std::vector<WeightRule> rules;
        Rate most;
        Table table;
    };
    std::vector<Group> groups;
    for (int i = 0; i < component_count; ++i) {
        const Component component = component_at(i);
        Group made{std::string(name(component)), weight_rules(protocol.rules(component)), highest(protocol, component), {}};
        if (made.rules.empty()) continue;
        made.table.columns.push_back({"Weight", Role::number});
        for (const WeightRule& rule : made.rules)
            made.table.columns.push_back({rate_per_kg_text(rule.rate) + (rule.at_risk ? ", at risk" : ""), Role::number});
        for (const std::int64_t kg : kilograms) {
            std::vector<std::string> row = {mass_text(Mass{kg * 1000})};
            for (const WeightRule& rule : made.rules)
                row.push_back(rate_for_weight(protocol, component, rule, Mass{kg * 1000}));
            made.table.rows.push_back(std::move(row));
        }
        const auto same = std::find_if(groups.begin(), groups.end(), [&](const Group& g) {
            return g.rules == made.rules && g.most == made.most && g.table.rows == made.table.rows;
        });
        if (same == groups.end()) groups.push_back(std::move(made));
        else same->names += ", " + made.names;
    }
    document.part("Rates by weight, mL/h");
    if (groups.empty()) {
        document.list({"These rules name no rate by weight."});
        return;
    }
    document.list({"Rounded down to the device's step of " + rate_text(protocol.pump.step) + ".",
                   "Never above the highest rate that stands above the table: from there on it is that rate which is "
                   "shown. An order may ask for less.",
                   "\"At risk\" is for somebody at risk of overload."});
    for (Group& group : groups) {
        std::vector<std::string> items;
        for (const WeightRule& rule : group.rules)
            items.push_back(rate_per_kg_text(rule.rate) + ": " + rule.what);
        group.table.caption = group.names + ", at most " + rate_text(group.most);
        document.table(std::move(group.table));
        document.list(std::move(items));
    }
}

}  // namespace hangtime::card_parts
