#include "core/protocol/reader.hpp"
#include "core/words/round_words.hpp"

namespace hangtime::protocol_reader {

namespace {

Given<Seconds> read_span(const json::Object& o, std::string_view name, std::string_view key, int least,
                         int most, const BasisReader& basis) {
    const json::Object group = o.at(name).object({key, "source", "grade"});
    return {fields::minutes_of(group.at(key), least, most), basis(group)};
}

}  // namespace

RoundRules read_round(const json::Field& field, const BasisReader& basis) {
    const json::Object o = field.object({"set", "component_change", "reassess", "reassessment",
                                         "next_baseline", "call", "match", "attended", "check"});
    RoundRules out;
    const json::Object set = o.at("set").object({"use", "source", "grade"});
    out.set_use = {fields::choice<SetUse>(set.at("use")), basis(set)};
    const json::Object change = o.at("component_change").object({"new_set_for", "source", "grade"});
    out.set_change = {fields::choice<SetChange>(change.at("new_set_for")), basis(change)};
    const json::Object reassess = o.at("reassess").object({"after", "source", "grade"});
    out.reassess = {fields::choice<Reassess>(reassess.at("after")), basis(reassess)};
    const Given<Seconds> takes = read_span(o, "reassessment", "takes_min", 0, 240, basis);
    out.reassess_takes = takes.value;
    out.reassess_takes_basis = takes.basis;
    const json::Object baseline = o.at("next_baseline").object({"is_end_check", "source", "grade"});
    out.end_check_is_baseline = {baseline.at("is_end_check").boolean(), basis(baseline)};
    const json::Object call = o.at("call").object({"ready_min", "transport_min", "source", "grade"});
    out.call = {fields::minutes_of(call.at("ready_min"), 0, 240),
                fields::minutes_of(call.at("transport_min"), 0, 120), basis(call)};
    out.match_takes = read_span(o, "match", "takes_min", 1, 60, basis);
    out.attended = read_span(o, "attended", "first_min", 1, 60, basis);
    out.check_takes = read_span(o, "check", "takes_min", 1, 5, basis);
    return out;
}

void report_round_contradictions(const RoundRules& rules, const CheckRules& checks, json::Report& report) {
    if (checks.grace < minutes(5))
        report.fail("checks.grace.late_after_min",
                    "is less than a slot of the 5 min grid, on which the protocol's \"round\" places checks",
                    "at least 5, or no \"round\"");
    if (rules.reassess.value == Reassess::not_asked && rules.reassess_takes > Seconds{})
        report.fail("round.reassessment.takes_min", "is more than 0, but nobody is asked to look again",
                    "0, or round.reassess.after \"each_unit\" or \"at_risk\"");
}

}  // namespace hangtime::protocol_reader
