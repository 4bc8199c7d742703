#include "core/protocol/write.hpp"

#include "core/json/write.hpp"
#include "core/protocol/observe_reader.hpp"
#include "core/words/match_words.hpp"
#include "core/words/round_words.hpp"
#include "core/words/spelling.hpp"

namespace hangtime {

namespace {

using json::Writer;

class ProtocolWriter {
public:
    ProtocolWriter(const Protocol& p, Writer& w) : p_(p), w_(w) {}

    void write() {
        w_.begin_object();
        head();
        w_.key("components").begin_object();
        for (std::size_t i = 0; i < component_count; ++i) component(component_codes[i], p_.components[i]);
        w_.end_object();
        checks(p_.checks);
        protocol_reader::write_observe(w_, p_);
        rule("duration", "counts_from", p_.duration_counts_from);
        rule("slow_stage", "counts_from", p_.slow_counts_from);
        rule("expiry", "rule", p_.expiry);
        rule("clearing", "rule", p_.clearing);
        rule("priming", "with", p_.primed_with);
        lines();
        rest();
        w_.end_object();
    }

private:
    // A value group: one line, ending in its source and grade.
    Writer& begin(std::string_view name) { return w_.key(name).begin_object(Writer::Layout::along); }
    Writer& begin_item() { return w_.begin_object(Writer::Layout::along); }
    void end(Basis basis) {
        if (basis.source != Basis::no_source) w_.text("source", p_.sources[basis.source].key);
        w_.text("grade", code(basis.grade)).end_object();
    }

    void volume(std::string_view key, Volume v) { w_.key(key); volume(v); }
    void volume(Volume v) { w_.decimal(v.units / hundredths_of_ml(1).units, 2); }
    void rate(std::string_view key, Rate r) {
        w_.decimal(key, r.units_per_s / hundredths_of_ml_per_h(1).units_per_s, 2);
    }
    void rate_per_kg(std::string_view key, RatePerKg r) {
        w_.decimal(key, r.units_per_s / hundredths_of_ml_per_kg_per_h(1).units_per_s, 2);
    }
    void span(std::string_view key, Seconds s) { w_.integer(key, s.count / 60); }

    template <class E>
    void rule(std::string_view name, std::string_view key, const Given<E>& given) {
        begin(name).text(key, code(given.value));
        end(given.basis);
    }

    void head() {
        w_.integer("hangtime_protocol", p_.version).text("id", p_.id).text("title", p_.title);
        w_.text("issued_by", p_.issued_by).text("revised", p_.revised);
        w_.boolean("adopted", p_.adopted).boolean("children", p_.children);
        w_.key("sources").begin_object();
        for (const Source& source : p_.sources) {
            w_.key(source.key).begin_object().text("title", source.title).text("year", source.year);
            w_.text("place", source.place);
            if (!source.note.empty()) w_.text("note", source.note);
            w_.end_object();
        }
        w_.end_object();
    }

    void pace(std::string_view name, const UsualPace& pace) {
        begin(name);
        if (pace.least) span("least_min", *pace.least);
        if (pace.most) span("most_min", *pace.most);
        if (pace.rate_per_kg) rate_per_kg("rate_ml_per_kg_per_h", *pace.rate_per_kg);
        end(pace.basis);
    }

    void by_weight(std::string_view name, const std::optional<Given<RatePerKg>>& given) {
        if (!given) return;
        begin(name);
        rate_per_kg("rate_ml_per_kg_per_h", given->value);
        end(given->basis);
    }

    void needed(std::string_view name, bool truth, Basis basis) {
        if (!truth) return;
        begin(name).boolean("needed", true);
        end(basis);
    }

