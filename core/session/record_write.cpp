#include "core/json/write.hpp"
#include "core/protocol/write.hpp"
#include "core/session/reader.hpp"
#include "core/session/record.hpp"
#include "core/words/match_words.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/session_spelling.hpp"

namespace hangtime {

namespace {

using json::Writer;
using session_reader::utc_text;
using session_reader::write_clock;

void volume(Writer& w, std::string_view key, Volume v) { w.decimal(key, v.units / hundredths_of_ml(1).units, 2); }
void rate(Writer& w, std::string_view key, Rate r) {
    w.decimal(key, r.units_per_s / hundredths_of_ml_per_h(1).units_per_s, 2);
}

void order(Writer& w, const Order& o) {
    w.key("order").begin_object();
    if (o.dose) volume(w, "dose_ml", *o.dose);
    if (o.dose_per_kg) w.decimal("dose_ml_per_kg", o.dose_per_kg->tenths_of_ml, 1);
    switch (o.pace) {
    case Order::Pace::usual: break;
    case Order::Pace::within: w.integer("within_min", o.duration.count / 60); break;
    case Order::Pace::at_least: w.integer("at_least_min", o.duration.count / 60); break;
    case Order::Pace::at_rate: rate(w, "rate_ml_per_h", o.rate); break;
    case Order::Pace::at_rate_per_kg:
        w.decimal("rate_ml_per_kg_per_h", o.rate_per_kg.units_per_s / hundredths_of_ml_per_kg_per_h(1).units_per_s, 2);
        break;
    }
    if (o.counts_from) w.text("counts_from", code(*o.counts_from));
    if (o.most) rate(w, "max_rate_ml_per_h", *o.most);
    w.end_object();
}

void recipient(Writer& w, const Recipient& r) {
    w.key("recipient").begin_object();
    if (r.weight.grams > 0)
        w.decimal("weight_kg", r.weight.grams, 3).text("weight_is", r.weight_estimated ? "estimated" : "measured");
    w.text("overload_risk", code(r.overload_risk)).text("can_report", code(r.can_report));
    if (r.gauge > 0) w.integer("gauge", r.gauge);
    if (r.age) w.text("age_group", code(*r.age));
    if (r.pregnant) w.boolean("pregnant", *r.pregnant);
    w.end_object();
}

void device(Writer& w, const Device& d) {
    w.key("device").begin_object().text("kind", code(d.kind));
    if (d.kind == DeviceKind::gravity) {
        w.integer("drops_per_ml", d.drops.per_ml);
    } else {
        rate(w, "step_ml_per_h", d.step);
        rate(w, "max_ml_per_h", d.most);
    }
    w.end_object();
}

void set_of(Writer& w, const facts::PrimedWith& set) {
    w.text("with", code(set.with));
    volume(w, "holds_ml", set.holds);
    volume(w, "lost_ml", set.lost);
}

void numbers(Writer& w, std::string_view key, const std::vector<std::int32_t>& of) {
    w.key(key).begin_list();
    for (const std::int32_t n : of) w.integer(n);
    w.end_list();
}

void issued(Writer& w, const facts::Issued& f) {
    w.text("component", code(f.component));
    volume(w, "bag_ml", f.bag);
    if (f.expires) w.text("expires_at", utc_text(f.expires->at, f.expires->precision));
    if (f.expires_far) w.boolean("expires_far", true);
    if (f.thawed) w.text("thawed_at", utc_text(f.thawed->at, f.thawed->precision));
    if (f.digits) w.text("bag_digits", std::string_view(f.digits->data(), f.digits->size()));
}

void item(Writer& w, const facts::ItemNoted& f) {
    w.text("item", code(f.item)).text("how", code(f.how));
    if (f.count > 0) w.integer("units", f.count);
    if (f.how == ItemHow::waived) w.text("reason", code(f.reason)).text("role", code(f.role));
    else if (f.checker) w.text("role", code(*f.checker));
    if (f.emergency) w.boolean("emergency", true);
}

// Writes the facts of one record; one overload a type, so that a type without one does not compile.
struct FactsWriter {
    Writer& w;

