// A list of actions, carried out on a rehearsal as a learner would.

#include "core/rehearse/run.hpp"

#include <algorithm>
#include <memory>

namespace hangtime {

namespace {

class Player {
public:
    Player(Rehearsal& rehearsal) : r_(rehearsal), live_(std::make_unique<Live>()) {}

    bool take(const Action& action) {
        if (!wait_for(action)) return false;
        if (!pass(action.then)) return false;
        switch (action.what) {
        case Action::Do::record: r_.act(action.record); break;
        case Action::Do::confirm: return confirm(action);
        case Action::Do::match: return match(action.steps, {});
        case Action::Do::differs: return match(0, action.field);
        case Action::Do::observe: observe(action.observe); break;
        case Action::Do::start: set_rate(EventKind::started); break;
        case Action::Do::raise: set_rate(EventKind::rate_set); break;
        }
        return true;
    }

private:
    bool pass(Seconds span) {
        if (span <= Seconds{}) return true;
        const Instant at = r_.now() + span;
        if (at >= r_.ends()) return false;
        r_.advance_to(at);
        return true;
    }

    const Live& live() {
        reckon_live(r_.log().session(), r_.now(), *live_);
        return *live_;
    }

    // When what is waited for is the case, as far as it can be told now.
    std::optional<Instant> target(const Action& a) {
        switch (a.wait) {
        case Action::Wait::none: return r_.now();
        case Action::Wait::at: return std::max(r_.now(), r_.scenario().begins + a.at);
        case Action::Wait::happening:
            for (const Told& told : r_.told())
                if (told.happening < r_.scenario().happenings.size() &&
                    r_.scenario().happenings[told.happening].id == a.happening)
                    return std::max(r_.now(), told.at);
            return std::nullopt;
        case Action::Wait::check:
            for (const Check& check : live().reckoning.checks) {
                const bool open = check.state == CheckState::due || check.state == CheckState::to_come;
                if (check.kind == a.check && open) return std::max(r_.now(), check.due);
            }
            return std::nullopt;
        case Action::Wait::doing: break;
        }
        for (const ToDo& todo : live().to_do)
            if (todo.what == a.doing) return std::max(r_.now(), todo.at);
        return std::nullopt;
    }

    // Waits until it is so. What happens meanwhile can change what is waited for.
    bool wait_for(const Action& a) {
        for (;;) {
            const std::optional<Instant> at = target(a);
            const std::optional<Instant> next = r_.next_happening();
            if (at && *at <= r_.now()) return true;
            if (next && (!at || *next < *at)) {
                r_.advance_to(*next);
            } else if (at && *at < r_.ends()) {
                r_.advance_to(*at);
            } else if (!at && later()) {
                continue;
            } else {
                return false;
            }
        }
    }

    // What is waited for cannot be told yet: on to when the reckoning changes.
    bool later() {
        const std::optional<Instant> next = live().next_change;
        if (!next || *next <= r_.now() || *next >= r_.ends()) return false;
        r_.advance_to(*next);
        return true;
    }

    bool confirm(const Action& action) {
        for (const Item item : action.items) {
            if (!pass(each_step)) return false;
            Event e;
            e.kind = EventKind::item_noted;
            e.facts = facts::ItemNoted{item, ItemHow::confirmed, {}, {}, item == Item::authorisation ? 1 : 0, false};
            r_.act(std::move(e));
        }
        return true;
    }

    // `steps` 0: to the end, or to the field that differs.
    bool match(std::int32_t steps, std::optional<MatchField> differs) {
        const MatchScript script = script_of(r_.log().session());
        for (std::int32_t done = 0; steps == 0 || done < steps; ++done) {
            const std::optional<std::uint8_t> next = r_.log().session().match.next(script);
            if (!next) return true;
            if (!pass(each_step)) return false;
            const MatchStep& step = script[*next];
            const bool other = differs && step.kind == MatchStepKind::compare && step.field == *differs;
            Event e;
            e.kind = EventKind::match_noted;
            e.facts = facts::MatchNoted{other ? MatchOutcome::differed : MatchOutcome::passed, *next};
            if (r_.act(std::move(e)) || other) return true;
        }
        return true;
    }

    void observe(CheckKind kind) {
        Event e;
        e.kind = EventKind::observed;
        facts::Observed f;
        f.kind = kind;
        if (kind != CheckKind::baseline)
            for (const Check& check : live().reckoning.checks) {
                if (check.kind != kind || check.done) continue;
                f.index = check.index;
                // The one that is due; of the missed ones none is made good.
                if (check.state != CheckState::missed) break;
            }
        e.facts = f;
        r_.act(std::move(e));
    }

    void set_rate(EventKind kind) {
        Event e;
        e.kind = kind;
        const Reckoning& r = live().reckoning;
        Rate rate = r.rates.set;
        if (kind == EventKind::started && !r.stages.empty()) rate = r.stages[0].rate;
        e.facts = facts::RateSet{rate, false, {}};
        r_.act(std::move(e));
    }

    Rehearsal& r_;
    std::unique_ptr<Live> live_;
};

}  // namespace

Played play(const Scenario& scenario, std::int32_t seed, const Actions& actions) {
    Played out;
    out.rehearsal = std::make_unique<Rehearsal>(scenario, seed);
    Player player(*out.rehearsal);
    for (std::size_t i = 0; i < actions.list.size(); ++i)
        if (!player.take(actions.list[i])) {
            out.not_reached = actions.list.size() - i;
            break;
        }
    out.rehearsal->advance_to(out.rehearsal->ends());
    return out;
}

}  // namespace hangtime
