// The shipped protocols, writing one, and telling two apart. The values of general-ward are those that were
// asked for: common practice, no source, unless the file names one.

#include "support.hpp"

#include "core/protocol/compare.hpp"
#include "core/protocol/describe.hpp"
#include "core/protocol/read.hpp"
#include "core/protocol/write.hpp"
#include "core/words/spelling.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <map>
#include <set>

using namespace hangtime;
using namespace hangtime::test;

namespace {

std::optional<Seconds> limit(const Protocol& p, Component c, LimitKind kind, Anchor from) {
    for (const Limit& l : p.rules(c).limits)
        if (l.kind == kind && l.from == from) return l.within;
    return std::nullopt;
}

std::map<std::string, std::string> rules(const Protocol& p) {
    std::map<std::string, std::string> out;
    for (const Rule& rule : rules_of(p)) out[rule.path] = rule.text;
    return out;
}

}  // namespace

TEST_CASE("the general ward's protocol has the values of common practice") {
    const Protocol p = shipped_protocol("general-ward");
    for (int i = 0; i < component_count; ++i) {
        const auto c = static_cast<Component>(i);
        INFO(code(c));
        CHECK(limit(p, c, LimitKind::hang, Anchor::issued) == minutes(30));
        CHECK(limit(p, c, LimitKind::finish, Anchor::issued) == hours(4));
        CHECK(limit(p, c, LimitKind::change_set, Anchor::spiked) == hours(4));
        REQUIRE(p.rules(c).slow.has_value());
        CHECK(p.rules(c).slow->rate == ml_per_h(50));
        CHECK(p.rules(c).slow->lasts == minutes(15));
        REQUIRE(p.rules(c).least_gauge.has_value());
        CHECK(p.rules(c).least_gauge->value == 22);
    }
    CHECK(limit(p, Component::red_cells, LimitKind::decide, Anchor::issued) == minutes(20));
    CHECK(p.rules(Component::red_cells).usual.least == minutes(90));
    CHECK(p.rules(Component::red_cells).usual.most == minutes(120));
    REQUIRE(p.keep_below_tenths_c.has_value());
    CHECK(p.keep_below_tenths_c->value == 100);
    CHECK(p.checks.baseline_within.value == minutes(30));
    CHECK(p.checks.at_start.value);
    REQUIRE(p.checks.early.size() == 1);
    CHECK(p.checks.early[0].after == minutes(15));
    CHECK(p.checks.early[0].counts_from == minutes(10));
    REQUIRE(p.checks.interval.has_value());
    CHECK(p.checks.interval->value == minutes(60));
    CHECK(p.checks.at_end.value);
    REQUIRE(p.checks.after.size() == 1);
    CHECK(p.checks.after[0].value == minutes(60));
    CHECK(p.saline_bags == std::vector<Volume>{ml(100), ml(250)});
    CHECK(p.clearing.value == Clearing::required);
    CHECK(p.primed_with.value == Primed::component);
    CHECK_FALSE(p.adopted);
    CHECK_FALSE(p.children);
}

TEST_CASE("two shipped protocols follow guidance that disagrees with the ward and with each other") {
    // Values: the JPAC handbook (4.11, 4.13) and the NZ Blood Service handbook and ward guides, as read.
    const Protocol removal = shipped_protocol("removal-clock");
    CHECK(limit(removal, Component::red_cells, LimitKind::finish, Anchor::left_storage) == hours(4));
    CHECK_FALSE(limit(removal, Component::red_cells, LimitKind::hang, Anchor::issued));
    CHECK_FALSE(removal.rules(Component::red_cells).slow);
    CHECK(removal.checks.baseline_within.value == minutes(60));
    CHECK_FALSE(removal.checks.interval);
    CHECK(removal.clearing.value == Clearing::forbidden);

    const Protocol half = shipped_protocol("half-hour-checks");
    CHECK(limit(half, Component::red_cells, LimitKind::send_back, Anchor::left_storage) == minutes(30));
    CHECK(half.use_after_send_back);
    CHECK(limit(half, Component::platelets, LimitKind::finish, Anchor::issued) == hours(1));
    REQUIRE(half.checks.interval.has_value());
    CHECK(half.checks.interval->value == minutes(30));
    CHECK(half.clearing.value == Clearing::required);
    CHECK(half.slow_counts_from.value == SlowFrom::vein);

    const auto names = demo_names("protocols");
    for (const std::string& a : names)
        for (const std::string& b : names) {
            INFO(a << " and " << b);
            CHECK((compare(shipped_protocol(a), shipped_protocol(b)).size() > 10) == (a != b));
        }
}

