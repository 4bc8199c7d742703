#include "core/protocol/fields.hpp"
#include "core/session/reader.hpp"

namespace hangtime::session_reader {

Order read_order(const json::Field& field) {
    const json::Object o = field.object({"dose_ml", "dose_ml_per_kg", "within_min", "at_least_min",
                                         "rate_ml_per_h", "rate_ml_per_kg_per_h", "counts_from",
                                         "max_rate_ml_per_h"});
    constexpr std::int64_t longest = bounds::span.count / 60;
    Order out;
    if (const auto f = o.find("dose_ml")) out.dose = fields::volume(*f);
    if (const auto f = o.find("dose_ml_per_kg")) out.dose_per_kg = fields::dose_per_kg(*f);
    if (out.dose && out.dose_per_kg)
        field.fail("has both dose_ml and dose_ml_per_kg", "one of them, or neither for the whole bag");

    int paces = 0;
    if (const auto f = o.find("within_min")) {
        out.pace = Order::Pace::within;
        out.duration = fields::minutes_of(*f, 1, longest);
        ++paces;
    }
    if (const auto f = o.find("at_least_min")) {
        out.pace = Order::Pace::at_least;
        out.duration = fields::minutes_of(*f, 1, longest);
        ++paces;
    }
    if (const auto f = o.find("rate_ml_per_h")) {
        out.pace = Order::Pace::at_rate;
        out.rate = fields::rate(*f);
        ++paces;
    }
    if (const auto f = o.find("rate_ml_per_kg_per_h")) {
        out.pace = Order::Pace::at_rate_per_kg;
        out.rate_per_kg = fields::rate_per_kg(*f);
        ++paces;
    }
    if (paces > 1)
        field.fail("says more than once how fast",
                   "one of within_min, at_least_min, rate_ml_per_h and rate_ml_per_kg_per_h, or none");

    if (const auto f = o.find("counts_from")) {
        out.counts_from = fields::choice<CountsFrom>(*f);
        if (out.pace != Order::Pace::within && out.pace != Order::Pace::at_least)
            f->fail("is there without a duration", "within_min or at_least_min beside it");
    }
    if (const auto f = o.find("max_rate_ml_per_h")) {
        out.most = fields::rate(*f);
        if (out.pace == Order::Pace::at_rate && out.rate > *out.most)
            f->fail("is less than rate_ml_per_h", "at least rate_ml_per_h");
    }
    return out;
}

void read_line(const json::Field& field, const Protocol& protocol, Line& line) {
    const json::Object o = field.object({"holds_ml", "preset", "primed_with", "cleared_at_end", "lost_ml"});
    if (const auto f = o.find("holds_ml")) line.holds = fields::volume(*f, tenths_of_ml(1), ml(200));
    if (const auto f = o.find("preset")) {
        if (o.has("holds_ml")) field.fail("has both holds_ml and preset", "one of them, or neither");
        std::vector<std::string_view> accepted;
        for (const LinePreset& preset : protocol.lines) accepted.push_back(code(preset.kind));
        const std::size_t chosen = f->choice(accepted);
        if (chosen < protocol.lines.size()) line.holds = protocol.lines[chosen].holds;
    }
    if (const auto f = o.find("primed_with")) line.primed_with = fields::choice<Primed>(*f);
    if (const auto f = o.find("cleared_at_end")) {
        line.cleared = f->boolean();
        if (protocol.clearing.value == (line.cleared ? Clearing::forbidden : Clearing::required))
            f->fail(line.cleared ? "is true, but the protocol forbids clearing"
                                 : "is false, but the protocol requires clearing",
                    line.cleared ? "false, or leave it out" : "true, or leave it out");
    }
    if (const auto f = o.find("lost_ml")) line.lost = fields::volume(*f, {0}, ml(200));
}

void read_device(const json::Field& field, Device& device) {
    const json::Object o = field.object({"kind", "step_ml_per_h", "max_ml_per_h", "drops_per_ml"});
    device.kind = fields::choice<DeviceKind>(o.at("kind"));
    const bool gravity = device.kind == DeviceKind::gravity;
    for (const std::string_view key : {"step_ml_per_h", "max_ml_per_h", "drops_per_ml"}) {
        const bool of_gravity = key == "drops_per_ml";
        if (o.has(key) && of_gravity != gravity)
            o.named(key).fail("does not go with kind \"" + std::string(code(device.kind)) + "\"",
                              gravity ? "drops_per_ml" : "step_ml_per_h and max_ml_per_h");
    }
    if (const auto f = o.find("step_ml_per_h")) device.step = fields::rate(*f);
    if (const auto f = o.find("max_ml_per_h")) device.most = fields::rate(*f);
    if (const auto f = o.find("drops_per_ml")) device.drops = fields::drop_factor(*f);
    if (!gravity && device.step > device.most)
        o.named(o.has("step_ml_per_h") ? "step_ml_per_h" : "max_ml_per_h")
            .fail("makes the step larger than the highest rate", "a step of at most the highest rate");
}

}  // namespace hangtime::session_reader
