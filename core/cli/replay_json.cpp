#include "core/cli/replay_json.hpp"

#include "core/cli/report_json.hpp"
#include "core/json/write.hpp"
#include "core/plan/record_words.hpp"
#include "core/report/session_report.hpp"
#include "core/words/match_words.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/session_spelling.hpp"
#include "core/words/session_words.hpp"

namespace hangtime::cli {

namespace {

class ReplayWriter {
public:
    ReplayWriter(const Log& log, const Live& live)
        : log_(log), s_(log.session()), live_(live), day_(day_clock_of(s_)) {}

    std::string write() {
        w_.begin_object().integer("hangtime_replay", replay_version);
        w_.text("object", name(s_.object)).boolean("rehearsal", s_.rehearsal);
        w_.text("phase", code(s_.phase)).integer("records", static_cast<std::int64_t>(log_.events().size()));
        time("now", live_.reckoning.now);
        time("next_change", live_.next_change);
        to_do();
        ready();
        assumed();
        running();
        w_.text("match", code(s_.match.standing)).integer("match_steps", static_cast<std::int64_t>(s_.match.passed.size()));
        time("back_to_stock_until", live_.back_to_stock_until);
        time("attended_until", live_.attended_until);
        w_.integer("uncharted", static_cast<std::int64_t>(live_.uncharted));
        w_.integer("units_covered", s_.units_covered).integer("units_called_for", s_.units_requested);
        groups();
        reaction();
        fluid();
        change_rules();
        const RuleSet* rules = rules_now(s_).rules();
        const bool compared = rules && !s_.sets.empty();
        if (compared) w_.key("observations").text("");
        else w_.null("observations");
        w_.key("sheet").text("");
        w_.end_object();
        std::string out = w_.take();
        put(out, "sheet", report_json(*s_.protocol, request(), live_.reckoning));
        if (compared)
            put(out, "observations", observe_json(*s_.protocol, *rules, observations_of(s_)));
        return out;
    }

private:
    // What is a whole JSON text of its own, in its place; the last of that name.
    static void put(std::string& out, std::string_view key, std::string text) {
        const std::string mark = "\"" + std::string(key) + "\": \"\"";
        while (!text.empty() && text.back() == '\n') text.pop_back();
        out.replace(out.rfind(mark) + mark.size() - 2, 2, text);
    }

    void groups() {
        if (s_.can_say) w_.boolean("can_say", *s_.can_say);
        else w_.null("can_say");
        if (!s_.groups) {
            w_.null("groups");
            return;
        }
        const GroupsNote& g = *s_.groups;
        w_.key("groups").begin_object().text("answer", code(g.answer())).boolean("settled", g.settled());
        w_.key("because").begin_list(json::Writer::Layout::along);
        for (const CompatibleReason why : g.because) w_.text(code(why));
        w_.end_list().key("unmet").begin_list(json::Writer::Layout::along);
        for (int i = 0; i < requirement_count; ++i)
            if (g.unmet.has(static_cast<Requirement>(i))) w_.text(code(static_cast<Requirement>(i)));
        w_.end_list().text("by", code(g.by));
        if (g.by == GroupsBy::waiver) w_.text("reason", code(g.reason)).text("role", code(g.role));
        else w_.null("reason").null("role");
        w_.text("text", groups_text(g));
        time("at", g.at);
        w_.end_object();
    }

    void reaction() {
        if (!s_.reaction) {
            w_.null("reaction");
            return;
        }
        const ReactionRules& rules = s_.protocol->reaction;
        w_.key("reaction").begin_object();
        time("since", s_.reaction);
        w_.key("actions").begin_list();
        for (const ActionLine& line : action_list(rules, s_.actions)) {
            w_.begin_object().text("action", code(line.kind));
            time("at", line.at);
            w_.end_object();
        }
        w_.end_list();
        if (s_.identity_agrees) w_.boolean("identity_agrees", *s_.identity_agrees);
        else w_.null("identity_agrees");
        time("identity_at", s_.identity_at);
        time("next_observations", observations_due(s_));
        const RestartAnswer answer = restart_of(rules, worst_since(s_, *s_.reaction), s_.identity_agrees, *s_.reaction,
                                                live_.reckoning.now, live_.reckoning.finish_by);
        w_.text("restart", code(answer.may)).key("restart_bars").begin_list(json::Writer::Layout::along);
        for (const RestartBar bar : answer.bars) w_.text(code(bar));
        w_.end_list();
        w_.end_object();
    }

