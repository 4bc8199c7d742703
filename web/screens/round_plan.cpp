#include "web/screens/round_plan.hpp"

#include <algorithm>

namespace hangtime::screens {

using namespace rounds;

namespace {
// The clash is looked for in each slice from what is known so far; with more, that alone would be felt.
constexpr std::int64_t conflict_nodes = 20'000;
}

RoundPlan::RoundPlan(const Protocol& protocol, Round round)
    : protocol_(protocol), round_(std::move(round)), options_(options_of(protocol, round_)), held_(options_),
      slots_(options_.jobs.size(), -1) {
    solve();
}

void RoundPlan::solve() {
    search_.reset();
    solver_.emplace(held_.problem);
    progress_ = {};
    conflict_.reset();
    by_hand_ = false;
    work_ = Work::solving;
}

void RoundPlan::go_on() {
    if (search_)
        work_ = search_->done() ? Work::none : Work::explaining;
    else if (!solver_->done())
        work_ = Work::solving;
}

void RoundPlan::step(std::int64_t nodes) {
    if (work_ == Work::solving) {
        solver_->step(nodes);
        progress_ = solver_->progress();
        if (const Schedule* found = solver_->best()) {
            schedule_ = *found;
            if (!any_held())
                best_ = found->cost;
            moved_ = 0;
            if (before_)
                for (std::size_t j = 0; j < jobs(); ++j)
                    if (before_->choices[j].option != found->choices[j].option ||
                        before_->choices[j].nurse != found->choices[j].nurse)
                        ++moved_;
        }
        if (!solver_->done())
            return;
        work_ = Work::none;
        if (progress_.standing == Standing::infeasible) {
            search_.emplace(round_, held_, conflict_nodes);
            work_ = Work::explaining;
        }
    } else if (work_ == Work::explaining) {
        search_->step(nodes);
        if (!search_->done())
            return;
        conflict_ = search_->found();
        work_ = Work::none;
    }
}

bool RoundPlan::any_held() const {
    return std::any_of(slots_.begin(), slots_.end(), [](int slot) { return slot >= 0; });
}

void RoundPlan::try_at(std::size_t job, int slot) {
    if (!schedule_)
        return;
    if (tried_ && tried_->job == job && tried_->slot == slot)
        return;
    tried_ = Tried{job, slot, try_start(protocol_, round_, options_, *schedule_, job, slot)};
}

void RoundPlan::take() {
    if (!tried_ || !tried_->result.schedule)
        return;
    schedule_ = tried_->result.schedule;
    slots_[tried_->job] = tried_->slot;
    held_ = rounds_held();
    search_.reset();
    conflict_.reset();
    work_ = Work::none;
    by_hand_ = true;
    moved_ = 0;
    before_.reset();
    tried_.reset();
}

RoundOptions RoundPlan::rounds_held() const { return hangtime::held(round_, options_, slots_); }

void RoundPlan::arrange() {
    if (!tried_)
        return;
    before_ = schedule_;
    slots_[tried_->job] = tried_->slot;
    held_ = rounds_held();
    tried_.reset();
    moved_ = 0;
    solve();
}

void RoundPlan::let_go(std::size_t job) {
    slots_[job] = -1;
    held_ = rounds_held();
    tried_.reset();
    before_.reset();
    moved_ = 0;
    solve();
}

void RoundPlan::let_all_go() {
    std::fill(slots_.begin(), slots_.end(), -1);
    let_go(0);
}

std::optional<KeptPlan> RoundPlan::kept() const {
    if (!schedule_ || (!by_hand_ && !any_held()))
        return std::nullopt;
    KeptPlan out{by_hand_, best_, progress_.bound, {}};
    for (std::size_t j = 0; j < jobs(); ++j) {
        const Choice& c = schedule_->choices[j];
        const bool is_held = held(j);
        out.starts.push_back({transfusion(j).object, is_held ? slots_[j] : slot_of(j), c.nurse, c.second, is_held});
    }
    return out;
}

void RoundPlan::take_up(const KeptPlan& kept) {
    Schedule found;
    found.choices.resize(jobs());
    std::vector<int> slots(jobs(), -1);
    for (std::size_t j = 0; j < jobs(); ++j) {
        const auto start = std::find_if(kept.starts.begin(), kept.starts.end(),
                                        [&](const KeptStart& s) { return s.object == transfusion(j).object; });
        if (start == kept.starts.end())
            return;
        const std::vector<Option>& all = options_.problem.jobs[j].options;
        const auto option = std::find_if(all.begin(), all.end(), [&](const Option& o) { return o.start == start->slot; });
        if (option == all.end())
            return;
        found.choices[j] = {static_cast<int>(option - all.begin()), start->nurse, start->second};
        if (start->held)
            slots[j] = start->slot;
    }
    if (kept.by_hand) {
        for (const Choice& c : found.choices)
            if (c.nurse >= static_cast<int>(round_.nurses.size()) || c.second >= static_cast<int>(round_.nurses.size()))
                return;
        if (!place_checks(options_.problem, found.choices, &found.checks))
            return;
        for (std::size_t j = 0; j < jobs(); ++j) {
            const Job& job = options_.problem.jobs[j];
            const Cost one = cost_of(job, job.options[static_cast<std::size_t>(found.choices[j].option)],
                                     found.choices[j].nurse);
            found.cost = {found.cost.finish + one.finish, found.cost.changes + one.changes};
        }
        if (broken_rule(options_.problem, found))
            return;
    }
    slots_ = std::move(slots);
    held_ = rounds_held();
    best_ = kept.best;
    solve();
    if (!kept.by_hand)
        return;
    schedule_ = std::move(found);
    progress_.bound = kept.bound;
    by_hand_ = true;
    work_ = Work::none;
}

int RoundPlan::slot_of(std::size_t job) const {
    if (!schedule_)
        return -1;
    return options_.problem.jobs[job].options[static_cast<std::size_t>(schedule_->choices[job].option)].start;
}

const OptionDetail* RoundPlan::detail(std::size_t job) const {
    if (!schedule_)
        return nullptr;
    return &options_.details[job][static_cast<std::size_t>(schedule_->choices[job].option)];
}

RoundResult RoundPlan::result() const {
    Progress progress = progress_;
    if (schedule_) {
        progress.best = schedule_->cost;
        progress.has_answer = true;
        // Of what was moved by hand only the bound without anything held is known.
        if (by_hand_ || progress.standing == Standing::infeasible)
            progress.standing = Standing::searching;
    }
    return {round_, options_, progress, schedule_, schedule_ ? std::nullopt : conflict_};
}

} // namespace hangtime::screens
