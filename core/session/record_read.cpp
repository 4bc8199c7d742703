#include "core/json/read.hpp"
#include "core/session/record.hpp"
#include "core/session/record_facts.hpp"
#include "core/words/session_spelling.hpp"

#include <algorithm>

namespace hangtime {

namespace {

using namespace record_facts;

std::optional<EventKind> kind_of(const json::Field& top, const json::Value& tree) {
    if (const json::Value* what = tree.find("what"); what && what->kind == json::Kind::text)
        if (const auto kind = code_from<EventKind>(what->text)) return kind;
    std::vector<std::string_view> accepted;
    for (int i = 0; i < event_kind_count; ++i) accepted.push_back(code(static_cast<EventKind>(i)));
    top.report().fail("what", "is not a kind of record", json::listed(accepted));
    return std::nullopt;
}

Result<Event> read_line(std::string_view line, std::string_view where, const Beside& beside) {
    const auto placed = [&](Error error) {
        error.where = std::string(where) + (error.where.empty() ? "" : ": " + error.where);
        return error;
    };
    const Result<json::Value> tree = json::read(line);
    if (!tree.ok()) return placed(tree.error());
    json::Report report;
    const json::Field top(report, &tree.value(), "");
    const auto kind = kind_of(top, tree.value());
    if (!kind) return placed(report.error());
    const json::Object o = keys_of(top, *kind);
    Event e;
    e.kind = *kind;
    e.number = static_cast<std::int32_t>(o.at("n").integer(1, 1'000'000));
    e.at = read_utc(o.at("at"));
    if (const auto second = o.find("second")) {
        if (e.at.precision == Precision::second)
            second->fail("is there, but \"at\" has seconds", "\"at\" to the minute, or no \"second\"");
        e.at.at = e.at.at + Seconds{second->integer(0, 59)};
        e.placed = true;
    }
    e.noted = read_utc(o.at("noted")).at;
    if (const auto replaces = o.find("replaces")) e.replaces = read_numbers(*replaces);
    if (const auto sum = o.find("sum")) sum->text(16, 16);
    e.facts = read_facts(o, *kind, beside);
    if (!report.ok()) return placed(report.error());
    return e;
}

// With a protocol that was read before it goes faster; what is wrong is told of the whole line.
Result<Event> read_line(std::string_view line, std::string_view where, bool older, ProtocolCache& cache) {
    if (const auto known = cache.find(line)) {
        const Rules rules{known->protocol};
        if (Result<Event> read = read_line(known->rest, where, {&rules, older}); read.ok()) return read;
    }
    Result<Event> read = read_line(line, where, {nullptr, older});
    if (!read.ok()) return read;
    const auto* opened = std::get_if<facts::Opened>(&read.value().facts);
    const auto* changed = std::get_if<facts::ProtocolChanged>(&read.value().facts);
    if (opened || changed) cache.keep(line, opened ? opened->rules.protocol : changed->rules.protocol);
    return read;
}

}  // namespace

Result<Event> read_record(std::string_view line, std::string_view where) { return read_line(line, where, Beside{}); }

namespace {

// A record that cannot be used: its number stays taken, and nothing follows from it.
Event hole(std::int32_t number, Instant at) {
    Event e;
    e.number = number;
    e.kind = EventKind::withdrawn;
    e.at = {at, Precision::second};
    e.noted = at;
    e.facts = facts::Numbers{};
    return e;
}

// How each line's sum stands. Where a line does not fit its own sum, the next one may be chained to the sum as it is
// stated or to the one that the line has: damage to a sum alone does not spoil the line after it. A line that speaks of a
// sum but does not end in one is damaged too.
std::vector<Sealed> seals_of(const std::vector<std::string_view>& lines, std::uint64_t& sum, ProtocolCache* cache) {
    std::vector<Sealed> out;
    std::optional<std::uint64_t> other;
    for (const std::string_view line : lines) {
        const std::uint64_t before = sum;
        Sealed seal = check_sum(line, sum, cache);
        if (seal == Sealed::broken && other) {
            std::uint64_t chain = *other;
            if (check_sum(line, chain) == Sealed::fits) {
                seal = Sealed::fits;
                sum = chain;
            }
        }
        other.reset();
        if (seal == Sealed::broken) other = sum_of_text(line, before);
        if (seal == Sealed::absent && line.find("\"sum\"") != line.npos) seal = Sealed::broken;
        out.push_back(seal);
    }
    return out;
}

// What the lines say, one entry a record.
struct Entry {
    Event event;
    std::optional<Error> wrong;
    std::string where;
};

// A newline that was lost or one too many has made one line of two or two of one: the numbers of the records that are
// whole say how many there were.
void fit_number(std::vector<Entry>& entries, std::int32_t n) {
    const auto next = [&] { return static_cast<std::int32_t>(entries.size()) + 1; };
    while (next() > n && entries.size() > 1 && entries.back().wrong) entries.pop_back();
    while (next() < n) {
        const std::string where = "record " + std::to_string(next());
        entries.push_back({{}, Error{where, "is not there", "the record as it was written"}, where});
    }
}

}  // namespace

Result<LogRead> read_log(const std::vector<std::string_view>& lines, ProtocolCache* cache) {
    LogRead out;
    if (lines.empty()) return Error{"the file", "holds no record", "a log: one JSON object a line"};
    const std::vector<Sealed> seals = seals_of(lines, out.sum, cache);
    const bool any_sealed = std::any_of(seals.begin(), seals.end(), [](Sealed s) { return s == Sealed::fits; });
    std::vector<Entry> entries;
    bool whole = true, older = false;
    entries.reserve(lines.size());
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const std::string where = "line " + std::to_string(i + 1);
        out.sealed = out.sealed && seals[i] == Sealed::fits;
        Result<Event> read = cache ? read_line(lines[i], where, older, *cache) : read_line(lines[i], where, Beside{nullptr, older});
        std::optional<Error> wrong;
        if (seals[i] == Sealed::broken)
            wrong = Error{where, "has another sum than it was written with", "the record as it was written"};
        else if (seals[i] == Sealed::absent && any_sealed)
            wrong = Error{where, "has no sum, and others have", "the record as it was written"};
        else if (!read.ok()) wrong = read.error();
        if (!wrong) {
            if (any_sealed && i > 0) fit_number(entries, read.value().number);
            const auto number = static_cast<std::int32_t>(entries.size()) + 1;
            if (read.value().number != number)
                wrong = Error{where + ": n", "is " + std::to_string(read.value().number),
                              "numbers from 1 without gaps: " + std::to_string(number)};
        }
        if (!wrong) {
            const auto* opened = std::get_if<facts::Opened>(&read.value().facts);
            if (opened && i == 0) older = opened->version < log_version;
            if (opened && opened->version > log_version) {
                out.newer = true;
                return Error{where + ": hangtime_log", "is " + std::to_string(opened->version) + ", from a newer version of this program",
                             "version " + std::to_string(log_version) + "; open it with the program that wrote it"};
            }
        }
        if (wrong && i == 0) return *wrong;
        whole = whole && !wrong;
        Event event = wrong ? Event{} : std::move(read.value());
        entries.push_back({std::move(event), std::move(wrong), where});
    }
    // As it was written by this program: every record was judged when it was noted.
    if (whole && out.sealed) {
        std::vector<Event> events;
        events.reserve(entries.size());
        for (Entry& entry : entries) events.push_back(std::move(entry.event));
        if (std::optional<Log> log = Log::take(events)) {
            out.log = std::move(*log);
            return out;
        }
        for (std::size_t i = 0; i < entries.size(); ++i) entries[i].event = std::move(events[i]);
    }
    Instant last{};
    for (Entry& entry : entries) {
        if (!entry.wrong) {
            last = std::max(last, entry.event.noted);
            if (const auto refused = out.log.adopt(std::move(entry.event)))
                entry.wrong = Error{entry.where, "is refused: " + std::string(code(*refused)),
                                    "a record that fits the ones before it"};
        }
        if (!entry.wrong) continue;
        if (out.log.empty()) return *entry.wrong;
        const std::int32_t number = out.log.next_number();
        out.damaged.push_back({number, *entry.wrong});
        out.log.adopt(hole(number, last));
    }
    return out;
}

Result<LogRead> read_log(std::string_view text, ProtocolCache* cache) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        std::string_view line = text.substr(0, end);
        if (line.ends_with('\r')) line.remove_suffix(1);
        if (!line.empty()) lines.push_back(line);
        if (end == text.npos) break;
        text.remove_prefix(end + 1);
    }
    return read_log(lines, cache);
}

}  // namespace hangtime
