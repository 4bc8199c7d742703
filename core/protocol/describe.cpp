#include "core/protocol/describe.hpp"

#include "core/protocol/observe_reader.hpp"
#include "core/words/format.hpp"
#include "core/words/match_words.hpp"
#include "core/words/round_words.hpp"
#include "core/words/words.hpp"
#include "core/words/spelling.hpp"

namespace hangtime {

namespace {

class Describer {
public:
    explicit Describer(const Protocol& p) : p_(p) {}

    std::vector<Rule> describe() {
        add("children", p_.children ? "by weight" : "no", {});
        for (std::size_t i = 0; i < component_count; ++i)
            component("components." + std::string(component_codes[i]) + ".", p_.components[i]);
        checks(p_.checks);
        protocol_reader::describe_observe(p_, rules_);
        given("duration.counts_from", p_.duration_counts_from);
        given("slow_stage.counts_from", p_.slow_counts_from);
        given("expiry.rule", p_.expiry);
        given("clearing.rule", p_.clearing);
        given("priming.with", p_.primed_with);
        for (const LinePreset& line : p_.lines)
            add("lines." + std::string(code(line.kind)), volume_text(line.holds), line.basis);
        std::string bags;
        for (const Volume bag : p_.saline_bags) bags += (bags.empty() ? "" : " or ") + volume_text(bag);
        add("saline.bags", bags, p_.saline_basis);
        if (p_.keep_below_tenths_c)
            add("keeping.below", dose_number(p_.keep_below_tenths_c->value, 10, 1) + " \xC2\xB0" "C",
                p_.keep_below_tenths_c->basis);
        if (p_.keep_reading)
            add("keeping_reading.counts", "counts for " + span_text(p_.keep_reading->value), p_.keep_reading->basis);
        if (p_.set_units)
            add("set.most_units", std::to_string(p_.set_units->value) + " units", p_.set_units->basis);
        add("after_send_back.may_be_used", yes_no(p_.use_after_send_back), p_.use_after_send_back_basis);
        if (const auto& s = p_.session) {
            add("session.sample", "good for " + span_text(s->sample_valid.value), s->sample_valid.basis);
            add("session.finished", "kept for " + span_text(s->keep_finished.value), s->keep_finished.basis);
        }
        if (p_.match) match(*p_.match);
        if (p_.round) round(*p_.round);
        add("pump.step", rate_text(p_.pump.step), p_.pump.basis);
        add("pump.most", rate_text(p_.pump.most), p_.pump.basis);
        add("gravity.drop_factor", drop_factor_text(p_.drop_factor), p_.drop_factor_basis);
        add("reserve.accuracy", percent_text(p_.reserve.accuracy_tenths_percent), p_.reserve.basis);
        add("reserve.least", span_text(p_.reserve.minutes), p_.reserve.basis);
        add("closing.last", span_text(p_.closing), p_.closing_basis);
        return std::move(rules_);
    }

private:
    static std::string yes_no(bool truth) { return truth ? "yes" : "no"; }

    void add(std::string path, std::string text, Basis basis) {
        rules_.push_back({std::move(path), std::move(text), basis});
    }

    template <class E>
    void given(const std::string& path, const Given<E>& rule) {
        add(path, std::string(code(rule.value)), rule.basis);
    }

    void pace(const std::string& path, const UsualPace& pace) {
        if (pace.most)
            add(path + ".duration",
                (pace.least ? span_text(*pace.least) + " to " : "") + span_text(*pace.most), pace.basis);
        else if (pace.least)
            add(path + ".duration", "at least " + span_text(*pace.least), pace.basis);
        if (pace.rate_per_kg) add(path + ".rate", rate_per_kg_text(*pace.rate_per_kg), pace.basis);
    }

    void component(const std::string& path, const ComponentRules& rules) {
        for (const Limit& limit : rules.limits)
            add(path + "limits." + std::string(code(limit.kind)) + "." + std::string(code(limit.from)),
                span_text(limit.within), limit.basis);
        if (const auto& slow = rules.slow) {
            std::string rate = slow->rate ? rate_text(*slow->rate) : std::string();
            if (slow->rate_per_kg)
                rate += (rate.empty() ? "" : " or, if lower, ") + rate_per_kg_text(*slow->rate_per_kg);
            add(path + "slow_stage", rate + " for " + span_text(slow->lasts), slow->basis);
        }
        pace(path + "usual", rules.usual);
        if (rules.usual_at_risk) pace(path + "usual_at_risk", *rules.usual_at_risk);
        if (rules.most) add(path + "highest", rate_text(rules.most->value), rules.most->basis);
        if (const auto& most = rules.most_per_kg)
            add(path + "highest_by_weight", rate_per_kg_text(most->value), most->basis);
        if (const auto& most = rules.most_per_kg_at_risk)
            add(path + "highest_by_weight_at_risk", rate_per_kg_text(most->value), most->basis);
        if (const auto& range = rules.usual_volume)
            add(path + "usual_bag", volume_text(range->least) + " to " + volume_text(range->most),
                range->basis);
        if (rules.least_gauge)
            add(path + "cannula", std::to_string(rules.least_gauge->value) + " G or wider",
                rules.least_gauge->basis);
        if (rules.controlled_delivery)
            add(path + "controlled_delivery", "needed", rules.controlled_delivery_basis);
        if (rules.never_by)
            add(path + "never_by", std::string(name(rules.never_by->value)), rules.never_by->basis);
        if (rules.new_set) add(path + "new_set", "needed", rules.new_set_basis);
    }

