#include "core/plan/round_words.hpp"

#include "core/plan/round_trial.hpp"
#include "core/round/persons.hpp"
#include "core/words/round_words.hpp"
#include "core/words/words.hpp"

#include <algorithm>

namespace hangtime {

using namespace rounds;

namespace {

const PlannedTransfusion& of_job(const RoundResult& result, std::size_t job) {
    return result.round.transfusions[static_cast<std::size_t>(result.options.transfusion[job])];
}

const OptionDetail& detail_of(const RoundResult& result, std::size_t job) {
    return result.options.details[job][static_cast<std::size_t>(result.schedule->choices[job].option)];
}

}  // namespace

bool has_promises(const Round& round) {
    return std::any_of(round.transfusions.begin(), round.transfusions.end(), [](const PlannedTransfusion& t) {
        return t.promised_start.has_value() || t.promised_nurse >= 0;
    });
}

std::vector<std::string> round_changes(const RoundResult& result) {
    const DayClock day = day_of(result.round);
    std::vector<std::string> out;
    for (std::size_t i = 0; i < result.round.transfusions.size(); ++i)
        if (result.options.standing[i] == Place::withdrawn && result.round.transfusions[i].promised_start)
            out.push_back(joined({object_text(result.round.transfusions[i]), " was promised for ",
                                  clock_text(*result.round.transfusions[i].promised_start, day),
                                  " and is not planned any more."}));
    for (std::size_t j = 0; j < result.schedule->choices.size(); ++j) {
        const PlannedTransfusion& t = of_job(result, j);
        if (t.happened.started) continue;  // it runs, with whoever started it
        const OptionDetail& d = detail_of(result, j);
        const int nurse = result.schedule->choices[j].nurse;
        const bool start = t.promised_start && *t.promised_start != d.start;
        const bool other = t.promised_nurse >= 0 && t.promised_nurse != nurse;
        if (!start && !other) continue;
        std::string text = object_text(t) + ": ";
        if (start) {
            const Seconds by = d.start - *t.promised_start;
            text += joined({"starts at ", clock_text(d.start, day), ", not at ", clock_text(*t.promised_start, day), " (",
                            span_text(by < Seconds{} ? -by : by), by < Seconds{} ? " earlier)" : " later)"});
        }
        if (other)
            text += joined({start ? ", " : "", "with ", nurse_text(nurse), ", not with ", nurse_text(t.promised_nurse)});
        out.push_back(text + ".");
    }
    return out;
}

std::vector<std::string> round_person_texts(const Round& round, std::size_t i) {
    std::vector<std::string> out;
    const PlannedTransfusion& mine = round.transfusions[i];
    const std::string name = object_text(mine);
    const auto other = [&](int at) { return object_text(round.transfusions[static_cast<std::size_t>(at)]); };
    if (mine.follows >= 0)
        out.push_back(joined({name, " follows ", other(mine.follows),
                              ", for the same person: a new match, a cycle of observations of its own."}));
    if (mine.same_person >= 0)
        out.push_back(joined({name, " is for the same person as ", other(mine.same_person),
                              ": never at the same time, in whichever order; a new match, a cycle of observations of its own."}));
    if (const int at = beside(round, i); at >= 0)
        out.push_back(joined({name, " may run at the same time as ", other(at),
                              ", into the same person over another line: the two share the ceiling, and this one is "
                              "planned as if ", other(at), " ran at ",
                              rate_text(*round.transfusions[static_cast<std::size_t>(at)].state.order.most),
                              " throughout. Whether two lines are allowed is for the order and local policy."}));
    return out;
}

std::string round_left_out_text(const Round& round, const RoundOptions& options, std::size_t i, const DayClock& day) {
    const PlannedTransfusion& t = round.transfusions[i];
    if (options.standing[i] == Place::over)
        return joined({object_text(t), " was stopped at ", clock_text(*t.happened.reaction, day),
                       " after a suspected reaction. Follow the procedure for it."});
    if (t.happened.started)
        return joined({object_text(t), " runs into the same person over another line: the suspected reaction counts for "
                       "both. Follow the procedure for it."});
    return joined({object_text(t), " is not planned: one for the same person was stopped after a suspected reaction. Ask "
                   "before anything else is called for."});
}

std::vector<std::string> round_overlaps(const RoundResult& result) {
    std::vector<std::string> out;
    if (!result.schedule) return out;
    const std::vector<int> persons = persons_of(result.round);
    const std::vector<int>& of = result.options.transfusion;
    for (std::size_t a = 0; a < of.size(); ++a)
        for (std::size_t b = 0; b < of.size(); ++b) {
            const auto i = static_cast<std::size_t>(of[a]), k = static_cast<std::size_t>(of[b]);
            const bool runs = of_job(result, a).happened.started && of_job(result, b).happened.started;
            if (!runs || persons[i] != persons[k] || beside(result.round, i) == of[b]) continue;
            const OptionDetail &first = detail_of(result, a), &second = detail_of(result, b);
            if (a == b || first.start > second.start || (first.start == second.start && a > b)) continue;
            if (first.all_in > second.start)
                out.push_back(joined({object_text(of_job(result, b)), " began before ", object_text(of_job(result, a)),
                                      " for the same person was all in by its plan. Two units into one person at the "
                                      "same time are not planned here: look at both."}));
        }
    return out;
}

RoundSet round_set(const Protocol& protocol, const RoundResult& result, std::size_t job) {
    const std::vector<std::size_t> lines = lines_of(result.round);
    const auto line = [&](std::size_t j) { return lines[static_cast<std::size_t>(result.options.transfusion[j])]; };
    std::vector<std::size_t> through;  // the line, up to this one
    for (std::size_t j = 0; j < result.options.transfusion.size(); ++j)
        if (line(j) == line(job) && (j == job || detail_of(result, j).start < detail_of(result, job).start))
            through.push_back(j);
    std::sort(through.begin(), through.end(), [&](std::size_t a, std::size_t b) {
        return detail_of(result, a).start < detail_of(result, b).start;
    });
    RoundSet out;
    SetSoFar set;
    for (const std::size_t j : through) {
        const Component component = *of_job(result, j).state.unit.component;
        const OptionDetail& d = detail_of(result, j);
        out.before = set;
        out.set = set_for(protocol, set, component, d.all_in);
        set = after_unit(set, out.set, component, d.start);
        out.change_by = set_expires(protocol, set, component);
    }
    return out;
}

std::string round_set_text(const Protocol& protocol, const RoundResult& result, std::size_t job, const DayClock& day) {
    const RoundSet set = round_set(protocol, result, job);
    std::string out(name(set.set));
    if (set.set == NewSet::would_expire) {
        const Component component = *of_job(result, job).state.unit.component;
        if (const auto by = set_expires(protocol, set.before, component))
            out = joined({"new set before it is hung: the old one has to be changed by ", clock_text(*by, day),
                          ", before this one is all in"});
    }
    if (set.change_by) out += joined({", to be changed by ", clock_text(*set.change_by, day)});
    if (set.set == NewSet::kept) out += " (what it still holds goes first, and the end comes later by that)";
    return out + ".";
}

std::string round_call_text(const Protocol& protocol, const RoundResult& result, std::size_t job, const DayClock& day) {
    const PlannedTransfusion& t = of_job(result, job);
    if (t.happened.issued) return {};
    const OptionDetail& d = detail_of(result, job);
    std::string out = joined({"at ", clock_text(d.issued - t.ready, day), "; issued ", clock_text(d.issued, day),
                              ", on the ward ", clock_text(d.issued + t.transport, day)});
    // Where another one for the same person comes before it.
    const std::vector<int> persons = persons_of(result.round);
    const auto mine = static_cast<std::size_t>(result.options.transfusion[job]);
    bool second = false;
    for (std::size_t j = 0; j < result.options.transfusion.size(); ++j) {
        const int other = result.options.transfusion[j];
        second = second || (persons[static_cast<std::size_t>(other)] == persons[mine] && beside(result.round, mine) != other &&
                            detail_of(result, j).start < d.start);
    }
    if (!second) return out + ".";
    return joined({out, " (", name(hold_for(*protocol.round, t.state.recipient.overload_risk)), ")."});
}

}  // namespace hangtime
