#include "core/protocol/fields.hpp"
#include "core/rehearse/filter_read.hpp"
#include "core/words/match_words.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/session_spelling.hpp"

namespace hangtime {

namespace {

// The reason that a record gives, as it is spelled; empty where its kind has none.
std::string_view reason_of(const Event& e) {
    if (const auto* f = std::get_if<facts::Paused>(&e.facts)) return code(f->reason);
    if (const auto* f = std::get_if<facts::Stopped>(&e.facts)) return code(f->reason);
    if (const auto* f = std::get_if<facts::ConsentWithdrawn>(&e.facts)) return code(f->reason);
    if (const auto* f = std::get_if<facts::Returned>(&e.facts)) return code(f->reason);
    if (const auto* f = std::get_if<facts::Discarded>(&e.facts)) return code(f->reason);
    return {};
}

template <class E>
std::vector<std::string_view> spelled() {
    std::vector<std::string_view> out;
    for (int i = 0; i < code_count<E>(); ++i) out.push_back(code(static_cast<E>(i)));
    return out;
}

std::vector<std::string_view> reasons_of(EventKind kind) {
    if (kind == EventKind::paused) return spelled<PauseReason>();
    if (kind == EventKind::stopped) return spelled<StopReason>();
    if (kind == EventKind::consent_withdrawn) return spelled<RefusalReason>();
    if (kind == EventKind::returned || kind == EventKind::discarded) return spelled<ReturnReason>();
    return {};
}

}  // namespace

bool Filter::matches(const Event& e) const {
    if (e.kind != record) return false;
    if (outcome && facts_of<facts::MatchNoted>(e).outcome != *outcome) return false;
    if (item && facts_of<facts::ItemNoted>(e).item != *item) return false;
    if (how && facts_of<facts::ItemNoted>(e).how != *how) return false;
    if (action && facts_of<facts::ActionTicked>(e).action != *action) return false;
    if (check && (facts_of<facts::Observed>(e).extra || facts_of<facts::Observed>(e).kind != *check)) return false;
    if (to && facts_of<facts::Returned>(e).to != *to) return false;
    if (!reason.empty() && reason_of(e) != reason) return false;
    if (component) {
        const auto* issued = std::get_if<facts::Issued>(&e.facts);
        const Component is = issued ? issued->component : facts_of<facts::Ordered>(e).component;
        if (is != *component) return false;
    }
    if (above) {
        const auto* restarted = std::get_if<facts::Restarted>(&e.facts);
        const Rate rate = restarted ? restarted->rate : facts_of<facts::RateSet>(e).rate;
        if (rate <= *above) return false;
    }
    return true;
}

namespace rehearse_reader {

Filter read_filter(const json::Field& field, std::int32_t* nth) {
    const json::Object o = nth ? field.object({"record", "nth", "outcome", "item", "how", "action", "check", "component",
                                               "to", "reason", "above_ml_per_h"})
                               : field.object({"record", "outcome", "item", "how", "action", "check", "component", "to",
                                               "reason", "above_ml_per_h"});
    Filter out;
    out.record = fields::choice<EventKind>(o.at("record"));
    if (!field.report().ok()) return out;
    const auto only = [&](std::string_view key, bool right) {
        if (o.has(key) && !right)
            o.named(key).fail("does not go with " + std::string(code(out.record)), "only what such a record says");
    };
    const EventKind kind = out.record;
    only("outcome", kind == EventKind::match_noted);
    only("item", kind == EventKind::item_noted);
    only("how", kind == EventKind::item_noted);
    only("action", kind == EventKind::action_done);
    only("check", kind == EventKind::observed);
    only("component", kind == EventKind::issued || kind == EventKind::ordered);
    only("to", kind == EventKind::returned);
    only("reason", !reasons_of(kind).empty());
    only("above_ml_per_h", kind == EventKind::started || kind == EventKind::rate_set || kind == EventKind::restarted);
    if (const auto f = o.find("outcome")) out.outcome = fields::choice<MatchOutcome>(*f);
    if (const auto f = o.find("item")) out.item = fields::choice<Item>(*f);
    if (const auto f = o.find("how")) out.how = fields::choice<ItemHow>(*f);
    if (const auto f = o.find("action")) out.action = fields::choice<ActionKind>(*f);
    if (const auto f = o.find("check")) out.check = fields::choice<CheckKind>(*f);
    if (const auto f = o.find("component")) out.component = f->choice<Component>(component_codes);
    if (const auto f = o.find("to")) out.to = fields::choice<ReturnTo>(*f);
    if (const auto f = o.find("above_ml_per_h")) out.above = fields::rate(*f);
    if (const auto f = o.find("reason"); f && field.report().ok()) {
        const auto accepted = reasons_of(kind);
        out.reason = accepted[f->choice(accepted)];
    }
    if (nth)
        if (const auto f = o.find("nth")) *nth = static_cast<std::int32_t>(f->integer(1, 99));
    return out;
}

void write_filter(json::Writer& w, const Filter& f, std::int32_t nth) {
    w.begin_object(json::Writer::Layout::along).text("record", code(f.record));
    if (nth != 1) w.integer("nth", nth);
    if (f.outcome) w.text("outcome", code(*f.outcome));
    if (f.item) w.text("item", code(*f.item));
    if (f.how) w.text("how", code(*f.how));
    if (f.action) w.text("action", code(*f.action));
    if (f.check) w.text("check", code(*f.check));
    if (f.component) w.text("component", code(*f.component));
    if (f.to) w.text("to", code(*f.to));
    if (!f.reason.empty()) w.text("reason", f.reason);
    if (f.above) w.decimal("above_ml_per_h", f.above->units_per_s / hundredths_of_ml_per_h(1).units_per_s, 2);
    w.end_object();
}

}  // namespace rehearse_reader

}  // namespace hangtime
