#include "core/rehearse/run.hpp"

#include "core/words/session_spelling.hpp"

#include <algorithm>

namespace hangtime {

namespace {

// The nth record of the log that a filter finds, in the order in which they happened; void ones count no more.
std::optional<Instant> found(const Log& log, const Filter& filter, std::int32_t nth) {
    std::vector<Instant> at;
    for (const Event& e : log.events())
        if (!log.is_void(e.number) && filter.matches(e)) at.push_back(e.at.at);
    std::sort(at.begin(), at.end());
    if (nth < 1 || at.size() < static_cast<std::size_t>(nth)) return std::nullopt;
    return at[static_cast<std::size_t>(nth) - 1];
}

Event at_moment(Event event, Instant at) {
    event.at = {at, Precision::second};
    event.placed = true;
    return event;
}

}  // namespace

std::int64_t varied(std::int32_t seed, std::uint64_t salt, std::uint64_t more, std::int64_t most) {
    if (most <= 0) return 0;
    // A 64-bit mixer (splitmix64, Steele, Lea and Flood 2014).
    std::uint64_t x = static_cast<std::uint64_t>(seed) * 0x9E3779B97F4A7C15ULL + salt * 0xD1B54A32D192ED03ULL +
                      more * 0x8CB92BA72F3D8DD7ULL;
    x ^= x >> 30;
    x *= 0xBF58476D1CE4E5B9ULL;
    x ^= x >> 27;
    x *= 0x94D049BB133111EBULL;
    x ^= x >> 31;
    return static_cast<std::int64_t>(x % static_cast<std::uint64_t>(2 * most + 1)) - most;
}

Rehearsal::Rehearsal(const Scenario& scenario, std::int32_t seed)
    : scenario_(scenario), seed_(seed), now_(scenario.begins) {
    Instant first = scenario.begins;
    if (!scenario.before.empty()) first = first + scenario.before.front().at;
    Event opened;
    opened.kind = EventKind::opened;
    opened.facts = facts::Opened{log_version, scenario.object, scenario.wall, {scenario.rules}, true};
    put(std::move(opened), first);
    Event told;
    told.kind = EventKind::recipient_told;
    told.facts = facts::RecipientTold{scenario.recipient};
    put(std::move(told), first);
    Event ordered;
    ordered.kind = EventKind::ordered;
    ordered.facts = scenario.ordered;
    put(std::move(ordered), first);
    for (const Before& before : scenario.before) put(before.record, scenario.begins + before.at);
    advance_to(now_);
}

// A record of the world's own, or one from before: what is refused of those is found when the scenario is checked.
void Rehearsal::put(Event event, Instant at) {
    event = at_moment(std::move(event), at);
    auto* seen = std::get_if<facts::Observed>(&event.facts);
    if (seen && seen->set == Observation{}) seen->set = scenario_.signs;
    const std::optional<Refusal> refused = log_.append(event, at);
    if (refused) tried_.push_back({std::move(event), *refused});
}

const Happening& Rehearsal::happening(std::size_t i) const {
    return i < scenario_.happenings.size() ? scenario_.happenings[i] : injected_[i - scenario_.happenings.size()];
}

std::optional<Instant> Rehearsal::moment_of(const Trigger& t) const {
    switch (t.how) {
    case Trigger::How::since:
        if (!t.since.happening.empty()) {
            for (const Told& told : told_)
                if (happening(told.happening).id == t.since.happening) return told.at;
            return std::nullopt;
        }
        if (t.since.record) return found(log_, *t.since.record, t.since.nth);
        return scenario_.begins;
    case Trigger::How::match_step: {
        const auto& passed = log_.session().match.passed;
        if (passed.size() < static_cast<std::size_t>(t.step)) return std::nullopt;
        return passed[static_cast<std::size_t>(t.step) - 1];
    }
    case Trigger::How::given: break;
    }
    const Run& run = log_.session().state.run;
    if (run.flows.empty()) return std::nullopt;
    // The volume only grows: the first second at which it is there, as the flow is now.
    Instant low = run.flows.front().from;
    Instant high = run.ended ? std::min(*run.ended, ends()) : ends();
    if (run.moved_at(high) < t.given) return std::nullopt;
    while (low < high) {
        const Instant middle = low + Seconds{(high - low).count / 2};
        if (run.moved_at(middle) < t.given) low = middle + Seconds{1};
        else high = middle;
    }
    return low;
}

std::optional<Instant> Rehearsal::moment_of(std::size_t i) const {
    if (i >= scenario_.happenings.size()) return injected_at_[i - scenario_.happenings.size()];
    const Trigger& t = happening(i).when;
    const std::optional<Instant> from = moment_of(t);
    if (!from) return std::nullopt;
    Seconds wait = t.wait + Seconds{varied(seed_, i + 1, 1, t.vary.count)};
    if (wait < Seconds{}) wait = Seconds{};
    return *from + wait;
}

std::optional<Rehearsal::Pending> Rehearsal::next() const {
    std::optional<Pending> out;
    for (std::size_t i = 0; i < scenario_.happenings.size() + injected_.size(); ++i) {
        const bool done = std::any_of(told_.begin(), told_.end(), [i](const Told& t) { return t.happening == i; });
        if (done) continue;
        const Happening& h = happening(i);
        if (h.unless && found(log_, *h.unless, 1)) continue;
        std::optional<Instant> at = moment_of(i);
        if (!at) continue;
        if (*at < now_) at = now_;
        if (!out || *at < out->at) out = Pending{*at, i};
    }
    return out;
}

std::optional<Instant> Rehearsal::next_happening() const {
    const auto pending = next();
    if (!pending || pending->at > ends()) return std::nullopt;
    return pending->at;
}

void Rehearsal::happen(std::size_t i, Instant at) {
    const Happening& h = happening(i);
    Told told{i, at, {}, {}};
    if (h.record) {
        Event event = at_moment(*h.record, at);
        if (auto* issued = std::get_if<facts::Issued>(&event.facts)) {
            const std::int64_t most = h.vary_volume.units / ml(1).units;
            issued->bag = issued->bag + ml(varied(seed_, i + 1, 2, most));
        }
        const std::int32_t number = log_.next_number();
        told.refused = log_.append(std::move(event), at);
        if (!told.refused) told.record = number;
    }
    told_.push_back(told);
}

void Rehearsal::advance_to(Instant at) {
    at = std::min(at, ends());
    for (auto pending = next(); pending && pending->at <= at; pending = next()) {
        now_ = std::max(now_, pending->at);
        happen(pending->happening, now_);
    }
    now_ = std::max(now_, at);
}

Error problem_at_the_beginning(const Rehearsal& begun) {
    const Tried& first = begun.tried().front();
    const Scenario& s = begun.scenario();
    std::string where = first.event.kind == EventKind::ordered ? "order" : "before";
    for (std::size_t i = 0; i < s.before.size(); ++i)
        if (s.before[i].record.kind == first.event.kind && s.begins + s.before[i].at == first.event.at.at) {
            where = "before[" + std::to_string(i) + "].record";
            break;
        }
    return {where, "is refused: " + std::string(code(first.refusal)), "records that make a legal log in their order"};
}

void Rehearsal::inject(Happening h) {
    injected_.push_back(std::move(h));
    injected_at_.push_back(now_);
    advance_to(now_);
}

std::optional<Refusal> Rehearsal::act(Event event) {
    event = at_moment(std::move(event), now_);
    if (auto* seen = std::get_if<facts::Observed>(&event.facts)) seen->set = signs_now();
    return add(std::move(event));
}

std::optional<Refusal> Rehearsal::note(Event event) {
    auto* seen = std::get_if<facts::Observed>(&event.facts);
    if (seen && seen->set == Observation{}) seen->set = signs_at(std::min(event.at.at, now_));
    return add(std::move(event));
}

std::optional<Refusal> Rehearsal::add(Event event) {
    std::optional<Refusal> refused = refuses(log_, event, now_);
    if (!refused) refused = log_.append(event, now_);
    if (refused) tried_.push_back({std::move(event), *refused});
    advance_to(now_);  // what waited for this
    return refused;
}

}  // namespace hangtime
