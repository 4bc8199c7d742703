#include "core/session/reader.hpp"
#include "core/words/spelling.hpp"

namespace hangtime::session_reader {

namespace {

class RequestCheck {
public:
    RequestCheck(const Request& request, const Protocol& protocol, json::Report& report)
        : request_(request), state_(request.state), protocol_(protocol), report_(report) {}

    void run() {
        order_of_times();
        spans();
        checks_done();
        volumes();
        weight();
    }

private:
    std::string time_text(const Stated& t) const { return iso_text(t.at, request_.wall); }

    // A time to the minute may have been any second of it.
    static bool surely_before(const Stated& a, const Stated& b) {
        const Seconds inside = a.precision == Precision::minute ? Seconds{59} : Seconds{0};
        return a.at + inside < b.at;
    }

    void not_before(std::string_view key, const std::optional<Stated>& later, std::string_view first_key,
                    const std::optional<Stated>& first) {
        if (!later || !first || !surely_before(*later, *first)) return;
        report_.fail(std::string(key), time_text(*later) + " is before " + std::string(first_key),
                     "a time at or after " + time_text(*first));
    }

    void order_of_times() {
        const Times& t = state_.times;
        const std::optional<Stated> start = t.start ? std::optional(t.start->when) : std::nullopt;
        not_before("times.start_at", start, "issued_at", t.issued);
        not_before("times.spiked_at", t.spiked, "issued_at", t.issued);
        not_before("times.start_at", start, "spiked_at", t.spiked);
        not_before("times.start_at", start, "left_storage_at", t.left_storage);
        not_before("times.spiked_at", t.spiked, "left_storage_at", t.left_storage);
        not_before("times.start_at", start, "thawed_at", t.thawed);
        not_before("times.spiked_at", t.spiked, "thawed_at", t.thawed);
        not_before("unit.expires_at", state_.unit.expires, "issued_at", t.issued);
        // Thawed after issue is right where the ward thaws; left storage after issue where the ward has a
        // refrigerator of its own.
        const auto component = state_.unit.component;
        const bool frozen = component == Component::plasma || component == Component::cryoprecipitate;
        if (t.thawed && component && !frozen)
            report_.fail("times.thawed_at",
                         "is there, but " + std::string(code(*component)) + " is not thawed",
                         "no thawed_at, or the component plasma or cryoprecipitate");
        if (!request_.now) return;
        if (t.start && t.start->happened) in_past("times.start_at", t.start->when);
        for (std::size_t i = 0; i < state_.checks_done.size(); ++i)
            in_past("checks_done[" + std::to_string(i) + "].at", state_.checks_done[i].when);
    }

    void in_past(const std::string& path, const Stated& t) {
        if (t.at > request_.now->at)
            report_.fail(path, time_text(t) + " has happened, but \"now\" is before it",
                         "a time at or before " + time_text(*request_.now));
    }

    // The arithmetic relies on spans of at most `bounds::span`; further apart, one of the dates is wrong.
    void spans() {
        const Times& t = state_.times;
        std::optional<Stated> first = t.issued;
        if (t.start && !first) first = t.start->when;
        if (!first) return;
        const auto near = [&](std::string_view path, const std::optional<Stated>& other) {
            if (!other) return;
            const Seconds apart = other->at - first->at;
            if (apart > bounds::span || -apart > bounds::span)
                report_.fail(std::string(path), time_text(*other) + " is more than 5 days from " +
                             (t.issued ? "issued_at" : "start_at"), "times of one transfusion");
        };
        near("times.left_storage_at", t.left_storage);
        near("times.thawed_at", t.thawed);
        near("times.spiked_at", t.spiked);
        if (t.start) near("times.start_at", t.start->when);
        near("now", request_.now);
        for (std::size_t i = 0; i < state_.checks_done.size(); ++i)
            near("checks_done[" + std::to_string(i) + "].at", state_.checks_done[i].when);
    }

