#include "core/rehearse/scenario.hpp"

#include "core/json/read.hpp"
#include "core/protocol/fields.hpp"
#include "core/protocol/read.hpp"
#include "core/protocol/reader.hpp"
#include "core/rehearse/filter_read.hpp"
#include "core/session/reader.hpp"
#include "core/words/match_words.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_spelling.hpp"

#include <algorithm>
#include <array>

namespace hangtime {

namespace {

using namespace rehearse_reader;
using protocol_reader::BasisReader;

constexpr std::int64_t longest_min = bounds::span.count / 60 - 1;

json::Object read_top(json::Report& report, const json::Value& tree) {
    return json::Field(report, &tree, "")
        .object({"hangtime_rehearsal", "id", "number", "title", "level", "teaches", "sources", "protocol", "clock",
                 "begins", "lasts_min", "object", "seed", "recipient", "order", "signs", "before", "happens",
                 "scored"});
}

bool holds_protocol(const json::Value& tree) {
    const json::Value* protocol = tree.find("protocol");
    return protocol && protocol->kind == json::Kind::object;
}

Recipient read_told(const json::Field& field) {
    const json::Object o = field.object(
        {"weight_kg", "weight_is", "overload_risk", "can_report", "gauge", "age_group", "pregnant"});
    Recipient out = session_reader::read_recipient(o);
    if (const auto f = o.find("age_group")) out.age = fields::choice<AgeGroup>(*f);
    if (const auto f = o.find("pregnant")) out.pregnant = f->boolean();
    return out;
}

facts::Ordered read_order(const json::Field& field) {
    const json::Object o = field.object({"component", "order", "expected_ml"});
    facts::Ordered out;
    out.component = o.at("component").choice<Component>(component_codes);
    if (const auto f = o.find("order")) out.order = session_reader::read_order(*f);
    if (const auto f = o.find("expected_ml")) out.expected = fields::volume(*f);
    return out;
}

std::vector<Before> read_before(const json::Field& field) {
    std::vector<Before> out;
    for (const json::Field& item : field.list(0, 200)) {
        const json::Object o = item.object({"at_min", "record"});
        Before before;
        before.at = minutes(o.at("at_min").integer(-longest_min, 0));
        before.record = read_facts_of(o.at("record"));
        const EventKind kind = before.record.kind;
        if (field.report().ok() && (kind == EventKind::opened || kind == EventKind::recipient_told))
            o.named("record").fail("is not for here", kind == EventKind::opened
                                                          ? "any other record: the scenario opens the session itself"
                                                          : "\"recipient\" of the scenario");
        if (field.report().ok() && !out.empty() && before.at < out.back().at)
            o.named("at_min").fail("is earlier than the one before it", "records in the order of time");
        out.push_back(std::move(before));
    }
    return out;
}

Trigger read_trigger(const json::Field& field) {
    const json::Object o = field.object({"after_happening", "after", "given_ml", "match_step", "wait_min", "vary_min"});
    Trigger out;
    int ways = 0;
    if (const auto f = o.find("after_happening")) {
        out.since.happening = f->key();
        ++ways;
    }
    if (const auto f = o.find("after")) {
        out.since = {{}, read_filter(*f, &out.since.nth), out.since.nth};
        ++ways;
    }
    if (const auto f = o.find("given_ml")) {
        out.how = Trigger::How::given;
        out.given = fields::volume(*f);
        ++ways;
    }
    if (const auto f = o.find("match_step")) {
        out.how = Trigger::How::match_step;
        out.step = static_cast<std::int32_t>(f->integer(1, most_match_steps));
        ++ways;
    }
    if (ways > 1)
        field.fail("says more than once when", "one of after_happening, after, given_ml and match_step, or none");
    if (const auto f = o.find("wait_min")) out.wait = minutes(f->integer(0, longest_min));
    if (const auto f = o.find("vary_min")) out.vary = minutes(f->integer(0, 60));
    return out;
}

bool same_kind_of_temperature(const Observation& a, const Observation& b) {
    return !a.temperature || !b.temperature || a.temperature->unit == b.temperature->unit;
}

std::vector<SignsAfter> read_signs(const json::Field& field, const Observation& first) {
    std::vector<SignsAfter> out;
    for (const json::Field& item : field.list(1, 50)) {
        const json::Object o = item.object({"after_min", "set"});
        SignsAfter point;
        point.after = minutes(o.at("after_min").integer(0, longest_min));
        point.set = read_observation(o.at("set"));
        if (!field.report().ok()) return out;
        if (!out.empty() && point.after <= out.back().after)
            o.named("after_min").fail("is not later than the one before it", "points in the order of time");
        if (!same_kind_of_temperature(first, point.set))
            o.named("set").fail("has the temperature in another unit than the scenario's signs", "one unit throughout");
        out.push_back(point);
    }
    return out;
}

constexpr std::array<EventKind, 9> may_happen = {EventKind::issued, EventKind::storage_noted, EventKind::received,
                                   EventKind::consent_withdrawn, EventKind::moved, EventKind::handed_over,
                                   EventKind::taken_over, EventKind::ordered, EventKind::clock_set};

}  // namespace

Happening rehearse_reader::read_happening(const json::Field& field, const Observation& first) {
    const json::Object o = field.object({"id", "what", "when", "record", "vary_ml", "signs", "while_running", "field",
                                         "unless"});
    Happening out;
    out.id = o.at("id").key();
    out.kind = fields::choice<WorldKind>(o.at("what"));
    if (const auto f = o.find("when")) out.when = read_trigger(*f);
    if (const auto f = o.find("record")) {
        out.record = read_facts_of(*f);
        const bool may = std::find(may_happen.begin(), may_happen.end(), out.record->kind) != may_happen.end();
        if (field.report().ok() && !may)
            f->fail("is something that the learner does",
                    "a record of issued, storage_noted, received, consent_withdrawn, moved, handed_over, taken_over, "
                    "ordered or clock_set");
    }
    const bool bag = out.record && out.record->kind == EventKind::issued;
    if (const auto f = o.find("vary_ml")) {
        out.vary_volume = fields::volume(*f, {0}, ml(200));
        if (field.report().ok() && !bag) f->fail("is there without a bag", "\"record\" with an issued unit");
        else if (field.report().ok() && out.vary_volume >= facts_of<facts::Issued>(*out.record).bag)
            f->fail("is all of the bag", "less than its bag_ml");
    }
    if (field.report().ok() && out.kind == WorldKind::bag_arrives && !bag)
        o.named("record").fail("is missing, or no bag", "a record of an issued unit");
    if (const auto f = o.find("signs")) out.signs = read_signs(*f, first);
    const bool about_signs = out.kind == WorldKind::signs_change || out.kind == WorldKind::complaint;
    if (field.report().ok() && about_signs != !out.signs.empty())
        o.named("signs").fail(about_signs ? "is missing" : "does not go with this", "signs with signs_change and complaint only");
    if (const auto f = o.find("while_running")) out.while_running = f->boolean();
    if (const auto f = o.find("field")) out.field = fields::choice<MatchField>(*f);
    if (field.report().ok() && (out.kind == WorldKind::tag_differs) != out.field.has_value())
        o.named("field").fail(out.field ? "does not go with this" : "is missing", "a field of the match with tag_differs only");
    if (const auto f = o.find("unless")) out.unless = read_filter(*f, nullptr);
    return out;
}

namespace {

// The filters that something refers to, and the ids, have to be there.
void check_references(const Scenario& s, const json::Object& top) {
    json::Report& report = top.field().report();
    std::vector<std::string_view> ids;
    for (const Happening& h : s.happenings) ids.push_back(h.id);
    const auto check = [&](const std::string& id, const std::string& where) {
        if (id.empty() || std::find(ids.begin(), ids.end(), id) != ids.end()) return;
        report.fail(where, "\"" + id + "\" does not happen here", ids.empty() ? "the id of a happening" : json::listed(ids));
    };
    for (std::size_t i = 0; i < s.happenings.size(); ++i) {
        const Happening& h = s.happenings[i];
        const std::string where = "happens[" + std::to_string(i) + "]";
        check(h.when.since.happening, where + ".when.after_happening");
        for (std::size_t k = 0; k < i; ++k)
            if (s.happenings[k].id == h.id) report.fail(where + ".id", "\"" + h.id + "\" is there twice", "an id of its own");
        if (h.when.since.happening == h.id)
            report.fail(where + ".when.after_happening", "waits for itself", "another happening");
    }
    for (std::size_t i = 0; i < s.scored.size(); ++i)
        check(s.scored[i].since.happening, "scored[" + std::to_string(i) + "].since.happening");
}

Since read_since(const json::Field& field) {
    const json::Object o = field.object({"happening", "record"});
    Since out;
    if (const auto f = o.find("happening")) out.happening = f->key();
    if (const auto f = o.find("record")) out.record = read_filter(*f, &out.nth);
    if (field.report().ok() && out.happening.empty() == !out.record)
        field.fail("does not say which", "one of happening and record");
    return out;
}

template <class... Key>
json::Object with_keys(const json::Field& f, Key... own) {
    return f.object({"kind", "points", "rule", "source", "grade", std::string_view(own)...});
}

// The keys that a kind of scored item has, beside those that all have.
json::Object scored_keys(const json::Field& f, ScoreKind kind) {
    switch (kind) {
    case ScoreKind::check_on_time: return with_keys(f, "check", "index", "unit");
    case ScoreKind::window_kept: return with_keys(f, "limit", "unit");
    case ScoreKind::done_within: return with_keys(f, "done", "since", "within_min");
    case ScoreKind::never_done: return with_keys(f, "done", "since");
    case ScoreKind::done_before: return with_keys(f, "done", "then");
    case ScoreKind::rate_not_raised: return with_keys(f, "since");
    case ScoreKind::given_at_most:
    case ScoreKind::given_at_least: return with_keys(f, "ml");
    case ScoreKind::difference_found: return with_keys(f, "field");
    case ScoreKind::not_tried: return with_keys(f, "refusal");
    }
    return with_keys(f);
}

Scored read_scored(const json::Field& field, const BasisReader& basis) {
    Scored out;
    const auto kind = field.member("kind");
    if (!kind) {
        field.fail("does not say of which kind it is", "an object with \"kind\"");
        return out;
    }
    out.kind = fields::choice<ScoreKind>(*kind);
    if (!field.report().ok()) return out;
    const json::Object o = scored_keys(field, out.kind);
    out.points = static_cast<std::int32_t>(o.at("points").integer(1, 10));
    const bool by_protocol = out.kind == ScoreKind::check_on_time || out.kind == ScoreKind::window_kept;
    if (by_protocol) {
        if (const auto f = o.find("rule")) out.rule = f->text(1, 300);
    } else {
        out.rule = o.at("rule").text(1, 300);
    }
    if (!by_protocol || o.has("grade")) out.basis = basis(o);
    switch (out.kind) {
    case ScoreKind::check_on_time:
        out.check = fields::choice<CheckKind>(o.at("check"));
        if (const auto f = o.find("index")) out.index = static_cast<std::int32_t>(f->integer(0, most_checks - 1));
        break;
    case ScoreKind::window_kept: out.limit = fields::choice<LimitKind>(o.at("limit")); break;
    case ScoreKind::done_within:
        if (const auto f = o.find("within_min")) out.within = minutes(f->integer(0, longest_min));
        [[fallthrough]];
    case ScoreKind::never_done:
    case ScoreKind::done_before:
        out.done = read_filter(o.at("done"), nullptr);
        if (out.kind == ScoreKind::done_before) out.then = read_filter(o.at("then"), nullptr);
        break;
    case ScoreKind::rate_not_raised: out.since = read_since(o.at("since")); break;
    case ScoreKind::given_at_most:
    case ScoreKind::given_at_least: out.volume = fields::volume(o.at("ml"), {0}, bounds::volume); break;
    case ScoreKind::difference_found: out.field = fields::choice<MatchField>(o.at("field")); break;
    case ScoreKind::not_tried: out.refusal = fields::choice<Refusal>(o.at("refusal")); break;
    }
    if (out.kind == ScoreKind::done_within || out.kind == ScoreKind::never_done)
        if (const auto f = o.find("since")) out.since = read_since(*f);
    if (by_protocol)
        if (const auto f = o.find("unit")) out.unit = static_cast<std::int32_t>(f->integer(1, 20));
    return out;
}

}  // namespace

Result<std::string> read_scenario_protocol(std::string_view text) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    const json::Object top = read_top(report, tree.value());
    top.at("hangtime_rehearsal").integer(1, 1);
    std::string id = report.ok() && !holds_protocol(tree.value()) ? top.at("protocol").key() : std::string();
    if (!report.ok()) return report.error();
    return id;
}

