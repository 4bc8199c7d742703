#include "core/session/read.hpp"

#include "core/protocol/fields.hpp"
#include "core/session/reader.hpp"

#include <algorithm>

namespace hangtime {

namespace {

using namespace session_reader;

constexpr FileForm form = {"hangtime_transfusion", [](const json::Field& file) {
    return file.object({"hangtime_transfusion", "protocol", "clock", "now", "bag_digits", "object", "unit", "order",
                        "recipient", "line", "device", "times", "checks_done"});
}};

void read_unit(const json::Field& field, Request& request) {
    const json::Object o = field.object({"component", "bag_ml", "expires_at"});
    if (const auto f = o.find("component")) {
        std::vector<std::string_view> accepted(component_codes.begin(), component_codes.end());
        accepted.insert(accepted.end(), not_covered_codes.begin(), not_covered_codes.end());
        const std::string_view chosen = accepted[f->choice(accepted)];
        request.state.unit.component = component_from(chosen);
        request.not_covered = not_covered_from(chosen);
    }
    if (const auto f = o.find("bag_ml")) request.state.unit.bag = fields::volume(*f);
    if (const auto f = o.find("expires_at")) request.state.unit.expires = read_stated(*f, request.wall);
}

void read_checks_done(const json::Field& field, const WallClock& wall, State& state) {
    for (const json::Field& item : field.list(0, state.checks_done.capacity())) {
        const json::Object o = item.object({"kind", "index", "at"});
        CheckDone done;
        done.kind = fields::choice<CheckKind>(o.at("kind"));
        if (const auto f = o.find("index"))
            done.index = static_cast<std::int32_t>(f->integer(0, static_cast<std::int64_t>(most_checks) - 1));
        done.when = read_stated(o.at("at"), wall);
        for (const CheckDone& earlier : state.checks_done)
            if (earlier.kind == done.kind && earlier.index == done.index)
                item.fail("is there twice: " + std::string(code(done.kind)) + " " +
                              std::to_string(done.index),
                          "each check once; \"index\" counts the checks of a kind from 0");
        state.checks_done.add(done);
    }
}

// Exactly four letters or digits: too few to find anybody by, enough to tell two bags in a room apart.
std::string read_bag_digits(const json::Field& field) {
    const std::string text = field.text(4, 4);
    const auto plain = [](char c) { return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z'); };
    if (!std::all_of(text.begin(), text.end(), plain))
        field.fail("\"" + text + "\" has other characters",
                   "the last 4 of the donation number, 0 to 9 and A to Z");
    return text;
}

}  // namespace

namespace session_reader {

std::string read_protocol_key(const json::Object& top, const FileForm& form) {
    top.at(form.version).integer(1, 1);
    return top.at("protocol").key();
}

Result<std::string> read_protocol_key(std::string_view text, const FileForm& form) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    const std::string id = read_protocol_key(form.top(json::Field(report, &tree.value(), "")), form);
    if (!report.ok()) return report.error();
    return id;
}

Component read_component(const json::Field& field) {
    const std::vector<std::string_view> components(component_codes.begin(), component_codes.end());
    return static_cast<Component>(field.choice(components));
}

Recipient read_recipient(const json::Object& o) {
    Recipient out;
    if (const auto f = o.find("weight_kg")) out.weight = fields::mass(*f);
    if (const auto f = o.find("weight_is")) {
        constexpr std::array<std::string_view, 2> accepted = {"measured", "estimated"};
        out.weight_estimated = f->choice(accepted) == 1;
        if (out.weight.grams == 0)
            f->fail("is there, but weight_kg is not", "weight_kg beside it, or neither");
    }
    if (const auto f = o.find("overload_risk")) out.overload_risk = fields::choice<Answer>(*f);
    if (const auto f = o.find("can_report")) out.can_report = fields::choice<Answer>(*f);
    if (const auto f = o.find("gauge")) out.gauge = static_cast<std::int32_t>(f->integer(14, 27));
    return out;
}

}  // namespace session_reader

Result<std::string> read_protocol_id(std::string_view text) { return read_protocol_key(text, form); }

Result<Request> read_request(std::string_view text, const Protocol& protocol) {
    return read_whole<Request>(text, form, protocol, [&](const json::Object& top, json::Report& report) {
        Request out;
        out.protocol = protocol.id;
        out.state = new_state(protocol);
        out.wall = read_clock(top.at("clock"));
        if (const auto f = top.find("now")) out.now = read_stated(*f, out.wall);
        if (const auto f = top.find("bag_digits")) out.bag_digits = read_bag_digits(*f);
        if (const auto f = top.find("object")) out.object = f->choice<SpokenObject>(spoken_object_names);
        if (const auto f = top.find("unit")) read_unit(*f, out);
        if (const auto f = top.find("order")) out.state.order = read_order(*f);
        if (const auto f = top.find("recipient"))
            out.state.recipient =
                read_recipient(f->object({"weight_kg", "weight_is", "overload_risk", "can_report", "gauge"}));
        if (const auto f = top.find("line")) read_line(*f, protocol, out.state.line);
        if (const auto f = top.find("device")) read_device(*f, out.state.device);
        if (const auto f = top.find("times")) out.state.times = read_times(*f, out.wall);
        if (const auto f = top.find("checks_done")) read_checks_done(*f, out.wall, out.state);
        if (report.ok()) report_contradictions(out, protocol, report);
        return out;
    });
}

}  // namespace hangtime
