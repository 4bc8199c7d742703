#include "core/protocol/read.hpp"
#include "core/protocol/reader.hpp"

namespace hangtime::protocol_reader {

namespace {

// The events that a limit of each kind can be counted from; the first ones that can be before it.
std::vector<std::string_view> anchors_of(LimitKind kind) {
    switch (kind) {
    case LimitKind::decide:
    case LimitKind::send_back: return {code(Anchor::issued), code(Anchor::left_storage)};
    case LimitKind::hang: return {code(Anchor::issued), code(Anchor::left_storage), code(Anchor::thawed)};
    case LimitKind::start:
        return {code(Anchor::issued), code(Anchor::left_storage), code(Anchor::thawed), code(Anchor::spiked)};
    case LimitKind::finish: break;
    case LimitKind::change_set: return {code(Anchor::spiked), code(Anchor::started)};
    }
    return {code(Anchor::issued), code(Anchor::left_storage), code(Anchor::thawed), code(Anchor::spiked),
            code(Anchor::started)};
}

std::vector<Limit> read_limits(const json::Field& field, const BasisReader& basis) {
    std::vector<Limit> out;
    for (const json::Field& item : field.list(1, bounds::limits_per_component)) {
        const json::Object o = item.object({"kind", "from", "within_min", "source", "grade"});
        Limit limit;
        limit.kind = fields::choice<LimitKind>(o.at("kind"));
        const auto accepted = anchors_of(limit.kind);
        limit.from = code_from<Anchor>(accepted[o.at("from").choice(accepted)]).value_or(Anchor::issued);
        limit.within = fields::minutes_of(o.at("within_min"), 1, bounds::longest_from_thaw.count / 60);
        limit.basis = basis(o);
        out.push_back(limit);
    }
    return out;
}

SlowStage read_slow(const json::Field& field, const BasisReader& basis) {
    const json::Object o = field.object(
        {"first_rate_ml_per_h", "first_rate_ml_per_kg_per_h", "lasts_min", "source", "grade"});
    SlowStage out;
    if (const auto f = o.find("first_rate_ml_per_h")) out.rate = fields::rate(*f);
    if (const auto f = o.find("first_rate_ml_per_kg_per_h")) out.rate_per_kg = fields::rate_per_kg(*f);
    if (!out.rate && !out.rate_per_kg)
        field.fail("has no rate", "first_rate_ml_per_h, first_rate_ml_per_kg_per_h or both");
    out.lasts = fields::minutes_of(o.at("lasts_min"), 1, 120);
    out.basis = basis(o);
    return out;
}

UsualPace read_pace(const json::Field& field, const BasisReader& basis) {
    const json::Object o = field.object({"least_min", "most_min", "rate_ml_per_kg_per_h", "source", "grade"});
    UsualPace out;
    constexpr std::int64_t most = bounds::longest_finish.count / 60;
    if (const auto f = o.find("least_min")) out.least = fields::minutes_of(*f, 1, most);
    if (const auto f = o.find("most_min")) out.most = fields::minutes_of(*f, 1, most);
    if (const auto f = o.find("rate_ml_per_kg_per_h")) out.rate_per_kg = fields::rate_per_kg(*f);
    if (!out.most && !out.rate_per_kg)
        field.fail("says neither how long nor how fast", "most_min, rate_ml_per_kg_per_h or both");
    out.basis = basis(o);
    return out;
}

// A group that says that something is needed; `false` is written by leaving the group out.
bool read_needed(const json::Object& rules, std::string_view name, const BasisReader& basis, Basis& out) {
    const auto field = rules.find(name);
    if (!field) return false;
    const json::Object o = field->object({"needed", "source", "grade"});
    const json::Field needed = o.at("needed");
    if (!needed.boolean()) needed.fail("is not true", "true, or no \"" + std::string(name) + "\" at all");
    out = basis(o);
    return true;
}

std::optional<Given<RatePerKg>> read_by_weight(const json::Object& rules, std::string_view name,
                                               const BasisReader& basis) {
    const auto field = rules.find(name);
    if (!field) return std::nullopt;
    const json::Object o = field->object({"rate_ml_per_kg_per_h", "source", "grade"});
    return Given<RatePerKg>{fields::rate_per_kg(o.at("rate_ml_per_kg_per_h")), basis(o)};
}

}  // namespace

ComponentRules read_component(const json::Field& field, const BasisReader& basis) {
    const json::Object o = field.object({"limits", "slow_stage", "usual", "usual_at_risk", "highest",
                                         "highest_by_weight", "highest_by_weight_at_risk", "usual_bag",
                                         "cannula", "controlled_delivery", "never_by", "new_set"});
    ComponentRules out;
    out.limits = read_limits(o.at("limits"), basis);
    if (const auto f = o.find("slow_stage")) out.slow = read_slow(*f, basis);
    out.usual = read_pace(o.at("usual"), basis);
    if (const auto f = o.find("usual_at_risk")) out.usual_at_risk = read_pace(*f, basis);
    if (const auto f = o.find("highest")) {
        const json::Object group = f->object({"rate_ml_per_h", "source", "grade"});
        out.most = Given<Rate>{fields::rate(group.at("rate_ml_per_h")), basis(group)};
    }
    out.most_per_kg = read_by_weight(o, "highest_by_weight", basis);
    out.most_per_kg_at_risk = read_by_weight(o, "highest_by_weight_at_risk", basis);
    if (const auto f = o.find("usual_bag")) {
        const json::Object group = f->object({"least_ml", "most_ml", "source", "grade"});
        out.usual_volume = ComponentRules::Range{fields::volume(group.at("least_ml")),
                                                 fields::volume(group.at("most_ml")), basis(group)};
    }
    if (const auto f = o.find("cannula")) {
        const json::Object group = f->object({"least_gauge", "source", "grade"});
        out.least_gauge = Given<std::int32_t>{
            static_cast<std::int32_t>(group.at("least_gauge").integer(14, 27)), basis(group)};
    }
    out.controlled_delivery = read_needed(o, "controlled_delivery", basis, out.controlled_delivery_basis);
    if (const auto f = o.find("never_by")) {
        const json::Object group = f->object({"device", "source", "grade"});
        out.never_by = Given<DeviceKind>{fields::choice<DeviceKind>(group.at("device")), basis(group)};
    }
    out.new_set = read_needed(o, "new_set", basis, out.new_set_basis);
    return out;
}

}  // namespace hangtime::protocol_reader