Result<Scenario> read_scenario(std::string_view text, std::shared_ptr<const Protocol> protocol) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    const json::Object top = read_top(report, tree.value());
    Scenario s;
    s.version = static_cast<int>(top.at("hangtime_rehearsal").integer(1, 1));
    s.id = top.at("id").key();
    s.number = static_cast<std::int32_t>(top.at("number").integer(1, 99));
    s.title = top.at("title").text(1, 120);
    s.level = fields::choice<Level>(top.at("level"));
    for (const json::Field& item : top.at("teaches").list(1, 8)) s.teaches.push_back(item.text(1, 300));
    if (const auto f = top.find("sources")) s.sources = protocol_reader::read_sources(*f);
    s.whole_protocol = holds_protocol(tree.value());
    if (s.whole_protocol) {
        s.rules = std::make_shared<const Protocol>(read_protocol(top.at("protocol")));
        if (report.ok()) s.protocol = s.rules->id;
    } else {
        s.protocol = top.at("protocol").key();
        if (report.ok() && (!protocol || protocol->id != s.protocol))
            top.named("protocol").fail("\"" + s.protocol + "\" is not the protocol at hand",
                                       protocol ? "\"" + protocol->id + "\"" : "a protocol");
        s.rules = std::move(protocol);
    }
    s.wall = session_reader::read_clock(top.at("clock"));
    s.begins = session_reader::read_stated(top.at("begins"), s.wall).at;
    s.lasts = minutes(top.at("lasts_min").integer(1, longest_min));
    s.object = top.at("object").choice<SpokenObject>(spoken_object_names);
    if (const auto f = top.find("seed")) s.seed = static_cast<std::int32_t>(f->integer(0, 999));
    s.recipient = read_told(top.at("recipient"));
    s.ordered = read_order(top.at("order"));
    s.signs = read_observation(top.at("signs"));
    s.before = read_before(top.at("before"));
    for (const json::Field& item : top.at("happens").list(0, 50)) s.happenings.push_back(read_happening(item, s.signs));
    const BasisReader basis(s.sources);
    for (const json::Field& item : top.at("scored").list(1, 50)) s.scored.push_back(read_scored(item, basis));
    if (report.ok()) check_references(s, top);
    if (!report.ok()) return report.error();
    return s;
}

std::int32_t case_number(const Scenario& scenario, std::int32_t seed) { return scenario.number * 1000 + seed; }
CaseParts case_of(std::int32_t number) { return {number / 1000, number % 1000}; }

}  // namespace hangtime
