#include "core/rehearse/course.hpp"

#include "core/json/field.hpp"
#include "core/json/read.hpp"
#include "core/json/write.hpp"
#include "core/rehearse/filter_read.hpp"

namespace hangtime {

namespace {

constexpr std::string_view first_key = "{\n  \"hangtime_rehearsal\"";
constexpr std::int64_t latest = 1LL << 40;  // seconds since 1970

// {"moment": seconds} or {"moment": seconds, "happens": {...}}
std::optional<Error> read_given(Rehearsal& r, std::string_view text, const std::string& where) {
    const Result<json::Value> tree = json::read(text);
    if (!tree.ok()) return Error{where, tree.error().problem, tree.error().accepted};
    json::Report report;
    const json::Field top(report, &tree.value(), "");
    if (!top.member("moment")) {
        const Result<Event> event = read_record(text, where);
        if (!event.ok()) return event.error();
        Event given = event.value();
        r.advance_to(given.noted);
        given.number = 0;
        given.noted = {};
        r.note(std::move(given));
        return std::nullopt;
    }
    const json::Object o = top.object({"moment", "happens"});
    const Instant at{o.at("moment").integer(0, latest)};
    std::optional<Happening> happening;
    if (const auto f = o.find("happens")) happening = rehearse_reader::read_happening(*f, r.scenario().signs);
    if (!report.ok()) return Error{where + ": " + report.error().where, report.error().problem, report.error().accepted};
    r.advance_to(at);
    if (happening) r.inject(std::move(*happening));
    return std::nullopt;
}

}  // namespace

std::string course_beginning(const Scenario& scenario, std::int32_t seed) {
    Scenario whole = scenario;
    whole.seed = seed;
    whole.whole_protocol = true;  // the page that goes on may hold other rules of this name
    return write_scenario(whole);
}

bool begins_course(std::string_view text) { return text.starts_with(first_key); }

std::string course_record(Event event, const Rehearsal& before) {
    event.number = before.log().next_number();
    event.noted = before.now();
    std::uint64_t sum = first_sum;
    std::string text = write_record(event, sum);
    if (!read_record(text, "").ok()) text.clear();
    return text;
}

std::string course_happening(const Happening& happening, const Rehearsal& before) {
    json::Writer w;
    w.begin_object().integer("moment", before.now().utc).key("happens");
    rehearse_reader::write_happening(w, happening);
    w.end_object();
    return w.take();
}

std::string course_moment(Instant now) {
    json::Writer w;
    w.begin_object(json::Writer::Layout::along).integer("moment", now.utc).end_object();
    return w.take();
}

std::optional<Error> go_through(Rehearsal& rehearsal, std::span<const std::string> rest) {
    for (std::size_t i = 0; i < rest.size(); ++i)
        if (auto error = read_given(rehearsal, rest[i], "record " + std::to_string(i + 1))) return error;
    return std::nullopt;
}

}  // namespace hangtime