    void change_rules() {
        w_.key("change_rules").begin_list();
        for (const ReportedRules& rules : rules_used(s_)) {
            w_.begin_object();
            time("from", rules.from);
            w_.text("protocol", rules.by.protocol->id).text("rule_set", rules.by.rules->id);
            w_.text("rule_set_title", rules.by.rules->title).boolean("chosen", rules.chosen);
            w_.text("sources", rule_set_sources(*rules.by.protocol, *rules.by.rules)).end_object();
        }
        w_.end_list();
    }

    // Volumes in units of core/quantity.hpp: exact.
    void fluid() {
        const FluidTotal total = fluid_total(s_, live_);
        const auto parts = [this](const FluidParts& f) {
            w_.integer("component_units", f.component.units).integer("priming_units", f.priming.units);
            w_.integer("clearing_units", f.clearing.units).integer("other_lines_units", f.other_lines.units);
            w_.integer("total_units", f.total().units);
        };
        w_.key("fluid").begin_object();
        parts(total.bag);
        w_.text("text", fluid_text(total.bag, total.weight)).key("all_units").begin_object();
        parts(total.all);
        w_.integer("units", total.units);
        time("since", total.since);
        w_.text("text", fluid_text(total)).key("counted").begin_list();
        for (const std::string& counted : total.counted) w_.text(counted);
        w_.end_list().key("not_known").begin_list();
        for (const std::string& not_known : total.not_known) w_.text(not_known);
        w_.end_list().end_object().end_object();
        const auto& ended = s_.state.run.ended;
        const ReactionRules& rules = s_.protocol->reaction;
        time("keep_bag_until", ended ? std::optional(keep_bag_until(rules, *ended)) : std::nullopt);
        time("late_symptoms_until", ended ? std::optional(report_late_until(rules, *ended)) : std::nullopt);
    }

    Request request() const {
        Request request;
        request.protocol = s_.protocol->id;
        request.wall = s_.wall;
        Assumed assumed;
        request.state = assumed_state(s_, live_.reckoning.now, assumed);
        if (s_.digits) request.bag_digits = std::string(s_.digits->data(), s_.digits->size());
        request.object = s_.object;
        return request;
    }

    void time(std::string_view key, std::optional<Instant> at) {
        if (!at) {
            w_.null(key);
            return;
        }
        w_.key(key).begin_object(json::Writer::Layout::along).text("at", iso_text(*at, s_.wall));
        w_.text("clock", clock_text(*at, day_)).end_object();
    }

    void to_do() {
        w_.key("to_do").begin_list();
        for (const ToDo& todo : live_.to_do) {
            w_.begin_object().text("what", code(todo.what)).text("text", to_do_text(todo, live_.reckoning));
            w_.boolean("due", todo.due);
            time("at", todo.at);
            time("latest", todo.latest);
            w_.end_object();
        }
        w_.end_list();
    }

    void ready() {
        w_.key("ready").begin_list();
        for (const ReadyItem& item : live_.ready) {
            w_.begin_object().text("item", code(item.item)).text("group", code(group_of(item.item)));
            w_.text("state", code(item.state)).boolean("before_call", item.before_call);
            time("good_until", item.good_until);
            w_.end_object();
        }
        w_.end_list();
    }

    void assumed() {
        w_.key("assumed").begin_object(json::Writer::Layout::along).boolean("volume", live_.assumed.volume);
        w_.boolean("issue", live_.assumed.issue).boolean("start", live_.assumed.start).end_object();
    }

    // Volumes in units of core/quantity.hpp: exact.
    void running() {
        const RunningBand& r = live_.running;
        w_.key("running").begin_object(json::Writer::Layout::along).integer("pushed_units", r.pushed.units);
        w_.integer("given_units", r.given.units).integer("least_given_units", r.least_given.units);
        w_.integer("most_given_units", r.most_given.units);
        w_.integer("in_force_units_per_s", live_.reckoning.in_force.units_per_s).end_object();
    }

    const Log& log_;
    const Session& s_;
    const Live& live_;
    DayClock day_;
    json::Writer w_;
};

}  // namespace

std::string replay_json(const Log& log, const Live& live) { return ReplayWriter(log, live).write(); }

}  // namespace hangtime::cli