TEST_CASE("children are dosed and paced by weight, in steps of 0.1") {
    // JPAC handbook 10.3: red cells up to 5 mL/kg/h; a teaching note (Sinai EM): 1 mL/kg/h at risk.
    const Protocol p = shipped_protocol("children-by-weight");
    CHECK(p.children);
    CHECK(p.pump.step == tenths_of_ml_per_h(1));
    const ComponentRules& red = p.rules(Component::red_cells);
    REQUIRE((red.most_per_kg && red.most_per_kg_at_risk && red.least_gauge));
    CHECK(red.most_per_kg->value == hundredths_of_ml_per_kg_per_h(500));
    CHECK(red.most_per_kg_at_risk->value == hundredths_of_ml_per_kg_per_h(100));
    CHECK(red.least_gauge->value == 24);
    for (const ComponentRules& rules : p.components) {
        CHECK_FALSE(rules.slow);
        CHECK(rules.controlled_delivery == !rules.never_by);  // a pump cannot be asked for and forbidden
        CHECK(rules.most_per_kg);
    }
}

TEST_CASE("every shipped protocol is an example under its own name, and cites what it lists") {
    for (const std::string& name : demo_names("protocols")) {
        INFO(name);
        const Protocol p = shipped_protocol(name);
        CHECK(p.id == name);
        CHECK_FALSE(p.adopted);
        std::set<std::size_t> cited;
        int published = 0;
        for (const Rule& rule : rules_of(p)) {
            INFO(rule.path);
            if (rule.basis.source != Basis::no_source) {
                CHECK(rule.basis.source < p.sources.size());
                cited.insert(rule.basis.source);
            }
            const bool needs = rule.basis.grade == Grade::published || rule.basis.grade == Grade::quoted;
            if (needs) CHECK(rule.basis.source != Basis::no_source);
            published += rule.basis.grade == Grade::published;
        }
        CHECK(cited.size() == p.sources.size());
        CHECK(published > 10);
        // What nobody could read is never called published.
        for (const Rule& rule : rules_of(p))
            if (rule.basis.source != Basis::no_source &&
                p.sources[rule.basis.source].note.find("not readable") != std::string::npos)
                CHECK(rule.basis.grade == Grade::from_memory);
    }
}

TEST_CASE("every component has a time of its own in every shipped protocol") {
    for (const std::string& name : demo_names("protocols")) {
        const Protocol p = shipped_protocol(name);
        for (int i = 0; i < component_count; ++i) {
            const ComponentRules& rules = p.components[static_cast<std::size_t>(i)];
            INFO(name << " " << component_codes[static_cast<std::size_t>(i)]);
            CHECK(std::any_of(rules.limits.begin(), rules.limits.end(), [](const Limit& l) {
                return l.kind == LimitKind::finish && l.from != Anchor::thawed;
            }));
            CHECK((rules.usual.most || rules.usual.rate_per_kg));
            CHECK(rules.usual_volume);
            CHECK((rules.most || rules.most_per_kg));  // never only the device's own ceiling
        }
        CHECK(limit(p, Component::plasma, LimitKind::finish, Anchor::thawed));
        CHECK(limit(p, Component::cryoprecipitate, LimitKind::finish, Anchor::thawed));
        CHECK(p.rules(Component::platelets).new_set);
    }
}

TEST_CASE("a protocol that is written reads back as the same, and the shipped ones are in the written form") {
    for (const std::string& name : demo_names("protocols")) {
        INFO(name);
        const std::string text = file_text("demo-data/protocols/" + name + ".json");
        const Protocol p = shipped_protocol(name);
        const std::string written = write_protocol(p);
        const auto again = read_protocol(written);
        REQUIRE(again.ok());
        CHECK(again.value() == p);
        CHECK(written == text);
    }
}

TEST_CASE("a protocol with everything in it is written and reads back as the same") {
    Protocol p = shipped_protocol("children-by-weight");
    ComponentRules& red = p.components[0];
    red.slow = SlowStage{tenths_of_ml_per_h(155), hundredths_of_ml_per_kg_per_h(125), minutes(10), {}};
    red.usual.least = minutes(60);
    red.usual.most = minutes(200);
    p.set_units = Given<std::int32_t>{4, {Basis::no_source, Grade::from_memory}};
    p.title = "\"Quoted\" \\ \xC3\xBC <b>";
    p.adopted = true;
    p.lines[0].holds = hundredths_of_ml(725);
    const auto again = read_protocol(write_protocol(p));
    if (!again.ok()) FAIL(again.error().where << ": " << again.error().problem);
    CHECK(again.value() == p);
}

