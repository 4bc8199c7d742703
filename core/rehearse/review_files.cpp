// The review as JSON (core/rehearse/review.schema.json) and as CSV.

#include "core/json/write.hpp"
#include "core/rehearse/review_told.hpp"
#include "core/rehearse/review_words.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_spelling.hpp"
#include "core/words/words.hpp"

namespace hangtime {

namespace {

std::string_view code_of(Telling how) {
    constexpr std::string_view codes[] = {"parts", "of_all_units", "all_alike", "not_told"};
    return codes[static_cast<std::size_t>(how)];
}

void number_or_null(json::Writer& w, std::string_view key, std::optional<std::int64_t> n) {
    if (n) w.integer(key, *n);
    else w.null(key);
}

template <class Reason>
void write_reasons(json::Writer& w, std::string_view key, const ToldReasons& reasons) {
    w.key(key).begin_object();
    number_or_null(w, "times", reasons.told ? std::optional<std::int64_t>(reasons.all.times) : std::nullopt);
    number_or_null(w, "seconds", reasons.told ? std::optional<std::int64_t>(reasons.all.span.count) : std::nullopt);
    w.key("reasons").begin_object();
    for (const ToldReason& r : reasons.list) {
        w.key(r.reason ? code(static_cast<Reason>(*r.reason)) : "others").begin_object(json::Writer::Layout::along);
        w.integer("times", r.by.times).integer("seconds", r.by.span.count).end_object();
    }
    w.end_object().end_object();
}

// Of all together: which groups of the list are in each distribution, from 0.
void write_summed(json::Writer& w, const ToldGroup& g) {
    w.key("summed").begin_object();
    for (int i = 0; i < spread_count; ++i) {
        w.key(code(static_cast<Spread>(i))).begin_list(json::Writer::Layout::along);
        for (const std::size_t group : g.summed[static_cast<std::size_t>(i)]) w.integer(static_cast<std::int64_t>(group));
        w.end_list();
    }
    w.end_object();
}

void write_group(json::Writer& w, const ToldGroup& g) {
    w.begin_object();
    if (!g.protocol.empty()) w.text("protocol", g.protocol).text("component", code(g.component));
    w.integer("units", g.units).key("measures").begin_object();
    for (int i = 0; i < measure_count; ++i) {
        const ToldTally& t = g.measures[static_cast<std::size_t>(i)];
        const bool counted = t.how == Telling::parts || t.how == Telling::of_all;
        w.key(code(static_cast<Measure>(i))).begin_object(json::Writer::Layout::along).text("told", code_of(t.how));
        number_or_null(w, "yes", counted ? std::optional<std::int64_t>(t.yes) : std::nullopt);
        number_or_null(w, "of", counted ? std::optional<std::int64_t>(t.of) : std::nullopt);
        if (t.how == Telling::all_alike) w.boolean("always", t.always);
        w.end_object();
    }
    w.end_object().key("minutes").begin_object();
    for (int i = 0; i < spread_count; ++i) {
        const auto spread = static_cast<Spread>(i);
        const auto& edges = edges_of(spread);
        w.key(code(spread)).begin_list();
        for (const ToldBin& bin : g.spreads[static_cast<std::size_t>(i)]) {
            w.begin_object(json::Writer::Layout::along);
            if (bin.first > 0 && bin.first < spread_bins) w.integer("from", edges[bin.first - 1]);
            if (bin.last < spread_bins - 1) w.integer("to", edges[bin.last]);
            if (bin.last == spread_bins) w.text(bin.first == spread_bins ? "only" : "or", none_name(spread));
            w.integer("times", bin.times).end_object();
        }
        w.end_list();
    }
    w.end_object();
    if (g.protocol.empty()) write_summed(w, g);
    number_or_null(w, "returned", g.returned);
    number_or_null(w, "discarded", g.discarded);
    write_reasons<PauseReason>(w, "pauses", g.pauses);
    write_reasons<ReturnReason>(w, "gone", g.gone);
    w.end_object();
}

}  // namespace

std::string review_json(const Review& review, std::int32_t floor, const std::vector<LeftOut>& left_out) {
    const ReviewTold told = told_of(review, floor);
    json::Writer w;
    w.begin_object().integer("hangtime_review", 1).integer("sessions_at_least", told.sessions).integer("floor", floor);
    w.boolean("groups_left_out", told.left_out).text("note", review_sentence());
    w.key("groups").begin_list();
    for (const ToldGroup& g : told.groups) write_group(w, g);
    w.end_list().key("all_shown");
    write_group(w, told.all);
    w.key("left_out").begin_list();
    for (const LeftOut& file : left_out)
        w.begin_object(json::Writer::Layout::along).text("file", file.file).text("why", file.why).end_object();
    w.end_list().end_object();
    return w.take();
}

std::string review_csv(const Review& review, std::int32_t floor) {
    std::string out = "protocol,component,figure,part,count,minutes\r\n";
    for (const ToldGroup& g : told_of(review, floor).groups) {
        const std::string begin = joined({g.protocol, ",", code(g.component), ","});
        const auto line = [&](std::string_view figure, std::string_view part, std::optional<std::int32_t> n, std::string_view minutes = {}) {
            out += joined({begin, figure, ",", part, ",", n ? std::to_string(*n) : std::string(), ",", minutes, "\r\n"});
        };
        line("units", "all", g.units);
        for (int i = 0; i < measure_count; ++i) {
            const ToldTally& t = g.measures[static_cast<std::size_t>(i)];
            const std::string_view figure = code(static_cast<Measure>(i));
            const bool counted = t.how == Telling::parts || t.how == Telling::of_all;
            line(figure, "yes", counted ? std::optional(t.yes) : std::nullopt);
            line(figure, t.how == Telling::of_all ? "of all units" : "of", counted ? std::optional(t.of) : std::nullopt);
        }
        for (int i = 0; i < spread_count; ++i) {
            const auto spread = static_cast<Spread>(i);
            for (const ToldBin& bin : g.spreads[static_cast<std::size_t>(i)])
                line(code(spread), joined({"\"", bin_text(spread, bin), "\""}), bin.times);
        }
        line("returned", "all", g.returned);
        line("discarded", "all", g.discarded);
        const auto reasons = [&](std::string_view figure, const ToldReasons& r, auto code_of_reason) {
            line(figure, "all", r.told ? std::optional(r.all.times) : std::nullopt,
                 r.told ? std::to_string(r.all.span.count / 60) : std::string());
            for (const ToldReason& one : r.list)
                line(figure, one.reason ? code_of_reason(*one.reason) : std::string_view("others"), one.by.times,
                     std::to_string(one.by.span.count / 60));
        };
        reasons("pauses", g.pauses, [](std::size_t i) { return code(static_cast<PauseReason>(i)); });
        reasons("gone", g.gone, [](std::size_t i) { return code(static_cast<ReturnReason>(i)); });
    }
    return out;
}

}  // namespace hangtime
