#include "core/plan/round_words.hpp"

#include "core/plan/round_trial.hpp"
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

RoundSet round_set(const Protocol& protocol, const RoundResult& result, std::size_t job) {
    // From the first of them on; each is above the one that follows it.
    std::vector<std::size_t> chain{job};
    while (result.options.jobs[chain.back()].follows >= 0)
        chain.push_back(static_cast<std::size_t>(result.options.jobs[chain.back()].follows));
    RoundSet out;
    SetSoFar set;
    for (std::size_t n = chain.size(); n-- > 0;) {
        const Component component = *of_job(result, chain[n]).state.unit.component;
        const OptionDetail& d = detail_of(result, chain[n]);
        out.before = set;
        out.set = set_for(protocol, set, component, d.all_in);
        set = after_unit(set, out.set, component, d.start);
        out.change_by = set_expires(protocol, set, component);
    }
    return out;
}

std::string round_set_text(const Protocol& protocol, const RoundResult& result, std::size_t job, const DayClock& day) {
    const RoundSet set = round_set(protocol, result, job);
    // A transfusion that is over is in no job: whether its set may be kept is not known here.
    if (result.options.jobs[job].follows < 0 && of_job(result, job).follows >= 0)
        return "whether the set of the one before it may be kept is not known here.";
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
    if (t.follows < 0) return out + ".";
    return joined({out, " (", name(hold_for(*protocol.round, t.state.recipient.overload_risk)), ")."});
}

}  // namespace hangtime