    void checks(const CheckRules& checks) {
        add("checks.baseline", "at most " + span_text(checks.baseline_within.value) + " old",
            checks.baseline_within.basis);
        for (std::size_t i = 0; i < checks.early.size(); ++i) {
            const std::string path = "checks.early." + std::to_string(i);
            add(path + ".after", span_text(checks.early[i].after), checks.early[i].basis);
            add(path + ".counts_from", span_text(checks.early[i].counts_from), checks.early[i].counts_basis);
        }
        if (checks.interval)
            add("checks.interval", "every " + span_text(checks.interval->value), checks.interval->basis);
        if (const auto& every = checks.interval_cannot_report)
            add("checks.interval_cannot_report", "every " + span_text(every->value), every->basis);
        add("checks.at_start", yes_no(checks.at_start.value), checks.at_start.basis);
        add("checks.at_end", yes_no(checks.at_end.value), checks.at_end.basis);
        for (std::size_t i = 0; i < checks.after.size(); ++i)
            add("checks.after." + std::to_string(i), span_text(checks.after[i].value), checks.after[i].basis);
        add("checks.grace", span_text(checks.grace), checks.grace_basis);
        add("checks.merge_into_end", span_text(checks.merge_into_end), checks.merge_basis);
    }

    template <class E>
    void named(const std::string& path, const Given<E>& rule) {
        add(path, std::string(name(rule.value)), rule.basis);
    }

    void round(const RoundRules& r) {
        add("round.set.use", std::string(name(r.set_use.value)), r.set_use.basis);
        add("round.component_change.new_set_for", std::string(name(r.set_change.value)), r.set_change.basis);
        add("round.reassess.after", std::string(name(r.reassess.value)), r.reassess.basis);
        add("round.reassessment", span_text(r.reassess_takes), r.reassess_takes_basis);
        add("round.next_baseline.is_end_check", yes_no(r.end_check_is_baseline.value),
            r.end_check_is_baseline.basis);
        add("round.call.ready", span_text(r.call.ready), r.call.basis);
        add("round.call.transport", span_text(r.call.transport), r.call.basis);
        add("round.match", span_text(r.match_takes.value), r.match_takes.basis);
        add("round.attended", span_text(r.attended.value), r.attended.basis);
        add("round.check", span_text(r.check_takes.value), r.check_takes.basis);
    }

    void match(const MatchRules& m) {
        named("match.people", m.people);
        named("match.cannot_say", m.cannot_say);
        for (const MatchLine& line : m.lines) {
            std::string others;
            for (int i = 0; i < match_place_count; ++i)
                if (line.compare_with.has(static_cast<MatchPlace>(i)))
                    others += (others.empty() ? "" : ", ") + std::string(name(static_cast<MatchPlace>(i)));
            add("match.fields." + std::string(code(line.field)),
                std::string(name(line.read_from)) + ", compared with " + others, line.basis);
        }
        add("match.lab_form", yes_no(m.lab_form.value), m.lab_form.basis);
        add("match.stale", span_text(m.stale.value), m.stale.basis);
        const CompatibilityRules& c = m.compatibility;
        const std::string at = "match.compatibility.";
        named(at + "plasma", c.plasma);
        named(at + "plasma_unknown_group", c.plasma_unknown);
        named(at + "cryoprecipitate", c.cryoprecipitate);
        named(at + "platelets", c.platelets);
        named(at + "whole_blood", c.whole_blood);
        named(at + "rhd_negative_listed", c.rhd_listed);
        add(at + "rhd_negative_listed.who",
            "female up to " + std::to_string(c.rhd_female_up_to_years) + " years, male up to " +
                std::to_string(c.rhd_male_up_to_years) + " years, anti-D, regular transfusions",
            c.rhd_listed.basis);
        named(at + "rhd_negative_others", c.rhd_others);
    }

    const Protocol& p_;
    std::vector<Rule> rules_;
};

}  // namespace

std::vector<Rule> rules_of(const Protocol& protocol) { return Describer(protocol).describe(); }

}  // namespace hangtime
