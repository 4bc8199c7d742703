#include "core/rehearse/review.hpp"

#include "core/json/write.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_spelling.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"

namespace hangtime {

namespace {

bool hidden(std::int32_t n, std::int32_t floor) { return n > 0 && n < floor; }

// One of the two parts of a tally is too small to be told; then neither is, because one follows from the other.
bool hidden(const Tally& t, std::int32_t floor) { return hidden(t.yes, floor) || hidden(t.of - t.yes, floor); }

std::string few_text(std::int32_t floor) { return "fewer than " + std::to_string(floor); }

std::string count_text(std::int32_t n, std::int32_t floor) { return hidden(n, floor) ? few_text(floor) : std::to_string(n); }

std::string tally_text(const Tally& t, Measure measure, std::int32_t floor) {
    if (t.of == 0) return "none";
    if (hidden(t.of, floor)) return "of " + few_text(floor);
    const std::string of = std::to_string(t.of);
    if (hidden(t.of - t.yes, floor))
        return joined({"of ", of, ": ", other_name(measure), " ", few_text(floor)});
    if (hidden(t.yes, floor)) return joined({few_text(floor), " of ", of});
    return joined({std::to_string(t.yes), " of ", of});
}

// The groups that are large enough, and what they come to together.
std::vector<ReviewGroup> shown_groups(const Review& review, std::int32_t floor, ReviewGroup& total) {
    std::vector<ReviewGroup> out;
    for (const ReviewGroup& g : review.groups()) {
        if (g.units < floor) continue;
        out.push_back(g);
        total.add(g);
    }
    return out;
}

void add_group(sheet::Document& d, const ReviewGroup& g, std::string_view title, std::int32_t floor) {
    d.heading(title);
    d.fact("Units", std::to_string(g.units));
    for (int i = 0; i < measure_count; ++i) {
        const auto measure = static_cast<Measure>(i);
        d.fact(name(measure), tally_text(g.measures[static_cast<std::size_t>(i)], measure, floor));
    }
    const bool few = hidden(g.pauses, floor);
    d.fact("Pauses", few || g.pauses == 0 ? count_text(g.pauses, floor)
                                          : joined({std::to_string(g.pauses), ", ", span_text(g.paused), " in all"}));
    d.fact("Returned", count_text(g.returned, floor));
    d.fact("Discarded", count_text(g.discarded, floor));
    const std::int32_t gone = g.returned + g.discarded;
    if (gone >= floor) d.fact("From issue until returned or discarded", joined({span_text(g.until_gone), " in all"}));
    for (std::size_t i = 0; i < g.reasons.size(); ++i)
        if (g.reasons[i] > 0)
            d.fact(joined({"Reason: ", name(static_cast<ReturnReason>(i))}), count_text(g.reasons[i], floor));
}

std::string group_title(const ReviewGroup& g) { return joined({name(g.component), ", ", g.protocol}); }

void write_count(json::Writer& w, std::string_view key, std::int32_t n, std::int32_t floor) {
    if (hidden(n, floor)) w.null(key);
    else w.integer(key, n);
}

void write_group(json::Writer& w, const ReviewGroup& g, std::int32_t floor, bool total) {
    w.begin_object();
    if (!total) w.text("protocol", g.protocol).text("component", code(g.component));
    w.integer("units", g.units);
    for (int i = 0; i < measure_count; ++i) {
        const Tally& t = g.measures[static_cast<std::size_t>(i)];
        w.key(code(static_cast<Measure>(i))).begin_object(json::Writer::Layout::along);
        if (hidden(t, floor)) w.null("yes");
        else w.integer("yes", t.yes);
        write_count(w, "of", t.of, floor);
        w.end_object();
    }
    write_count(w, "pauses", g.pauses, floor);
    if (hidden(g.pauses, floor)) w.null("paused_s");
    else w.integer("paused_s", g.paused.count);
    write_count(w, "returned", g.returned, floor);
    write_count(w, "discarded", g.discarded, floor);
    w.key("reasons").begin_object();
    for (std::size_t i = 0; i < g.reasons.size(); ++i)
        if (g.reasons[i] > 0) write_count(w, code(static_cast<ReturnReason>(i)), g.reasons[i], floor);
    w.end_object().end_object();
}

}  // namespace

sheet::Document review_sheet(const Review& review, std::int32_t floor, const std::vector<LeftOut>& left_out) {
    sheet::Document d;
    d.title = "Review of sessions";
    ReviewGroup total;
    const std::vector<ReviewGroup> groups = shown_groups(review, floor, total);
    d.fact("Sessions read", std::to_string(review.sessions()));
    d.fact("Floor", joined({"groups of ", few_text(floor), " units are left out, and parts of ", few_text(floor), " are not told"}));
    if (groups.empty()) d.paragraph("No group is large enough to be shown.");
    if (groups.size() > 1) add_group(d, total, "All that is shown", floor);
    for (const ReviewGroup& g : groups) add_group(d, g, group_title(g), floor);
    if (!left_out.empty()) {
        d.heading("Left out");
        for (const LeftOut& file : left_out) d.item(joined({file.file, ": ", file.why}));
    }
    d.paragraph(std::string(review_sentence()));
    return d;
}

std::string review_json(const Review& review, std::int32_t floor, const std::vector<LeftOut>& left_out) {
    ReviewGroup total;
    const std::vector<ReviewGroup> groups = shown_groups(review, floor, total);
    json::Writer w;
    w.begin_object().integer("hangtime_review", 1).integer("sessions", review.sessions()).integer("floor", floor);
    w.text("note", review_sentence());
    w.key("groups").begin_list();
    for (const ReviewGroup& g : groups) write_group(w, g, floor, false);
    w.end_list().key("all_shown");
    write_group(w, total, floor, true);
    w.key("left_out").begin_list();
    for (const LeftOut& file : left_out)
        w.begin_object(json::Writer::Layout::along).text("file", file.file).text("why", file.why).end_object();
    w.end_list().end_object();
    return w.take();
}

std::string review_csv(const Review& review, std::int32_t floor) {
    ReviewGroup total;
    std::string out = "protocol,component,what,yes,of\r\n";
    for (const ReviewGroup& g : shown_groups(review, floor, total)) {
        const std::string begin = joined({g.protocol, ",", code(g.component), ","});
        for (int i = 0; i < measure_count; ++i) {
            const Tally& t = g.measures[static_cast<std::size_t>(i)];
            out += joined({begin, code(static_cast<Measure>(i)), ",", hidden(t, floor) ? "" : std::to_string(t.yes), ",",
                           hidden(t.of, floor) ? "" : std::to_string(t.of), "\r\n"});
        }
    }
    return out;
}

}  // namespace hangtime
