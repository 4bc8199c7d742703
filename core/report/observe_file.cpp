#include "core/report/observe_file.hpp"

#include "core/json/read.hpp"
#include "core/protocol/fields.hpp"
#include "core/words/observe_words.hpp"

namespace hangtime {

namespace {

constexpr std::int64_t day_min = 24 * 60;
constexpr std::size_t most_sets = 100;

json::Object read_top(json::Report& report, const json::Value& tree) {
    return json::Field(report, &tree, "")
        .object({"hangtime_observations", "protocol", "rule_set", "person", "baseline", "sets"});
}

std::string read_id(const json::Field& field) {
    std::string id = field.text(1, 40);
    if (!id.empty() && !json::is_key(id))
        field.fail("\"" + id + "\" is not an id", "letters a to z, digits and -, beginning with a letter");
    return id;
}

std::string read_protocol_of(const json::Object& top) {
    top.at("hangtime_observations").integer(1, 1);
    return read_id(top.at("protocol"));
}

Person read_person(const json::Field& field) {
    const json::Object o = field.object({"age", "weight_kg", "pregnant", "saturation_scale_2"});
    Person out;
    if (const auto f = o.find("age")) out.age = fields::choice<AgeGroup>(*f);
    if (const auto f = o.find("weight_kg")) out.weight = fields::mass(*f);
    if (const auto f = o.find("pregnant")) out.pregnant = f->boolean();
    if (const auto f = o.find("saturation_scale_2")) out.saturation_scale_2 = f->boolean();
    return out;
}

TimedSet read_set(const json::Field& field, std::int64_t least_min, std::int64_t most_min) {
    const json::Object o = field.object({"from_start_min", "observed"});
    return {minutes(o.at("from_start_min").integer(least_min, most_min)), read_observation(o.at("observed"))};
}

}  // namespace

Result<std::string> read_observe_protocol(std::string_view text) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    const std::string id = read_protocol_of(read_top(report, tree.value()));
    if (!report.ok()) return report.error();
    return id;
}

Result<ObserveFile> read_observe_file(std::string_view text, const Protocol& protocol) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    const json::Object top = read_top(report, tree.value());
    ObserveFile out;
    out.protocol = read_protocol_of(top);
    if (report.ok() && out.protocol != protocol.id)
        top.named("protocol").fail("\"" + out.protocol + "\" is not the protocol at hand", protocol.id);
    if (const auto f = top.find("rule_set")) {
        out.rule_set = read_id(*f);
        if (report.ok() && !protocol.observations.find(out.rule_set)) {
            std::vector<std::string_view> ids;
            for (const RuleSet& set : protocol.observations.rule_sets) ids.push_back(set.id);
            f->fail("\"" + out.rule_set + "\" is not among the protocol's rule sets", json::listed(ids));
        }
    }
    if (const auto f = top.find("person")) out.person = read_person(*f);
    out.baseline = read_set(top.at("baseline"), -day_min, 0);
    for (const json::Field& item : top.at("sets").list(0, most_sets)) {
        const TimedSet set = read_set(item, 0, 5 * day_min);
        if (report.ok() && !out.sets.empty() && set.from_start <= out.sets.back().from_start)
            item.fail("is not later than the set before it", "sets in order of time");
        out.sets.push_back(set);
    }
    if (!report.ok()) return report.error();
    return out;
}

const RuleSet& chosen_rules(const Protocol& protocol, const ObserveFile& file) {
    const RuleSet* chosen = protocol.observations.find(file.rule_set);
    return chosen ? *chosen : protocol.observations.rule_sets.front();
}

}  // namespace hangtime
