#include "core/protocol/read.hpp"

#include "core/json/read.hpp"
#include "core/protocol/observe_reader.hpp"
#include "core/protocol/reader.hpp"

namespace hangtime {

namespace {

using namespace protocol_reader;

void read_head(const json::Object& o, Protocol& p) {
    p.version = static_cast<int>(o.at("hangtime_protocol").integer(1, 1));
    p.id = o.at("id").key();
    p.title = o.at("title").text(1, 80);
    p.issued_by = o.at("issued_by").text(1, 80);
    p.revised = o.at("revised").text(4, 40);
    p.adopted = o.at("adopted").boolean();
    p.children = o.at("children").boolean();
}

void read_lines(const json::Field& field, const BasisReader& basis, Protocol& p) {
    for (const json::Field& item : field.list(1, 3)) {
        const json::Object o = item.object({"kind", "holds_ml", "source", "grade"});
        const LinePreset preset{fields::choice<LineKind>(o.at("kind")),
                                fields::volume(o.at("holds_ml"), tenths_of_ml(1), ml(200)), basis(o)};
        for (const LinePreset& earlier : p.lines)
            if (earlier.kind == preset.kind)
                o.named("kind").fail("is there twice: \"" + std::string(code(preset.kind)) + "\"",
                                     "each kind of line once");
        p.lines.push_back(preset);
    }
}

void read_saline(const json::Field& field, const BasisReader& basis, Protocol& p) {
    const json::Object o = field.object({"bags_ml", "source", "grade"});
    for (const json::Field& bag : o.at("bags_ml").list(1, 4))
        p.saline_bags.push_back(fields::volume(bag, ml(10), ml(1000)));
    p.saline_basis = basis(o);
}

void read_device(const json::Object& top, const BasisReader& basis, Protocol& p) {
    const json::Object pump = top.at("pump").object({"step_ml_per_h", "most_ml_per_h", "source", "grade"});
    p.pump = {fields::rate(pump.at("step_ml_per_h")), fields::rate(pump.at("most_ml_per_h")), basis(pump)};
    const json::Object gravity = top.at("gravity").object({"drops_per_ml", "source", "grade"});
    p.drop_factor = fields::drop_factor(gravity.at("drops_per_ml"));
    p.drop_factor_basis = basis(gravity);
    const json::Object reserve =
        top.at("reserve").object({"accuracy_percent", "least_min", "source", "grade"});
    p.reserve = {static_cast<std::int32_t>(reserve.at("accuracy_percent").decimal(1, 0, 200)),
                 fields::minutes_of(reserve.at("least_min"), 0, 60), basis(reserve)};
    const json::Object closing = top.at("closing").object({"last_min", "source", "grade"});
    p.closing = fields::minutes_of(closing.at("last_min"), 0, 120);
    p.closing_basis = basis(closing);
}

template <class E>
Given<E> read_rule(const json::Object& top, std::string_view name, std::string_view key,
                   const BasisReader& basis) {
    const json::Object o = top.at(name).object({key, "source", "grade"});
    return {fields::choice<E>(o.at(key)), basis(o)};
}

void read_rules(const json::Object& top, const BasisReader& basis, Protocol& p) {
    p.duration_counts_from = read_rule<CountsFrom>(top, "duration", "counts_from", basis);
    p.slow_counts_from = read_rule<SlowFrom>(top, "slow_stage", "counts_from", basis);
    p.expiry = read_rule<ExpiryRule>(top, "expiry", "rule", basis);
    p.clearing = read_rule<Clearing>(top, "clearing", "rule", basis);
    p.primed_with = read_rule<Primed>(top, "priming", "with", basis);
    read_lines(top.at("lines"), basis, p);
    read_saline(top.at("saline"), basis, p);
    if (const auto field = top.find("keeping")) {
        const json::Object o = field->object({"below_c", "source", "grade"});
        p.keep_below_tenths_c = Given<std::int32_t>{
            static_cast<std::int32_t>(o.at("below_c").decimal(1, 10, 400)), basis(o)};
    }
    if (const auto field = top.find("keeping_reading")) {
        const json::Object o = field->object({"counts_min", "source", "grade"});
        p.keep_reading = Given<Seconds>{minutes(o.at("counts_min").integer(1, 240)), basis(o)};
    }
    if (const auto field = top.find("set")) {
        const json::Object o = field->object({"most_units", "source", "grade"});
        p.set_units = Given<std::int32_t>{
            static_cast<std::int32_t>(o.at("most_units").integer(1, 20)), basis(o)};
    }
    const json::Object after = top.at("after_send_back").object({"may_be_used", "source", "grade"});
    p.use_after_send_back = after.at("may_be_used").boolean();
    p.use_after_send_back_basis = basis(after);
    if (const auto field = top.find("session")) p.session = read_session(*field, basis);
    if (const auto field = top.find("match")) p.match = read_match(*field, basis);
    if (const auto field = top.find("round")) p.round = read_round(*field, basis);
}

}  // namespace

namespace protocol_reader {

std::vector<Source> read_sources(const json::Field& field) {
    std::vector<Source> out;
    for (const auto& [key, member] : field.members(100)) {
        const json::Object o = member.object({"title", "year", "place", "note"});
        Source source{key, o.at("title").text(1, 160), o.at("year").text(1, 60), o.at("place").text(1, 300)};
        if (const auto note = o.find("note")) source.note = note->text(1, 300);
        out.push_back(std::move(source));
    }
    return out;
}

Basis BasisReader::operator()(const json::Object& group) const {
    Basis out;
    out.grade = fields::choice<Grade>(group.at("grade"));
    const auto source = group.find("source");
    const bool needs_one = out.grade == Grade::published || out.grade == Grade::quoted;
    if (!source) {
        if (needs_one)
            group.named("source").fail("is missing: the grade is " + std::string(code(out.grade)),
                                       "the key of one of the file's sources");
        return out;
    }
    const std::string key = source->text(1, 40);
    if (out.grade == Grade::common_practice)
        source->fail("is there, but the grade is common_practice",
                     "no source, or the grade published, quoted or from_memory");
    for (std::size_t i = 0; i < sources_->size(); ++i)
        if ((*sources_)[i].key == key) out.source = static_cast<std::uint8_t>(i);
    if (out.source == Basis::no_source) {
        std::vector<std::string_view> keys;
        for (const Source& known : *sources_) keys.push_back(known.key);
        source->fail("\"" + key + "\" is not among the file's sources",
                     keys.empty() ? "a key of \"sources\", which is empty" : json::listed(keys));
    }
    return out;
}

}  // namespace protocol_reader

Protocol read_protocol(const json::Field& field) {
    json::Report& report = field.report();
    const json::Object top = field.object(
        {"hangtime_protocol", "id", "title", "issued_by", "revised", "adopted", "children", "sources",
         "components", "checks", "observations", "reaction", "duration", "slow_stage", "expiry", "clearing",
         "priming", "lines", "saline", "keeping", "keeping_reading", "set", "after_send_back", "session", "match", "round", "pump", "gravity",
         "reserve", "closing"});
    Protocol p;
    read_head(top, p);
    p.sources = read_sources(top.at("sources"));
    const BasisReader basis(p.sources);
    const json::Object components = top.at("components").object(
        {component_codes[0], component_codes[1], component_codes[2], component_codes[3], component_codes[4],
         component_codes[5]});
    static_assert(component_count == 6);
    for (std::size_t i = 0; i < component_count; ++i)
        p.components[i] = read_component(components.at(component_codes[i]), basis);
    p.checks = read_checks(top.at("checks"), basis);
    p.observations = read_observe(top.at("observations"), basis);
    p.reaction = read_reaction(top.at("reaction"), basis);
    read_rules(top, basis, p);
    read_device(top, basis, p);
    if (report.ok()) report_contradictions(p, report);
    return p;
}

Result<Protocol> read_protocol(std::string_view text) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    Protocol p = read_protocol(json::Field(report, &tree.value(), ""));
    if (!report.ok()) return report.error();
    return p;
}

}  // namespace hangtime
