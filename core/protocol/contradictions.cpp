#include "core/protocol/read.hpp"
#include "core/protocol/observe_reader.hpp"
#include "core/protocol/reader.hpp"

#include <algorithm>

namespace hangtime::protocol_reader {

namespace {

std::string min_text(Seconds s) { return std::to_string(s.count / 60) + " min"; }

std::string at_most(Seconds s) { return "at most " + min_text(s); }

// "is 40 min, more than the 30 min of send_back from issued"
std::string more_than(Seconds value, Seconds other, const std::string& what) {
    return "is " + min_text(value) + ", more than the " + min_text(other) + " of " + what;
}

std::string name_of(const Limit& limit) {
    return std::string(code(limit.kind)) + " from " + std::string(code(limit.from));
}

// `sooner` has to come before `later` wherever both are counted from the same event.
struct Order {
    LimitKind sooner, later;
};
constexpr Order orders[] = {
    {LimitKind::decide, LimitKind::send_back}, {LimitKind::decide, LimitKind::hang},
    {LimitKind::decide, LimitKind::start},     {LimitKind::hang, LimitKind::start},
    {LimitKind::send_back, LimitKind::finish}, {LimitKind::hang, LimitKind::finish},
    {LimitKind::start, LimitKind::finish},
};

class ComponentCheck {
public:
    ComponentCheck(const ComponentRules& rules, std::string path, json::Report& report)
        : rules_(rules), path_(std::move(path)), report_(report) {}

    void run() {
        limits();
        if (!report_.ok()) return;
        device();
        slow_stage();
        pace(rules_.usual, "usual");
        if (rules_.usual_at_risk) pace_at_risk(*rules_.usual_at_risk);
        ceilings();
        if (rules_.usual_volume && rules_.usual_volume->least > rules_.usual_volume->most)
            fail("usual_bag.least_ml", "is more than most_ml", "at most as much as most_ml");
    }

private:
    void fail(const std::string& where, std::string problem, std::string accepted) {
        report_.fail(path_ + "." + where, std::move(problem), std::move(accepted));
    }
    std::string at(std::size_t i, std::string_view key) const {
        return "limits[" + std::to_string(i) + "]." + std::string(key);
    }

    void limits() {
        finish_ = bounds::longest_from_thaw;
        bool finish_beside_thaw = false;
        for (std::size_t i = 0; i < rules_.limits.size(); ++i) {
            const Limit& limit = rules_.limits[i];
            for (std::size_t j = 0; j < i; ++j)
                if (rules_.limits[j].kind == limit.kind && rules_.limits[j].from == limit.from)
                    fail(at(i, "kind"), "is there twice: " + name_of(limit),
                         "each limit once for each event");
            const bool thaw = limit.from == Anchor::thawed;
            const Seconds longest = thaw ? bounds::longest_from_thaw : bounds::longest_finish;
            if (limit.within > longest)
                fail(at(i, "within_min"), more_than(limit.within, longest, "a day (thaw: 5 days)"),
                     at_most(longest));
            if (limit.kind == LimitKind::finish && !thaw) {
                finish_beside_thaw = true;
                finish_ = std::min(finish_, limit.within);
            }
            in_order(i, limit);
        }
        if (!finish_beside_thaw)
            fail("limits", "has no limit of kind finish besides thaw",
                 "a limit of kind finish from issued, left_storage, spiked or started");
    }

    void in_order(std::size_t i, const Limit& limit) {
        for (const Order& order : orders) {
            if (limit.kind != order.sooner) continue;
            for (const Limit& other : rules_.limits)
                if (other.kind == order.later && other.from == limit.from && limit.within > other.within)
                    fail(at(i, "within_min"), more_than(limit.within, other.within, name_of(other)),
                         at_most(other.within));
        }
    }

    void device() {
        if (rules_.never_by && rules_.never_by->value == DeviceKind::pump && rules_.controlled_delivery)
            fail("never_by.device", "is pump, and controlled_delivery asks for one", "one of the two");
    }

    void slow_stage() {
        if (!rules_.slow) return;
        const SlowStage& slow = *rules_.slow;
        if (slow.lasts >= finish_)
            fail("slow_stage.lasts_min", "is not shorter than the finish limit of " + min_text(finish_),
                 "less than " + min_text(finish_));
        if (slow.rate && rules_.most && *slow.rate > rules_.most->value)
            fail("slow_stage.first_rate_ml_per_h", "is above highest.rate_ml_per_h",
                 "at most the component's highest rate");
        if (slow.rate_per_kg && rules_.most_per_kg && *slow.rate_per_kg > rules_.most_per_kg->value)
            fail("slow_stage.first_rate_ml_per_kg_per_h", "is above highest_by_weight",
                 "at most the component's highest rate by weight");
        if (slow.rate_per_kg && rules_.usual.rate_per_kg && *slow.rate_per_kg > *rules_.usual.rate_per_kg)
            fail("slow_stage.first_rate_ml_per_kg_per_h", "is above the usual rate by weight",
                 "at most usual.rate_ml_per_kg_per_h");
    }

