#include "core/protocol/read.hpp"
#include "core/protocol/reader.hpp"

namespace hangtime::protocol_reader {

namespace {

constexpr std::int64_t day_min = 24 * 60;

Given<Seconds> read_every(const json::Field& field, const BasisReader& basis) {
    const json::Object o = field.object({"every_min", "source", "grade"});
    return {fields::minutes_of(o.at("every_min"), bounds::least_interval.count / 60, day_min), basis(o)};
}

Given<bool> read_due(const json::Field& field, const BasisReader& basis) {
    const json::Object o = field.object({"due", "source", "grade"});
    return {o.at("due").boolean(), basis(o)};
}

}  // namespace

CheckRules read_checks(const json::Field& field, const BasisReader& basis) {
    const json::Object o = field.object({"baseline", "early", "interval", "interval_cannot_report",
                                         "at_start", "at_end", "after", "grace", "merge_into_end"});
    CheckRules out;
    const json::Object baseline = o.at("baseline").object({"within_min", "source", "grade"});
    out.baseline_within = {fields::minutes_of(baseline.at("within_min"), 1, day_min), basis(baseline)};
    for (const json::Field& item : o.at("early").list(0, bounds::early_checks)) {
        const json::Object early = item.object({"after_min", "counts", "source", "grade"});
        const json::Object counts = early.at("counts").object({"from_min", "source", "grade"});
        out.early.push_back({fields::minutes_of(early.at("after_min"), 1, 120),
                             fields::minutes_of(counts.at("from_min"), 0, 120), basis(early), basis(counts)});
    }
    if (const auto f = o.find("interval")) out.interval = read_every(*f, basis);
    if (const auto f = o.find("interval_cannot_report")) out.interval_cannot_report = read_every(*f, basis);
    out.at_start = read_due(o.at("at_start"), basis);
    out.at_end = read_due(o.at("at_end"), basis);
    for (const json::Field& item : o.at("after").list(0, bounds::after_checks)) {
        const json::Object after = item.object({"after_end_min", "source", "grade"});
        out.after.push_back({fields::minutes_of(after.at("after_end_min"), 1, 2 * day_min), basis(after)});
    }
    const json::Object grace = o.at("grace").object({"late_after_min", "source", "grade"});
    out.grace = fields::minutes_of(grace.at("late_after_min"), 0, 60);
    out.grace_basis = basis(grace);
    const json::Object merge = o.at("merge_into_end").object({"closer_than_min", "source", "grade"});
    out.merge_into_end = fields::minutes_of(merge.at("closer_than_min"), 0, 60);
    out.merge_basis = basis(merge);
    return out;
}

}  // namespace hangtime::protocol_reader
