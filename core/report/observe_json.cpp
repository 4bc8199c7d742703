#include "core/json/write.hpp"
#include "core/report/observe_sheet.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/spelling.hpp"

namespace hangtime {

namespace {

using json::Writer;

class ObserveWriter {
public:
    ObserveWriter(const Protocol& protocol, const RuleSet& rules, const ObserveFile& file)
        : protocol_(protocol), rules_(rules), file_(file) {}

    std::string write() {
        w_.begin_object().integer("hangtime_observe", 1).text("protocol", protocol_.id);
        w_.text("rule_set", rules_.id).text("rule_set_title", rules_.title);
        w_.boolean("adopted", protocol_.adopted).text("note", any_symptom_sentence());
        w_.key("baseline").begin_object();
        const JudgedBy by = head(file_.baseline);
        prompts(by, baseline_of(by.protocol->observations, *by.rules, file_.person, file_.baseline.set),
                file_.baseline.set);
        score(file_.baseline.set);
        w_.end_object();
        w_.key("sets").begin_list();
        for (const TimedSet& set : file_.sets) timed(set);
        w_.end_list().end_object();
        return w_.take();
    }

private:
    JudgedBy head(const TimedSet& set) {
        const JudgedBy by = set.judged(protocol_, rules_);
        w_.integer("from_start_s", set.from_start.count).text("protocol", by.protocol->id);
        w_.text("rule_set", by.rules->id).text("rule_set_title", by.rules->title).key("observed");
        write_observation(w_, set.set);
        return by;
    }

    void prompts(const JudgedBy& by, const Prompts& prompts, const Observation& now) {
        w_.key("prompts").begin_list();
        for (const Prompt& prompt : prompts) {
            w_.begin_object().text("code", code(prompt.code)).text("severity", code(prompt.severity));
            w_.text("sign", code(prompt.sign)).text("text", prompt_text(prompt, file_.baseline.set, now));
            const std::string rule = rule_text_of(by.protocol->observations, *by.rules, prompt);
            if (rule.empty()) w_.null("rule");
            else w_.text("rule", rule);
            if (prompt.basis.source < by.protocol->sources.size())
                w_.text("source", by.protocol->sources[prompt.basis.source].key);
            else
                w_.null("source");
            w_.text("grade", code(prompt.basis.grade));
            w_.key("symptoms").begin_list(Writer::Layout::along);
            for (int i = 0; i < symptom_count; ++i)
                if (prompt.symptoms.has(static_cast<Symptom>(i))) w_.text(code(static_cast<Symptom>(i)));
            w_.end_list().key("overload").begin_list(Writer::Layout::along);
            for (int i = 0; i < overload_sign_count; ++i)
                if (prompt.overload.has(static_cast<OverloadSign>(i)))
                    w_.text(code(static_cast<OverloadSign>(i)));
            w_.end_list().end_object();
        }
        w_.end_list();
    }

    void score(const Observation& set) {
        const News2 score = news2(file_.person, set);
        w_.key("score").begin_object().boolean("given", score.given);
        w_.integer("total", score.total).boolean("complete", score.complete()).text("band", code(score.band));
        w_.key("points").begin_object(Writer::Layout::along);
        for (int i = 0; i < score_part_count; ++i) {
            const auto part = static_cast<ScorePart>(i);
            if (score.of(part) == News2::not_recorded) w_.null(code(part));
            else w_.integer(code(part), score.of(part));
        }
        w_.end_object().key("limits").begin_list(Writer::Layout::along);
        for (const ScoreLimit limit : score.limits) w_.text(code(limit));
        w_.end_list().end_object();
    }

    void timed(const TimedSet& set) {
        w_.begin_object();
        const JudgedBy by = head(set);
        const Change change =
            change_from(by.protocol->observations, *by.rules, file_.person, file_.baseline.set, set.set);
        w_.boolean("stops", change.stops());
        prompts(by, change.prompts, set.set);
        w_.key("not_compared").begin_list();
        for (const NotCompared& m : change.missing) {
            w_.begin_object(Writer::Layout::along).text("sign", code(m.sign));
            w_.boolean("in_baseline", m.in_baseline).boolean("now", m.now).end_object();
        }
        w_.end_list();
        score(set.set);
        w_.key("questions").begin_list(Writer::Layout::along);
        for (const CaseQuestion q : questions_for(change)) w_.text(code(q));
        w_.end_list().end_object();
    }

    const Protocol& protocol_;
    const RuleSet& rules_;
    const ObserveFile& file_;
    Writer w_;
};

}  // namespace

std::string observe_json(const Protocol& protocol, const RuleSet& rules, const ObserveFile& file) {
    return ObserveWriter(protocol, rules, file).write();
}

}  // namespace hangtime
