#include "core/reckon/reckoning.hpp"
#include "core/round/persons.hpp"
#include "core/round/round.hpp"
#include "core/round/sequence.hpp"

#include <algorithm>
#include <memory>

namespace hangtime::rounds {

namespace {

constexpr std::int64_t slot_s = slot_minutes * 60;

class OptionFinder {
public:
    OptionFinder(const Protocol& protocol, const Round& round)
        : protocol_(protocol), rules_(*protocol.round), round_(round), persons_(persons_of(round)),
          r_(std::make_unique<Reckoning>()) {}

    RoundOptions run() {
        out_.problem.slots = static_cast<int>((round_.until - round_.from).count / slot_s);
        out_.standing.assign(round_.transfusions.size(), Place::open);
        std::vector<int> job_of(round_.transfusions.size(), -1);
        for (std::size_t i = 0; i < round_.transfusions.size(); ++i) {
            const PlannedTransfusion& t = round_.transfusions[i];
            Place& place = out_.standing[i];
            if (t.happened.reaction) place = Place::over;
            else if (withdrawn(i)) place = Place::withdrawn;
            else if (t.happened.started) place = Place::running;
            if (place == Place::over || place == Place::withdrawn) continue;
            out_.details.emplace_back();
            Job job = place == Place::running ? running(t) : open(t);
            job.weight = t.weight;
            if (t.promised_start) {
                const std::int64_t after = (*t.promised_start - round_.from).count;
                job.promised_start = static_cast<int>(after / slot_s);
            }
            job.promised_nurse = t.promised_nurse;
            // What has begun cannot be put after anything any more.
            if (t.follows >= 0 && !t.happened.started) {
                job.follows = job_of[static_cast<std::size_t>(t.follows)];
                job.lag_min = lag(t);
            }
            job_of[i] = static_cast<int>(out_.jobs.size());
            out_.transfusion.push_back(static_cast<int>(i));
            out_.jobs.push_back(std::move(job));
        }
        keep_apart();
        out_.problem = with_demands(round_, out_, {});
        return std::move(out_);
    }

private:
    int slot_up(Instant at) const {
        const std::int64_t s = (at - round_.from).count;
        return static_cast<int>(s <= 0 ? -(-s / slot_s) : (s + slot_s - 1) / slot_s);
    }
    int slot_down(Instant at) const { return static_cast<int>(floor_div((at - round_.from).count, slot_s)); }
    int minute_up(Instant at) const {
        return static_cast<int>(ceil_div((at - round_.from).count, 60));
    }

    // After a suspected reaction nothing more is begun for this person; what runs beside it is under the same procedure.
    bool withdrawn(std::size_t i) const {
        for (std::size_t k = 0; k < round_.transfusions.size(); ++k) {
            if (k == i || persons_[k] != persons_[i] || !round_.transfusions[k].happened.reaction) continue;
            if (!round_.transfusions[i].happened.started || beside(round_, i) == static_cast<int>(k)) return true;
        }
        return false;
    }

    // Units of one person, but those over two lines, and those that have both begun: nothing can move these.
    void keep_apart() {
        for (std::size_t a = 0; a < out_.jobs.size(); ++a)
            for (std::size_t b = a + 1; b < out_.jobs.size(); ++b) {
                const auto i = static_cast<std::size_t>(out_.transfusion[a]);
                const auto k = static_cast<std::size_t>(out_.transfusion[b]);
                const PlannedTransfusion &one = round_.transfusions[i], &other = round_.transfusions[k];
                if (persons_[i] != persons_[k] || beside(round_, i) == static_cast<int>(k)) continue;
                if (out_.jobs[b].follows == static_cast<int>(a) || (one.happened.started && other.happened.started))
                    continue;
                out_.apart.push_back({static_cast<int>(a), static_cast<int>(b), lag(one), lag(other)});
            }
    }

    // From the end of one to the start of the next for the same person: the match, and where somebody has to
    // look again before the next bag is called for, that and the blood bank's time as well.
    int lag(const PlannedTransfusion& t) const {
        const bool looks = hold_for(rules_, t.state.recipient.overload_risk) != CallHold::none;
        Seconds lag = rules_.match_takes.value;
        if (looks) lag = lag + rules_.reassess_takes;
        if (looks && !t.happened.issued) lag = lag + t.ready + t.transport;
        return static_cast<int>(ceil_div(lag.count, 60));
    }

    // What `reckon` says of a start; false where it does not fit.
    bool plan(const PlannedTransfusion& t, Instant issued, Instant start) {
        State state = t.state;
        state.times.issued = Stated{issued, Precision::minute};
        state.times.start = Start{Stated{start, Precision::minute}, false};
        reckon(protocol_, state, issued, *r_);
        return r_->planned && r_->judgement.verdict != hangtime::Verdict::does_not_fit;
    }

