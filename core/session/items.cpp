#include "core/session/session.hpp"

#include <algorithm>

namespace hangtime {

bool can_be_waived(Item item) {
    switch (item) {
    case Item::authorisation:
    case Item::match:
    case Item::in_date:
    case Item::line_connected:
    case Item::groups:
    case Item::rate_read_back: return false;
    case Item::sample:
    case Item::consent:
    case Item::baseline:
    case Item::overload_risk:
    case Item::can_report:
    case Item::premedication:
    case Item::access:
    case Item::set_and_saline:
    case Item::second_checker:
    case Item::plan_fits:
    case Item::report_explained:
    case Item::bag_looked_at:
    case Item::only_saline:
    case Item::warmer_considered: break;
    }
    return true;
}

bool only_in_emergency(Item item) { return item == Item::sample || item == Item::consent; }

bool always_needed(Item item) {
    return item == Item::authorisation || item == Item::sample || item == Item::consent || item == Item::bag_looked_at;
}

bool comes_by_itself(Item item) {
    return item == Item::baseline || item == Item::plan_fits || item == Item::match || item == Item::in_date ||
           item == Item::line_connected || item == Item::rate_read_back || item == Item::groups;
}

bool before_call(Item item) { return item <= Item::plan_fits; }

ItemGroup group_of(Item item) {
    switch (item) {
    case Item::consent:
    case Item::baseline:
    case Item::overload_risk:
    case Item::can_report:
    case Item::premedication:
    case Item::report_explained: return ItemGroup::recipient;
    case Item::authorisation:
    case Item::sample:
    case Item::plan_fits: return ItemGroup::order;
    case Item::access:
    case Item::set_and_saline:
    case Item::second_checker:
    case Item::only_saline:
    case Item::warmer_considered:
    case Item::line_connected:
    case Item::rate_read_back: return ItemGroup::line;
    case Item::bag_looked_at:
    case Item::match:
    case Item::groups:
    case Item::in_date: break;
    }
    return ItemGroup::bag;
}

namespace {

bool baseline_in_window(const Session& s, Instant at) {
    const Seconds within = s.protocol->checks.baseline_within.value;
    const auto holds = [&](Instant taken) { return taken <= at && at - taken <= within; };
    for (const CheckDone& done : s.state.checks_done)
        if (done.kind == CheckKind::baseline && done.index == 0 && holds(done.when.at)) return true;
    return s.next_baseline && holds(s.next_baseline->when.at);
}

bool follows(const Session& s, Item item, Instant at) {
    switch (item) {
    case Item::baseline: return baseline_in_window(s, at);
    case Item::match: return s.state.times.spiked ? s.match.standing == MatchStanding::passed : !match_forbids(s, at);
    case Item::in_date: return !s.state.unit.expires || at < s.state.unit.expires->at;
    case Item::line_connected: return s.connected.has_value();
    case Item::overload_risk: return s.state.recipient.overload_risk != Answer::not_recorded;
    case Item::can_report: return s.state.recipient.can_report != Answer::not_recorded;
    case Item::plan_fits:
    case Item::groups:
    case Item::rate_read_back: return true;
    case Item::authorisation:
    case Item::sample:
    case Item::consent:
    case Item::premedication:
    case Item::access:
    case Item::set_and_saline:
    case Item::second_checker:
    case Item::report_explained:
    case Item::bag_looked_at:
    case Item::only_saline:
    case Item::warmer_considered: break;
    }
    return false;
}

}  // namespace

ItemState state_of(const Session& s, Item item, Instant at) {
    if (item == Item::match && s.match.standing == MatchStanding::differed) return ItemState::failed;
    if (item == Item::authorisation && s.units_drawn() >= s.units_covered &&
        (s.phase == Phase::preparing || s.phase == Phase::closed))
        return ItemState::open;  // used up: the next unit needs a new one
    // What is not noted of the groups counts as confirmed here; core/reckon/live.hpp judges whether it may hang.
    if (item == Item::groups && s.groups) {
        if (!s.groups->settled()) return s.groups->answer() == Compatible::no ? ItemState::failed : ItemState::open;
        return s.groups->by == GroupsBy::answer ? ItemState::confirmed : ItemState::waived;
    }
    const ItemState noted = s.item(item).state;
    if (item == Item::sample && noted == ItemState::confirmed && s.sample_drawn && s.protocol->session &&
        at > *s.sample_drawn + s.protocol->session->sample_valid.value)
        return ItemState::open;  // too old
    if (noted == ItemState::waived || noted == ItemState::not_needed) return noted;
    if (follows(s, item, at)) return ItemState::confirmed;
    return comes_by_itself(item) ? ItemState::open : noted;
}

std::optional<Item> first_open(const Session& s, bool before_the_call, Instant at) {
    for (int i = 0; i < item_count; ++i) {
        const Item item = static_cast<Item>(i);
        // At the start everything has to stand: an authorisation may have been taken back, a baseline may be too old.
        if (before_the_call && !before_call(item)) continue;
        const ItemState state = state_of(s, item, at);
        if (state == ItemState::open || state == ItemState::failed) return item;
    }
    return std::nullopt;
}

std::size_t Session::uncharted() const {
    std::size_t n = 0;
    for (std::size_t i = 0; i < to_chart.size(); ++i)
        if (to_chart[i] && !(i < is_charted.size() && is_charted[i])) ++n;
    return n;
}

FluidParts fluid_moved(const Session& s, Volume moved) {
    const Line& line = s.state.line;
    FluidParts out;
    out.component = given_of(s.state, moved);
    // What a kept set still held of the unit before is component too.
    if (line.from_last_unit && !s.state.run.old_set) out.component = out.component + (moved < line.holds ? moved : line.holds);
    if (out.component > moved) out.component = moved;
    // The rest was saline: the one that filled the line, and behind what the bag held the one that cleared it.
    const Volume rest = moved - out.component;
    const Volume bag = bag_at_start(s.state);
    const Volume beyond = moved > bag ? moved - bag : Volume{};
    const Volume filled = line.primed_with == Primed::saline ? (rest < line.holds ? rest : line.holds) : Volume{};
    out.clearing = beyond < rest - filled ? beyond : rest - filled;
    out.priming = rest - out.clearing;
    out.other_lines = s.other_fluid;
    return out;
}

Person person_of(const Session& s) {
    Person person;
    person.age = s.state.recipient.age;
    person.pregnant = s.state.recipient.pregnant;
    person.weight = s.state.recipient.weight;
    return person;
}

const ObservedSet* baseline_set(const Session& s) {
    return s.baseline ? &s.sets[*s.baseline] : nullptr;
}

const ChangeRules& rules_of(const Session& s, const ObservedSet& set) { return s.change_rules[set.judged_by]; }
const ChangeRules& rules_now(const Session& s) { return s.change_rules.back(); }

bool judged_otherwise(const Session& s, const ObservedSet& set) {
    const ChangeRules& then = rules_of(s, set);
    const ChangeRules& now = rules_now(s);
    if (!then.rules() || !now.rules()) return then.rules() != now.rules();
    return then.protocol != now.protocol ? then.protocol->observations != now.protocol->observations || then.set != now.set
                                         : then.set != now.set;
}

std::optional<Change> change_by(const Session& s, const ObservedSet& set, const ChangeRules& by) {
    const ObservedSet* baseline = baseline_set(s);
    const RuleSet* rules = by.rules();
    if (!baseline || !rules) return std::nullopt;
    return change_from(by.protocol->observations, *rules, person_of(s), baseline->set, set.set);
}

std::optional<Change> change_of(const Session& s, const ObservedSet& set) { return change_by(s, set, rules_of(s, set)); }

bool asks_to_hold(const Session& s, const ObservedSet& set) {
    const auto then = change_of(s, set);
    if (then && then->stops()) return true;
    const auto now = judged_otherwise(s, set) ? change_by(s, set, rules_now(s)) : std::nullopt;
    return now && now->stops();
}

Change worst_since(const Session& s, Instant from) {
    Change worst;
    bool any = false;
    const auto take = [&](const std::optional<Change>& change) {
        if (!change) return;
        if (any) take_worst(worst, *change);
        else worst = *change;  // what is missing from all of them has to be missing from the first
        any = true;
    };
    // A log of an earlier version in which nothing was chosen was judged by the rules in force alone.
    bool kept = s.version >= 3;
    for (const ChangeRules& rules : s.change_rules) kept = kept || rules.chosen;
    for (const ObservedSet& set : s.sets) {
        if (set.when.at < from) continue;
        take(change_by(s, set, rules_now(s)));
        if (kept && judged_otherwise(s, set)) take(change_of(s, set));
    }
    // Nothing seen, or nothing to compare it with, is nothing known.
    const ObservedSet* baseline = baseline_set(s);
    for (int i = 0; i < sign_count && !any; ++i) {
        const auto sign = static_cast<Sign>(i);
        worst.missing.add({sign, !baseline || !baseline->set.has(sign), true});
    }
    return worst;
}

std::optional<Instant> observations_due(const Session& s) {
    if (!s.reaction) return std::nullopt;
    std::optional<Instant> last;
    for (const ObservedSet& set : s.sets)
        if (set.when.at >= *s.reaction) last = set.when.at;
    return next_observations(s.protocol->reaction, *s.reaction, last);
}

MatchScript script_of(const Session& s) {
    if (!s.protocol->match) {
        MatchScript own;
        own.add(MatchStep{});
        return own;
    }
    if (is_emergency(s)) return emergency_script(*s.protocol->match);
    // Asked for itself at the first step. A log from before that was asked says only who can report symptoms.
    return match_script(*s.protocol->match, s.can_say.value_or(s.state.recipient.can_report != Answer::no));
}

Compatible GroupsNote::answer() const {
    Compatible worst = Compatible::yes;
    for (const Compatible is : {Compatible::local_rule, Compatible::cannot_tell, Compatible::no})
        for (const CompatibleReason why : because)
            if (answer_of(why) == is) worst = is;
    return worst;
}

bool groups_needed(const Session& s) { return s.protocol->match && !s.joined && !s.rehearsal; }

bool is_emergency(const Session& s) {
    const ItemNote& sample = s.item(Item::sample);
    return sample.state == ItemState::waived && sample.emergency;
}

bool match_comes_late(const Session& s) {
    const bool hung_unseen = s.version >= 2 && s.joined && s.state.times.spiked && s.state.times.spiked->at <= s.joined_at;
    return hung_unseen && !s.state.times.start;
}

std::optional<Refusal> match_forbids(const Session& s, Instant at) {
    if (s.match.standing == MatchStanding::differed) return Refusal::match_differed;
    if (s.match.standing != MatchStanding::passed) return Refusal::match_missing;
    if (s.protocol->match && !may_be_hung(s.match, *s.protocol->match, at)) return Refusal::match_stale;
    return std::nullopt;
}

namespace {

std::optional<Instant> back_to_stock_by(const Session& s, const Protocol& protocol) {
    std::optional<Instant> until;
    if (!s.state.unit.component) return until;
    for (const Limit& limit : protocol.rules(*s.state.unit.component).limits) {
        if (limit.kind != LimitKind::send_back) continue;
        const Times& times = s.state.times;
        std::optional<Instant> from;
        if (limit.from == Anchor::issued && times.issued) from = times.issued->at;
        if (limit.from == Anchor::left_storage) {
            if (times.left_storage) from = times.left_storage->at;
            else if (times.issued) from = times.issued->at;
        }
        if (from && (!until || *from + limit.within < *until)) until = *from + limit.within;
    }
    return until;
}

}  // namespace

std::optional<Instant> back_to_stock_until(const Session& s) {
    // What had passed before the protocol was changed stays passed: nothing gives the minutes back.
    std::optional<Instant> from;
    for (const PastRules& past : s.state.past_rules) {
        const auto until = back_to_stock_by(s, *past.protocol);
        if (until && (!from || *until >= *from) && *until < past.until) return until;
        from = past.until;
    }
    return back_to_stock_by(s, *s.protocol);
}

}  // namespace hangtime
