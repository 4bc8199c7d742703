#include "core/observe/news2.hpp"

namespace hangtime {

namespace {

constexpr std::int8_t missing = News2::not_recorded;

// Upper ends of bands, each with its points; above the last one, `above`.
struct Band {
    std::int32_t up_to;
    std::int8_t points;
};
template <std::size_t n>
constexpr std::int8_t points_of(const Band (&bands)[n], std::int8_t above, std::int32_t value) {
    for (const Band& band : bands)
        if (value <= band.up_to) return band.points;
    return above;
}

constexpr Band respirations[] = {{8, 3}, {11, 1}, {20, 0}, {24, 2}};              // 25 and above: 3
constexpr Band saturation_1[] = {{91, 3}, {93, 2}, {95, 1}};                      // 96 and above: 0
constexpr Band saturation_2[] = {{83, 3}, {85, 2}, {87, 1}, {92, 0}};             // above 92: see below
constexpr Band saturation_2_oxygen[] = {{94, 1}, {96, 2}};                        // 97 and above: 3
constexpr Band systolic[] = {{90, 3}, {100, 2}, {110, 1}, {219, 0}};              // 220 and above: 3
constexpr Band pulse[] = {{40, 3}, {50, 1}, {90, 0}, {110, 1}, {130, 2}};         // 131 and above: 3
// In 1/90 degree C, so that a tenth of a degree F falls on its own side of each end.
constexpr Band temperature[] = {{350 * 9, 3}, {360 * 9, 1}, {380 * 9, 0}, {390 * 9, 1}};  // above 39.0: 2

std::int8_t saturation_points(const Person& person, const Observation& set) {
    if (!set.saturation_percent) return missing;
    const std::int32_t value = *set.saturation_percent;
    if (!person.saturation_scale_2) return points_of(saturation_1, 0, value);
    if (value <= 92) return points_of(saturation_2, 0, value);
    if (!set.on_oxygen) return missing;  // 93 and more is fine on air and too much on oxygen
    return *set.on_oxygen ? points_of(saturation_2_oxygen, 3, value) : std::int8_t{0};
}

ScoreBand band_of(std::int32_t total, bool three) {
    if (total >= 7) return ScoreBand::high;
    if (total >= 5) return ScoreBand::medium;
    if (three) return ScoreBand::three_in_one;
    return total >= 1 ? ScoreBand::low : ScoreBand::zero;
}

}  // namespace

bool News2::complete() const {
    for (const std::int8_t p : points)
        if (p == not_recorded) return false;
    return true;
}

News2 news2(const Person& person, const Observation& set) {
    News2 out;
    const auto put = [&out](ScorePart part, std::int8_t points) {
        out.points[static_cast<std::size_t>(part)] = points;
    };
    put(ScorePart::respirations,
        set.respirations_per_min ? points_of(respirations, 3, *set.respirations_per_min) : missing);
    put(ScorePart::saturation, saturation_points(person, set));
    put(ScorePart::oxygen, set.on_oxygen ? static_cast<std::int8_t>(*set.on_oxygen ? 2 : 0) : missing);
    put(ScorePart::systolic, set.systolic_mmhg ? points_of(systolic, 3, *set.systolic_mmhg) : missing);
    put(ScorePart::pulse, set.pulse_per_min ? points_of(pulse, 3, *set.pulse_per_min) : missing);
    put(ScorePart::consciousness,
        set.consciousness ? static_cast<std::int8_t>(*set.consciousness == Consciousness::alert ? 0 : 3)
                          : missing);
    put(ScorePart::temperature,
        set.temperature ? points_of(temperature, 2, set.temperature->ninetieths()) : missing);

    const bool too_young = person.age && *person.age < AgeGroup::youth;
    out.given = !too_young && person.pregnant != true;
    if (too_young) out.limits.add(ScoreLimit::not_for_this_age);
    if (!person.age) out.limits.add(ScoreLimit::age_not_recorded);
    if (person.pregnant == true) out.limits.add(ScoreLimit::not_in_pregnancy);
    if (out.given && !out.complete()) out.limits.add(ScoreLimit::incomplete);
    bool three = false;
    for (const std::int8_t p : out.points) {
        if (p > 0) out.total += p;
        three = three || p == 3;
    }
    out.band = band_of(out.total, three);
    return out;
}

}  // namespace hangtime
