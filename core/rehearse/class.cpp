#include "core/rehearse/class.hpp"

#include "core/json/read.hpp"
#include "core/protocol/fields.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_spelling.hpp"

#include <algorithm>

namespace hangtime {

namespace {

using json::Field;
using json::Object;

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

std::optional<Instant> read_time(const Object& o, std::string_view key) {
    const Field f = o.at(key);
    if (f.is_null()) return std::nullopt;
    const std::string text = f.text(1, 40);
    const std::optional<Instant> at = time_of(text);
    if (!at) f.fail("is not a time", "2026-03-14T14:08:18+01:00, or null");
    return at;
}

std::string read_id(const Field& f) { return f.text(1, 60); }

Attempt::Item read_item(const Field& field) {
    const Object o = field.object({"kind", "item", "met", "points", "most", "due", "done", "volume_units", "what_came_of_it",
                                   "rule", "from"});
    Attempt::Item out;
    out.kind = fields::choice<ScoreKind>(o.at("kind"));
    out.item = o.at("item").text(1, 400);
    out.met = o.at("met").boolean();
    out.most = static_cast<std::int32_t>(o.at("most").integer(0, 100));
    out.points = static_cast<std::int32_t>(o.at("points").integer(0, 100));
    if (out.points != (out.met ? out.most : 0)) o.at("points").fail("does not go with \"met\"", "all of the points, or 0");
    out.due = read_time(o, "due");
    out.done = read_time(o, "done");
    out.rule = o.at("rule").text(0, 2000);
    out.from = o.at("from").text(0, 2000);
    return out;
}

void read_unit(const Field& field, Attempt& out) {
    const Object o = field.object({"component", "bag_units", "given_units", "wasted_units", "issued", "started", "ended", "limit",
                                   "stopped", "over_limit_s", "stood_still_s", "checks", "late", "missed"});
    out.wasted_units += o.at("wasted_units").integer(0, bounds::volume.units);
    out.over_limit = out.over_limit || o.at("over_limit_s").integer(0, 10'000'000) > 0;
}

// Of what happened and of what was refused nothing but codes and times is taken, and nothing else may stand there.
void check_happened(const Field& field) {
    const Object o = field.object({"id", "what", "at", "refused", "unanswered_s", "ran_units", "answered"});
    read_id(o.at("id"));
    fields::choice<WorldKind>(o.at("what"));
    read_time(o, "at");
}

void read_refused(const Field& field, Attempt& out) {
    const Object o = field.object({"what", "why", "at"});
    fields::choice<EventKind>(o.at("what"));
    read_time(o, "at");
    const auto why = fields::choice<Refusal>(o.at("why"));
    if (std::find(out.refused.begin(), out.refused.end(), why) == out.refused.end()) out.refused.push_back(why);
}

}  // namespace

Result<Attempt> read_attempt(std::string_view text) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return tree.error();
    json::Report report;
    const Field top(report, &tree.value(), "");
    const Object o = top.object({"hangtime_debrief", "rehearsal", "note", "scenario", "protocol", "case_number", "points", "most",
                                 "begins", "ends", "parts", "units", "happened", "refused"});
    Attempt out;
    o.at("hangtime_debrief").integer(1, 1);
    if (!o.at("rehearsal").boolean()) o.at("rehearsal").fail("is not so", "the result of a rehearsal");
    o.at("note").text(1, 400);
    out.scenario = read_id(o.at("scenario"));
    out.protocol = read_id(o.at("protocol"));
    out.case_number = static_cast<std::int32_t>(o.at("case_number").integer(0, 999'999));
    out.points = static_cast<std::int32_t>(o.at("points").integer(0, 10'000));
    out.most = static_cast<std::int32_t>(o.at("most").integer(0, 10'000));
    read_time(o, "begins");
    read_time(o, "ends");
    std::int32_t points = 0, most = 0;
    for (const Field& part : o.at("parts").list(0, 200)) {
        out.items.push_back(read_item(part));
        points += out.items.back().points;
        most += out.items.back().most;
    }
    if (points != out.points || most != out.most)
        o.at("points").fail("is not what its parts come to", std::to_string(points) + " of " + std::to_string(most));
    for (const Field& unit : o.at("units").list(0, 100)) read_unit(unit, out);
    for (const Field& happened : o.at("happened").list(0, 1000)) check_happened(happened);
    for (const Field& refused : o.at("refused").list(0, 1000)) read_refused(refused, out);
    if (!report.ok()) return report.error();
    return out;
}

std::optional<Error> ClassSummary::add_file(std::string_view text) {
    Result<Attempt> read = read_attempt(text);
    if (!read.ok()) return read.error();
    const Attempt& a = read.value();
    const auto before = [](const ClassCase& c, const Attempt& x) {
        return c.scenario != x.scenario ? c.scenario < x.scenario : c.protocol < x.protocol;
    };
    auto at = std::lower_bound(cases_.begin(), cases_.end(), a, before);
    if (at == cases_.end() || at->scenario != a.scenario || at->protocol != a.protocol) {
        at = cases_.insert(at, ClassCase{});
        at->scenario = a.scenario;
        at->protocol = a.protocol;
        at->most = a.most;
        for (const Attempt::Item& item : a.items) at->items.push_back({item.kind, item.item, item.rule, item.from, item.most, 0, 0, 0, {}});
    }
    const auto same = [](const ClassItem& x, const Attempt::Item& y) { return x.kind == y.kind && x.item == y.item && x.most == y.most; };
    if (!std::equal(at->items.begin(), at->items.end(), a.items.begin(), a.items.end(), same))
        return Error{"parts", "are other items than those of the first result of this scenario", "results of one version of a scenario"};
    ++attempts_;
    at->points.insert(std::upper_bound(at->points.begin(), at->points.end(), a.points), a.points);
    const auto number = std::lower_bound(at->case_numbers.begin(), at->case_numbers.end(), a.case_number);
    if (number == at->case_numbers.end() || *number != a.case_number) at->case_numbers.insert(number, a.case_number);
    for (std::size_t i = 0; i < a.items.size(); ++i) {
        const Attempt::Item& item = a.items[i];
        ClassItem& sum = at->items[i];
        if (item.met) {
            ++sum.met;
        } else if (item.done && item.due && *item.done > *item.due) {
            ++sum.late;
            const Seconds by = *item.done - *item.due;
            sum.by.insert(std::upper_bound(sum.by.begin(), sum.by.end(), by), by);
        } else if (!item.done && item.kind != ScoreKind::never_done && item.kind != ScoreKind::not_tried &&
                   item.kind != ScoreKind::rate_not_raised && item.kind != ScoreKind::given_at_most) {
            ++sum.not_done;
        }
    }
    for (const Refusal why : a.refused) {
        const auto known = std::find_if(at->refused.begin(), at->refused.end(), [&](const auto& r) { return r.first == why; });
        if (known == at->refused.end()) at->refused.push_back({why, 1});
        else ++known->second;
    }
    at->wasted += a.wasted_units > 0 ? 1 : 0;
    at->over_limit += a.over_limit ? 1 : 0;
    return std::nullopt;
}

std::vector<std::size_t> ClassCase::mistakes() const {
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i < items.size(); ++i)
        if (items[i].met < attempts()) out.push_back(i);
    std::stable_sort(out.begin(), out.end(), [&](std::size_t a, std::size_t b) { return items[a].met < items[b].met; });
    return out;
}

std::vector<ScoreBin> score_bins(const ClassCase& c) {
    constexpr std::int32_t most_bars = 12;
    const std::int32_t width = c.most / most_bars + 1;
    std::vector<ScoreBin> out;
    // From the top down, so that full marks stand in a bar that ends with them.
    for (std::int32_t high = c.most; high >= 0; high -= width) out.insert(out.begin(), {std::max(0, high - width + 1), high, 0});
    for (const std::int32_t p : c.points)
        for (ScoreBin& bin : out)
            if (p >= bin.least && p <= bin.most) ++bin.attempts;
    return out;
}

}  // namespace hangtime
