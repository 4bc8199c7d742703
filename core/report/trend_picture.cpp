#include "core/report/trend_picture.hpp"

#include "core/report/observe_sheet.hpp"
#include "core/words/format.hpp"
#include "core/words/observe_words.hpp"

#include <algorithm>

namespace hangtime {

namespace {

using Draw = sheet::Picture::Draw;

constexpr std::int32_t width = 960, left = 250, right = 930;
constexpr std::int32_t lane = 34, panel = 74, letters = 15;
constexpr std::size_t most_numbers = 8;  // with more sets than this the figures would run into each other

constexpr Sign drawn[] = {Sign::temperature, Sign::pulse,         Sign::systolic,  Sign::diastolic,
                          Sign::mean_pressure, Sign::respirations, Sign::saturation};

// In a measure in which C and F lie on one scale.
std::int32_t number_in(const Observation& set, Sign sign) {
    if (sign == Sign::temperature) return set.temperature->ninetieths();
    return static_cast<std::int32_t>(figure_of(set, sign).a);
}

// What the height of a sign stands for at least, so that nothing small looks steep.
std::int32_t least_span(Sign sign) {
    switch (sign) {
        case Sign::temperature: return 90 * 2;
        case Sign::saturation: return 8;
        case Sign::respirations: return 10;
        case Sign::pulse:
        case Sign::systolic:
        case Sign::diastolic:
        case Sign::mean_pressure:
        case Sign::oxygen:
        case Sign::consciousness:
        case Sign::lungs:
        case Sign::site:
        case Sign::urine:
        case Sign::symptoms: break;
    }
    return 30;
}

class Drawing {
public:
    Drawing(const TimedSet& baseline, const std::vector<TimedSet>& sets, const TrendFrame& frame)
        : baseline_(baseline), sets_(sets), frame_(frame) {
        to_ = minutes(60);
        for (const TimedSet& set : sets) to_ = std::max(to_, set.from_start);
        for (const auto& stage : frame.stages) to_ = std::max(to_, stage.from);
        for (const auto& check : frame.checks) to_ = std::max(to_, check.at);
        if (frame.ended) to_ = std::max(to_, *frame.ended);
    }

    sheet::Picture draw() {
        const bool any = std::any_of(std::begin(drawn), std::end(drawn), [&](Sign sign) { return shown(sign); });
        if (!any) return {};
        out_.width = width;
        out_.words = "Picture: each sign from the start on against its baseline, with the rates and the checks. The table "
                     "says the same in figures.";
        stages();
        checks();
        const std::int32_t top = y_;
        for (const Sign sign : drawn)
            if (shown(sign)) sign_of(sign);
        axis(top);
        out_.height = y_;
        return std::move(out_);
    }

private:
    bool shown(Sign sign) const {
        return baseline_.set.has(sign) ||
               std::any_of(sets_.begin(), sets_.end(), [&](const TimedSet& set) { return set.set.has(sign); });
    }
    std::int32_t x_of(Seconds t) const {
        const std::int64_t at = std::clamp<std::int64_t>(t.count, 0, to_.count);
        return left + static_cast<std::int32_t>((right - left) * at / to_.count);
    }
    void mark(Draw how, std::int32_t x, std::int32_t y, std::int32_t x2, std::int32_t y2) {
        out_.marks.push_back({how, x, y, x2, y2, {}});
    }
    void mark(Draw how, std::int32_t x, std::int32_t y) { mark(how, x, y, 0, 0); }
    void words(Draw how, std::int32_t x, std::int32_t y, std::string_view text) {
        out_.marks.push_back({how, x, y, 0, 0, std::string(text)});
    }

    // A bar for each stretch at one rate; the stop is a wall.
    void stages() {
        if (frame_.stages.empty()) return;
        words(Draw::words, 0, y_ + letters + 4, "Rate");
        const std::int32_t line = y_ + lane - 6;
        std::int32_t free = left;
        for (std::size_t i = 0; i < frame_.stages.size(); ++i) {
            const auto& stage = frame_.stages[i];
            const Seconds until = i + 1 < frame_.stages.size() ? frame_.stages[i + 1].from : frame_.ended.value_or(to_);
            const std::int32_t from = x_of(stage.from), to = x_of(until);
            mark(Draw::line, from, line, to, line);
            mark(Draw::line, from, line - 8, from, line + 4);
            if (from < free) continue;
            words(Draw::words, from + 3, line - 6, stage.text);
            free = from + 3 + static_cast<std::int32_t>(stage.text.size()) * 9;
        }
        y_ += lane;
    }

