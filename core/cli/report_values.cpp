#include "core/cli/report_values.hpp"

#include "core/plan/plan_words.hpp"
#include "core/words/spelling.hpp"
#include "core/words/sums.hpp"

namespace hangtime::cli {

namespace {

constexpr int places = 6;

// num / den in millionths, rounded to the nearest.
std::int64_t millionths(std::int64_t num, std::int64_t den) {
    return floor_div(2 * static_cast<Wide>(num) * 1'000'000 + den, 2 * den);
}

}  // namespace

ReportValues::ReportValues(const Protocol& protocol, const Request& request, const Reckoning& reckoning)
    : protocol_(protocol), request_(request), r_(reckoning),
      day_(day_clock_of(request.state, request.wall, reckoning.now)) {}

void ReportValues::time(std::string_view key, Instant at) {
    out_.key(key).begin_object(Layout::along).text("at", iso_text(at, request_.wall));
    if (r_.planned) {
        out_.integer("from_start_s", (at - r_.start).count);
    } else {
        out_.null("from_start_s");
    }
    out_.text("clock", clock_text(at, day_)).end_object();
}

void ReportValues::time(std::string_view key, const std::optional<Instant>& at) {
    if (at) {
        time(key, *at);
    } else {
        out_.null(key);
    }
}

void ReportValues::volume(std::string_view key, Volume v) {
    out_.key(key).begin_object(Layout::along).decimal("ml", millionths(v.units, units_per_ml), places);
    out_.integer("units", v.units).end_object();
}

void ReportValues::rate(std::string_view key, Rate r) {
    out_.key(key).begin_object(Layout::along);
    out_.decimal("ml_per_h", millionths(r.units_per_s, units_per_s_of_ml_per_h), places);
    out_.integer("units_per_s", r.units_per_s).end_object();
}

void ReportValues::ratio(std::string_view key, const RateRatio& r) {
    out_.key(key).begin_object(Layout::along);
    out_.decimal("ml_per_h", millionths(r.num, r.den * units_per_s_of_ml_per_h), places);
    out_.integer("num", r.num).integer("den", r.den).end_object();
}

void ReportValues::ratio(std::string_view key, const std::optional<RateRatio>& r) {
    if (r) {
        ratio(key, *r);
    } else {
        out_.null(key);
    }
}

void ReportValues::mass(std::string_view key, const std::optional<Mass>& m) {
    if (m) {
        out_.decimal(key, m->grams, 3);
    } else {
        out_.null(key);
    }
}

void ReportValues::sum(std::string_view key, const Sum& s) {
    if (s.kind == SumKind::none) {
        out_.null(key);
        return;
    }
    out_.key(key)
        .begin_object(Layout::along)
        .text("kind", code(s.kind))
        .text("text", sum_text(s, day_))
        .end_object();
}

void ReportValues::source(const Basis& basis) {
    out_.key("source").begin_object(Layout::along).text("grade", code(basis.grade));
    if (basis.source < protocol_.sources.size()) {
        out_.text("key", protocol_.sources[basis.source].key);
    } else {
        out_.null("key");
    }
    out_.text("text", basis_text(protocol_, basis)).end_object();
}

void ReportValues::source(const Basis& basis, bool from_protocol) {
    if (from_protocol) {
        source(basis);
    } else {
        out_.null("source");
    }
}

}  // namespace hangtime::cli
