#include "core/round/kept_plan.hpp"

#include "core/json/field.hpp"
#include "core/json/read.hpp"
#include "core/json/write.hpp"

namespace hangtime::rounds {

namespace {

constexpr std::int64_t most_cost = 1 << 20;  // more than any sum of weighted minutes

void write_cost(json::Writer& out, std::string_view key, const Cost& cost) {
    out.key(key).begin_object(json::Writer::Layout::along).integer("weighted_min", cost.finish);
    out.integer("changes", cost.changes).end_object();
}

Cost read_cost(const json::Field& field) {
    const json::Object o = field.object({"weighted_min", "changes"});
    return {o.at("weighted_min").integer(0, most_cost), o.at("changes").integer(0, 2 * most_jobs)};
}

KeptPlan read(const json::Field& file) {
    const json::Object top = file.object({"hangtime_kept_plan", "by_hand", "best", "bound", "starts"});
    top.at("hangtime_kept_plan").integer(1, 1);
    KeptPlan out;
    out.by_hand = top.at("by_hand").boolean();
    if (const auto f = top.find("best")) out.best = read_cost(*f);
    out.bound = read_cost(top.at("bound"));
    for (const json::Field& item : top.at("starts").list(0, most_jobs)) {
        const json::Object o = item.object({"object", "slot", "nurse", "second", "held"});
        KeptStart start;
        start.object = o.at("object").choice<SpokenObject>(spoken_object_names);
        start.slot = static_cast<int>(o.at("slot").integer(-most_slots, most_slots));  // one that runs began before
        start.nurse = static_cast<int>(o.at("nurse").integer(1, most_nurses)) - 1;
        if (const auto f = o.find("second")) start.second = static_cast<int>(f->integer(1, most_nurses)) - 1;
        start.held = o.at("held").boolean();
        out.starts.push_back(start);
    }
    return out;
}

}  // namespace

std::string kept_plan_text(const KeptPlan& plan) {
    json::Writer out;
    out.begin_object().integer("hangtime_kept_plan", 1).boolean("by_hand", plan.by_hand);
    if (plan.best) write_cost(out, "best", *plan.best);
    write_cost(out, "bound", plan.bound);
    out.key("starts").begin_list();
    for (const KeptStart& s : plan.starts) {
        out.begin_object(json::Writer::Layout::along).text("object", name(s.object)).integer("slot", s.slot);
        out.integer("nurse", s.nurse + 1);
        if (s.second >= 0) out.integer("second", s.second + 1);
        out.boolean("held", s.held).end_object();
    }
    return out.end_list().end_object().take();
}

Result<KeptPlan> read_kept_plan(std::string_view text) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    KeptPlan plan = read(json::Field(report, &tree.value(), ""));
    if (!report.ok()) return report.error();
    return plan;
}

}  // namespace hangtime::rounds
