#include "core/plan/round_trial.hpp"

#include "core/plan/plan_words.hpp"
#include "core/plan/round_sheet.hpp"
#include "core/reckon/reckoning.hpp"
#include "core/words/words.hpp"

#include <algorithm>
#include <memory>

namespace hangtime {

using namespace rounds;

namespace {

constexpr std::int64_t slot_s = slot_minutes * 60;

class Trial {
public:
    Trial(const Protocol& protocol, const Round& round, const RoundOptions& options, const Schedule& schedule,
          std::size_t job, int slot)
        : protocol_(protocol), round_(round), options_(options), problem_(options.problem), schedule_(schedule),
          day_(day_of(round)), job_(job), slot_(slot) {}

    RoundTrial run() {
        const auto& all = problem_.jobs[job_].options;
        const auto it = std::find_if(all.begin(), all.end(), [&](const Option& o) { return o.start == slot_; });
        if (it == all.end()) {
            why_not();
            return std::move(out_);
        }
        option_ = static_cast<int>(it - all.begin());
        followers(*it);
        people(*it);
        if (out_.breaks.empty() && out_.schedule) out_.schedule->cost = cost(*out_.schedule);
        else out_.schedule.reset();
        return std::move(out_);
    }

private:
    const PlannedTransfusion& of(std::size_t job) const {
        return round_.transfusions[static_cast<std::size_t>(options_.transfusion[job])];
    }
    std::string name_of(std::size_t job) const { return object_text(of(job)); }
    Instant at(int slot) const { return round_.from + Seconds{slot * slot_s}; }
    std::string clock(Instant when) const { return clock_text(when, day_); }
    std::string between(const Span& s) const {
        return joined({"from ", clock(at(s.from)), " to ", clock(at(s.to))});
    }
    void say(std::string text) { out_.breaks.push_back(std::move(text)); }
    const Option& placed(std::size_t job) const {
        return problem_.jobs[job].options[static_cast<std::size_t>(schedule_.choices[job].option)];
    }

    // There is no plan with this start: the first reason.
    void why_not() {
        const PlannedTransfusion& t = of(job_);
        const RoundRules& rules = *protocol_.round;
        if (t.happened.started) return say(object_text(t) + " runs already.");
        const Instant start = at(slot_), match = start - rules.match_takes.value;
        const Instant match_slot = round_.from + Seconds{floor_div((match - round_.from).count, slot_s) * slot_s};
        const Instant now = round_.now.value_or(round_.from);
        if (match_slot < now)
            return say(joined({"The match would be at ", clock(match_slot), ", before ",
                               round_.now ? "now, " : "the round begins at ", clock(now), "."}));
        Instant issued = std::min(t.call_latest + t.ready, match_slot - t.transport);
        if (t.happened.issued) issued = *t.happened.issued;
        const Instant first = std::max(t.call_earliest, now) + t.ready;
        if ((!t.happened.issued && issued < first) || issued + t.transport > match_slot)
            return say(joined({"The bag is not there yet: called for at ", clock(first - t.ready),
                               " at the earliest, it is on the ward at ",
                               clock((t.happened.issued ? issued : first) + t.transport), "."}));
        State state = t.state;
        state.times.issued = Stated{issued, Precision::minute};
        state.times.start = Start{Stated{start, Precision::minute}, false};
        const auto r = std::make_unique<Reckoning>();
        reckon(protocol_, state, issued, *r);
        if (!r->planned || r->judgement.verdict == Verdict::does_not_fit)
            return say(joined({"Issued at ", clock(issued), t.happened.issued ? "" : " at the latest", ": ",
                               verdict_text(*r, day_)}));
        say(joined({"It, or a check of it, would not be over when the round ends at ", clock(round_.until), "."}));
    }