    struct Due {
        CheckKind kind;
        Instant due;
    };

    // The checks of the plan, with its end moved by a pause: the interval goes on until the new end.
    std::vector<Due> checks_of(const PlannedTransfusion& t, Seconds moved) const {
        std::vector<Due> out;
        for (const Check& check : r_->checks) {
            const bool at_end = check.kind == CheckKind::end || check.kind == CheckKind::after;
            if (check.kind == CheckKind::baseline || (check.kind == CheckKind::interval && moved > Seconds{})) continue;
            out.push_back({check.kind, at_end ? check.due + moved : check.due});
        }
        const Given<Seconds>* every = interval_for(protocol_, t.state.recipient);
        if (moved <= Seconds{} || !every) return out;
        const Instant end = r_->all_in + moved;
        for (Instant due = r_->start + every->value;
             due < end && end - due >= protocol_.checks.merge_into_end; due = due + every->value) {
            const bool there = std::any_of(out.begin(), out.end(), [due](const Due& d) { return d.due == due; });
            if (!there && out.size() < most_checks) out.push_back({CheckKind::interval, due});
        }
        std::stable_sort(out.begin(), out.end(), [](const Due& a, const Due& b) { return a.due < b.due; });
        return out;
    }

    // The checks that are not inside the attended first minutes; false where one has no slot in the round.
    bool add_checks(const PlannedTransfusion& t, const Instant start, Instant after, Option& option,
                    OptionDetail& detail, Seconds moved) {
        const Instant attended = start + rules_.attended.value;
        const Seconds grace = protocol_.checks.grace;
        for (const Due& check : checks_of(t, moved)) {
            if (check.due <= attended) continue;
            const Instant due = check.due;
            Span span{slot_up(due), slot_down(due + grace) + 1};
            if (due + grace < after) continue;  // its time has passed before the day is planned again
            span.from = std::max(span.from, slot_up(after));
            span.to = std::min(std::max(span.to, span.from + 1), out_.problem.slots);
            if (span.from < 0 || span.empty()) return false;
            option.checks.push_back(span);
            detail.due.push_back(due);
            detail.kinds.push_back(check.kind);
        }
        return true;
    }

    // The attended first minutes and the early check that ends them.
    int attended_slots(Instant start) const {
        std::int64_t slots = ceil_div(rules_.attended.value.count, slot_s);
        for (const Check& check : r_->checks)
            if (check.kind != CheckKind::baseline && check.due <= start + rules_.attended.value)
                slots = std::max(slots, (check.due - start).count / slot_s + 1);
        return static_cast<int>(slots);
    }

    void finish(Option& option, OptionDetail& detail, Seconds moved) {
        detail.finish_by = r_->finish_by.value_or(r_->all_in);
        detail.all_in = r_->all_in + moved;
        for (const Stage& stage : r_->stages) detail.most = std::max(detail.most, stage.rate);
        if (detail.all_in > detail.finish_by) detail.all_in = detail.finish_by;  // then it has to stop
        option.finish_min = minute_up(detail.all_in);
        option.nurses = (1U << round_.nurses.size()) - 1;
    }

    Job open(const PlannedTransfusion& t) {
        Job job;
        const Instant now = round_.now.value_or(round_.from);
        const Seconds match = rules_.match_takes.value;
        const int match_slots = static_cast<int>(ceil_div(match.count, slot_s));
        const Instant first_issue = std::max(t.call_earliest, now) + t.ready;
        const Instant last_issue = t.call_latest + t.ready;
        for (int slot = match_slots; slot < out_.problem.slots; ++slot) {
            const Instant start = round_.from + Seconds{slot * slot_s};
            const Instant match_begins = start - Seconds{match_slots * slot_s};
            if (match_begins < now) continue;
            Instant issued = std::min(last_issue, match_begins - t.transport);
            if (t.happened.issued) issued = *t.happened.issued;
            else if (issued < first_issue) continue;
            if (issued + t.transport > match_begins || !plan(t, issued, start)) continue;
            Option option;
            OptionDetail detail;
            option.start = slot;
            option.lead = {slot - match_slots, slot + attended_slots(start)};
            option.match = {slot - match_slots, slot};
            detail.issued = issued;
            detail.start = start;
            finish(option, detail, {});
            if (option.lead.to > out_.problem.slots || detail.all_in > round_.until) continue;
            if (!add_checks(t, start, round_.from, option, detail, {})) continue;
            job.options.push_back(std::move(option));
            out_.details.back().push_back(std::move(detail));
        }
        return job;
    }

