#include "core/rehearse/review_told.hpp"

#include <algorithm>
#include <bitset>

namespace hangtime {

namespace {

// Where a distribution may be cut: before bin i, for each i from 1 to spread_bins.
using Cuts = std::bitset<spread_bins + 1>;

class Teller {
public:
    Teller(const ReviewGroup& g, std::int32_t floor) : g_(g), floor_(floor) {}

    ToldGroup tell() {
        out_.protocol = g_.protocol;
        out_.component = g_.component;
        out_.units = g_.units;
        sizes_ = {g_.units};
        for (const Measure m : {Measure::hung_in_time, Measure::finished_in_time, Measure::not_wasted, Measure::run_unpaused,
                                Measure::early_on_time})
            tell_units(m);
        tell_spread(Spread::until_hung, Measure::hung_in_time);
        tell_spread(Spread::until_in, Measure::finished_in_time);
        if (tally(Measure::early_on_time).how == Telling::parts) tell_spread(Spread::early_after_due, Measure::early_on_time);
        tell_checks();
        tell_pauses();
        tell_gone();
        return std::move(out_);
    }

private:
    bool few(std::int32_t n) const { return n > 0 && n < floor_; }
    bool apart_by_few(std::int32_t a, std::int32_t b) const { return few(a > b ? a - b : b - a); }
    bool near_a_size(std::int32_t n) const {
        return std::any_of(sizes_.begin(), sizes_.end(), [&](std::int32_t s) { return apart_by_few(n, s); });
    }
    ToldTally& tally(Measure m) { return out_.measures[static_cast<std::size_t>(m)]; }
    const Tally& counted(Measure m) const { return g_.measures[static_cast<std::size_t>(m)]; }

    // Units that were started are a part of those that were hung, and so on: two such sizes that differ by few would say
    // how many those few are. What is all in is a part of what was not wasted, what was discarded of what was.
    void tell_units(Measure m) {
        const Tally& t = counted(m);
        ToldTally& out = tally(m);
        const bool wasted = m == Measure::not_wasted;
        const std::int32_t no = t.of - t.yes;
        if (!few(t.yes) && !few(no) && !near_a_size(t.of) && !(wasted && near_a_size(t.yes))) {
            out = {Telling::parts, t.yes, t.of, false, 0};
            sizes_.push_back(t.of);
            if (wasted) sizes_.push_back(t.yes);
        } else if (t.of <= g_.units && !few(t.yes) && !few(g_.units - t.yes) && !(wasted && near_a_size(t.yes))) {
            out = {Telling::of_all, t.yes, g_.units, false, 0};
            if (wasted) sizes_.push_back(t.yes);
        } else if (t.of >= floor_ && (t.yes == 0 || no == 0)) {
            out = {Telling::all_alike, 0, 0, no == 0, 0};
        }
    }

    // Cut wherever what lies between two cuts is none or enough, and what lies below a cut is not few more or less than
    // what the measure tells.
    void tell_spread(Spread s, std::optional<Measure> of) {
        const Distribution& d = g_.spread(s);
        std::array<std::int32_t, spread_bins + 1> counts{};
        std::copy(d.bins.begin(), d.bins.end(), counts.begin());
        counts[spread_bins] = d.none;
        const std::int32_t total = d.counted() + d.none;
        if (total == 0 || few(total)) return;
        const bool has_none = s == Spread::until_hung || s == Spread::until_in || s == Spread::early_after_due;
        const std::size_t end = has_none ? spread_bins + 1 : spread_bins;
        auto& out = out_.spreads[static_cast<std::size_t>(s)];
        std::int32_t below = 0;
        ToldBin bin;
        for (std::size_t i = 0; i < end; ++i) {
            below += counts[i];
            bin.times += counts[i];
            bin.last = i;
            bool cut = !few(bin.times) && !few(total - below);
            if (of && tally(*of).how == Telling::parts)
                cut = cut && !apart_by_few(below, tally(*of).yes) && !apart_by_few(below, tally(*of).of);
            else if (of && tally(*of).how == Telling::of_all)
                cut = cut && !apart_by_few(below, tally(*of).yes);
            if (!cut && i + 1 < end) continue;
            out.push_back(bin);
            bin = {i + 1, i + 1, 0};
        }
        // What stays at the end is none or enough, or goes to what stands before it.
        if (few(out.back().times) && out.size() > 1) {
            out[out.size() - 2].last = out.back().last;
            out[out.size() - 2].times += out.back().times;
            out.pop_back();
        }
    }

    void tell_checks() {
        const Tally& t = counted(Measure::checks_done);
        const std::int32_t no = t.of - t.yes;
        if (few(t.yes) || few(no)) return;
        for (const ToldBin& bin : out_.spreads[static_cast<std::size_t>(Spread::early_after_due)])
            if (bin.first == spread_bins && few(no - bin.times)) return;  // of other checks few were missed
        const ToldTally& early = tally(Measure::early_on_time);
        if (early.how == Telling::parts && (few(t.of - early.of) || few(t.yes - early.yes))) return;
        tally(Measure::checks_done) = {Telling::parts, t.yes, t.of, false, 0};
    }