    void followers(const Option& option) {
        const Job& job = problem_.jobs[job_];
        const auto late = [&](std::size_t before, const Option& first, std::size_t after, int start, int lag) {
            const int least = first.finish_min + lag;
            if (start * slot_minutes >= least) return;
            say(joined({name_of(after), " follows ", name_of(before), ", which is all in at ",
                        clock(round_.from + Seconds{first.finish_min * 60}), ": it starts at ",
                        clock(round_.from + Seconds{ceil_div(least, slot_minutes) * slot_s}), " at the earliest."}));
        };
        if (job.follows >= 0)
            late(static_cast<std::size_t>(job.follows), placed(static_cast<std::size_t>(job.follows)), job_,
                 option.start, job.lag_min);
        for (std::size_t j = 0; j < problem_.jobs.size(); ++j)
            if (problem_.jobs[j].follows == static_cast<int>(job_))
                late(job_, option, j, placed(j).start, problem_.jobs[j].lag_min);
        for (const Apart& pair : problem_.apart) {
            if (pair.a != static_cast<int>(job_) && pair.b != static_cast<int>(job_)) continue;
            const auto other = static_cast<std::size_t>(pair.a == static_cast<int>(job_) ? pair.b : pair.a);
            const auto of = [&](int i) -> const Option& {
                return i == static_cast<int>(job_) ? option : placed(static_cast<std::size_t>(i));
            };
            if (are_apart(pair, of)) continue;
            const int lag = pair.a == static_cast<int>(job_) ? pair.lag_a : pair.lag_b;
            const int after = placed(other).finish_min + lag;
            say(joined({name_of(job_), " is for the same person as ", name_of(other), ", which runs from ",
                        clock(at(placed(other).start)), " to ",
                        clock(round_.from + Seconds{placed(other).finish_min * 60}),
                        ": it is over in time before that, or starts at ",
                        clock(at(static_cast<int>(ceil_div(after, slot_minutes)))), " at the earliest."}));
        }
    }

    // Why this nurse cannot do that; empty: she can.
    std::string why_not(int nurse, const Span& span) const {
        const auto k = static_cast<std::size_t>(nurse);
        const NursePlan& plan = round_.nurses[k];
        const Stretch wanted{at(span.from), at(span.to)};
        const auto meets = [&](const Stretch& s) { return s.from < wanted.to && s.to > wanted.from; };
        const std::string who = nurse_text(nurse);
        for (std::size_t j = 0; j < problem_.jobs.size(); ++j) {
            if (j == job_) continue;
            const Choice& c = schedule_.choices[j];
            const Option& o = placed(j);
            const auto overlaps = [&](const Span& s) { return s.from < span.to && span.from < s.to; };
            if (c.nurse == nurse && overlaps(o.lead))
                return joined({who, " is with ", name_of(j), " ", between(o.lead), "."});
            if (c.second == nurse && overlaps(o.match))
                return joined({who, " is the second person at the match of ", name_of(j), " ",
                               between(o.match), "."});
        }
        if (problem_.nurses[k].free.has_all(span.from, span.to)) return {};
        for (const Stretch& s : plan.breaks)
            if (meets(s)) return joined({who, " has a break from ", clock(s.from), " to ", clock(s.to), "."});
        for (const Stretch& s : plan.handovers)
            if (meets(s)) return joined({who, " hands over from ", clock(s.from), " to ", clock(s.to), "."});
        for (const PlannedTransfusion& t : round_.transfusions)
            if (t.happened.reaction && t.happened.nurse == nurse &&
                meets({*t.happened.reaction, *t.happened.reaction + t.happened.reaction_takes}))
                return joined({who, " is with ", object_text(t), " after a suspected reaction."});
        return who + " is not there all the time " + between(span) + ".";
    }

    std::string why_not_lead(int nurse, const Option& option) const {
        std::string why = why_not(nurse, option.lead);
        if (why.empty() && (option.nurses >> nurse & 1U) == 0)
            why = joined({"A check would fall due while ", nurse_text(nurse), " hands over."});
        return why;
    }

    void people(const Option& option) {
        const int nurses = static_cast<int>(problem_.nurses.size());
        const int usual = schedule_.choices[job_].nurse;
        std::vector<int> order{usual};
        for (int k = 0; k < nurses; ++k)
            if (k != usual) order.push_back(k);
        std::vector<std::string> lead, second, checks;
        bool any_lead = false, any_second = !problem_.second_from_round || option.match.empty();
        for (const int k : order) {
            std::string why = why_not_lead(k, option);
            if (!why.empty()) {
                lead.push_back(std::move(why));
                continue;
            }
            any_lead = true;
            if (!problem_.second_from_round || option.match.empty()) {
                if (with(k, -1, checks)) return;
                continue;
            }
            for (int s = 0; s < nurses; ++s) {
                if (s == k) continue;
                std::string not_second = why_not(s, option.match);
                if (!not_second.empty()) {
                    if (std::find(second.begin(), second.end(), not_second) == second.end())
                        second.push_back(std::move(not_second));
                    continue;
                }
                any_second = true;
                if (with(k, s, checks)) return;
            }
        }
        if (!any_lead) {
            say(joined({"Nobody can match ", name_of(job_), " and stay with it ", between(option.lead), ":"}));
            for (std::string& text : lead) say(std::move(text));
        } else if (!any_second) {
            say(joined({"There is no second person for the match ", between(option.match), ":"}));
            for (std::string& text : second) say(std::move(text));
        } else {
            for (std::string& text : checks) say(std::move(text));
        }
    }