TEST_CASE("the rules of a protocol are told with their units") {
    const auto ward = rules(shipped_protocol("general-ward"));
    CHECK(ward.at("components.red_cells.limits.hang.issued") == "30 min");
    CHECK(ward.at("components.red_cells.limits.finish.issued") == "4 h");
    CHECK(ward.at("components.red_cells.slow_stage") == "50 mL/h for 15 min");
    CHECK(ward.at("components.red_cells.usual.duration") == "1 h 30 min to 2 h");
    CHECK(ward.at("components.red_cells.highest_by_weight_at_risk") == "1 mL/kg/h");
    CHECK(ward.at("components.red_cells.usual_bag") == "220 mL to 340 mL");
    CHECK(ward.at("components.red_cells.cannula") == "22 G or wider");
    CHECK(ward.at("components.platelets.new_set") == "needed");
    CHECK(ward.at("checks.baseline") == "at most 30 min old");
    CHECK(ward.at("checks.interval") == "every 1 h");
    CHECK(ward.at("saline.bags") == "100 mL or 250 mL");
    CHECK(ward.at("keeping.below") == "10 \xC2\xB0" "C");
    CHECK(ward.at("reserve.accuracy") == "5 %");
    CHECK(ward.at("gravity.drop_factor") == "20 drops/mL");
    const auto children = rules(shipped_protocol("children-by-weight"));
    CHECK(children.at("children") == "by weight");
    CHECK(children.at("components.red_cells.usual.rate") == "5 mL/kg/h");
    CHECK(children.at("pump.step") == "0.1 mL/h");

    for (const std::string& name : demo_names("protocols")) {
        const Protocol p = shipped_protocol(name);
        CHECK(rules(p).size() == rules_of(p).size());  // no path twice
    }
}

TEST_CASE("what differs between two protocols is what one would do otherwise") {
    const Protocol ward = shipped_protocol("general-ward");
    CHECK(compare(ward, ward).empty());

    Protocol other = ward;
    other.id = "another";
    other.title = "Another";
    other.checks.interval->basis = {};  // the same hour, resting on something else
    CHECK(compare(ward, other).empty());

    other.components[0].limits[1].within = minutes(45);
    other.checks.interval.reset();
    other.set_units = Given<std::int32_t>{2, {}};
    const auto found = compare(ward, other);
    REQUIRE(found.size() == 3);
    CHECK(found[0].path == "components.red_cells.limits.hang.issued");
    CHECK(found[0].left == "30 min");
    CHECK(found[0].right == "45 min");
    CHECK(found[1].path == "checks.interval");
    CHECK(found[1].right == no_rule_text);
    CHECK(found[2].path == "set.most_units");
    CHECK(found[2].left == no_rule_text);
    CHECK(found[2].right == "2 units");
    CHECK(compare(other, ward).size() == 3);
}

TEST_CASE("every field of a protocol is among its rules: a change of one is a difference") {
    // Over the file, so that a rule that is added to the format and forgotten here is found.
    const std::string text = file_text("demo-data/protocols/children-by-weight.json");
    const Protocol before = shipped_protocol("children-by-weight");
    int compared = 0;
    each_change(tree_of(text),
                [](json::Value& parent, std::size_t i) {
                    json::Value& value = parent.items[i];
                    if (value.kind == json::Kind::boolean) {
                        value.truth = !value.truth;
                        return true;
                    }
                    if (value.kind != json::Kind::number) return false;
                    char& last = value.text.back();
                    last = last == '9' ? '8' : static_cast<char>(last + 1);
                    return true;
                },
                [&](const std::string& path, const std::string& changed) {
                    const auto read = read_protocol(changed);
                    if (!read.ok() || path == "adopted") return;
                    ++compared;
                    INFO(path);
                    CHECK_FALSE(compare(before, read.value()).empty());
                });
    CHECK(compared > 60);
}

