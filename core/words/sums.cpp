#include "core/words/sums.hpp"

#include "core/words/fill.hpp"

namespace hangtime {

namespace {

bool is_zero(const Figure& f) { return f.kind == FigureKind::none || f.a == 0; }

// What the line adds or takes depends on how it is primed and cleared: the figures say which.
std::string_view largest_bag_pattern(const Sum& sum) {
    const auto& f = sum.figures;
    const std::int64_t without_line = f[0].a + f[2].a;
    if (f[3].a == without_line || is_zero(f[1]))
        return is_zero(f[2]) ? "{3} can be pushed in time" : "{0} + {2} lost in priming = {3}";
    if (f[3].a == without_line + f[1].a)
        return is_zero(f[2]) ? "{0} + {1} in the line = {3}"
                             : "{0} + {1} in the line + {2} lost in priming = {3}";
    return is_zero(f[2]) ? "{0} - {1} in the line = {3}"
                         : "{0} - {1} in the line + {2} lost in priming = {3}";
}

// The pattern for a sum; a part that adds nothing is left out of the line.
std::string_view pattern_of(const Sum& sum) {
    const auto& f = sum.figures;
    switch (sum.kind) {
        case SumKind::none: return "";
        case SumKind::after: return "{0} + {1} = {2}";
        case SumKind::before: return "{0} - {1} = {2}";
        case SumKind::as_stated: return "as stated: {0}";
        case SumKind::dose_by_weight: return "{0} x {1} = {2}";
        case SumKind::dose_as_ordered: return "as ordered: {0}";
        case SumKind::whole_bag:
            return is_zero(f[1]) ? "the whole bag: {2}" : "{0} - {1} lost in priming = {2}";
        case SumKind::pushed:
            return is_zero(f[1]) ? "{2}, nothing added for the line" : "{0} + {1} of the line = {2}";
        case SumKind::slow_volume: return "{0} for {1} = {2}";
        case SumKind::rate_by_weight: return "{0} x {1} = {2}[, on the device {3}]";
        case SumKind::rest_in_time:
            return is_zero(f[1]) ? "{0} in {2} = {3}[, set {4}]" : "({0} - {1}) in {2} = {3}[, set {4}]";
        case SumKind::rest_to_limit:
            return is_zero(f[1]) ? "{0} in the {2} until the limit = {3}[, set {4}]"
                                 : "({0} - {1}) in the {2} until the limit = {3}[, set {4}]";
        case SumKind::rate_as_limited: return "{0}[, on the device {1}]";
        case SumKind::runs_out: return "{0} + {1} at {2} = {3}";
        case SumKind::can_be_given:
            return is_zero(f[1]) ? "{2} for {3} = {4}"
                   : is_zero(f[3]) ? "{0} for {1} = {4}"
                                   : "{0} for {1} + {2} for {3} = {4}";
        case SumKind::can_be_given_after_line:
            return is_zero(f[0]) ? "{1} for {2} - {3} that stands in the line first = {4}"
                   : is_zero(f[2]) ? "{0} in the slow stage - {3} that stands in the line first = {4}"
                                   : "{0} in the slow stage + {1} for {2} - {3} that stands in the line first = {4}";
        case SumKind::left_over: return "{0} - {1} = {2}";
        case SumKind::largest_bag: return largest_bag_pattern(sum);
        case SumKind::drops: return "{0} x {1}";
        case SumKind::latest_start: return "{0} - {1} = {2}";
        case SumKind::over_by: return "{0} is {2} after {1}";
        case SumKind::weight_needed: return "{0} / {1} = {2}";
    }
    return {};
}

// The rate to set is not said twice where the sum comes out on the device's grid.
void drop_equal_rate(Sum& sum) {
    for (std::size_t i = 1; i < sum.figures.size(); ++i) {
        const Figure& exact = sum.figures[i - 1];
        Figure& set = sum.figures[i];
        if (exact.kind == FigureKind::ratio && set.kind == FigureKind::rate &&
            compare_ratio({exact.a, exact.b}, {set.a, 1}) == 0)
            set = Figure{};
    }
}

// 62.5 mL/h x 10 drops/mL = 10.42 drops/min, set 11 drops/min
void append_drops(std::string& out, const Sum& sum) {
    const Figure& flow = sum.figures[0];
    const Figure& factor = sum.figures[1];
    const Figure& set = sum.figures[2];
    const std::int64_t den = flow.kind == FigureKind::ratio ? flow.b : 1;
    const Wide drops = static_cast<Wide>(flow.a) * factor.a;
    out += " = ";
    out += dose_number(drops, den * units_per_s_of_drop_per_min, 2);
    out += " drops/min";
    if (set.kind == FigureKind::none || drops == static_cast<Wide>(set.a) * den * units_per_s_of_drop_per_min)
        return;
    out += ", set ";
    out += drops_text(set.a);
}

}  // namespace

std::string sum_text(const Sum& sum, const DayClock& day) {
    Sum said = sum;
    drop_equal_rate(said);
    std::string out = words::fill(pattern_of(said), said.figures.data(), said.figures.size(), day);
    if (sum.kind == SumKind::drops) append_drops(out, sum);
    return out;
}

}  // namespace hangtime
