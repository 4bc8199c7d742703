#include "core/report/reaction_report.hpp"

#include "core/plan/plan_sheet.hpp"
#include "core/plan/plan_words.hpp"
#include "core/plan/references.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/words.hpp"

namespace hangtime {

namespace {

using sheet::Document;
using sheet::Role;
using sheet::Table;

// What published lists name for the hours after: of each group, in plain words.
constexpr Symptom late_symptoms[] = {
    Symptom::breathlessness, Symptom::breathless_lying_flat, Symptom::cough,      Symptom::chest_pain,
    Symptom::chills,         Symptom::rigors,                Symptom::rash,       Symptom::hives,
    Symptom::itching,        Symptom::swollen_lips_or_tongue, Symptom::back_pain, Symptom::flank_pain,
    Symptom::feeling_unwell, Symptom::jaundice,
};

class Builder {
public:
    Builder(const Protocol& protocol, const RuleSet& rules, const ReactionReport& report)
        : protocol_(protocol), rules_(rules), r_(report), references_(protocol) {}

    Document build() {
        out_.title = "Report of a suspected reaction";
        out_.headline(joined({"Stopped at ", clock(r_.stopped), after_start(), "."}));
        not_charted();
        facts();
        actions();
        every_set();
        changes();
        restart();
        out_.picture(trend_picture(r_.baseline, r_.sets, r_.frame));
        out_.table(trend_table(r_.baseline, r_.sets));
        rates();
        references_.add_list(out_);
        add_rules_and_cautions(out_, protocol_);
        return std::move(out_);
    }

private:
    std::string clock(Instant at) const { return clock_text(at, r_.day); }
    std::string clock(const std::optional<Instant>& at) const {
        return at ? clock(*at) : std::string(not_recorded_text);
    }
    std::string after_start() const {
        return r_.started ? joined({", ", span_text(r_.stopped - *r_.started), " after the start"})
                          : std::string();
    }
    static std::string volume(const std::optional<Volume>& v) {
        return v ? volume_text(*v) : std::string(not_recorded_text);
    }

    // First on the sheet: this is not the record, so what is not in it yet has to be seen.
    void not_charted() {
        std::string times;
        for (std::size_t i = 0; i < r_.sets.size(); ++i)
            if (i >= r_.charted.size() || !r_.charted[i])
                times += joined({times.empty() ? "" : ", ", elapsed_text(r_.sets[i].from_start)});
        if (!times.empty()) out_.paragraph(joined({"Observations that are not charted yet: ", times, "."}));
    }

    void facts() {
        out_.fact("Component", r_.component ? name(*r_.component) : not_recorded_text);
        out_.fact("Donation number ends in", r_.bag_digits.empty() ? "______" : r_.bag_digits);
        out_.fact("Shown as", r_.object.empty() ? "______" : r_.object);
        out_.fact("Issued", clock(r_.issued));
        out_.fact("Started", clock(r_.started));
        out_.fact("Stopped", clock(r_.stopped));
        out_.fact("Given until then", volume(r_.given));
        out_.fact("Volume of the bag", volume(r_.bag));
        out_.fact("All fluid", joined({fluid_text(r_.fluid, r_.person.weight),
                                       r_.fluid_since ? joined({", since ", clock(*r_.fluid_since)}) : std::string()}));
        out_.fact("That is", fluid_parts_text(r_.fluid));
        for (const std::string& counted : r_.fluid_counted) out_.fact("Counted", counted);
        for (const std::string& not_known : r_.fluid_not_known) out_.fact("Not known", not_known);
        out_.fact("Weight", mass_text(r_.person.weight));
        out_.fact("Age", r_.person.age ? name(*r_.person.age) : not_recorded_text);
        out_.fact("Identity checked again", identity_text(r_.identity_agrees, r_.identity_at, r_.day));
        out_.fact("Rules", rules_text(protocol_));
        if (r_.rules.empty()) out_.fact("Rules for a change", rule_set_text(rules_));
        for (const ReportedRules& rules : r_.rules)
            out_.fact(&rules == &r_.rules.front() ? std::string("Rules for a change") : joined({"From ", clock(rules.from)}),
                      joined({rule_set_text(*rules.by.rules), rules.chosen ? ", chosen" : "",
                              rules.by.protocol == &protocol_ ? "" : ", of ",
                              rules.by.protocol == &protocol_ ? std::string_view() : std::string_view(rules.by.protocol->title)}));
    }

