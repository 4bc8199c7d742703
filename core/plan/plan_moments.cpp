#include "core/plan/plan_sheet.hpp"

#include "core/plan/plan_words.hpp"
#include "core/words/spelling.hpp"
#include "core/words/sums.hpp"
#include "core/words/words.hpp"

namespace hangtime {

namespace {

struct Adder {
    const Protocol& protocol;
    DayClock day;
    sheet::Document& document;

    sheet::Moment& add(std::string_view kind, std::string_view spelled, std::string_view title, Instant at,
                       const Sum& sum) {
        document.moments.emplace_back();
        sheet::Moment& moment = document.moments.back();
        moment.kind = kind;
        moment.code = spelled;
        moment.name = title;
        moment.at = at;
        moment.shown = clock_text(at, day);
        moment.sum = sum_text(sum, day);
        return moment;
    }
};

}  // namespace

void add_moments(sheet::Document& document, const Protocol& protocol, const State& state, const Reckoning& r,
                 const WallClock& wall) {
    Adder adder{protocol, day_clock_of(state, wall, r.now), document};
    // A plan that does not fit is not to be started: its checks stay out of a calendar, and each limit says so.
    const bool no_plan = r.planned && !(state.times.start && state.times.start->happened) &&
                         r.judgement.verdict == Verdict::does_not_fit;
    for (const Window& w : r.windows) {
        if (!w.latest) continue;
        sheet::Moment& moment = adder.add("limit", code(w.kind), name(w.kind), *w.latest, w.sum);
        if (no_plan) moment.name = joined({name(r.judgement.verdict), ", ask first - ", name(w.kind)});
        moment.detail = counted_from_text(w);
        moment.source = basis_text(protocol, w.basis);
    }
    for (const Stage& stage : r.stages) {
        sheet::Moment& moment = adder.add("stage", code(stage.kind), name(stage.kind), stage.from, stage.sum);
        moment.until = stage.to;
        moment.until_shown = clock_text(stage.to, adder.day);
        moment.detail = joined({stage_rate_text(stage), ", ", volume_text(stage.volume)});
        if (stage.kind == StageKind::slow) moment.source = basis_text(protocol, stage.basis);
        moment.in_calendar = false;
    }
    for (const Check& check : r.checks) {
        sheet::Moment& moment =
            adder.add("check", code(check.kind), check_title(check.kind), check.due, check.sum);
        moment.detail = name(check.state);
        moment.in_calendar = !no_plan;
        moment.source = basis_text(protocol, check.basis);
    }
}

}  // namespace hangtime
