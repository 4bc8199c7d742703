// What a transfusion file says, and what the protocol says where the file is silent.

#include "support.hpp"

#include "core/protocol/read.hpp"
#include "core/session/objects.hpp"

#include <catch2/catch_test_macros.hpp>

#include <algorithm>
#include <set>

using namespace hangtime;
using namespace hangtime::test;

namespace {

Instant utc(int year, int month, int day, int hour, int minute, int second = 0) {
    return {days_from_civil(year, month, day) * 86'400 + hour * 3600 + minute * 60 + second};
}

// A small file around `members`.
std::string file_with(const std::string& members, const std::string& protocol = "general-ward") {
    return "{\"hangtime_transfusion\": 1, \"clock\": {\"utc_offset_min\": 0}, \"protocol\": \"" + protocol +
           "\"" + (members.empty() ? "" : ", ") + members + "}";
}

Request read(const std::string& members, const std::string& protocol = "general-ward") {
    const auto out = read_request(file_with(members, protocol), shipped_protocol(protocol));
    if (!out.ok()) FAIL(members << ": " << out.error().where << " " << out.error().problem);
    return out.value();
}

Error error(const std::string& members, const std::string& protocol = "general-ward") {
    const auto out = read_request(file_with(members, protocol), shipped_protocol(protocol));
    if (out.ok()) FAIL("read: " << members);
    return out.error();
}

}  // namespace

TEST_CASE("the first demo is the first worked case of the issue") {
    const Request r = demo_request(demo_names("transfusions").front());
    CHECK(r.protocol == "general-ward");
    CHECK(r.bag_digits == "4821");
    CHECK(r.object == SpokenObject::kite);
    CHECK_FALSE(r.not_covered);
    const State& s = r.state;
    CHECK(s.unit.component == Component::red_cells);
    CHECK(s.unit.bag == ml(316));
    CHECK(s.order.pace == Order::Pace::within);
    CHECK(s.order.duration == minutes(120));
    CHECK(s.order.counts_from == CountsFrom::start);
    CHECK_FALSE(s.order.dose);
    CHECK(s.line.primed_with == Primed::component);
    CHECK(s.line.cleared);
    CHECK(s.line.holds == ml(20));
    CHECK(s.device.kind == DeviceKind::pump);
    CHECK(s.device.step == ml_per_h(1));
    REQUIRE((s.times.issued && s.times.start));
    CHECK(s.times.issued->at == utc(2026, 3, 14, 12, 40));  // 13:40 at UTC+1
    CHECK(s.times.issued->precision == Precision::minute);
    CHECK(s.times.start->when.at == utc(2026, 3, 14, 12, 52));
    CHECK_FALSE(s.times.start->happened);
    REQUIRE(s.checks_done.size() == 1);
    CHECK(s.checks_done[0].kind == CheckKind::baseline);
    CHECK(s.checks_done[0].when.at == utc(2026, 3, 14, 12, 31));
}

TEST_CASE("every demo is read, with a now, under a shipped protocol, and the worked cases are among them") {
    const auto names = demo_names("transfusions");
    CHECK(names.size() >= 10);
    std::set<std::string> protocols;
    std::set<int> components;
    bool estimated = false, gravity = false, saline = false, child = false, at_least = false, night = false;
    for (const std::string& name : names) {
        const Request r = demo_request(name);
        INFO(name);
        CHECK(r.now);
        protocols.insert(r.protocol);
        if (r.state.unit.component) components.insert(static_cast<int>(*r.state.unit.component));
        estimated |= r.state.recipient.weight_estimated;
        gravity |= r.state.device.kind == DeviceKind::gravity;
        saline |= r.state.line.primed_with == Primed::saline;
        child |= r.state.recipient.weight == Mass{11'600} && r.state.order.dose == ml(116);
        at_least |= r.state.order.pace == Order::Pace::at_least;
        night |= r.wall.change_count() == 1;
    }
    CHECK(protocols.size() == demo_names("protocols").size());
    CHECK(components.size() >= 3);
    CHECK((estimated && gravity && saline && child && at_least && night));
}

TEST_CASE("where the file is silent the protocol's own line, priming, clearing and device hold") {
    for (const std::string& name : demo_names("protocols")) {
        INFO(name);
        const Protocol p = shipped_protocol(name);
        const std::string weight = p.children ? "\"recipient\": {\"weight_kg\": 10}" : "";
        const State s = read(weight, name).state;
        CHECK(s.line.holds == p.lines[0].holds);
        CHECK(s.line.primed_with == p.primed_with.value);
        CHECK(s.line.cleared == (p.clearing.value != Clearing::forbidden));
        CHECK(s.line.lost == ml(0));
        CHECK(s.device.kind == DeviceKind::pump);
        CHECK(s.device.step == p.pump.step);
        CHECK(s.device.most == p.pump.most);
        CHECK(s.device.drops == p.drop_factor);
        CHECK(s.order.pace == Order::Pace::usual);
        CHECK_FALSE(s.order.counts_from);
        CHECK_FALSE((s.unit.component || s.unit.bag || s.unit.expires));
        CHECK_FALSE((s.times.issued || s.times.left_storage || s.times.thawed || s.times.spiked));
        CHECK_FALSE(s.times.start);
        CHECK(s.recipient.overload_risk == Answer::not_recorded);
        CHECK(s.recipient.can_report == Answer::not_recorded);
        CHECK(s.recipient.gauge == 0);
    }
}

TEST_CASE("each way to order is read") {
    using Pace = Order::Pace;
    CHECK(read("\"order\": {\"dose_ml\": 116.25}").state.order.dose == hundredths_of_ml(11'625));
    const std::string weight = ", \"recipient\": {\"weight_kg\": 70}";
    CHECK(read("\"order\": {\"dose_ml_per_kg\": 7.5}" + weight).state.order.dose_per_kg == DosePerKg{75});
    CHECK(read("\"order\": {\"within_min\": 90}").state.order.pace == Pace::within);
    CHECK(read("\"order\": {\"at_least_min\": 150}").state.order.pace == Pace::at_least);
    CHECK(read("\"order\": {\"rate_ml_per_h\": 33.33}").state.order.rate == hundredths_of_ml_per_h(3333));
    CHECK(read("\"order\": {\"rate_ml_per_h\": 33.33}").state.order.pace == Pace::at_rate);
    const Order by_weight = read("\"order\": {\"rate_ml_per_kg_per_h\": 2.5}" + weight).state.order;
    CHECK(by_weight.pace == Pace::at_rate_per_kg);
    CHECK(by_weight.rate_per_kg == hundredths_of_ml_per_kg_per_h(250));
    const Order slow = read("\"order\": {\"within_min\": 90, \"counts_from\": \"rate_change\", "
                            "\"max_rate_ml_per_h\": 150}").state.order;
    CHECK(slow.counts_from == CountsFrom::rate_change);
    CHECK(slow.most == ml_per_h(150));
    const Order both = read("\"order\": {\"rate_ml_per_h\": 150, \"max_rate_ml_per_h\": 150}").state.order;
    CHECK(both.rate == both.most);
}

TEST_CASE("weights are taken to the gram, and what was estimated stays estimated") {
    CHECK(read("\"recipient\": {\"weight_kg\": 11.6}").state.recipient.weight == Mass{11'600});
    CHECK(read("\"recipient\": {\"weight_kg\": 0.745}").state.recipient.weight == Mass{745});
    const std::string estimated = "\"recipient\": {\"weight_kg\": 3, \"weight_is\": \"estimated\"}";
    CHECK(read(estimated).state.recipient.weight_estimated);
    CHECK(error("\"recipient\": {\"weight_kg\": 0.1}").problem == "0.1 is too small");
    CHECK(error("\"recipient\": {\"weight_kg\": 11.6005}").problem == "11.6005 has too many decimals");
}

TEST_CASE("a line is told by its preset or by what it holds, a device by its kind") {
    const Protocol p = shipped_protocol("general-ward");
    CHECK(read("\"line\": {\"preset\": \"warmer\"}").state.line.holds == p.lines[2].holds);
    CHECK(read("\"line\": {\"holds_ml\": 7.5}").state.line.holds == tenths_of_ml(75));
    CHECK(read("\"line\": {\"lost_ml\": 3}").state.line.lost == ml(3));
    CHECK(read("\"line\": {\"primed_with\": \"saline\"}").state.line.primed_with == Primed::saline);
    CHECK_FALSE(read("\"recipient\": {\"weight_kg\": 9}, \"line\": {\"cleared_at_end\": false}",
                     "children-by-weight").state.line.cleared);
    const Device drip = read("\"device\": {\"kind\": \"gravity\", \"drops_per_ml\": 15}").state.device;
    CHECK(drip.kind == DeviceKind::gravity);
    CHECK(drip.drops == DropFactor{15});
    const std::string fine =
        "\"device\": {\"kind\": \"pump\", \"step_ml_per_h\": 0.1, \"max_ml_per_h\": 250}";
    const Device pump = read(fine).state.device;
    CHECK(pump.step == tenths_of_ml_per_h(1));
    CHECK(pump.most == ml_per_h(250));
}

TEST_CASE("each choice that is not covered is read as such, and asks for nothing") {
    for (int i = 0; i < not_covered_count; ++i) {
        const auto choice = static_cast<NotCovered>(i);
        const Request r = read("\"unit\": {\"component\": \"" + std::string(code(choice)) + "\"}");
        CHECK(r.not_covered == choice);
        CHECK_FALSE(r.state.unit.component);
        CHECK(read("\"unit\": {\"component\": \"" + std::string(code(choice)) + "\"}", "children-by-weight")
                  .not_covered == choice);
    }
}

TEST_CASE("a rule that needs a weight says which one it is") {
    const auto asked = [](const std::string& members, const std::string& protocol) {
        const Error e = error(members, protocol);
        CHECK(e.where == "recipient.weight_kg");
        return e.problem;
    };
    const std::string red = "\"unit\": {\"component\": \"red_cells\"}";
    CHECK(asked(red, "children-by-weight") == "is missing, and a protocol for children needs it");
    CHECK(asked(red + ", \"recipient\": {\"overload_risk\": \"yes\"}", "general-ward") ==
          "is missing, and the protocol's components.red_cells.highest_by_weight_at_risk needs it");
    CHECK(asked("\"order\": {\"dose_ml_per_kg\": 10}", "general-ward") ==
          "is missing, and order.dose_ml_per_kg needs it");
    CHECK(asked("\"order\": {\"rate_ml_per_kg_per_h\": 2}", "general-ward") ==
          "is missing, and order.rate_ml_per_kg_per_h needs it");
    // Without the rule, none is asked for.
    CHECK(read(red).state.recipient.weight.grams == 0);
    CHECK(read(red + ", \"recipient\": {\"overload_risk\": \"yes\"}", "removal-clock").state.unit.component);

    // Each kind of rule by weight, in a protocol of grown-ups.
    const auto asked_by = [&](Protocol p, const std::string& order) {
        const auto r = read_request(file_with(red + order), p);
        if (r.ok()) return std::string("nothing");
        CHECK(r.error().where == "recipient.weight_kg");
        return r.error().problem;
    };
    Protocol p = shipped_protocol("general-ward");
    CHECK(asked_by(p, "") == "nothing");
    p.components[0].most_per_kg = Given<RatePerKg>{hundredths_of_ml_per_kg_per_h(500), {}};
    CHECK(asked_by(p, "").find("highest_by_weight needs it") != std::string::npos);
    p = shipped_protocol("general-ward");
    p.components[0].slow->rate_per_kg = hundredths_of_ml_per_kg_per_h(100);
    CHECK(asked_by(p, "").find("slow_stage needs it") != std::string::npos);
    p = shipped_protocol("general-ward");
    p.components[0].usual.rate_per_kg = hundredths_of_ml_per_kg_per_h(250);
    CHECK(asked_by(p, "").find("usual needs it") != std::string::npos);
    CHECK(asked_by(p, ", \"order\": {\"within_min\": 120}") == "nothing");
    p = shipped_protocol("general-ward");
    p.components[0].most_per_kg_at_risk.reset();
    p.components[0].usual_at_risk->rate_per_kg = hundredths_of_ml_per_kg_per_h(100);
    CHECK(asked_by(p, "") == "nothing");
    CHECK(asked_by(p, ", \"recipient\": {\"overload_risk\": \"yes\"}").find("usual_at_risk needs it") !=
          std::string::npos);
}

TEST_CASE("a time to the minute may be any second of it") {
    const auto times = [](const std::string& issued, const std::string& start) {
        const std::string day = "\"2026-03-14T";
        return "\"times\": {\"issued_at\": " + day + issued + "\", \"start_at\": " + day + start + "\"}";
    };
    CHECK(read(times("13:40:30", "13:40")).state.times.start);
    CHECK(read(times("13:40", "13:40")).state.times.start);
    CHECK(read(times("13:40:59", "13:40")).state.times.start);
    CHECK(read(times("13:40:30", "13:40:30")).state.times.start);
    CHECK(error(times("13:40:30", "13:40:29")).where == "times.start_at");
    CHECK(error(times("13:40", "13:39")).where == "times.start_at");
    CHECK(error(times("13:40", "13:39")).problem == "2026-03-14T13:39:00+00:00 is before issued_at");
    CHECK(error(times("13:40", "13:39")).accepted == "a time at or after 2026-03-14T13:40:00+00:00");
}

TEST_CASE("a thaw or leaving storage after the issue is no contradiction") {
    const Request r = read("\"unit\": {\"component\": \"plasma\"}, "
                           "\"times\": {\"issued_at\": \"2026-03-14T10:00\", "
                           "\"left_storage_at\": \"2026-03-14T10:20\", \"thawed_at\": \"2026-03-14T10:30\", "
                           "\"start_at\": \"2026-03-14T10:45\"}");
    CHECK(r.state.times.thawed->at == utc(2026, 3, 14, 10, 30));
    CHECK(r.state.times.left_storage->at == utc(2026, 3, 14, 10, 20));
}

TEST_CASE("times of one transfusion are within five days") {
    const auto at = [](const std::string& start) {
        return "\"times\": {\"issued_at\": \"2026-03-14T10:00\", \"start_at\": \"" + start + "\"}";
    };
    CHECK(read(at("2026-03-19T10:00")).state.times.start);
    CHECK(error(at("2026-03-19T10:01")).where == "times.start_at");
    const auto left = [](const std::string& time) {
        return "\"times\": {\"issued_at\": \"2026-03-14T10:00\", \"left_storage_at\": \"" + time + "\"}";
    };
    CHECK(read(left("2026-03-09T10:00")).state.times.left_storage);
    CHECK(error(left("2026-03-09T09:59")).where == "times.left_storage_at");
    const Error now = error("\"now\": \"2026-03-20T10:00\", \"times\": {\"start_at\": \"2026-03-14T10:00\"}");
    CHECK(now.where == "now");
    CHECK(now.problem.ends_with("more than 5 days from start_at"));
}

TEST_CASE("what happens now has happened") {
    const auto started = [](const std::string& time) {
        return "\"now\": \"2026-03-14T10:00\", "
               "\"times\": {\"start_is\": \"happened\", \"start_at\": \"2026-03-14T" + time + "\"}";
    };
    CHECK(read(started("10:00")).state.times.start->happened);
    CHECK(error(started("10:00:01")).where == "times.start_at");
}

TEST_CASE("a bag holds more than priming lost, and fills the line") {
    const auto unit = [](const char* bag, const char* line) {
        return "\"unit\": {\"component\": \"red_cells\", \"bag_ml\": " + std::string(bag) +
               "}, \"line\": {" + line + "}";
    };
    CHECK(read(unit("20", "\"holds_ml\": 20")).state.unit.bag == ml(20));
    CHECK(error(unit("20", "\"holds_ml\": 20.01")).where == "unit.bag_ml");
    CHECK(error(unit("20", "\"holds_ml\": 20, \"lost_ml\": 0.01")).where == "unit.bag_ml");
    const std::string saline = "\"primed_with\": \"saline\", \"lost_ml\": ";
    CHECK(read(unit("20", (saline + "19.99").c_str())).state.line.lost == hundredths_of_ml(1999));
    CHECK(error(unit("20", (saline + "20").c_str())).where == "line.lost_ml");
}

TEST_CASE("the night on which the clock is put back is read by offsets") {
    const Request r = demo_request("09-night-of-the-clock-change");
    CHECK(r.wall.offset_at(utc(2026, 10, 25, 0, 59, 59)) == hours(2));
    CHECK(r.wall.offset_at(utc(2026, 10, 25, 1, 0)) == hours(1));
    CHECK(r.now->at == utc(2026, 10, 25, 1, 10));
    CHECK(r.state.times.start->when.at == utc(2026, 10, 24, 22, 5, 20));
    CHECK(r.state.times.start->when.precision == Precision::second);
    CHECK(r.state.checks_done[4].when.at == utc(2026, 10, 25, 0, 5));
}

TEST_CASE("the id of the protocol is read first, and the wrong protocol is refused") {
    const std::string text = file_text("demo-data/transfusions/01-red-cells-adult.json");
    CHECK(read_protocol_id(text).value() == "general-ward");
    const auto wrong = read_request(text, shipped_protocol("removal-clock"));
    REQUIRE_FALSE(wrong.ok());
    CHECK(wrong.error().where == "protocol");
    CHECK(wrong.error().accepted == "removal-clock");
}

TEST_CASE("objects have names of their own, in order, and none is a letter") {
    std::set<std::string_view> seen;
    for (const std::string_view word : spoken_object_names) {
        CHECK(word.size() > 2);
        CHECK(seen.insert(word).second);
        CHECK(std::all_of(word.begin(), word.end(), [](char c) { return c >= 'a' && c <= 'z'; }));
    }
    CHECK(std::is_sorted(spoken_object_names.begin(), spoken_object_names.end()));
    CHECK(name(SpokenObject::kite) == "kite");
    CHECK(name(SpokenObject::wheel) == "wheel");
    for (const std::string_view word : spoken_object_names)
        CHECK(name(*read("\"object\": \"" + std::string(word) + "\"").object) == word);
}