    // It runs: one option, with what is left of it.
    Job running(const PlannedTransfusion& t) {
        Job job;
        const Instant start = *t.happened.started;
        plan(t, *t.happened.issued, start);
        if (!r_->planned) return job;
        Option option;
        OptionDetail detail;
        const Instant now = *round_.now;
        option.start = slot_down(start);
        const int attended_to = option.start + attended_slots(start);
        option.lead = {std::max(slot_down(now), 0), std::max(attended_to, std::max(slot_down(now), 0))};
        detail.issued = *t.happened.issued;
        detail.start = start;
        finish(option, detail, t.happened.paused);
        option.nurses = 1U << t.happened.nurse;
        const Seconds moved = detail.all_in - r_->all_in;
        if (!add_checks(t, start, now, option, detail, moved)) return job;
        job.options.push_back(std::move(option));
        out_.details.back().push_back(std::move(detail));
        return job;
    }

    const Protocol& protocol_;
    const RoundRules& rules_;
    const Round& round_;
    const std::vector<int> persons_;
    std::unique_ptr<Reckoning> r_;
    RoundOptions out_;
};

bool kept_in(const std::vector<bool>& list, std::size_t i) { return list.empty() || list[i]; }
bool kept_in(const std::vector<std::vector<bool>>& list, std::size_t i, std::size_t k) {
    return list.empty() || list[i][k];
}

}  // namespace

RoundOptions options_of(const Protocol& protocol, const Round& round) {
    return OptionFinder(protocol, round).run();
}

Problem with_demands(const Round& round, const RoundOptions& base, const Kept& kept) {
    Problem out;
    out.slots = base.problem.slots;
    out.priority = round.priority;
    out.second_from_round = round.second_from_round && kept.second;
    const auto up = [&](Instant at) {
        const std::int64_t s = std::max<std::int64_t>(0, (at - round.from).count);
        return static_cast<int>(std::min<std::int64_t>((s + slot_s - 1) / slot_s, out.slots));
    };
    const auto down = [&](Instant at) {
        const std::int64_t s = std::max<std::int64_t>(0, (at - round.from).count);
        return static_cast<int>(std::min<std::int64_t>(s / slot_s, out.slots));
    };
    for (std::size_t k = 0; k < round.nurses.size(); ++k) {
        const NursePlan& plan = round.nurses[k];
        Nurse nurse;
        if (kept_in(kept.hours, k))
            for (const Stretch& hours : plan.hours) nurse.free.add(up(hours.from), down(hours.to));
        else nurse.free.add(0, out.slots);
        const auto away = [&](const Stretch& s) { nurse.free.remove(down(s.from), up(s.to)); };
        for (std::size_t b = 0; b < plan.breaks.size(); ++b)
            if (kept_in(kept.breaks, k, b)) away(plan.breaks[b]);
        for (std::size_t h = 0; h < plan.handovers.size(); ++h)
            if (kept_in(kept.handovers, k, h)) away(plan.handovers[h]);
        if (round.now) nurse.free.remove(0, down(*round.now));
        for (const PlannedTransfusion& t : round.transfusions)
            if (t.happened.reaction && t.happened.nurse == static_cast<int>(k))
                away({*t.happened.reaction, *t.happened.reaction + t.happened.reaction_takes});
        out.nurses.push_back(nurse);
    }
    std::vector<int> now_at(base.jobs.size(), -1);
    for (std::size_t j = 0; j < base.jobs.size(); ++j) {
        if (!kept_in(kept.transfusions, static_cast<std::size_t>(base.transfusion[j]))) continue;
        Job job = base.jobs[j];
        if (job.follows >= 0) job.follows = now_at[static_cast<std::size_t>(job.follows)];
        for (std::size_t o = 0; o < job.options.size(); ++o)
            for (const Instant due : base.details[j][o].due)
                for (std::size_t k = 0; k < round.nurses.size(); ++k)
                    for (std::size_t h = 0; h < round.nurses[k].handovers.size(); ++h) {
                        const Stretch& s = round.nurses[k].handovers[h];
                        const bool running = base.standing[static_cast<std::size_t>(base.transfusion[j])] ==
                                             Place::running;  // nobody can move that any more
                        if (!running && kept_in(kept.handovers, k, h) && due >= s.from && due < s.to)
                            job.options[o].nurses &= ~(1U << k);
                    }
        now_at[j] = static_cast<int>(out.jobs.size());
        out.jobs.push_back(std::move(job));
    }
    for (Apart pair : base.apart) {
        pair.a = now_at[static_cast<std::size_t>(pair.a)];
        pair.b = now_at[static_cast<std::size_t>(pair.b)];
        if (pair.a >= 0 && pair.b >= 0) out.apart.push_back(pair);
    }
    return out;
}

}  // namespace hangtime::rounds