TEST_CASE("limits at their very edges are accepted") {
    const std::string text = file_text("demo-data/protocols/general-ward.json");
    const auto accepted = [&](const std::string& old, const std::string& by) {
        const auto read = read_protocol(replaced(text, old, by));
        INFO(by << (read.ok() ? "" : ": " + read.error().where + " " + read.error().problem));
        CHECK(read.ok());
    };
    accepted("\"decide\", \"from\": \"issued\", \"within_min\": 20",
             "\"decide\", \"from\": \"issued\", \"within_min\": 30");
    accepted("\"from\": \"thawed\", \"within_min\": 1440", "\"from\": \"thawed\", \"within_min\": 7200");
    accepted("\"from\": \"issued\", \"within_min\": 240, \"source\": \"traq\"",
             "\"from\": \"issued\", \"within_min\": 1440, \"source\": \"traq\"");
    accepted("\"first_rate_ml_per_h\": 50", "\"first_rate_ml_per_h\": 300");
    accepted("\"first_rate_ml_per_h\": 50", "\"first_rate_ml_per_h\": 1");
    accepted("\"least_min\": 150, \"most_min\": 210", "\"least_min\": 150, \"most_min\": 240");
    accepted("\"from_min\": 10", "\"from_min\": 15");
    accepted("\"every_min\": 30", "\"every_min\": 60");
    accepted("\"every_min\": 30", "\"every_min\": 5");
    accepted("\"closer_than_min\": 10", "\"closer_than_min\": 59");
    accepted("\"below_c\": 10", "\"below_c\": 10.5");
    accepted("\"drops_per_ml\": 20", "\"drops_per_ml\": 60");
    accepted("\"least_min\": 90, \"most_min\": 120", "\"least_min\": 120, \"most_min\": 120");
    accepted("\"least_min\": 150, \"most_min\": 210", "\"least_min\": 90, \"most_min\": 120");
    accepted("\"least_ml\": 220, \"most_ml\": 340", "\"least_ml\": 340, \"most_ml\": 340");
    accepted("\"step_ml_per_h\": 1, \"most_ml_per_h\": 999", "\"step_ml_per_h\": 1, \"most_ml_per_h\": 1");
    // Two early checks: the second counts from the minute at which the first is due.
    const std::string grade = "\"grade\": \"common_practice\"}";
    accepted("\"early\": [",
             "\"early\": [{\"after_min\": 10, \"counts\": {\"from_min\": 0, " + grade + ", " + grade + ",");
}

TEST_CASE("rules by weight may be equal, one at a time") {
    const Protocol p = shipped_protocol("children-by-weight");
    const auto accepted = [](const Protocol& changed) {
        const auto read = read_protocol(write_protocol(changed));
        INFO((read.ok() ? "" : read.error().where + " " + read.error().problem));
        CHECK(read.ok());
    };
    const RatePerKg one = hundredths_of_ml_per_kg_per_h(100), five = hundredths_of_ml_per_kg_per_h(500);
    Protocol q = p;
    q.components[0].slow = SlowStage{std::nullopt, five, minutes(15), {}};  // as fast as usual and as highest
    accepted(q);
    q = p;
    q.components[0].most_per_kg->value = one;
    q.components[0].usual.rate_per_kg = one;  // as slow as at risk
    accepted(q);
}

TEST_CASE("a slow stage ends before the earliest limit for the end, whatever that is counted from") {
    Protocol p = shipped_protocol("general-ward");
    ComponentRules& red = p.components[0];
    red.usual = {std::nullopt, minutes(50), std::nullopt, {}};
    red.usual_at_risk.reset();
    red.limits = {Limit{LimitKind::finish, Anchor::issued, minutes(90), {}},
                  Limit{LimitKind::finish, Anchor::spiked, minutes(60), {}},
                  Limit{LimitKind::finish, Anchor::thawed, minutes(30), {}}};  // thaw is not counted here
    red.slow->lasts = minutes(59);
    CHECK(read_protocol(write_protocol(p)).ok());
    red.slow->lasts = minutes(60);
    const auto read = read_protocol(write_protocol(p));
    REQUIRE_FALSE(read.ok());
    CHECK(read.error().where == "components.red_cells.slow_stage.lasts_min");
    CHECK(read.error().problem == "is not shorter than the finish limit of 60 min");
}

TEST_CASE("two early checks are due one after the other") {
    Protocol p = shipped_protocol("general-ward");
    p.checks.early = {{minutes(15), minutes(15), {}, {}}, {minutes(15), minutes(15), {}, {}}};
    const auto read = read_protocol(write_protocol(p));
    REQUIRE_FALSE(read.ok());
    CHECK(read.error().where == "checks.early[1].after_min");
}