    // Sources have numbers where they are those of the rules in force; else they stand in words.
    std::string cited(const JudgedBy& by, const Basis& basis) {
        return by.protocol == &protocol_ ? references_.cite(basis) : basis_text(*by.protocol, basis);
    }

    static std::string met(const JudgedBy& by, const Prompts& prompts) {
        std::string out;
        for (const Prompt& prompt : prompts) {
            const std::string rule = rule_text_of(by.protocol->observations, *by.rules, prompt);
            out += joined({out.empty() ? "" : "; ", name(prompt.code), rule.empty() ? "" : ": ", rule});
        }
        return out.empty() ? "none of these rules; that rules nothing out" : out;
    }

    // From the baseline on, charted or not: what was seen is the report, whatever has been copied already.
    void every_set() {
        Table table;
        table.caption = "Every set of observations, from the baseline on";
        table.add_column("At", Role::time);
        table.add_column("From the start", Role::time);
        table.add_column("Which");
        table.add_column("Charted");
        table.add_column("Rules for a change");
        table.add_column("Which rule was met");
        const auto row = [&](const TimedSet& set, std::string_view title, bool charted, const std::string& which) {
            const bool before = set.from_start < Seconds{};
            const std::optional<Instant> zero = r_.started ? r_.started : r_.zero;
            table.add_row({zero ? clock(*zero + set.from_start) : std::string(),
                           before ? joined({span_text(-set.from_start), " before"}) : elapsed_text(set.from_start), title,
                           charted ? "yes" : "not yet", set.judged(protocol_, rules_).rules->title, which});
        };
        if (r_.baseline_taken) {
            const JudgedBy by = r_.baseline.judged(protocol_, rules_);
            row(r_.baseline, "Baseline", r_.baseline_charted,
                met(by, baseline_of(by.protocol->observations, *by.rules, r_.person, r_.baseline.set)));
        }
        for (std::size_t i = 0; i < r_.sets.size(); ++i) {
            const JudgedBy by = r_.sets[i].judged(protocol_, rules_);
            const Change change = change_from(by.protocol->observations, *by.rules, r_.person, r_.baseline.set, r_.sets[i].set);
            row(r_.sets[i], i < r_.titles.size() ? std::string_view(r_.titles[i]) : std::string_view(),
                i < r_.charted.size() && r_.charted[i],
                r_.baseline_taken ? met(by, change.prompts) : std::string("no baseline to compare with"));
        }
        if (!r_.baseline_taken) out_.paragraph("There is no baseline: nothing can be compared.");
        out_.table(std::move(table));
    }

    void actions() {
        Table table;
        table.caption = "What was done";
        table.add_column("Action");
        table.add_column("At", Role::time);
        table.add_column("From the stop", Role::time);
        for (const ActionLine& line : action_list(protocol_.reaction, r_.done)) {
            table.add_row({name(line.kind), line.at ? clock(*line.at) : std::string(not_recorded_text)});
            table.add_cell(line.at && *line.at >= r_.stopped ? elapsed_text(*line.at - r_.stopped) : "");
        }
        out_.table(std::move(table));
        if (r_.identity_agrees == false) out_.paragraph(std::string(identity_differs_sentence()));
    }

