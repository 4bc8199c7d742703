#include "core/rehearse/review_told.hpp"

#include "core/rehearse/review_words.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"

#include <algorithm>

namespace hangtime {

namespace {

void add_reasons(sheet::Document& d, std::string_view what, const ToldReasons& reasons, std::string_view (*name_of)(std::size_t)) {
    if (!reasons.told || reasons.list.empty()) return;
    sheet::Table t;
    t.caption = what;
    t.add_column("Reason");
    t.add_column("Times", sheet::Role::number);
    t.add_column("Minutes in all", sheet::Role::number);
    t.add_column("Minutes on average", sheet::Role::number);
    const auto row = [&](std::string_view reason, const ByReason& by) {
        t.add_row({reason, std::to_string(by.times), std::to_string(by.span.count / 60), average_minutes(by)});
    };
    for (const ToldReason& r : reasons.list) row(r.reason ? name_of(*r.reason) : "other reasons", r.by);
    if (reasons.list.size() > 1) row("all", reasons.all);
    d.table(std::move(t));
}

std::string_view pause_name(std::size_t i) { return name(static_cast<PauseReason>(i)); }
std::string_view gone_name(std::size_t i) { return name(static_cast<ReturnReason>(i)); }

void add_group(sheet::Document& d, const ReviewTold& told, const ToldGroup& g) {
    const std::int32_t floor = told.floor;
    d.heading(group_text(g));
    d.fact("Units", std::to_string(g.units));
    for (int i = 0; i < measure_count; ++i) {
        const auto measure = static_cast<Measure>(i);
        d.fact(name(measure), told_text(g.tally(measure), measure, floor));
    }
    d.fact("Pauses", g.pauses.told ? std::to_string(g.pauses.all.times) : not_told_text(floor));
    d.fact("Returned", g.returned ? std::to_string(*g.returned) : not_told_text(floor));
    d.fact("Discarded", g.discarded ? std::to_string(*g.discarded) : not_told_text(floor));
    if (!g.returned) d.fact("Returned or discarded", g.gone.told ? std::to_string(g.gone.all.times) : not_told_text(floor));
    for (int i = 0; i < spread_count; ++i) {
        const auto spread = static_cast<Spread>(i);
        const auto& bins = g.spreads[static_cast<std::size_t>(i)];
        if (bins.empty()) continue;
        sheet::Bars bars;
        bars.caption = spread_text(told, g, spread);
        for (const ToldBin& bin : bins) {
            bars.bars.push_back({bin_text(spread, bin), std::to_string(bin.times), bin.times});
            bars.longest = std::max<std::int64_t>(bars.longest, bin.times);
        }
        d.bars(std::move(bars));
    }
    add_reasons(d, "Pauses by reason", g.pauses, pause_name);
    add_reasons(d, "Returned or discarded by reason, minutes from issue", g.gone, gone_name);
}

}  // namespace

std::string not_told_text(std::int32_t floor) { return joined({"not told: a part is fewer than ", std::to_string(floor)}); }

std::string told_text(const ToldTally& t, Measure measure, std::int32_t floor) {
    switch (t.how) {
    case Telling::parts:
        if (t.of == 0) return "none to be counted";
        return joined({std::to_string(t.yes), " of ", std::to_string(t.of), ", ", per_cent_text(t.yes, t.of),
                       t.groups > 0 ? joined({"; told of ", std::to_string(t.groups), t.groups == 1 ? " group" : " groups"})
                                    : std::string()});
    case Telling::of_all:
        return joined({std::to_string(t.yes), " of all ", std::to_string(t.of), " units, ", per_cent_text(t.yes, t.of)});
    case Telling::all_alike: return t.always ? joined({"always; none ", other_name(measure)}) : "never";
    case Telling::nothing: break;
    }
    return not_told_text(floor);
}

// Rounded down, so that "100 %" means all.
std::string per_cent_text(std::int32_t yes, std::int32_t of) {
    return of > 0 ? joined({std::to_string(std::int64_t{yes} * 100 / of), " %"}) : std::string();
}

std::string average_minutes(const ByReason& by) {
    return by.times > 0 ? std::to_string((by.span.count / 60 + by.times / 2) / by.times) : std::string();
}

std::string bin_text(Spread spread, const ToldBin& bin) {
    const auto& edges = edges_of(spread);
    const auto edge = [&](std::size_t i) { return std::to_string(edges[i]); };
    const bool none = bin.last == spread_bins;
    const std::size_t last = none ? spread_bins - 1 : bin.last;
    std::string out;
    if (bin.first == spread_bins) return std::string(none_name(spread));
    if (bin.first == 0 && last == spread_bins - 1) {
        out = "any time";
    } else if (last == spread_bins - 1) {
        out = joined({edge(bin.first - 1), " min or more"});
    } else if (bin.first == 0) {
        out = edges[last] == 0 ? std::string("before it was due") : joined({"under ", edge(last), " min"});
    } else {
        out = joined({edge(bin.first - 1), " to under ", edge(last), " min"});
    }
    return none ? joined({out, ", or ", none_name(spread)}) : out;
}

std::string group_text(const ToldGroup& g) {
    return g.protocol.empty() ? std::string("All that is shown") : joined({name(g.component), ", ", g.protocol});
}

std::string spread_text(const ReviewTold& told, const ToldGroup& g, Spread spread) {
    const std::size_t in = g.summed[static_cast<std::size_t>(spread)].size();
    if (!g.protocol.empty() || in == told.groups.size()) return std::string(name(spread));
    return joined({name(spread), ", of ", std::to_string(in), " of the ", std::to_string(told.groups.size()), " groups"});
}

std::string sessions_text(const ReviewTold& told) {
    return told.floor > 1 ? joined({"at least ", std::to_string(told.sessions)}) : std::to_string(told.sessions);
}

std::string floor_text(const ReviewTold& told) {
    if (told.floor <= 1) return "none: every count is told";
    const std::string n = std::to_string(told.floor);
    return joined({n, ": what would tell of 1 to ", std::to_string(told.floor - 1), " is put together or left out",
                   told.left_out ? "; at least one group is" : ""});
}

sheet::Document review_sheet(const Review& review, std::int32_t floor, const std::vector<LeftOut>& left_out) {
    const ReviewTold told = told_of(review, floor);
    sheet::Document d;
    d.title = "Review of sessions";
    d.fact("Sessions read", sessions_text(told));
    d.fact("Floor", floor_text(told));
    if (told.groups.empty()) d.paragraph("No group is large enough to be shown.");
    if (told.groups.size() > 1) add_group(d, told, told.all);
    for (const ToldGroup& g : told.groups) add_group(d, told, g);
    if (told.groups.size() > 1)
        d.paragraph("What all come to together is the sum of what is told of each; what is left out of one is missing in it.");
    if (!left_out.empty()) {
        d.heading(joined({"Left out: ", std::to_string(left_out.size()), left_out.size() == 1 ? " file" : " files"}));
        constexpr std::size_t most = 200;
        for (std::size_t i = 0; i < left_out.size() && i < most; ++i) d.item(joined({left_out[i].file, ": ", left_out[i].why}));
        if (left_out.size() > most) d.item(joined({"and ", std::to_string(left_out.size() - most), " more"}));
    }
    d.cautions({std::string(review_sentence()),
                "Two reviews that differ by few sessions can be subtracted from each other: do not hand out both."});
    return d;
}

}  // namespace hangtime