    void pace(const UsualPace& pace, const std::string& name) {
        if (pace.least && pace.most && *pace.least > *pace.most)
            fail(name + ".least_min", more_than(*pace.least, *pace.most, "most_min"), at_most(*pace.most));
        if (pace.most && *pace.most > finish_)
            fail(name + ".most_min", more_than(*pace.most, finish_, "the finish limit"), at_most(finish_));
        if (pace.rate_per_kg && rules_.most_per_kg && *pace.rate_per_kg > rules_.most_per_kg->value)
            fail(name + ".rate_ml_per_kg_per_h", "is above highest_by_weight",
                 "at most the component's highest rate by weight");
    }

    void pace_at_risk(const UsualPace& at_risk) {
        pace(at_risk, "usual_at_risk");
        if (at_risk.most && rules_.usual.most && *at_risk.most < *rules_.usual.most)
            fail("usual_at_risk.most_min", "is faster than without risk",
                 "at least " + min_text(*rules_.usual.most));
        const auto& usual = rules_.usual.rate_per_kg;
        if (at_risk.rate_per_kg && usual && *at_risk.rate_per_kg > *usual)
            fail("usual_at_risk.rate_ml_per_kg_per_h", "is faster than without risk",
                 "at most usual.rate_ml_per_kg_per_h");
        const auto& ceiling = rules_.most_per_kg_at_risk;
        if (at_risk.rate_per_kg && ceiling && *at_risk.rate_per_kg > ceiling->value)
            fail("usual_at_risk.rate_ml_per_kg_per_h", "is above highest_by_weight_at_risk",
                 "at most the highest rate by weight at risk");
    }

    void ceilings() {
        if (rules_.most_per_kg && rules_.most_per_kg_at_risk &&
            rules_.most_per_kg_at_risk->value > rules_.most_per_kg->value)
            fail("highest_by_weight_at_risk.rate_ml_per_kg_per_h", "is above highest_by_weight",
                 "at most the highest rate by weight without risk");
    }

    const ComponentRules& rules_;
    std::string path_;
    json::Report& report_;
    Seconds finish_{};  // the shortest one besides thaw
};

void check_rules(const CheckRules& checks, json::Report& report) {
    for (std::size_t i = 0; i < checks.early.size(); ++i) {
        const std::string path = "checks.early[" + std::to_string(i) + "]";
        if (checks.early[i].counts_from > checks.early[i].after)
            report.fail(path + ".counts.from_min",
                        more_than(checks.early[i].counts_from, checks.early[i].after, "after_min"),
                        at_most(checks.early[i].after));
        if (i == 0) continue;
        if (checks.early[i].after <= checks.early[i - 1].after)
            report.fail(path + ".after_min", "is not later than the one before it", "early checks in order");
        if (checks.early[i].counts_from < checks.early[i - 1].after)
            report.fail(path + ".counts.from_min", "is before the early check before it is due",
                        "at least " + min_text(checks.early[i - 1].after));
    }
    if (checks.interval && checks.interval_cannot_report &&
        checks.interval_cannot_report->value > checks.interval->value)
        report.fail("checks.interval_cannot_report.every_min",
                    more_than(checks.interval_cannot_report->value, checks.interval->value, "interval"),
                    at_most(checks.interval->value));
    if (checks.interval && checks.merge_into_end >= checks.interval->value)
        report.fail("checks.merge_into_end.closer_than_min",
                    "is not shorter than the interval of " + min_text(checks.interval->value),
                    "less than " + min_text(checks.interval->value));
    for (std::size_t i = 1; i < checks.after.size(); ++i)
        if (checks.after[i].value <= checks.after[i - 1].value)
            report.fail("checks.after[" + std::to_string(i) + "].after_end_min",
                        "is not later than the one before it", "checks after the end in order");
}

}  // namespace

void report_contradictions(const Protocol& p, json::Report& report) {
    for (std::size_t i = 0; i < component_count; ++i)
        ComponentCheck(p.components[i], "components." + std::string(component_codes[i]), report).run();
    check_rules(p.checks, report);
    if (p.match) report_match_contradictions(*p.match, report);
    if (p.round) report_round_contradictions(*p.round, p.checks, report);
    check_observe(p.observations, report);
    check_reaction(p.reaction, report);
    if (p.pump.step > p.pump.most)
        report.fail("pump.step_ml_per_h", "is more than most_ml_per_h", "at most the pump's highest rate");
    for (std::size_t i = 0; i < component_count; ++i) {
        const auto& slow = p.components[i].slow;
        if (slow && slow->rate && *slow->rate < p.pump.step)
            report.fail("components." + std::string(component_codes[i]) + ".slow_stage.first_rate_ml_per_h",
                        "is less than one step of the pump", "at least pump.step_ml_per_h");
    }
}

}  // namespace hangtime::protocol_reader