    void operator()(const std::monostate&) const {}
    void operator()(const facts::Opened& f) const {
        w.integer("hangtime_log", f.version).text("object", spoken_object_names[static_cast<std::size_t>(f.object)]);
        if (f.rehearsal) w.boolean("rehearsal", true);
        write_clock(w, f.wall);
        w.key("protocol");
        write_protocol(*f.rules.protocol, w);
    }
    void operator()(const facts::ClockSet& f) const {
        write_clock(w, f.wall);
        w.integer("ahead_s", f.ahead.count);
        if (f.jumped.count != 0) w.integer("jumped_s", f.jumped.count);
    }
    void operator()(const facts::ProtocolChanged& f) const {
        w.key("protocol");
        write_protocol(*f.rules.protocol, w);
    }
    void operator()(const facts::Linked& f) const {
        w.text("object", spoken_object_names[static_cast<std::size_t>(f.object)]);
    }
    void operator()(const facts::Ordered& f) const {
        w.text("component", code(f.component));
        order(w, f.order);
        if (f.expected) volume(w, "expected_ml", *f.expected);
    }
    void operator()(const facts::RecipientTold& f) const { recipient(w, f.recipient); }
    void operator()(const facts::EquipmentChosen& f) const {
        device(w, f.device);
        w.key("line").begin_object();
        volume(w, "holds_ml", f.line.holds);
        w.text("primed_with", code(f.line.primed_with)).boolean("cleared_at_end", f.line.cleared);
        volume(w, "lost_ml", f.line.lost);
        w.end_object();
    }
    void operator()(const facts::ItemNoted& f) const { item(w, f); }
    void operator()(const facts::Issued& f) const { issued(w, f); }
    void operator()(const facts::StorageNoted& f) const { w.text("change", code(f.change)); }
    void operator()(const facts::BagTemperature& f) const { w.decimal("bag_c", f.tenths_c, 1); }
    void operator()(const facts::MatchNoted& f) const {
        w.text("outcome", code(f.outcome));
        if (f.outcome != MatchOutcome::interrupted) w.integer("step", f.step);
        if (f.can_say) w.boolean("can_say", *f.can_say);
    }
    void operator()(const facts::GroupsJudged& f) const {
        w.key("because").begin_list();
        for (const CompatibleReason why : f.because) w.text(code(why));
        w.end_list();
        if (!f.unmet.empty()) {
            w.key("unmet").begin_list();
            for (int i = 0; i < requirement_count; ++i)
                if (f.unmet.has(static_cast<Requirement>(i))) w.text(code(static_cast<Requirement>(i)));
            w.end_list();
        }
        w.text("by", code(f.by));
        if (f.by == GroupsBy::waiver) w.text("reason", code(f.reason)).text("role", code(f.role));
    }
    void operator()(const facts::OtherFluid& f) const { volume(w, "total_ml", f.total); }
    void operator()(const facts::RuleSetChosen& f) const { w.text("rule_set", f.rule_set); }
    void operator()(const facts::PrimedWith& f) const { set_of(w, f); }
    void operator()(const facts::DeviceTotal& f) const {
        w.text("total", code(f.kind));
        if (f.kind == TotalKind::read) volume(w, "total_ml", f.total);
    }
    void operator()(const facts::RateSet& f) const {
        rate(w, "rate_ml_per_h", f.rate);
        if (f.as_it_happened) w.boolean("as_it_happened", true);
        if (f.waived_by) w.text("waived_by", code(*f.waived_by));
    }
    void operator()(const facts::Paused& f) const { w.text("reason", code(f.reason)); }
    void operator()(const facts::Resumed& f) const {
        if (f.decided_by) w.text("decided_by", code(*f.decided_by));
    }
    void operator()(const facts::Observed& f) const {
        if (f.extra) w.boolean("extra", true);
        else w.text("check", code(f.kind));
        if (f.index > 0) w.integer("index", f.index);
        if (f.set != Observation{}) {
            w.key("set");
            write_observation(w, f.set);
        }
    }
    void operator()(const facts::HandedOver& f) const { w.text("role", code(f.role)); }
    void operator()(const facts::Moved& f) const { w.text("place", code(f.place)); }
    void operator()(const facts::ConsentWithdrawn& f) const { w.text("reason", code(f.reason)); }
    void operator()(const facts::Stopped& f) const { w.text("reason", code(f.reason)); }
    void operator()(const facts::SetChanged& f) const { set_of(w, f.set); }
    void operator()(const facts::Returned& f) const { w.text("to", code(f.to)).text("reason", code(f.reason)); }
    void operator()(const facts::Discarded& f) const { w.text("reason", code(f.reason)); }
    void operator()(const facts::ActionTicked& f) const {
        w.text("action", code(f.action));
        if (f.agrees) w.boolean("agrees", *f.agrees);
    }
    void operator()(const facts::CeilingLowered& f) const { rate(w, "most_ml_per_h", f.most); }
    void operator()(const facts::Restarted& f) const {
        rate(w, "rate_ml_per_h", f.rate);
        w.text("role", code(f.role)).boolean("identity_agrees", f.identity_agrees);
    }
    void operator()(const facts::Numbers& f) const { numbers(w, "of", f.of); }
};

constexpr std::string_view sum_key = ", \"sum\": \"";

std::uint64_t chained(std::uint64_t sum, std::string_view text) { return fnv(sum, text); }

std::string hex(std::uint64_t sum) {
    std::string out(16, '0');
    for (std::size_t i = 16; i-- > 0; sum >>= 4) out[i] = "0123456789abcdef"[sum & 15];
    return out;
}

}  // namespace

void write_only_facts(json::Writer& out, const Event& e) { std::visit(FactsWriter{out}, e.facts); }

void write_facts_of(json::Writer& out, const Event& e) {
    out.text("what", code(e.kind));
    write_only_facts(out, e);
}

std::string write_record(const Event& e, std::uint64_t& sum) {
    Writer w;
    w.begin_object(Writer::Layout::along).integer("n", e.number).text("at", utc_text(e.at.at, e.at.precision));
    const std::int64_t second = (e.at.at - minute_of(e.at.at)).count;
    if (e.at.precision == Precision::minute && e.placed) w.integer("second", second);
    w.text("noted", utc_text(e.noted, Precision::second)).text("what", code(e.kind));
    if (!e.replaces.empty()) numbers(w, "replaces", e.replaces);
    std::visit(FactsWriter{w}, e.facts);
    w.end_object();
    std::string line = w.take();
    line.pop_back();  // the newline
    sum = chained(sum, line);
    line.pop_back();  // the brace
    return line + std::string(sum_key) + hex(sum) + "\"}";
}

Sealed check_sum(std::string_view line, std::uint64_t& sum, ProtocolCache* cache) {
    constexpr std::size_t tail = sum_key.size() + 16 + 2;
    const std::size_t at = line.size() < tail ? line.npos : line.size() - tail;
    if (at == line.npos || line.substr(at, sum_key.size()) != sum_key || !line.ends_with("\"}")) {
        sum = chained(sum, line);
        return Sealed::absent;
    }
    const std::string_view said = line.substr(0, at);
    const std::uint64_t found = chained(cache ? cache->fnv(sum, said) : chained(sum, said), "}");
    const std::string_view stated = line.substr(at + sum_key.size(), 16);
    if (hex(found) == stated) {
        sum = found;
        return Sealed::fits;
    }
    // What comes after is chained to the sum as it is stated, so that one damaged line does not spoil the others.
    std::uint64_t next = 0;
    for (const char c : stated) {
        const std::size_t digit = std::string_view("0123456789abcdef").find(c);
        next = next << 4 | (digit == std::string_view::npos ? 0 : digit);
    }
    sum = next;
    return Sealed::broken;
}

std::uint64_t sum_of_text(std::string_view line, std::uint64_t before) {
    constexpr std::size_t tail = sum_key.size() + 16 + 2;
    return line.size() < tail ? chained(before, line) : chained(chained(before, line.substr(0, line.size() - tail)), "}");
}

std::string write_log(const Log& log) {
    std::string out;
    std::uint64_t sum = first_sum;
    for (const Event& event : log.events()) out += write_record(event, sum) + "\n";
    return out;
}

}  // namespace hangtime
