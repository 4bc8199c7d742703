// The sentences of a debrief.

#include "core/rehearse/debrief.hpp"

#include "core/plan/plan_words.hpp"
#include "core/words/match_words.hpp"
#include "core/words/observe_words.hpp"
#include "core/words/rehearse_words.hpp"
#include "core/words/session_spelling.hpp"
#include "core/words/session_words.hpp"
#include "core/words/words.hpp"

namespace hangtime {

namespace {

template <class E>
std::string_view reason_name(std::string_view spelled) {
    const auto value = code_from<E>(spelled);
    return value ? name(*value) : std::string_view{};
}

std::string filter_text(const Filter& f) {
    std::string out(f.check ? check_title(*f.check) : name(f.record));
    const auto add = [&](std::string_view text) { out += joined({": ", text}); };
    if (f.outcome) add(name(*f.outcome));
    if (f.item) add(lower_first(name(*f.item)));
    if (f.how) add(name(*f.how));
    if (f.action) add(lower_first(name(*f.action)));
    if (f.component) add(lower_first(name(*f.component)));
    if (f.to) add(name(*f.to));
    if (f.above) add("above " + rate_text(*f.above));
    if (!f.reason.empty()) {
        if (f.record == EventKind::paused) add(reason_name<PauseReason>(f.reason));
        else if (f.record == EventKind::stopped) add(reason_name<StopReason>(f.reason));
        else if (f.record == EventKind::consent_withdrawn) add(reason_name<RefusalReason>(f.reason));
        else add(reason_name<ReturnReason>(f.reason));
    }
    return out;
}

std::string unit_text(std::int32_t unit) { return unit == 1 ? std::string() : ", unit " + std::to_string(unit); }

// "38 mL ran meanwhile": only where something did.
std::string ran_text(const Part& part) {
    if (!part.volume || *part.volume <= Volume{}) return {};
    return joined({"; ", volume_text(*part.volume), " ran meanwhile"});
}

}  // namespace

std::string scored_text(const Scored& s) {
    switch (s.kind) {
    case ScoreKind::check_on_time:
        return joined({check_title(s.check), s.index > 0 ? " " + std::to_string(s.index + 1) : "", " on time", unit_text(s.unit)});
    case ScoreKind::window_kept: return joined({name(s.limit), ": kept", unit_text(s.unit)});
    case ScoreKind::done_within:
        return joined({filter_text(s.done), s.within ? ", within " + span_text(*s.within) : ""});
    case ScoreKind::never_done: return "Not: " + lower_first(filter_text(s.done));
    case ScoreKind::done_before: return joined({filter_text(s.done), ", before: ", lower_first(filter_text(*s.then))});
    case ScoreKind::rate_not_raised: return std::string(name(s.kind));
    case ScoreKind::given_at_most: return joined({"At most ", volume_text(s.volume), " given"});
    case ScoreKind::given_at_least: return joined({"At least ", volume_text(s.volume), " given"});
    case ScoreKind::difference_found: return joined({name(s.kind), ": ", lower_first(name(s.field))});
    case ScoreKind::not_tried: return joined({"Not tried: ", sentence(s.refusal)});
    }
    return {};
}

std::string part_text(const Scenario& scenario, const Part& part, const DayClock& day) {
    const Scored& s = scenario.scored[part.scored];
    if (!part.came_to_it) return "It was never come to.";
    const auto at = [&] { return clock_text(*part.done, day); };
    switch (s.kind) {
    case ScoreKind::check_on_time:
    case ScoreKind::window_kept: {
        const std::string due = clock_text(*part.due, day);
        if (!part.done) return joined({"Not done; it was due at ", due, "."});
        if (*part.done > *part.due && !part.met)
            return joined({at(), ", ", span_text(*part.done - *part.due), " after ", due, "."});
        return joined({at(), part.met ? "; it was due at " : ", which does not count for ", due, "."});
    }
    case ScoreKind::done_within:
        if (!part.done) return joined({"Not done", ran_text(part), "."});
        if (!part.met) return joined({at(), ", ", span_text(*part.done - *part.due), " too late", ran_text(part), "."});
        return joined({at(), ran_text(part), "."});
    case ScoreKind::never_done: return part.done ? joined({"Done at ", at(), "."}) : std::string("Not done, which is right.");
    case ScoreKind::done_before:
        if (!part.done) return "Not done.";
        return part.met ? at() + "." : joined({at(), ", only after ", clock_text(*part.due, day), "."});
    case ScoreKind::rate_not_raised: return joined({part.met ? "It stayed at " : "It was raised to ", rate_text(*part.rate), "."});
    case ScoreKind::given_at_most:
    case ScoreKind::given_at_least: {
        const Volume apart = *part.volume > s.volume ? *part.volume - s.volume : s.volume - *part.volume;
        std::string out = joined({volume_text(*part.volume), " given"});
        if (!part.met) out += joined({", ", volume_text(apart), *part.volume > s.volume ? " too much" : " too little"});
        return out + ".";
    }
    case ScoreKind::difference_found:
        if (part.met) return joined({"Found at ", at(), "."});
        return part.hung ? "Not found; the wrong bag was hung." : "Not found.";
    case ScoreKind::not_tried: return part.met ? std::string("Not tried.") : joined({"Tried at ", at(), "."});
    }
    return {};
}

std::string happening_text(const Happening& h) {
    std::string out(name(h.kind));
    if (h.record) {
        if (const auto* issued = std::get_if<facts::Issued>(&h.record->facts))
            out += joined({": ", lower_first(name(issued->component))});
    }
    if (h.field) out += joined({": ", lower_first(name(*h.field))});
    if (h.kind == WorldKind::complaint) {
        std::string symptoms;
        for (const SignsAfter& point : h.signs) {
            if (!point.set.symptoms) continue;
            for (int i = 0; i < symptom_count; ++i)
                if (point.set.symptoms->has(static_cast<Symptom>(i)))
                    symptoms += joined({symptoms.empty() ? ": " : ", ", lower_first(name(static_cast<Symptom>(i)))});
            break;  // what is said at first
        }
        out += symptoms;
    }
    return out;
}

std::string waits_for_text(const Scenario& scenario, const Trigger& t) {
    switch (t.how) {
    case Trigger::How::given: return joined({"after ", volume_text(t.given), " have run"});
    case Trigger::How::match_step: return joined({"after step ", std::to_string(t.step), " of the match"});
    case Trigger::How::since: break;
    }
    if (t.since.record)
        return joined({"after: ", lower_first(filter_text(*t.since.record)), t.since.nth > 1 ? ", number " + std::to_string(t.since.nth) : ""});
    for (const Happening& h : scenario.happenings)
        if (h.id == t.since.happening) return joined({"after: ", lower_first(happening_text(h))});
    return "after the beginning";
}

std::string when_text(const Scenario& scenario, const Trigger& t) {
    return joined({t.wait > Seconds{} ? span_text(t.wait) + " " : "", waits_for_text(scenario, t),
                   t.vary > Seconds{} ? ", up to " + span_text(t.vary) + " earlier or later" : ""});
}

std::string source_text(const Scenario& scenario, const Part& part) {
    const Scored& s = scenario.scored[part.scored];
    if (!s.basis) return part.protocol_basis ? basis_text(*scenario.rules, *part.protocol_basis) : "the protocol";
    if (s.basis->source >= scenario.sources.size()) return std::string(name(s.basis->grade));
    const Source& source = scenario.sources[s.basis->source];
    return joined({source.title, source.year.empty() ? "" : ", ", source.year, " (", name(s.basis->grade), ")"});
}

}  // namespace hangtime