    void component(std::string_view name, const ComponentRules& rules) {
        w_.key(name).begin_object().key("limits").begin_list();
        for (const Limit& limit : rules.limits) {
            begin_item().text("kind", code(limit.kind)).text("from", code(limit.from));
            span("within_min", limit.within);
            end(limit.basis);
        }
        w_.end_list();
        if (rules.slow) {
            begin("slow_stage");
            if (rules.slow->rate) rate("first_rate_ml_per_h", *rules.slow->rate);
            if (rules.slow->rate_per_kg) rate_per_kg("first_rate_ml_per_kg_per_h", *rules.slow->rate_per_kg);
            span("lasts_min", rules.slow->lasts);
            end(rules.slow->basis);
        }
        pace("usual", rules.usual);
        if (rules.usual_at_risk) pace("usual_at_risk", *rules.usual_at_risk);
        if (rules.most) {
            begin("highest");
            rate("rate_ml_per_h", rules.most->value);
            end(rules.most->basis);
        }
        by_weight("highest_by_weight", rules.most_per_kg);
        by_weight("highest_by_weight_at_risk", rules.most_per_kg_at_risk);
        if (rules.usual_volume) {
            begin("usual_bag");
            volume("least_ml", rules.usual_volume->least);
            volume("most_ml", rules.usual_volume->most);
            end(rules.usual_volume->basis);
        }
        if (rules.least_gauge) {
            begin("cannula").integer("least_gauge", rules.least_gauge->value);
            end(rules.least_gauge->basis);
        }
        needed("controlled_delivery", rules.controlled_delivery, rules.controlled_delivery_basis);
        if (rules.never_by) {
            begin("never_by").text("device", code(rules.never_by->value));
            end(rules.never_by->basis);
        }
        needed("new_set", rules.new_set, rules.new_set_basis);
        w_.end_object();
    }

    void minutes_group(std::string_view name, std::string_view key, Seconds value, Basis basis) {
        begin(name);
        span(key, value);
        end(basis);
    }

    void checks(const CheckRules& checks) {
        w_.key("checks").begin_object();
        minutes_group("baseline", "within_min", checks.baseline_within.value, checks.baseline_within.basis);
        w_.key("early").begin_list();
        for (const CheckRules::Early& early : checks.early) {
            begin_item();
            span("after_min", early.after);
            minutes_group("counts", "from_min", early.counts_from, early.counts_basis);
            end(early.basis);
        }
        w_.end_list();
        const auto every = [&](std::string_view name, const std::optional<Given<Seconds>>& given) {
            if (given) minutes_group(name, "every_min", given->value, given->basis);
        };
        every("interval", checks.interval);
        every("interval_cannot_report", checks.interval_cannot_report);
        begin("at_start").boolean("due", checks.at_start.value);
        end(checks.at_start.basis);
        begin("at_end").boolean("due", checks.at_end.value);
        end(checks.at_end.basis);
        w_.key("after").begin_list();
        for (const Given<Seconds>& after : checks.after) {
            begin_item();
            span("after_end_min", after.value);
            end(after.basis);
        }
        w_.end_list();
        minutes_group("grace", "late_after_min", checks.grace, checks.grace_basis);
        minutes_group("merge_into_end", "closer_than_min", checks.merge_into_end, checks.merge_basis);
        w_.end_object();
    }

    void lines() {
        w_.key("lines").begin_list();
        for (const LinePreset& preset : p_.lines) {
            begin_item().text("kind", code(preset.kind));
            volume("holds_ml", preset.holds);
            end(preset.basis);
        }
        w_.end_list();
        begin("saline").key("bags_ml").begin_list();
        for (const Volume bag : p_.saline_bags) volume(bag);
        w_.end_list();
        end(p_.saline_basis);
    }