    template <std::size_t n>
    ToldReasons told_reasons(const std::array<ByReason, n>& by) const {
        ToldReasons out;
        out.told = true;
        ToldReason others;
        for (std::size_t i = 0; i < n; ++i) {
            if (by[i].times == 0) continue;
            out.all.times += by[i].times;
            out.all.span = out.all.span + by[i].span;
            if (few(by[i].times)) add(others.by, by[i]);
            else out.list.push_back({i, by[i]});
        }
        while (few(others.by.times) && !out.list.empty()) {
            const auto least = std::min_element(out.list.begin(), out.list.end(), [](const ToldReason& a, const ToldReason& b) {
                return a.by.times < b.by.times;
            });
            add(others.by, least->by);
            out.list.erase(least);
        }
        if (others.by.times > 0) out.list.push_back(others);
        return out;
    }
    static void add(ByReason& to, const ByReason& from) {
        to.times += from.times;
        to.span = to.span + from.span;
    }

    void tell_pauses() {
        if (few(g_.pauses)) return;
        const ToldTally& t = tally(Measure::run_unpaused);
        if (t.how == Telling::parts && few(g_.pauses - (t.of - t.yes))) return;
        out_.pauses = told_reasons(g_.paused_for);
        tell_spread(Spread::pause, std::nullopt);
    }

    void tell_gone() {
        const std::int32_t gone = g_.returned + g_.discarded;
        const ToldTally& t = tally(Measure::not_wasted);
        if (few(gone) || few(g_.units - gone)) return;
        if (t.how == Telling::parts && few(t.of - gone)) return;
        out_.gone = told_reasons(g_.gone_for);
        tell_spread(Spread::until_gone, std::nullopt);
        if (few(g_.returned) || few(g_.discarded)) return;
        if ((t.how == Telling::parts || t.how == Telling::of_all) && few(t.of - t.yes - g_.discarded)) return;
        out_.returned = g_.returned;
        out_.discarded = g_.discarded;
    }

    const ReviewGroup& g_;
    const std::int32_t floor_;
    std::vector<std::int32_t> sizes_;
    ToldGroup out_;
};

// Only where every group that is in it has a cut is there one in what they come to together. Those in the most pieces
// come first, and one that would leave fewer than most of the pieces is left out of it.
void sum_spreads(const std::vector<ToldGroup>& groups, std::size_t spread, ToldGroup& out) {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < groups.size(); ++i)
        if (!groups[i].spreads[spread].empty()) order.push_back(i);
    if (order.empty()) return;
    const auto pieces = [&](std::size_t i) { return groups[i].spreads[spread].size(); };
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return pieces(a) > pieces(b); });
    Cuts cuts;
    cuts.set();
    const std::size_t enough = (pieces(order[0]) + 1) / 2;
    for (const std::size_t i : order) {
        Cuts own;
        for (const ToldBin& bin : groups[i].spreads[spread]) own.set(bin.first);
        if ((cuts & own).count() < enough) continue;
        cuts &= own;
        out.summed[spread].push_back(i);
    }
    std::sort(out.summed[spread].begin(), out.summed[spread].end());
    std::vector<ToldBin>& bins = out.spreads[spread];
    for (std::size_t i = 0; i <= groups[order[0]].spreads[spread].back().last; ++i) {
        if (i == 0 || cuts.test(i)) bins.push_back({i, i, 0});
        bins.back().last = i;
    }
    for (ToldBin& bin : bins)
        for (const std::size_t i : out.summed[spread])
            for (const ToldBin& part : groups[i].spreads[spread])
                if (part.first >= bin.first && part.last <= bin.last) bin.times += part.times;
}

void add(ToldReasons& to, const ToldReasons& from) {
    if (!from.told) return;
    to.told = true;
    const auto sum = [](ByReason& a, const ByReason& b) {
        a.times += b.times;
        a.span = a.span + b.span;
    };
    sum(to.all, from.all);
    for (const ToldReason& r : from.list) {
        auto same = std::find_if(to.list.begin(), to.list.end(), [&](const ToldReason& t) { return t.reason == r.reason; });
        if (same != to.list.end()) sum(same->by, r.by);
        else to.list.push_back(r);
    }
    std::sort(to.list.begin(), to.list.end(), [](const ToldReason& a, const ToldReason& b) {
        return a.reason.value_or(spread_bins + 100) < b.reason.value_or(spread_bins + 100);
    });
}

ToldGroup together(const std::vector<ToldGroup>& groups) {
    ToldGroup out;
    for (const ToldGroup& g : groups) {
        out.units += g.units;
        for (std::size_t i = 0; i < out.measures.size(); ++i) {
            const ToldTally& t = g.measures[i];
            if (t.how != Telling::parts) continue;
            out.measures[i].how = Telling::parts;
            out.measures[i].yes += t.yes;
            out.measures[i].of += t.of;
            ++out.measures[i].groups;
        }
        if (g.returned) {
            out.returned = out.returned.value_or(0) + *g.returned;
            out.discarded = out.discarded.value_or(0) + *g.discarded;
        }
        add(out.pauses, g.pauses);
        add(out.gone, g.gone);
    }
    for (std::size_t i = 0; i < out.spreads.size(); ++i) sum_spreads(groups, i, out);
    return out;
}

}  // namespace

ReviewTold told_of(const Review& review, std::int32_t floor) {
    ReviewTold out;
    out.floor = floor;
    out.sessions = review.sessions() / floor * floor;
    for (const ReviewGroup& g : review.groups()) {
        if (g.units < floor) out.left_out = true;
        else out.groups.push_back(Teller(g, floor).tell());
    }
    out.all = together(out.groups);
    return out;
}

}  // namespace hangtime
