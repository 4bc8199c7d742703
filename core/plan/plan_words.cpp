#include "core/plan/plan_words.hpp"

#include "core/words/words.hpp"

namespace hangtime {

namespace {

void append_missing(std::string& out, const Missing& missing) {
    const struct {
        bool is;
        std::string_view what;
    } parts[] = {{missing.component, "the component"},
                 {missing.volume, "the volume of the bag"},
                 {missing.issued, "the time of issue"},
                 {missing.start, "the time of the start"},
                 {missing.weight, "the weight"}};
    int count = 0, said = 0;
    for (const auto& part : parts) count += part.is ? 1 : 0;
    for (const auto& part : parts) {
        if (!part.is) continue;
        if (said > 0) out += said + 1 == count ? " and " : ", ";
        out += part.what;
        ++said;
    }
    out += count == 1 ? " is not recorded." : " are not recorded.";
}

}  // namespace

DayClock day_clock_of(const State& state, const WallClock& wall, Instant now) {
    const Times& times = state.times;
    std::optional<Instant> first;
    const auto see = [&first](Instant at) {
        if (!first || at < *first) first = at;
    };
    if (times.issued) see(times.issued->at);
    if (times.left_storage) see(times.left_storage->at);
    if (times.spiked) see(times.spiked->at);
    if (times.start) see(times.start->when.at);
    return DayClock(wall, first.value_or(now));
}

std::string verdict_text(const Reckoning& r, const DayClock& day) {
    std::string out;
    if (!r.planned) {
        out = "Cannot be worked out yet: ";
        append_missing(out, r.missing);
        return out;
    }
    const Judgement& j = r.judgement;
    if (r.held) return "It stands still. Whether it goes on is somebody's decision; nothing is planned until then.";
    if (r.stopped)
        return joined({"Stopped at ", clock_text(r.all_in, day), ", before all was in: about ",
                       volume_text(r.volumes.given), " of ", volume_text(r.volumes.wanted), " given."});
    if (r.ended)
        out = joined({"All in since ", clock_text(r.all_in, day)});
    if (r.ended && r.finish_by)
        out = r.all_in <= *r.finish_by
                  ? joined({out, ", ", minutes_left_text(*r.finish_by - r.all_in), " before the limit of ", clock_text(*r.finish_by, day)})
                  : joined({out, ", ", span_text(r.all_in - *r.finish_by), " after the limit of ", clock_text(*r.finish_by, day)});
    if (r.ended) return out + ".";
    if (r.live && !r.drifts && r.all_in < r.now)
        return joined({"By the rates that were set it should be all in since ", clock_text(r.all_in, day), ". No end is noted."});
    out = name(j.verdict);
    out += '.';
    if (j.verdict == Verdict::does_not_fit) {
        if (j.would_be_left > Volume{} && r.finish_by) {
            out = joined({out, " By ", clock_text(*r.finish_by, day), " only ",
                          volume_text(j.can_give, Rounding::down), " can be given; ",
                          volume_text(j.would_be_left, Rounding::up), " would be left."});
        }
        return out;
    }
    out = joined({out, " All in at ", clock_text(r.all_in, day)});
    if (r.finish_by)
        out = joined({out, ", ", minutes_left_text(*r.finish_by - r.all_in), " before the limit of ",
                      clock_text(*r.finish_by, day)});
    out += '.';
    return out;
}

bool limit_passed(const Reckoning& r) {
    for (const Window& w : r.windows)
        if (w.binds && w.state == WindowState::passed) return true;
    return false;
}

std::vector<std::string> passed_texts(const Reckoning& r, const DayClock& day) {
    std::vector<std::string> out;
    for (const Window& w : r.windows) {
        if (!w.binds || w.state != WindowState::passed) continue;
        out.push_back(joined({name(w.kind), " ", clock_text(*w.latest, day), ": ", passed_sentence(w.kind)}));
    }
    return out;
}

std::string stage_rate_text(const Stage& stage) {
    if (stage.drops_per_min == 0) return rate_text(stage.rate);
    return joined({drops_text(stage.drops_per_min), " (", rate_text(stage.rate), ")"});
}

std::string stage_count_text(const Stage& stage) {
    if (stage.count_drops == 0) return {};
    return joined({"count ", dose_number(stage.count_drops, 1, 0),
                   stage.count_drops == 1 ? " drop in " : " drops in ",
                   stage.count_over == minutes(1) ? std::string("60 s") : span_text(stage.count_over)});
}

std::string counted_from_text(const Window& w) {
    if (w.from == Anchor::label_expiry) return std::string(name(w.from));
    return joined({span_text(w.within), " from ", name(w.from)});
}

std::string basis_text(const Protocol& protocol, const Basis& basis) {
    const std::string_view grade = name(basis.grade);
    if (basis.source >= protocol.sources.size()) return std::string(grade);
    const Source& source = protocol.sources[basis.source];
    return joined({source.title, source.year.empty() ? "" : ", ", source.year, " (", grade, ")"});
}

std::string rules_text(const Protocol& protocol) {
    std::string out = protocol.title;
    if (!protocol.revised.empty()) out = joined({out, out.empty() ? "" : ", ", "revised ", protocol.revised});
    if (!protocol.adopted) out = joined({out, out.empty() ? "" : " - ", example_label()});
    return out;
}

std::optional<Instant> void_after(const Reckoning& r) {
    if (!r.planned) return std::nullopt;
    Instant last = r.all_in;
    if (r.finish_by && *r.finish_by > last) last = *r.finish_by;
    for (const Check& check : r.checks)
        if (check.due > last) last = check.due;
    return last;
}

}  // namespace hangtime
