#include "core/observe/reaction.hpp"

#include "core/observe/symptoms.hpp"
#include "core/words/format.hpp"

namespace hangtime {

namespace {

// What has to be known on both sides before anything is called mild.
constexpr Sign needed_signs[] = {Sign::temperature,  Sign::pulse,         Sign::systolic, Sign::respirations,
                                 Sign::saturation,   Sign::consciousness, Sign::symptoms};

std::optional<Instant> time_of(ActionKind kind, std::span<const ActionDone> done) {
    std::optional<Instant> out;
    for (const ActionDone& one : done)
        if (one.kind == kind && (!out || one.at < *out)) out = one.at;
    return out;
}

// Why a prompt bars a restart; none for a mild fever or mild symptoms.
std::optional<RestartBar> bar_of(const Prompt& prompt) {
    switch (prompt.code) {
        case PromptCode::new_symptom:
            if ((prompt.symptoms.bits & ~mild_symptoms.bits) == 0) return std::nullopt;
            return RestartBar::symptom_not_mild;
        case PromptCode::fever: return std::nullopt;
        case PromptCode::severe_fever: return RestartBar::severe_fever;
        case PromptCode::pressure_fall: return RestartBar::pressure_fall;
        case PromptCode::pulse_rise:
        case PromptCode::saturation_low:
        case PromptCode::consciousness_worse:
        case PromptCode::lung_sounds_new:
        case PromptCode::site_worse:
        case PromptCode::urine_changed:
        case PromptCode::breathing_worse:
        case PromptCode::overload_signs:
        case PromptCode::baseline_symptom:
        case PromptCode::baseline_fever:
        case PromptCode::baseline_out_of_range: break;
    }
    return RestartBar::other_sign;
}

constexpr bool only_unknown(RestartBar bar) {
    return bar == RestartBar::identity_not_checked || bar == RestartBar::not_all_recorded;
}

}  // namespace

ActionList action_list(const ReactionRules& rules, std::span<const ActionDone> done) {
    ActionList out;
    bool next = true;
    const auto add = [&](ActionKind kind) {
        for (const ActionLine& line : out)
            if (line.kind == kind) return;
        const auto at = time_of(kind, done);
        out.add({kind, at, next && !at});
        next = next && at.has_value();
    };
    add(ActionKind::stop);  // whatever the protocol's order is, nothing comes before it
    for (const ActionKind kind : rules.order) add(kind);
    for (const ActionDone& one : done) add(one.kind);
    return out;
}

Instant next_observations(const ReactionRules& rules, Instant stopped, std::optional<Instant> last) {
    if (!last || *last < stopped) return stopped;
    return *last + rules.observe_every.value;
}

void take_worst(Change& into, const Change& other) {
    for (const Prompt& prompt : other.prompts) {
        Prompt* same = nullptr;
        for (Prompt& mine : into.prompts)
            if (mine.code == prompt.code) same = &mine;
        if (!same) {
            into.prompts.add(prompt);
            continue;
        }
        same->symptoms.bits |= prompt.symptoms.bits;
        same->overload.bits = static_cast<std::uint16_t>(same->overload.bits | prompt.overload.bits);
    }
    FixedList<NotCompared, sign_count> both;
    for (const NotCompared& mine : into.missing)
        for (const NotCompared& theirs : other.missing)
            if (mine.sign == theirs.sign) both.add(mine);
    into.missing = both;
}

RestartAnswer restart_of(const ReactionRules& rules, const Change& worst,
                         std::optional<bool> identity_agrees, Instant stopped, Instant now,
                         std::optional<Instant> latest_end) {
    RestartAnswer out;
    const auto bar = [&out](RestartBar why) {
        for (const RestartBar there : out.bars)
            if (there == why) return;
        out.bars.add(why);
    };
    if (rules.restart) {
        out.basis = rules.restart->basis;
        out.not_before = stopped + rules.restart->wait;
    } else {
        bar(RestartBar::rules_never);
    }
    if (identity_agrees == false) bar(RestartBar::identity_differs);
    for (const Prompt& prompt : worst.prompts)
        if (const auto why = bar_of(prompt)) bar(*why);
    if (latest_end && now >= *latest_end) bar(RestartBar::past_the_limit);
    if (!identity_agrees) bar(RestartBar::identity_not_checked);
    for (const NotCompared& missing : worst.missing)
        for (const Sign needed : needed_signs)
            if (missing.sign == needed) bar(RestartBar::not_all_recorded);

    out.may = Restart::on_a_clinicians_word;
    for (const RestartBar why : out.bars) {
        if (!only_unknown(why)) out.may = Restart::no;
        else if (out.may != Restart::no) out.may = Restart::cannot_tell;
    }
    return out;
}

Instant keep_bag_until(const ReactionRules& rules, Instant all_in) { return all_in + rules.keep_bag.value; }

Instant report_late_until(const ReactionRules& rules, Instant ended) {
    return ended + rules.late_symptoms.value;
}

std::optional<RateRatio> per_kg(const FluidParts& parts, Mass weight) {
    if (weight.grams <= 0) return std::nullopt;
    return RateRatio{parts.total().units * 1000, units_per_ml * weight.grams};
}

std::string fluid_text(const FluidParts& parts, Mass weight) {
    const std::string total = volume_text(parts.total());
    const auto by_weight = per_kg(parts, weight);
    if (!by_weight) return total;
    return joined({total, ", ", dose_number(by_weight->num, by_weight->den, 1), " mL/kg"});
}

std::string fluid_parts_text(const FluidParts& parts) {
    std::string out;
    const auto add = [&out](std::string_view what, Volume v) {
        if (v > Volume{}) out += joined({out.empty() ? "" : ", ", what, " ", volume_text(v)});
    };
    add("component", parts.component);
    add("saline that filled the line", parts.priming);
    add("saline that cleared it", parts.clearing);
    add("other lines", parts.other_lines);
    return out.empty() ? "nothing yet" : out;
}

static_assert(static_cast<Wide>(bounds::volume.units) * 4 * 1000 < INT64_MAX);
static_assert(static_cast<Wide>(units_per_ml) * bounds::mass.grams < INT64_MAX);

}  // namespace hangtime