    void checks() {
        if (frame_.checks.empty()) return;
        words(Draw::words, 0, y_ + letters + 4, "Checks: done, open, missed");
        // The three marks beside their words.
        const std::int32_t y = y_ + letters;
        mark(Draw::dot, 208, y);
        mark(Draw::ring, 222, y);
        mark(Draw::line, 232, y - 5, 242, y + 5);
        for (const auto& check : frame_.checks) {
            const std::int32_t x = x_of(check.at);
            switch (check.as) {
                case TrendFrame::CheckMark::As::done: mark(Draw::dot, x, y); break;
                case TrendFrame::CheckMark::As::open: mark(Draw::ring, x, y); break;
                case TrendFrame::CheckMark::As::missed: mark(Draw::line, x - 5, y - 5, x + 5, y + 5); break;
            }
        }
        y_ += lane;
    }

    void sign_of(Sign sign) {
        const std::int32_t bottom = y_ + panel - 10, high = y_ + 20;
        std::int32_t least = INT32_MAX, most = INT32_MIN;
        const auto see = [&](std::int32_t value) {
            least = std::min(least, value);
            most = std::max(most, value);
        };
        if (baseline_.set.has(sign)) see(number_in(baseline_.set, sign));
        for (const TimedSet& set : sets_)
            if (set.set.has(sign)) see(number_in(set.set, sign));
        if (most - least < least_span(sign)) {
            const std::int32_t more = least_span(sign) - (most - least);
            least -= more / 2;
            most = least + least_span(sign);
        }
        const auto y_of = [&](std::int32_t value) {
            return bottom - static_cast<std::int32_t>(static_cast<std::int64_t>(bottom - high) * (value - least) / (most - least));
        };
        words(Draw::words, 0, y_ + 32, name(sign));
        words(Draw::words, 0, y_ + 52, joined({"baseline ", value_text(baseline_.set, sign)}));
        mark(Draw::line, left, bottom + 8, right, bottom + 8);
        if (baseline_.set.has(sign)) {
            const std::int32_t y = y_of(number_in(baseline_.set, sign));
            mark(Draw::dashed, left, y, right, y);
        }
        const TimedSet* before = nullptr;
        for (const TimedSet& set : sets_) {
            if (!set.set.has(sign)) {
                before = nullptr;  // what was not recorded leaves a gap
                continue;
            }
            const std::int32_t x = x_of(set.from_start), y = y_of(number_in(set.set, sign));
            if (before) mark(Draw::line, x_of(before->from_start), y_of(number_in(before->set, sign)), x, y);
            mark(Draw::square, x, y);
            const Figure figure = figure_of(set.set, sign);
            if (sets_.size() <= most_numbers)
                words(x > right - 50 ? Draw::words_left : Draw::words, x > right - 50 ? x - 8 : x + 8, y - 6,
                      sign == Sign::temperature ? measured_number(figure.a) : dose_number(figure.a, 1, 0));
            before = &set;
        }
        y_ += panel;
    }

    // The stop through all of it, and the time under it.
    void axis(std::int32_t top) {
        if (frame_.stopped) {
            const std::int32_t x = x_of(*frame_.stopped);
            mark(Draw::thick, x, top, x, y_);
            words(x > right - 70 ? Draw::words_left : Draw::words, x > right - 70 ? x - 6 : x + 6, top + letters, "stopped");
        }
        words(Draw::words, 0, y_ + letters + 4, "From the start");
        std::int32_t free = 0;
        const auto at = [&](Seconds t) {
            const std::int32_t x = x_of(t);
            if (x < free) return;
            mark(Draw::line, x, y_, x, y_ + 5);
            words(Draw::words_middle, x, y_ + letters + 6, elapsed_text(t));
            free = x + 60;
        };
        at({});
        for (const TimedSet& set : sets_) at(set.from_start);
        y_ += lane;
    }

    const TimedSet& baseline_;
    const std::vector<TimedSet>& sets_;
    const TrendFrame& frame_;
    Seconds to_{};
    std::int32_t y_ = 4;
    sheet::Picture out_;
};

}  // namespace

sheet::Picture trend_picture(const TimedSet& baseline, const std::vector<TimedSet>& sets, const TrendFrame& frame) {
    return Drawing(baseline, sets, frame).draw();
}

}  // namespace hangtime
