#include "core/session/record_facts.hpp"

#include "core/protocol/fields.hpp"
#include "core/protocol/read.hpp"
#include "core/session/reader.hpp"
#include "core/session/record.hpp"
#include "core/words/match_words.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/session_spelling.hpp"

/// The facts of a record, each kind by its own keys.

namespace hangtime::record_facts {

using namespace session_reader;

Stated read_utc(const json::Field& field) {
    const Stated out = read_stated(field, WallClock());
    if (field.report().ok() && !field.text(1, 40).ends_with('Z'))
        field.fail("is not a time in UTC", "a time that ends in Z, such as 2026-03-14T12:40Z");
    return out;
}

std::vector<std::int32_t> read_numbers(const json::Field& field) {
    std::vector<std::int32_t> out;
    for (const json::Field& item : field.list(0, 100))
        out.push_back(static_cast<std::int32_t>(item.integer(1, 1'000'000)));
    return out;
}

namespace {

// A protocol that was complete in an earlier version is complete now, because a key that came later is never asked for
// (tests/logs/old); one that has gone since is passed over.
Rules read_rules(const json::Field& field, const Beside& beside) {
    if (beside.known) {
        field.object({});
        return *beside.known;
    }
    field.report().pass_over_unknown(beside.older);
    auto protocol = std::make_shared<Protocol>(read_protocol(field));
    field.report().pass_over_unknown(false);
    if (!field.report().ok()) return {};
    return {std::move(protocol)};
}

Recipient read_told(const json::Field& field) {
    const json::Object o = field.object(
        {"weight_kg", "weight_is", "overload_risk", "can_report", "gauge", "age_group", "pregnant"});
    Recipient out = read_recipient(o);
    if (const auto age = o.find("age_group")) out.age = fields::choice<AgeGroup>(*age);
    if (const auto pregnant = o.find("pregnant")) out.pregnant = pregnant->boolean();
    return out;
}

facts::PrimedWith read_set(const json::Object& o) {
    return {fields::choice<Primed>(o.at("with")), fields::volume(o.at("holds_ml"), tenths_of_ml(1), ml(200)),
            fields::volume(o.at("lost_ml"), {0}, ml(200))};
}

BagDigits read_digits(const json::Field& field) {
    const std::string text = field.text(4, 4);
    BagDigits out{};
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (!((c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z')))
            field.fail("\"" + text + "\" has other characters", "the last 4 of the donation number, 0 to 9 and A to Z");
        out[i] = c;
    }
    return out;
}

facts::Opened read_opened(const json::Object& o, const Beside& beside) {
    facts::Opened f;
    f.version = static_cast<int>(o.at("hangtime_log").integer(1, 1000));
    if (f.version > log_version) return f;  // what it holds is not known here
    f.object = o.at("object").choice<SpokenObject>(spoken_object_names);
    if (const auto r = o.find("rehearsal")) f.rehearsal = r->boolean();
    f.wall = read_clock(o.at("clock"));
    f.rules = read_rules(o.at("protocol"), {beside.known, f.version < log_version});
    return f;
}

facts::ClockSet read_clock_set(const json::Object& o) {
    facts::ClockSet f;
    f.wall = read_clock(o.at("clock"));
    f.ahead = Seconds{o.at("ahead_s").integer(-86'400, 86'400)};
    if (const auto j = o.find("jumped_s")) f.jumped = Seconds{j->integer(-bounds::span.count, bounds::span.count)};
    return f;
}

facts::ItemNoted read_item(const json::Object& o) {
    facts::ItemNoted f;
    f.item = fields::choice<Item>(o.at("item"));
    f.how = fields::choice<ItemHow>(o.at("how"));
    const bool covers = f.item == Item::authorisation && f.how == ItemHow::confirmed;
    if (covers) f.count = static_cast<std::int32_t>(o.at("units").integer(1, 20));
    else if (o.has("units")) o.named("units").fail("does not go with this item", "units only with a confirmed authorisation");
    if (f.how == ItemHow::waived) {
        f.reason = fields::choice<WaiverReason>(o.at("reason"));
        f.role = fields::choice<Role>(o.at("role"));
    }
    if (f.item == Item::second_checker && f.how == ItemHow::confirmed)
        if (const auto who = o.find("role")) f.checker = fields::choice<Role>(*who);
    if (const auto e = o.find("emergency")) f.emergency = e->boolean();
    return f;
}

facts::EquipmentChosen read_equipment(const json::Object& o) {
    facts::EquipmentChosen f;
    read_device(o.at("device"), f.device);
    const json::Object line = o.at("line").object({"holds_ml", "primed_with", "cleared_at_end", "lost_ml"});
    f.line = {fields::volume(line.at("holds_ml"), tenths_of_ml(1), ml(200)), fields::choice<Primed>(line.at("primed_with")),
              line.at("cleared_at_end").boolean(), fields::volume(line.at("lost_ml"), {0}, ml(200))};
    return f;
}

facts::Issued read_issued(const json::Object& o) {
    facts::Issued f;
    f.component = o.at("component").choice<Component>(component_codes);
    f.bag = fields::volume(o.at("bag_ml"));
    if (const auto x = o.find("expires_at")) f.expires = read_utc(*x);
    if (const auto x = o.find("expires_far")) f.expires_far = x->boolean();
    if (const auto x = o.find("thawed_at")) f.thawed = read_utc(*x);
    if (const auto x = o.find("bag_digits")) f.digits = read_digits(*x);
    return f;
}

facts::Ordered read_ordered(const json::Object& o) {
    facts::Ordered f;
    f.component = o.at("component").choice<Component>(component_codes);
    f.order = read_order(o.at("order"));
    if (const auto x = o.find("expected_ml")) f.expected = fields::volume(*x);
    return f;
}

facts::MatchNoted read_match(const json::Object& o) {
    facts::MatchNoted f;
    f.outcome = fields::choice<MatchOutcome>(o.at("outcome"));
    if (f.outcome != MatchOutcome::interrupted)
        f.step = static_cast<std::int32_t>(o.at("step").integer(0, 99));
    if (const auto x = o.find("can_say")) {
        if (f.outcome == MatchOutcome::interrupted || f.step != 0)
            x->fail("does not go with this step", "can_say with step 0 only");
        f.can_say = x->boolean();
    }
    return f;
}

facts::GroupsJudged read_groups(const json::Object& o) {
    facts::GroupsJudged f;
    for (const json::Field& item : o.at("because").list(1, 4)) {
        const auto why = fields::choice<CompatibleReason>(item);
        for (const CompatibleReason there : f.because)
            if (there == why) item.fail("is there twice", "each reason once");
        f.because.add(why);
    }
    if (const auto list = o.find("unmet"))
        for (const json::Field& item : list->list(1, requirement_count)) {
            const auto what = fields::choice<Requirement>(item);
            if (f.unmet.has(what)) item.fail("is there twice", "each requirement once");
            f.unmet.add(what);
        }
    f.by = fields::choice<GroupsBy>(o.at("by"));
    if (f.by == GroupsBy::waiver) {
        f.reason = fields::choice<WaiverReason>(o.at("reason"));
        f.role = fields::choice<Role>(o.at("role"));
        return f;
    }
    for (const std::string_view key : {"reason", "role"})
        if (o.has(key)) o.named(key).fail("does not go with this", "reason and role with a waiver only");
    return f;
}

facts::ActionTicked read_action(const json::Object& o) {
    facts::ActionTicked f{fields::choice<ActionKind>(o.at("action")), {}};
    if (const auto x = o.find("agrees")) {
        if (f.action != ActionKind::identity) x->fail("does not go with this action", "agrees with identity only");
        f.agrees = x->boolean();
    }
    return f;
}

facts::Observed read_observed(const json::Object& o) {
    facts::Observed f;
    if (const auto x = o.find("extra")) f.extra = x->boolean();
    if (const auto x = o.find("set")) f.set = read_observation(*x);
    if (f.extra) return f;
    f.kind = fields::choice<CheckKind>(o.at("check"));
    if (const auto x = o.find("index")) f.index = static_cast<std::int32_t>(x->integer(0, most_check_number));
    return f;
}

std::string read_rule_set_id(const json::Field& field) {
    std::string id = field.text(1, 40);
    if (!id.empty() && !json::is_key(id))
        field.fail("\"" + id + "\" is not an id", "letters a to z, digits and -, beginning with a letter");
    return id;
}

facts::DeviceTotal read_total(const json::Object& o) {
    facts::DeviceTotal f;
    f.kind = fields::choice<TotalKind>(o.at("total"));
    if (f.kind == TotalKind::read) f.total = fields::volume(o.at("total_ml"), {0}, bounds::volume);
    return f;
}

facts::RateSet read_rate(const json::Object& o) {
    facts::RateSet f;
    f.rate = fields::rate(o.at("rate_ml_per_h"));
    if (const auto x = o.find("as_it_happened")) f.as_it_happened = x->boolean();
    if (const auto x = o.find("waived_by")) f.waived_by = fields::choice<Role>(*x);
    return f;
}

template <class... Key>
json::Object with_keys(const json::Field& f, Key... own) {
    return f.object({"n", "at", "second", "noted", "what", "replaces", "sum", std::string_view(own)...});
}

}  // namespace

json::Object keys_of(const json::Field& f, EventKind kind) {
    switch (kind) {
    case EventKind::opened: return with_keys(f, "hangtime_log", "object", "rehearsal", "clock", "protocol");
    case EventKind::clock_set: return with_keys(f, "clock", "ahead_s", "jumped_s");
    case EventKind::protocol_changed: return with_keys(f, "protocol");
    case EventKind::linked: return with_keys(f, "object");
    case EventKind::ordered: return with_keys(f, "component", "order", "expected_ml");
    case EventKind::recipient_told: return with_keys(f, "recipient");
    case EventKind::equipment_chosen: return with_keys(f, "device", "line");
    case EventKind::item_noted: return with_keys(f, "item", "how", "units", "reason", "role", "emergency");
    case EventKind::issued: return with_keys(f, "component", "bag_ml", "expires_at", "expires_far", "thawed_at", "bag_digits");
    case EventKind::storage_noted: return with_keys(f, "change");
    case EventKind::bag_temperature: return with_keys(f, "bag_c");
    case EventKind::match_noted: return with_keys(f, "outcome", "step", "can_say");
    case EventKind::groups_judged: return with_keys(f, "because", "unmet", "by", "reason", "role");
    case EventKind::other_fluid: return with_keys(f, "total_ml");
    case EventKind::rule_set_chosen: return with_keys(f, "rule_set");
    case EventKind::set_changed:
    case EventKind::primed: return with_keys(f, "with", "holds_ml", "lost_ml");
    case EventKind::device_total: return with_keys(f, "total", "total_ml");
    case EventKind::started:
    case EventKind::rate_set: return with_keys(f, "rate_ml_per_h", "as_it_happened", "waived_by");
    case EventKind::consent_withdrawn:
    case EventKind::stopped:
    case EventKind::discarded:
    case EventKind::paused: return with_keys(f, "reason");
    case EventKind::resumed: return with_keys(f, "decided_by");
    case EventKind::observed: return with_keys(f, "check", "index", "extra", "set");
    case EventKind::action_done: return with_keys(f, "action", "agrees");
    case EventKind::ceiling_lowered: return with_keys(f, "most_ml_per_h");
    case EventKind::restarted: return with_keys(f, "rate_ml_per_h", "role", "identity_agrees");
    case EventKind::handed_over:
    case EventKind::taken_over: return with_keys(f, "role");
    case EventKind::moved: return with_keys(f, "place");
    case EventKind::returned: return with_keys(f, "to", "reason");
    case EventKind::charted:
    case EventKind::withdrawn: return with_keys(f, "of");
    case EventKind::joined:
    case EventKind::sample_drawn:
    case EventKind::requested:
    case EventKind::received:
    case EventKind::spiked:
    case EventKind::connected:
    case EventKind::reaction_suspected:
    case EventKind::bag_empty:
    case EventKind::clearing_begun:
    case EventKind::all_in:
    case EventKind::bag_kept: break;
    }
    return with_keys(f);
}

Facts read_facts(const json::Object& o, EventKind kind, const Beside& beside) {
    switch (kind) {
    case EventKind::opened: return read_opened(o, beside);
    case EventKind::clock_set: return read_clock_set(o);
    case EventKind::protocol_changed: return facts::ProtocolChanged{read_rules(o.at("protocol"), beside)};
    case EventKind::linked: return facts::Linked{o.at("object").choice<SpokenObject>(spoken_object_names)};
    case EventKind::ordered: return read_ordered(o);
    case EventKind::recipient_told: return facts::RecipientTold{read_told(o.at("recipient"))};
    case EventKind::equipment_chosen: return read_equipment(o);
    case EventKind::item_noted: return read_item(o);
    case EventKind::issued: return read_issued(o);
    case EventKind::storage_noted: return facts::StorageNoted{fields::choice<StorageChange>(o.at("change"))};
    case EventKind::bag_temperature:
        return facts::BagTemperature{static_cast<std::int32_t>(o.at("bag_c").decimal(1, -400, 450))};
    case EventKind::match_noted: return read_match(o);
    case EventKind::groups_judged: return read_groups(o);
    case EventKind::other_fluid: return facts::OtherFluid{fields::volume(o.at("total_ml"), {0}, bounds::volume)};
    case EventKind::rule_set_chosen: return facts::RuleSetChosen{read_rule_set_id(o.at("rule_set"))};
    case EventKind::primed: return read_set(o);
    case EventKind::set_changed: return facts::SetChanged{read_set(o)};
    case EventKind::device_total: return read_total(o);
    case EventKind::started:
    case EventKind::rate_set: return read_rate(o);
    case EventKind::paused: return facts::Paused{fields::choice<PauseReason>(o.at("reason"))};
    case EventKind::resumed: {
        facts::Resumed f;
        if (const auto x = o.find("decided_by")) f.decided_by = fields::choice<Role>(*x);
        return f;
    }
    case EventKind::observed: return read_observed(o);
    case EventKind::handed_over:
    case EventKind::taken_over: return facts::HandedOver{fields::choice<Role>(o.at("role"))};
    case EventKind::moved: return facts::Moved{fields::choice<Place>(o.at("place"))};
    case EventKind::consent_withdrawn: return facts::ConsentWithdrawn{fields::choice<RefusalReason>(o.at("reason"))};
    case EventKind::stopped: return facts::Stopped{fields::choice<StopReason>(o.at("reason"))};
    case EventKind::returned:
        return facts::Returned{fields::choice<ReturnTo>(o.at("to")), fields::choice<ReturnReason>(o.at("reason"))};
    case EventKind::discarded: return facts::Discarded{fields::choice<ReturnReason>(o.at("reason"))};
    case EventKind::action_done: return read_action(o);
    case EventKind::ceiling_lowered: return facts::CeilingLowered{fields::rate(o.at("most_ml_per_h"))};
    case EventKind::restarted:
        return facts::Restarted{fields::rate(o.at("rate_ml_per_h")), fields::choice<Role>(o.at("role")),
                                o.at("identity_agrees").boolean()};
    case EventKind::charted:
    case EventKind::withdrawn: return facts::Numbers{read_numbers(o.at("of"))};
    case EventKind::joined:
    case EventKind::sample_drawn:
    case EventKind::requested:
    case EventKind::received:
    case EventKind::spiked:
    case EventKind::connected:
    case EventKind::reaction_suspected:
    case EventKind::bag_empty:
    case EventKind::clearing_begun:
    case EventKind::all_in:
    case EventKind::bag_kept: break;
    }
    return std::monostate{};
}

}  // namespace hangtime::record_facts

namespace hangtime {

using namespace record_facts;

Event read_facts_of(const json::Field& field) {
    Event e;
    std::vector<std::string_view> accepted;
    for (int i = 0; i < event_kind_count; ++i) accepted.push_back(code(static_cast<EventKind>(i)));
    const auto what = field.member("what");
    if (!what) field.fail("does not say what it is", "an object with \"what\": " + json::listed(accepted));
    else e.kind = static_cast<EventKind>(what->choice(accepted));
    if (!field.report().ok()) return e;
    const json::Object o = keys_of(field, e.kind);
    for (const std::string_view key : {"n", "at", "second", "noted", "replaces", "sum"})
        if (o.has(key)) o.named(key).fail("does not belong here", "only the facts of the record");
    e.facts = read_facts(o, e.kind, {});
    return e;
}

}  // namespace hangtime