    void changes() {
        Table table;
        table.caption = "What changed, with its figures and where each rule is from";
        table.add_column("At", Role::time);
        table.add_column("What");
        table.add_column("Figures");
        table.add_column("Rule");
        table.add_column("Where from");
        for (std::size_t i = 0; i < r_.sets.size(); ++i) {
            const TimedSet& timed = r_.sets[i];
            const JudgedBy by = timed.judged(protocol_, rules_);
            const Change change =
                change_from(by.protocol->observations, *by.rules, r_.person, r_.baseline.set, timed.set);
            for (const Prompt& prompt : change.prompts)
                table.add_row({elapsed_text(timed.from_start), name(prompt.code),
                               prompt_text(prompt, r_.baseline.set, timed.set),
                               rule_text_of(by.protocol->observations, *by.rules, prompt),
                               cited(by, prompt.basis)});
            if (i == 0) worst_ = change;
            else take_worst(worst_, change);
            // What bars a restart is looked at by the rules in force as well.
            if (by.rules != &rules_)
                take_worst(worst_, change_from(protocol_.observations, rules_, r_.person, r_.baseline.set, timed.set));
        }
        out_.table(std::move(table));
        const std::string missing = missing_text(worst_);
        if (!missing.empty()) out_.fact("Could not be compared in any set", missing);
        out_.paragraph(std::string(any_symptom_sentence()));
        const CaseQuestions questions = questions_for(worst_);
        if (!questions.empty()) out_.paragraph("The published case definitions would ask next:");
        for (const CaseQuestion question : questions) out_.item(sentence(question));
    }

    void restart() {
        out_.heading("Whether it may go on");
        if (r_.sets.empty()) {
            out_.paragraph(std::string(sentence(Restart::cannot_tell)));
            return;
        }
        const RestartAnswer answer = restart_of(protocol_.reaction, worst_, r_.identity_agrees, r_.stopped,
                                                r_.now, r_.latest_end);
        out_.paragraph(std::string(sentence(answer.may)));
        for (const RestartBar bar : answer.bars) out_.item(sentence(bar));
        if (answer.may == Restart::on_a_clinicians_word)
            out_.fact("Not before", joined({clock(answer.not_before), ", ", references_.cite(answer.basis)}));
    }

    void rates() {
        Table table;
        table.caption = "Rates until the stop";
        table.add_column("From", Role::time);
        table.add_column("Rate", Role::number);
        for (const ReportedRate& rate : r_.rates) table.add_row({clock(rate.from), rate_text(rate.rate)});
        out_.table(std::move(table));
    }

    const Protocol& protocol_;
    const RuleSet& rules_;
    const ReactionReport& r_;
    References references_;
    Document out_;
    Change worst_;
};

}  // namespace

std::string identity_text(std::optional<bool> agrees, std::optional<Instant> at, const DayClock& day) {
    if (!agrees) return std::string(not_recorded_text);
    return joined({at ? clock_text(*at, day) : std::string(), at ? ", " : "",
                   *agrees ? "all agree" : "something differs"});
}

Document reaction_report(const Protocol& protocol, const RuleSet& rules, const ReactionReport& report) {
    return Builder(protocol, rules, report).build();
}

Document late_symptoms_slip(const Protocol& protocol) {
    Document out;
    out.title = "After your transfusion";
    const Given<Seconds>& late = protocol.reaction.late_symptoms;
    out.headline(joined({"For the next ", span_text(late.value), ": call if you notice any of these."}));
    for (const Symptom symptom : late_symptoms) out.item(name(symptom));
    out.item("Dark or red urine, or much less of it than usual");
    out.item("Anything else that is new and worries you");
    out.fact("Call", "____________________");
    out.fact("This began at", "______");
    out.paragraph("If breathing is hard, or lips or tongue swell, call for emergency help at once. "
                  "Say that you had a transfusion, and when.");
    References references(protocol);
    out.paragraph(joined({"How long: ", references.cite(late.basis), "."}));
    references.add_list(out);
    out.paragraph(joined({"Rules: ", rules_text(protocol), "."}));
    return out;
}

}  // namespace hangtime
