#include "core/rehearse/class.hpp"

#include "core/rehearse/debrief_file.hpp"

#include <algorithm>

namespace hangtime {

std::optional<Error> ClassSummary::add_file(std::string_view text) {
    const Result<SavedDebrief> read = read_debrief(text);
    if (!read.ok()) return read.error();
    const SavedDebrief& a = read.value();
    const auto before = [](const ClassCase& c, const SavedDebrief& x) {
        return c.scenario != x.scenario ? c.scenario < x.scenario : c.protocol < x.protocol;
    };
    auto at = std::lower_bound(cases_.begin(), cases_.end(), a, before);
    if (at == cases_.end() || at->scenario != a.scenario || at->protocol != a.protocol) {
        at = cases_.insert(at, ClassCase{});
        at->scenario = a.scenario;
        at->protocol = a.protocol;
        at->most = a.most;
        for (const SavedPart& item : a.parts) at->items.push_back({item.kind, item.item, item.rule, item.from, item.most, 0, 0, 0, {}});
    }
    const auto same = [](const ClassItem& x, const SavedPart& y) { return x.kind == y.kind && x.item == y.item && x.most == y.most; };
    if (!std::equal(at->items.begin(), at->items.end(), a.parts.begin(), a.parts.end(), same))
        return Error{"parts", "are other items than those of the first result of this scenario", "results of one version of a scenario"};
    ++attempts_;
    at->points.insert(std::upper_bound(at->points.begin(), at->points.end(), a.points), a.points);
    const auto number = std::lower_bound(at->case_numbers.begin(), at->case_numbers.end(), a.case_number);
    if (number == at->case_numbers.end() || *number != a.case_number) at->case_numbers.insert(number, a.case_number);
    for (std::size_t i = 0; i < a.parts.size(); ++i) {
        const SavedPart& item = a.parts[i];
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
    for (auto why = a.refused.begin(); why != a.refused.end(); ++why) {
        if (std::find(a.refused.begin(), why, *why) != why) continue;  // once for each attempt
        const auto known = std::find_if(at->refused.begin(), at->refused.end(), [&](const auto& r) { return r.first == *why; });
        if (known == at->refused.end()) at->refused.push_back({*why, 1});
        else ++known->second;
    }
    const auto any = [&](auto what) { return std::any_of(a.units.begin(), a.units.end(), what) ? 1 : 0; };
    at->wasted += any([](const SavedUnit& u) { return u.wasted > Volume{}; });
    at->over_limit += any([](const SavedUnit& u) { return u.over_limit > Seconds{}; });
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
