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
        out_.fact("All fluid", fluid_text(r_.fluid, r_.person.weight));
        out_.fact("That is", fluid_parts_text(r_.fluid));
        out_.fact("Weight", mass_text(r_.person.weight));
        out_.fact("Age", r_.person.age ? name(*r_.person.age) : not_recorded_text);
        out_.fact("Identity checked again", identity_text(r_.identity_agrees, r_.identity_at, r_.day));
        out_.fact("Rules", rules_text(protocol_));
        out_.fact("Rules for a change", joined({rules_.title, " (", rules_.id, ")"}));
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
        table.caption = "What changed, and which rule was met";
        table.add_column("At", Role::time);
        table.add_column("What");
        table.add_column("Figures");
        table.add_column("Rule");
        table.add_column("Where from");
        for (std::size_t i = 0; i < r_.sets.size(); ++i) {
            const TimedSet& timed = r_.sets[i];
            const Change change =
                change_from(protocol_.observations, rules_, r_.person, r_.baseline.set, timed.set);
            for (const Prompt& prompt : change.prompts)
                table.add_row({elapsed_text(timed.from_start), name(prompt.code),
                               prompt_text(prompt, r_.baseline.set, timed.set),
                               rule_text_of(protocol_.observations, rules_, prompt),
                               references_.cite(prompt.basis)});
            if (i == 0) worst_ = change;
            else take_worst(worst_, change);
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
