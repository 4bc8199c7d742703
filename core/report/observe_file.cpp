#include "core/report/observe_file.hpp"

#include "core/protocol/fields.hpp"
#include "core/session/reader.hpp"
#include "core/words/observe_words.hpp"

namespace hangtime {

namespace {

constexpr std::int64_t day_min = 24 * 60;
constexpr std::size_t most_sets = 100;

constexpr session_reader::FileForm form = {"hangtime_observations", [](const json::Field& file) {
    return file.object({"hangtime_observations", "protocol", "rule_set", "person", "baseline", "sets"});
}};

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
    return session_reader::read_protocol_key(text, form);
}

Result<ObserveFile> read_observe_file(std::string_view text, const Protocol& protocol) {
    const auto all = [&](const json::Object& top, json::Report& report) {
        ObserveFile out;
        out.protocol = protocol.id;
        if (const auto f = top.find("rule_set")) {
            out.rule_set = f->key();
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
        return out;
    };
    return session_reader::read_whole<ObserveFile>(text, form, protocol, all);
}

const RuleSet& chosen_rules(const Protocol& protocol, const ObserveFile& file) {
    const RuleSet* chosen = protocol.observations.find(file.rule_set);
    return chosen ? *chosen : protocol.observations.rule_sets.front();
}

}  // namespace hangtime