    void checks_done() {
        const auto& start = state_.times.start;
        for (std::size_t i = 0; i < state_.checks_done.size(); ++i) {
            const CheckDone& done = state_.checks_done[i];
            const std::string path = "checks_done[" + std::to_string(i) + "]";
            const bool baseline = done.kind == CheckKind::baseline;
            if (!baseline && !(start && start->happened))
                report_.fail(path + ".kind", "is done, but the transfusion has not started",
                             "baseline, or start_at with start_is \"happened\"");
            if (!baseline && start && surely_before(done.when, start->when))
                report_.fail(path + ".at", time_text(done.when) + " is before start_at",
                             "a time at or after " + time_text(start->when));
            if (baseline && start && start->happened && surely_before(start->when, done.when))
                report_.fail(path + ".at", time_text(done.when) + " is after start_at",
                             "a time at or before " + time_text(start->when));
            const std::int32_t last = last_index(done.kind);
            if (last < 0)
                report_.fail(path + ".kind", "the protocol has no such check", "a check that it has");
            else if (done.index > last)
                report_.fail(path + ".index", "the protocol has no such check",
                             "0 to " + std::to_string(last));
        }
    }

    std::int32_t last_index(CheckKind kind) const {
        switch (kind) {
        case CheckKind::early: return static_cast<std::int32_t>(protocol_.checks.early.size()) - 1;
        case CheckKind::after: return static_cast<std::int32_t>(protocol_.checks.after.size()) - 1;
        case CheckKind::interval: return static_cast<std::int32_t>(most_checks) - 1;
        case CheckKind::baseline:
        case CheckKind::start:
        case CheckKind::end: break;
        }
        return 0;
    }

    void volumes() {
        const auto& bag = state_.unit.bag;
        if (!bag) return;
        if (state_.line.lost >= *bag)
            report_.fail("line.lost_ml", "is as much as the bag holds", "less than bag_ml");
        else if (state_.line.primed_with == Primed::component && state_.line.holds > *bag - state_.line.lost)
            report_.fail("unit.bag_ml", "is less than the line holds, which the component fills",
                         "a larger bag, or the line's own holds_ml");
    }

    void needs_weight(std::string_view rule) {
        report_.fail("recipient.weight_kg", "is missing, and " + std::string(rule) + " needs it",
                     "the weight in kg");
    }

    void weight() {
        if (state_.recipient.weight.grams > 0 || request_.not_covered) return;
        const Order& order = state_.order;
        if (order.dose_per_kg) needs_weight("order.dose_ml_per_kg");
        if (order.pace == Order::Pace::at_rate_per_kg) needs_weight("order.rate_ml_per_kg_per_h");
        if (protocol_.children) needs_weight("a protocol for children");
        if (!state_.unit.component) return;
        const std::string component(code(*state_.unit.component));
        const auto rule = [&](std::string_view name) {
            return "the protocol's components." + component + "." + std::string(name);
        };
        const ComponentRules& rules = protocol_.rules(*state_.unit.component);
        const bool at_risk = state_.recipient.overload_risk == Answer::yes;
        if (rules.most_per_kg) needs_weight(rule("highest_by_weight"));
        if (at_risk && rules.most_per_kg_at_risk) needs_weight(rule("highest_by_weight_at_risk"));
        if (rules.slow && rules.slow->rate_per_kg) needs_weight(rule("slow_stage"));
        if (order.pace != Order::Pace::usual) return;
        const bool slower = at_risk && rules.usual_at_risk;
        const UsualPace& pace = slower ? *rules.usual_at_risk : rules.usual;
        if (pace.rate_per_kg) needs_weight(rule(slower ? "usual_at_risk" : "usual"));
    }

    const Request& request_;
    const State& state_;
    const Protocol& protocol_;
    json::Report& report_;
};

}  // namespace

void report_contradictions(const Request& request, const Protocol& protocol, json::Report& report) {
    RequestCheck(request, protocol, report).run();
}

}  // namespace hangtime::session_reader
