#include "core/report/fluid_total.hpp"

#include "core/words/observe_words.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"

#include <algorithm>

namespace hangtime {

namespace {

FluidParts operator+(const FluidParts& a, const FluidParts& b) {
    return {a.component + b.component, a.priming + b.priming, a.clearing + b.clearing, a.other_lines + b.other_lines};
}

std::string units_text(std::int32_t n, std::string_view what) {
    return joined({dose_number(n, 1, 0), what, n == 1 ? " unit" : " units"});
}

// Of one session: its bag, and the units before it.
struct OfSession {
    FluidParts bag, earlier;
    std::int32_t units = 0, earlier_units = 0;
    std::optional<Instant> since;
};

OfSession of_session(const Session& s, const Live& live) {
    OfSession out;
    out.bag = fluid_of(s, live);
    const auto begun = [&](Instant at) {
        ++out.units;
        if (!out.since || at < *out.since) out.since = at;
    };
    for (const PastUnit& past : s.past_units) {
        if (!past.started) continue;
        out.earlier = out.earlier + past.fluid;
        ++out.earlier_units;
        begun(*past.started);
    }
    if (!s.state.run.flows.empty()) begun(s.state.run.flows.front().from);
    return out;
}

}  // namespace

FluidParts fluid_of(const Session& s, const Live& live) {
    if (s.state.run.flows.empty()) return {};
    return fluid_moved(s, live.running.pushed);
}

FluidTotal fluid_total(const Session& s, const Live& live, std::span<const FluidBeside> beside) {
    FluidTotal out;
    const OfSession own = of_session(s, live);
    out.bag = own.bag;
    out.all = own.bag + own.earlier;
    out.units = own.units;
    out.since = own.since;
    out.weight = s.state.recipient.weight;
    if (out.bag.total() > Volume{}) out.counted.push_back(joined({"With this bag: ", volume_text(out.bag.total()), "."}));
    if (own.earlier_units > 0)
        out.counted.push_back(joined({"With ", units_text(own.earlier_units, " earlier"), " of this session: ",
                                      volume_text(own.earlier.total()), "."}));
    bool linked_here = !s.linked;
    for (const FluidBeside& other : beside) {
        const OfSession theirs = of_session(other.session, other.live);
        linked_here = linked_here || s.linked == other.session.object;
        out.all = out.all + theirs.bag + theirs.earlier;
        out.units += theirs.units;
        if (theirs.since && (!out.since || *theirs.since < *out.since)) out.since = theirs.since;
        if (out.weight.grams == 0) out.weight = other.session.state.recipient.weight;
        out.counted.push_back(joined({"Linked session, the ", name(other.session.object), ", with ", units_text(theirs.units, ""), ": ",
                                      volume_text((theirs.bag + theirs.earlier).total()), "."}));
        if (!other.whole)
            out.not_known.push_back(joined({"A record of the ", name(other.session.object),
                                            " is damaged: what ran in there may be more."}));
        if (other.session.was_joined())
            out.not_known.push_back(joined({"The ", name(other.session.object),
                                            " was taken up half-way: what ran in before that is not counted."}));
    }
    if (!linked_here)
        out.not_known.push_back(joined({"The ", name(*s.linked), " is linked to this session and is not at hand here: what ran in "
                                        "there is not counted."}));
    if (s.was_joined())
        out.not_known.push_back("This session was taken up half-way: units and fluid before that are not counted.");
    if (out.weight.grams == 0) out.not_known.push_back("No weight is recorded: nothing can be said per kg.");
    if (!beside.empty() && out.all.other_lines > Volume{})
        out.not_known.push_back("Where what was entered for other lines holds what a linked session counts as well, it is counted twice.");
    out.not_known.push_back("Not counted: what is on another device or on paper, what was given by mouth or by hand, and fluid "
                            "through other lines that was not entered.");
    return out;
}

std::string fluid_text(const FluidTotal& total) { return fluid_text(total.all, total.weight); }

}  // namespace hangtime