    void rest() {
        if (p_.keep_below_tenths_c) {
            begin("keeping").decimal("below_c", p_.keep_below_tenths_c->value, 1);
            end(p_.keep_below_tenths_c->basis);
        }
        if (p_.keep_reading) minutes_group("keeping_reading", "counts_min", p_.keep_reading->value, p_.keep_reading->basis);
        if (p_.set_units) {
            begin("set").integer("most_units", p_.set_units->value);
            end(p_.set_units->basis);
        }
        begin("after_send_back").boolean("may_be_used", p_.use_after_send_back);
        end(p_.use_after_send_back_basis);
        if (p_.session) session(*p_.session);
        if (p_.match) match(*p_.match);
        if (p_.round) round(*p_.round);
        begin("pump");
        rate("step_ml_per_h", p_.pump.step);
        rate("most_ml_per_h", p_.pump.most);
        end(p_.pump.basis);
        begin("gravity").integer("drops_per_ml", p_.drop_factor.per_ml);
        end(p_.drop_factor_basis);
        begin("reserve").decimal("accuracy_percent", p_.reserve.accuracy_tenths_percent, 1);
        span("least_min", p_.reserve.minutes);
        end(p_.reserve.basis);
        minutes_group("closing", "last_min", p_.closing, p_.closing_basis);
    }

    void round(const RoundRules& r) {
        w_.key("round").begin_object();
        begin("set").text("use", code(r.set_use.value));
        end(r.set_use.basis);
        begin("component_change").text("new_set_for", code(r.set_change.value));
        end(r.set_change.basis);
        begin("reassess").text("after", code(r.reassess.value));
        end(r.reassess.basis);
        minutes_group("reassessment", "takes_min", r.reassess_takes, r.reassess_takes_basis);
        begin("next_baseline").boolean("is_end_check", r.end_check_is_baseline.value);
        end(r.end_check_is_baseline.basis);
        begin("call");
        span("ready_min", r.call.ready);
        span("transport_min", r.call.transport);
        end(r.call.basis);
        minutes_group("match", "takes_min", r.match_takes.value, r.match_takes.basis);
        minutes_group("attended", "first_min", r.attended.value, r.attended.basis);
        minutes_group("check", "takes_min", r.check_takes.value, r.check_takes.basis);
        w_.end_object();
    }

    void session(const SessionRules& s) {
        w_.key("session").begin_object();
        minutes_group("sample", "valid_min", s.sample_valid.value, s.sample_valid.basis);
        minutes_group("finished", "kept_min", s.keep_finished.value, s.keep_finished.basis);
        w_.end_object();
    }

    void match(const MatchRules& m) {
        w_.key("match").begin_object();
        rule("people", "how", m.people);
        rule("cannot_say", "then", m.cannot_say);
        w_.key("fields").begin_list();
        for (const MatchLine& line : m.lines) {
            begin_item().text("field", code(line.field)).text("read_from", code(line.read_from));
            w_.key("compare_with").begin_list(Writer::Layout::along);
            for (int i = 0; i < match_place_count; ++i)
                if (const auto place = static_cast<MatchPlace>(i); line.compare_with.has(place))
                    w_.text(code(place));
            w_.end_list();
            end(line.basis);
        }
        w_.end_list();
        begin("lab_form").boolean("may_be_used", m.lab_form.value);
        end(m.lab_form.basis);
        minutes_group("stale", "after_min", m.stale.value, m.stale.basis);
        const CompatibilityRules& c = m.compatibility;
        w_.key("compatibility").begin_object();
        rule("plasma", "rule", c.plasma);
        rule("plasma_unknown_group", "rule", c.plasma_unknown);
        rule("cryoprecipitate", "rule", c.cryoprecipitate);
        rule("platelets", "rule", c.platelets);
        rule("whole_blood", "rule", c.whole_blood);
        begin("rhd_negative_listed").text("rule", code(c.rhd_listed.value));
        w_.integer("female_up_to_years", c.rhd_female_up_to_years);
        w_.integer("male_up_to_years", c.rhd_male_up_to_years);
        end(c.rhd_listed.basis);
        rule("rhd_negative_others", "rule", c.rhd_others);
        w_.end_object().end_object();
    }

    const Protocol& p_;
    Writer& w_;
};

}  // namespace

std::string write_protocol(const Protocol& protocol) {
    Writer w;
    write_protocol(protocol, w);
    return w.take();
}

void write_protocol(const Protocol& protocol, Writer& w) { ProtocolWriter(protocol, w).write(); }

}  // namespace hangtime