    // Puts it into the schedule with these two; false, with why the first time, where a check finds nobody.
    bool with(int nurse, int second, std::vector<std::string>& why) {
        Schedule tried = schedule_;
        tried.choices[job_] = {option_, nurse, second};
        if (place_checks(problem_, tried.choices, &tried.checks)) {
            out_.schedule = std::move(tried);
            return true;
        }
        if (!why.empty()) return false;
        // One check that nobody is free for, whatever the others do.
        std::vector<Slots> free;
        for (const Nurse& n : problem_.nurses) free.push_back(n.free);
        for (std::size_t j = 0; j < problem_.jobs.size(); ++j) {
            const Choice& c = tried.choices[j];
            const Option& o = problem_.jobs[j].options[static_cast<std::size_t>(c.option)];
            free[static_cast<std::size_t>(c.nurse)].remove(o.lead.from, o.lead.to);
            if (c.second >= 0) free[static_cast<std::size_t>(c.second)].remove(o.match.from, o.match.to);
        }
        for (std::size_t j = 0; j < problem_.jobs.size(); ++j) {
            const auto o = static_cast<std::size_t>(tried.choices[j].option);
            const Option& option = problem_.jobs[j].options[o];
            for (std::size_t c = 0; c < option.checks.size(); ++c) {
                const Span& span = option.checks[c];
                const bool some = std::any_of(free.begin(), free.end(),
                                              [&](const Slots& s) { return s.has_any(span.from, span.to); });
                if (!some)
                    why.push_back(joined({"Nobody is free for the check of ", name_of(j), " that falls due at ",
                                          clock(options_.details[j][o].due[c]), "."}));
            }
        }
        if (!why.empty()) return false;
        // Otherwise there are too many at once: of which?
        for (std::size_t j = 0; j < problem_.jobs.size(); ++j) {
            if (j == job_) continue;
            const Choice kept = tried.choices[j];
            tried.choices[j] = {};
            if (place_checks(problem_, tried.choices, nullptr)) tried.choices[j] = kept;
        }
        std::string text;
        for (std::size_t j = 0; j < problem_.jobs.size(); ++j)
            if (tried.choices[j].option >= 0) text.append(text.empty() ? "" : ", ").append(name_of(j));
        why.push_back(joined({"More checks fall due at once than the nurses can do: of ", text, "."}));
        return false;
    }

    Cost cost(const Schedule& schedule) const {
        Cost sum;
        for (std::size_t j = 0; j < problem_.jobs.size(); ++j) {
            const Choice& c = schedule.choices[j];
            const Job& job = problem_.jobs[j];
            const Cost one = cost_of(job, job.options[static_cast<std::size_t>(c.option)], c.nurse);
            sum.finish += one.finish;
            sum.changes += one.changes;
        }
        return sum;
    }

    const Protocol& protocol_;
    const Round& round_;
    const RoundOptions& options_;
    const Problem& problem_;
    const Schedule& schedule_;
    DayClock day_;
    std::size_t job_;
    int slot_, option_ = -1;
    RoundTrial out_;
};

}  // namespace

RoundTrial try_start(const Protocol& protocol, const Round& round, const RoundOptions& options,
                     const Schedule& schedule, std::size_t job, int slot) {
    return Trial(protocol, round, options, schedule, job, slot).run();
}

RoundOptions held(const Round& round, const RoundOptions& options, const std::vector<int>& slots) {
    RoundOptions out = options;
    for (std::size_t j = 0; j < out.jobs.size(); ++j)
        if (slots[j] >= 0)
            for (Option& option : out.jobs[j].options)
                if (option.start != slots[j]) option.nurses = 0;
    out.problem = with_demands(round, out, {});
    return out;
}

std::string nurse_text(int nurse) { return "Nurse " + std::to_string(nurse + 1); }

std::string object_text(const PlannedTransfusion& t) {
    std::string text(name(t.object));
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

}  // namespace hangtime
