#include "core/rehearse/debrief_file.hpp"

#include "core/json/field.hpp"
#include "core/json/read.hpp"
#include "core/plan/plan_words.hpp"
#include "core/protocol/fields.hpp"
#include "core/protocol/protocol.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_spelling.hpp"
#include "core/words/words.hpp"

#include <algorithm>

namespace hangtime {

namespace {

constexpr std::int64_t most_points = 1000;
constexpr std::int64_t most_units = bounds::volume.units * 2;
constexpr std::int64_t most_seconds = 30LL * 86400;

// "2026-03-14T14:08:18+01:00": a result says by which clock it goes with each time, and holds no clock.
std::optional<Instant> time_of(std::string_view text) {
    constexpr std::string_view form = "9999-99-99T99:99:99+99:99";
    if (text.size() != form.size()) return std::nullopt;
    for (std::size_t i = 0; i < form.size(); ++i) {
        const bool digit = text[i] >= '0' && text[i] <= '9';
        const bool fits = form[i] == '9' ? digit : form[i] == '+' ? text[i] == '+' || text[i] == '-' : text[i] == form[i];
        if (!fits) return std::nullopt;
    }
    const auto two = [&](std::size_t at) { return (text[at] - '0') * 10 + (text[at + 1] - '0'); };
    const int month = two(5), day = two(8), hour = two(11), minute = two(14), second = two(17);
    if (month < 1 || month > 12 || day < 1 || day > 31 || hour > 23 || minute > 59 || second > 59) return std::nullopt;
    const std::int64_t offset = (two(20) * 60 + two(23)) * 60 * (text[19] == '-' ? -1 : 1);
    return Instant{days_from_civil(two(0) * 100 + two(2), month, day) * 86'400 + (hour * 60 + minute) * 60 + second - offset};
}

// None: null.
std::optional<Instant> read_time(const json::Object& o, std::string_view key) {
    const json::Field f = o.at(key);
    if (f.is_null()) return std::nullopt;
    const std::optional<Instant> at = time_of(f.text(1, 40));
    if (!at) f.fail("is not a time", "2026-03-14T14:08:18+01:00, or null");
    return at;
}

Volume volume(const json::Object& o, std::string_view key) { return {o.at(key).integer(0, most_units)}; }

SavedPart read_part(const json::Field& field) {
    const json::Object o = field.object({"kind", "item", "met", "points", "most", "due", "done", "volume_units",
                                         "what_came_of_it", "rule", "from"});
    SavedPart out;
    out.kind = fields::choice<ScoreKind>(o.at("kind"));
    out.item = o.at("item").text(1, 400);
    out.met = o.at("met").boolean();
    out.points = static_cast<std::int32_t>(o.at("points").integer(0, most_points));
    out.most = static_cast<std::int32_t>(o.at("most").integer(0, most_points));
    out.came = o.at("what_came_of_it").text(0, 2000);
    out.rule = o.at("rule").text(0, 2000);
    out.from = o.at("from").text(0, 2000);
    out.due = read_time(o, "due");
    out.done = read_time(o, "done");
    if (const auto f = o.find("volume_units")) f->integer(0, most_units);
    if (field.report().ok() && out.points != (out.met ? out.most : 0))
        o.named("points").fail("do not go with \"met\"", "\"most\" where it was met, else 0");
    return out;
}

SavedUnit read_unit(const json::Field& field) {
    const json::Object o = field.object({"component", "bag_units", "given_units", "wasted_units", "issued", "started",
                                         "ended", "limit", "stopped", "over_limit_s", "stood_still_s", "checks", "late",
                                         "missed"});
    SavedUnit out;
    out.component = o.at("component").choice<Component>(component_codes);
    out.bag = volume(o, "bag_units");
    out.given = volume(o, "given_units");
    out.wasted = volume(o, "wasted_units");
    for (const std::string_view key : {"issued", "limit"}) read_time(o, key);
    out.started = read_time(o, "started").has_value();
    out.ended = read_time(o, "ended").has_value();
    out.stopped = o.at("stopped").boolean();
    out.over_limit = {o.at("over_limit_s").integer(0, most_seconds)};
    out.stood_still = {o.at("stood_still_s").integer(0, most_seconds)};
    const auto count = [&](std::string_view key) { return static_cast<std::int32_t>(o.at(key).integer(0, 10000)); };
    out.checks = count("checks");
    out.late = count("late");
    out.missed = count("missed");
    return out;
}

// Of what happened nothing is taken, and nothing but codes, times and sums may stand there.
void check_happened(const json::Field& field) {
    const json::Object o = field.object({"id", "what", "at", "refused", "unanswered_s", "ran_units", "answered"});
    o.at("id").text(1, 60);
    fields::choice<WorldKind>(o.at("what"));
    read_time(o, "at");
    if (const auto f = o.find("refused")) fields::choice<Refusal>(*f);
    if (const auto f = o.find("unanswered_s")) f->integer(0, most_seconds);
    if (const auto f = o.find("ran_units")) f->integer(0, most_units);
    if (const auto f = o.find("answered")) f->boolean();
}

Refusal read_refused(const json::Field& field) {
    const json::Object o = field.object({"what", "why", "at"});
    fields::choice<EventKind>(o.at("what"));
    read_time(o, "at");
    return fields::choice<Refusal>(o.at("why"));
}

std::string points_text(const SavedDebrief& d) { return std::to_string(d.points) + " of " + std::to_string(d.most); }

void add_units(sheet::Document& d, const SavedDebrief& s) {
    if (s.units.empty()) d.fact("Volume", "no unit was issued");
    for (std::size_t i = 0; i < s.units.size(); ++i) {
        const SavedUnit& u = s.units[i];
        const std::string which = s.units.size() > 1 ? joined({"Unit ", std::to_string(i + 1), ": "}) : std::string();
        std::string text = joined({name(u.component), ", ", volume_text(u.bag), "; given ", volume_text(u.given)});
        if (u.wasted > Volume{}) text += joined({", wasted ", volume_text(u.wasted)});
        if (!u.started) text += ", not started";
        else if (!u.ended) text += ", still running at the end";
        else if (u.stopped) text += ", stopped";
        if (u.over_limit > Seconds{}) text += joined({", ", span_text(u.over_limit), " over the limit"});
        d.fact(which + "Volume", text);
        if (u.stood_still > Seconds{}) d.fact(which + "Stood still", span_text(u.stood_still));
        if (u.started)
            d.fact(which + "Checks that fell due", joined({std::to_string(u.checks), ", late ", std::to_string(u.late),
                                                           ", missed ", std::to_string(u.missed)}));
    }
    d.fact("Refused by the log", std::to_string(s.refused.size()));
}

void add_cautions(sheet::Document& d) {
    std::vector<std::string> cautions;
    for (std::size_t i = 0; i < caution_count; ++i) cautions.emplace_back(caution(i));
    d.cautions(std::move(cautions));
}

}  // namespace

bool looks_like_debrief(std::string_view text) { return text.substr(0, 400).find("\"hangtime_debrief\"") != text.npos; }

Result<SavedDebrief> read_debrief(std::string_view text) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    const json::Object top = json::Field(report, &tree.value(), "")
                                 .object({"hangtime_debrief", "rehearsal", "note", "scenario", "protocol", "case_number",
                                          "points", "most", "begins", "ends", "parts", "units", "happened", "refused"});
    SavedDebrief out;
    top.at("hangtime_debrief").integer(1, 1);
    if (!top.at("rehearsal").boolean() && report.ok())
        top.named("rehearsal").fail("is false", "true: a debrief is of a rehearsal");
    const auto key = [&](std::string_view name) {
        std::string text_of = top.at(name).text(1, 40);
        if (report.ok() && !json::is_key(text_of)) top.named(name).fail("is no id", "letters a to z, digits and -");
        return text_of;
    };
    top.at("note").text(1, 400);
    read_time(top, "begins");
    read_time(top, "ends");
    out.scenario = key("scenario");
    out.protocol = key("protocol");
    out.case_number = static_cast<std::int32_t>(top.at("case_number").integer(1000, 99'999));
    out.points = static_cast<std::int32_t>(top.at("points").integer(0, most_points));
    out.most = static_cast<std::int32_t>(top.at("most").integer(0, most_points));
    std::int32_t points = 0, most = 0;
    for (const json::Field& part : top.at("parts").list(0, 50)) {
        out.parts.push_back(read_part(part));
        points += out.parts.back().points;
        most += out.parts.back().most;
    }
    if (report.ok() && (points != out.points || most != out.most))
        top.named(points != out.points ? "points" : "most").fail("is not the sum of the parts", std::to_string(points != out.points ? points : most));
    for (const json::Field& unit : top.at("units").list(0, 50)) out.units.push_back(read_unit(unit));
    for (const json::Field& happened : top.at("happened").list(0, 200)) check_happened(happened);
    for (const json::Field& refused : top.at("refused").list(0, json::most_items)) out.refused.push_back(read_refused(refused));
    if (!report.ok()) return report.error();
    return out;
}

sheet::Document saved_debrief_sheet(const SavedDebrief& s, std::string_view title) {
    sheet::Document d;
    d.title = joined({"Rehearsal: ", title.empty() ? std::string_view(s.scenario) : title});
    d.headline(std::string(rehearsal_sentence()));
    d.fact("Case number", std::to_string(s.case_number));
    d.fact("Protocol", s.protocol);
    d.fact("Points", joined({points_text(s), ", the sum of the items below"}));
    sheet::Table table;
    table.caption = "Each scored item";
    table.add_column("Item");
    table.add_column("Points", sheet::Role::number);
    table.add_column("What came of it");
    table.add_column("Rule");
    table.add_column("Where from");
    for (const SavedPart& p : s.parts)
        table.add_row({p.item, joined({std::to_string(p.points), " of ", std::to_string(p.most)}), p.came,
                       p.rule.empty() ? std::string_view("as the protocol has it") : std::string_view(p.rule), p.from});
    d.table(std::move(table));
    d.heading("What it came to");
    add_units(d, s);
    add_cautions(d);
    return d;
}

sheet::Document compared_debriefs(const SavedDebrief& a, const SavedDebrief& b, std::string_view title) {
    sheet::Document d;
    d.title = joined({"Rehearsal: ", title.empty() ? std::string_view(a.scenario) : title, ", two attempts"});
    d.headline(std::string(rehearsal_sentence()));
    if (a.scenario != b.scenario)
        d.paragraph(joined({"These are two scenarios, ", a.scenario, " and ", b.scenario,
                            ": only what is called the same can be compared."}));
    if (a.protocol != b.protocol)
        d.paragraph(joined({"They were played under two protocols, ", a.protocol, " and ", b.protocol, "."}));
    d.fact("Case numbers", joined({std::to_string(a.case_number), " and ", std::to_string(b.case_number)}));
    d.fact("Points", joined({points_text(a), " and ", points_text(b)}));
    sheet::Table table;
    table.caption = "Each scored item";
    table.add_column("Item");
    table.add_column("First");
    table.add_column("Second");
    table.add_column("Change");
    const auto cell = [](const SavedPart& p) {
        return joined({p.met ? "met: " : "not met: ", p.came});
    };
    std::vector<bool> taken(b.parts.size());
    for (const SavedPart& one : a.parts) {
        const SavedPart* two = nullptr;
        for (std::size_t i = 0; i < b.parts.size() && !two; ++i)
            if (!taken[i] && b.parts[i].item == one.item && b.parts[i].kind == one.kind) {
                two = &b.parts[i];
                taken[i] = true;
            }
        const std::string_view change = !two                  ? "only in the first"
                                        : one.met == two->met ? (one.met ? "both" : "neither")
                                        : two->met            ? "better"
                                                              : "worse";
        table.add_row({one.item, cell(one), two ? cell(*two) : std::string("not scored"), change});
    }
    for (std::size_t i = 0; i < b.parts.size(); ++i)
        if (!taken[i]) table.add_row({b.parts[i].item, "not scored", cell(b.parts[i]), "only in the second"});
    d.table(std::move(table));
    d.heading("What the first came to");
    add_units(d, a);
    d.heading("What the second came to");
    add_units(d, b);
    add_cautions(d);
    return d;
}

}  // namespace hangtime
