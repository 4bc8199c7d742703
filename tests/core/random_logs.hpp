#pragma once

/// Random logs of sessions, every record of them legal, the same on every machine for the same seed: mostly what would
/// come next, now and then something else, late, corrected or withdrawn.

#include "core/session/log.hpp"
#include "core/words/match_words.hpp"
#include "tests/core/random_plans.hpp"

#include <memory>
#include <vector>

namespace hangtime::test {

class LogMaker {
public:
    LogMaker(std::uint64_t seed, std::shared_ptr<const Protocol> protocol, std::shared_ptr<const Protocol> other)
        : r_(seed), protocol_(std::move(protocol)), other_(std::move(other)) {
        now_ = Instant{1'773'480'000 + r_.between(0, 86'400)};
        Event e = made(EventKind::opened, facts::Opened{log_version, SpokenObject::kite, WallClock(), {protocol_}, false});
        e.at.precision = Precision::second;
        log.append(e, now_);
        if (r_.chance(25)) log.append(made(EventKind::joined, std::monostate{}), now_);
    }

    /// Tries `n` records; how many were refused is in `refused`.
    void run(int n) {
        for (int i = 0; i < n; ++i) step();
    }

    /// One record that may be legal or not, at a time of its own. Nothing is added.
    Event next() {
        now_ = now_ + Seconds{r_.chance(30) ? 0 : r_.between(1, r_.chance(20) ? 3'000 : 400)};
        Event e = r_.chance(88) ? likely() : any();
        e.at = {now_, r_.chance(50) ? Precision::minute : Precision::second};
        if (r_.chance(12)) e.at.at = now_ - Seconds{r_.between(0, 4'000)};
        if (e.at.precision == Precision::minute) e.at.at = {e.at.at.utc - e.at.at.utc % 60};
        const auto n = static_cast<std::int32_t>(log.events().size());
        if (n > 3 && r_.chance(6)) {
            // In the place of one or two of the same kind.
            for (int tries = 0; tries < 8; ++tries) {
                const auto number = static_cast<std::int32_t>(r_.between(2, n));
                const Event& old = log.events()[static_cast<std::size_t>(number - 1)];
                if (log.is_void(number) || old.kind == EventKind::joined || old.kind == EventKind::linked) continue;
                e.kind = old.kind;
                e.facts = old.facts;
                e.at = old.at;
                e.at.at = e.at.at + Seconds{60 * r_.between(-2, 2)};
                e.replaces = {number};
                if (r_.chance(20)) e.replaces.push_back(static_cast<std::int32_t>(r_.between(2, n)));
                break;
            }
        } else if (n > 3 && r_.chance(5)) {
            e = made(EventKind::withdrawn, facts::Numbers{{static_cast<std::int32_t>(r_.between(std::max(2, n - 6), n))}});
            if (r_.chance(20)) std::get<facts::Numbers>(e.facts).of.push_back(static_cast<std::int32_t>(r_.between(2, n)));
            e.at = {now_, Precision::second};
        }
        return e;
    }

    bool step() {
        if (log.append(next(), now_)) {
            ++refused;
            return false;
        }
        return true;
    }

    Log log;
    int refused = 0;
    Instant now() const { return now_; }
    Random& random() { return r_; }

private:
    Event made(EventKind kind, Facts facts) const {
        Event e;
        e.kind = kind;
        e.at = {now_, Precision::second};
        e.facts = std::move(facts);
        return e;
    }
    Event plain(EventKind kind) const { return made(kind, std::monostate{}); }
    Event resumed() {
        facts::Resumed f;
        if (r_.chance(70)) f.decided_by = Role::prescriber;
        return made(EventKind::resumed, f);
    }

    Event item() {
        facts::ItemNoted f;
        const Session& s = log.session();
        f.item = static_cast<Item>(r_.between(0, item_count - 1));
        // Mostly the first that is open, so that the session comes on.
        if (r_.chance(85))
            if (const auto open = first_open(s, s.phase <= Phase::preparing || s.phase == Phase::closed, now_)) f.item = *open;
        if (f.item == Item::baseline) return observed(CheckKind::baseline);
        if (f.item == Item::overload_risk || f.item == Item::can_report) return recipient();
        f.how = r_.chance(80) ? ItemHow::confirmed : static_cast<ItemHow>(r_.between(0, 3));
        if (f.item == Item::authorisation && f.how == ItemHow::confirmed) f.count = static_cast<std::int32_t>(r_.between(1, 3));
        f.emergency = f.how == ItemHow::waived && r_.chance(50);
        return made(EventKind::item_noted, f);
    }
    Event observed(CheckKind kind) {
        facts::Observed f;
        f.kind = kind;
        if (kind == CheckKind::interval) f.index = static_cast<std::int32_t>(r_.between(0, 4));
        f.extra = r_.chance(10);
        if (f.extra) {
            f.kind = CheckKind{};
            f.index = 0;
        }
        if (r_.chance(80)) f.set = signs();
        return made(EventKind::observed, f);
    }
    // Mostly as usual, now and then with a mild symptom or a fall of pressure, or with something missing.
    Observation signs() {
        Observation o;
        o.temperature = tenths_c(static_cast<std::int32_t>(r_.between(362, 372)));
        o.pulse_per_min = static_cast<std::int16_t>(r_.between(70, 84));
        o.systolic_mmhg = static_cast<std::int16_t>(r_.chance(5) ? 78 : r_.between(118, 126));
        o.respirations_per_min = 16;
        o.saturation_percent = 97;
        o.consciousness = Consciousness::alert;
        o.symptoms = Symptoms{};
        if (r_.chance(10)) o.symptoms->add(Symptom::itching);
        if (r_.chance(5)) o.clear(static_cast<Sign>(r_.between(0, sign_count - 1)));
        return o;
    }
    Event recipient() {
        Recipient p;
        p.weight = Mass{r_.between(20, 110) * 1000};
        p.overload_risk = r_.chance(20) ? Answer::yes : Answer::no;
        p.can_report = r_.chance(20) ? Answer::no : Answer::yes;
        p.gauge = 20;
        return made(EventKind::recipient_told, facts::RecipientTold{p});
    }
    Event ordered() {
        facts::Ordered f;
        f.component = static_cast<Component>(r_.between(0, 2));
        if (r_.chance(60) && log.session().ordered) f.component = *log.session().ordered;
        if (r_.chance(30)) f.order.dose = ml(r_.between(40, 350));
        if (r_.chance(50)) {
            f.order.pace = Order::Pace::within;
            f.order.duration = minutes(r_.between(30, 200));
        }
        f.expected = ml(r_.between(150, 350));
        return made(EventKind::ordered, f);
    }
    facts::PrimedWith set() {
        return {r_.chance(50) ? Primed::saline : Primed::component, ml(r_.between(8, 30)), ml(r_.chance(60) ? 0 : r_.between(1, 6))};
    }
    Rate rate() { return ml_per_h(r_.chance(3) ? 0 : r_.between(20, r_.chance(5) ? 1'200 : 300)); }

    Event likely() {
        const Session& s = log.session();
        switch (s.phase) {
        case Phase::preparing:
        case Phase::closed:
            if (!s.ordered || r_.chance(4)) return ordered();
            if (!s.recipient_told) return recipient();
            if (r_.chance(10)) return plain(EventKind::sample_drawn);
            if (s.joined && r_.chance(30)) return issued();
            if (r_.chance(8) && s.phase == Phase::closed) return plain(EventKind::reaction_suspected);
            if (!first_open(s, true, now_)) return plain(EventKind::requested);
            return item();
        case Phase::called: return r_.chance(70) ? issued() : item();
        case Phase::here: {
            if (r_.chance(6)) return made(EventKind::returned, facts::Returned{ReturnTo::stock, ReturnReason::not_needed});
            if (r_.chance(6)) return made(EventKind::bag_temperature, facts::BagTemperature{static_cast<std::int32_t>(r_.between(20, 120))});
            if (r_.chance(8)) return made(EventKind::storage_noted, facts::StorageNoted{static_cast<StorageChange>(r_.between(0, 2))});
            if (r_.chance(4)) return groups();
            if (s.groups && !s.groups->settled()) return groups();
            if (s.match.standing == MatchStanding::passed || (s.joined && r_.chance(20))) return plain(EventKind::spiked);
            const auto step = s.match.next(script_of(s));
            facts::MatchNoted f{r_.chance(1) ? MatchOutcome::interrupted : MatchOutcome::passed,
                                static_cast<std::int32_t>(step.value_or(0)), {}};
            if (f.step == 0 && f.outcome == MatchOutcome::passed && r_.chance(50)) f.can_say = r_.chance(70);
            return made(EventKind::match_noted, f);
        }
        case Phase::hung:
            if (!s.primed || r_.chance(4)) return made(EventKind::primed, set());
            if (!s.connected) return plain(EventKind::connected);
            if (r_.chance(15)) return made(EventKind::device_total, facts::DeviceTotal{TotalKind::zeroed, {}});
            if (first_open(s, false, now_) && !r_.chance(5)) return item();
            return made(EventKind::started, facts::RateSet{rate(), r_.chance(20), {}});
        case Phase::paused:
            if (r_.chance(8)) return made(EventKind::stopped, facts::Stopped{StopReason::access_lost});
            if (s.reaction && r_.chance(30)) return observed(CheckKind::interval);
            if (s.reaction && r_.chance(20))
                return ticked();
            if (s.reaction && r_.chance(60)) return made(EventKind::restarted, facts::Restarted{rate(), Role::prescriber, true});
            return resumed();
        case Phase::running: return running();
        case Phase::ended: break;
        }
        if (r_.chance(40)) return observed(r_.chance(60) ? CheckKind::end : CheckKind::after);
        if (r_.chance(30)) return charted();
        if (r_.chance(20)) return plain(EventKind::bag_kept);
        return made(EventKind::discarded, facts::Discarded{ReturnReason::part_given});
    }

    Event groups() {
        facts::GroupsJudged f;
        f.because.add(static_cast<CompatibleReason>(r_.chance(70) ? r_.between(0, 1) : r_.between(0, code_count<CompatibleReason>() - 1)));
        if (!settles(f.because, GroupsBy::answer)) f.by = static_cast<GroupsBy>(r_.between(0, groups_by_count - 1));
        return made(EventKind::groups_judged, f);
    }
    Event ticked() {
        facts::ActionTicked f{static_cast<ActionKind>(r_.between(1, action_kind_count - 1)), {}};
        if (f.action == ActionKind::identity && r_.chance(60)) f.agrees = r_.chance(80);
        return made(EventKind::action_done, f);
    }
    Event issued() {
        facts::Issued f;
        f.component = log.session().ordered.value_or(Component::red_cells);
        f.bag = r_.chance(50) ? ml(r_.between(60, 400)) : tenths_of_ml(r_.between(600, 4000));
        if (r_.chance(40)) f.expires = Stated{{(now_.utc / 60 + r_.between(30, 4'000)) * 60}, Precision::minute};
        f.digits = BagDigits{'4', '7', '1', static_cast<char>('0' + r_.between(0, 9))};
        return made(EventKind::issued, f);
    }

    Event running() {
        const Session& s = log.session();
        switch (r_.between(0, 15)) {
        case 0:
        case 1: return observed(CheckKind::early);
        case 2:
        case 3: return observed(CheckKind::interval);
        case 5: return made(EventKind::rate_set, facts::RateSet{rate(), true, {}});
        case 6: return made(EventKind::paused, facts::Paused{PauseReason::line_needed});
        case 7: return made(EventKind::device_total, facts::DeviceTotal{r_.chance(20) ? TotalKind::zeroed : TotalKind::read,
                                                                        ml(r_.between(0, 320))});
        case 8: return plain(r_.chance(40) ? EventKind::bag_empty : EventKind::clearing_begun);
        case 9: return r_.chance(30) ? made(EventKind::set_changed, facts::SetChanged{set()}) : observed(CheckKind::start);
        case 4:
            return r_.chance(80)   ? observed(CheckKind::early)
                   : r_.chance(50) ? rules_chosen()
                                   : made(EventKind::other_fluid, facts::OtherFluid{ml(r_.between(0, 500))});
        case 10: return r_.chance(30) ? plain(EventKind::reaction_suspected) : recipient();
        case 11: return r_.chance(40) ? made(EventKind::protocol_changed, facts::ProtocolChanged{{s.protocol == protocol_ ? other_ : protocol_}})
                                      : charted();
        case 12: return r_.chance(30) ? made(EventKind::ceiling_lowered, facts::CeilingLowered{rate()})
                                      : made(EventKind::handed_over, facts::HandedOver{Role::nurse});
        case 13: return r_.chance(10) ? made(EventKind::consent_withdrawn, facts::ConsentWithdrawn{RefusalReason::changed_mind})
                                      : made(EventKind::taken_over, facts::HandedOver{Role::nurse_in_charge});
        case 14: return r_.chance(60) ? plain(EventKind::all_in) : observed(CheckKind::early);
        default: return observed(CheckKind::interval);
        }
    }

    Event rules_chosen() {
        const auto& sets = log.session().protocol->observations.rule_sets;
        const bool there = !sets.empty() && r_.chance(80);
        return made(EventKind::rule_set_chosen,
                    facts::RuleSetChosen{there ? sets[static_cast<std::size_t>(r_.between(0, static_cast<int>(sets.size()) - 1))].id
                                               : std::string("no-such-set")});
    }

    Event charted() {
        const auto n = static_cast<std::int32_t>(log.events().size());
        return made(EventKind::charted, facts::Numbers{{static_cast<std::int32_t>(r_.between(1, n)), static_cast<std::int32_t>(r_.between(1, n))}});
    }

    // Anything at all, most of it out of place.
    Event any() {
        switch (static_cast<EventKind>(r_.between(0, event_kind_count - 1))) {
        case EventKind::issued: return issued();
        case EventKind::ordered: return ordered();
        case EventKind::recipient_told: return recipient();
        case EventKind::primed: return made(EventKind::primed, set());
        case EventKind::set_changed: return made(EventKind::set_changed, facts::SetChanged{set()});
        case EventKind::started: return made(EventKind::started, facts::RateSet{rate(), true, {}});
        case EventKind::stopped: return made(EventKind::stopped, facts::Stopped{StopReason::reaction});
        case EventKind::moved: return made(EventKind::moved, facts::Moved{Place::imaging});
        case EventKind::linked: return made(EventKind::linked, facts::Linked{SpokenObject::leaf});
        case EventKind::clock_set: return made(EventKind::clock_set, facts::ClockSet{WallClock(minutes(60)), Seconds{120}, Seconds{-3600}});
        case EventKind::equipment_chosen:
            return made(EventKind::equipment_chosen,
                        facts::EquipmentChosen{Device{r_.chance(30) ? DeviceKind::gravity : DeviceKind::pump},
                                               Line{ml(r_.between(5, 40)), Primed::component, r_.chance(60), {}}});
        case EventKind::returned: return made(EventKind::returned, facts::Returned{ReturnTo::blood_bank, ReturnReason::damaged});
        case EventKind::match_noted: return made(EventKind::match_noted, facts::MatchNoted{MatchOutcome::interrupted, 0});
        case EventKind::observed: return observed(static_cast<CheckKind>(r_.between(0, 5)));
        case EventKind::all_in: return plain(EventKind::all_in);
        case EventKind::resumed: return resumed();
        case EventKind::spiked: return plain(EventKind::spiked);
        case EventKind::connected: return plain(EventKind::connected);
        case EventKind::received: return plain(EventKind::received);
        case EventKind::bag_kept: return plain(EventKind::bag_kept);
        case EventKind::requested: return plain(EventKind::requested);
        case EventKind::paused: return made(EventKind::paused, facts::Paused{PauseReason::symptoms});
        case EventKind::groups_judged: return groups();
        case EventKind::other_fluid: return made(EventKind::other_fluid, facts::OtherFluid{ml(r_.between(0, 500))});
        case EventKind::rule_set_chosen: return rules_chosen();
        case EventKind::consent_withdrawn:
        case EventKind::reaction_suspected:
        case EventKind::opened:
        case EventKind::protocol_changed:
        case EventKind::joined:
        case EventKind::item_noted:
        case EventKind::sample_drawn:
        case EventKind::storage_noted:
        case EventKind::bag_temperature:
        case EventKind::device_total:
        case EventKind::rate_set:
        case EventKind::handed_over:
        case EventKind::taken_over:
        case EventKind::bag_empty:
        case EventKind::clearing_begun:
        case EventKind::discarded:
        case EventKind::charted:
        case EventKind::action_done:
        case EventKind::ceiling_lowered:
        case EventKind::restarted:
        case EventKind::withdrawn: break;
        }
        return item();
    }

    Random r_;
    std::shared_ptr<const Protocol> protocol_, other_;
    Instant now_{};
};

}  // namespace hangtime::test
